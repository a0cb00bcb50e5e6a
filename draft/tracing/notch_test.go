package tracing_test

import (
	"testing"

	"hemlet/draft"
	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/trace"
)

// What stands short, straight, square and free on the outline is a notch; the rest stays a
// line.
func TestTicksBecomeNotches(t *testing.T) {
	line := func(pts ...geom.Point) geom.Path {
		var p geom.Path
		for i := 1; i < len(pts); i++ {
			p = append(p, geom.Line(pts[i-1], pts[i]))
		}
		return p
	}
	for name, c := range map[string]struct {
		inner []geom.Path
		size  float64 // mm, of the sides of a square
		want  int
	}{
		"a tick":               {[]geom.Path{line(geom.Pt(40, 0.4), geom.Pt(40.5, 6))}, 120, 1},
		"from its free end":    {[]geom.Path{line(geom.Pt(114, 50), geom.Pt(119.8, 50))}, 120, 1},
		"too long":             {[]geom.Path{line(geom.Pt(40, 0), geom.Pt(40, 13))}, 120, 0},
		"too long for a doll":  {[]geom.Path{line(geom.Pt(20, 0), geom.Pt(20, 6))}, 40, 0},
		"a doll's":             {[]geom.Path{line(geom.Pt(20, 0), geom.Pt(20, 4))}, 40, 1},
		"leaning":              {[]geom.Path{line(geom.Pt(40, 0), geom.Pt(46, 5))}, 120, 0},
		"free of the outline":  {[]geom.Path{line(geom.Pt(40, 3), geom.Pt(40, 9))}, 120, 0},
		"along the outline":    {[]geom.Path{line(geom.Pt(40, 0.5), geom.Pt(46, 0.5))}, 120, 0},
		"bent":                 {[]geom.Path{line(geom.Pt(40, 0), geom.Pt(44, 3), geom.Pt(40, 6))}, 120, 0},
		"legs of a dart":       {[]geom.Path{line(geom.Pt(40, 0), geom.Pt(42, 8)), line(geom.Pt(44, 0), geom.Pt(42.3, 8))}, 120, 0},
		"two side by side":     {[]geom.Path{line(geom.Pt(40, 0), geom.Pt(40, 6)), line(geom.Pt(46, 0), geom.Pt(46, 6))}, 120, 2},
		"a ring at the border": {[]geom.Path{geom.Polygon(geom.Pt(40, 0), geom.Pt(42, 0), geom.Pt(42, 2))}, 120, 0},
	} {
		o := trace.Outline{Path: geom.Polygon(geom.Pt(0, 0), geom.Pt(c.size, 0), geom.Pt(c.size, c.size), geom.Pt(0, c.size)), Corner: []bool{true, true, true, true}, Pen: 0.5}
		for _, p := range c.inner {
			o.Inner = append(o.Inner, trace.Inner{Path: p})
		}
		traced := &tracing.Traced{Result: trace.Result{Outlines: []trace.Outline{o}}}
		got := traced.Args(tracing.MadeFor{}, []tracing.Take{{}}).Outlines[0]
		if len(got.Notches) != c.want || len(got.Lines) != len(c.inner)-c.want {
			t.Errorf("%s: %d notches and %d lines", name, len(got.Notches), len(got.Lines))
		}
		for _, at := range got.Notches {
			if _, d := o.Path.Nearest(at); d > 1e-9 {
				t.Errorf("%s: the notch at %v lies off the outline", name, at)
			}
		}
	}
}

// What the maker says of a line inside goes before what it looks like.
func TestUsesThatWereSaid(t *testing.T) {
	at := func(x, h float64) trace.Inner {
		return trace.Inner{Path: geom.Path{geom.Line(geom.Pt(x, 0), geom.Pt(x, h))}}
	}
	o := trace.Outline{
		Path:  geom.Polygon(geom.Pt(0, 0), geom.Pt(120, 0), geom.Pt(120, 120), geom.Pt(0, 120)),
		Inner: []trace.Inner{at(20, 6), at(40, 6), at(60, 80), at(80, 40), at(90, 40), at(100, 20)},
	}
	traced := &tracing.Traced{Result: trace.Result{Outlines: []trace.Outline{o}}}
	uses := []tracing.Use{tracing.Unsaid, tracing.AsPlacement, tracing.AsGrain, tracing.AsStyle, tracing.LeftOut}
	got := traced.Args(tracing.MadeFor{}, []tracing.Take{{Uses: uses}}).Outlines[0]
	if len(got.Notches) != 1 || got.Notches[0] != geom.Pt(20, 0) {
		t.Errorf("notches %v", got.Notches)
	}
	if got.Grain == nil || got.Grain.To != geom.Pt(60, 80) {
		t.Errorf("grain %v", got.Grain)
	}
	if len(got.Lines) != 3 || got.Lines[0].Kind != draft.PlacementLine || got.Lines[1].Kind != draft.StyleLine {
		t.Errorf("lines %+v", got.Lines)
	}
}
