package export

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"time"

	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/geom"
)

// reporting is a report while it is laid out.
type reporting struct {
	flow    *flow
	project *draft.Project // its pattern
	slots   *draft.Slots
	checked draft.Report
	made    time.Time
	unit    draft.Unit
	// open are the findings that are told by number, from 1.
	open, waived []draft.Finding
	// letter is the letter of each seam.
	letter map[draft.ID]string
}

func newReporting(p *draft.Project, f *flow, made time.Time) *reporting {
	slots := draft.NewSlots()
	c := &reporting{flow: f, project: p.Pattern(), slots: slots, checked: slots.Check(p), made: made, unit: p.Unit, letter: make(map[draft.ID]string)}
	for _, found := range c.checked.Findings {
		if found.Open() {
			c.open = append(c.open, found)
		} else {
			c.waived = append(c.waived, found)
		}
	}
	for i, seam := range c.project.Seams {
		c.letter[seam.ID] = draft.Letter(i)
	}
	return c
}

func (c *reporting) title() string {
	if c.project.Name == "" {
		return "Report of the checks"
	}
	return c.project.Name + ": report of the checks"
}

// levelSign returns the sign of a level.
func levelSign(l draft.Gravity) sign {
	switch l {
	case draft.Problem:
		return signProblem
	case draft.LookAgain:
		return signLook
	default:
		return signNote
	}
}

// heading writes what the report is of, for whom, from when, and how many findings of
// each level there are.
func (c *reporting) heading() {
	f := c.flow
	name := c.project.Name
	if name == "" {
		name = "Pattern without a name"
	}
	f.say(f.left, f.width, reportTitle, true, name)
	f.skip(0.6)
	words := "Report of the checks, " + c.made.Format("2 January 2006")
	if who := c.wearers(); who != "" {
		words += ", for " + who
	}
	f.say(f.left, f.width, reportText, false, words+". Lengths in "+c.unit.Symbol()+", over all copies of a piece.")
	f.skip(2.4)
	f.rule(formRule)
	f.skip(2.4)
	c.verdict()
	c.counts()
}

// verdict says whether the pattern can be cut: not while anything above a note is open, nor
// while the wearer's measures are wanted to tell.
func (c *reporting) verdict() {
	f := c.flow
	words, s := "Ready to cut", signHolds
	if way := c.inTheWay(); len(way) > 0 {
		words, s = "Not ready to cut: "+strings.Join(way, "; "), signLook
		if len(c.open) > 0 && c.open[0].Level == draft.Problem {
			s = signProblem
		}
	}
	f.sign(geom.Pt(f.left+1.4, f.y-0.42*reportHead), s)
	f.say(f.left+4.4, f.width-4.4, reportHead, true, words+".")
	f.skip(1.4)
}

// mostInTheWay is how many things a verdict names.
const mostInTheWay = 4

// inTheWay lists what keeps a pattern from being cut.
func (c *reporting) inTheWay() []string {
	if len(c.project.Pieces) == 0 {
		return []string{"there are no pieces"}
	}
	var list []string
	for _, found := range c.open {
		if found.Level < draft.Remark {
			list = append(list, found.About)
		}
	}
	var wanted []string
	for _, pr := range c.slots.Proofs(c.project) {
		if pr.Known || len(pr.Measures) == 0 {
			continue
		}
		if m := body.Words(pr.Measures[0]); !slices.Contains(wanted, m) {
			wanted = append(wanted, m)
		}
	}
	var distinct []string
	for _, about := range list {
		if !slices.Contains(distinct, about) {
			distinct = append(distinct, about)
		}
	}
	list = distinct
	if n := len(list); n > mostInTheWay {
		list = append(list[:mostInTheWay:mostInTheWay], fmt.Sprintf("and %d more", n-mostInTheWay))
	}
	if len(wanted) > 0 {
		list = append(list, "not measured yet: "+strings.Join(wanted, ", "))
	}
	return list
}

func (c *reporting) wearers() string {
	var names []string
	for _, w := range c.project.Wearers {
		if w.Name != "" {
			names = append(names, w.Name)
		}
	}
	return strings.Join(names, ", ")
}

// counts writes how many findings there are of each level, each with its sign.
func (c *reporting) counts() {
	f := c.flow
	count := map[draft.Gravity]int{}
	for _, found := range c.open {
		count[found.Level]++
	}
	x := f.left
	say := func(s sign, words string) {
		f.sign(f.besides(x), s)
		f.write(x+4.4, reportText, true, words)
		x += 4.4 + textWidth(words, reportText, true) + 7
	}
	if len(c.open) == 0 {
		say(signHolds, "nothing found")
	}
	for _, l := range []draft.Gravity{draft.Problem, draft.LookAgain, draft.Remark} {
		if n := count[l]; n > 0 {
			say(levelSign(l), levelCount(l, n))
		}
	}
	if n := len(c.waived); n > 0 {
		f.write(x, reportText, false, fmt.Sprintf("%d lived with", n))
	}
	f.skip(reportText * lineStep)
}

func levelCount(l draft.Gravity, n int) string {
	one, many := "problem", "problems"
	switch l {
	case draft.LookAgain:
		one, many = "place to look at again", "places to look at again"
	case draft.Remark:
		one, many = "note", "notes"
	}
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// levelTitle heads the findings of a level.
func levelTitle(l draft.Gravity) string {
	switch l {
	case draft.Problem:
		return "Problems: cloth would be lost"
	case draft.LookAgain:
		return "Look again: probably not meant"
	default:
		return "Notes: worth knowing"
	}
}

// findings writes the findings by level, numbered, and those that the maker lives with.
func (c *reporting) findings() {
	if len(c.open)+len(c.waived) == 0 {
		return
	}
	f := c.flow
	f.chapter("Findings", "The numbers stand on the drawings of the pieces, where a finding has a place.")
	for i, found := range c.open {
		if i == 0 || c.open[i-1].Level != found.Level {
			f.need(16)
			f.sign(f.besides(f.left), levelSign(found.Level))
			f.say(f.left+4.4, f.width-4.4, reportText, true, levelTitle(found.Level))
			f.skip(1)
		}
		c.finding(fmt.Sprint(i+1), found)
	}
	if len(c.waived) > 0 {
		f.need(16)
		f.say(f.left, f.width, reportText, true, "Lived with")
		f.skip(1)
	}
	for _, found := range c.waived {
		c.finding("", found)
	}
}

// findingIndent is where the words of a finding begin, in mm from the left margin.
const findingIndent = 9

func (c *reporting) finding(number string, found draft.Finding) {
	f := c.flow
	x, width := f.left+findingIndent, f.width-findingIndent
	says := setLines(strings.Fields(found.Says), width, reportText)
	if high := float64(len(says)+2) * reportText * lineStep; high < (f.top-f.bottom)/2 {
		f.need(high)
	}
	if number != "" {
		f.write(f.left+findingIndent-2-textWidth(number, reportText, true), reportText, true, number)
	}
	f.say(x, width, reportText, true, found.About)
	for _, line := range says {
		f.say(x, width, reportText, false, line)
	}
	switch {
	case found.Waived != "":
		f.say(x, width, reportText, false, "It may stay: "+found.Waived)
	case len(found.Mends) > 0:
		f.say(x, width, reportNote, false, "What would mend it: "+mendWords(found.Mends))
	}
	f.skip(1.4)
}

// mendWords lists what would put a finding right.
func mendWords(mends []draft.Mend) string {
	words := make([]string, len(mends))
	for i, m := range mends {
		words[i] = lowered(m.Title)
	}
	return strings.Join(words, "; ")
}

// lowered begins words with a small letter.
func lowered(words string) string {
	if words == "" {
		return ""
	}
	return strings.ToLower(words[:1]) + words[1:]
}

// seams writes the table of seams.
func (c *reporting) seams() {
	if len(c.checked.Seams) == 0 {
		return
	}
	c.flow.chapter("Seams", "Both edges of a seam bear its letter.")
	var rows [][]cell
	for _, st := range c.checked.Seams {
		state := cell{sign: signHolds, words: "holds"}
		if !st.Holds {
			state = cell{signProblem, c.offWords(st), true}
		}
		rows = append(rows, []cell{
			{words: c.letter[st.Seam.ID], strong: true}, plain(st.Seam.Name),
			plain(draft.SideName(c.project, st.Seam.A)), plain(c.unit.FormatBare(st.A)),
			plain(draft.SideName(c.project, st.Seam.B)), plain(c.unit.FormatBare(st.B)),
			plain(c.offBy(st)), plain(c.ratioWords(st)), state,
		})
	}
	c.flow.table([]column{
		{"", 8}, {"seam", 26}, {"one side", 31}, {"length", 15}, {"other side", 31}, {"length", 15}, {"off by", 17}, {"ratio", 19}, {"state", 28},
	}, rows)
}

// offBy writes by how much a seam is off what is meant, nothing where that is too little to
// measure.
func (c *reporting) offBy(st draft.SeamState) string {
	const least = 0.05 // mm: what rounds to nothing
	if off := math.Abs(st.Diff); off >= least {
		return c.unit.FormatBare(off)
	}
	return "0"
}

// offWords says by how much a seam does not hold.
func (c *reporting) offWords(st draft.SeamState) string {
	off := st.Off(c.project)
	return fmt.Sprintf("%s %s %s", off.Edge, c.unit.FormatSmall(off.By), off.What())
}

// ratioWords writes the ratio as it is and, where it is not that, as it is meant.
func (c *reporting) ratioWords(st draft.SeamState) string {
	if st.Seam.Fullness == draft.Plain {
		return "plain" + c.closedWords(st.Seam)
	}
	ratio, want := decimals(st.Ratio, 2), decimals(st.Want, 2)
	words := ratio + " " + st.Seam.Fullness.String()
	if want != ratio {
		words += ", meant " + want
	}
	return words + c.closedWords(st.Seam)
}

// closedWords says that the sides of a seam are closed and opened, and by how much they
// lap.
func (c *reporting) closedWords(s *draft.Seam) string {
	switch {
	case !s.Opens:
		return ""
	case s.Lap > 0:
		return ", opens, laps " + c.unit.Format(s.Lap)
	default:
		return ", opens"
	}
}

// notches writes the notches of every seam: where they stand along both sides.
func (c *reporting) notches() {
	var rows [][]cell
	for _, seam := range c.project.Seams {
		a, b := c.notchesAlong(seam.A), c.notchesAlong(seam.B)
		if a == "" && b == "" {
			continue
		}
		rows = append(rows, []cell{
			{words: c.letter[seam.ID], strong: true}, plain(seam.Name),
			plain(draft.SideName(c.project, seam.A)), plain(orNone(a)), plain(draft.SideName(c.project, seam.B)), plain(orNone(b)),
		})
	}
	if len(rows) == 0 {
		return
	}
	c.flow.chapter("Notches", "How far along each side, in the order of sewing, from its start. A pair of marks is a double notch.")
	c.flow.table([]column{{"", 8}, {"seam", 27}, {"one side", 32}, {"notches at", 42}, {"other side", 32}, {"notches at", 42}}, rows)
}

func orNone(words string) string {
	if words == "" {
		return "none"
	}
	return words
}

// notchesAlong lists the places of the notches of a run, from its start.
func (c *reporting) notchesAlong(run draft.Run) string {
	var places []string
	before := 0.0
	for _, use := range run {
		piece := c.project.Piece(use.Piece)
		if piece == nil {
			continue
		}
		_, i := piece.Edge(use.Edge)
		if i < 0 {
			continue
		}
		length := c.slots.EdgeLengths(piece)[i]
		for _, m := range alongUse(piece, use, length) {
			words := c.unit.FormatBare(before + m.at)
			if m.double {
				words += " (pair)"
			}
			places = append(places, words)
		}
		before += length
	}
	return strings.Join(places, ", ")
}

// notchAt is a notch at a distance in mm from the start of a use of its edge.
type notchAt struct {
	at     float64
	double bool
}

// alongUse returns the notches of an edge of a length, in the order in which a use runs
// along it.
func alongUse(piece *draft.Piece, use draft.EdgeUse, length float64) []notchAt {
	var list []notchAt
	for _, n := range piece.Notches {
		if n.Edge != use.Edge {
			continue
		}
		at := n.Along(length)
		if use.Reversed {
			at = length - at
		}
		list = append(list, notchAt{at, n.Double})
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].at < list[j].at })
	return list
}

// girths writes how wide the garments are round the levels of their wearers.
func (c *reporting) girths() {
	var rows [][]cell
	for _, g := range c.checked.Girths {
		wearer := ""
		if w := c.project.Wearer(g.Wearer); w != nil {
			wearer = w.Name
		}
		body := c.unit.FormatBare(g.Body)
		if g.Estimated {
			body += " (estimated)"
		}
		state := cell{sign: signHolds, words: "goes round"}
		if g.Ease < 0 {
			state = cell{signProblem, "too tight", true}
		}
		rows = append(rows, []cell{plain(g.Level), plain(g.Garment), plain(c.unit.FormatBare(g.Length)), plain(wearer), plain(body), plain(c.unit.FormatBare(g.Ease)), state})
	}
	if len(rows) == 0 {
		return
	}
	c.flow.chapter("Round the body", "")
	c.flow.table([]column{{"level", 22}, {"garment", 30}, {"measures", 20}, {"wearer", 30}, {"measures", 32}, {"ease", 18}, {"state", 28}}, rows)
}

// foot writes the name of the project and the number of a page below it.
func (c *reporting) foot(to *form, page int) {
	right, left := c.flow.left+c.flow.width, c.flow.left
	y := float64(reportMargin)
	words := fmt.Sprintf("page %d of %d", page, len(c.flow.leaves))
	wide := textWidth(words, reportNote, false)
	to.say(geom.Pt(right-wide, y), reportNote, false, words)
	to.say(geom.Pt(left, y), reportNote, false, fit(c.title(), c.flow.width-wide-4, reportNote, false))
}
