package draft_test

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"testing"

	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/store"
)

// sampleProject returns the sample as it is shipped.
func sampleProject(t testing.TB) *draft.Project {
	t.Helper()
	p, err := store.Decode(assets.Sample())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// unsewn returns the project with every seam taken apart.
func unsewn(p *draft.Project) *draft.Project {
	q := *p
	q.Seams = nil
	return &q
}

// nameless returns the project with pieces and edges that nobody has named, as a drawing
// is brought in.
func nameless(p *draft.Project) *draft.Project {
	q := *p
	q.Pieces = nil
	for i, piece := range p.Pieces {
		n := *piece
		n.Name = fmt.Sprintf("piece %d", i+1)
		n.Edges = slices.Clone(piece.Edges)
		for k := range n.Edges {
			n.Edges[k].Name = fmt.Sprintf("edge %d", k+1)
		}
		q.Pieces = append(q.Pieces, &n)
	}
	return &q
}

// namelessEdges returns the project with pieces that have names and edges that have none.
func namelessEdges(p *draft.Project) *draft.Project {
	q := nameless(p)
	for i := range q.Pieces {
		q.Pieces[i].Name = p.Pieces[i].Name
	}
	return q
}

// loosely returns the smock as it is traced from a page: its pieces are named, and nobody
// has said how they are cut; the sides of the back are off by what a scan makes of them.
func loosely(t testing.TB) *draft.Project {
	p := asDrawn(fitSmock(t))
	for i, name := range []string{"Front", "Back", "Sleeve", "Neck band", "Cuff"} {
		p.Pieces[i].Name = name
	}
	back := p.Pieces[1]
	back.Edges[1].Nodes = slices.Clone(back.Edges[1].Nodes)
	back.Edges[1].Nodes[0].At.Y -= 2.1
	return p
}

// sewing is the same for two seams that sew the same edges to each other, whichever side
// is called a and whichever side of the body is named.
func sewing(p *draft.Project, a, b draft.Run) string {
	word := func(run draft.Run, mirror bool) string {
		words := make([]string, len(run))
		for i, u := range run {
			left, far := u.Copy.Mirrored, u.Half == draft.Far
			if mirror {
				left, far = !left, !far
			}
			way := p.Piece(u.Piece).Cut.Way
			words[i] = fmt.Sprint(u.Piece, u.Edge, u.Copy.Number, left && way == draft.CutPairs, far && way == draft.CutOnFold)
		}
		sort.Strings(words)
		return strings.Join(words, "+")
	}
	var all []string
	for _, mirror := range []bool{false, true} {
		x, y := word(a, mirror), word(b, mirror)
		all = append(all, min(x, y)+" | "+max(x, y))
	}
	return slices.Min(all)
}

func draftedFor(t *testing.T, name, wearer string) *draft.Project {
	t.Helper()
	p := draft.New("blocks")
	var text string
	for _, b := range assets.Blocks() {
		if strings.Contains(b.File, name) {
			text = string(b.Text)
		}
	}
	var err error
	var out draft.Outcome
	if wearer == "woman" {
		p.Wearers = []*draft.Wearer{woman()}
	}
	for _, w := range assets.SampleWearers() {
		if strings.Contains(w.File, wearer) {
			read, _, err := store.DecodeWearer(w.Text)
			if err != nil {
				t.Fatal(err)
			}
			if out, err = draft.AddWearerFrom.Do(p, draft.AddWearerFromArgs{Wearer: read}); err != nil {
				t.Fatal(err)
			}
			p = out.Project
		}
	}
	if out, err = draft.DraftBlock.Do(p, draft.DraftBlockArgs{Block: name + ".toml", Wearer: draft.WearerRef(p.Wearers[0].ID), Text: text}); err != nil {
		t.Fatal(err)
	}
	return out.Project
}

// woman has the means of the women of the ANSUR II survey (Natick memorandum of 2017, US
// public domain), in mm; the height of her hips and of her armpits is left to estimates.
func woman() *draft.Wearer {
	return &draft.Wearer{ID: "w", Name: "woman", Measures: []draft.Measure{
		{Name: "stature", Value: 1628.5}, {Name: "bust_girth", Value: 946.9}, {Name: "waist_girth", Value: 860.9}, {Name: "hip_girth", Value: 1021.2},
		{Name: "neck_base_girth", Value: 371.2}, {Name: "back_waist_length", Value: 425.4}, {Name: "shoulder_length", Value: 135.4},
	}}
}

func TestSuggestedSeamsOfWhatWasTakenApart(t *testing.T) {
	for _, tc := range []struct {
		name string
		p    *draft.Project
		// missing are seams of which nothing in lengths and names speaks, more are sensible
		// ones that nobody had recorded.
		missing, more []string
	}{
		{"sample", sampleProject(t), nil, nil},
		{"sample without names", nameless(sampleProject(t)), []string{"cuff", "neck"}, nil},
		// A cuff is a rectangle: it may as well be turned over.
		{"smock", fitSmock(t), []string{"cuff", "cuff ends", "neck band ends"}, []string{"Cuff.wrist"}},
		{"smock without names", nameless(fitSmock(t)), []string{"cuff", "neck", "cuff ends", "neck band ends"}, nil},
		{"smock without names of edges", namelessEdges(fitSmock(t)), []string{"cuff", "cuff ends", "neck band ends"}, []string{"Cuff.edge 1"}},
		{"bodice", draftedFor(t, "bodice", "quill"), nil, nil},
		{"bodice without names", nameless(draftedFor(t, "bodice", "quill")), nil, nil},
		{"bodice of the fox", draftedFor(t, "bodice", "tansy"), nil, nil},
		{"bodice of a woman", draftedFor(t, "bodice", "woman"), nil, nil},
		{"bodice of a woman without names", nameless(draftedFor(t, "bodice", "woman")), nil, nil},
		{"shirt of 1916 without names", nameless(draftedFor(t, "shirt-1916", "woman")), nil, nil},
		{"foundation of 1918 without names", nameless(draftedFor(t, "foundation-1918", "woman")), nil, nil},
		{"bag without names", nameless(draftedFor(t, "drawstring-bag", "quill")), []string{"bottom", "right side", "left side"}, nil},
		{"shirt of 1916", draftedFor(t, "shirt-1916", "woman"), nil, []string{"Shirt front.centre", "Shirt front.shoulder"}},
		{"foundation of 1918", draftedFor(t, "foundation-1918", "woman"), nil, nil},
		// Two pieces cut alike say nothing about which edges of them meet.
		{"bag", draftedFor(t, "drawstring-bag", "quill"), []string{"bottom", "right side", "left side"}, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			want := make(map[string]string)
			for _, s := range tc.p.Seams {
				want[sewing(tc.p, s.A, s.B)] = s.Name
			}
			p := unsewn(tc.p)
			used := make(map[string]bool)
			for _, sg := range draft.NewSlots().SuggestSeams(p) {
				key := sewing(p, sg.A, sg.B)
				if _, known := want[key]; !known && !slices.Contains(tc.more, p.RunText(sg.A[:1])) {
					t.Errorf("suggests %s to %s, sure %.2f: %s", p.RunText(sg.A), p.RunText(sg.B), sg.Sure, sg.Why)
				}
				delete(want, key)
				for _, u := range append(slices.Clone(sg.A), sg.B...) {
					u.Reversed = false
					if text := fmt.Sprint(u); used[text] {
						t.Errorf("edge %s is in two suggestions", p.RunText(draft.Run{u}))
					} else {
						used[text] = true
					}
				}
			}
			for _, name := range want {
				if !slices.Contains(tc.missing, name) {
					t.Errorf("seam %s is not suggested", name)
				}
			}
		})
	}
}

func TestNoSeamIsSuggestedOfWhatIsSewn(t *testing.T) {
	p := sampleProject(t)
	for _, sg := range draft.NewSlots().SuggestSeams(p) {
		for _, u := range append(slices.Clone(sg.A), sg.B...) {
			e, _ := p.Piece(u.Piece).Edge(u.Edge)
			if e.Kind != draft.SeamEdge {
				t.Errorf("a %s is suggested to be sewn: %s", e.Kind, p.RunText(sg.A))
			}
			for _, s := range p.Seams {
				for _, v := range append(slices.Clone(s.A), s.B...) {
					if v.Piece == u.Piece && v.Edge == u.Edge {
						t.Errorf("%s is sewn in %s already", p.RunText(draft.Run{u}), s.Name)
					}
				}
			}
		}
	}
}

// Of a traced smock what belongs together is suggested, with the ends that meet, and can be
// sewn at one press; how long its whole neck is nobody has said.
func TestSuggestedSeamsOfTracedSmock(t *testing.T) {
	p := loosely(t)
	var got []string
	list := draft.NewSlots().SuggestSeams(p)
	for _, sg := range list {
		got = append(got, fmt.Sprintf("%s to %s, %.2f", p.RunText(sg.A), p.RunText(sg.B), sg.Ratio))
	}
	sort.Strings(got)
	want := []string{
		"Cuff.edge 1 to Sleeve.edge 1/reversed, 1.50",
		"Front.edge 2 to Back.edge 2, 1.00",
		"Front.edge 3 + Back.edge 3/reversed to Sleeve.edge 3/reversed, 1.50",
		"Front.edge 4 to Back.edge 4, 1.00",
		"Sleeve.edge 2 to Sleeve.edge 4/reversed, 1.00",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for _, sg := range list {
		out, err := p.Do(sg.Mend(p))
		if err != nil {
			t.Fatalf("%s: %v", sg.Mend(p).Title, err)
		}
		p = out.Project
	}
	if rest := draft.NewSlots().SuggestSeams(p); len(rest) > 0 {
		t.Errorf("sewn, it asks for %s to %s", p.RunText(rest[0].A), p.RunText(rest[0].B))
	}
}
