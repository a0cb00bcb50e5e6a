package warp

import (
	"hemlet/geom"
	"hemlet/geom/adjust"
)

func pt(x, y float64) geom.Point { return geom.Pt(x, y) }

// madeOf joins edges, each given as a path, to an outline, counter-clockwise. Joints
// within an edge are smooth where it is curved. It returns the first stretch of each edge
// as well, and at last the number of all.
func madeOf(edges ...geom.Path) (Shape, []int) {
	var s Shape
	var first []int
	for _, p := range edges {
		first = append(first, len(s.Nodes))
		for k, seg := range p {
			n := adjust.Node{At: seg.P0, Smooth: k > 0 && !seg.Straight}
			if !seg.Straight {
				n.Out = seg.P1.Sub(seg.P0)
			}
			s.Nodes = append(s.Nodes, n)
		}
	}
	i := 0
	for _, p := range edges {
		for _, seg := range p {
			if i++; !seg.Straight {
				s.Nodes[i%len(s.Nodes)].In = seg.P2.Sub(seg.P3)
			}
		}
	}
	return s, append(first, i)
}

func terms(shape, from, to int, factor float64) []Term {
	var list []Term
	for i := from; i < to; i++ {
		list = append(list, Term{Shape: shape, Stretch: i, Factor: factor})
	}
	return list
}

// Edges of the half bodice, made up: drawn on the fold at x = 0, with a waist dart.
const (
	waistIn = iota
	dartMouth
	waistOut
	side
	armhole
	shoulder
	neck
	fold
)

// halfBodice returns half of a bodice's front or back, the neck lower by drop, and the first
// stretch of each edge.
func halfBodice(drop float64) (Shape, []int) {
	s, e := madeOf(
		geom.Path{geom.Cubic(pt(0, 0), pt(30, 0), pt(60, 1), pt(90, 3))},
		geom.Path{geom.Line(pt(90, 3), pt(120, 3))},
		geom.Path{geom.Cubic(pt(120, 3), pt(150, 6), pt(190, 10), pt(220, 14))},
		geom.Path{geom.Cubic(pt(220, 14), pt(226, 80), pt(236, 150), pt(240, 205))},
		geom.Path{
			geom.Cubic(pt(240, 205), pt(215, 207), pt(188, 222), pt(180, 260)),
			geom.Cubic(pt(180, 260), pt(176, 279), pt(178, 330), pt(190, 365)),
		},
		geom.Path{geom.Line(pt(190, 365), pt(75, 400))},
		geom.Path{geom.Cubic(pt(75, 400), pt(66, 365-drop/2), pt(45, 345-drop), pt(0, 345-drop))},
		geom.Path{geom.Line(pt(0, 345-drop), pt(0, 150)), geom.Line(pt(0, 150), pt(0, 0))},
	)
	s.Grain = pt(0, 1)
	s.Inner = []geom.Path{{geom.Line(pt(60, 50), pt(60, 300))}}
	return s, e
}

// Spans of the bodice.
const (
	chest = iota
	waist
	frontLength
	backLength
	shoulderLength
	armholeRound
	neckRound
	shoulderWidth
	bodiceSpans
)

// newBodice makes up a garment of a front and a back with seams at side and shoulder, a
// dart in each, and the spans of a bodice: its targets are those that it has.
func newBodice() *Problem {
	p := &Problem{}
	f, e := halfBodice(60)
	k, _ := halfBodice(0)
	p.Shapes = []Shape{f, k}
	for shape := range p.Shapes {
		p.Rails = append(p.Rails, Rail{Shape: shape, Nodes: []int{e[fold], e[fold] + 1, 0}, Along: pt(0, 1), Square: true})
		p.Darts = append(p.Darts, Dart{Shape: shape, Stretch: e[dartMouth], Apex: pt(105, 160), Want: 30, EqualLegs: true})
	}
	both := func(from, to int) []Term { return append(terms(0, from, to, 1), terms(1, from, to, -1)...) }
	p.Seams = []Seam{{Terms: both(e[side], e[side]+1)}, {Terms: both(e[shoulder], e[shoulder]+1)}}
	for node, comes := range map[int]bool{e[side]: true, e[armhole]: false, e[shoulder]: true, e[neck]: false} {
		p.Joints = append(p.Joints, Joint{{0, node, comes, !comes}, {1, node, comes, !comes}})
	}
	on := func(shape, stretch int, t float64) Spot { return Spot{On: &Place{shape, 0, stretch, t}} }
	across := func(y float64, shape int) Chord {
		return Chord{A: on(shape, e[fold]+1, (150-y)/150), B: on(shape, e[side], 0.7), Along: pt(1, 0), Factor: 1}
	}
	whole := func(edges ...int) []Term {
		var t []Term
		for shape := range p.Shapes {
			for _, i := range edges {
				t = append(t, terms(shape, e[i], e[i+1], 1)...)
			}
		}
		return t
	}
	up := func(shape int) Chord {
		return Chord{A: on(shape, 0, 0), B: on(shape, e[neck], 0), Along: pt(0, 1), Factor: 1}
	}
	p.Spans = []Span{
		chest:          {Chords: []Chord{across(100, 0), across(100, 1)}},
		waist:          {Terms: whole(waistIn, waistOut)},
		frontLength:    {Chords: []Chord{up(0)}},
		backLength:     {Chords: []Chord{up(1)}},
		shoulderLength: {Terms: terms(0, e[shoulder], e[shoulder+1], 1)},
		armholeRound:   {Terms: whole(armhole)},
		neckRound:      {Terms: whole(neck)},
		shoulderWidth:  {Chords: []Chord{{A: on(1, e[fold], 0), B: on(1, e[shoulder], 0), Along: pt(1, 0), Factor: 1}}},
	}
	for i := range p.Spans {
		p.Spans[i].Want = p.measured(p.Spans[i].Terms, p.Spans[i].Chords)
	}
	return p
}

func (p *Problem) scaled(k float64) *Problem {
	for i := range p.Spans {
		p.Spans[i].Want *= k
	}
	for i := range p.Darts {
		p.Darts[i].Want *= k
	}
	return p
}
