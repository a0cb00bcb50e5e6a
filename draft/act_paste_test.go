package draft_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/drafttest"
	"hemlet/draft/store"
	"hemlet/geom"
)

// drawPattern draws the text of a project file: what was copied of this project, or
// of another one, or no project at all.
func drawPattern(t *rapid.T, p *draft.Project) (string, bool) {
	switch rapid.IntRange(0, 5).Draw(t, "pattern") {
	case 0:
		return "format = 1\npieces = 3\n", true
	case 1:
		p = drafttest.Project(t)
	case 2:
		p = workshop(t)
	}
	var ids []draft.ID
	for _, piece := range p.Pieces {
		if rapid.Bool().Draw(t, "copied") {
			ids = append(ids, piece.ID)
		}
	}
	return string(store.Encode(p.Clip(ids))), true
}

// renamed returns the project with its ids told by the order in which they come, and
// with what a paste changes on purpose set alike: places, and whether pieces are
// hidden, locked or follow something.
func renamed(p *draft.Project) *draft.Project {
	q := frozen(p)
	names := make(map[draft.ID]draft.ID)
	name := func(id *draft.ID) {
		if *id == "" {
			return
		}
		if names[*id] == "" {
			names[*id] = draft.ID(fmt.Sprint("#", len(names)))
		}
		*id = names[*id]
	}
	nodes := func(list []draft.Node) {
		for i := range list {
			name(&list[i].ID)
		}
	}
	q.Name, q.Unit, q.NextID, q.Wearers, q.Derivations, q.Pictures, q.Waivers = "", 0, 0, nil, nil, nil, nil
	for _, c := range q.Cloths {
		name(&c.ID)
		nodes(c.Scrap)
	}
	for _, o := range q.Origins {
		name(&o.ID)
	}
	middle := geom.EmptyRect()
	for _, piece := range q.Pieces {
		middle = middle.Union(piece.DrawnPath().Transform(piece.Place.Affine()).Bounds())
	}
	for _, piece := range q.Pieces {
		at := piece.Place.At.Sub(middle.Center())
		piece.Place.At = geom.Pt(round(at.X), round(at.Y))
		piece.Hidden, piece.Locked, piece.Derived = false, false, nil
		name(&piece.ID)
		name(&piece.Cloth)
		name(&piece.Origin)
		for i := range piece.Edges {
			name(&piece.Edges[i].ID)
			nodes(piece.Edges[i].Nodes)
		}
		for i := range piece.Lines {
			name(&piece.Lines[i].ID)
			nodes(piece.Lines[i].Nodes)
		}
		for i := range piece.Darts {
			d := &piece.Darts[i]
			for _, id := range []*draft.ID{&d.ID, &d.Edge, &d.From, &d.To} {
				name(id)
			}
		}
		for i := range piece.Notches {
			name(&piece.Notches[i].ID)
			name(&piece.Notches[i].Edge)
			name(&piece.Notches[i].Mark)
		}
		for i := range piece.Stretches {
			name(&piece.Stretches[i].ID)
			name(&piece.Stretches[i].Edge)
		}
		for i := range piece.Spans {
			s := &piece.Spans[i]
			for _, id := range []*draft.ID{&s.ID, &s.From, &s.To} {
				name(id)
			}
			for k := range s.Edges {
				name(&s.Edges[k])
			}
			for k := range s.Lines {
				name(&s.Lines[k])
			}
		}
	}
	for _, s := range q.Seams {
		name(&s.ID)
		for i := range s.Marks {
			name(&s.Marks[i].ID)
		}
		for _, run := range []draft.Run{s.A, s.B} {
			for i := range run {
				name(&run[i].Piece)
				name(&run[i].Edge)
			}
		}
	}
	return q
}

// round puts a coordinate on a grid of 0.01 mm: shifts by middles are not exact.
func round(v float64) float64 { return float64(int64(v*100+0.5*sign(v))) / 100 }

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

// paste pastes through the text of the clip, as two windows do.
func paste(p, clip *draft.Project, at *draft.Vector) (draft.Outcome, error) {
	args := map[string]string{"from": string(store.Encode(clip))}
	if at != nil {
		args["at"] = fmt.Sprintf("%gmm,%gmm", at.X, at.Y)
	}
	act, err := draft.ActNamed("paste-pieces")
	if err != nil {
		return draft.Outcome{}, err
	}
	return act.DoText(p, args)
}

func added(before, after *draft.Project) []draft.ID {
	var ids []draft.ID
	for _, piece := range after.Pieces {
		if before.Piece(piece.ID) == nil {
			ids = append(ids, piece.ID)
		}
	}
	return ids
}

// What is pasted into an empty project is what was copied but for the ids.
func TestPastedIsWhatWasCopied(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := workshop(t)
		var ids []draft.ID
		for _, piece := range p.Pieces {
			if rapid.Bool().Draw(t, "copied") {
				ids = append(ids, piece.ID)
			}
		}
		if len(ids) == 0 {
			return
		}
		clip := p.Clip(ids)
		if err := draft.Validate(clip); err != nil {
			t.Fatalf("what is copied is not sound: %v", err)
		}
		out, err := paste(draft.New("other"), clip, &draft.Vector{X: 40, Y: -30})
		if err != nil {
			t.Fatal(err)
		}
		if err := draft.Validate(out.Project); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(renamed(clip), renamed(out.Project)); d != "" {
			t.Fatal(d)
		}
	})
}

// Pasting onto a project leaves what is there as it is, gives nothing an id that is
// taken, and refers to nothing that is not there; the copy of the copy is the copy.
func TestPasteKeepsWhatIsThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, from := workshop(t), drafttest.Project(t)
		if rapid.Bool().Draw(t, "same") {
			from = p
		}
		if rapid.Bool().Draw(t, "onto odd") {
			p = drafttest.Project(t)
		}
		var ids []draft.ID
		for _, piece := range from.Pieces {
			ids = append(ids, piece.ID)
		}
		if len(ids) == 0 {
			return
		}
		from = draft.MarksKept(sewn(from))
		before := frozen(p)
		out, err := draft.PastePieces.Do(p, draft.PastePiecesArgs{From: draft.PatternFile{Project: from}, At: &draft.Vector{}})
		if err != nil {
			if strings.Contains(err.Error(), "100 m") {
				return // odd projects reach to the bounds
			}
			t.Fatal(err)
		}
		if d := cmp.Diff(before, p); d != "" {
			t.Fatal("the project pasted onto was changed: ", d)
		}
		if err := draft.Validate(out.Project); err != nil {
			t.Fatal(err)
		}
		for i, piece := range p.Pieces {
			if out.Project.Pieces[i] != piece {
				t.Fatal("a piece that was there is another now")
			}
		}
		for i, s := range p.Seams {
			if out.Project.Seams[i] != s {
				t.Fatal("a seam that was there is another now")
			}
		}
		if n := len(from.Seams); len(out.Project.Seams) != len(p.Seams)+n {
			t.Fatalf("%d seams after pasting %d onto %d", len(out.Project.Seams), n, len(p.Seams))
		}
		text := store.Encode(out.Project)
		again, err := store.Decode(text)
		if err != nil {
			t.Fatal(err)
		}
		if string(store.Encode(again)) != string(text) {
			t.Fatal("what was pasted is not saved and loaded alike")
		}
		back := out.Project.Clip(added(p, out.Project))
		if d := cmp.Diff(renamed(unnamed(from.Clip(ids))), renamed(unnamed(back))); d != "" {
			t.Fatal(d)
		}
	})
}

// sewn returns the project without the seams that sew what is never cut.
func sewn(p *draft.Project) *draft.Project {
	q := *frozen(p)
	p = &q
	q.Seams = slices.DeleteFunc(slices.Clone(p.Seams), func(s *draft.Seam) bool {
		one := *p
		one.Seams = []*draft.Seam{s}
		return draft.UsesExist(&one) != nil
	})
	left := make(map[draft.ID]bool)
	for _, s := range q.Seams {
		for _, m := range s.Marks {
			left[m.ID] = true
		}
	}
	for _, piece := range q.Pieces {
		for k := range piece.Notches {
			if n := &piece.Notches[k]; !left[n.Mark] {
				n.Mark = ""
			}
		}
	}
	return &q
}

// unnamed takes off what a paste may change besides ids: names that are taken, and
// cloths, of which those of one name become one.
func unnamed(p *draft.Project) *draft.Project {
	q := frozen(p)
	for _, piece := range q.Pieces {
		piece.Name, piece.Cloth, piece.Place.At = "", "", geom.Point{}
	}
	for _, s := range q.Seams {
		s.Name = ""
	}
	q.Cloths = nil
	return q
}

func TestPasteMatchesClothsAndNames(t *testing.T) {
	p, err := theWorkshop()
	if err != nil {
		t.Fatal(err)
	}
	do := func(p *draft.Project, act string, args ...string) *draft.Project {
		t.Helper()
		texts := make(map[string]string)
		for _, a := range args {
			k, v, _ := strings.Cut(a, "=")
			texts[k] = v
		}
		named, err := draft.ActNamed(act)
		if err != nil {
			t.Fatal(err)
		}
		out, err := named.DoText(p, texts)
		if err != nil {
			t.Fatal(err)
		}
		return out.Project
	}
	front, back := string(p.Pieces[0].ID), string(p.Pieces[1].ID)
	p = do(p, "add-cloth", "name=lawn", "width=1100mm")
	p = do(p, "set-cloth", "pieces="+back, "cloth=felt")
	p = do(p, "set-cloth", "pieces="+front, "cloth=lawn")
	p = do(p, "hide-pieces", "pieces="+back)
	p = do(p, "lock-pieces", "pieces="+back)
	clip := p.Clip([]draft.ID{draft.ID(front), draft.ID(back)})
	if len(clip.Seams) != 3 {
		t.Fatalf("%d seams among front and back are copied, want side, middle and yoke", len(clip.Seams))
	}
	onto := do(draft.New("other"), "add-cloth", "name=felt", "width=900mm")
	out, err := paste(onto, clip, nil)
	if err != nil {
		t.Fatal(err)
	}
	q := out.Project
	if len(q.Cloths) != 2 || q.Cloths[0] != onto.Cloths[0] || q.Cloths[1].Name != "lawn" || q.Cloths[1].Width != 1100 {
		t.Errorf("cloths %v", q.Cloths)
	}
	again, err := paste(q, clip, nil)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, piece := range again.Project.Pieces {
		names = append(names, piece.Name)
		if piece.Hidden || piece.Locked || piece.Derived != nil {
			t.Errorf("%s is pasted hidden, locked or as something that follows", piece.Name)
		}
	}
	if want := []string{"Front", "Back", "Front 2", "Back 2"}; !slices.Equal(names, want) {
		t.Errorf("pieces %v, want %v", names, want)
	}
	if len(again.Project.Cloths) != 2 || len(again.Project.Seams) != 6 {
		t.Errorf("%d cloths and %d seams after pasting twice", len(again.Project.Cloths), len(again.Project.Seams))
	}
	// Without a place what is pasted lies clear of the rest.
	a, b := again.Project.Pieces[0], again.Project.Pieces[2]
	if box := a.DrawnPath().Transform(a.Place.Affine()).Bounds(); box.Overlaps(b.DrawnPath().Transform(b.Place.Affine()).Bounds()) {
		t.Error("the second front lies on the first")
	}
}

func TestPasteRefuses(t *testing.T) {
	p, err := theWorkshop()
	if err != nil {
		t.Fatal(err)
	}
	full := draft.New("full")
	piece := &draft.Piece{ID: "p1", Cut: draft.CutRule{Way: draft.CutSingle, Count: 1}, Edges: []draft.Edge{{ID: "e2"}}}
	for i := range draft.MaxNodes - 3 {
		piece.Edges[0].Nodes = append(piece.Edges[0].Nodes, draft.Node{ID: draft.ID(fmt.Sprint("n", i+3)), At: geom.Pt(float64(i%300), float64(i/300))})
	}
	full.Pieces, full.NextID = []*draft.Piece{piece}, draft.MaxNodes+3
	for what, args := range map[string]draft.PastePiecesArgs{
		"there is nothing to paste":  {},
		"no piece to paste":          {From: draft.PatternFile{Project: draft.New("empty")}},
		`there is no piece "Sleeve"`: {From: draft.PatternFile{Project: p}, Only: []string{"Sleeve"}},
		"at most 100000 fit":         {From: draft.PatternFile{Project: full}},
		"is not sound":               {From: draft.PatternFile{Project: &draft.Project{NextID: 1, Pieces: []*draft.Piece{{}}}}},
		"lies outside the 100 m":     {From: draft.PatternFile{Project: p}, At: &draft.Vector{X: 2e5}},
	} {
		if _, err := draft.PastePieces.Do(p, args); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("%q is not said, but %v", what, err)
		}
	}
	if _, err := paste(p, p, nil); err != nil {
		t.Error(err)
	}
	act, _ := draft.ActNamed("paste-pieces")
	if _, err := act.DoText(p, map[string]string{"from": "a letter to a friend"}); err == nil || !strings.Contains(err.Error(), "this is no pattern") {
		t.Errorf("a text that is no pattern gives %v", err)
	}
}

// Whatever lies on the clipboard, pasting it costs an error or makes a sound project.
func FuzzPasteText(f *testing.F) {
	p, err := theWorkshop()
	if err != nil {
		f.Fatal(err)
	}
	var ids []draft.ID
	for _, piece := range p.Pieces {
		ids = append(ids, piece.ID)
	}
	f.Add(string(store.Encode(p.Clip(ids))))
	f.Add(string(store.Encode(p.Clip(ids[:1]))))
	f.Add("format = 2\nnext_id = 1\n")
	f.Add("Front, side 81.2 mm")
	f.Fuzz(func(t *testing.T, text string) {
		act, err := draft.ActNamed("paste-pieces")
		if err != nil {
			t.Fatal(err)
		}
		out, err := act.DoText(p, map[string]string{"from": text, "at": "0mm,0mm"})
		if err != nil {
			return
		}
		if err := draft.Validate(out.Project); err != nil {
			t.Fatal(err)
		}
		if _, err := store.Decode(store.Encode(out.Project)); err != nil {
			t.Fatal(err)
		}
	})
}
