package tracer

import (
	"os"
	"testing"

	"hemlet/app/control"
)

// events are what waits to be done on the window's goroutine, which in a test is that of
// the test.
var events = make(chan func(), 1000)

func TestMain(m *testing.M) {
	control.OnMain = func(f func()) { events <- f }
	os.Exit(m.Run())
}
