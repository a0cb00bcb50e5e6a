package tracer

import (
	"math"
	"slices"

	"hemlet/app/bench/paint"
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace"
)

// offMarks draws a line with how far it lies off the ink as a colour and a width along
// it. Closed says that the last sample goes on to the first.
func offMarks(off trace.Deviation, closed bool, tol float64) []paint.Mark {
	all := off.Samples
	if len(all) < 2 {
		return nil
	}
	n := len(all) - 1
	if closed {
		n++
	}
	var low, high []paint.Mark // what lies far off is laid over what does not
	for i := 0; i < n; {
		g := stretchGrade(all, i, tol)
		var run geom.Path
		for ; i < n && stretchGrade(all, i, tol) == g; i++ {
			run = append(run, geom.Line(all[i].At, all[(i+1)%len(all)].At))
		}
		mark := paint.Shape{Path: run, Line: g.line()}
		if g >= grades-2 {
			high = append(high, mark)
		} else {
			low = append(low, mark)
		}
	}
	return append(low, high...)
}

// stretchGrade returns the grade of the stretch from a sample to the next.
func stretchGrade(all []trace.Sample, i int, tol float64) grade {
	a, b := all[i].By, all[(i+1)%len(all)].By
	return gradeOf(math.Max(math.Abs(a), math.Abs(b)), tol)
}

// offPlace is a place where a line lies off the ink more than anywhere near it.
type offPlace struct {
	// line is the index of the line.
	line int
	at   geom.Point
	by   float64 // mm, without its sign
}

const (
	// offApart is how far in mm two places of one line lie apart at least: nearer ones are
	// the same fault.
	offApart = 8.0
	// offWorth is the share of the tolerance below which a place is not worth a look.
	offWorth = 0.25
	// mostOff bounds the places of one line.
	mostOff = 12
)

// worstPlaces returns the places of lines where they lie farthest off the ink, the worst
// first: those worth a look, or one at least.
func worstPlaces(offs []trace.Deviation, tol float64) []offPlace {
	var out []offPlace
	for i, off := range offs {
		out = append(out, worstOf(i, off, tol)...)
	}
	slices.SortStableFunc(out, func(a, b offPlace) int {
		switch {
		case a.by > b.by:
			return -1
		case a.by < b.by:
			return 1
		}
		return 0
	})
	if len(out) == 0 {
		return theWorst(offs)
	}
	return out
}

// theWorst returns the place that is farthest off where none is worth a look.
func theWorst(offs []trace.Deviation) []offPlace {
	var out []offPlace
	for i, off := range offs {
		if len(off.Samples) > 0 && (out == nil || off.Largest > out[0].by) {
			out = []offPlace{{i, off.At, off.Largest}}
		}
	}
	return out
}

func worstOf(line int, off trace.Deviation, tol float64) []offPlace {
	if len(off.Samples) == 0 {
		return nil
	}
	all := []offPlace{{line, off.At, off.Largest}}
	for _, s := range off.Samples {
		all = append(all, offPlace{line, s.At, math.Abs(s.By)})
	}
	// The largest is first among equals: it may lie on ink that the line misses.
	slices.SortStableFunc(all[1:], func(a, b offPlace) int {
		if a.by > b.by {
			return -1
		} else if a.by < b.by {
			return 1
		}
		return 0
	})
	var kept []offPlace
	for _, p := range all {
		if p.by < offWorth*tol || len(kept) == mostOff {
			break
		}
		if !slices.ContainsFunc(kept, func(k offPlace) bool { return k.at.Dist(p.at) < offApart }) {
			kept = append(kept, p)
		}
	}
	return kept
}

// offSigns marks places with a ring and a figure; the one at index at, if any, is the one
// that is looked at. Figures lie towards the middle, right or left of a place, and not over
// one another; mm is how long a screen unit is.
func offSigns(places []offPlace, at int, tol float64, unit draft.Unit, middle geom.Point, mm float64) []paint.Mark {
	var out []paint.Mark
	var figures []geom.Point
	if at >= 0 && at < len(places) { // which has its figure whatever lies near
		figures = append(figures, places[at].at)
	}
	for i, p := range places {
		if i != at && i >= mostSigns {
			continue
		}
		g := gradeOf(p.by, tol)
		c := paint.Custom(g.colour())
		out = append(out, paint.Dot{At: p.at, Kind: paint.Ring, Colour: c, Large: i == at})
		if i != at {
			if slices.ContainsFunc(figures, func(f geom.Point) bool {
				return math.Abs(f.X-p.at.X) < figureWide*mm && math.Abs(f.Y-p.at.Y) < figureHigh*mm
			}) {
				continue
			}
			figures = append(figures, p.at)
		}
		dx, anchor := 16.0, paint.Start
		if p.at.X > middle.X {
			dx, anchor = -16, paint.End
		}
		out = append(out, paint.Text{
			At: p.at, DX: dx, DY: -13, Anchor: anchor, Text: fineLength(p.by, unit), Size: signSize(i == at), Weight: paint.SemiBold,
			Colour: inked("hemlet.ink", 1), Plate: inked("hemlet.card", 0.92), Rim: c,
		})
	}
	return out
}

// How near two places may lie, in screen units, for both to bear a figure.
const figureWide, figureHigh = 76, 24

// mostSigns is how many of the worst places bear a figure at once.
const mostSigns = 5

func signSize(looked bool) float64 {
	if looked {
		return 13
	}
	return 11
}
