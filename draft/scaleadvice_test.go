package draft_test

import (
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/draft/store"
)

// grownSmock returns the smock for a grown person; sh .dev/smock remakes it.
func grownSmock(t *testing.T) *draft.Project {
	t.Helper()
	p, _, err := store.Load(filepath.Join("..", "testdata", "fit", "smock.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func doText(t *testing.T, p *draft.Project, act string, args map[string]string) *draft.Project {
	t.Helper()
	out, err := p.Do(draft.Mend{Act: act, Args: args})
	if err != nil {
		t.Fatal(act, args, err)
	}
	return out.Project
}

// asFitted returns the project as a fit leaves it that makes all by times as large for a
// wearer of a stature: outlines scaled, all else as it was.
func asFitted(t *testing.T, p *draft.Project, by float64, stature string) (*draft.Project, draft.ID) {
	t.Helper()
	p = doText(t, p, "add-wearer", map[string]string{"name": "Quill"})
	p = doText(t, p, "set-measure", map[string]string{"wearer": "Quill", "name": "stature", "value": stature})
	source := &draft.Source{Pieces: p.Pieces, Seams: p.Seams}
	d := &draft.Derivation{ID: "d900", Kind: "fit", Inputs: []draft.ID{p.Wearers[0].ID}, Source: source}
	q := *p
	q.Pieces = nil
	for _, was := range p.Pieces {
		q.Pieces = append(q.Pieces, scaled(was, by, d.ID))
	}
	q.Derivations = append(q.Derivations, d)
	return &q, d.ID
}

// scaled returns the piece with its lines by times as long.
func scaled(was *draft.Piece, by float64, of draft.ID) *draft.Piece {
	piece := *was
	piece.Derived = &draft.Derived{Derivation: of, Role: string(was.ID)}
	nodes := func(list []draft.Node) []draft.Node {
		out := append([]draft.Node(nil), list...)
		for i := range out {
			out[i].At, out[i].In, out[i].Out = out[i].At.Mul(by), out[i].In.Mul(by), out[i].Out.Mul(by)
		}
		return out
	}
	piece.Edges = append([]draft.Edge(nil), was.Edges...)
	for i := range piece.Edges {
		piece.Edges[i].Nodes = nodes(was.Edges[i].Nodes)
	}
	piece.Lines = append([]draft.Line(nil), was.Lines...)
	for i := range piece.Lines {
		piece.Lines[i].Nodes = nodes(was.Lines[i].Nodes)
	}
	piece.Darts = append([]draft.Dart(nil), was.Darts...)
	for i := range piece.Darts {
		piece.Darts[i].Apex = was.Darts[i].Apex.Mul(by)
	}
	if was.Grain != nil {
		piece.Grain = &draft.Grain{From: was.Grain.From.Mul(by), To: was.Grain.To.Mul(by)}
	}
	return &piece
}

func adviceOn(list []draft.Advice, part string) *draft.Advice {
	for i := range list {
		if strings.Contains(list[i].Key, part) {
			return &list[i]
		}
	}
	return nil
}

// The figures are those of the rules of scale for a body of about a fifth of a person
// (common practice, no source): seams 5 to 6 mm, gathered edges 5 to 6 trimmed to 3, hems
// turned twice 3 and 3.
func TestScaleAdviceForAPuppet(t *testing.T) {
	p, fit := asFitted(t, grownSmock(t), 0.21, "360mm")
	slots := draft.NewSlots()
	list := slots.ScaleAdvice(p, fit)
	for _, c := range []struct {
		part, now string
		amount    float64
	}{
		{"/scale/seams", "5 mm", 5}, {"/scale/gathers", "6 mm, trimmed to 3 mm", 6}, {"/scale/hems", "6 mm", 6}, {"/scale/row p14", "4 mm", 4},
	} {
		a := adviceOn(list, c.part)
		if a == nil {
			t.Fatalf("nothing is said of %s: %v", c.part, list)
		}
		if a.Now != c.now || a.Amount != c.amount || a.Adjust == "" || len(a.Mends) == 0 || a.Why == "" {
			t.Errorf("%s: now %q, %g mm, mends %v, why %q", c.part, a.Now, a.Amount, a.Mends, a.Why)
		}
	}
	for _, part := range []string{"/scale/cloth", "/scale/curves", "round/"} {
		if adviceOn(list, part) == nil {
			t.Errorf("nothing is said of %s", part)
		}
	}
	// The heading of a card is its first sentence: the edge has its name there.
	if a := adviceOn(list, "round/"); a != nil {
		title, _, _ := strings.Cut(a.Says, ":")
		if e, _ := p.Piece(a.Piece).Edge(a.Edge); e == nil || !strings.Contains(title, e.Name) || !strings.Contains(title, p.Piece(a.Piece).Name) {
			t.Errorf("%q names no edge", title)
		}
	}
	// Done, all is quiet, and the smock has what was proposed.
	for _, a := range list {
		if len(a.Mends) > 0 {
			p = doText(t, p, a.Mends[0].Act, a.Mends[0].Args)
		}
	}
	for _, a := range slots.ScaleAdvice(p, fit) {
		if len(a.Mends) > 0 {
			t.Errorf("still: %s", a.Says)
		}
	}
	for _, piece := range p.Pieces {
		for _, e := range piece.Edges {
			if w := e.Allowance.Widest(); e.Kind != draft.FoldEdge && (w < 5 || w > 6) {
				t.Errorf("%s, %s: %g mm", piece.Name, e.Name, w)
			}
		}
	}
}

func TestScaleAdviceIsTold(t *testing.T) {
	p, fit := asFitted(t, grownSmock(t), 0.21, "360mm")
	slots := draft.NewSlots()
	a := adviceOn(slots.ScaleAdvice(p, fit), "/scale/hems")
	told := 0
	for _, f := range slots.Check(p).Findings {
		if f.Key == a.Key {
			told++
			if f.Level != draft.Remark {
				t.Errorf("it is a %s", f.Level)
			}
		}
	}
	if told != 1 {
		t.Errorf("the checks tell it %d times", told)
	}
	p = doText(t, p, "waive", map[string]string{"finding": a.Key, "reason": "deep hems for the stage"})
	if again := adviceOn(slots.ScaleAdvice(p, fit), "/scale/hems"); again == nil || again.Waived == "" {
		t.Error("what the maker lives with is forgotten or told as open")
	}
}

func TestScaleAdviceWithAnotherFigure(t *testing.T) {
	p, fit := asFitted(t, grownSmock(t), 0.21, "360mm")
	a := adviceOn(draft.NewSlots().ScaleAdvice(p, fit), "/scale/seams")
	m := a.With(4.5)[0]
	if m.Args["width"] != "4.5mm" || a.Mends[0].Args["width"] != "5mm" {
		t.Errorf("with 4.5 mm: %v; it proposes %v", m.Args, a.Mends[0].Args)
	}
	p = doText(t, p, m.Act, m.Args)
	if w := p.Pieces[0].Edges[1].Allowance.Widest(); w != 4.5 {
		t.Errorf("the side has %g mm", w)
	}
}

// A mend says what it will do with the figure that was typed, and trims nothing that is no
// wider than what is left.
func TestAMendIsCalledByTheFigureInIt(t *testing.T) {
	p, fit := asFitted(t, grownSmock(t), 0.21, "360mm")
	list := draft.NewSlots().ScaleAdvice(p, fit)
	for _, c := range []struct {
		part   string
		amount float64
		title  string
		trim   string
	}{
		{"/scale/gathers", 6, "Make them 6 mm wide, trimmed to 3 mm", "3mm"},
		{"/scale/gathers", 5, "Make them 5 mm wide, trimmed to 3 mm", "3mm"},
		{"/scale/gathers", 3, "Make them 3 mm wide", "0mm"},
		{"/scale/hems", 8, "Make them 8 mm wide", ""},
		{"/scale/row p14", 5, " of 5 mm", ""},
	} {
		m := adviceOn(list, c.part).With(c.amount)[0]
		if !strings.HasSuffix(m.Title, c.title) || m.Args["trim"] != c.trim {
			t.Errorf("%s with %g: %q, trim %q", c.part, c.amount, m.Title, m.Args["trim"])
		}
		if _, err := p.Do(m); err != nil {
			t.Errorf("%s with %g: %v", c.part, c.amount, err)
		}
	}
}

// Whatever is taken of what is proposed, both sides of a seam have the same allowance.
func TestBothSidesOfASeamGetTheSame(t *testing.T) {
	start, fit := asFitted(t, grownSmock(t), 0.21, "360mm")
	for _, amount := range []float64{4, 5, 6} {
		p := start
		for _, part := range []string{"/scale/gathers", "/scale/seams"} {
			if a := adviceOn(draft.NewSlots().ScaleAdvice(p, fit), part); a != nil {
				m := a.With(amount)[0]
				p = doText(t, p, m.Act, m.Args)
			}
		}
		seen := 0
		for _, seam := range p.Seams {
			widths := map[draft.Allowance]bool{}
			for _, run := range []draft.Run{seam.A, seam.B} {
				for _, u := range run {
					e, _ := p.Piece(u.Piece).Edge(u.Edge)
					widths[e.Allowance] = true
					if e.Allowance.Widest() == amount {
						seen++
					}
				}
			}
			if len(widths) != 1 {
				t.Errorf("with %g mm, seam %s has allowances %v", amount, seam.ID, widths)
			}
		}
		if seen < 4 {
			t.Errorf("only %d edges are made %g mm", seen, amount)
		}
	}
}

func TestScaleAdviceByScale(t *testing.T) {
	for _, c := range []struct {
		by      float64
		stature string
		seams   string // what is proposed, empty for nothing
		hems    string
	}{
		{1.0 / 12, "140mm", "2 mm", "3 mm"},
		{1.0 / 6, "280mm", "3 mm", "5 mm"},
		{1.0 / 3, "560mm", "5 mm", "10 mm"},
		{0.5, "850mm", "6 mm", "15 mm"},
		{1, "1680mm", "", ""},
		{1.15, "1900mm", "", ""},
	} {
		p, fit := asFitted(t, grownSmock(t), c.by, c.stature)
		list := draft.NewSlots().ScaleAdvice(p, fit)
		for part, want := range map[string]string{"/scale/seams": c.seams, "/scale/hems": c.hems} {
			got := ""
			if a := adviceOn(list, part); a != nil {
				got = a.Now
			}
			if part == "/scale/seams" && c.by == 0.5 {
				want = "" // 10 mm is the most at that scale
			}
			if got != want {
				t.Errorf("%g, %s: %q, wanted %q", c.by, part, got, want)
			}
		}
		if c.seams == "" && len(list) > 0 {
			t.Errorf("%g: %v", c.by, list)
		}
	}
}

// A doll's garment that is brought to a person gets a person's allowances.
func TestScaleAdviceForAPerson(t *testing.T) {
	small := doText(t, grownSmock(t), "set-allowance", map[string]string{"edges": "Front.side;Back.side;Front.shoulder;Back.shoulder", "width": "3mm"})
	p, fit := asFitted(t, small, 6, "1700mm")
	if a := adviceOn(draft.NewSlots().ScaleAdvice(p, fit), "/scale/seams 15"); a == nil || len(a.Mends) != 1 || a.Was != "3 mm" {
		t.Errorf("%+v", a)
	}
}

func TestSmallDartsAndGussetsAreFound(t *testing.T) {
	p := doText(t, grownSmock(t), "add-dart", map[string]string{"edge": "Back.shoulder", "intake": "11mm"})
	p = doText(t, p, "draw-shape", map[string]string{"shape": "rectangle", "from": "0mm,0mm", "to": "40mm,40mm", "name": "Underarm gusset"})
	p, fit := asFitted(t, p, 0.21, "360mm")
	list := draft.NewSlots().ScaleAdvice(p, fit)
	dart := adviceOn(list, "/small dart")
	if dart == nil || len(dart.Mends) != 3 || dart.Value < 2.2 || dart.Value > 2.4 {
		t.Fatalf("dart: %+v", dart)
	}
	if adviceOn(list, "/small gusset") == nil {
		t.Error("nothing is said of the gusset")
	}
	for _, m := range dart.Mends {
		if out, err := p.Do(m); err != nil {
			t.Errorf("%s: %v", m.Title, err)
		} else if adviceOn(draft.NewSlots().ScaleAdvice(out.Project, fit), "/small dart") != nil {
			t.Errorf("%s leaves the dart", m.Title)
		}
	}
}

// Two gores that get too narrow are offered to be made one, and become it.
func TestNarrowPanels(t *testing.T) {
	p := draft.New("Skirt")
	for _, name := range []string{"Gore 1", "Gore 2", "Gore 3"} {
		p = doText(t, p, "draw-shape", map[string]string{"shape": "rectangle", "from": "0mm,0mm", "to": "40mm,400mm", "name": name})
	}
	for i := range 3 {
		for _, e := range p.Pieces[i].Edges {
			p = doText(t, p, "set-allowance", map[string]string{"edges": string(p.Pieces[i].ID) + "." + string(e.ID), "width": "10mm"})
		}
	}
	for i := range 2 {
		right, left := p.Pieces[i], p.Pieces[i+1]
		p = doText(t, p, "link-seam", map[string]string{
			"a": string(right.ID) + "." + string(right.Edges[0].ID), "b": string(left.ID) + "." + string(left.Edges[2].ID),
		})
	}
	first, last := p.Pieces[0], p.Pieces[2]
	p = doText(t, p, "link-seam", map[string]string{
		"a": string(last.ID) + "." + string(last.Edges[0].ID), "b": string(first.ID) + "." + string(first.Edges[2].ID),
	})
	p, fit := asFitted(t, p, 0.2, "340mm")
	a := adviceOn(draft.NewSlots().ScaleAdvice(p, fit), "/panel")
	if a == nil || len(a.Mends) == 0 {
		t.Fatalf("%+v", a)
	}
	out, err := p.Do(a.Mends[0])
	if err != nil {
		t.Fatal(err)
	}
	if n := len(out.Project.Pieces); n != 2 {
		t.Errorf("%d pieces are left", n)
	}
}
