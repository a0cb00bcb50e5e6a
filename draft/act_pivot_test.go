package draft

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// randomPanel draws a piece of 5 to 9 edges about the origin, straight and curved, with a
// dart on one edge that points near the middle.
func randomPanel(t *rapid.T) *Project {
	n := rapid.IntRange(5, 9).Draw(t, "edges")
	scale := rapid.SampledFrom([]float64{0.2, 1, 12}).Draw(t, "scale")
	pts := make([]geom.Point, n)
	for i := range pts {
		a := 2 * math.Pi * (float64(i) + rapid.Float64Range(-0.2, 0.2).Draw(t, "angle")) / float64(n)
		r := scale * rapid.Float64Range(80, 100).Draw(t, "radius")
		pts[i] = geom.Pt(r*math.Cos(a), r*math.Sin(a))
	}
	p := polygonPiece("panel", 6, pts...)
	for i := range p.Edges {
		if rapid.Bool().Draw(t, "curved") {
			a, b := pts[i], pts[(i+1)%n]
			side := b.Sub(a).Left().Mul(-rapid.Float64Range(-0.05, 0.1).Draw(t, "bow"))
			p.Edges[i].Nodes[0].Out = b.Sub(a).Mul(0.33).Add(side)
			p.Edges[(i+1)%n].Nodes[0].In = a.Sub(b).Mul(0.33).Add(side)
		}
	}
	project := projectOf(p)
	edge := rapid.IntRange(0, n-1).Draw(t, "edge of the dart")
	tip := geom.Pt(scale*rapid.Float64Range(-10, 10).Draw(t, "across"), scale*rapid.Float64Range(-10, 10).Draw(t, "up"))
	at := rapid.IntRange(30, 70).Draw(t, "at")
	intake := scale * rapid.Float64Range(4, 20).Draw(t, "intake")
	act, err := ActNamed("add-dart")
	if err != nil {
		t.Fatal(err)
	}
	out, err := act.DoText(project, pairs([]string{
		fmt.Sprintf("edge=panel.e%d", edge), fmt.Sprintf("at=%d%%", at), fmt.Sprintf("intake=%.4fmm", intake),
		fmt.Sprintf("apex=%.4fmm,%.4fmm", tip.X, tip.Y), "name=bust dart",
	}))
	if err != nil {
		t.Skip(err)
	}
	return out.Project
}

// Pivoting keeps the length of every edge, the area of the garment, the length of the
// legs, and the whole angle that is taken in.
func TestPivotKeepsLengthsAndArea(t *testing.T) {
	done := 0
	rapid.Check(t, func(t *rapid.T) {
		p := randomPanel(t)
		before := p.Piece("panel")
		edge := rapid.IntRange(0, len(before.Edges)-1).Draw(t, "edge")
		at := rapid.IntRange(1, 99).Draw(t, "place")
		share := rapid.SampledFrom([]float64{0.25, 0.5, 0.8, 1}).Draw(t, "share")
		out, err := PivotDart.Do(p, PivotDartArgs{
			Dart: DartRef{"panel", before.Darts[0].ID}, Share: share,
			To: PlaceRef{"panel", before.Edges[edge].ID, EdgePlace{At: float64(at) / 100, Share: true}},
		})
		if err != nil {
			return // the place lies in the mouth, or cannot see the point
		}
		done++
		if err := Validate(out.Project); err != nil {
			t.Fatal(err)
		}
		after := out.Project.Piece("panel")
		for i := range before.Edges {
			wantNear(t, "length", after.EdgeLength(i), before.EdgeLength(i), 3*Grid) // both ends and what bends between are on the grid
		}
		wantNear(t, "area", sewnArea(after)/sewnArea(before), 1, 1e-6)
		if want := map[bool]int{true: 1, false: 2}[share == 1]; len(after.Darts) != want {
			t.Fatalf("%d darts", len(after.Darts))
		}
		sum := 0.0
		for _, d := range after.Darts {
			m, ok := after.mouthAt(&d)
			if !ok {
				t.Fatalf("the mouth of %s is off the outline", d.label())
			}
			u, v := m.from.Sub(d.Apex), m.to.Sub(d.Apex)
			wantNear(t, "legs", u.Len(), v.Len(), 1e-5)
			sum += math.Atan2(u.Cross(v), u.Dot(v))
		}
		d := before.Darts[0]
		m, _ := before.mouthAt(&d)
		u, v := m.from.Sub(d.Apex), m.to.Sub(d.Apex)
		wantNear(t, "angle", sum, math.Atan2(u.Cross(v), u.Dot(v)), 1e-6)
		if before.DrawnPath().Simple() == nil && after.DrawnPath().Simple() != nil {
			t.Fatal("the outline crosses itself")
		}
	})
	if done == 0 && !testing.Short() {
		t.Error("no dart was ever pivoted")
	}
}

// A dart of 30 mm in the side of a square, pivoted about the middle to the top: known by
// hand.
func TestPivotBySquare(t *testing.T) {
	p := projectOf(polygonPiece("front", 6, geom.Pt(-100, -100), geom.Pt(100, -100), geom.Pt(100, 100), geom.Pt(-100, 100)))
	p.Pieces[0].Grain = &Grain{geom.Pt(-50, -50), geom.Pt(-50, 50)}
	p = mustDo(t, p, "add-dart", "edge=front.e1", "at=50%", "intake=30mm", "apex=0mm,0mm", "name=bust dart").Project
	p = mustDo(t, p, "add-notch", "edge=front.e2", "at=10mm").Project
	out := mustDo(t, p, "pivot-dart", "dart=front.bust dart", "to=front.e2@50%")
	q := out.Project.Pieces[0]
	d := q.Darts[0]
	angle := 2 * math.Atan2(15, 100)
	from, _, _ := q.Node(d.From)
	to, _, _ := q.Node(d.To)
	// Most of the cloth stays: the left mouth point lies where it lay, on the upper edge.
	if !to.At.Near(geom.Pt(0, 100), 1e-6) || !from.At.Near(geom.Rotation(-angle, geom.Point{}).Apply(geom.Pt(0, 100)), 1e-6) {
		t.Errorf("mouth from %v to %v", from.At, to.At)
	}
	if d.Edge != "front.e2" || d.Name != "bust dart" || out.Made != d.ID {
		t.Errorf("dart %+v", d)
	}
	if *q.Grain != *p.Pieces[0].Grain {
		t.Errorf("the grain moved to %v", q.Grain)
	}
	if len(out.Lineage) != 0 {
		t.Errorf("lineage %v", out.Lineage)
	}
	// The two ends of the side meet in one point, at the angle at which the legs met them.
	if len(q.Edges[1].Nodes) != 2 {
		t.Errorf("side %v", q.Edges[1].Nodes)
	}
	half := mustDo(t, p, "pivot-dart", "dart=front.bust dart", "to=front.e2@50%", "share=0.5").Project.Pieces[0]
	if half.Darts[1].Name != "bust dart 2" {
		t.Errorf("the second dart is called %s", half.Darts[1].Name)
	}
	wantNear(t, "mouth that is left", half.TakeUp(half.Darts[0]), 2*math.Hypot(15, 100)*math.Sin(angle/4), 1e-5)
	wantNear(t, "mouth that is new", half.TakeUp(half.Darts[1]), 2*100*math.Sin(angle/4), 1e-5)
	mustRefuse(t, p, "corner", "pivot-dart", "dart=front.bust dart", "to=front.e2@0%")
	mustRefuse(t, p, "up to 1", "pivot-dart", "dart=front.bust dart", "to=front.e2@50%", "share=1.5")
}

// A piece on the fold turns the side, never the fold.
func TestPivotLeavesTheFold(t *testing.T) {
	p := projectOf(polygonPiece("front", 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 80), geom.Pt(0, 80)))
	name(p.Pieces[0], "hem", "side", "shoulder", "fold")
	p = mustDo(t, p, "set-kind", "edges=front.fold", "kind=fold").Project
	p = mustDo(t, p, "add-dart", "edge=front.side", "at=70%", "intake=10mm", "apex=10mm,40mm").Project
	for _, to := range []string{"front.hem@10%", "front.hem@80%", "front.shoulder@90%", "front.shoulder@20%", "front.side@20%"} {
		q := mustDo(t, p, "pivot-dart", "dart=front.dart", "to="+to).Project.Pieces[0]
		if got, want := q.EdgePath(3), p.Pieces[0].EdgePath(3); apart(got, want) > 1e-9 {
			t.Errorf("to %s: the fold moved", to)
		}
	}
	mustRefuse(t, p, "is a fold", "pivot-dart", "dart=front.dart", "to=front.fold@50%")
}
