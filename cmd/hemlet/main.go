// Command hemlet is the pattern workbench.
//
//	hemlet [FILE]
//
// FILE is a project, or a drawing in SVG or DXF to make pieces of.
package main

import (
	"fmt"
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"hemlet/app/shell"
	"hemlet/assets"
)

// appID names the program to the desktop and keeps its preferences apart.
const appID = "org.hemlet.workbench"

const usage = `usage: hemlet [FILE]

Opens the pattern workbench with FILE: a project (.hemlet), or a drawing in SVG or
DXF to make pieces of. Without FILE it shows the ways to begin.`

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "hemlet:", err)
		os.Exit(2)
	}
}

func run(args []string) error {
	if len(args) == 1 && (args[0] == "-h" || args[0] == "--help") {
		fmt.Println(usage)
		return nil
	}
	if len(args) > 1 {
		return fmt.Errorf("one file at most, not %d", len(args))
	}
	icon := fyne.NewStaticResource("hemlet.png", assets.AppIcon())
	app.SetMetadata(fyne.AppMetadata{ID: appID, Name: "Hemlet", Icon: icon})
	s, err := shell.New(app.NewWithID(appID))
	if err != nil {
		return err
	}
	stop, err := startTrace()
	if err != nil {
		return err
	}
	defer stop()
	s.Start(args...)
	s.Window().ShowAndRun()
	return nil
}
