package export

import (
	"fmt"
	"math"

	"hemlet/draft"
	"hemlet/geom"
)

// fullnessHigh is what the drawing of one seam that is not plain takes, in mm: a line
// of words and two bars.
const (
	fullnessWordsHigh = reportText*lineStep + 1
	fullnessBar       = 2.4
	fullnessApart     = 5.2
)

// fullness draws every seam that is not plain: its fuller side flat above, what it is
// sewn to below, both to one scale, and between them what is drawn up to what.
func (c *reporting) fullness() {
	states := c.slots.Fullnesses(c.project)
	longest := 0.0
	for _, st := range states {
		longest = max(longest, st.Fuller, st.Other)
	}
	if longest <= 0 || math.IsInf(longest, 0) {
		return
	}
	c.flow.chapter("Fullness", "Above, the fuller side as it lies flat; below, what it is sewn to. The shaded stretch is drawn up. All to one scale.")
	for _, st := range states {
		c.flow.need(fullnessWordsHigh*2 + fullnessApart + 2*fullnessBar)
		c.flow.say(c.flow.left, c.flow.width, reportText, false, c.fullnessWords(st))
		c.flow.skip(0.8)
		c.bars(st, c.flow.width/longest)
		c.flow.skip(4)
	}
}

// fullnessWords says what is drawn up to what.
func (c *reporting) fullnessWords(st draft.FullnessState) string {
	words := fmt.Sprintf("%s  %s: %s", c.letter[st.Seam.ID], st.Seam.Name, st.Seam.Fullness)
	if st.Drawn <= 0 {
		return words + ", but there is no room for it where it is to lie"
	}
	words += fmt.Sprintf(", %s to %s, %s to 1", c.unit.Format(st.Flat), c.unit.Format(st.Drawn), decimals(st.Ratio, 2))
	if want := decimals(st.Want, 2); want != decimals(st.Ratio, 2) {
		words += ", meant " + want
	}
	return words + clothWords(st)
}

// clothWords says what the cloth of a gathered seam takes.
func clothWords(st draft.FullnessState) string {
	if st.Seam.Fullness != draft.Gathers {
		return ""
	}
	name := "cloth not chosen"
	if st.Cloth != nil && st.Cloth.Name != "" {
		name = st.Cloth.Name
	}
	switch {
	case st.Most <= 1:
		return fmt.Sprintf("; %s is too heavy to gather", name)
	case st.KnownBy == draft.ByNothing:
		return fmt.Sprintf("; %s, taken for quilting cotton: %s to %s", name, decimals(st.Least, 1), decimals(st.Most, 1))
	default:
		return fmt.Sprintf("; %s takes %s to %s", name, decimals(st.Least, 1), decimals(st.Most, 1))
	}
}

// The lines of the bars; lengths in mm.
var (
	barRim  = stroke{0.25, inkColour, nil}
	barTie  = stroke{0.18, inkColour, []float64{0.9, 0.7}}
	barFold = stroke{0.2, inkColour, nil}
)

const barFill = "#e6dfd0"

// bars draws the two sides of a seam, k mm on paper for each of theirs.
func (c *reporting) bars(st draft.FullnessState, k float64) {
	f := c.flow
	from, to := k*st.From, k*st.To
	drawn := from + k*st.Drawn
	fuller, other := k*st.Fuller, k*st.Other
	left, top := f.left, f.y
	low := top - fullnessBar - fullnessApart
	f.draw(func(p *form) {
		bar := func(x0, x1, y float64, fill bool) {
			box := rectPath(geom.Rect{Min: geom.Pt(left+x0, y-fullnessBar), Max: geom.Pt(left+x1, y)})
			if fill {
				p.fillPath(box, barFill)
			}
			p.trace(box, geom.Identity, barRim)
		}
		bar(0, fuller, top, false)
		bar(from, to, top, true)
		bar(0, other, low, false)
		if drawn > from && drawn <= other+1e-6 {
			bar(from, drawn, low, true)
			foldsIn(p, left+from, left+drawn, low, to-from)
			p.line(geom.Pt(left+to, top-fullnessBar), geom.Pt(left+drawn, low), barTie)
		}
		p.line(geom.Pt(left+from, top-fullnessBar), geom.Pt(left+from, low), barTie)
	})
	f.skip(2*fullnessBar + fullnessApart)
}

// foldsIn draws the folds of what is drawn up from flat mm to the room between x0 and
// x1, the closer the fuller it is.
func foldsIn(p *form, x0, x1, top, flat float64) {
	const folds, most = 3.5, 400 // mm of flat cloth a fold, and how many are drawn
	n := min(int(flat/folds), most)
	for i := 1; i < n; i++ {
		x := x0 + (x1-x0)*float64(i)/float64(n)
		p.line(geom.Pt(x, top-0.3), geom.Pt(x, top-fullnessBar+0.3), barFold)
	}
}
