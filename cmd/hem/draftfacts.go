package main

import (
	"fmt"

	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/formula"
)

// The JSON that scripts rely on: what went into the draft, then what hem check says
// of the project. Lengths end in _mm.
type (
	draftJSON struct {
		File     string            `json:"file"`
		Block    string            `json:"block"`
		Title    string            `json:"title"`
		Wearer   string            `json:"wearer"`
		Unit     string            `json:"unit"`
		Measures []usedMeasureJSON `json:"measures"`
		Choices  []usedChoiceJSON  `json:"choices"`
		Told     []toldJSON        `json:"told"`
		factsJSON
	}
	usedMeasureJSON struct {
		Name  string  `json:"name"`
		Words string  `json:"words"`
		Value float64 `json:"value_mm"`
		// Estimated: it was not taken; By is the formula then.
		Estimated bool   `json:"estimated"`
		By        string `json:"by,omitempty"`

		// marked: the wearer file says that it was not taken; summed: it is made of
		// measures that were.
		marked, summed bool
	}
	usedChoiceJSON struct {
		Name  string `json:"name"`
		Title string `json:"title"`
		// Set: it was set, and not worked out by Default.
		Set     bool   `json:"set"`
		Default string `json:"default"`
		// Of a length the first three are there, of a number the others.
		ValueMM *float64 `json:"value_mm,omitempty"`
		LeastMM *float64 `json:"least_mm,omitempty"`
		MostMM  *float64 `json:"most_mm,omitempty"`
		Value   *float64 `json:"value,omitempty"`
		Least   *float64 `json:"least,omitempty"`
		Most    *float64 `json:"most,omitempty"`
	}
	toldJSON struct {
		Name     string   `json:"name"`
		Level    string   `json:"level"`
		Says     string   `json:"says"`
		Measures []string `json:"measures"`
	}
)

func draftFacts(file string, p *draft.Project, b *block.Block, sheet *block.Sheet) draftJSON {
	w := p.Wearers[0]
	facts := draftJSON{
		File: file, Block: b.Name, Title: b.Title, Wearer: w.Name, Unit: p.Unit.String(),
		Measures: []usedMeasureJSON{}, Choices: []usedChoiceJSON{}, Told: []toldJSON{},
	}
	words := make(map[string]string)
	for _, m := range measuresOf(b) {
		words[m.Name] = m.Words
	}
	for _, m := range sheet.Measures {
		used := usedMeasureJSON{Name: m.Name, Words: words[m.Name], Value: m.Value, Estimated: m.Estimated, By: m.By}
		if taken, ok := w.Measure(m.Name); ok && !m.Estimated {
			used.marked = taken.Estimated
		}
		used.summed = m.Summed
		facts.Measures = append(facts.Measures, used)
	}
	for _, c := range sheet.Choices {
		facts.Choices = append(facts.Choices, usedChoice(b, c))
	}
	for _, told := range sheet.Told {
		facts.Told = append(facts.Told, toldJSON{told.Name, told.Level, told.Says, append([]string{}, told.Measures...)})
	}
	return facts
}

func usedChoice(b *block.Block, c block.Chosen) usedChoiceJSON {
	choice, _ := b.Choice(c.Name)
	facts := usedChoiceJSON{Name: c.Name, Title: choice.Title, Set: !c.Default, Default: choice.Default}
	put := func(v formula.Value, mm, number **float64) {
		switch v := v.(type) {
		case formula.Length:
			*mm = &v.MM
		case formula.Number:
			x := float64(v)
			*number = &x
		}
	}
	put(c.Value, &facts.ValueMM, &facts.Value)
	put(c.Least, &facts.LeastMM, &facts.Least)
	put(c.Most, &facts.MostMM, &facts.Most)
	return facts
}

// printDraft prints what went into the draft and the pieces that came of it.
func printDraft(t *terminal, p *draft.Project, facts draftJSON) {
	t.printf("%s: %s for %s, %s\n", facts.File, facts.Title, facts.Wearer, count(len(p.Pieces), "piece"))
	for _, piece := range p.Pieces {
		t.printf("  %-20s %s\n", piece.Name, cutText(piece))
	}
	if len(facts.Measures) > 0 {
		t.printf("Measures:\n")
	}
	for _, m := range facts.Measures {
		t.printf("  %-20s %-12s %s\n", m.Name, p.Unit.Format(m.Value), m.origin())
	}
	if len(facts.Choices) > 0 {
		t.printf("Choices:\n")
	}
	for _, c := range facts.Choices {
		how := "set"
		if !c.Set {
			how = "by " + c.Default
		}
		t.printf("  %-20s %-12s %s\n", c.Name, c.text(p.Unit), how)
	}
}

// cutText says how a piece is cut: "twice, as left and right".
func cutText(piece *draft.Piece) string {
	switch piece.Cut.Way {
	case draft.CutPairs:
		return fmt.Sprintf("cut %d, left and right", piece.Cut.Copies())
	case draft.CutOnFold:
		return fmt.Sprintf("cut %d on the fold", piece.Cut.Copies())
	}
	return fmt.Sprintf("cut %d", piece.Cut.Copies())
}

// origin says where a measure comes from.
func (m usedMeasureJSON) origin() string {
	switch {
	case m.summed:
		return "taken, as " + m.By
	case m.Estimated:
		return "estimated by " + m.By
	case m.marked:
		return "given, and marked as estimated"
	}
	return "taken"
}

func (c usedChoiceJSON) text(u draft.Unit) string {
	if c.ValueMM != nil {
		return u.Format(*c.ValueMM)
	}
	return fmt.Sprintf("%.4g", *c.Value)
}
