// Package desk is the open document as the window holds it: the history, what is
// picked, the file behind it, and who wants to hear of changes. It knows nothing of
// widgets and draws nothing.
//
// A Desk belongs to the goroutine of the window.
package desk
