package assets

import (
	"embed"
	"io/fs"
)

//go:embed samples/lamplighter.hemlet
var sampleProject []byte

//go:embed samples/lamplighter.svg
var sampleDrawing []byte

// Sample returns the sample project, the lamplighter's smock, as its file reads.
// The bytes must not be changed.
func Sample() []byte { return sampleProject }

// SampleDrawing returns the SVG drawing that the sample was made from.
// The bytes must not be changed.
func SampleDrawing() []byte { return sampleDrawing }

//go:embed samples/*.toml
var sampleWearers embed.FS

// Wearer is a wearer as its file reads.
type Wearer struct {
	// File is the name of the file without its folder.
	File string
	// Text must not be changed.
	Text []byte
}

// SampleWearers returns the wearers of the puppet company that the samples are made
// for, in alphabetical order of their files.
func SampleWearers() []Wearer {
	entries := must(fs.ReadDir(sampleWearers, "samples"))
	list := make([]Wearer, len(entries))
	for i, e := range entries {
		list[i] = Wearer{e.Name(), must(sampleWearers.ReadFile("samples/" + e.Name()))}
	}
	return list
}
