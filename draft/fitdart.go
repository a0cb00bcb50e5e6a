package draft

import (
	"math"

	"hemlet/draft/body"
	"hemlet/geom"
)

// mostOfShaping is which part of what the waist is smaller than the bust one dart takes in at
// most: with one on each quarter of the body, a quarter.
const mostOfShaping = 1. / 4

// mouth returns how wide a dart is to be: 0 where it follows the scale of the whole. A dart
// at the waist takes in a part of what the waist is smaller than the bust, one in the side,
// shoulder or armhole of the front what the front is longer than the back; so each follows
// that as the body changes, beyond its scale. It does not go below leastIntake, for a dart
// that is to go has to be taken out. (Common practice, no source.)
func (f *fitPlan) mouth(key fitPart, width float64, why dartReason, bodies fitBodies, scale float64) fitGoal {
	goal := fitGoal{key: key, weight: 1}
	if width, ok := f.intakes[key]; ok {
		goal.want = width
		return goal
	}
	if f.scaledDarts[key] {
		goal.want = max(leastIntake, scale*width)
		return goal
	}
	old, now := bodies.old[key.piece], bodies.new[key.piece]
	if old == nil || now == nil {
		return goal
	}
	share := 1.0
	var shaping func(*body.Body) (float64, bool)
	switch why {
	case shapesWaist:
		shaping = shapingOf
	case shapesBust:
		shaping = frontLonger
	default:
		return goal
	}
	was, ok := shaping(old)
	is, okNow := shaping(now)
	if !ok || !okNow {
		return goal
	}
	if why == shapesWaist {
		share = min(max(width/was, 0), mostOfShaping)
		if was <= 0 {
			share = mostOfShaping
		}
	}
	goal.want = max(leastIntake, scale*width+share*(is-scale*was))
	return goal
}

// dartReason is what a dart is there for.
type dartReason int

const (
	shapesElse dartReason = iota
	shapesWaist
	shapesBust
)

// reason tells what a dart in the outline is there for, by where it opens.
func (b *fitBasis) reason(piece *Piece, d Dart) dartReason {
	e, _ := piece.Edge(d.Edge)
	if e == nil {
		return shapesElse
	}
	if b.atWaist(piece, e) {
		return shapesWaist
	}
	switch lineOfName(e.Name) {
	case sideLine, shoulderLine, armholeLine:
		if piece.tells(e) < 0 {
			return shapesBust
		}
	}
	return shapesElse
}

// shapingOf returns by how much in mm a body is smaller at the waist than at the bust.
func shapingOf(b *body.Body) (float64, bool) {
	bust, waist := b.MM("bust_girth"), b.MM("waist_girth")
	return bust - waist, bust > 0 && waist > 0
}

// frontLonger returns by how much in mm a body is longer in front, from the shoulder to the
// waist, than behind. Both have to be taken: an estimate of one from the other says nothing
// of their difference.
func frontLonger(b *body.Body) (float64, bool) {
	front, _ := b.Get("front_waist_length")
	back, _ := b.Get("back_waist_length")
	return front.Value - back.Value, front.Taken() && back.Taken()
}

// atWaist reports whether an edge lies at the waist: it is called so, or is sewn to one that
// is, or a span that measures the waist runs along it.
func (b *fitBasis) atWaist(piece *Piece, e *Edge) bool {
	if lineOfName(e.Name) == waistLine {
		return true
	}
	for _, s := range piece.Spans {
		if levelOfMeasure(s.Measure) != "waist" {
			continue
		}
		for _, id := range s.Edges {
			if id == e.ID {
				return true
			}
		}
	}
	for _, s := range b.source.Seams {
		for _, sides := range [2][2]Run{{s.A, s.B}, {s.B, s.A}} {
			if sides[0].uses(piece.ID, e.ID) && b.calledWaist(sides[1]) {
				return true
			}
		}
	}
	return false
}

func (b *fitBasis) calledWaist(run Run) bool {
	for _, u := range run {
		if q := b.source.Piece(u.Piece); q != nil {
			if e, _ := q.Edge(u.Edge); e != nil && lineOfName(e.Name) == waistLine {
				return true
			}
		}
	}
	return false
}

// widen makes a closed dart inside a piece so many mm wide: it takes in more or less of the
// cloth about the line between its tips, and the cloth beyond stays as it is.
func (l *Line) widen(width float64) {
	i, j, ok := l.dartSides()
	if !ok {
		return
	}
	across, now := l.acrossTips(i, j)
	if now < Grid {
		return
	}
	top, _ := l.tips()
	k := width / now
	scale := func(v geom.Point) geom.Point { return v.Add(across.Mul(v.Dot(across) * (k - 1))) }
	at := l.Nodes[top].At
	for n := range l.Nodes {
		x := &l.Nodes[n]
		x.At, x.In, x.Out = at.Add(scale(x.At.Sub(at))), scale(x.In), scale(x.Out)
	}
}

// dartWidth returns how wide in mm a closed dart inside a piece is, 0 for another line.
func (l *Line) dartWidth() float64 {
	i, j, ok := l.dartSides()
	if !ok {
		return 0
	}
	_, width := l.acrossTips(i, j)
	return width
}

// acrossTips returns the direction square to the line between the tips, and how far apart
// in mm two nodes are in it.
func (l *Line) acrossTips(i, j int) (geom.Point, float64) {
	top, tip := l.tips()
	across := l.Nodes[tip].At.Sub(l.Nodes[top].At).Unit().Left()
	return across, math.Abs(l.Nodes[j].At.Sub(l.Nodes[i].At).Dot(across))
}

// tips returns the two nodes of a line that are furthest apart.
func (l *Line) tips() (int, int) {
	top, tip := 0, 0
	for i := range l.Nodes {
		for j := range i {
			if l.Nodes[i].At.Dist(l.Nodes[j].At) > l.Nodes[top].At.Dist(l.Nodes[tip].At) {
				top, tip = i, j
			}
		}
	}
	return top, tip
}

// dartSides returns the two nodes of a closed dart inside a piece between which it is widest:
// one on each side of the line between its tips, which are furthest apart.
func (l *Line) dartSides() (int, int, bool) {
	n := len(l.Nodes)
	if l.Kind != DartLine || !l.Closed || n < 4 {
		return 0, 0, false
	}
	top, tip := l.tips()
	axis := l.Nodes[tip].At.Sub(l.Nodes[top].At)
	left, right, wide := -1, -1, 0.0
	for i := range n {
		for j := range n {
			a, b := l.Nodes[i].At.Sub(l.Nodes[top].At), l.Nodes[j].At.Sub(l.Nodes[top].At)
			if axis.Cross(a) > 0 && axis.Cross(b) < 0 && a.Dist(b) > wide {
				left, right, wide = i, j, a.Dist(b)
			}
		}
	}
	return left, right, wide >= shortestStretch
}
