package draft

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// edgeRole is how an edge is sewn, as far as its allowance goes.
type edgeRole int

const (
	plainRole edgeRole = iota
	gatheredRole
	hemRole
	casingRole
)

var edgeRoles = [...]struct{ key, words, why string }{
	plainRole:    {"seams", "Allowances", "Rule of scale: allowances go by thread and fingers, not by the wearer."},
	gatheredRole: {"gathers", "Allowances of gathered seams", "Rule of scale: two rows of gathering stitches need 5 to 6 mm, which are trimmed to 3 once they are sewn. What they are sewn to has as much: cut edge lies on cut edge."},
	hemRole:      {"hems", "Hems", "Rule of scale: a hem gets smaller with its wearer, but turned twice it is 3 mm and 3 mm at least."},
	casingRole:   {"casings", "Casings", "Rule of scale: a casing has to be threaded, and is 4 mm at least beside what is turned in."},
}

// Hems are left alone between these shares of what is proposed: how deep one is, is style.
const shallowHem, deepHem = 0.6, 1.5

// proposal is an allowance that edges of one role should have.
type proposal struct {
	role        edgeRole
	width, trim float64
	edges       []allowed
}

// allowed is an edge with the allowance that is out of scale.
type allowed struct {
	piece *Piece
	edge  *Edge
}

// allowances proposes allowances, together for all edges that get the same.
func (c *scaling) allowances() {
	var list []*proposal
	for _, w := range c.levelled() {
		if !w.off {
			continue
		}
		at := slices.IndexFunc(list, func(x *proposal) bool { return x.role == w.role && x.width == w.width && x.trim == w.trim })
		if at < 0 {
			at = len(list)
			list = append(list, &proposal{role: w.role, width: w.width, trim: w.trim})
		}
		list[at].edges = append(list[at].edges, w.allowed)
	}
	slices.SortStableFunc(list, func(a, b *proposal) int { return int(a.role) - int(b.role) })
	for _, x := range list {
		c.propose(x)
	}
}

// wantedWidth is the allowance that an edge should have, with what is left of it after
// sewing, and whether the one that it has is off.
type wantedWidth struct {
	allowed
	role        edgeRole
	width, trim float64
	off         bool
}

// levelled returns what the edges of the pieces should have. Where one side of a plain or
// gathered seam gets another allowance, the other side gets the same: they are sewn cut edge
// on cut edge.
func (c *scaling) levelled() []*wantedWidth {
	var list []*wantedWidth
	of := map[EdgeRef]*wantedWidth{}
	for _, piece := range c.pieces {
		for i := range piece.Edges {
			w := &wantedWidth{allowed: allowed{piece, &piece.Edges[i]}}
			w.role, w.width, w.trim, w.off = c.allowanceFor(piece, i)
			list = append(list, w)
			of[EdgeRef{Piece: piece.ID, Edge: w.edge.ID}] = w
		}
	}
	for _, seam := range c.Seams {
		var sewn []*wantedWidth
		for _, run := range [...]Run{seam.A, seam.B} {
			for _, u := range run {
				if w := of[EdgeRef{Piece: u.Piece, Edge: u.Edge}]; w != nil && w.width > 0 && w.edge.Kind == SeamEdge {
					sewn = append(sewn, w)
				}
			}
		}
		level(sewn)
	}
	return list
}

// level gives all edges of a seam the widest that one of them is to get.
func level(sewn []*wantedWidth) {
	var widest *wantedWidth
	for _, w := range sewn {
		if w.off && (widest == nil || w.width > widest.width) {
			widest = w
		}
	}
	if widest == nil {
		return
	}
	for _, w := range sewn {
		w.role, w.width, w.trim = widest.role, widest.width, widest.trim
		w.off = w.edge.Allowance.Widest() != w.width || w.trim > 0 && w.edge.Allowance.TrimTo != w.trim
	}
}

// allowanceFor returns the role of edge i of a piece and the allowance that it should have,
// with what is left of it after sewing, and whether it is off.
func (c *scaling) allowanceFor(piece *Piece, i int) (role edgeRole, width, trim float64, off bool) {
	e := &piece.Edges[i]
	has := e.Allowance.Widest()
	if has == 0 || e.Allowance.Start != e.Allowance.End || piece.SlitSide(i) {
		return 0, 0, 0, false // bound, or tapering to a point
	}
	now := has
	if was, _ := c.before(piece).Edge(e.ID); was != nil && was.Allowance == e.Allowance {
		now = has * c.by // as the pattern has it, nobody has looked at it yet
	}
	r := c.rule
	switch e.Kind {
	case SeamEdge:
		if c.gathered(piece, e) && r.most <= gatherTo {
			return gatheredRole, gatherTo, gatherTrim, has < gatherAllowance || has > gatherTo || e.Allowance.TrimTo == 0
		}
		return plainRole, roundDown(min(max(now, r.least), r.most)), 0, has < r.least || has > r.most
	case HemEdge:
		width = roundDown(max(now, r.most))
		return hemRole, width, 0, has < shallowHem*width || has > deepHem*width
	case CasingEdge:
		width = roundDown(max(now, leastCasing+r.least))
		return casingRole, width, 0, has < leastCasing || has > deepHem*width
	}
	return 0, 0, 0, false
}

// gatherTo is the allowance in mm at which a gathered edge is cut: gatherAllowance to this.
const gatherTo = 6

// gathered reports whether an edge is sewn in a seam with gathers, on either side: the
// stitches go through both.
func (c *scaling) gathered(piece *Piece, e *Edge) bool {
	for _, seam := range c.Seams {
		if seam.Fullness == Gathers {
			if _, _, k := useOf(seam, EdgeRef{Piece: piece.ID, Edge: e.ID}); k >= 0 {
				return true
			}
		}
	}
	return false
}

// propose tells of one proposal.
func (c *scaling) propose(x *proposal) {
	u, role := c.Unit, edgeRoles[x.role]
	least, most := math.Inf(1), 0.0
	var edges, names []string
	for _, on := range x.edges {
		w := on.edge.Allowance.Widest()
		least, most = min(least, w), max(most, w)
		edges = append(edges, on.piece.edgeText(on.edge))
		if name := on.piece.label(); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	was := u.Format(most)
	if u.Format(least) != was {
		was = fmt.Sprintf("%s to %s", u.Format(least), was)
	}
	a := c.add(fmt.Sprintf("%s %g", role.key, x.width), role.why, "%s of %s (%s) are %s wide%s. For %s, %s.",
		role.words, list(names, 4), counted(len(edges), "edge"), was, x.untrimmed(), c.size(), c.bound(x))
	a.Was, a.Now, a.Adjust, a.Amount = was, u.Format(x.width), "width", x.width
	if x.trim > 0 {
		a.Now += ", trimmed to " + u.Format(x.trim)
	}
	a.Value, a.Limit = most, x.width
	a.Piece, a.Edge = x.edges[0].piece.ID, x.edges[0].edge.ID
	args := []string{"edges", strings.Join(edges, " + "), "width", mmText(x.width)}
	if x.trim > 0 {
		args = append(args, "trim", mmText(x.trim))
	} else if x.width <= x.widestTrim() {
		args = append(args, "trim", "0mm")
	}
	a.retitle = func(m *Mend, width float64) {
		trim := x.trim
		if width <= trim {
			trim = 0 // nothing is left to be trimmed
			m.Args["trim"] = "0mm"
		}
		m.Title = widthTitle(u, width, trim)
	}
	a.mend(widthTitle(u, x.width, x.trim), "set-allowance", args...)
}

// widthTitle names the mend that sets an allowance, trimmed to what is left of it, 0 for
// untrimmed.
func widthTitle(u Unit, width, trim float64) string {
	title := "Make them " + u.Format(width) + " wide"
	if trim > 0 {
		title += ", trimmed to " + u.Format(trim)
	}
	return title
}

// untrimmed says that edges that should be trimmed are not.
func (x *proposal) untrimmed() string {
	if x.trim > 0 && x.widestTrim() == 0 {
		return " and not trimmed"
	}
	return ""
}

// widestTrim returns the widest allowance that is left of the edges after sewing.
func (x *proposal) widestTrim() float64 {
	widest := 0.0
	for _, on := range x.edges {
		widest = max(widest, on.edge.Allowance.TrimTo)
	}
	return widest
}

// bound says what is usual at the scale.
func (c *scaling) bound(x *proposal) string {
	u := c.Unit
	switch x.role {
	case gatheredRole:
		return fmt.Sprintf("cut them %s wide and trim them to %s once they are sewn", u.Format(x.width), u.Format(x.trim))
	case hemRole:
		if x.width < 2*leastDoubleHem {
			return fmt.Sprintf("a hem of %s, turned once, is deep enough; turned twice it would be %s", u.Format(x.width), u.Format(2*leastDoubleHem))
		}
		return fmt.Sprintf("a hem of %s is as deep", u.Format(x.width))
	case casingRole:
		return fmt.Sprintf("a casing of %s will do", u.Format(x.width))
	}
	return fmt.Sprintf("seams have %s to %s", u.Format(c.rule.least), u.Format(c.rule.most))
}

// counted writes a number of things.
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
