package draft

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

// skirtPanel is a panel 120 mm wide and 200 mm high with a straight waist, sewn to a
// band of the same length.
func skirtPanel(t fataler) *Project {
	panel := polygonPiece("panel", 6, geom.Pt(0, 0), geom.Pt(120, 0), geom.Pt(120, 200), geom.Pt(0, 200))
	name(panel, "hem", "side", "waist", "middle")
	band := polygonPiece("band", 6, geom.Pt(0, 300), geom.Pt(120, 300), geom.Pt(120, 320), geom.Pt(0, 320))
	name(band, "lower", "right", "upper", "left")
	return mustDo(t, projectOf(panel, band), "link-seam", "a=panel.waist", "b=band.lower", "name=waist").Project
}

func edgeLength(t fataler, p *Project, text string) float64 {
	t.Helper()
	ref, err := p.FindEdge(text)
	if err != nil {
		t.Fatal(err)
	}
	piece := p.Piece(ref.Piece)
	_, i := piece.Edge(ref.Edge)
	return piece.EdgeLength(i)
}

// sewnArea is the area of a piece without what its darts take in.
func sewnArea(p *Piece) float64 {
	area := p.DrawnPath().Area()
	for _, d := range p.Darts {
		if m, ok := p.mouthAt(&d); ok && d.Fold == Wedge {
			area -= m.to.Sub(d.Apex).Cross(m.from.Sub(d.Apex)) / -2
		}
	}
	return area
}

func wantNear(t fataler, what string, got, want, slack float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > slack {
		t.Fatalf("%s is %.9g, want %.9g", what, got, want)
	}
}

func TestAddDart(t *testing.T) {
	p := mustDo(t, skirtPanel(t), "add-notch", "edge=panel.waist", "at=30mm from end").Project
	out := mustDo(t, p, "add-dart", "edge=panel.waist", "at=40mm", "intake=12mm", "length=60mm", "name=waist dart", "press=to-end")
	panel := out.Project.Piece("panel")
	d, _ := panel.Dart(out.Made)
	if d == nil || d.Name != "waist dart" || d.Press != PressToEnd || d.Fold != Wedge {
		t.Fatalf("made %+v", d)
	}
	wantNear(t, "waist", edgeLength(t, out.Project, "panel.waist"), 108, 1e-6)
	if want := geom.Pt(80, 140); !d.Apex.Near(want, 1e-6) { // the waist runs from right to left
		t.Errorf("tip at %v, want %v", d.Apex, want)
	}
	wantNear(t, "area taken in", panel.DrawnPath().Area()-sewnArea(panel), 12*60/2, 1e-6)
	notch := panel.Notches[0]
	wantNear(t, "place of the notch", notch.Along(108), 78, 1e-6)
	heirs := out.Lineage[panel.Edges[2].ID]
	if len(heirs) != 3 || !near(heirs[1].New0, heirs[1].New1) || !near(heirs[1].Old0, 34./120) || !near(heirs[1].Old1, 46./120) {
		t.Errorf("lineage %v", heirs)
	}
	// A plain seam does not hold now, and the check says so.
	state, err := NewSlots().SeamState(out.Project, out.Project.Seams[0])
	if err != nil || state.Holds {
		t.Errorf("the seam holds: %+v, %v", state, err)
	}
	mustRefuse(t, p, "beyond the end", "add-dart", "edge=panel.waist", "at=3mm", "intake=12mm")
	mustRefuse(t, p, "outside", "add-dart", "edge=panel.waist", "intake=12mm", "length=300mm")
	mustRefuse(t, out.Project, "called waist dart already", "add-dart", "edge=panel.hem", "intake=5mm", "name=waist dart")
	mustRefuse(t, out.Project, "mouth of waist dart", "add-dart", "edge=panel.waist", "at=34mm", "intake=5mm")
	// Gathers that a dart takes over are fewer by it.
	full := mustDo(t, p, "edit-seam", "seam=waist", "ratio=1.5", "fuller=a").Project
	full = mustDo(t, full, "add-dart", "edge=panel.waist", "intake=12mm").Project
	wantNear(t, "ratio", full.Seams[0].Ratio, 1.4, 1e-9)
}

// A dart that points aside has legs of one length nevertheless.
func TestAddDartAside(t *testing.T) {
	p := skirtPanel(t)
	p = mustDo(t, p, "turn-piece", "pieces=panel", "by=30").Project
	q := p.Piece("panel")
	tip := q.Place.Affine().Apply(geom.Pt(50, 130))
	out := mustDo(t, p, "add-dart", "edge=panel.waist", "at=40mm", "intake=12mm",
		fmt.Sprintf("apex=%.9fmm,%.9fmm", tip.X, tip.Y))
	panel := out.Project.Piece("panel")
	d := panel.Darts[0]
	if !d.Apex.Near(geom.Pt(50, 130), 1e-5) {
		t.Errorf("tip at %v", d.Apex)
	}
	m, _ := panel.mouthAt(&d)
	wantNear(t, "difference of the legs", m.from.Dist(d.Apex)-m.to.Dist(d.Apex), 0, 1e-5)
	if len(out.Says) != 1 || !strings.Contains(out.Says[0], "equally long") {
		t.Errorf("says %q", out.Says)
	}
}

func TestDeleteDartGivesTheEdgeBack(t *testing.T) {
	p := mustDo(t, skirtPanel(t), "add-notch", "edge=panel.waist", "at=30mm from end").Project
	q := mustDo(t, p, "add-dart", "edge=panel.waist", "at=40mm", "intake=12mm").Project
	out := mustDo(t, q, "delete-dart", "darts=panel.dart")
	back := out.Project.Piece("panel")
	if len(back.Darts) != 0 || len(back.Edges[2].Nodes) != 1 {
		t.Fatalf("%d darts, nodes %v", len(back.Darts), back.Edges[2].Nodes)
	}
	wantNear(t, "distance", apart(p.Piece("panel").DrawnPath(), back.DrawnPath()), 0, 1e-6)
	wantNear(t, "place of the notch", back.Notches[0].Along(120), 90, 1e-6)
	if heirs := out.Lineage[back.Edges[2].ID]; len(heirs) != 3 || heirs[1].Old0 != heirs[1].Old1 || !near(heirs[1].New1-heirs[1].New0, 0.1) {
		t.Errorf("lineage %v", heirs)
	}
	if out.Project.Seams[0] != p.Seams[0] && out.Project.Seams[0].Ratio != 1 {
		t.Errorf("seam %+v", out.Project.Seams[0])
	}
}

// The edge runs smoothly on where a dart in a curved edge is taken away.
func TestDeleteDartOnACurve(t *testing.T) {
	for _, at := range []string{"20%", "50%", "71%"} {
		p := curved()
		q := mustDo(t, p, "add-dart", "edge=front.neck", "at="+at, "intake=9mm", "length=12mm").Project
		back := mustDo(t, q, "delete-dart", "darts=front.*").Project
		wantNear(t, "distance at "+at, apart(p.Pieces[0].DrawnPath(), back.Pieces[0].DrawnPath()), 0, 0.3)
		nodes := back.Pieces[0].EdgeNodes(2)
		for k := 1; k < len(nodes)-1; k++ {
			u, v := segment(nodes[k-1], nodes[k]).Tangent(1), segment(nodes[k], nodes[k+1]).Tangent(0)
			if math.Abs(u.Cross(v)) > 1e-6 {
				t.Errorf("at %s: a kink of %g at %v", at, u.Cross(v), nodes[k].At)
			}
		}
	}
}

func TestMoveDart(t *testing.T) {
	p := mustDo(t, skirtPanel(t), "add-dart", "edge=panel.waist", "at=40mm", "intake=12mm", "length=60mm").Project
	p = mustDo(t, p, "add-notch", "edge=panel.waist", "at=90mm").Project
	p = mustDo(t, p, "add-notch", "edge=panel.waist", "at=10mm").Project
	before := p.Piece("panel")
	for _, c := range []struct {
		args   string
		length float64
		tip    geom.Point
		width  float64
		closes float64
	}{
		{"length=80mm", 108, geom.Pt(80, 120), 12, 34},
		{"apex=75mm,140mm", 108, geom.Pt(75, 140), 0, 34},
		{"at=64mm", 108, geom.Pt(50, 140), 12, 64},
		{"at=20mm", 108, geom.Pt(94, 140), 12, 20},
		{"at=30mm", 108, geom.Pt(84, 140), 12, 30},
		{"intake=20mm", 100, geom.Pt(80, 140), 20, 30},
		{"intake=6mm", 114, geom.Pt(80, 140), 6, 37},
		{"at=64mm|intake=20mm|length=30mm", 100, geom.Pt(46, 170), 20, 64},
	} {
		out := mustDo(t, p, "move-dart", append([]string{"dart=panel.dart"}, strings.Split(c.args, "|")...)...)
		panel := out.Project.Piece("panel")
		d := panel.Darts[0]
		m, ok := panel.mouthAt(&d)
		if !ok || d.From != before.Darts[0].From || d.To != before.Darts[0].To {
			t.Fatalf("%s: mouth %v", c.args, d)
		}
		if !d.Apex.Near(c.tip, 1e-6) {
			t.Errorf("%s: tip %v, want %v", c.args, d.Apex, c.tip)
		}
		wantNear(t, c.args+": legs", m.from.Dist(d.Apex)-m.to.Dist(d.Apex), 0, 1e-5)
		if c.width == 0 {
			continue // the mouth points left the line of the edge
		}
		wantNear(t, c.args+": edge", edgeLength(t, out.Project, "panel.waist"), c.length, 1e-6)
		wantNear(t, c.args+": width", m.width(), c.width, 1e-6)
		wantNear(t, c.args+": closes", m.along, c.closes, 1e-6)
		if n := panel.nodeCount(); n != 6 {
			t.Errorf("%s: %d points", c.args, n)
		}
		// The notches stay where they are on the cloth, unless the dart has taken them in.
		for i, n := range panel.Notches {
			was, is := notchAt(before, before.Notches[i]), notchAt(panel, n)
			inside := was.X < m.from.X-1e-6 && was.X > m.to.X+1e-6
			if !inside && !was.Near(is, 1e-6) || inside && math.Abs(n.Along(c.length)-m.along) > 1e-5 {
				t.Errorf("%s: notch %d moved from %v to %v", c.args, i, was, is)
			}
		}
	}
	mustRefuse(t, p, "not both", "move-dart", "dart=panel.dart", "length=3mm", "apex=0mm,0mm")
	mustRefuse(t, p, "beyond the end", "move-dart", "dart=panel.dart", "at=107.999mm", "intake=30mm", "length=1mm")
}

func notchAt(p *Piece, n Notch) geom.Point {
	_, i := p.Edge(n.Edge)
	k, u := p.locate(i, n.Along(p.EdgeLength(i)))
	return p.EdgePath(i)[k].At(u)
}

func TestSetDart(t *testing.T) {
	p := mustDo(t, skirtPanel(t), "add-dart", "edge=panel.waist", "at=40mm", "intake=12mm", "length=60mm").Project
	out := mustDo(t, p, "set-dart", "darts=panel.dart", "name=left tuck", "press=open", "fold=tuck")
	if d := out.Project.Piece("panel").Darts[0]; d.Name != "left tuck" || d.Press != PressOpen || d.Fold != Tuck {
		t.Errorf("dart %+v", d)
	}
	wantNear(t, "waist", edgeLength(t, out.Project, "panel.waist"), 108, 1e-6)
}

func TestAbsorbDart(t *testing.T) {
	p := skirtPanel(t)
	p = mustDo(t, p, "add-dart", "edge=panel.waist", "at=40mm", "intake=12mm", "length=60mm").Project
	p = mustDo(t, p, "edit-seam", "seam=waist", "b=band.lower/reversed").Project
	band := p.Piece("band").clone()
	band.Edges[1].Nodes[0].At.X, band.Edges[2].Nodes[0].At.X = 108, 108
	p = p.withPiece(band)
	out := mustDo(t, p, "absorb-dart", "darts=panel.dart")
	panel := out.Project.Piece("panel")
	s := out.Project.Seams[0]
	wantNear(t, "ratio", s.Ratio, 120./108, 1e-9)
	if s.Fullness != Gathers || s.Fuller != SideA {
		t.Errorf("seam %+v", s)
	}
	// 12 mm at 40 mm, over three times as much: from 22 to 58 of 120 mm.
	wantNear(t, "start", s.From, 22./120, 1e-9)
	wantNear(t, "end", s.To, 58./120, 1e-9)
	if len(panel.Stretches) != 1 || panel.Stretches[0].Kind != GatherStretch || !near(panel.Stretches[0].From, 22./120) {
		t.Errorf("stretches %+v", panel.Stretches)
	}
	state, err := NewSlots().SeamState(out.Project, s)
	if err != nil || !state.Holds || math.Abs(state.Diff) > 1e-6 {
		t.Errorf("seam state %+v, %v", state, err)
	}
	ease := mustDo(t, p, "absorb-dart", "darts=panel.dart", "into=ease")
	if s := ease.Project.Seams[0]; s.Fullness != Ease || s.From != 0 || s.To != 1 {
		t.Errorf("seam %+v", s)
	}
	if !strings.Contains(strings.Join(ease.Says, " "), "more than a crisp cloth eases") {
		t.Errorf("says %q", ease.Says)
	}
}

// Sentences do not say "dart dart", and call a pleat a pleat.
func TestWhatADartIsCalled(t *testing.T) {
	for _, c := range []struct {
		dart Dart
		want string
	}{
		{Dart{ID: "d1", Name: "dart"}, "dart"}, {Dart{ID: "d1", Name: "Waist dart 2"}, "Waist dart 2"}, {Dart{ID: "d1", Name: "bust"}, "dart bust"},
		{Dart{ID: "d1"}, "dart d1"}, {Dart{ID: "d1", Name: "pleat 2", Fold: Pleat}, "pleat 2"}, {Dart{ID: "d1", Name: "left", Fold: Tuck}, "tuck left"},
	} {
		if got := c.dart.called(); got != c.want {
			t.Errorf("%v is called %q, want %q", c.dart, got, c.want)
		}
	}
}
