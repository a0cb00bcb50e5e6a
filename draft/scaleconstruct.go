package draft

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// small takes the findings of the checks of pieces whose keys hold the word.
func (c *scaling) small(word, why string) {
	for _, piece := range c.pieces {
		for _, f := range c.slots.checkPiece(c.Project, piece) {
			if strings.Contains(f.Key, "/"+word) {
				c.taken(f, why)
			}
		}
	}
}

func (c *scaling) darts() {
	c.small(smallDart, "Rule of scale: a dart takes in 2 to 3 mm at least.")
}

func (c *scaling) gussets() {
	c.small(smallGusset, "Rule of scale: a gusset has sides of 10 to 12 mm at least.")
}

// panelShare is how many times as long as its narrow end a panel is at least: what is
// shorter is no gore.
const panelShare = 3

// panels finds gores and other panels so narrow at an end that the allowances of their two
// long seams meet there.
func (c *scaling) panels() {
	for _, piece := range c.pieces {
		n := len(piece.Edges)
		for i := range piece.Edges {
			a, b := &piece.Edges[(i+n-1)%n], &piece.Edges[(i+1)%n]
			if n < 3 || piece.Edges[i].Kind == FoldEdge || a.Kind != SeamEdge || b.Kind != SeamEdge {
				continue
			}
			wide := piece.EdgeLength(i)
			if long := min(piece.EdgeLength((i+n-1)%n), piece.EdgeLength((i+1)%n)); wide <= Grid || long < panelShare*wide {
				continue
			}
			seamA, seamB := c.seamWith(piece, a), c.seamWith(piece, b)
			if seamA == nil || seamB == nil || c.tube(piece, a, b) {
				continue
			}
			if taken := a.Allowance.End + b.Allowance.Start; wide < taken {
				c.narrow(piece, &piece.Edges[i], wide, taken, seamA, seamB)
			}
		}
	}
}

// seamWith returns the seam that sews an edge, or nil.
func (c *scaling) seamWith(piece *Piece, e *Edge) *Seam {
	for _, seam := range c.Seams {
		if _, _, k := useOf(seam, EdgeRef{Piece: piece.ID, Edge: e.ID}); k >= 0 {
			return seam
		}
	}
	return nil
}

// tube reports whether two edges of a single copy are sewn to each other, as those of a
// sleeve are.
func (c *scaling) tube(piece *Piece, a, b *Edge) bool {
	seam := c.seamWith(piece, a)
	if len(seam.A) != 1 || len(seam.B) != 1 {
		return false
	}
	x, y := seam.A[0], seam.B[0]
	joins := x.Edge == a.ID && y.Edge == b.ID || x.Edge == b.ID && y.Edge == a.ID
	return joins && x.Piece == y.Piece && x.Copy == y.Copy && x.Half == y.Half
}

func (c *scaling) narrow(piece *Piece, e *Edge, wide, taken float64, seams ...*Seam) {
	u := c.Unit
	a := c.add("panel "+string(piece.ID)+" "+string(e.ID), "The allowances of two seams need room beside each other; fewer panels, each wider, have the same line.",
		"%s is %s wide at its %s, and the allowances of its two seams take %s: they meet. Sew two such panels as one, so that there are half as many.",
		piece.label(), u.Format(wide), e.label(), u.Format(taken))
	a.Piece, a.Edge, a.Value, a.Limit = piece.ID, e.ID, wide, taken
	offered := map[ID]bool{}
	for _, seam := range seams {
		other := partner(seam, piece.ID)
		if q := c.Piece(other); q != nil && !offered[seam.ID] {
			offered[seam.ID] = true
			a.mend("Make one piece of it and "+q.label(), "join-pieces", "seam", string(seam.ID))
		}
	}
}

// partner returns the piece to which a seam of two single edges sews another, or empty
// where it is sewn to a copy of itself.
func partner(seam *Seam, id ID) ID {
	if len(seam.A) != 1 || len(seam.B) != 1 {
		return ""
	}
	for _, u := range [...]EdgeUse{seam.A[0], seam.B[0]} {
		if u.Piece != id {
			return u.Piece
		}
	}
	return ""
}

// rows proposes sizes for fastenings, which a fit leaves as large as they were.
func (c *scaling) rows() {
	for _, piece := range c.pieces {
		for i := range piece.Lines {
			l := &piece.Lines[i]
			was := c.before(piece).Line(l.ID)
			if l.Row == nil || was == nil || was.Row == nil {
				continue
			}
			c.row(piece, l, was.Row)
		}
	}
}

// fasteningSlack is how many times larger or smaller than proposed fastenings may be: they are
// bought, not made.
const fasteningSlack = 1.5

func (c *scaling) row(piece *Piece, l *Line, was *Row) {
	rule := rowRules[l.Row.Kind]
	length := l.Path().Length()
	size := l.Row.Size
	if *l.Row == *was {
		size = roundDown(max(rule.least, was.Size*c.by))
	}
	want := Row{Kind: l.Row.Kind, Size: size}
	count := l.Row.Count
	if room := length - 2*min(rule.end*size, length/4); count > 1 && room < float64(count-1)*size {
		want.fill(length, nil, nil, nil)
		count = min(count, want.Count)
	}
	fits := l.Row.Size <= fasteningSlack*size && size <= fasteningSlack*l.Row.Size
	if fits && count == l.Row.Count {
		return
	}
	u := c.Unit
	what := counted(l.Row.Count, rule.one)
	a := c.add("row "+string(piece.ID)+" "+string(l.ID), "Rule of scale: fastenings get smaller with their wearer, as far as fingers can sew them on.",
		"%s has %s of %s. For %s, take %s of %s.", piece.label(), what, u.Format(l.Row.Size), c.size(), counted(count, rule.one), u.Format(size))
	a.Was, a.Now = u.Format(l.Row.Size), u.Format(size)
	a.Piece, a.Value, a.Limit, a.Adjust, a.Amount = piece.ID, l.Row.Size, size, "size", size
	args := []string{"line", partText(piece.ID, l.ID), "size", mmText(size)}
	if end := min(rule.end*size, length/4); l.Row.First+l.Row.Last > length-float64(count-1)*size || l.Row.First > 2*end {
		args = append(args, "first", mmText(toGrid(end)), "last", mmText(toGrid(end)))
	}
	if count != l.Row.Count {
		args = append(args, "count", fmt.Sprint(count))
	}
	a.retitle = func(m *Mend, size float64) { m.Title = takeWords(count, rule.one, u.Format(size)) }
	a.mend(takeWords(count, rule.one, u.Format(size)), "set-row", args...)
}

func takeWords(n int, one, size string) string { return "Take " + counted(n, one) + " of " + size }

// cloths tells of cloth that stands on the wearer as a heavy one does on a person.
func (c *scaling) cloths() {
	told := map[ID]bool{}
	for _, piece := range c.pieces {
		cloth := c.Cloth(piece.Cloth)
		if cloth == nil || told[cloth.ID] || c.by >= 1 {
			continue
		}
		told[cloth.ID] = true
		if feels := cloth.Thickness / c.by; cloth.Thickness < heavyFrom && feels >= heavyFrom {
			c.thick(cloth, feels)
		}
	}
}

func (c *scaling) thick(cloth *Cloth, feels float64) {
	u := c.Unit
	a := c.add("cloth "+string(cloth.ID), "Cloth does not scale: its thickness and its stiffness stay, and gathers and corners get thick. (Common practice.)",
		"The cloth %s is %s thick. On %s it stands as cloth of %s would on the body that the pattern was made for. Take a thinner and softer one, such as lawn, if you have it.",
		labelOf(cloth.Name, cloth.ID), u.FormatSmall(cloth.Thickness), c.size(), u.Format(feels))
	a.Value, a.Limit = cloth.Thickness, heavyFrom*c.by
	var ids []string
	for _, piece := range c.pieces {
		if piece.Cloth == cloth.ID {
			ids = append(ids, idText(piece.ID))
			if a.Piece == "" {
				a.Piece = piece.ID
			}
		}
	}
	for _, other := range c.Cloths {
		if other.Thickness > 0 && other.Thickness < heavyFrom*c.by && len(a.Mends) < mostOffered {
			a.mend("Cut them from "+labelOf(other.Name, other.ID), "set-cloth", "pieces", strings.Join(ids, " + "), "cloth", string(other.ID))
		}
	}
}

// fullness takes what the checks say of gathers, ease and pleats.
func (c *scaling) fullness() {
	for _, seam := range c.Seams {
		st, err := c.slots.SeamState(c.Project, seam)
		if err != nil || !c.sews(seam) {
			continue
		}
		for _, f := range c.slots.checkFullness(c.Project, st) {
			if strings.HasSuffix(f.Key, "/rows") {
				continue // what the allowances propose
			}
			at := len(c.advice)
			c.taken(f, "Rule of scale: quilting cotton gathers up to 1.5 to 1, lawn 1.5 to 2, sheers 2 to 3; crisp cloth at a sixth of a person eases in 2 % at most.")
			for _, m := range f.Mends {
				if r, ok := m.Args["ratio"]; ok && m.Act == "set-fullness" {
					if ratio, err := strconv.ParseFloat(r, 64); err == nil {
						c.advice[at].Adjust, c.advice[at].Amount, c.advice[at].Ratio = "ratio", ratio, true
						c.advice[at].retitle = func(m *Mend, ratio float64) { m.Title = fmt.Sprintf("Make it %.3g to 1", ratio) }
					}
					break
				}
			}
		}
	}
}

// sews reports whether a seam sews a piece of the fit.
func (c *scaling) sews(seam *Seam) bool {
	for _, run := range [...]Run{seam.A, seam.B} {
		for _, u := range run {
			if c.has(u.Piece) {
				return true
			}
		}
	}
	return false
}

// curves tells of sewn curves that have become tighter than a machine follows.
func (c *scaling) curves() {
	var words []string
	var first Advice
	for _, piece := range c.pieces {
		was := c.before(piece)
		for i := range piece.Edges {
			e := &piece.Edges[i]
			if e.Kind != SeamEdge {
				continue
			}
			now := tightestBend(piece, i)
			j := was.indexOf(e.ID)
			if now >= machineRadius || j < 0 || tightestBend(was, j) < machineRadius {
				continue
			}
			words = append(words, fmt.Sprintf("%s of %s (%s)", e.label(), piece.label(), c.Unit.FormatSmall(now)))
			if len(words) == 1 || now < first.Value {
				first.Piece, first.Edge, first.Value = piece.ID, e.ID, now
			}
		}
	}
	if len(words) == 0 {
		return
	}
	a := c.add("curves", "Rule of scale: a machine sews round a radius of 8 to 10 mm at least.",
		"Curves bend tighter than a machine sews round now: %s. Below %s sew them by hand, or with stitches of 1 mm, and clip them.", list(words, 6), c.Unit.Format(machineRadius))
	a.Piece, a.Edge, a.Value, a.Limit = first.Piece, first.Edge, first.Value, machineRadius
}

// tightestBend returns the smallest radius in mm at which edge i of a piece bends over a
// stretch that a foot feels, +Inf where it is straight.
func tightestBend(p *Piece, i int) float64 {
	const samples = 24 // of a cubic
	least := math.Inf(1)
	for _, s := range p.EdgePath(i) {
		if s.Straight {
			continue
		}
		for k := range samples + 1 {
			if bend := math.Abs(s.Curvature(float64(k) / samples)); bend > 0 {
				least = min(least, 1/bend)
			}
		}
	}
	return least
}

// tubes takes what is proven of tubes that are too narrow to turn or to sew in the round.
func (c *scaling) tubes() {
	for _, pr := range c.slots.Proofs(c.Project) {
		if pr.Kind == ProofTube && !pr.Holds && pr.Known && c.has(pr.Piece) {
			c.taken(pr.finding(), pr.Why)
		}
	}
}
