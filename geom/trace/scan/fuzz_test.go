package scan

import (
	"context"
	"encoding/binary"
	"math"
	"testing"

	"hemlet/geom"
)

// FuzzTrue holds all that makes a picture true to this: whatever the picture and the clicks,
// there is an error or a result that is a number.
func FuzzTrue(f *testing.F) {
	f.Add(uint8(40), uint8(30), []byte{0, 255, 7}, []byte{1, 2, 3, 4, 5, 6, 7, 8})
	f.Add(uint8(1), uint8(1), []byte{9}, []byte{})
	f.Add(uint8(0), uint8(9), []byte{}, []byte{255, 255, 255, 255, 255, 255, 255, 255})
	f.Add(uint8(200), uint8(3), []byte{255, 255, 255, 0}, []byte("\x00\x00\x00\x00\x00\x00\xf8\x7f"))
	f.Fuzz(func(t *testing.T, w, h uint8, pix, clicks []byte) {
		r := &Raster{W: int(w), H: int(h), Pix: make([]uint8, int(w)*int(h))}
		for i := range r.Pix {
			if len(pix) > 0 {
				r.Pix[i] = pix[(i*7+i/len(pix))%len(pix)]
			}
		}
		at := func(i int) float64 {
			if b := clicks[min(8*i, len(clicks)):]; len(b) >= 8 && i%3 == 0 {
				return math.Float64frombits(binary.LittleEndian.Uint64(b))
			} else if len(b) > 1 {
				return float64(b[0]) + float64(b[1])/256
			}
			return float64(i*13%40) - 2
		}
		p := func(i int) geom.Point { return geom.Pt(at(2*i), at(2*i+1)) }
		c := [4]geom.Point{p(0), p(1), p(2), p(3)}
		ctx := context.Background()
		finite := func(name string, h geom.Homography, off float64, err error) {
			if err == nil && (!h.Finite() || math.IsNaN(off) || math.IsInf(off, 0)) {
				t.Errorf("%s: %+v, %g", name, h, off)
			}
		}
		if fr, err := FitFrame(r, c); err == nil {
			h, rms, err := fr.True(at(8), at(9), p(5))
			finite("frame", h, rms, err)
		}
		m, rms, err := Trueness(c, [4][]geom.Point{}, at(8), at(9), p(5))
		finite("corners", m, rms, err)
		if c, err := FindFrame(r); err == nil {
			for _, q := range c {
				if !q.Finite() {
					t.Errorf("a corner at %v", q)
				}
			}
		}
		if g, err := FindGrid(ctx, r); err == nil {
			h, rms, err := g.True(at(8), p(5), p(6))
			finite("grid", h, rms, err)
			if out, err := Ungrid(ctx, r, g); err == nil && len(out.Pix) != len(r.Pix) {
				t.Error("the picture changed its size")
			}
		}
		odd := Grid{Map: geom.Homography{A: at(1), D: at(2), B: at(3), C: at(4), E: at(5), F: at(6), G: at(7) / 1e4}}
		if out, err := Ungrid(ctx, r, odd); err == nil && len(out.Pix) != len(r.Pix) {
			t.Error("the picture changed its size")
		}
		if s, err := ScaleOf([]Known{{c[0], c[1], at(8)}, {c[1], c[2], at(9)}}); err == nil {
			finite("lengths", geom.Affine{A: s.Across, D: -s.Up}.Projective(), s.RMS, nil)
		}
		if j, err := JoinMarks(c[:2], []geom.Point{c[2], c[3]}); err == nil {
			finite("marks", j.Map.Projective(), j.RMS, nil)
		}
		if q, err := SnapMark(r, c[0], at(8)); err == nil && !q.Finite() {
			t.Errorf("a mark at %v", q)
		}
		field := &Field{W: r.W, H: r.H, V: make([]uint16, len(r.Pix))}
		// Pixels of a size that makes about a hundred of them: more would but take time.
		size := odd.Map.ScaleAt(geom.Pt(0, 0)) * float64(max(r.W, r.H, 1)) / 100
		if box := geom.RectOf(odd.Map.Apply(geom.Point{}), odd.Map.Apply(geom.Pt(float64(w), float64(h)))); box.W() < 1000*size && box.H() < 1000*size {
			if out, _, err := Mosaic(ctx, []Placed{{Field: field, Map: odd.Map}}, size); err == nil && !out.whole() {
				t.Error("a mosaic without its pixels")
			}
		}
	})
}
