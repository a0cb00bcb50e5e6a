package trace

import (
	"math"
	"slices"

	"hemlet/geom"
)

// Sample is the distance of a path from the ink at one place.
type Sample struct {
	At geom.Point // on the path, in mm
	By float64    // mm; above 0 where the path lies to the right of the ink, outside a counter-clockwise outline
}

// Deviation says how far a path lies from the ink that was followed, in mm.
type Deviation struct {
	Median, P95, Largest float64    // of the distances, without their sign
	At                   geom.Point // the worst place: on the path, or on ink that the path misses
	Samples              []Sample   // along the path, in order
}

const (
	// reviewStep is how far apart in mm samples lie: closer than anything that is seen as a
	// colour along a line.
	reviewStep = 0.5
	// mostSamples bounds the samples of a path; a longer one gets a wider step.
	mostSamples = 20_000
	// reviewFlat is how far in mm the chords may lie from the path when ink is held
	// against it: a tenth of what is worth telling.
	reviewFlat = 0.002
)

// Review compares a path with the ink in both directions: the path's samples with the
// ink, for the median and the rest, and the ink's points with the path, for the largest
// and its place. Ink is polylines in mm; one that closes repeats its first point. Without
// ink, or without a path, the deviation is zero and has no samples.
func Review(path geom.Path, ink [][]geom.Point) Deviation {
	var d Deviation
	on := newChains(ink)
	if len(on.from) == 0 || len(path) == 0 {
		return d
	}
	step := math.Max(reviewStep, path.Length()/mostSamples)
	for _, s := range path {
		n := max(1, int(math.Ceil(s.Length()/step)))
		for k := range n {
			d.Samples = append(d.Samples, sampleAt(s.At(float64(k)/float64(n)), on))
		}
	}
	if !path.Closed() {
		d.Samples = append(d.Samples, sampleAt(path.End(), on))
	}
	sizes := make([]float64, len(d.Samples))
	for i, s := range d.Samples {
		sizes[i] = math.Abs(s.By)
		if sizes[i] > d.Largest {
			d.Largest, d.At = sizes[i], s.At
		}
	}
	slices.Sort(sizes)
	d.Median = sizes[len(sizes)/2]
	d.P95 = sizes[int(.95*float64(len(sizes)))]
	flat := newChains([][]geom.Point{path.Flatten(reviewFlat)})
	for _, line := range ink {
		for _, p := range line {
			if by, _, _ := flat.nearest(p); by > d.Largest {
				d.Largest, d.At = by, p
			}
		}
	}
	return d
}

func sampleAt(p geom.Point, ink *chains) Sample {
	d, at, along := ink.nearest(p)
	if along.Cross(p.Sub(at)) > 0 {
		d = -d
	}
	return Sample{p, d}
}
