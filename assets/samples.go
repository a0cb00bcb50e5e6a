package assets

import _ "embed"

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
