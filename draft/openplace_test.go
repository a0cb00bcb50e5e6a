package draft

import (
	"math"
	"strings"
	"testing"
)

// bandedSkirt is a skirt with a centre back seam, whose waist of 1200 mm is gathered to a
// band of 800 mm with a hemmed upper edge. Its waist is run along the edges that are told.
func bandedSkirt(t fataler, waist string) *Project {
	t.Helper()
	front, back := wornPanel("Front skirt", 300, 600, "hem", "side", "waist", "centre front"), wornPanel("Back skirt", 300, 600, "hem", "centre back", "waist", "side")
	front.Edges[3].Kind, front.Cut = FoldEdge, CutRule{Way: CutOnFold, Count: 1}
	back.Cut = CutRule{Way: CutPairs, Count: 1}
	band := wornPanel("Waistband", 800, 60, "lower", "end 1", "top", "end 2")
	for _, e := range []*Edge{&front.Edges[0], &back.Edges[0], &band.Edges[1], &band.Edges[2], &band.Edges[3]} {
		e.Kind = HemEdge
	}
	p := sewnUp(t, projectOf(front, back, band), [3]string{"side", "Front skirt.side", "Back skirt.side"}, [3]string{"centre back", "Back skirt.centre back", "Back skirt.centre back"})
	p = doAct(t, p, "link-seam", map[string]string{"name": "waist", "a": waist, "b": "Waistband.lower", "ratio": "1.5", "fuller": "a"})
	return onBody(t, p, map[string]float64{"waist_girth": 760, "hip_girth": 900, "stature": 1650})
}

const allRoundTheWaist = "Back skirt.waist + Front skirt.waist + Front skirt.waist/far/reversed + Back skirt.waist/left/reversed"

// The hemmed edge of a band lies where the band is worn and is no hem of the garment.
func TestHemOfABandIsNoHemOfTheGarment(t *testing.T) {
	list := NewSlots().Openings(bandedSkirt(t, allRoundTheWaist), "G")
	hem := openingAt(t, list, OpenHem)
	if math.Abs(hem.Length-1200) > 1e-6 {
		t.Errorf("the hem is %q of %g", hem.Name, hem.Length)
	}
	waists := 0
	for _, o := range list {
		if o.Place == OpenWaist {
			waists++
		}
	}
	if waists != 2 {
		t.Errorf("%d openings at the waist, want the edge of the band and its seam: %+v", waists, list)
	}
}

// A side that runs along an edge from its wrong end is told so, and mended.
func TestEdgeRunTheWrongWayRound(t *testing.T) {
	p := bandedSkirt(t, strings.ReplaceAll(allRoundTheWaist, "/reversed", ""))
	var found []Finding
	for _, f := range NewSlots().Check(p).Findings {
		if strings.Contains(f.Key, "/leap") {
			found = append(found, f)
		}
	}
	if len(found) != 1 || !strings.Contains(found[0].Says, "the wrong way round") || len(found[0].Mends) != 1 {
		t.Fatalf("found %+v", found)
	}
	out, err := p.Do(found[0].Mends[0])
	if err != nil {
		t.Fatal(err)
	}
	p = out.Project
	if got := p.RunText(p.Seams[2].A); got != allRoundTheWaist {
		t.Errorf("it is mended to %s", got)
	}
}

// The inner edge of a facing is left raw inside the garment, and no kink in it is worth more
// than a note.
func TestKinkInARawEdgeIsANote(t *testing.T) {
	for _, kind := range []EdgeKind{SeamEdge, RawEdge} {
		p := sewn(t, slanting(6, 6), [2]string{"front.side", "back.side"})
		for i, q := range p.Pieces {
			q = q.clone()
			for k := range q.Edges {
				if q.Edges[k].Name == "hem" || q.Edges[k].Name == "waist" {
					q.Edges[k].Kind = kind
				}
			}
			p.Pieces[i] = q
		}
		n := 0
		for _, f := range NewSlots().Check(p).Findings {
			if strings.Contains(f.Key, "/kink") {
				n++
				if (f.Level == Remark) != (kind == RawEdge) {
					t.Errorf("%s edges: %s: %s", kind, f.Level, f.Says)
				}
			}
		}
		if n == 0 {
			t.Errorf("%s edges: no kink is told", kind)
		}
	}
}

// What a hand's width is goes by the wearer for whom a piece was drafted.
func TestHandOfTheWearerOfTheSeam(t *testing.T) {
	p := notched(t, nil, nil)
	p.Wearers = []*Wearer{
		{ID: "w1", Measures: []Measure{{Name: "stature", Value: 1650}}},
		{ID: "w2", Measures: []Measure{{Name: "stature", Value: 330}}},
	}
	if got := p.handFor(p.Seams[0]); got != handsWidth {
		t.Errorf("a hand is %g wide", got)
	}
	p.Derivations = []*Derivation{{ID: "d", Kind: blockKind, Inputs: []ID{"w2"}}}
	q := p.Piece(p.Seams[0].A[0].Piece).clone()
	q.Derived = &Derived{Derivation: "d"}
	p = p.withPiece(q)
	if got := p.handFor(p.Seams[0]); math.Abs(got-handsWidth/5) > 1e-9 {
		t.Errorf("on a wearer a fifth as tall a hand is %g wide", got)
	}
}

// The hem of a frill at an armhole lies at the arm, that of one at the hem at the hem.
func TestFrillEndsWhereItIsSewn(t *testing.T) {
	for _, tc := range []struct {
		edges string
		want  OpenPlace
	}{{"Front.armhole + Back.armhole", OpenArm}, {"Front.neck + Back.neck", OpenNeck}, {"Front.hem + Back.hem", OpenHem}} {
		p := doAct(t, centreBacked(t), "make-ruffle", map[string]string{"edges": tc.edges, "depth": "40mm"})
		p = onBody(t, p, map[string]float64{"bust_girth": 900, "head_girth": 500, "stature": 1650})
		found := false
		for _, o := range NewSlots().Openings(p, "G") {
			if o.Name == "hem of Ruffle" {
				found = true
				if o.Place != tc.want || !o.Holds {
					t.Errorf("%s: the frill of %g ends at the %s and lets pass %s of %g: %t", tc.edges, o.Length, o.Place, o.Passes, o.Needs, o.Holds)
				}
			}
		}
		if !found {
			t.Errorf("%s: the frill does not end", tc.edges)
		}
	}
}

// Garments that are renamed leave nothing behind in the cache.
func TestRenamedGarmentsLeaveNoSlots(t *testing.T) {
	p, s := centreBacked(t), NewSlots()
	s.Check(p)
	s.Keep(p)
	had := s.Len()
	for _, name := range []string{"Coat", "Smock", "Cloak"} {
		p = doAct(t, p, "group-pieces", map[string]string{"pieces": "Front;Back", "name": name})
		s.Check(p)
		s.Keep(p)
	}
	if s.Len() != had {
		t.Errorf("%d slots after garments were renamed, %d before", s.Len(), had)
	}
}
