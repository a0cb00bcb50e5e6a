package draft

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// seamsHold reports seams of the project that do not hold, and findings that are more
// than remarks.
func seamsHold(t fataler, p *Project) {
	t.Helper()
	r := NewSlots().Check(p)
	if len(r.Seams) != len(p.Seams) {
		t.Fatalf("%d of %d seams stand", len(r.Seams), len(p.Seams))
	}
	for _, s := range r.Seams {
		if !s.Holds || math.Abs(s.Diff) > 1e-4 {
			t.Fatalf("seam %s: %v to %v", s.Seam.Name, s.A, s.B)
		}
	}
	for _, f := range r.Findings {
		if f.Level != Remark {
			t.Fatalf("%s: %s", f.About, f.Says)
		}
	}
}

// A godet of a part of a circle: its hem is as long as side times angle, its area half
// of that times the side; the panel loses the triangle between its two stitchings.
func TestGodetAgainstClosedForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(60, 300).Draw(t, "width")
		h := rapid.Float64Range(60, 300).Draw(t, "height")
		at := rapid.Float64Range(0.3, 0.7).Draw(t, "at")
		depth := h * rapid.Float64Range(0.35, 0.8).Draw(t, "depth")
		angle := rapid.Float64Range(20, 320).Draw(t, "angle")
		allowance := rapid.Float64Range(3, 8).Draw(t, "allowance")
		a := polygonPiece("panel", 6, geom.Pt(0, 0), geom.Pt(w, 0), geom.Pt(w, h), geom.Pt(0, h))
		a.Edges[0].Kind, a.Edges[0].Allowance = HemEdge, Even(10)
		a.Cut.Way = rapid.SampledFrom([]CutWay{CutSingle, CutPairs}).Draw(t, "way")
		p := projectOf(a)
		p.Cloths = []*Cloth{{ID: "c1", Name: "felt"}}
		a.Cloth = "c1"
		out := do(t, p, InsertGodet, fmt.Sprintf("at=panel.e0@%.6f%%", at*100), fmt.Sprintf("depth=%.6fmm", depth),
			fmt.Sprintf("angle=%.6f", angle), fmt.Sprintf("allowance=%.6fmm", allowance))
		seamsHold(t, out.Project)
		q, godet := out.Project.Pieces[0], out.Project.Pieces[1]
		half := q.Edges[2].Nodes[0].At.X - q.Edges[1].Nodes[0].At.X
		if half > allowance || half < 0.7*allowance {
			t.Fatalf("the slit opens by %v on either side, of an allowance of %v", half, allowance)
		}
		side := math.Hypot(half, depth)
		theta := angle * math.Pi / 180
		hem := godet.EdgeLength(0)
		if want := side * theta; math.Abs(hem-want) > 1e-4*want {
			t.Fatalf("its hem is %v, want %v", hem, want)
		}
		if area, want := godet.DrawnPath().Area(), side*side*theta/2; math.Abs(area-want) > 1e-4*want {
			t.Fatalf("its area is %v, want %v", area, want)
		}
		if area, want := q.DrawnPath().Area(), w*h-half*depth; math.Abs(area-want) > 1e-3 {
			t.Fatalf("the panel has %v, want %v", area, want)
		}
		// Nothing of the cut line goes into the slit, and the slit is cut in the middle.
		flat, err := LayFlat(q)
		if err != nil {
			t.Fatal(err)
		}
		if want := (w + 12) * (h + 16); math.Abs(flat.Cut.Area()-want) > 1e-2 {
			t.Fatalf("%v mm² are cut, want %v", flat.Cut.Area(), want)
		}
		slit := q.Lines[0].Path()
		if q.Lines[0].Kind != SlitLine || !slit.Start().Near(geom.Pt(at*w, -10), 1e-3) || !slit.End().Near(geom.Pt(at*w, depth-1), 1e-3) {
			t.Fatalf("the slit runs %v", slit)
		}
		if q.Lines[1].Kind != ReinforcePoint || !q.Lines[1].Nodes[0].At.Near(geom.Pt(at*w, depth), 1e-3) {
			t.Fatalf("the reinforcement %+v", q.Lines[1])
		}
		_, up := q.Edge(q.Edges[1].ID)
		if e := q.Edges[up]; e.Allowance.Start != toGrid(allowance) && math.Abs(e.Allowance.Start-allowance) > 1e-5 || e.Allowance.End != 1 {
			t.Fatalf("the side of the slit: %+v", e)
		}
		if bothSides := a.Cut.Way == CutPairs; out.Project.Seams[0].BothSides != bothSides {
			t.Fatalf("it stands for both sides: %v", !bothSides)
		}
	})
}

func TestWedgeGodetOnAFold(t *testing.T) {
	a := polygonPiece("panel", 6, geom.Pt(0, 0), geom.Pt(120, 0), geom.Pt(120, 150), geom.Pt(0, 150))
	a.Edges[3].Kind, a.Cut.Way, a.Edges[0].Kind, a.Edges[3].Allowance = FoldEdge, CutOnFold, HemEdge, Allowance{}
	p := projectOf(a)
	out := do(t, p, InsertGodet, "at=panel.e0@60mm", "depth=90mm", "shape=wedge", "width=60mm", "name=Flare")
	q, godet := out.Project.Pieces[0], out.Project.Pieces[1]
	if godet.Name != "Flare" || godet.Cut.Way != CutPairs || math.Abs(godet.EdgeLength(0)-60) > 1e-5 {
		t.Errorf("%s, %v, %v wide", godet.Name, godet.Cut, godet.EdgeLength(0))
	}
	for _, s := range out.Project.Seams {
		if !s.BothSides {
			t.Errorf("seam %s is only on one side", s.Name)
		}
	}
	seamsHold(t, withCloth(out.Project))
	// The hem goes on before and after the slit, and keeps its notches.
	if names := q.Edges[0].Name + q.Edges[3].Name; names != "e0e0 2" {
		t.Errorf("the hem is called %s", names)
	}
}

// withCloth gives every piece a cloth, which the checks ask for.
func withCloth(p *Project) *Project {
	q := p.shallow()
	q.Cloths = []*Cloth{{ID: "felt", Name: "felt"}}
	q.Pieces = nil
	for _, piece := range p.Pieces {
		c := piece.clone()
		c.Cloth = "felt"
		q.Pieces = append(q.Pieces, c)
	}
	return q
}

// What is let in is a part of the hip, so that the hem beside it alone says nothing about
// whether the garment is wide enough there.
func TestGodetTakesTheHemOutOfTheMeasure(t *testing.T) {
	p := bodiceFor(t)
	back := roleOf(p, "back")
	held := func(p *Project) (over, shown int) {
		for _, s := range p.Piece(back.ID).Spans {
			if len(s.Edges) > 0 && strings.Contains(s.Name, "hip") {
				if over++; s.Measure == "" {
					shown++
				}
			}
		}
		return over, shown
	}
	if over, shown := held(p); over != 1 || shown != 0 {
		t.Fatalf("%d lengths along the hem, %d of them shown alone", over, shown)
	}
	out := mustDo(t, p, "insert-godet", "at=Back.hem@50%", "depth=30mm")
	if over, shown := held(out.Project); over != 1 || shown != 1 {
		t.Errorf("%d lengths along the hem, %d of them shown alone", over, shown)
	}
	for _, f := range NewSlots().Check(out.Project).Findings {
		if strings.Contains(f.About, "hip") {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
}

func TestGodetKeepsNotchesWhereTheyAre(t *testing.T) {
	a := polygonPiece("panel", 6, geom.Pt(0, 0), geom.Pt(120, 0), geom.Pt(120, 150), geom.Pt(0, 150))
	a.Notches = []Notch{{ID: "t1", Edge: "panel.e0", At: 20}, {ID: "t2", Edge: "panel.e0", At: 30, FromEnd: true}}
	q := do(t, projectOf(a), InsertGodet, "at=panel.e0@60mm", "depth=90mm").Project.Pieces[0]
	for i, want := range []geom.Point{geom.Pt(20, 0), geom.Pt(90, 0)} {
		n := q.Notches[i]
		_, k := q.Edge(n.Edge)
		length := q.EdgeLength(k)
		if at := q.EdgePath(k).At(q.EdgePath(k).AtLength(n.Along(length))); at.Dist(want) > 1e-5 {
			t.Errorf("a notch was at %v and is at %v", want, at)
		}
	}
}

func TestGodetRefusesWhatCannotBe(t *testing.T) {
	a := polygonPiece("panel", 6, geom.Pt(0, 0), geom.Pt(120, 0), geom.Pt(120, 150), geom.Pt(0, 150))
	a.Edges[3].Kind, a.Cut.Way = FoldEdge, CutOnFold
	b := square("b", 80, 5)
	p := projectOf(a, b)
	p.Seams = []*Seam{seamBetween(a, b, 1, 1)}
	for _, c := range []struct{ args, says string }{
		{"at=panel.e1@50%|depth=170mm", "between the ends of the seam"}, {"at=panel.e3@50%|depth=30mm", "is a fold"},
		{"at=panel.e1@50%|depth=30mm|to=10mm,10mm", "one of the two"}, {"at=panel.e0@50%|depth=30mm|seam=s1", "sewn in no seam"},
		{"at=panel.e0@50%|depth=160mm", "cross the outline"}, {"at=panel.e0@2mm|depth=30mm", "there is less between"},
		{"at=panel.e0@50%|depth=3mm", "deeper than"},
		{"at=panel.e0@50%|depth=30mm|to=10mm,10mm", "one of the two"}, {"at=panel.e0@50%|to=-10mm,10mm", "beside the piece"},
		{"at=panel.e0@50%|depth=60mm|shape=wedge|width=130mm", "part circle can"}, {"at=panel.e0@50%|depth=60mm|angle=350", "less than a whole circle"},
		{"at=panel.e0@50%|depth=60mm|width=10mm|angle=90", "without a width"},
	} {
		_, err := InsertGodet.DoText(p, argsOf(strings.Split(c.args, "|")))
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.args, err, c.says)
		}
	}
}
