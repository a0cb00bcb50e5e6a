package draft

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"hemlet/draft/block"
)

// DraftBlockArgs are the arguments of DraftBlock.
type DraftBlockArgs struct {
	Block  string    `arg:"block" says:"the name of the block: bodice"`
	Wearer WearerRef `arg:"wearer" says:"the wearer that it is drafted for"`
	Set    Choices   `arg:"set,optional" says:"choices of the block: ease=12mm;neck_drop=5mm"`
	// Text is the text of a block that does not come with Hemlet, empty for those
	// that do; Block is then the name of its file for errors.
	Text string `arg:"-"`
}

// DraftBlock drafts a block for a wearer. The pieces follow the wearer's measures
// from then on; the project keeps the block's text.
var DraftBlock = register(Info{
	Name: "draft-block", Title: "Draft a block", Group: groupBlocks,
	Says: "Drafts a block for a wearer; the pieces follow the wearer's measures from then on.",
}, draftBlock)

func draftBlock(p *Project, a DraftBlockArgs) (Outcome, error) {
	w := p.Wearer(ID(a.Wearer))
	if w == nil {
		return Outcome{}, fmt.Errorf("wearer %s %w", a.Wearer, errGone)
	}
	b, err := blockNamed(a.Block, a.Text)
	if err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	d := &Derivation{ID: ids.make(kindDerivation), Kind: blockKind, Inputs: []ID{w.ID}, Text: b.Text()}
	for _, s := range a.Set {
		if d.Settings, err = withSetting(d.Settings, b, s); err != nil {
			return Outcome{}, err
		}
	}
	dr := draftFor(d, w)
	if dr.err != nil {
		return Outcome{}, dr.err
	}
	if len(dr.sheet.Pieces) == 0 {
		return Outcome{}, fmt.Errorf("the block %s has no pieces yet", b.Title)
	}
	out := Outcome{Project: p.shallow(), Made: d.ID}
	out.Project.NextID = ids.next
	out.Project.Derivations = append(slices.Clip(p.Derivations), d)
	if err := redraft(p, &out, d); err != nil {
		return Outcome{}, err
	}
	out.subject = out.Project.derivationLabel(d)
	return out, nil
}

// blockNamed returns the block with the name that comes with Hemlet or, where a text
// is given, the block of the text.
func blockNamed(name, text string) (*block.Block, error) {
	if text == "" {
		return block.Named(strings.TrimSpace(name))
	}
	return block.Parse(name, []byte(text))
}

// withSetting returns the settings with one of them set.
func withSetting(list []Setting, b *block.Block, s Setting) ([]Setting, error) {
	s.Name, s.Value = strings.TrimSpace(s.Name), strings.TrimSpace(s.Value)
	c, ok := b.Choice(s.Name)
	if !ok {
		return nil, noChoice(b, s.Name)
	}
	if _, err := readChoice(c, s.Value); err != nil {
		return nil, fmt.Errorf("the choice %s: %w", s.Name, err)
	}
	return append(withoutSetting(list, s.Name), s), nil
}

// withoutSetting returns a copy of the settings without the one with the name.
func withoutSetting(list []Setting, name string) []Setting {
	var out []Setting
	for _, s := range list {
		if s.Name != name {
			out = append(out, s)
		}
	}
	return out
}

// onDerivation changes a copy of a drafted block. Its pieces are drawn anew in the
// commit.
func onDerivation(p *Project, ref DerivationRef, f func(d *Derivation, b *block.Block, out *Outcome) error) (Outcome, error) {
	old := p.Derivation(ID(ref))
	if old == nil || old.Kind != blockKind {
		return Outcome{}, fmt.Errorf("the drafted block %s %w", ref, errGone)
	}
	b, err := blockOf(old.Text)
	if err != nil {
		return Outcome{}, fmt.Errorf("the block that %s keeps cannot be read: %w", ref, err)
	}
	d := *old
	out := Outcome{Made: d.ID}
	if err := f(&d, b, &out); err != nil {
		return Outcome{}, err
	}
	out.Project = p.shallow()
	out.Project.Derivations = slices.Clone(p.Derivations)
	for i := range out.Project.Derivations {
		if out.Project.Derivations[i] == old {
			out.Project.Derivations[i] = &d
		}
	}
	out.subject = out.Project.derivationLabel(&d)
	return out, nil
}

// mustDraft refuses what would leave a block that can be drafted for its wearer so
// that it cannot.
func mustDraft(p *Project, old, d *Derivation) error {
	if dr := draftFor(d, p.WearerOf(d)); dr.err != nil && draftFor(old, p.WearerOf(old)).err == nil {
		return dr.err
	}
	return nil
}

// SetChoiceArgs are the arguments of SetChoice.
type SetChoiceArgs struct {
	Derivation DerivationRef `arg:"draft" says:"the drafted block, by its name or id"`
	Name       string        `arg:"name" says:"the choice"`
	Value      string        `arg:"value" says:"a length with its unit, or a number where the choice is one"`
}

// SetChoice sets a choice of a drafted block, such as its ease.
var SetChoice = register(Info{
	Name: "set-choice", Title: "Set a choice", Group: groupBlocks,
	Says: "Sets a choice of a drafted block, such as its ease; the pieces are drawn anew.",
}, func(p *Project, a SetChoiceArgs) (Outcome, error) {
	return onDerivation(p, a.Derivation, func(d *Derivation, b *block.Block, _ *Outcome) error {
		old := *d
		var err error
		if d.Settings, err = withSetting(d.Settings, b, Setting{a.Name, a.Value}); err != nil {
			return err
		}
		return mustDraft(p, &old, d)
	})
})

// ClearChoiceArgs are the arguments of ClearChoice.
type ClearChoiceArgs struct {
	Derivation DerivationRef `arg:"draft" says:"the drafted block, by its name or id"`
	Name       string        `arg:"name" says:"the choice"`
}

// ClearChoice lets a choice of a drafted block take its default again.
var ClearChoice = register(Info{
	Name: "clear-choice", Title: "Clear a choice", Group: groupBlocks,
	Says: "Lets a choice of a drafted block be what the block takes when nobody sets it.",
}, func(p *Project, a ClearChoiceArgs) (Outcome, error) {
	return onDerivation(p, a.Derivation, func(d *Derivation, b *block.Block, _ *Outcome) error {
		old, name := *d, strings.TrimSpace(a.Name)
		if _, set := d.Setting(name); !set {
			return fmt.Errorf("the choice %q is not set", name)
		}
		d.Settings = withoutSetting(d.Settings, name)
		return mustDraft(p, &old, d)
	})
})

// RenewBlockArgs are the arguments of RenewBlock.
type RenewBlockArgs struct {
	Derivation DerivationRef `arg:"draft" says:"the drafted block, by its name or id"`
	// Text is the present text of a block that does not come with Hemlet, empty for
	// those that do.
	Text string `arg:"-"`
}

// RenewBlock takes the present text of a block for one that was drafted from an
// older text. Choices that the block no longer has are dropped.
var RenewBlock = register(Info{
	Name: "renew-block", Title: "Renew a block", Group: groupBlocks,
	Says: "Drafts the pieces from the block as it is written now.",
}, func(p *Project, a RenewBlockArgs) (Outcome, error) {
	old := p.Derivation(ID(a.Derivation))
	if old == nil || old.Kind != blockKind {
		return Outcome{}, fmt.Errorf("the drafted block %s %w", a.Derivation, errGone)
	}
	name, err := nameOfBlock(old.Text)
	if err != nil && a.Text == "" {
		return Outcome{}, err
	}
	b, err := blockNamed(name, a.Text)
	if err != nil {
		return Outcome{}, err
	}
	if name != "" && b.Name != name {
		return Outcome{}, fmt.Errorf("it was drafted from the block %s, and this is the block %s; draft that anew", name, b.Name)
	}
	d := *old
	out := Outcome{Made: d.ID}
	d.Text, d.Settings = b.Text(), nil
	for _, s := range old.Settings {
		next, err := withSetting(d.Settings, b, s)
		if err != nil {
			out.say("The choice %s is dropped: %s", s.Name, sentence(err))
			continue
		}
		d.Settings = next
	}
	if err := mustDraft(p, old, &d); err != nil {
		return Outcome{}, err
	}
	out.Project = p.shallow()
	out.Project.Derivations = slices.Clone(p.Derivations)
	out.Project.Derivations[slices.Index(p.Derivations, old)] = &d
	out.subject = out.Project.derivationLabel(&d)
	if w := p.WearerOf(old); inputsOf(&d, w).like(inputsOf(old, w)) {
		// The commit sees nothing new, and yet the program that reads the text may be newer
		// than the pieces.
		return out, redraft(p, &out, &d)
	}
	return out, nil
})

// nameOfBlock returns the name of the block whose text it is.
func nameOfBlock(text string) (string, error) {
	b, err := blockOf(text)
	if err != nil {
		return "", err
	}
	return b.Name, nil
}

// UseWearerArgs are the arguments of UseWearer.
type UseWearerArgs struct {
	Derivation DerivationRef `arg:"draft" says:"the drafted block, by its name or id"`
	Wearer     WearerRef     `arg:"wearer" says:"the wearer"`
}

// UseWearer lets a drafted block follow another wearer.
var UseWearer = register(Info{
	Name: "use-wearer", Title: "Use another wearer", Group: groupBlocks,
	Says: "Lets a drafted block follow another wearer; the pieces are drawn anew.",
}, func(p *Project, a UseWearerArgs) (Outcome, error) {
	if p.Wearer(ID(a.Wearer)) == nil {
		return Outcome{}, fmt.Errorf("wearer %s %w", a.Wearer, errGone)
	}
	return onDerivation(p, a.Derivation, func(d *Derivation, _ *block.Block, _ *Outcome) error {
		inputs := []ID{ID(a.Wearer)}
		for _, in := range d.Inputs {
			if p.Wearer(in) == nil {
				inputs = append(inputs, in)
			}
		}
		d.Inputs = inputs
		return nil
	})
})

// KeepPieceArgs are the arguments of KeepPiece.
type KeepPieceArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
}

// KeepPiece lets pieces stay as they are: they no longer follow what they were made
// from.
var KeepPiece = register(Info{
	Name: "keep-piece", Title: "Keep as it is", Group: groupBlocks,
	Says: "Lets a piece stay as it is: it no longer follows what it was made from.",
}, func(p *Project, a KeepPieceArgs) (Outcome, error) {
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		if q.Derived == nil {
			return errors.New("it follows nothing")
		}
		q.Derived = nil
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Project.Derivations = slices.DeleteFunc(slices.Clone(out.Project.Derivations), func(d *Derivation) bool {
		return len(p.PiecesOf(d)) > 0 && len(out.Project.PiecesOf(d)) == 0 && !out.Project.isRead(d.ID)
	})
	return out, nil
})

// isRead reports whether a derivation reads what has the id.
func (p *Project) isRead(id ID) bool {
	return slices.ContainsFunc(p.Derivations, func(d *Derivation) bool { return slices.Contains(d.Inputs, id) })
}
