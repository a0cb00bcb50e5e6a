package station

import (
	"cmp"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/draft/body"
)

// proofTable lists what was proven of the made-up garment on its wearer, what does not
// hold first.
type proofTable struct {
	t      *Truing
	object fyne.CanvasObject
	beside *tableAside
	list   *control.List
	none   *control.Prose
	rows   []draft.Proof
	// chosen is the key of the proof in hand, empty for none.
	chosen string

	scroll *container.Scroll
	pick   *control.Prose
	body   *fyne.Container
	mark   *control.Mark
	title  *control.Prose
	state  *control.Prose
	says   *control.Prose
	why    *control.Prose
	deeds  *fyne.Container
	// passing says of an opening what goes through it.
	passing *passing
	// measure leads to the measure that the proof goes by.
	measure *fyne.Container
	// offered is what the deeds were made for.
	offered string
}

// proofColumn is a column of the table.
type proofColumn int

// The columns in order.
const (
	proofState proofColumn = iota
	proofKind
	proofName
	proofHave
	proofNeed
	proofDiff
	proofColumnCount
)

var proofColumnWords = [proofColumnCount]string{"State", "Proof", "Of", "Is", "Needs", "Spare"}

// Widths of the columns in screen units; the name takes what is left.
var proofColumnWide = [proofColumnCount]float32{proofState: 104, proofKind: 72, proofHave: 72, proofNeed: 72, proofDiff: 72}

// proofCells lays the cells of a row in columns.
type proofCells struct{}

func (proofCells) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, seamRowHigh) }

func (proofCells) Layout(o []fyne.CanvasObject, size fyne.Size) {
	widths := proofColumnWide
	if wordless(size.Width) {
		widths[proofState] = seamMarkWide
	}
	widths[proofName] = giveWay(widths[:], size.Width, int(proofKind), int(proofNeed), int(proofHave))
	layCells(o, widths[:], size)
	putWord(o[proofState], !wordless(size.Width))
}

func newProofTable(t *Truing) *proofTable {
	s := &proofTable{t: t}
	var heads []fyne.CanvasObject
	for c, word := range proofColumnWords {
		text := control.Faint(word).AtLeast(10)
		if proofColumn(c) >= proofHave {
			text.Aligned(fyne.TextAlignTrailing)
		}
		heads = append(heads, text)
	}
	s.list = control.NewList(func() int { return len(s.rows) }, newProofLine, s.fill, s.pressed)
	s.list.OnKey = s.key
	s.none = control.NewProse("Nothing can be proven yet: there is no garment with a wearer. Note the wearer's measures in Measure.", 12.5, false, look.Faint, 400)
	line := control.Tall(1, control.NewPlane(look.Border, "", 0))
	table := container.NewBorder(control.Stack(0, container.New(proofCells{}, heads...), line), nil, nil, nil,
		container.NewStack(s.list, control.Inset(seamRowPad, 14, seamRowPad, 0, container.NewVBox(s.none))))
	s.beside = newTableAside(table, s.aside(), "All proofs", func() {
		s.chosen = ""
		s.marked()
		s.tell()
	})
	s.object = s.beside.object
	return s
}

// aside is what is told of the proof in hand.
func (s *proofTable) aside() fyne.CanvasObject {
	s.pick = control.NewProse("Press a proof to see where it is, by which rule it goes, and what can be done about it.", 12, false, look.Faint, seamCardRoom)
	s.mark = control.NewMark(control.Holds, 16)
	s.title = control.NewProse("", 13, true, look.Ink, seamCardRoom-24)
	s.state = control.NewProse("", 12, true, look.MossText, seamCardRoom-24)
	s.says = control.NewProse("", 12, false, look.Ink, seamCardRoom)
	s.why = control.NewProse("", 12, false, look.Faint, seamCardRoom)
	s.deeds = control.Stack(6)
	head := container.NewBorder(nil, nil, control.Inset(0, 1, 8, 0, container.NewVBox(s.mark)), nil, control.Stack(2, s.title, s.state))
	s.measure = control.Stack(0)
	s.passing = newPassing(s.t)
	s.body = control.Stack(7, head, s.says, s.deeds, s.passing.object, s.measure, s.why)
	s.scroll = container.NewVScroll(control.Inset(12, 4, 12, 12, control.Stack(0, s.pick, s.body)))
	return container.NewBorder(nil, nil, control.Upright(), nil, s.scroll)
}

// newProofLine makes the cells of a row.
func newProofLine() fyne.CanvasObject {
	var row []fyne.CanvasObject
	for c := range proofColumnCount {
		text := control.NewText("", 12.5, false, look.Ink).AtLeast(10)
		if c >= proofHave {
			text.Aligned(fyne.TextAlignTrailing)
		}
		if c == proofState {
			row = append(row, newStateCell(text))
			continue
		}
		row = append(row, text)
	}
	return hinting(container.New(proofCells{}, row...))
}

// proofStands says how a proof stands in a word.
func proofStands(pr draft.Proof, waived bool) (control.Level, string) {
	switch {
	case !pr.Known:
		return control.Note, "not known"
	case pr.Holds:
		return control.Holds, "holds"
	case waived:
		return control.Note, "you live with it"
	}
	level := levelOf(pr.Level)
	return level, level.Word()
}

// proofTexts returns the texts of a row.
func proofTexts(pr draft.Proof, word string, u draft.Unit) [proofColumnCount]string {
	out := [proofColumnCount]string{proofState: word, proofKind: pr.Kind.String(), proofName: pr.Name}
	if pr.Have != 0 || pr.Need != 0 {
		out[proofHave] = u.FormatBare(pr.Have)
		if pr.Known && pr.Need != 0 {
			out[proofNeed], out[proofDiff] = u.FormatBare(pr.Need), withSign(u, pr.Diff)
		}
	}
	if pr.Radii {
		for _, c := range [...]proofColumn{proofHave, proofNeed} {
			if out[c] != "" {
				out[c] = "r " + out[c]
			}
		}
	}
	if pr.Known && pr.Estimated && out[proofNeed] != "" {
		out[proofNeed] = "≈ " + out[proofNeed]
	}
	return out
}

// fill puts a proof into a row.
func (s *proofTable) fill(i widget.ListItemID, line fyne.CanvasObject) {
	if i >= len(s.rows) {
		return
	}
	pr := s.rows[i]
	level, word := s.stands(pr)
	cells := proofTexts(pr, word, s.t.desk.Project().Unit)
	mark, text := stateOf(line)
	mark.Put(level)
	text.Set(word)
	text.SetColour(level.Colour())
	for c, o := range line.(*fyne.Container).Objects {
		if text, ok := o.(*control.Text); ok {
			text.Set(cells[c])
		}
	}
}

// stands says how a proof stands, with what the maker lives with.
func (s *proofTable) stands(pr draft.Proof) (control.Level, string) {
	for _, f := range s.t.desk.Report().Findings {
		if f.Key == pr.Key && !f.Open() {
			return proofStands(pr, true)
		}
	}
	return proofStands(pr, false)
}

// compareProofs puts first what has to be mended, and the rest in the order of their
// kinds.
func compareProofs(a, b draft.Proof) int {
	return cmp.Or(cmp.Compare(proofRank(a), proofRank(b)), cmp.Compare(a.Kind, b.Kind))
}

// proofRank is less the more a proof matters that does not hold.
func proofRank(pr draft.Proof) int {
	if pr.Known && !pr.Holds && pr.Level != draft.Remark {
		return int(pr.Level)
	}
	return int(draft.Remark)
}

// update shows what is proven now.
func (s *proofTable) update() {
	s.rows = s.proofs()
	slices.SortStableFunc(s.rows, compareProofs)
	show(s.none, len(s.rows) == 0)
	s.list.Refresh()
	s.marked()
	s.tell()
}

// proofs returns what is proven, and the openings of which there is nothing to prove: what
// goes through them can be said.
func (s *proofTable) proofs() []draft.Proof {
	p, slots := s.t.desk.Project(), s.t.desk.Slots()
	rows := slices.Clone(slots.Proofs(p))
	for _, o := range slots.AllOpenings(p) {
		if o.Wearer == "" || slices.ContainsFunc(rows, func(pr draft.Proof) bool { return pr.Key == o.Key }) {
			continue
		}
		pr := draft.Proof{Key: o.Key, Kind: draft.ProofOpening, Garment: o.Garment, Name: o.Name, Wearer: o.Wearer, Uses: o.Uses, Have: o.Length}
		pr.Says = "Nothing tells what has to go through it. Say so here, and it is proven."
		if o.Passes == draft.PassesNothing {
			pr.Known, pr.Holds, pr.Says = true, true, "Nothing has to go through it."
		}
		rows = append(rows, pr)
	}
	return rows
}

// marked shows the row of the proof in hand as the chosen one.
func (s *proofTable) marked() {
	if i := s.at(); i >= 0 {
		s.list.Put(i)
		return
	}
	s.chosen = ""
	s.list.UnselectAll()
}

// at returns the row of the proof in hand, -1 for none.
func (s *proofTable) at() int {
	return slices.IndexFunc(s.rows, func(pr draft.Proof) bool { return pr.Key == s.chosen })
}

func (s *proofTable) pressed(i widget.ListItemID) {
	if i >= len(s.rows) {
		return
	}
	s.t.trial.drop()
	s.chosen = s.rows[i].Key
	s.tell()
	s.t.ways.Show(proofPlace(s.rows[i])...)
}

// key goes to the next row or the one before.
func (s *proofTable) key(name fyne.KeyName) bool {
	by := map[fyne.KeyName]int{fyne.KeyDown: 1, fyne.KeyUp: -1}[name]
	if by == 0 || len(s.rows) == 0 {
		return false
	}
	s.pressed(min(max(s.at()+by, 0), len(s.rows)-1))
	s.marked()
	return true
}

// proofPlace returns the edges, or else the piece, that a proof is about.
func proofPlace(pr draft.Proof) []desk.Ref {
	var refs desk.Picked
	for _, use := range pr.Uses {
		if r := desk.EdgeRef(use.Piece, use.Edge); !refs.Has(r) {
			refs = append(refs, r)
		}
	}
	switch {
	case len(refs) > 0:
		return refs
	case pr.Edge != "":
		return []desk.Ref{desk.EdgeRef(pr.Piece, pr.Edge)}
	case pr.Piece != "":
		return []desk.Ref{desk.PieceRef(pr.Piece)}
	}
	return nil
}

// tell says all of the proof in hand.
func (s *proofTable) tell() {
	i := s.at()
	s.beside.hold(i >= 0)
	show(s.pick, i < 0)
	show(s.body, i >= 0)
	if i >= 0 {
		pr := s.rows[i]
		level, word := s.stands(pr)
		s.mark.Put(level)
		s.title.Put(pr.Name)
		s.state.PutAs(word, level.Colour())
		s.says.Put(pr.Says)
		s.why.Put(pr.Why)
		show(s.why, pr.Why != "")
		s.offer(pr)
		s.passing.show(pr)
		s.measure.Objects = nil
		if b := s.t.toMeasure(pr); b != nil {
			s.measure.Add(control.Row(0, control.Spring(), b))
		}
	}
	s.scroll.Refresh()
}

// offer makes the deeds for the proof in hand anew where they would be others.
func (s *proofTable) offer(pr draft.Proof) {
	key := keyOf(draft.Finding{Key: pr.Key, Mends: pr.Mends}, pr.Holds)
	if key == s.offered {
		return
	}
	s.offered = key
	s.deeds.Objects = nil
	if len(pr.Mends) > 0 && !pr.Holds {
		s.deeds.Add(s.t.trial.newDeeds(s, deedsOf(pr.Mends), seamCardRoom, deedsAtRest))
	}
	s.deeds.Refresh()
}

// toMeasure returns the button that leads to the measure by which a proof goes, nil where
// it goes by none.
func (t *Truing) toMeasure(pr draft.Proof) fyne.CanvasObject {
	if t.ways.Measure == nil || len(pr.Measures) == 0 {
		return nil
	}
	name := pr.Measures[0]
	word, hint := "To the measure", "Show in Measure: "
	if !pr.Known || pr.Estimated {
		word, hint = "Measure it…", "Note in Measure what was only estimated, or is not known: "
	}
	return control.NewButton(control.SmallShape, "measure", word, hint+body.Words(name), func() {
		t.trial.drop()
		t.ways.Measure(pr.Wearer, name)
	})
}

// proofOf returns the proof that a finding tells of; false where it tells of none.
func (t *Truing) proofOf(f draft.Finding) (draft.Proof, bool) {
	for _, pr := range t.desk.Slots().Proofs(t.desk.Project()) {
		if pr.Key == f.Key {
			return pr, true
		}
	}
	return draft.Proof{}, false
}
