package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"

	"hemlet/geom"
)

// spreadDone is what became of the two edges.
type spreadDone struct {
	lineage Lineage
	// nearGrew and farGrew are by how much they got longer, in mm.
	nearGrew, farGrew float64
	// gaps are the nodes of the gaps that are taken up again, in the direction of their
	// edge, with the index of the opening.
	gaps []spreadGap
}

type spreadGap struct {
	opening  int
	edge     ID
	from, to ID
}

// do spreads the piece. The near edge gets longer by grow mm in all, for which the
// openings are scaled; with grow 0 they are taken as they are.
func (w *spread) do(grow float64, out *Outcome) (spreadDone, error) {
	old := w.piece.clone()
	w.rulings = make(map[rulingKey]ruling)
	w.scale = 1
	if err := w.check(); err != nil {
		return spreadDone{}, err
	}
	w.places = w.cells()
	near, err := w.divide(&w.near, true, w.places)
	if err != nil {
		return spreadDone{}, err
	}
	var far []bankNode
	if w.far.edge >= 0 {
		if far, err = w.divide(&w.far, false, w.places); err != nil {
			return spreadDone{}, err
		}
	}
	w.addPlaces(near, far)
	if err := w.fit(near, grow); err != nil {
		return spreadDone{}, err
	}
	w.kinked = false
	nearOut := w.moved(&w.near, true, near)
	var farOut []Node
	if w.far.edge >= 0 {
		farOut = w.moved(&w.far, false, far)
	}
	if w.kinked {
		return spreadDone{}, errors.New("the slashes run so slantwise to the edge that it would get a kink; let them run to another edge, or spread less")
	}
	done := spreadDone{lineage: Lineage{}}
	done.nearGrew = w.trace(done.lineage, w.near.edge, near, nearOut)
	if w.far.edge >= 0 {
		done.farGrew = w.trace(done.lineage, w.far.edge, far, farOut)
	}
	done.gaps = append(w.gaps(w.near.edge, near), w.gaps(w.far.edge, far)...)
	w.piece.moveMarks(w.mover(near, far), out)
	w.lay(near, nearOut, farOut)
	w.keepGrain(old.Grain)
	for _, g := range done.gaps {
		w.piece.Darts = append(w.piece.Darts, w.folds(g))
	}
	w.tidy(near, far, done.gaps)
	return done, w.piece.soundAfter(old)
}

// addPlaces has the motion worked out at every node of the two edges and at the ruling
// that is fixed.
func (w *spread) addPlaces(near, far []bankNode) {
	for _, n := range slices.Concat(near, far) {
		w.places = append(w.places, n.s)
	}
	w.places = append(w.places, 0, 1, w.fixed)
	sort.Float64s(w.places)
	w.places = slices.Compact(w.places)
}

// fit finds the scale at which the near edge gets longer by grow mm.
func (w *spread) fit(near []bankNode, grow float64) error {
	if grow == 0 {
		w.integrate()
		return nil
	}
	was := w.bankLength(near, plainNodes(near))
	miss := func(scale float64) float64 {
		w.scale = scale
		w.integrate()
		return w.bankLength(near, w.moved(&w.near, true, near)) - was - grow
	}
	x0, x1 := 0.0, 1.0
	f0, f1 := miss(x0), miss(x1)
	for range 40 {
		if f1 == f0 || math.Abs(f1) < Grid/100 {
			break
		}
		x2 := x1 - f1*(x1-x0)/(f1-f0)
		x2 = min(max(x2, -20), 20)
		x0, f0 = x1, f1
		x1, f1 = x2, miss(x2)
	}
	if !(math.Abs(f1) < meantSlack) {
		return errors.New("that much cannot be spread there")
	}
	return nil
}

func plainNodes(list []bankNode) []Node {
	nodes := make([]Node, len(list))
	for i := range list {
		nodes[i] = list[i].Node
	}
	return nodes
}

// counts reports whether the stretch that follows node k counts as length of the edge.
func (w *spread) counts(list []bankNode, k int) bool {
	switch w.kind(list, k) {
	case stretchIsDart:
		return false
	case stretchIsGap:
		return !w.isMouth(list[k])
	default:
		return true
	}
}

// bankLength returns the length in mm of the edge that runs along the nodes.
func (w *spread) bankLength(list []bankNode, nodes []Node) float64 {
	sum := 0.0
	for k := 0; k+1 < len(nodes); k++ {
		if w.counts(list, k) {
			sum += segment(nodes[k], nodes[k+1]).Length()
		}
	}
	return sum
}

// trace says what became of an edge, and returns by how much it got longer.
func (w *spread) trace(lin Lineage, edge int, list []bankNode, nodes []Node) float64 {
	was, is := make([]float64, len(list)), make([]float64, len(list))
	for k := 1; k < len(list); k++ {
		was[k], is[k] = was[k-1], is[k-1]
		if w.counts(list, k-1) {
			was[k] += segment(list[k-1].Node, list[k].Node).Length()
			is[k] += segment(nodes[k-1], nodes[k]).Length()
		}
	}
	id := w.piece.Edges[edge].ID
	if heirs := heirsAlong(id, was, is); len(heirs) > 1 {
		lin[id] = heirs
	}
	return is[len(is)-1] - was[len(was)-1]
}

// heirsAlong returns the heirs of an edge that is still itself but that was stretched
// unevenly: was and is are the places in mm of the same points before and after. There is
// one heir, the whole edge, where it was stretched evenly.
func heirsAlong(edge ID, was, is []float64) []Heir {
	last := len(was) - 1
	a, b := was[last], is[last]
	if !(a > 0 && b > 0) {
		return nil
	}
	var heirs []Heir
	for k := 1; k <= last; k++ {
		h := Heir{Edge: edge, Old0: clampShare(was[k-1] / a), Old1: clampShare(was[k] / a), New0: clampShare(is[k-1] / b), New1: clampShare(is[k] / b)}
		if h.Old1-h.Old0 <= shareSlack && h.New1-h.New0 <= shareSlack {
			continue
		}
		if n := len(heirs); n > 0 {
			g := &heirs[n-1]
			h.Old0, h.New0 = g.Old1, g.New1
			h.Old1, h.New1 = max(h.Old0, h.Old1), max(h.New0, h.New1)
			whole := between(h.Old1, g.Old0, h.Old0, g.New0, h.New0)
			if g.Old1-g.Old0 > shareSlack && h.Old1-h.Old0 > shareSlack && math.Abs(whole-h.New1) <= shareSlack {
				g.Old1, g.New1 = h.Old1, h.New1
				continue
			}
		}
		heirs = append(heirs, h)
	}
	if n := len(heirs); n > 0 {
		heirs[n-1].Old1, heirs[n-1].New1 = 1, 1
	}
	return heirs
}

// gaps returns the gaps of an edge that are taken up again.
func (w *spread) gaps(edge int, list []bankNode) []spreadGap {
	var out []spreadGap
	for k := 0; k+1 < len(list); k++ {
		if w.kind(list, k) != stretchIsGap || !w.isMouth(list[k]) {
			continue
		}
		for i, o := range w.openings {
			if o.half == 0 && o.at == list[k].s {
				out = append(out, spreadGap{i, w.piece.Edges[edge].ID, list[k].ID, list[k+1].ID})
			}
		}
	}
	return out
}

// side returns the motion of an edge that is neither the near nor the far one.
func (w *spread) side(edge int) motion {
	n := len(w.piece.Edges)
	across := w.far.edge
	if across < 0 {
		across = w.farCorner
	}
	// From the end of the near edge on to where the far one starts all is moved as the
	// last ruling is.
	if (edge-w.near.edge+n)%n < (across-w.near.edge+n)%n {
		return w.motionAt(1, true)
	}
	return w.motionAt(0, false)
}

// mover returns what moves the marks: each dart with its mouth, all else with the ruling
// on which it lies.
func (w *spread) mover(near, far []bankNode) mover {
	atNode := make(map[ID]motion)
	for _, n := range slices.Concat(near, far) {
		atNode[n.ID] = w.motionAt(n.s, n.after)
	}
	return mover{
		at: func(q geom.Point) geom.Affine { return w.motionOf(q).affine() },
		dart: func(d *Dart) geom.Affine {
			if m, known := atNode[d.From]; known {
				return m.affine()
			}
			_, i, _ := w.piece.Node(d.From)
			return w.side(i).affine()
		},
	}
}

// motionOf returns the motion of the ruling that runs through a place, or that of the
// side on which the place lies.
func (w *spread) motionOf(q geom.Point) motion {
	beyond := func(s float64) bool {
		r := w.ruling(s, s < 1)
		return r.a.Sub(r.b).Cross(q.Sub(r.b)) > 0
	}
	if !beyond(0) {
		return w.motionAt(0, false)
	}
	if beyond(1) {
		return w.motionAt(1, true)
	}
	i := sort.Search(len(w.places), func(i int) bool { return !beyond(w.places[i]) })
	i = min(max(i, 1), len(w.places)-1)
	lo, hi := w.places[i-1], w.places[i]
	from := lo
	for range 40 {
		if mid := (lo + hi) / 2; beyond(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return w.step(w.motions[i-1][1], from, lo)
}

// lay gives every node of the outline its new place.
func (w *spread) lay(near []bankNode, nearOut, farOut []Node) {
	p := w.piece
	n := len(p.Edges)
	for i := range p.Edges {
		if i == w.near.edge || i == w.far.edge {
			continue
		}
		m := w.side(i)
		for k := range p.Edges[i].Nodes {
			node := &p.Edges[i].Nodes[k]
			node.At, node.Out = m.affine().Apply(node.At), m.of(node.Out)
			if k > 0 {
				node.In = m.of(node.In)
			}
		}
		end := &p.Edges[(i+1)%n].Nodes[0]
		end.In = m.of(end.In)
	}
	w.layBank(w.near.edge, nearOut)
	if w.far.edge >= 0 {
		w.layBank(w.far.edge, farOut)
	}
}

// layBank gives the nodes of an edge their places and the handles along it.
func (w *spread) layBank(edge int, out []Node) {
	p := w.piece
	last := len(out) - 1
	for k := range out {
		node := p.nodeAt(edge, k)
		node.At = out[k].At
		if k > 0 {
			node.In = out[k].In
		}
		if k < last {
			node.Out = out[k].Out
		}
		if k > 0 && k < last {
			node.Smooth = out[k].Smooth
		}
	}
}

// tidy takes away the points that the spreading put in and that no shape needs.
func (w *spread) tidy(near, far []bankNode, gaps []spreadGap) {
	mouths := make(map[ID]bool)
	for _, g := range gaps {
		mouths[g.from], mouths[g.to] = true, true
	}
	for _, n := range slices.Concat(near, far) {
		if n.made && !mouths[n.ID] {
			if _, i, k := w.piece.Node(n.ID); i >= 0 {
				w.piece.dropFlat(i, k)
			}
		}
	}
}

// newSpread begins to spread a piece, which may be written to, from an edge to what lies
// across: an edge, a corner, or what is found there.
func newSpread(q *Piece, near EdgeRef, across *EdgeRef, corner *CornerRef, ids *idSource) (*spread, error) {
	_, i := q.Edge(near.Edge)
	if i < 0 {
		return nil, fmt.Errorf("edge %s %w", near.Edge, errGone)
	}
	w := &spread{piece: q, near: bankOf(q, i), across: [][2]float64{{0, 1}, {1, 0}}, ids: ids}
	if q.Edges[i].Kind == FoldEdge {
		return nil, fmt.Errorf("edge %s is a fold, which nothing is put into", q.Edges[i].label())
	}
	if !(w.near.length > 0) {
		return nil, fmt.Errorf("edge %s has no length", q.Edges[i].label())
	}
	if err := w.findFar(across, corner); err != nil {
		return nil, err
	}
	w.fixed = w.staying()
	return w, nil
}

// findFar finds the edge or the corner across from the near edge.
func (w *spread) findFar(across *EdgeRef, corner *CornerRef) error {
	q := w.piece
	n := len(q.Edges)
	far := -1
	switch {
	case across != nil && corner != nil:
		return errors.New("name the edge across or the corner across, not both")
	case across != nil:
		if _, far = q.Edge(across.Edge); far < 0 || across.Piece != q.ID {
			return fmt.Errorf("edge %s is not an edge of this piece", across.Edge)
		}
	case corner != nil:
		_, e, k := q.Node(corner.Node)
		if e < 0 || k != 0 || corner.Piece != q.ID {
			return errors.New("the corner across is not a corner of this piece")
		}
		return w.toCorner(e)
	case n == 3:
		return w.toCorner((w.near.edge + 2) % n)
	default:
		if far = w.facingEdge(); far < 0 {
			return fmt.Errorf("nothing lies straight across from edge %s; name the edge to which the slashes run", q.Edges[w.near.edge].label())
		}
	}
	if far == w.near.edge {
		return errors.New("the slashes run from an edge to another one")
	}
	if q.Edges[far].Kind == FoldEdge {
		return fmt.Errorf("edge %s is a fold, which stays straight; slash from a neighbour of it", q.Edges[far].label())
	}
	if w.far = bankOf(q, far); !(w.far.length > 0) {
		return fmt.Errorf("edge %s has no length; let the slashes run to a corner or to another edge", q.Edges[far].label())
	}
	return nil
}

// toCorner lets all slashes meet in the corner at which edge e starts.
func (w *spread) toCorner(e int) error {
	if n := len(w.piece.Edges); e == w.near.edge || e == (w.near.edge+1)%n {
		return errors.New("the corner across is an end of the edge itself")
	}
	w.farCorner = e
	w.far = bank{edge: -1, corner: w.piece.Edges[e].Nodes[0].At}
	return nil
}

// facingEdge returns the edge that lies straight across from the middle of the near one;
// of its neighbours none does. Where slashes to that edge would leave the piece or graze
// it, as those from the hem of a bodice to its shoulder go over the armhole, it is the
// edge to which they run straightest. It is -1 where there is none.
func (w *spread) facingEdge() int {
	first, second, straightest := -1, -1, steepest
	least := math.Inf(1)
	ray, ok := w.rayAcross()
	if !ok {
		return -1
	}
	q, n := w.piece, len(w.piece.Edges)
	for e := range q.Edges {
		if d := (e - w.near.edge + n) % n; d <= 1 || d == n-1 || q.Edges[e].Kind == FoldEdge {
			continue
		}
		if !(q.EdgeLength(e) > 0) { // all of it mouth
			continue
		}
		if d := distanceAlong(ray, q.EdgePath(e)); d < least {
			first, least = e, d
		}
		if straight := w.straightness(e); straight > straightest {
			second, straightest = e, straight
		}
	}
	if second >= 0 && w.straightness(first) < steepest {
		return second
	}
	return first
}

// rayAcross returns a line from the middle of the near edge square to it, longer than the
// piece.
func (w *spread) rayAcross() (geom.Path, bool) {
	at, ok := w.near.run.At(w.near.length / 2)
	if !ok {
		return nil, false
	}
	box := w.piece.DrawnPath().Bounds()
	from, in := w.near.run.Point(at), w.near.run.Tangent(at).Left()
	return geom.Path{geom.Line(from, from.Add(in.Mul(2*(box.W()+box.H()))))}, true
}

// distanceAlong returns how far along the ray it meets the path; where it goes beside it,
// more than the ray is long, and the more the farther beside.
func distanceAlong(ray, path geom.Path) float64 {
	d := math.Inf(1)
	for _, m := range ray.Intersections(path) {
		d = min(d, m.P.Dist(ray.Start()))
	}
	if !math.IsInf(d, 1) {
		return d
	}
	for _, p := range [3]geom.Point{path.Start(), path.End(), path.At(path.AtLength(path.Length() / 2))} {
		_, off := ray.Nearest(p)
		d = min(d, off+ray.Length())
	}
	return d
}

// steepest is the sine of the least angle at which a slash that opens at both its ends
// may meet an edge: at 30 degrees the edge steps by twice what is put in.
const steepest = 0.5

// straightness returns how square slashes to edge e would run to both edges: the least
// sine of the angles at which some of them meet, 0 where one would leave the piece.
func (w *spread) straightness(e int) float64 {
	far := bankOf(w.piece, e)
	least := 1.0
	for _, s := range [4]float64{0.125, 0.375, 0.625, 0.875} {
		a, b := w.near.at(s, true), far.at(1-s, true)
		if a == b || w.piece.seesInside(a, b, "") != nil {
			return 0
		}
		least = min(least, w.near.sine(s, b.Sub(a)), far.sine(1-s, b.Sub(a)))
	}
	return least
}

// sine returns the sine of the angle at which a line in the direction dir meets the bank
// at a share of it; 1 where the bank is a corner.
func (b bank) sine(share float64, dir geom.Point) float64 {
	if b.edge < 0 {
		return 1
	}
	at, ok := b.run.At(share * b.length)
	if !ok {
		return 1
	}
	return math.Abs(b.run.Tangent(at).Cross(dir.Unit()))
}

// staying returns the share of the near edge whose ruling is to stay: that at the fold,
// that on which the grain line lies, or the middle one.
func (w *spread) staying() float64 {
	q := w.piece
	if fold := q.FoldEdge(); fold >= 0 {
		n := len(q.Edges)
		across := w.far.edge
		if across < 0 {
			across = w.farCorner
		}
		if (fold-w.near.edge+n)%n < (across-w.near.edge+n)%n {
			return 1
		}
		return 0
	}
	if q.Grain == nil {
		return 0.5
	}
	w.rulings = make(map[rulingKey]ruling)
	at := q.Grain.From.Lerp(q.Grain.To, 0.5)
	best, least := 0.5, math.Inf(1)
	for k := 0; k <= 64; k++ {
		r := w.ruling(float64(k)/64, false)
		if r.a == r.b {
			continue
		}
		if _, d := geom.Line(r.a, r.b).Nearest(at); d < least-Grid {
			best, least = float64(k)/64, d
		}
	}
	return best
}
