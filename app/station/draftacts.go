package station

import (
	"errors"
	"math"
	"slices"
	"strings"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/formula"
)

// setChoice sets a choice of the block in hand: of the pieces that follow it, or of the
// trial.
func (s *Draft) setChoice(c block.Choice, text string) error {
	v, err := readChoice(c, text, s.desk.Project().Unit)
	if err != nil {
		return err
	}
	return s.putChoice(c, v, "")
}

// putChoice sets a choice to a value. Steps of the same fold are one step to undo.
func (s *Draft) putChoice(c block.Choice, v formula.Value, fold string) error {
	if s.now == nil {
		return errors.New("no block is chosen")
	}
	if err := s.within(c, v); err != nil {
		return err
	}
	if d := s.now.derivation; d != nil {
		_, err := desk.RunFolded(s.desk, draft.SetChoice, draft.SetChoiceArgs{Derivation: draft.DerivationRef(d.ID), Name: c.Name, Value: writeChoice(v)}, fold)
		return err
	}
	name := s.now.block.Name
	list := without(s.tried[name], c.Name)
	s.tried[name] = append(list, draft.Setting{Name: c.Name, Value: writeChoice(v)})
	s.Update()
	return nil
}

// within says why a choice cannot have a value for this body.
func (s *Draft) within(c block.Choice, v formula.Value) error {
	now, ok := s.now.chosen(c.Name)
	if !ok {
		return nil
	}
	u := s.desk.Project().Unit
	switch {
	case now.Least != nil && figureOf(v) < figureOf(now.Least)-1e-9:
		return errors.New("for this body it is " + showValue(now.Least, u) + " at least")
	case now.Most != nil && figureOf(v) > figureOf(now.Most)+1e-9:
		return errors.New("for this body it is " + showValue(now.Most, u) + " at most")
	}
	return nil
}

// figureOf returns the figure of a choice's value.
func figureOf(v formula.Value) float64 {
	switch v := v.(type) {
	case formula.Length:
		return v.MM
	case formula.Number:
		return v
	}
	return 0
}

// clearChoice lets a choice come by its formula again.
func (s *Draft) clearChoice(c block.Choice) error {
	if s.now == nil {
		return nil
	}
	if _, set := s.now.settings[c.Name]; !set {
		s.Update()
		return nil
	}
	if d := s.now.derivation; d != nil {
		return desk.Run(s.desk, draft.ClearChoice, draft.ClearChoiceArgs{Derivation: draft.DerivationRef(d.ID), Name: c.Name})
	}
	name := s.now.block.Name
	s.tried[name] = without(s.tried[name], c.Name)
	s.Update()
	return nil
}

func without(list []draft.Setting, name string) []draft.Setting {
	return slices.DeleteFunc(slices.Clone(list), func(s draft.Setting) bool { return s.Name == name })
}

// stepOf is by how much a key changes a length of so many mm: a hundredth of it or so,
// in steps that the unit shows.
func stepOf(mm float64, u draft.Unit) float64 {
	least := map[draft.Unit]float64{draft.Millimetre: 1, draft.Centimetre: 1, draft.Inch: 2.54, draft.InchFraction: draft.MMPerInch / 32}[u]
	step := least
	for step*100 < math.Abs(mm) {
		step *= 2
	}
	if math.Abs(mm) < 20*least {
		step = least / 2
	}
	return max(step, u.Step())
}

// stepChoice changes a choice by the keys.
func (s *Draft) stepChoice(c block.Choice, by int) {
	now, ok := s.now.chosen(c.Name)
	if !ok {
		return
	}
	var v formula.Value
	switch x := now.Value.(type) {
	case formula.Length:
		step := stepOf(x.MM, s.desk.Project().Unit)
		v = formula.Length{MM: math.Round(x.MM/step+float64(by)) * step}
	case formula.Number:
		v = math.Round(x*20+float64(by)) / 20
	default:
		return
	}
	// The bounds stop the steps.
	for bound, low := range map[formula.Value]bool{now.Least: true, now.Most: false} {
		if bound != nil && (figureOf(v) < figureOf(bound)) == low && figureOf(v) != figureOf(bound) {
			v = bound
		}
	}
	if err := s.putChoice(c, v, "step "+c.Name); err != nil {
		s.host.Say(err.Error())
	}
}

// setMeasure notes a measure of the wearer; an empty text forgets it.
func (s *Draft) setMeasure(name, text string) error {
	if s.now == nil || s.now.wearer == nil {
		return errors.New("there is nobody to measure yet")
	}
	w := draft.WearerRef(s.now.wearer.ID)
	text = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), "≈"))
	if text == "" {
		if _, taken := s.now.given[name]; !taken {
			s.Update()
			return nil
		}
		return desk.Run(s.desk, draft.ClearMeasure, draft.ClearMeasureArgs{Wearer: w, Name: name})
	}
	mm, err := s.desk.Project().Unit.Parse(text)
	if err != nil {
		return err
	}
	return desk.Run(s.desk, draft.SetMeasure, draft.SetMeasureArgs{Wearer: w, Name: name, Value: draft.Length(mm)})
}

// stepMeasure changes a measure by the keys. An estimate becomes a measure by it.
func (s *Draft) stepMeasure(name string, by int) {
	if s.now == nil || s.now.wearer == nil {
		return
	}
	k, ok := s.panel.known(s.now, name)
	if !ok {
		return
	}
	step := stepOf(k.Value, s.desk.Project().Unit)
	mm := math.Round(k.Value/step+float64(by)) * step
	args := draft.SetMeasureArgs{Wearer: draft.WearerRef(s.now.wearer.ID), Name: name, Value: draft.Length(mm)}
	if _, err := desk.RunFolded(s.desk, draft.SetMeasure, args, "step "+name); err != nil {
		s.host.Say(err.Error())
	}
}

// DraftIt makes the pieces of the block in hand and goes on to shape them.
func (s *Draft) DraftIt() {
	t := s.now
	if t == nil || t.wearer == nil || t.sheet == nil {
		s.host.Say("Choose a block and a wearer with the measures that it needs.")
		return
	}
	args := draft.DraftBlockArgs{Block: t.block.Name, Wearer: draft.WearerRef(t.wearer.ID), Text: t.block.Text()}
	if b, err := block.Named(t.block.Name); err == nil && b.Text() == t.block.Text() {
		args.Text = ""
	}
	args.Set = draft.Choices(s.tried[t.block.Name])
	if t.derivation != nil {
		args.Set = draft.Choices(t.derivation.Settings)
	}
	had := map[draft.ID]bool{}
	for _, p := range s.desk.Project().Pieces {
		had[p.ID] = true
	}
	if err := desk.Run(s.desk, draft.DraftBlock, args); err != nil {
		s.host.Say(err.Error())
		return
	}
	delete(s.tried, t.block.Name)
	var made []draft.ID
	for _, p := range s.desk.Project().Pieces {
		if !had[p.ID] {
			made = append(made, p.ID)
		}
	}
	s.host.Drafted(made)
}

// toPieces shows the pieces that the block has made.
func (s *Draft) toPieces() {
	if s.now == nil || s.now.derivation == nil {
		return
	}
	var ids []draft.ID
	for _, p := range s.desk.Project().PiecesOf(s.now.derivation) {
		ids = append(ids, p.ID)
	}
	s.host.Drafted(ids)
}

// renewBlock drafts the pieces anew by the present text of the block.
func (s *Draft) renewBlock() {
	if s.now == nil || s.now.derivation == nil {
		return
	}
	e, ok := s.library.named(s.now.block.Name)
	if !ok {
		return
	}
	args := draft.RenewBlockArgs{Derivation: draft.DerivationRef(s.now.derivation.ID)}
	if e.Users {
		args.Text = e.Block.Text()
	}
	if err := desk.Run(s.desk, draft.RenewBlock, args); err != nil {
		s.host.Say(err.Error())
	}
}
