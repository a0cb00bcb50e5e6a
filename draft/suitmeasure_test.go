package draft_test

import (
	"slices"
	"testing"

	"hemlet/draft"
	"hemlet/draft/body"
)

// What an edge is says what it may stand for: which measure is found at which edge is common
// practice, no source.
func TestSuitingMeasuresGoByTheEdge(t *testing.T) {
	p := fitSmock(t)
	slots := draft.NewSlots()
	for _, c := range []struct {
		piece string
		part  draft.EdgePart
		has   string
		not   []string
	}{
		{"Front", draft.AtSide, "front_waist_length", []string{"head_girth", "ankle_girth", "tail_length", "shoulder_length", "bust_girth"}},
		{"Front", draft.AtNeck, "neck_base_girth", []string{"wrist_girth", "arm_length"}},
		{"Back", draft.AtHem, "hip_arc_back", []string{"hip_arc_front", "back_waist_length"}},
		{"Sleeve", draft.AtUnderarm, "arm_length", []string{"back_waist_length", "thigh_girth"}},
		{"Sleeve", draft.AtCap, "armscye_girth", []string{"head_girth"}},
	} {
		piece := pieceNamed(t, p, c.piece)
		pa := slots.Anatomy(p).Of(piece.ID)
		at := pa.With(c.part)
		if len(at) == 0 {
			t.Fatalf("%s has no %s", c.piece, c.part)
		}
		list := slots.SuitingMeasures(p, piece, draft.Span{Edges: []draft.ID{piece.Edges[at[0]].ID}})
		if !slices.Contains(list, c.has) {
			t.Errorf("%s of %s: %v has no %s", c.part, c.piece, list, c.has)
		}
		for _, not := range c.not {
			if slices.Contains(list, not) {
				t.Errorf("%s of %s may stand for %s", c.part, c.piece, not)
			}
		}
	}
}

// Between points it goes by how the stretch runs; every measure is one of the catalogue, and
// none is named twice.
func TestSuitingMeasuresGoByTheWay(t *testing.T) {
	p := fitSmock(t)
	slots := draft.NewSlots()
	front := pieceNamed(t, p, "Front")
	pa := slots.Anatomy(p).Of(front.ID)
	neck, under := pa.NeckPoint(), pa.UnderarmPoint()
	middle := pa.NeckMiddle()
	if neck == nil || under == nil || middle == nil {
		t.Fatal("the front has no landmarks")
	}
	down := slots.SuitingMeasures(p, front, draft.Span{From: neck.ID, To: under.ID, Way: draft.AlongGrain})
	if !slices.Contains(down, "front_waist_length") || slices.Contains(down, "bust_girth") || slices.Contains(down, "back_waist_length") {
		t.Errorf("down it may stand for %v", down)
	}
	across := slots.SuitingMeasures(p, front, draft.Span{From: middle.ID, To: under.ID, Way: draft.AcrossGrain})
	if !slices.Contains(across, "bust_arc_front") || slices.Contains(across, "front_waist_length") || slices.Contains(across, "back_width") {
		t.Errorf("across it may stand for %v", across)
	}
	for _, piece := range p.Pieces {
		for _, e := range piece.Edges {
			list := slots.SuitingMeasures(p, piece, draft.Span{Edges: []draft.ID{e.ID}})
			for i, m := range list {
				if _, ok := body.Find(m); !ok || slices.Contains(list[:i], m) {
					t.Errorf("%s, %s: %q", piece.Name, e.Name, m)
				}
			}
		}
	}
}
