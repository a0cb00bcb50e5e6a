package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestBetweenOnClosedPath(t *testing.T) {
	box := Polygon(Pt(0, 0), Pt(10, 0), Pt(10, 10), Pt(0, 10))
	for _, c := range []struct {
		d0, d1   float64
		length   float64
		from, to Point
		segments int
	}{
		{5, 15, 10, Pt(5, 0), Pt(10, 5), 2},
		{35, 5, 10, Pt(0, 5), Pt(5, 0), 2},
		{-5, 5, 10, Pt(0, 5), Pt(5, 0), 2},
		{38, 43, 5, Pt(0, 2), Pt(3, 0), 2},
		{0, 40, 40, Pt(0, 0), Pt(0, 0), 4},
		{5, 45, 40, Pt(5, 0), Pt(5, 0), 5},
		{5, 500, 40, Pt(5, 0), Pt(5, 0), 5},
		{10, 20, 10, Pt(10, 0), Pt(10, 10), 1},
		{10 - 1e-10, 20 + 1e-10, 10, Pt(10, 0), Pt(10, 10), 1},
		{-400 + 2, -400 + 3, 1, Pt(2, 0), Pt(3, 0), 1},
	} {
		got := box.Between(c.d0, c.d1)
		if len(got) != c.segments || math.Abs(got.Length()-c.length) > 1e-8 || !got.Start().Near(c.from, 1e-8) || !got.End().Near(c.to, 1e-8) {
			t.Errorf("%g to %g: %v", c.d0, c.d1, got)
		}
	}
}

func TestBetweenOnOpenPath(t *testing.T) {
	p := Path{Line(Pt(0, 0), Pt(10, 0)), Line(Pt(10, 0), Pt(10, 10))}
	for _, c := range []struct {
		d0, d1   float64
		from, to Point
		segments int
	}{
		{5, 15, Pt(5, 0), Pt(10, 5), 2},
		{15, 5, Pt(10, 5), Pt(5, 0), 2},
		{-5, 50, Pt(0, 0), Pt(10, 10), 2},
		{10, 20, Pt(10, 0), Pt(10, 10), 1},
		{0, 10, Pt(0, 0), Pt(10, 0), 1},
	} {
		got := p.Between(c.d0, c.d1)
		if len(got) != c.segments || got.Start() != c.from || got.End() != c.to {
			t.Errorf("%g to %g: %v", c.d0, c.d1, got)
		}
	}
	for _, d := range [][2]float64{{5, 5}, {math.NaN(), 1}, {0, math.Inf(1)}, {30, 40}, {-2, -1}} {
		if got := p.Between(d[0], d[1]); got != nil {
			t.Errorf("%g to %g: %v", d[0], d[1], got)
		}
	}
	if (Path{}).Between(0, 1) != nil || (Path{}).Length() != 0 || (Path{}).Tape().Length() != 0 {
		t.Error("the empty path has parts")
	}
}

// A part has the wanted length and chains without gaps, wherever it is cut.
func TestBetweenProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawLoop(t)
		if !rapid.Bool().Draw(t, "closed") {
			p = p[:len(p)-1]
		}
		tape := p.Tape()
		total := tape.Length()
		if !(total > 1e-200) {
			return
		}
		a := rapid.Float64Range(0, 1).Draw(t, "from") * total
		b := rapid.Float64Range(0, 1).Draw(t, "to") * total
		want := b - a
		if p.Closed() && want < 0 {
			want += total
		}
		part := tape.Between(a, b)
		box := p.Bounds()
		slack := 3e-9*total + 1e-14*(box.Min.Len()+box.Max.Len()) // rounding of the coordinates
		if math.Abs(part.Length()-math.Abs(want)) > slack {
			t.Fatalf("part of %v from %g to %g of %g is %g long: %v", p, a, b, total, part.Length(), part)
		}
		for i := 1; i < len(part); i++ {
			if part[i-1].P3 != part[i].P0 {
				t.Fatalf("gap before segment %d of %v, part of %v", i, part, p)
			}
		}
		if len(part) > 0 && part.Start().Dist(p.At(tape.At(a))) > slack {
			t.Fatal("starts elsewhere")
		}
		if at := tape.At(a); math.Abs(tape.To(at)-a) > 2e-9*total {
			t.Fatalf("At and To disagree by %g", tape.To(at)-a)
		}
	})
}

func TestTapeAtNodes(t *testing.T) {
	p := Path{Line(Pt(0, 0), Pt(10, 0)), Line(Pt(10, 0), Pt(10, 0)), Line(Pt(10, 0), Pt(10, 10))}
	tape := p.Tape()
	for d, want := range map[float64]Place{
		-1: {0, 0}, 0: {0, 0}, math.NaN(): {0, 0}, 10: {0, 1}, 15: {2, 0.5}, 20: {2, 1}, 99: {2, 1},
	} {
		if got := tape.At(d); got != want {
			t.Errorf("at %g: %v want %v", d, got, want)
		}
		if !math.IsNaN(d) && p.AtLength(d) != want {
			t.Errorf("at %g: %v want %v", d, p.AtLength(d), want)
		}
	}
	for i, want := range []float64{0, 10, 10, 20} {
		if got := tape.Node(i); got != want {
			t.Errorf("node %d at %g", i, got)
		}
	}
}
