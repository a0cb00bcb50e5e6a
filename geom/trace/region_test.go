package trace

import (
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

func TestWithinMirrorsWhatLiesOutside(t *testing.T) {
	r := &scan.Raster{W: 8, H: 4, Pix: make([]uint8, 32)}
	for i := range r.Pix {
		r.Pix[i] = uint8(i)
	}
	// Rows 1 and 2; from column 2 to 5 in row 1, to 4 in row 2; the box is columns 2 to 6.
	sh := Sheet{Raster: r, Map: geom.Plane, Region: []geom.Point{{X: 3, Y: 1}, {X: 6, Y: 1}, {X: 6, Y: 2}, {X: 5, Y: 2}, {X: 5, Y: 3}, {X: 2, Y: 3}, {X: 2, Y: 2}, {X: 3, Y: 2}}}
	got, ok := sh.within()
	if !ok || got.Raster.W != 4 || got.Raster.H != 2 {
		t.Fatalf("%v %+v", ok, got.Raster)
	}
	want := []uint8{11, 11, 12, 13, 18, 19, 20, 20}
	for i, v := range want {
		if got.Raster.Pix[i] != v {
			t.Fatalf("%v, want %v", got.Raster.Pix, want)
		}
	}
	if p := got.Map.Apply(geom.Pt(1, 1)); p != geom.Pt(3, 2) {
		t.Errorf("the corner lies at %v", p)
	}
	if r.Pix[8] != 8 || r.Pix[31] != 31 {
		t.Error("the picture was changed")
	}
	sh.Region = []geom.Point{{X: 9, Y: 1}, {X: 12, Y: 1}, {X: 12, Y: 3}}
	if _, ok := sh.within(); ok {
		t.Error("a region beside the picture")
	}
	sh.Region = nil
	if got, ok := sh.within(); !ok || got.Raster != r {
		t.Error("without a region the picture stays")
	}
}

func TestMirrorGoesToAndFro(t *testing.T) {
	row := []uint8{0, 0, 0, 0, 0, 5, 6, 0, 0, 0, 0, 0, 9}
	mirror(row, [][2]int{{5, 7}, {12, 13}})
	want := []uint8{5, 5, 6, 6, 5, 5, 6, 6, 5, 5, 6, 6, 9}
	for i := range row {
		if row[i] != want[i] {
			t.Fatalf("%v, want %v", row, want)
		}
	}
}
