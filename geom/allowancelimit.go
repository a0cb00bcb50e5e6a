package geom

import "slices"

// Limits of the work that goes into one cut line. They are a matter of time and
// memory, not of geometry: the outlines of garments take some hundred chords and
// crossings, tracings of ten thousand points some hundred thousand.
const (
	// maxLoopChords bounds the chords of a loop, at some 70 bytes each: a hundred
	// thousand segments with as many joins as corners can have, twice over.
	maxLoopChords = 1 << 20
	// maxCrossings bounds the places where the chords of a loop cross, at some 100
	// bytes each.
	maxCrossings = 1 << 20
	// maxComparisons bounds how often boxes around chords are compared in one run,
	// or what takes as long, one to two nanoseconds each.
	maxComparisons = 1 << 29
	// blockWork and crossingWork are what it takes to compare the chords of two
	// blocks, and to sort a crossing among the others or refine it on the curves.
	blockWork    = 4 * blockSize * blockSize
	crossingWork = 256
	// maxPieces bounds the pieces of parallel curves, at 88 bytes each, of which
	// every one makes a chord or more.
	maxPieces = maxLoopChords / 2
)

// Buffers up to these sizes are kept between runs, a few megabytes; larger ones
// are given back.
const (
	keptCrossings = 1 << 15
	keptPieces    = 1 << 15
)

// groupSize is how many boxes are held in a box of the next level: as many as make
// looking at the levels above cheap beside looking at the boxes themselves.
const groupSize = 16

// ungrouped is the number of boxes up to which there are no groups of them: to look
// at all is as quick.
const ungrouped = 64

// push appends v, doubling what is full: the lists of one run grow large, and
// append's smaller steps would copy them many times over.
func push[T any](s []T, v T) []T {
	if len(s) == cap(s) {
		s = slices.Grow(s, len(s)+1)
	}
	return append(s, v)
}
