package tracing

import (
	"math"
	"slices"

	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace"
)

// What is taken for the tick of a notch (common practice, no source: notches are drawn as
// short ticks square to the line they mark).
const (
	// tickMost is how long in mm a tick is at most, and tickShare the same as a share of the
	// shorter side of the piece: on the smallest dolls' pieces 12 mm is a dart.
	tickMost, tickShare = 12.0, 1.0 / 8
	// tickReach is how far in mm beyond the pen's width the end of a tick may lie from the
	// outline: what following leaves where two strokes meet.
	tickReach = 0.5
	// tickLean is how far in radians from square a tick may stand: 30 degrees.
	tickLean = math.Pi / 6
	// tickBend is by what share of its length a tick may be longer than from end to end.
	tickBend = 0.08
)

// Use says what a line inside an outline becomes.
type Use int

// The uses. What nobody has said is told by Uses.
const (
	Unsaid Use = iota
	AsPlacement
	AsNotch
	AsGrain
	AsStyle // a dart's legs, or a line to shape by
	LeftOut
)

// Uses returns what the lines inside an outline become: what was said of each, and where
// nothing was, what it looks like. Those are ticks for notches, one long straight line along
// the grain or with heads like an arrow's for the grain line (see grainOf), whose heads are
// left out, and all others for placement lines. Once one was said to be the grain line no
// other is taken for it; and what is no grain line has no heads.
//
// A tick is a straight line no longer than 12 mm or an eighth of the shorter side of the
// outline, whichever is less, that stands on the outline: one end within a pen's width of it,
// about square to it, the other end free. Two short lines that meet are the legs of a dart
// and no ticks.
func Uses(o trace.Outline, said []Use) []Use {
	b := o.Path.Bounds()
	most := math.Min(tickMost, tickShare*math.Min(b.W(), b.H()))
	uses := make([]Use, len(o.Inner))
	for i, in := range o.Inner {
		uses[i] = AsPlacement
		if free, ok := tick(o, in.Path, most); ok && !meets(o.Inner, i, free, o.Pen+tickReach) {
			uses[i] = AsNotch
		}
	}
	of := func(i int) Use {
		if i < len(said) {
			return said[i]
		}
		return Unsaid
	}
	if i, heads := grainOf(o); i >= 0 && (of(i) == AsGrain || of(i) == Unsaid && !slices.Contains(said, AsGrain)) {
		uses[i] = AsGrain
		for _, k := range heads {
			uses[k] = LeftOut
		}
	}
	for i := range uses {
		if as := of(i); as != Unsaid {
			uses[i] = as
		}
	}
	return uses
}

// use adds a line inside an outline to what becomes of that.
func use(out *draft.TracedOutline, o trace.Outline, line geom.Path, as Use) {
	if len(line) == 0 {
		return
	}
	from, to := line[0].P0, line[len(line)-1].P3
	if as == AsGrain && from == to { // a ring has no direction
		as = AsPlacement
	}
	switch as {
	case AsNotch:
		a, d := o.Path.Nearest(from)
		if b, far := o.Path.Nearest(to); far < d {
			a = b
		}
		out.Notches = append(out.Notches, o.Path.At(a))
	case AsGrain:
		if to.Y < from.Y { // up the picture: which end the strokes began with says nothing
			from, to = to, from
		}
		out.Grain = &draft.Grain{From: from, To: to}
	case AsStyle:
		out.Lines = append(out.Lines, draft.TracedLine{Path: line, Kind: draft.StyleLine})
	case LeftOut:
	default:
		out.Lines = append(out.Lines, draft.TracedLine{Path: line, Kind: draft.PlacementLine})
	}
}

// tick reports whether a line stands on the outline as a tick, and where its free end is.
func tick(o trace.Outline, line geom.Path, most float64) (free geom.Point, ok bool) {
	if len(line) == 0 || line.Closed() {
		return free, false
	}
	a, b := line[0].P0, line[len(line)-1].P3
	long := line.Length()
	if long > most || long > a.Dist(b)*(1+tickBend) {
		return free, false
	}
	place, d := o.Path.Nearest(a)
	other, far := o.Path.Nearest(b)
	if far < d {
		a, b, place, d, far = b, a, other, far, d
	}
	reach := o.Pen + tickReach
	if d > reach || far <= reach {
		return free, false
	}
	square := b.Sub(a).Unit().Dot(o.Path.Tangent(place))
	return b, math.Abs(square) <= math.Sin(tickLean)
}

// meets reports whether another line than i ends or passes at a place.
func meets(lines []trace.Inner, i int, at geom.Point, reach float64) bool {
	for k, other := range lines {
		if k == i || len(other.Path) == 0 {
			continue
		}
		if _, d := other.Path.Nearest(at); d <= reach {
			return true
		}
	}
	return false
}
