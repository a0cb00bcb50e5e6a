// Package shell is the window: it puts the rail, the tray, the bench, the inspector
// and the status line together, keeps the commands with their menus and shortcuts,
// and opens and saves files. It is handed an app and does not make one, so that it
// can be tested without a screen.
package shell
