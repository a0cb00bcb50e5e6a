// Package geom is plane geometry for pattern pieces: points, affine maps, line
// and cubic Bézier segments, paths, parallel curves, allowances and walking.
//
// Lengths are millimetres in float64, y points up, angles are radians and turn
// counter-clockwise. A closed path that bounds cloth runs counter-clockwise, so
// that its inside lies to the left. Curves stay curves: nothing here bakes a
// cubic into chords unless its name says so (Flatten).
//
// The package knows nothing of pieces, seams or wearers.
package geom
