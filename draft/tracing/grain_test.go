package tracing_test

import (
	"context"
	"math"
	"testing"

	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/tracetest"
)

// chords returns the path from point to point.
func chords(pts ...geom.Point) geom.Path {
	var p geom.Path
	for i := 1; i < len(pts); i++ {
		p = append(p, geom.Line(pts[i-1], pts[i]))
	}
	return p
}

// head returns the two lines of a head at the tip of an arrow that points at an angle.
func head(tip geom.Point, angle float64) []geom.Path {
	var out []geom.Path
	for _, side := range [2]float64{-1, 1} {
		sin, cos := math.Sincos(angle + math.Pi + side*math.Pi/7)
		out = append(out, chords(tip, tip.Add(geom.Pt(5*cos, 5*sin))))
	}
	return out
}

// grainOf returns what becomes the grain line, nil for nothing, and how many lines and
// notches are left.
func grainOf(inner []geom.Path, said ...tracing.Use) (grain *[2]geom.Point, rest int) {
	o := trace.Outline{Path: geom.Polygon(geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 150), geom.Pt(0, 150)), Corner: []bool{true, true, true, true}, Pen: 0.5}
	for _, p := range inner {
		o.Inner = append(o.Inner, trace.Inner{Path: p})
	}
	t := &tracing.Traced{Result: trace.Result{Outlines: []trace.Outline{o}}}
	out := t.Args(tracing.MadeFor{}, []tracing.Take{{Uses: said}}).Outlines[0]
	if out.Grain != nil {
		grain = &[2]geom.Point{out.Grain.From, out.Grain.To}
	}
	return grain, len(out.Lines) + len(out.Notches)
}

func TestWhatIsTakenForTheGrain(t *testing.T) {
	up := chords(geom.Pt(45, 110), geom.Pt(45, 40))
	slant := chords(geom.Pt(20, 40), geom.Pt(50, 100))
	along := slant[0].Tangent(0).Angle()
	with := func(a geom.Path, more ...geom.Path) []geom.Path { return append([]geom.Path{a}, more...) }
	for name, c := range map[string]struct {
		inner []geom.Path
		grain bool
		rest  int
	}{
		"none":                    {nil, false, 0},
		"a long line up":          {with(up), true, 0},
		"a little askew":          {with(chords(geom.Pt(45, 40), geom.Pt(50, 110))), true, 0},
		"too short":               {with(chords(geom.Pt(45, 40), geom.Pt(45, 65))), false, 1},
		"leaning":                 {with(slant), false, 1},
		"level":                   {with(chords(geom.Pt(20, 75), geom.Pt(80, 75))), false, 1},
		"bent":                    {with(chords(geom.Pt(45, 40), geom.Pt(48, 75), geom.Pt(45, 110))), false, 1},
		"from edge to edge":       {with(chords(geom.Pt(45, 0), geom.Pt(45, 150))), false, 1},
		"which of two":            {with(up, chords(geom.Pt(60, 40), geom.Pt(60, 110))), false, 2},
		"a ring":                  {with(geom.Polygon(geom.Pt(40, 40), geom.Pt(50, 40), geom.Pt(50, 110))), false, 1},
		"a line up and others":    {with(up, slant, chords(geom.Pt(20, 0), geom.Pt(20, 6))), true, 2},
		"with a head":             {with(up, head(geom.Pt(45, 110), math.Pi/2)...), true, 0},
		"with two heads":          {with(up, append(head(geom.Pt(45, 110), math.Pi/2), head(geom.Pt(45, 40), -math.Pi/2)...)...), true, 0},
		"leaning with a head":     {with(slant, head(slant.End(), along)...), true, 0},
		"the one with a head":     {with(chords(geom.Pt(60, 40), geom.Pt(60, 110)), with(up, head(geom.Pt(45, 110), math.Pi/2)...)...), true, 1},
		"half a head is a dart":   {with(slant, head(slant.End(), along)[0]), false, 2},
		"which of two with heads": {append(with(up, head(geom.Pt(45, 110), math.Pi/2)...), with(slant, head(slant.End(), along)...)...), false, 6},
	} {
		grain, rest := grainOf(c.inner)
		if (grain != nil) != c.grain || rest != c.rest {
			t.Errorf("%s: grain %v, %d lines beside", name, grain, rest)
		}
		if grain != nil && grain[1].Y < grain[0].Y {
			t.Errorf("%s: the grain runs down, %v", name, grain)
		}
	}
}

// What the maker says goes before what a line looks like.
func TestTheGrainThatWasSaid(t *testing.T) {
	up, slant := chords(geom.Pt(45, 40), geom.Pt(45, 110)), chords(geom.Pt(20, 40), geom.Pt(50, 100))
	if grain, rest := grainOf([]geom.Path{up, slant}, tracing.AsStyle); grain != nil || rest != 2 {
		t.Errorf("a style line: grain %v, %d lines", grain, rest)
	}
	if grain, rest := grainOf([]geom.Path{up, slant}, tracing.Unsaid, tracing.AsGrain); grain == nil || grain[1] != slant.End() || rest != 1 {
		t.Errorf("another line: grain %v, %d lines", grain, rest)
	}
	// What is no grain line after all has no heads: nothing drawn is lost.
	arrow := append([]geom.Path{up, slant}, head(up.End(), math.Pi/2)...)
	for name, c := range map[string]struct {
		said []tracing.Use
		rest int
	}{
		"nothing said":       {nil, 1},
		"said of itself":     {[]tracing.Use{tracing.AsGrain}, 1},
		"a style line":       {[]tracing.Use{tracing.AsStyle}, 4},
		"another line":       {[]tracing.Use{tracing.Unsaid, tracing.AsGrain}, 3},
		"a head left as one": {[]tracing.Use{tracing.Unsaid, tracing.Unsaid, tracing.AsPlacement}, 2},
	} {
		if _, rest := grainOf(arrow, c.said...); rest != c.rest {
			t.Errorf("with heads, %s: %d lines beside, not %d", name, rest, c.rest)
		}
	}
	o := trace.Outline{Path: geom.Polygon(geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 150), geom.Pt(0, 150)), Inner: []trace.Inner{{Path: up}, {Path: slant}}}
	for i, c := range []struct {
		said []tracing.Use
		want bool
	}{{nil, true}, {[]tracing.Use{tracing.AsGrain}, false}, {[]tracing.Use{tracing.AsPlacement}, false}, {[]tracing.Use{tracing.Unsaid, tracing.LeftOut}, true}} {
		if got := tracing.Grained(o, c.said); got != c.want {
			t.Errorf("%d: taken unsaid is %v", i, got)
		}
	}
}

// A grain line with open heads is one once it was scanned and followed, too.
func TestADrawnArrowIsTheGrain(t *testing.T) {
	tip := geom.Pt(60, 100)
	arrow := append([]geom.Path{chords(geom.Pt(30, 40), tip)}, head(tip, tip.Sub(geom.Pt(30, 40)).Angle())...)
	pic, err := tracetest.Plain(150, 3).See(tracetest.Drawn(0.5, tracetest.Piece{
		Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 120), geom.Pt(0, 120)), Inner: arrow,
	}))
	if err != nil {
		t.Fatal(err)
	}
	p := project(t, pic.Image)
	traced, err := tracing.Run(context.Background(), []tracing.Source{source(p.Pictures[0], pic.Image)}, tracing.Settings{Options: trace.Options{Manner: trace.Drawn}}, nil)
	if err != nil || len(traced.Outlines) != 1 {
		t.Fatal(err, traced.Says)
	}
	out := traced.Args(tracing.MadeFor{}, traced.All()).Outlines[0]
	if out.Grain == nil || len(out.Lines)+len(out.Notches) > 0 {
		t.Fatalf("grain %v, lines %v", out.Grain, out.Lines)
	}
	if long := out.Grain.From.Dist(out.Grain.To); math.Abs(long-arrow[0].Length()) > 3 {
		t.Errorf("it is %.1f mm long", long)
	}
}
