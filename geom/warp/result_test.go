package warp

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"hemlet/geom"
	"hemlet/geom/adjust"
)

// TestMapAndStrain: places inside go where the outline does, and what is scaled is
// stretched alike everywhere.
func TestMapAndStrain(t *testing.T) {
	p := newBodice().scaled(1.25)
	p.Scale = true
	r := solved(t, p)
	for k, s := range p.Shapes {
		for i, n := range s.Nodes {
			if d := r.Map(k, n.At).Dist(r.Shapes[k].Nodes[i].At); d > 1e-9 {
				t.Errorf("node %d of shape %d is mapped %g mm beside where it is", i, k, d)
			}
		}
		if q := s.Inner[0][0].P0; r.Map(k, q) != r.Shapes[k].Inner[0][0].P0 {
			t.Errorf("the inner path of shape %d starts beside where its start is mapped", k)
		}
		if e := r.Strain(k, pt(60, 200)); math.Abs(e.Along-1.25)+math.Abs(e.Across-1.25)+math.Abs(e.Shear) > 1e-6 {
			t.Errorf("shape %d: %+v, want 1.25 both ways", k, e)
		}
	}
}

// TestStrainIsWhatCloseBecomes: the strain is told from where two places close by go.
func TestStrainIsWhatCloseBecomes(t *testing.T) {
	r := solved(t, changed())
	const h = 1e-3
	for _, at := range []geom.Point{pt(60, 200), pt(150, 60), pt(110, 100), pt(20, 270)} {
		up, out := r.Map(0, at.Add(pt(0, h))).Sub(r.Map(0, at.Sub(pt(0, h)))), r.Map(0, at.Add(pt(-h, 0))).Sub(r.Map(0, at.Sub(pt(-h, 0))))
		want := Strain{up.Len() / (2 * h), out.Len() / (2 * h), math.Pi/2 - math.Atan2(up.Cross(out), up.Dot(out))}
		got := r.Strain(0, at)
		if math.Abs(got.Along-want.Along)+math.Abs(got.Across-want.Across)+math.Abs(got.Shear-want.Shear) > 1e-5 {
			t.Errorf("at %v: %+v, want %+v", at, got, want)
		}
	}
}

// TestShifts: in an alteration a place moves by the amount, what is held stays, what is far
// off hardly moves, and an amount of 0 moves nothing.
func TestShifts(t *testing.T) {
	_, e := halfBodice(0)
	under := Spot{On: &Place{0, 0, e[armhole], 0}}
	alter := func(by float64) *Problem {
		p := newBodice()
		p.Spans = nil
		for i := range p.Darts {
			p.Darts[i].Want = -1
		}
		p.Stay = 1
		p.Shifts = []Shift{
			{At: under, Along: pt(1, 0), By: by},
			{At: Spot{On: &Place{0, 0, e[shoulder], 0}}, Along: pt(0, 1), Hard: true},
			{At: Spot{On: &Place{0, 0, e[shoulder], 0}}, Along: pt(1, 0), Hard: true},
		}
		return p
	}
	if far := moved(alter(0), solved(t, alter(0)), 1); far > 1e-6 {
		t.Errorf("an amount of 0 moved something by %g mm", far)
	}
	p := alter(8)
	r := solved(t, p)
	was, is := p.Shapes[0].Nodes, r.Shapes[0].Nodes
	if by := is[e[armhole]].At.X - was[e[armhole]].At.X; math.Abs(by-8) > 0.02 || math.Abs(r.ShiftOff[0]-(by-8)) > 1e-9 {
		t.Errorf("the underarm moved by %g mm and is said to be off by %g mm", by, r.ShiftOff[0])
	}
	if d := is[e[shoulder]].At.Dist(was[e[shoulder]].At); d > 1e-6 {
		t.Errorf("what is held moved by %g mm", d)
	}
	if d := is[e[fold]].At.Dist(was[e[fold]].At); d > 1 {
		t.Errorf("the neck at the fold moved by %g mm", d)
	}
	for i, off := range r.SeamOff {
		if math.Abs(off) > 1e-4 {
			t.Errorf("seam %d is off by %g mm", i, off)
		}
	}
}

// TestDartsOpenAndClose: a dart becomes as wide as is wanted, its legs stay alike, and one
// that is to close altogether stays open by a tenth of a millimetre.
func TestDartsOpenAndClose(t *testing.T) {
	_, e := halfBodice(0)
	for _, want := range []float64{60, 10, 0} {
		p := newBodice()
		p.Darts[0].Want = want
		r := solved(t, p)
		n := r.Shapes[0].Nodes
		if got := n[e[dartMouth]].At.Dist(n[e[dartMouth]+1].At); math.Abs(got-max(want, 0.1)) > 0.01 {
			t.Errorf("the mouth is %g mm, want %g", got, want)
		}
		if err := r.Shapes[0].Outline().Simple(); err != nil {
			t.Errorf("want %g: %v", want, err)
		}
	}
}

// TestProgressAndStop: the share that is done grows to 1, and a context that is done stops.
func TestProgressAndStop(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	last := 0.0
	tell := func(share float64) {
		if share < last || share > 1 {
			t.Errorf("%g is done after %g", share, last)
		}
		last = share
	}
	if _, err := Solve(ctx, *changed(), tell); err != nil || last != 1 {
		t.Errorf("%g is done in the end, %v", last, err)
	}
	_, err := Solve(ctx, *changed(), func(float64) { stop() })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("stopped in the middle: %v", err)
	}
}

// TestSenseless: problems that make no sense are refused with what and where.
func TestSenseless(t *testing.T) {
	nan := math.NaN()
	for want, spoil := range map[string]func(p *Problem){
		"shape 0: an outline needs":        func(p *Problem) { p.Shapes[0].Nodes = p.Shapes[0].Nodes[:1] },
		"shape 1: node 2 has a coordinate": func(p *Problem) { p.Shapes[1].Nodes[2].In.X = nan },
		"shape 1 has no node 99":           func(p *Problem) { p.Shapes[1].Loose = []int{99} },
		"row 0: there is no shape 7":       func(p *Problem) { p.Rows = []adjust.Row{{Shape: 7}} },
		"rail 1: shape 1 has no node 99":   func(p *Problem) { p.Rails[1].Nodes[0] = 99 },
		"rail 0: there is no direction":    func(p *Problem) { p.Rails[0].Along = geom.Point{} },
		"mirror 0: there is no direction":  func(p *Problem) { p.Mirrors = []Mirror{{}} },
		"dart 0: its apex":                 func(p *Problem) { p.Darts[0].Want = nan },
		"span 2: what is wanted":           func(p *Problem) { p.Spans[2].Want = nan },
		"span 0: a chord runs":             func(p *Problem) { p.Spans[0].Chords[0].A.On = &Place{Shape: 1} },
		"seam 0: a stretch has no part":    func(p *Problem) { p.Seams[0].Terms[0].From = 2 },
		"has no stretch 3 of path 5":       func(p *Problem) { p.Seams[0].Terms[0].Path = 5 },
		"shift 0: there is no direction":   func(p *Problem) { p.Shifts = []Shift{{}} },
		"stiffness -1":                     func(p *Problem) { p.Along = -1 },
	} {
		p := newBodice()
		spoil(p)
		if _, err := Solve(context.Background(), *p, nil); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// TestWidthsOrLengths: where the pieces are stiff across the grain, what only lengths ask
// for changes widths less.
func TestWidthsOrLengths(t *testing.T) {
	width := func(across float64) float64 {
		p := newBodice()
		p.Spans = p.Spans[frontLength : backLength+1]
		for i := range p.Spans {
			p.Spans[i].Want *= 1.15
		}
		p.Across = across
		n := solved(t, p).Shapes[0].Nodes
		return n[4].At.X - n[0].At.X
	}
	free, stiff := width(0), width(20)
	if !(math.Abs(stiff-240) < math.Abs(free-240)/2) {
		t.Errorf("the width of 240 mm becomes %.2f mm, and %.2f mm where it is to be kept", free, stiff)
	}
}
