package draft

import (
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

const degree = math.Pi / 180

// Pieces whose grain leans a little are turned until it runs straight; one without a grain line
// turns as they do, one that leans on purpose stays.
func TestPiecesAreTurnedByTheirGrain(t *testing.T) {
	leaning := func(name string, by float64) *Piece {
		q := polygonPiece(name, 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 80), geom.Pt(0, 80))
		q.Grain = &Grain{geom.Pt(30, 10), geom.Pt(30, 10).Add(geom.Rotation(by, geom.Point{}).ApplyVector(geom.Pt(0, 50)))}
		return q
	}
	p := projectOf(leaning("front", -0.4*degree), leaning("back", -0.5*degree), leaning("cuff", 0), leaning("bias", 45*degree))
	p.Pieces[1].Place.Turn = math.Pi / 2
	p.Pieces[2].Grain = nil
	turned := mustDo(t, p, "turn-piece", "pieces=front + back + cuff").Project
	for i, want := range []float64{0.4, 90.5, 0.5} {
		got := turned.Pieces[i].Place.Turn / degree
		if i == 2 && math.Abs(got-0.4) < 1e-6 { // the median of two is either
			continue
		}
		if math.Abs(got-want) > 1e-6 {
			t.Errorf("%s lies at %g degrees, want %g", turned.Pieces[i].Name, got, want)
		}
		middle := p.Pieces[i].DrawnPath().Bounds().Center()
		if d := p.Pieces[i].Place.Affine().Apply(middle).Dist(turned.Pieces[i].Place.Affine().Apply(middle)); d > 1e-5 {
			t.Errorf("the middle of %s has moved by %g", turned.Pieces[i].Name, d)
		}
	}
	mustRefuse(t, p, "runs straight", "turn-piece", "pieces=bias")
	mustRefuse(t, turned, "runs straight", "turn-piece", "pieces=front + back")
}

// A sheet lay askew by what all its grain lines lean, whichever way they run.
func TestASheetLiesAskewByItsGrainLines(t *testing.T) {
	at := func(degrees float64) geom.Point {
		return geom.Rotation(degrees*degree, geom.Point{}).ApplyVector(geom.Pt(1, 0))
	}
	for _, c := range []struct {
		lines []float64
		want  float64
		ok    bool
	}{
		{[]float64{89.6, 89.5, 89.7}, -0.4, true},
		{[]float64{89.6, -0.4, 269.6}, -0.4, true}, // across the sheet, and the other way round
		{[]float64{90.4}, 0.4, true},
		{[]float64{89.6, 91.6}, 0, false},
		{[]float64{89.6, 45}, 0, false},
		{nil, 0, false},
	} {
		var along []geom.Point
		for _, d := range c.lines {
			along = append(along, at(d))
		}
		if got, ok := sheetLean(along); ok != c.ok || ok && math.Abs(got/degree-c.want) > 1e-9 {
			t.Errorf("%v: got %g, %t", c.lines, got/degree, ok)
		}
	}
}

// Of a sheet that lay askew, pieces without a grain line get theirs along the others', and it
// is told.
func TestTracedPiecesOfASheetThatLayAskew(t *testing.T) {
	turn := geom.Rotation(-0.4*degree, geom.Point{})
	square := func(x float64) geom.Path {
		pts := []geom.Point{geom.Pt(x, 0), geom.Pt(x+60, 0), geom.Pt(x+60, 80), geom.Pt(x, 80)}
		var path geom.Path
		for i := range pts {
			path = append(path, geom.Line(turn.Apply(pts[i]), turn.Apply(pts[(i+1)%4])))
		}
		return path
	}
	corners := []bool{true, true, true, true}
	args := ImportTracedArgs{Line: StitchDrawn, Outlines: []TracedOutline{
		{Outline: Outline{Name: "front", Path: square(0), Corner: corners}, Grain: &Grain{turn.Apply(geom.Pt(30, 10)), turn.Apply(geom.Pt(30, 60))}},
		{Outline: Outline{Name: "cuff", Path: square(100), Corner: corners}},
	}}
	out, err := ImportTraced.Do(New("smock"), args)
	if err != nil {
		t.Fatal(err)
	}
	if says := strings.Join(out.Says, " "); !strings.Contains(says, "lean by 0.4°") {
		t.Errorf("says %q", says)
	}
	straight := mustDo(t, out.Project, "turn-piece", "pieces=front + cuff").Project
	for _, q := range straight.Pieces {
		if d := q.Place.Affine().ApplyVector(q.GrainWay()); math.Abs(d.X) > 1e-6 {
			t.Errorf("the grain of %s runs along %v", q.Name, d)
		}
		s := q.DrawnPath().Transform(q.Place.Affine())[0]
		if d := s.P3.Sub(s.P0).Unit(); math.Min(math.Abs(d.X), math.Abs(d.Y)) > 1e-6 {
			t.Errorf("the first edge of %s runs along %v", q.Name, d)
		}
	}
}
