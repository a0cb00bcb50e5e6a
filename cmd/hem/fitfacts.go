package main

import (
	"fmt"

	"hemlet/draft"
)

// The JSON that scripts rely on: what was fitted, then what hem check says of the project.
// Lengths end in _mm.
type (
	fittedJSON struct {
		File   string    `json:"file"`
		Wearer string    `json:"wearer"`
		Fits   []fitJSON `json:"fits"`
		// Drafted are the titles of the blocks that were drafted for the wearer in place
		// of a fit.
		Drafted []string `json:"drafted"`
		factsJSON
	}
	fitJSON struct {
		Name  string  `json:"name"`
		Ease  string  `json:"ease"`
		Keep  string  `json:"keep"`
		Scale float64 `json:"scale"`
		// Error: why it could not be fitted; then nothing was reached.
		Error       string          `json:"error,omitempty"`
		Targets     []targetJSON    `json:"targets"`
		Largest     *distortionJSON `json:"largest,omitempty"`
		Contradicts []string        `json:"contradicts"`
		Advice      []adviceJSON    `json:"advice"`
	}
	targetJSON struct {
		Piece   string  `json:"piece"`
		Name    string  `json:"name"`
		Measure string  `json:"measure"`
		Share   float64 `json:"share"`
		Rule    string  `json:"rule"`
		// Old and New are the measure of the body that the pattern was made for and of
		// the wearer, not there where nothing is known.
		Old          *float64 `json:"old_mm,omitempty"`
		New          *float64 `json:"new_mm,omitempty"`
		OldEstimated bool     `json:"old_estimated"`
		NewEstimated bool     `json:"new_estimated"`
		// OldUnder and NewUnder are by how much what is worn underneath makes the measure
		// of each body larger; not there where it does not.
		OldUnder float64 `json:"old_under_mm,omitempty"`
		NewUnder float64 `json:"new_under_mm,omitempty"`
		Was      float64 `json:"was_mm"`
		// Wants and Off are not there where nothing is wanted.
		Wants   *float64 `json:"wants_mm,omitempty"`
		Reached float64  `json:"reached_mm"`
		Off     *float64 `json:"off_mm,omitempty"`
		Weight  float64  `json:"weight"`
		Why     string   `json:"why,omitempty"`
	}
	// distortionJSON is where cloth is stretched most beyond the scale of the whole; 1 is not
	// at all. The place is on the piece as it was.
	distortionJSON struct {
		Piece  string  `json:"piece"`
		X      float64 `json:"x_mm"`
		Y      float64 `json:"y_mm"`
		Along  float64 `json:"along"`
		Across float64 `json:"across"`
	}
	adviceJSON struct {
		Says string `json:"says"`
		Why  string `json:"why"`
		Was  string `json:"was,omitempty"`
		Now  string `json:"now,omitempty"`
		// Adjust names the argument of the mends that holds the proposed figure.
		Adjust string     `json:"adjust,omitempty"`
		Amount *float64   `json:"amount_mm,omitempty"`
		Ratio  *float64   `json:"ratio,omitempty"`
		Key    string     `json:"key"`
		Waived string     `json:"waived,omitempty"`
		Mends  []mendJSON `json:"mends,omitempty"`
	}
)

// report tells what was fitted and what the checks say of it.
func (f *fitting) report(t *terminal) error {
	report := f.slots.Check(f.project)
	for _, d := range f.fits() {
		if st := f.slots.Fit(f.project, d.ID); st.OldUnknown() {
			t.remarks([]string{"nothing says for whom the pattern was made; say it, as in --made-for bust_girth=94cm, and fit it again"})
			break
		}
	}
	if f.verb.JSON {
		facts := fittedJSON{File: f.verb.Out, Wearer: wearerName(f.project, f.wearer), Fits: []fitJSON{}, Drafted: f.redrafted(), factsJSON: checkFacts(f.slots, f.project, report)}
		for _, d := range f.fits() {
			facts.Fits = append(facts.Fits, f.facts(d))
		}
		if err := t.json(facts); err != nil {
			return err
		}
	} else {
		f.print(t)
		printReport(t, f.project, report, false)
	}
	return verdict(report.Findings)
}

func (f *fitting) facts(d *draft.Derivation) fitJSON {
	st := f.slots.Fit(f.project, d.ID)
	facts := fitJSON{
		Name: st.Label, Ease: st.Ease.String(), Keep: st.Keep.String(), Scale: st.Scale,
		Targets: []targetJSON{}, Contradicts: []string{}, Advice: []adviceJSON{},
	}
	for _, c := range st.Contradicts {
		facts.Contradicts = append(facts.Contradicts, c.Says)
	}
	if st.Err != nil {
		facts.Error = st.Err.Error()
	}
	for _, x := range st.Targets {
		facts.Targets = append(facts.Targets, targetFacts(x))
	}
	if l := st.Largest; l.Piece != "" {
		facts.Largest = &distortionJSON{f.pieceName(l.Piece), l.At.X, l.At.Y, l.Along, l.Across}
	}
	for _, a := range f.slots.ScaleAdvice(f.project, d.ID) {
		facts.Advice = append(facts.Advice, adviceFacts(a))
	}
	return facts
}

func (f *fitting) pieceName(id draft.ID) string {
	if piece := f.project.Piece(id); piece != nil {
		return piece.Name
	}
	return string(id)
}

func targetFacts(x draft.FitTarget) targetJSON {
	known := func(mm float64, is bool) *float64 {
		if !is {
			return nil
		}
		return &mm
	}
	return targetJSON{
		Piece: x.Piece.Name, Name: x.Span.Name, Measure: x.Span.Measure, Share: x.Span.Share, Rule: x.Rule,
		Old: known(x.Old, x.Old > 0), New: known(x.New, x.New > 0), OldEstimated: x.OldEstimated, NewEstimated: x.NewEstimated, OldUnder: x.OldUnder, NewUnder: x.NewUnder,
		Was: x.Was, Wants: known(x.Wants, x.Known), Reached: x.Reached, Off: known(x.Off, x.Known), Weight: x.Weight, Why: x.Why,
	}
}

func adviceFacts(a draft.Advice) adviceJSON {
	facts := adviceJSON{Says: a.Says, Why: a.Why, Was: a.Was, Now: a.Now, Adjust: a.Adjust, Key: a.Key, Waived: a.Waived, Mends: mendsJSON(a.Mends)}
	switch {
	case a.Adjust == "":
	case a.Ratio:
		facts.Ratio = &a.Amount
	default:
		facts.Amount = &a.Amount
	}
	return facts
}

// print prints the table of each fit: was, wants, reached.
func (f *fitting) print(t *terminal) {
	u := f.project.Unit
	for _, name := range f.redrafted() {
		t.printf("%s is drafted for %s.\n", name, wearerName(f.project, f.wearer))
	}
	for _, d := range f.fits() {
		st := f.slots.Fit(f.project, d.ID)
		t.printf("%s: %s fitted to %s, %.3f times as large\n", f.verb.Out, count(len(st.Pieces), "piece"), wearerName(f.project, f.wearer), st.Scale)
		if len(st.Targets) > 0 {
			t.printf("%-34s %12s %12s %12s %10s\n", "", "was", "wants", "reached", "off")
		}
		for _, x := range st.Targets {
			wants, off := "-", "-"
			if x.Known {
				wants, off = u.Format(x.Wants), u.FormatBare(x.Off)
			}
			t.printf("%-34s %12s %12s %12s %10s  %s\n", x.Piece.Name+", "+x.Span.Name, u.Format(x.Was), wants, u.Format(x.Reached), off, x.Rule)
			if x.Why != "" {
				t.printf("  %s\n", x.Why)
			}
		}
		if l := st.Largest; l.Piece != "" {
			t.printf("Distorted most: %s, along the grain %s, across it %s.\n", f.pieceName(l.Piece), percent(l.Along), percent(l.Across))
		}
		for _, c := range st.Contradicts {
			t.printf("%s\n", c.Says)
		}
	}
}

// percent writes a factor as what is gained or lost.
func percent(factor float64) string { return fmt.Sprintf("%+.1f %%", 100*(factor-1)) }
