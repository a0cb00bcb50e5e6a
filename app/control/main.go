package control

import "fyne.io/fyne/v2"

// OnMain does something on the window's goroutine, some time after. Tests put a
// queue in its place, for the toolkit's test driver has no goroutine of its own.
var OnMain = fyne.Do
