package export

import (
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/draft/body/bodytest"
	"hemlet/geom"
)

// nameOnItsLine reports whether the words stand in a dart or a shape of that name, or
// at a line of it, nearer than to any of another name and no farther off than letters
// are high.
func nameOnItsLine(l *Laid, n Text) bool {
	middle := n.slab().centre()
	best, own := "", 0.0
	for _, m := range l.Marks {
		words := noteWords(m)
		if words == "" {
			continue
		}
		if c := m.Chains[0]; words == n.Words && (m.Role == DartLegs || c.Closed()) {
			round := append(append(geom.Path(nil), c...), geom.Line(c.End(), c.Start()))
			if round.Contains(middle) {
				return true
			}
		}
		if d := m.distance(middle); best == "" || d < own {
			best, own = words, d
		}
	}
	return best == n.Words && own <= 2*n.Size
}

// names returns the notes of a copy that name its inner lines.
func names(l *Laid) []Text {
	var out []Text
	for _, n := range l.Notes {
		for _, m := range l.Marks {
			if !n.Strong && noteWords(m) == n.Words {
				out = append(out, n)
				break
			}
		}
	}
	return out
}

// TestInnerLinesAreNamedWhereTheyLie: on the bodices of both wearers, turned as they may
// be, each level and each dart bears its name at its own line.
func TestInnerLinesAreNamedWhereTheyLie(t *testing.T) {
	for _, wearer := range []string{"quill", "tansy"} {
		for _, turn := range []float64{0, 0.4, 1.5708, 3.1416, -1.5708} {
			p := bodice(t, wearer)
			for i, piece := range p.Pieces {
				turned := *piece
				turned.Place.Turn = turn
				p.Pieces[i] = &turned
			}
			for name, l := range laidOnes(t, p) {
				said(t, l)
				want := 0
				for _, m := range l.Marks {
					if noteWords(m) != "" {
						want++
					}
				}
				got := names(l)
				if len(got) != want || want == 0 {
					t.Errorf("%s of %s turned by %g: %d names, want %d", name, wearer, turn, len(got), want)
				}
				for _, n := range got {
					if !nameOnItsLine(l, n) {
						t.Errorf("%s of %s turned by %g: %q stands at %v, not at its line", name, wearer, turn, n.Words, n.At)
					}
				}
			}
		}
	}
}

// TestInnerNamesOfOddBodies: for nearly all of invented bodies every name stands at its
// line, and none stands on other words for any.
func TestInnerNamesOfOddBodies(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	total, off := 0, 0
	for range 40 {
		given := bodytest.Odd(r)
		w := &draft.Wearer{Name: "Odd"}
		for _, name := range slices.Sorted(maps.Keys(given)) {
			w.Measures = append(w.Measures, draft.Measure{Name: name, Value: given[name]})
		}
		added, err := draft.AddWearerFrom.Do(draft.New("odd"), draft.AddWearerFromArgs{Wearer: w})
		if err != nil {
			t.Fatal(err)
		}
		made, err := draft.DraftBlock.Do(added.Project, draft.DraftBlockArgs{Block: "bodice", Wearer: draft.WearerRef(added.Made)})
		if err != nil {
			continue // a body that the block refuses
		}
		for _, l := range laidOnes(t, made.Project) {
			got := names(l)
			for i, n := range got {
				total++
				if !nameOnItsLine(l, n) {
					off++
				}
				for _, o := range append(got[i+1:], l.Label.words()...) {
					if n.slab().meets(o.slab()) {
						t.Errorf("%q runs into %q", n.Words, o.Words)
					}
				}
			}
		}
	}
	if total < 200 || off*30 > total {
		t.Errorf("%d of %d names stand off their line", off, total)
	}
}

// TestNameOfADart: between the legs where they are far enough apart, else outside along
// one of them.
func TestNameOfADart(t *testing.T) {
	for mouth, inside := range map[float64]bool{30: true, 16: true, 5: true, 3: false, 2: false} {
		m := &maker{}
		p, piece := draft.New("dart"), &draft.Piece{ID: "p1", Name: "Bodice", Cut: draft.CutRule{Count: 1}}
		waist := m.edge("waist", draft.SeamEdge, 6, corner(0, 0), corner(60-mouth/2, 0), corner(60+mouth/2, 0))
		piece.Edges = []draft.Edge{
			waist, m.edge("side", draft.SeamEdge, 6, corner(120, 0)),
			m.edge("top", draft.SeamEdge, 6, corner(120, 90)), m.edge("middle", draft.SeamEdge, 6, corner(0, 90)),
		}
		apex := geom.Pt(60, 45)
		piece.Darts = []draft.Dart{{ID: "d1", Name: "dart", Edge: "waist", From: waist.Nodes[1].ID, To: waist.Nodes[2].ID, Apex: apex}}
		p.Pieces = []*draft.Piece{piece}
		l := laidOnes(t, p)["Bodice"]
		n := names(l)
		if len(n) != 1 || !nameOnItsLine(l, n[0]) {
			t.Fatalf("a dart of %g mm bears %v", mouth, n)
		}
		dart := geom.Polygon(geom.Pt(60-mouth/2, 0), geom.Pt(60+mouth/2, 0), apex)
		if got := dart.Contains(n[0].slab().centre()); got != inside {
			t.Errorf("the name of a dart of %g mm stands in it: %t", mouth, got)
		}
	}
}

// TestLooksOfInnerLines: darts are drawn as stitching with the middle of a dash on their
// point, what is placed thinner and with dots; in an SVG both are internal lines.
func TestLooksOfInnerLines(t *testing.T) {
	stitch, dart, place := strokes[StitchLine], strokes[DartLegs], strokes[PlacementMark]
	if dart.width != stitch.width || len(dart.dashes) != 2 || dart.dashes[0] != stitch.dashes[0] || dart.dashes[1] != stitch.dashes[1] {
		t.Errorf("darts are drawn as %+v, stitching as %+v", dart, stitch)
	}
	if place.width >= stitch.width || len(place.dashes) != 4 {
		t.Errorf("placement is drawn as %+v", place)
	}
	l := laidOnes(t, wardrobe())["Front"]
	for _, m := range l.Marks {
		if m.Role != DartLegs {
			continue
		}
		period := stitch.dashes[0] + stitch.dashes[1]
		near(t, "the point of the dart on its dash", mod(m.DashFrom+m.Chains[0][:1].Length(), period), stitch.dashes[0]/2, 1e-9)
	}
	kinds := make(map[string]int)
	for _, g := range readSVG(t, encode(t, wardrobe(), Options{Format: SVG})).pieces() {
		for _, q := range g.of("internal") {
			kinds[q.Kind]++
		}
	}
	if kinds["dart"] != 1 || kinds["placement"] != 1 || kinds["slit"] != 2 || kinds["cutout"] != 2 || kinds[""] != 1 {
		t.Errorf("internal lines by kind: %v", kinds)
	}
	text := strings.Join(strings.Fields(string(run(t, "pdftotext", "-raw", "-l", "1", pdfFile(t, wardrobe(), Options{}), "-"))), " ")
	for _, want := range []string{"Solid: cut here. Dashed: stitch, darts as well.", "Dash and dot: fold line; thinner: a level or a place."} {
		if !strings.Contains(text, want) {
			t.Errorf("the first page does not say %q", want)
		}
	}
}
