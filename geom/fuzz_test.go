package geom

import (
	"encoding/binary"
	"math"
	"testing"
)

// segmentsOf reads two segments out of 128 bytes, as raw floats, or as coordinates on a
// coarse grid, where points coincide and line up.
func segmentsOf(data []byte, grid bool) (a, b Segment, ok bool) {
	if len(data) < 128 {
		return a, b, false
	}
	var p [8]Point
	for i := range p {
		x, y := data[16*i:16*i+8], data[16*i+8:16*i+16]
		if grid {
			p[i] = Pt(float64(int8(x[0])), float64(int8(y[0])))
			continue
		}
		p[i] = Pt(math.Float64frombits(binary.LittleEndian.Uint64(x)), math.Float64frombits(binary.LittleEndian.Uint64(y)))
	}
	return Cubic(p[0], p[1], p[2], p[3]), Cubic(p[4], p[5], p[6], p[7]), true
}

// FuzzIntersections feeds any two cubics, and paths of them, to the intersection
// code: it must end, not panic, and report only what is so.
func FuzzIntersections(f *testing.F) {
	seed := func(ps ...Point) {
		var data []byte
		for _, p := range ps {
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(p.X))
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(p.Y))
		}
		f.Add(data, false)
	}
	seed(Pt(0, 0), Pt(0, 40), Pt(60, 40), Pt(60, 0), Pt(0, 60), Pt(0, 20), Pt(60, 20), Pt(60, 60))
	seed(Pt(0, 0), Pt(20, 0), Pt(20, 0), Pt(0, 0), Pt(5, 0), Pt(20, 0), Pt(0, 0), Pt(5, 0))
	seed(Pt(math.NaN(), 0), Pt(1, math.Inf(1)), Pt(1e308, 0), Pt(0, 0), Pt(0, 0), Pt(0, 0), Pt(0, 0), Pt(0, 0))
	grid := make([]byte, 128)
	for i := range grid {
		grid[i] = byte(37 * i)
	}
	f.Add(grid, true)
	f.Fuzz(func(t *testing.T, data []byte, grid bool) {
		a, b, ok := segmentsOf(data, grid)
		if !ok {
			return
		}
		tol := 3 * meetTol(a, b)
		got := a.Intersections(b)
		for _, m := range got {
			if !(m.T >= 0 && m.T <= m.T2 && m.T2 <= 1 && m.U >= 0 && m.U <= 1 && m.U2 >= 0 && m.U2 <= 1) {
				t.Fatalf("%v %v: %+v", a, b, m)
			}
			if d := a.At(m.T).Dist(b.At(m.U)); !(d <= tol) {
				t.Fatalf("%v %v: %+v is %g apart", a, b, m, d)
			}
		}
		if u, v, ok := a.SelfIntersection(); ok && !(0 <= u && u < v && v <= 1 && a.At(u).Near(a.At(v), 2*meetTol(a, a))) {
			t.Fatalf("%v: loop at %g %g", a, u, v)
		}
		loop := Path{a, Line(a.P3, b.P0), b, Line(b.P3, a.P0)}
		finite := a.meetable() && b.meetable()
		for _, m := range loop.SelfIntersections() {
			if finite && !(loop.At(m.A).Near(m.P, 8*tol) && loop.At(m.B).Near(m.P, 8*tol)) {
				t.Fatalf("%v: %+v", loop, m)
			}
		}
		err := loop.Simple()
		if finite && (err == nil) != (len(loop.SelfIntersections()) == 0) {
			t.Fatalf("%v: %v", loop, err)
		}
		a.Nearest(b.P0)
		loop.Winding(b.P1)
	})
}
