package block

import (
	"errors"
	"fmt"
	"strings"

	"hemlet/draft/body"
	"hemlet/draft/formula"
)

// Settings are the choices that were made, by name, each a formula.Length or a
// formula.Number as the choice wants; and, under WornUnder, how thick in all what
// is worn under the garment is. What is not set takes its default.
type Settings map[string]formula.Value

// Draft drafts the block for a body. The same body and settings always give the
// same sheet. Measures in g that neither the block nor the catalogue knows are of no
// account.
//
// The error is a *MissingError where the body lacks a measure that the block needs,
// a *StopError where a guard of the block does not hold, and otherwise an *Error
// with the formula that cannot be worked out and what its names stood for. A choice
// beyond its bounds is drafted at the bound, and that is told. Beside an error stands
// the sheet as far as the draft came, so that the construction can be shown up to the
// step at fault: its Steps are those that were worked out, and Pieces and Seams may be
// missing. However hostile the file, a draft ends in about a second.
func (b *Block) Draft(g body.Given, s Settings) (*Sheet, error) {
	d := &drafter{b: b, values: make(formula.Values, len(b.wanted)+len(b.asks)+len(b.choices)+len(b.steps)+1), sheet: &Sheet{}}
	for _, act := range []func() error{
		func() error { return d.measures(g) },
		func() error { return d.choices(s) },
		d.steps, d.checks, d.pieces, d.seams,
	} {
		if err := act(); err != nil {
			return d.sheet, err
		}
	}
	return d.sheet, nil
}

// drafter carries one draft.
type drafter struct {
	b      *Block
	values formula.Values
	sheet  *Sheet
	// stretches counts those of the curves of all steps, nodes those of the pieces.
	stretches, nodes int
	// effort is that of all formulas so far.
	effort float64
	// sewn are the lengths of edges that were asked for, in mm.
	sewn map[*Edge]float64
	// leapt are the leaps in the outline of the piece that is under way.
	leapt []leap
	// gone are the edges that have no length for this body, by piece and edge.
	gone map[[2]int]bool
}

// steps works out the construction, and looks at each guard as soon as it can.
func (d *drafter) steps() error {
	if err := d.guard(0); err != nil {
		return err
	}
	d.sheet.Steps = make([]Step, 0, len(d.b.steps))
	for i := range d.b.steps {
		s := &d.b.steps[i]
		v, err := d.value(s.is)
		if err != nil {
			return err
		}
		if c, isCurve := v.(formula.Curve); isCurve {
			if d.stretches += len(c.Path); d.stretches > maxAllStretches {
				return d.failed(s.is, fmt.Errorf("the curves of all steps have more than %d stretches", maxAllStretches))
			}
		}
		d.values[s.name] = v
		d.sheet.Steps = append(d.sheet.Steps, Step{Name: s.name, Formula: s.is.Source(), Says: s.says, Value: v})
		if err := d.guard(i + 1); err != nil {
			return err
		}
	}
	return nil
}

// guard looks at the guards that come before step i.
func (d *drafter) guard(i int) error {
	for _, k := range d.b.guards[i] {
		c := &d.b.checks[k]
		v, err := d.value(c.holds)
		if err != nil {
			return err
		}
		if v != formula.Value(true) && c.level == "problem" {
			return &StopError{File: d.b.file, Line: d.b.lineOf(c.place), Told: c.told()}
		}
	}
	return nil
}

func (c *check) told() Told {
	return Told{Name: c.name, Level: c.level, Says: c.says, Measures: append([]string(nil), c.measures...)}
}

// checks notes the checks that do not hold.
func (d *drafter) checks() error {
	for i := range d.b.checks {
		c := &d.b.checks[i]
		v, err := d.value(c.holds)
		if err != nil {
			return err
		}
		if v != formula.Value(true) {
			d.sheet.Told = append(d.sheet.Told, c.told())
		}
	}
	return nil
}

// spend counts work that is ahead for a formula, and refuses it where it becomes too
// much in all.
func (d *drafter) spend(e *expression, effort float64) error {
	if d.effort += effort; d.effort > maxEffort {
		return d.failed(e, errors.New("up to here the block takes more work than any garment; look for curves of very many stretches, and for searches such as sweep_true that are repeated"))
	}
	return nil
}

// value works out a formula.
func (d *drafter) value(e *expression) (formula.Value, error) {
	if err := d.spend(e, e.Effort(d.values)); err != nil {
		return nil, err
	}
	v, err := e.Value(d.values)
	if err != nil {
		return nil, d.failed(e, err)
	}
	return v, nil
}

// mostShown bounds the names whose values an error shows.
const mostShown = 12

// failed puts the place, the formula and the values that it read into an error.
func (d *drafter) failed(e *expression, err error) error {
	out := &Error{File: d.b.file, Line: d.b.lineOf(e.place), Key: e.key, Formula: e.Source(), Says: err.Error(), Err: err}
	var f *formula.Error
	if errors.As(err, &f) {
		out.Column, out.Says = f.Column, f.Says
	}
	var shown []string
	for _, name := range e.Reads() {
		if len(shown) == mostShown {
			shown = append(shown, "...")
			break
		}
		if v, there := d.values[name]; there {
			shown = append(shown, name+" is "+show(v))
		}
	}
	if len(shown) > 0 {
		out.Says += " (here " + strings.Join(shown, ", ") + ")"
	}
	return out
}
