package block

import "testing"

// Every block that the program carries can be read.
func TestBuiltinParses(t *testing.T) {
	for _, e := range builtin() {
		if e.Err != nil {
			t.Errorf("%v", e.Err)
		}
	}
}
