package draft

import (
	"cmp"
	"math"
	"slices"

	"hemlet/geom"
)

// joinSlack is how near, in mm, the ends of two halves must lie to be one point again:
// far above what rounding to the grid moves them, far below what can be cut.
const joinSlack = 1e-4

// rejoin puts two halves together again after right was moved by m: along their edges
// cut, where they touch (m the identity), or with a gap that is bridged straight, or
// smooth where the edge was a curve. Each edge that the cut divided is one edge again; the
// node at which it was divided goes where the line is the same without it. The lineage
// leads from the edges of the piece that was cut, and from those of the halves where they
// were pieces of their own; new cloth has Old0 == Old1, so that seams go on over it.
func rejoin(left, right half, m geom.Affine, ids *idSource) (*Piece, Lineage, error) {
	var out Outcome
	return rejoinSaying(left, right, m, ids, &out)
}

// rejoinSaying is rejoin that tells what else it changed.
func rejoinSaying(left, right half, m geom.Affine, ids *idSource, out *Outcome) (*Piece, Lineage, error) {
	j := &joining{left: left, right: right.moved(m), ids: ids, out: out, lin: Lineage{}, node: make(map[ID]ID)}
	p := j.ring()
	j.mergeDivided(p)
	lin := left.lin.unite(right.lin).then(j.lin)
	j.firstFirst(p, lin)
	j.marks(p, lin)
	return p, lin, nil
}

// moved returns the half with everything in it moved by m; its lineage stays.
func (h half) moved(m geom.Affine) half {
	q := h.piece.clone()
	if m != geom.Identity {
		q.transform(m)
	}
	h.piece = q
	return h
}

// transform moves everything in a piece that may be written to by m, which keeps
// directions of travel: no mirror image.
func (p *Piece) transform(m geom.Affine) {
	nodes := func(list []Node) {
		for i := range list {
			n := &list[i]
			n.At, n.In, n.Out = m.Apply(n.At), m.ApplyVector(n.In), m.ApplyVector(n.Out)
		}
	}
	for i := range p.Edges {
		nodes(p.Edges[i].Nodes)
	}
	for i := range p.Lines {
		nodes(p.Lines[i].Nodes)
	}
	for i := range p.Darts {
		p.Darts[i].Apex = m.Apply(p.Darts[i].Apex)
	}
	if p.Grain != nil {
		p.Grain.From, p.Grain.To = m.Apply(p.Grain.From), m.Apply(p.Grain.To)
	}
	if p.LabelAt != nil {
		*p.LabelAt = m.Apply(*p.LabelAt)
	}
}

// joining is two halves becoming one.
type joining struct {
	left, right half
	ids         *idSource
	out         *Outcome
	// lin leads from the edges of the halves to those of the whole.
	lin Lineage
	// node says which node of the whole stands for one of the right half.
	node map[ID]ID
	// places are the two at which an edge of one half meets one of the other: that at
	// the start of the left half's cut first.
	places [2]joinPlace
}

// joinPlace is one end of the cut.
type joinPlace struct {
	// before and after are the edges that meet there, of different halves.
	before, after ID
	divided       bool
	// gap says that they did not touch, so that a stretch was put between.
	gap bool
}

// ring returns the edges of the two halves without the cut, still with corners at both
// ends of it.
func (j *joining) ring() *Piece {
	q := j.left.piece.clone()
	q.Origin = cmp.Or(q.Origin, j.right.piece.Origin)
	l, r := j.left.open(), j.right.open()
	for i := range r {
		// Names are those that tell the edges of the left half apart, first of all.
		taken := func(name string) bool {
			same := func(e Edge) bool { return e.Name == name }
			return slices.ContainsFunc(l, same) || slices.ContainsFunc(r[:i], same)
		}
		if stem, _ := nameStem(r[i].Name); stem != "" && taken(r[i].Name) {
			r[i].Name = unusedName(stem, taken)
		}
	}
	// At the start of the left half's cut the left half ends and the right one begins.
	j.places[0] = j.meet(l, r, j.left, j.right, j.left.divided[0])
	j.places[1] = j.meet(r, l, j.right, j.left, j.left.divided[1])
	q.Edges = append(l, r...)
	for _, d := range j.right.piece.Darts {
		// A mouth may reach to the cut, where a node of the left half stands for its own.
		d.From, d.To = cmp.Or(j.node[d.From], d.From), cmp.Or(j.node[d.To], d.To)
		q.Darts = append(q.Darts, d)
	}
	q.followDarts()
	return q
}

// open returns the edges of the half without the cut, from where the cut ends round to
// where it starts.
func (h half) open() []Edge {
	n := len(h.piece.Edges)
	list := make([]Edge, 0, n-1)
	for k := 1; k < n; k++ {
		list = append(list, h.piece.Edges[(h.cut+k)%n])
	}
	return cloneEdges(list)
}

// meet joins the last of the edges before, which are those of half a, to the first of the
// edges after, those of half b.
func (j *joining) meet(before, after []Edge, a, b half, divided bool) joinPlace {
	end := a.piece.Edges[a.cut].Nodes[0]
	start := &after[0].Nodes[0]
	last := &before[len(before)-1]
	place := joinPlace{before: last.ID, after: after[0].ID, divided: divided}
	if end.At.Dist(start.At) <= joinSlack {
		// The left half's node stays, whichever comes first.
		keep, gone := end.ID, start.ID
		if a.piece == j.right.piece {
			keep, gone = start.ID, end.ID
		}
		j.node[gone] = keep
		start.ID, start.In = keep, end.In
		start.Smooth = divided && j.smooth(last, *start, after, b)
		return place
	}
	place.gap = true
	smooth := divided && (end.In != geom.Point{} || start.Out != geom.Point{})
	from := end
	from.Out, from.Smooth = geom.Point{}, false
	start.In, start.Smooth = geom.Point{}, false
	if smooth {
		// Smooth where the edge was a curve: the bridge leaves and arrives in its direction.
		u, v := comesIn(last, end), goesOut(*start, after, b)
		third := end.At.Dist(start.At) / 3
		from.Out, start.In = u.Mul(third), v.Mul(-third)
		from.Smooth, start.Smooth = u != geom.Point{}, v != geom.Point{}
	}
	last.Nodes = append(last.Nodes, from)
	return place
}

// comesIn returns the direction in which an edge comes to the node at its end.
func comesIn(e *Edge, end Node) geom.Point {
	return segment(e.Nodes[len(e.Nodes)-1], end).Tangent(1)
}

// goesOut returns the direction in which the first of the edges of a half leaves its start.
func goesOut(start Node, edges []Edge, h half) geom.Point {
	next := h.piece.Edges[h.cut].Nodes[0]
	switch {
	case len(edges[0].Nodes) > 1:
		next = edges[0].Nodes[1]
	case len(edges) > 1:
		next = edges[1].Nodes[0]
	}
	return segment(start, next).Tangent(0)
}

// smooth reports whether the line goes on smoothly at the node at which the edge before
// ends and the first of the edges after, those of half b, starts.
func (j *joining) smooth(before *Edge, start Node, after []Edge, b half) bool {
	if start.In == (geom.Point{}) && start.Out == (geom.Point{}) {
		return false
	}
	u, v := comesIn(before, start), goesOut(start, after, b)
	return u.Dot(v) > 0 && math.Abs(u.Cross(v)) < rejoinTurn
}

// rejoinTurn is how far, in radians, the two sides of a node may be from one line for the
// edge to be smooth there: what rounding turns a handle of a hundredth of a millimetre.
const rejoinTurn = 1e-4

// mergeDivided makes one edge of each two that the cut had divided.
func (j *joining) mergeDivided(p *Piece) {
	now := make(map[ID]ID)
	current := func(id ID) ID {
		for now[id] != "" {
			id = now[id]
		}
		return id
	}
	for n := range j.places {
		pl := &j.places[n]
		before, after := current(pl.before), current(pl.after)
		b, i := p.Edge(after)
		a, h := p.Edge(before)
		if i < 0 || h < 0 {
			continue
		}
		gap := 0.0
		if pl.gap {
			gap = segment(a.Nodes[len(a.Nodes)-1], b.Nodes[0]).Length()
		}
		la, lb := p.EdgeLength(h), p.EdgeLength(i)
		if !pl.divided || before == after {
			if gap > 0 { // new cloth at a corner is the end of the edge before it
				x := (la - gap) / la
				j.lin = j.lin.then(Lineage{before: {{Edge: before, Old1: 1, New1: x}, {Edge: before, Old0: 1, Old1: 1, New0: x, New1: 1}}})
			}
			continue
		}
		name := joinedName(a, b)
		at := shareOf(la, lb)
		kept := pl.gap || j.wasNode(b.Nodes[0].ID) || !p.dropNode(i)
		p.merge(i, at, kept, j.ids, j.out)
		made := j.out.Made
		now[before], now[after] = made, made
		e, _ := p.Edge(made)
		e.Name = name
		total := la + lb
		heirs := []Heir{{Edge: made, Old1: 1, New1: (la - gap) / total}}
		if gap > 0 {
			heirs = append(heirs, Heir{Edge: made, Old0: 1, Old1: 1, New0: (la - gap) / total, New1: la / total})
		}
		j.lin = j.lin.then(Lineage{before: heirs, after: {{Edge: made, Old1: 1, New0: at, New1: 1}}})
	}
	j.out.Made = ""
}

// wasNode reports whether the whole had the node before it was cut.
func (j *joining) wasNode(id ID) bool {
	if j.left.whole == nil {
		return false
	}
	n, _, _ := j.left.whole.Node(id)
	return n != nil
}

// joinedName returns the name of the edge that a and b become: of two that differ only in the
// number after the name the one without, or with the lower number; else that of the longer.
func joinedName(a, b *Edge) string {
	stemA, _ := nameStem(a.Name)
	stemB, _ := nameStem(b.Name)
	if stemA != stemB {
		if pathOf(a.Nodes).Length() < pathOf(b.Nodes).Length() {
			return b.Name
		}
		return a.Name
	}
	// A number that has more digits is the higher one.
	if cmp.Or(cmp.Compare(len(b.Name), len(a.Name)), cmp.Compare(b.Name, a.Name)) < 0 {
		return b.Name
	}
	return a.Name
}

// firstFirst lets the edge be first that came first before the cut.
func (j *joining) firstFirst(p *Piece, lin Lineage) {
	first := j.left.piece.Edges[0].ID
	if w := j.left.whole; w != nil {
		first = w.Edges[0].ID
	} else if j.left.cut == 0 {
		first = j.left.piece.Edges[1%len(j.left.piece.Edges)].ID
	}
	if heirs := lin[first]; len(heirs) > 0 {
		first = heirs[0].Edge
	}
	if _, i := p.Edge(first); i > 0 {
		p.Edges = append(append([]Edge(nil), p.Edges[i:]...), p.Edges[:i]...)
	}
}

// dropNode makes the corner at which edge i starts superfluous, where the line is the same
// without it and nothing hangs on it, and returns whether it is.
func (p *Piece) dropNode(i int) bool {
	n := p.Edges[i].Nodes[0]
	if p.isFree(n.ID) != nil {
		return false
	}
	before, after := p.nodesAround(i, 0)
	if before.ID == n.ID || after.ID == n.ID || before.ID == after.ID {
		return false
	}
	out, in, ok := undivided(segment(*before, n), segment(n, *after))
	if ok {
		before.Out, after.In = out, in
	}
	return ok
}

// undivideSlack is how far, in mm, the points of two curves that are rounded to the grid
// may be from those of the parts of one curve.
const undivideSlack = 3 * Grid

// undivided returns the handles of the one stretch of which the two are the parts, if they
// are.
func undivided(first, second geom.Segment) (out, in geom.Point, ok bool) {
	if first.Straight && second.Straight {
		chord := geom.Line(first.P0, second.P3)
		t, off := chord.Nearest(first.P3)
		return geom.Point{}, geom.Point{}, off <= Grid && t > 0 && t < 1
	}
	if first.Straight || second.Straight {
		return geom.Point{}, geom.Point{}, false
	}
	a, b := first.P3.Dist(first.P2), second.P1.Dist(second.P0)
	if a == 0 || b == 0 {
		return geom.Point{}, geom.Point{}, false
	}
	best := wholeAt(first, second, a/(a+b))
	// The place of the division follows from two short handles; it is the one that leaves
	// the least error.
	for _, h := range [3]float64{1e-4, 1e-5, 1e-6} {
		lo, hi := wholeAt(first, second, best.t-h), wholeAt(first, second, best.t+h)
		bow := lo.sum + hi.sum - 2*best.sum
		if bow <= 0 {
			continue
		}
		step := h * (lo.sum - hi.sum) / (2 * bow)
		if try := wholeAt(first, second, best.t+min(max(step, -h), h)); try.sum < best.sum {
			best = try
		}
	}
	return best.p1.Sub(first.P0), best.p2.Sub(second.P3), best.most <= undivideSlack
}

// wholeCurve is a cubic taken for the one that was divided at t: its inner points, and by
// how much the points of its parts miss the given ones.
type wholeCurve struct {
	t, sum, most float64
	p1, p2       geom.Point
}

// wholeAt returns the cubic whose parts, divided at t, come nearest to the two by least
// squares over the points that follow from its inner two.
func wholeAt(first, second geom.Segment, t float64) wholeCurve {
	r := 1 - t
	p0, p3 := first.P0, second.P3
	rows := [5]struct {
		a, b float64
		want geom.Point
	}{
		{t, 0, first.P1.Sub(p0.Mul(r))},
		{2 * t * r, t * t, first.P2.Sub(p0.Mul(r * r))},
		{3 * t * r * r, 3 * t * t * r, first.P3.Sub(p0.Mul(r * r * r)).Sub(p3.Mul(t * t * t))},
		{r * r, 2 * t * r, second.P1.Sub(p3.Mul(t * t))},
		{0, r, second.P2.Sub(p3.Mul(t))},
	}
	var aa, ab, bb float64
	var ra, rb geom.Point
	for _, q := range rows {
		aa, ab, bb = aa+q.a*q.a, ab+q.a*q.b, bb+q.b*q.b
		ra, rb = ra.Add(q.want.Mul(q.a)), rb.Add(q.want.Mul(q.b))
	}
	det := aa*bb - ab*ab
	w := wholeCurve{t: t, sum: math.Inf(1), most: math.Inf(1)}
	if !(det > 0) {
		return w
	}
	w.p1, w.p2 = ra.Mul(bb).Sub(rb.Mul(ab)).Mul(1/det), rb.Mul(aa).Sub(ra.Mul(ab)).Mul(1/det)
	w.sum, w.most = 0, 0
	for _, q := range rows {
		miss := w.p1.Mul(q.a).Add(w.p2.Mul(q.b)).Dist(q.want)
		w.sum, w.most = w.sum+miss*miss, max(w.most, miss)
	}
	return w
}
