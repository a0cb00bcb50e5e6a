package bodytest

import "os"

// WholeEnv is the variable of the environment that, where it is not empty, lets
// tests over many bodies take all of them and not a sample:
//
//	HEMLET_WHOLE=1 go test ./draft/...
const WholeEnv = "HEMLET_WHOLE"

// Step returns n, for tests that take every n-th body, or 1 where WholeEnv asks for
// all.
func Step(n int) int {
	if os.Getenv(WholeEnv) != "" {
		return 1
	}
	return n
}
