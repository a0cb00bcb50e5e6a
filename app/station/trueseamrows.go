package station

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// seamRow is one seam as the table shows it.
type seamRow struct {
	seam   *draft.Seam
	letter string
	// at is its place among the seams.
	at int
	// state is how it stands; err says why that cannot be told.
	state draft.SeamState
	err   error
	level control.Level
	word  string
	// sides names both sides.
	sides string
}

// seamRowsOf returns the seams of the project with how they stand.
func seamRowsOf(p *draft.Project, slots *draft.Slots, report draft.Report) []seamRow {
	graver := map[draft.ID]control.Level{}
	for _, f := range report.Findings {
		if f.Seam != "" && f.Open() && f.Level != draft.Remark {
			graver[f.Seam] = max(graver[f.Seam], levelOf(f.Level))
		}
	}
	rows := make([]seamRow, len(p.Seams))
	for i, s := range p.Seams {
		r := seamRow{seam: s, letter: draft.Letter(i), at: i, sides: draft.SideName(p, s.A) + " – " + draft.SideName(p, s.B)}
		r.state, r.err = slots.SeamState(p, s)
		r.level, r.word = r.stands(report, graver[s.ID])
		rows[i] = r
	}
	return rows
}

// levelOf returns the mark of a finding's level.
func levelOf(l draft.Gravity) control.Level {
	return [...]control.Level{draft.Problem: control.Problem, draft.LookAgain: control.LookAgain, draft.Remark: control.Note}[l]
}

// stands says how the seam stands in a word.
func (r seamRow) stands(report draft.Report, told control.Level) (control.Level, string) {
	switch {
	case r.err != nil:
		return control.Problem, "edge gone"
	case !r.state.Holds && desk.SeamWaived(report, r.seam.ID):
		return control.Note, "you live with it"
	case !r.state.Holds && r.state.Want == 1 && r.seam.Fullness == draft.Plain:
		return control.Problem, "not equal"
	case !r.state.Holds && r.state.Diff < 0:
		return control.Problem, "too little"
	case !r.state.Holds:
		return control.Problem, "too much"
	case told == control.Problem || told == control.LookAgain:
		return told, "see findings"
	}
	return control.Holds, "holds"
}

// diff returns by how much the seam is off, in mm: of two sides that are to be equal how
// much longer a is than b, else how much longer than meant the fuller side is.
func (r seamRow) diff() float64 {
	if r.plain() {
		return r.state.A - r.state.B
	}
	return r.state.Diff
}

func (r seamRow) plain() bool { return r.state.Want == 1 }

// ratioWords says the ratio as it is and, where that is meant to be another than 1, as it
// is meant.
func (r seamRow) ratioWords() string {
	if r.err != nil {
		return ""
	}
	now := strconv.FormatFloat(r.state.Ratio, 'f', 3, 64)
	if r.plain() {
		return now
	}
	return now + " of " + strconv.FormatFloat(math.Round(r.state.Want*1000)/1000, 'f', -1, 64)
}

// withSign returns a difference in the unit without its name, with its sign.
func withSign(u draft.Unit, mm float64) string {
	text := u.FormatBare(math.Abs(mm))
	switch {
	case math.Abs(mm) < u.Step()/2:
		return text
	case mm < 0:
		return "−" + text
	}
	return "+" + text
}

// seamFilter says which seams are listed.
type seamFilter int

// The filters, with the words for them in the same order.
const (
	allSeams seamFilter = iota
	offSeams
	fullSeams
)

var seamFilterWords = []string{"all", "off", "with fullness"}

func (f seamFilter) keeps(r seamRow) bool {
	switch f {
	case offSeams:
		return r.level == control.Problem || r.level == control.LookAgain
	case fullSeams:
		return r.seam.Fullness != draft.Plain
	}
	return true
}

// seamColumn is a column of the table.
type seamColumn int

// The columns in order.
const (
	columnState seamColumn = iota
	columnLetter
	columnName
	columnSides
	columnA
	columnB
	columnDiff
	columnRatio
	columnLimit
	seamColumnCount
)

var seamColumnWords = [seamColumnCount]string{"State", "Mark", "Seam", "Sews together", "Side a", "Side b", "Off by", "Ratio", "Allowed"}

var seamColumnHints = [seamColumnCount]string{
	"Whether the sides fit; press to have those first that do not",
	"The letter that both edges bear on the bench",
	"What the seam is called",
	"The edges of side a, and those of side b",
	"How long side a is, over all pieces and copies in it",
	"How long side b is, over all pieces and copies in it",
	"How much longer a is than b, or how much longer than meant the fuller side is",
	"How much longer the fuller side is, and how much longer it is meant to be",
	"The difference that sewing takes up unseen",
}

// largestFirst reports whether the first press on a column lists the most first: what is
// worst, or fullest.
func (c seamColumn) largestFirst() bool {
	return c == columnState || c == columnDiff || c == columnRatio
}

// compare compares two seams by a column; those that are equal keep the order of the pattern.
func (c seamColumn) compare(a, b seamRow) int {
	switch c {
	case columnState:
		return cmp.Compare(b.level, a.level)
	case columnName:
		return strings.Compare(strings.ToLower(a.seam.Name), strings.ToLower(b.seam.Name))
	case columnSides:
		return strings.Compare(strings.ToLower(a.sides), strings.ToLower(b.sides))
	case columnA:
		return cmp.Compare(a.state.A, b.state.A)
	case columnB:
		return cmp.Compare(a.state.B, b.state.B)
	case columnDiff:
		return cmp.Compare(math.Abs(b.state.Diff), math.Abs(a.state.Diff)) // the worst first
	case columnRatio:
		return cmp.Compare(b.state.Ratio, a.state.Ratio)
	case columnLimit:
		return cmp.Compare(a.state.Limit, b.state.Limit)
	}
	return cmp.Compare(a.at, b.at)
}

// sorted returns the rows that the filter keeps in the order of a column.
func sorted(rows []seamRow, f seamFilter, by seamColumn, backward bool) []seamRow {
	var out []seamRow
	for _, r := range rows {
		if f.keeps(r) {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b seamRow) int {
		if backward {
			return by.compare(b, a)
		}
		return by.compare(a, b)
	})
	return out
}

// cells returns the texts of a row, without the state.
func (r seamRow) cells(u draft.Unit) [seamColumnCount]string {
	out := [seamColumnCount]string{columnState: r.word, columnLetter: r.letter, columnName: r.seam.Name, columnSides: r.sides}
	if r.err != nil {
		return out
	}
	out[columnA], out[columnB] = u.FormatBare(r.state.A), u.FormatBare(r.state.B)
	out[columnDiff] = withSign(u, r.diff())
	out[columnRatio] = r.ratioWords()
	out[columnLimit] = fmt.Sprint("± ", u.FormatBare(r.state.Limit))
	return out
}
