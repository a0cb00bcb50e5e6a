package bodytest

import "hemlet/draft/body"

// Scale returns the body k times as large.
func Scale(g body.Given, k float64) body.Given {
	scaled := make(body.Given, len(g))
	for name, v := range g {
		scaled[name] = v * k
	}
	return scaled
}
