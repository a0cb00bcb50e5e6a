package draft

import (
	"testing"

	"hemlet/geom"
)

// Side pleats that touch take three times the finished length: half-inch pleats are folded
// every inch and a half (O. C. Hapgood, School Needlework, 1892, "Plaiting"). A box pleat
// whose returns meet behind takes three times its face (geometry).
func TestPleatsThreeToOne(t *testing.T) {
	const inch = 25.4
	const finished = 10 * inch
	band := polygonPiece("frill", 6, geom.Pt(0, 0), geom.Pt(finished, 0), geom.Pt(finished, 80), geom.Pt(0, 80))
	name(band, "hem", "right", "top", "left")
	p := projectOf(band)
	for _, c := range []struct {
		args   []string
		width  float64
		mouths int
	}{
		{[]string{"count=20", "depth=1/2in"}, 3 * finished, 20},
		{[]string{"count=20", "depth=1/2in", "press=to-end"}, 3 * finished, 20},
		{[]string{"count=10", "depth=1/2in"}, finished + 10*inch, 10},
		{[]string{"count=5", "depth=1/2in", "kind=box"}, 2 * finished, 10},
		{[]string{"count=1", "depth=1in", "face=2in", "kind=box", "from=3in", "to=7in"}, finished + 4*inch, 2},
		{[]string{"count=5", "depth=1in", "kind=inverted"}, 3 * finished, 5},
		{[]string{"count=2", "depth=1in", "from=1in", "to=5in"}, finished + 4*inch, 2},
	} {
		out := mustDo(t, p, "add-pleats", append([]string{"edge=frill.top"}, c.args...)...)
		q := out.Project.Pieces[0]
		wantNear(t, "top as sewn", edgeLength(t, out.Project, "frill.top"), finished, 1e-5)
		wantNear(t, "hem", edgeLength(t, out.Project, "frill.hem"), c.width, 1e-5)
		wantNear(t, "width", q.DrawnPath().Bounds().W(), c.width, 1e-5)
		wantNear(t, "area", q.DrawnPath().Area(), c.width*80, 1e-3)
		if len(q.Darts) != c.mouths || len(q.Edges[0].Nodes) != 1 {
			t.Errorf("%v: %d mouths, hem %v", c.args, len(q.Darts), q.Edges[0].Nodes)
		}
		for _, d := range q.Darts {
			if d.Fold != Pleat || d.Edge != q.Edges[2].ID {
				t.Errorf("%v: %+v", c.args, d)
			}
			meet, turn := q.FoldLines(d)
			wantNear(t, "length of the folds", meet[0].Length(), 20, 1e-5)
			wantNear(t, "depth", meet[0].P0.Dist(turn[0].P0), map[Press]float64{PressOpen: 0.25}[d.Press]*q.TakeUp(d)+map[bool]float64{true: 0.5}[d.Press != PressOpen]*q.TakeUp(d), 1e-5)
		}
		if _, err := LayFlat(q); err != nil {
			t.Errorf("%v: %v", c.args, err)
		}
	}
	mustRefuse(t, p, "more of the edge", "add-pleats", "edge=frill.top", "count=2", "depth=3in", "kind=box")
	mustRefuse(t, p, "lie on one another", "add-pleats", "edge=frill.top", "count=2000", "depth=1mm")
	mustRefuse(t, p, "pressed to one side", "add-pleats", "edge=frill.top", "count=2", "depth=1mm", "press=open")
}

// Taken from the cloth that is there, pleats make the edge shorter by what they take.
func TestPleatsTakenFromTheCloth(t *testing.T) {
	p := strip()
	p = mustDo(t, p, "add-notch", "edge=strip.top", "at=10mm").Project
	p = mustDo(t, p, "add-notch", "edge=strip.top", "at=10mm from end").Project
	out := mustDo(t, p, "add-pleats", "edge=strip.top", "count=10", "depth=10mm", "cloth=taken")
	q := out.Project.Pieces[0]
	wantNear(t, "top as sewn", edgeLength(t, out.Project, "strip.top"), 100, 1e-5)
	wantNear(t, "area", q.DrawnPath().Area(), 300*120, 1e-4)
	// The first mouth closes 5 mm from the start, and the notch lay inside it.
	wantNear(t, "place of the first notch", q.Notches[0].Along(100), 5, 1e-5)
	wantNear(t, "place of the last notch", q.Notches[1].Along(100), 95, 1e-5)
	mustRefuse(t, p, "they take up", "add-pleats", "edge=strip.top", "count=10", "depth=15mm", "cloth=taken")
	mustRefuse(t, p, "give their length", "add-tucks", "edge=strip.top", "count=2", "depth=5mm", "cloth=taken")
}

// A tuck takes twice its depth, and n of them n times that (L. I. Baldt, Clothing for
// Women, 1916, chapter XXII, "Self-trimmings").
func TestTucksTakeTwiceTheirDepth(t *testing.T) {
	const depth, n = 4., 7
	through := mustDo(t, strip(), "add-tucks", "edge=strip.top", "count=7", "depth=4mm", "spacing=12mm")
	q := through.Project.Pieces[0]
	wantNear(t, "width", q.DrawnPath().Bounds().W(), 300+2*depth*n, 1e-5)
	wantNear(t, "top as sewn", edgeLength(t, through.Project, "strip.top"), 300, 1e-5)
	wantNear(t, "hem as sewn", edgeLength(t, through.Project, "strip.hem"), 300, 1e-5)
	if len(q.Darts) != 2*n {
		t.Fatalf("%d mouths", len(q.Darts))
	}
	// Sewn together the two halves of a tuck run all the way across.
	sum := 0.0
	for _, d := range q.Darts {
		meet, _ := q.FoldLines(d)
		sum += meet[0].Length()
		if d.Fold != Tuck {
			t.Errorf("%+v", d)
		}
	}
	wantNear(t, "lines of stitches", sum, 120*n, 1e-4)
	if _, err := LayFlat(q); err != nil {
		t.Error(err)
	}
	short := mustDo(t, strip(), "add-tucks", "edge=strip.top", "count=7", "depth=4mm", "length=50mm")
	wantNear(t, "hem", edgeLength(t, short.Project, "strip.hem"), 300+2*depth*n, 1e-5)
}

// foldedCap folds the cut line across a pleat layer by layer and returns the points of its
// layers as they lie on the piece, with the side on which each must lie on the edge.
func foldedCap(c creases, press Press, line geom.Path) (onBefore, onAfter []geom.Point) {
	mirror := func(s geom.Segment) geom.Affine { m, _ := geom.Reflection(s.P0, s.P3); return m }
	width := c.last.P3.Sub(c.first.P3)
	at := func(share float64) geom.Segment {
		by := width.Mul(share)
		return geom.Line(c.first.P0.Add(by), c.first.P3.Add(by))
	}
	for _, s := range line {
		for k := 0; k <= 20; k++ {
			q := s.At(float64(k) / 20)
			x := q.Sub(c.first.P3).Dot(width) / width.Dot(width)
			switch {
			case press == PressToStart && x <= 0.5:
				onBefore = append(onBefore, mirror(c.first).Apply(q))
			case press == PressToStart:
				onBefore = append(onBefore, mirror(c.first).Apply(mirror(c.middle).Apply(q)))
			case press == PressToEnd && x >= 0.5:
				onAfter = append(onAfter, mirror(c.last).Apply(q))
			case press == PressToEnd:
				onAfter = append(onAfter, mirror(c.last).Apply(mirror(c.middle).Apply(q)))
			case x <= 0.25:
				onBefore = append(onBefore, mirror(c.first).Apply(q))
			case x <= 0.5:
				onBefore = append(onBefore, mirror(c.first).Apply(mirror(at(0.25)).Apply(q)))
			case x <= 0.75:
				onAfter = append(onAfter, mirror(c.last).Apply(mirror(at(0.75)).Apply(q)))
			default:
				onAfter = append(onAfter, mirror(c.last).Apply(q))
			}
		}
	}
	return onBefore, onAfter
}

// Folded as paper, every layer of a pleat ends on the edge over which it lies, on straight
// edges, slanting ones and curves.
func TestCapOfAPleatIsThatOfFoldedPaper(t *testing.T) {
	slanting := polygonPiece("strip", 6, geom.Pt(0, 0), geom.Pt(300, 0), geom.Pt(300, 160), geom.Pt(0, 100))
	name(slanting, "hem", "right", "top", "left")
	curved := polygonPiece("strip", 6, geom.Pt(0, 0), geom.Pt(300, 0), geom.Pt(300, 120), geom.Pt(0, 120))
	name(curved, "hem", "right", "top", "left")
	curved.Edges[2].Nodes[0].Out, curved.Edges[3].Nodes[0].In = geom.Pt(-90, 50), geom.Pt(100, -60)
	for _, p := range []*Project{strip(), projectOf(slanting), projectOf(curved)} {
		for _, args := range [][]string{
			{"count=4", "depth=8mm"}, {"count=4", "depth=8mm", "press=to-end"},
			{"count=3", "depth=7mm", "kind=box"}, {"count=3", "depth=7mm", "kind=inverted"},
		} {
			q := mustDo(t, p, "add-pleats", append([]string{"edge=strip.top"}, args...)...).Project.Pieces[0]
			nodes := q.EdgeNodes(2)
			checked := 0
			for k := 1; k < len(nodes); k++ {
				d := q.dartAt(nodes[k-1].ID, nodes[k].ID)
				if d == nil {
					continue
				}
				checked++
				before, after := pathOf(nodes[:k]), pathOf(nodes[k:])
				line := d.capPath(before, after, nodes[k-1].At, nodes[k].At)
				c, _ := d.creases(nodes[k-1].At, nodes[k].At)
				onBefore, onAfter := foldedCap(c, d.Press, line)
				// What lies on the far side of the next mouth or corner runs on straight.
				near := func(edge geom.Path, q geom.Point) float64 {
					_, off := runOn(edge, 100).Nearest(q)
					return off
				}
				// Drawn flat each edge goes on beyond its own next mouth: only what is
				// folded onto the stretch beside the mouth is compared.
				for _, at := range onBefore {
					wantNear(t, "distance from the edge before", near(before.Reverse(), at), 0, 1e-5)
				}
				for _, at := range onAfter {
					wantNear(t, "distance from the edge after", near(after, at), 0, 1e-5)
				}
				if len(onBefore)+len(onAfter) == 0 {
					t.Fatal("nothing was folded")
				}
				wantNear(t, "start", line.Start().Dist(nodes[k-1].At), 0, 1e-9)
				wantNear(t, "end", line.End().Dist(nodes[k].At), 0, 1e-9)
			}
			if checked != len(q.Darts) {
				t.Fatalf("%d of %d mouths", checked, len(q.Darts))
			}
			if _, err := LayFlat(q); err != nil {
				t.Errorf("%v: %v", args, err)
			}
		}
	}
}
