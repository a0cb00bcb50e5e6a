package draft

import (
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

// insideBy returns how far a place lies inside an outline, below 0 outside.
func insideBy(path geom.Path, at geom.Point) float64 {
	_, d := path.Nearest(at)
	if path.Contains(at) {
		return d
	}
	return -d
}

// edgeAt returns the place of an edge at a share of its length, and its outward normal.
func edgeAt(p *Piece, edge string, share float64) (geom.Point, geom.Point) {
	for i := range p.Edges {
		if p.Edges[i].Name == edge {
			k, u := p.locate(i, share*p.EdgeLength(i))
			s := segment(p.EdgeNodes(i)[k], p.EdgeNodes(i)[k+1])
			return s.At(u), clothless(s.Tangent(u))
		}
	}
	panic("no edge " + edge)
}

func TestASeamTakenInTapersToNothing(t *testing.T) {
	p := bodice()
	p = mustDo(t, p, "add-toile-note", "edge=front.side", "at=40%", "amount=3mm").Project
	was := p.Pieces[0]
	out := mustDo(t, p, "do-notes")
	now := out.Project.Pieces[0]
	at, normal := edgeAt(was, "side", 0.4)
	wantNear(t, "taken in", insideBy(was.DrawnPath(), at.Sub(normal.Mul(3))), 3, 1e-6)
	if _, d := now.EdgePath(1).Nearest(at.Sub(normal.Mul(3))); d > 1e-6 {
		t.Errorf("the side passes %g mm from where it is to pass", d)
	}
	// Between, the smooth step: at a quarter of the way to nothing 3(1 - 3/16 + 2/64) mm.
	for _, c := range [][2]float64{{0.4 + 0.15, 3 * (1 - 3*0.0625 + 2*0.015625)}, {0.4 - 0.2, 1.5}, {0.7, 1.5}} {
		at, normal := edgeAt(was, "side", c[0])
		if _, d := now.EdgePath(1).Nearest(at.Sub(normal.Mul(c[1]))); d > 1e-5 {
			t.Errorf("at %g the side passes %g mm from %g mm in", c[0], d, c[1])
		}
	}
	for _, i := range []int{0, 2, 3} {
		if !equalNodes(was.Edges[i].Nodes, now.Edges[i].Nodes) && i != 2 {
			t.Errorf("edge %s has moved", was.Edges[i].Name)
		}
		wantNear(t, was.Edges[i].Name, now.EdgeLength(i), was.EdgeLength(i), 1e-6)
	}
	if n := out.Project.Notes[0]; !n.Done || out.Project.NoteSays(n) != "in 3 mm" || out.Project.NotePlace(n) != "front, side" {
		t.Errorf("the note is %+v", n)
	}
	mustRefuse(t, out.Project, "no note asks", "do-notes")
	mustRefuse(t, out.Project, "done already", "do-notes", "notes=#1")
}

func equalNodes(a, b []Node) bool { return equalEdges([]Edge{{Nodes: a}}, []Edge{{Nodes: b}}) }

func TestAHemThatGoesUpCutsTheEdgesBesideIt(t *testing.T) {
	p := bodice()
	p = mustDo(t, p, "add-notch", "edge=front.side", "at=50mm").Project
	p = mustDo(t, p, "set-kind", "edges=front.hem", "kind=hem").Project
	p = mustDo(t, p, "add-toile-note", "edge=front.hem", "amount=8mm").Project
	if says := p.NoteSays(p.Notes[0]); says != "up 8 mm, the whole edge" {
		t.Errorf("it says %q", says)
	}
	now := mustDo(t, p, "do-notes").Project.Pieces[0]
	want := geom.Polygon(geom.Pt(0, 8), geom.Pt(60, 8), geom.Pt(60, 80), geom.Pt(0, 80))
	if d := mostApart(want, now.DrawnPath()) + mostApart(now.DrawnPath(), want); d > 1e-6 {
		t.Errorf("the outline lies %g mm from a hem 8 mm up", d)
	}
	if now.nodeCount() != 4 {
		t.Errorf("it has %d points", now.nodeCount())
	}
	// The notch stays where it is on the cloth.
	wantNear(t, "notch", now.Notches[0].Along(now.EdgeLength(1)), 42, 1e-5)
	down := mustDo(t, mustDo(t, p, "set-toile-note", "note=#1", "kind=let out").Project, "do-notes").Project.Pieces[0]
	wantNear(t, "side", down.EdgeLength(1), 88, 1e-6)
	wantNear(t, "hem", down.EdgePath(0).Bounds().Min.Y, -8, 1e-6)
}

// Edges that meet the hem at a slant are cut along their own lines.
func TestAHemBetweenSlantedEdges(t *testing.T) {
	piece := polygonPiece("gore", 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(40, 80), geom.Pt(15, 80))
	name(piece, "hem", "right", "top", "left")
	p := mustDo(t, projectOf(piece), "add-toile-note", "edge=gore.hem", "amount=10mm", "reach=whole").Project
	now := mustDo(t, p, "do-notes").Project.Pieces[0]
	want := geom.Polygon(geom.Pt(15./8, 10), geom.Pt(57.5, 10), geom.Pt(40, 80), geom.Pt(15, 80))
	if d := mostApart(want, now.DrawnPath()) + mostApart(now.DrawnPath(), want); d > 1e-5 {
		t.Errorf("it lies %g mm off", d)
	}
}

// A hem in an arc stays an arc with the same centre: 20 mm less, 20 mm farther in.
func TestACurvedHemStaysParallel(t *testing.T) {
	k := 4.0 / 3 * (math.Sqrt2 - 1)
	piece := polygonPiece("cape", 6, geom.Pt(0, 50), geom.Pt(50, 0), geom.Pt(300, 0), geom.Pt(0, 300))
	name(piece, "neck", "front", "hem", "back")
	arc := func(a, b *Node, r float64) {
		a.Out, b.In = a.At.Left().Mul(k), b.At.Left().Mul(-k)
	}
	arc(&piece.Edges[2].Nodes[0], &piece.Edges[3].Nodes[0], 300)
	// The neck runs the other way round.
	piece.Edges[0].Nodes[0].Out, piece.Edges[1].Nodes[0].In = geom.Pt(50*k, 0), geom.Pt(0, 50*k)
	p := mustDo(t, projectOf(piece), "set-kind", "edges=cape.hem", "kind=hem").Project
	p = mustDo(t, p, "add-toile-note", "edge=cape.hem", "amount=20mm").Project
	now := mustDo(t, p, "do-notes").Project.Pieces[0]
	for _, s := range now.EdgePath(2) {
		for u := 0.0; u <= 1; u += 1. / 16 {
			// The cubic of a quarter of 300 mm strays by 0.08 mm from its arc itself.
			wantNear(t, "radius of the hem", s.At(u).Len(), 280, 0.15)
		}
	}
	wantNear(t, "front", now.EdgeLength(1), 230, 1e-6)
	wantNear(t, "back", now.EdgeLength(3), 230, 1e-6)
}

// What is sewn to an edge that has become shorter follows at the end where it did.
func TestSeamsThatHeldHold(t *testing.T) {
	p := mustDo(t, sewnBodice(t), "match-seams").Project
	for _, args := range [][]string{
		{"edge=front.hem", "amount=8mm", "reach=whole"},
		{"edge=front.hem", "amount=8mm", "reach=whole", "both=no"},
		{"edge=front.side", "at=50%", "amount=6mm"},
		{"edge=front.side", "at=50%", "amount=6mm", "both=yes"},
		{"edge=back.hem", "amount=5mm", "reach=whole", "kind=let out"},
		{"edge=front.shoulder", "at=0%", "amount=4mm"},
	} {
		noted := mustDo(t, p, "add-toile-note", args...).Project
		out := mustDo(t, noted, "do-notes")
		for _, s := range out.Project.Seams {
			was := p.Seam(s.ID)
			if math.Abs(p.seamDiff(was)) > MatchedTo {
				continue
			}
			if off := math.Abs(out.Project.seamDiff(s)); off > MatchedTo {
				t.Errorf("%v: seam %s is off by %g mm: %v", args, s.Name, off, out.Says)
			}
		}
		for _, piece := range out.Project.Pieces {
			if err := piece.soundAfter(p.Piece(piece.ID)); err != nil {
				t.Errorf("%v: %v", args, err)
			}
		}
	}
	// The back's side is cut at its hem, as the front's is; its shoulder stays.
	noted := mustDo(t, p, "add-toile-note", "edge=front.hem", "amount=8mm", "reach=whole", "both=no").Project
	out := mustDo(t, noted, "do-notes")
	back := out.Project.Pieces[1]
	if d := back.Edges[2].Nodes[0].At.Dist(p.Pieces[1].Edges[2].Nodes[0].At); d > 1e-6 {
		t.Errorf("the other end of the back's side has moved by %g mm: %v", d, out.Says)
	}
	if says := strings.Join(out.Says, " "); !strings.Contains(says, "follows") {
		t.Errorf("it says %q", says)
	}
}

// Notes on one edge are done together: the line passes each at its amount.
func TestNotesOnOneEdgeAreDoneTogether(t *testing.T) {
	p := bodice()
	p = mustDo(t, p, "add-toile-note", "edge=front.side", "at=70%", "amount=2mm", "kind=let out").Project
	p = mustDo(t, p, "add-toile-note", "edge=front.side", "at=30%", "amount=3mm").Project
	was := p.Pieces[0]
	now := mustDo(t, p, "do-notes").Project.Pieces[0]
	for _, c := range [][2]float64{{0.3, 3}, {0.7, -2}} {
		at, normal := edgeAt(was, "side", c[0])
		if _, d := now.EdgePath(1).Nearest(at.Sub(normal.Mul(c[1]))); d > 1e-6 {
			t.Errorf("at %g it passes %g mm off", c[0], d)
		}
	}
	// Where each reaches only so far, nothing moves between.
	p = bodice()
	p = mustDo(t, p, "add-toile-note", "edge=front.side", "at=20%", "amount=3mm", "to=35%").Project
	p = mustDo(t, p, "add-toile-note", "edge=front.side", "at=80%", "amount=3mm", "from=65%").Project
	now = mustDo(t, p, "do-notes").Project.Pieces[0]
	at, _ := edgeAt(was, "side", 0.5)
	if _, d := now.EdgePath(1).Nearest(at); d > 1e-9 {
		t.Errorf("the middle has moved by %g mm", d)
	}
}

// A dart that opens on a hem keeps its tip and its equal legs.
func TestADartOnAHemThatGoesUp(t *testing.T) {
	p := mustDo(t, bodice(), "add-dart", "edge=front.hem", "at=25mm", "intake=8mm", "length=30mm").Project
	was := p.Pieces[0].Darts[0]
	p = mustDo(t, p, "add-toile-note", "edge=front.hem", "amount=8mm", "reach=whole").Project
	now := mustDo(t, p, "do-notes").Project.Pieces[0]
	d := now.Darts[0]
	m, ok := now.mouthAt(&d)
	if !ok || d.Apex != was.Apex {
		t.Fatalf("the dart is %+v, it was %+v", d, was)
	}
	wantNear(t, "legs", m.from.Dist(d.Apex), m.to.Dist(d.Apex), 1e-5)
	wantNear(t, "mouth", m.from.Dist(m.to), 8, 0.2)
	p = mustDo(t, p, "set-toile-note", "note=#1", "amount=29mm").Project
	mustRefuse(t, p, "would be gone", "do-notes")
}

func TestNotesThatAreRefused(t *testing.T) {
	p := bodice()
	mustRefuse(t, p, "by how much", "add-toile-note", "edge=front.side")
	mustRefuse(t, p, "needs some", "add-toile-note", "edge=front.side", "kind=words")
	mustRefuse(t, p, "is a fold and stays", "add-toile-note", "edge=front.fold", "amount=3mm")
	mustRefuse(t, p, "nothing is sewn to this edge", "add-toile-note", "edge=front.hem", "amount=3mm", "reach=tapers", "both=yes")
	mustRefuse(t, p, "tapers to nothing before", "add-toile-note", "edge=front.side", "at=20%", "from=40%", "amount=3mm")
	p = mustDo(t, p, "add-toile-note", "edge=front.fold", "kind=words", "words=collar sits well").Project
	if says := p.NoteSays(p.Notes[0]); says != "collar sits well" || p.Notes[0].Asks() {
		t.Errorf("it says %q", says)
	}
	mustRefuse(t, p, "words alone", "do-notes", "notes=#1")
	mustRefuse(t, p, "there is no note number 2", "do-notes", "notes=#2")
	p = mustDo(t, p, "add-toile-note", "edge=front.side", "amount=300mm").Project
	mustRefuse(t, p, "front", "do-notes")
	p = mustDo(t, p, "lock-pieces", "pieces=front").Project
	mustRefuse(t, p, "locked", "do-notes")
	p = mustDo(t, p, "delete-toile-note", "notes=collar sits well;#2").Project
	if len(p.Notes) != 0 {
		t.Errorf("%d are left", len(p.Notes))
	}
}

// A hem that goes up in front leaves the front's hem where it is to be, whatever else was
// noted along the seam; noted for all it meets, the hem goes up all round.
func TestAHemAllRound(t *testing.T) {
	p := mustDo(t, sewnBodice(t), "match-seams").Project
	p = mustDo(t, p, "set-kind", "edges=front.hem;back.hem", "kind=hem").Project
	pinned := mustDo(t, p, "add-toile-note", "edge=front.side", "at=60%", "amount=3mm", "both=yes").Project
	pinned = mustDo(t, pinned, "add-toile-note", "edge=front.hem", "amount=8mm", "both=no").Project
	out := mustDo(t, pinned, "do-notes")
	was, now := p.Pieces[0].EdgePath(0), out.Project.Pieces[0].EdgePath(0)
	for _, u := range []float64{0, 0.5, 1} {
		if d := now.At(geom.Place{T: u}).Y - was.At(geom.Place{T: u}).Y; math.Abs(d-8) > 0.05 { // the hem slants a little, once the seams are matched
			t.Errorf("at %g the hem went up by %g mm: %v", u, d, out.Says)
		}
	}
	round := mustDo(t, p, "add-toile-note", "edge=front.hem", "amount=8mm").Project // as usual: all round
	if len(round.Notes) != 2 || round.NotePlace(round.Notes[1]) != "back, hem" || !round.Notes[1].Whole {
		t.Fatalf("the notes are %+v", round.Notes)
	}
	out = mustDo(t, round, "do-notes")
	for i, piece := range out.Project.Pieces {
		if d := piece.EdgePath(0).Bounds().Min.Y - p.Pieces[i].EdgePath(0).Bounds().Min.Y; math.Abs(d-8) > 0.05 { // the hem slants a little, once the seams are matched
			t.Errorf("the hem of %s went up by %g mm", piece.Name, d)
		}
	}
	for _, s := range out.Project.Seams {
		if off := math.Abs(out.Project.seamDiff(s)); off > MatchedTo {
			t.Errorf("seam %s is off by %g mm", s.Name, off)
		}
	}
}

// What a note that is done asked for is meant: no stretch is told as too short by it.
func TestANoteThatIsDoneIsMeant(t *testing.T) {
	p := bodice()
	p = mustDo(t, p, "add-wearer", "name=Quill").Project
	side := p.Pieces[0].EdgeLength(1)
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=side_drop", "value="+mmText(toGrid(side))).Project
	p = mustDo(t, p, "add-span", "edges=front.side", "measure=side_drop", "share=100%", "name=side").Project
	told := func(p *Project) (says string) {
		for _, f := range NewSlots().Check(p).Findings {
			if strings.Contains(f.Key, "/span/") {
				says += f.Says
			}
		}
		return says
	}
	if says := told(p); says != "" {
		t.Fatalf("before: %s", says)
	}
	p = mustDo(t, p, "add-toile-note", "edge=front.hem", "reach=whole", "amount=4mm").Project
	up := mustDo(t, p, "do-notes").Project
	if by := side - up.Pieces[0].EdgeLength(1); by < 3.5 {
		t.Fatalf("the side is shorter by %g only", by)
	}
	if says := told(up); says != "" {
		t.Errorf("a hem that was put up on purpose: %s", says)
	}
	locked := mustDo(t, up, "lock-pieces", "pieces=front").Project
	if says := told(locked); says != "" {
		t.Errorf("once its piece is locked: %s", says)
	}
	// What is missing beyond that is told, and by how much it is missing.
	longer := mustDo(t, up, "set-measure", "wearer=Quill", "name=side_drop", "value="+mmText(toGrid(side+6))).Project
	if says := told(longer); !strings.Contains(says, "6 mm less") {
		t.Errorf("6 mm are missing besides: %q", says)
	}
	// A note that is to be done again asks for nothing that was done.
	undone := mustDo(t, up, "set-toile-note", "note=#1", "done=false").Project
	if told(undone) == "" {
		t.Error("without the note nothing is told")
	}
}
