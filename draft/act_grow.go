package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// GrowWay says what grows on an edge.
type GrowWay int

const (
	GrowHem       GrowWay = iota // turned back and hemmed
	GrowCasing                   // turned back to hold a cord or elastic
	GrowExtension                // laid under or over its partner, not turned
	GrowStand                    // an extension for buttons with its facing turned back
)

var growWayNames = names[GrowWay]{"hem", "casing", "extension", "button stand"}

func (w GrowWay) String() string               { return growWayNames.text(w) }
func (w GrowWay) MarshalText() ([]byte, error) { return growWayNames.marshal(w) }

// UnmarshalText reads one of hem, casing, extension, button stand.
func (w *GrowWay) UnmarshalText(b []byte) error { return growWayNames.unmarshal(w, b, "what grows") }

// GrowEdgeArgs are the arguments of GrowEdge.
type GrowEdgeArgs struct {
	Edges  []EdgeRef `arg:"edges" says:"the edges"`
	Way    GrowWay   `arg:"way" says:"what grows on them" default:"hem"`
	Depth  Length    `arg:"depth" says:"how deep the hem or casing is, how wide the extension or the stand" default:"10mm"`
	Turn   Length    `arg:"turn" says:"how much of a hem or casing is turned under once more" default:"0mm"`
	Facing *Length   `arg:"facing" says:"how wide the facing of a button stand is; without it, twice the stand"`
	Fasten *RowKind  `arg:"fasten" says:"what is set along the old edge of an extension or stand"`
	Size   *Length   `arg:"size" says:"how large those are"`
	Count  *int      `arg:"count" says:"how many; without it, as many as their size asks for"`
}

// GrowEdge lets a hem, a casing, an extension or a button stand grow on an edge. The old
// edge stays as a line inside the piece; what is turned back has ends that lie on the
// piece. Where both pieces of a seam grow at its end, the seam goes on over the new ends.
var GrowEdge = register(Info{
	Name: "grow-edge", Title: "Grown-on hem, casing or stand", Group: groupCutting,
	Says: "Lets a hem, a casing, an extension or a button stand grow on an edge, with its fold and ends that lie flat when turned back.",
}, growEdge)

func growEdge(p *Project, a GrowEdgeArgs) (Outcome, error) {
	if a.Fasten != nil && a.Way != GrowExtension && a.Way != GrowStand {
		return Outcome{}, fmt.Errorf("nothing is fastened at a %s", a.Way)
	}
	if a.Turn < 0 || a.Facing != nil && *a.Facing <= 0 {
		return Outcome{}, errors.New("what is turned is wider than nothing")
	}
	refs := a.Edges[:0:0]
	for _, r := range a.Edges {
		if !slices.Contains(refs, r) {
			refs = append(refs, r)
		}
	}
	ids := p.newIDs()
	var out Outcome
	ends := make(map[edgeKey]grownTo)
	next, order, err := byPiece(p, refs, pieceOfEdge, "edge", func(q *Piece, refs []EdgeRef) error {
		for _, r := range refs {
			if s := p.sewnIn(r.Piece, r.Edge); s != nil {
				return fmt.Errorf("edge %s is sewn in seam %s; what grows lies beyond the seam, so take that apart first", q.edgeLabel(r.Edge), s.label())
			}
			if err := q.growAs(r.Edge, a, p.Unit, ids, &out, ends); err != nil {
				return err
			}
			out.Made = r.Edge
		}
		out.settle(q)
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	next.NextID = ids.next
	next.dropIdle(p)
	next.sewEnds(ends, &out)
	out.Project, out.subject = next, p.subject(order)
	return out, nil
}

// grownTo are the new edges that go on from an old one at its start and at its end.
type grownTo struct{ start, end ID }

// growAs lets something grow on the edge.
func (p *Piece) growAs(id ID, a GrowEdgeArgs, unit Unit, ids *idSource, out *Outcome, ends map[edgeKey]grownTo) error {
	_, i := p.Edge(id)
	if i < 0 {
		return fmt.Errorf("edge %s %w", id, errGone)
	}
	depth, turn := float64(a.Depth), float64(a.Turn)
	n := len(p.Edges)
	prev, next := p.Edges[(i+n-1)%n].ID, p.Edges[(i+1)%n].ID
	g, err := p.grow(i, depth, a.Way == GrowHem || a.Way == GrowCasing, unit, ids)
	if err != nil {
		return err
	}
	noteEnds(ends, p.ID, prev, next, g)
	label := p.Edges[p.indexOf(id)].label()
	switch a.Way {
	case GrowExtension, GrowStand:
		l := p.addInner(label, PlacementLine, g.old, ids)
		if err := p.fastenAlong(l, a, unit, ids, out); err != nil {
			return err
		}
	default:
		p.addInner("fold", PlacementLine, g.old, ids)
		out.sayLonger(label, g, unit)
		out.saySmall(a.Way, depth, turn, unit)
	}
	switch {
	case a.Way == GrowStand:
		turn = 2 * depth
		if a.Facing != nil {
			turn = float64(*a.Facing)
		}
	case a.Way == GrowCasing:
		p.stitchCasing(g.old, depth, ids)
		out.say("Set where a cord comes out of the casing with a row of exits.")
	}
	if a.Way == GrowExtension {
		return nil
	}
	if turn > 0 {
		g, err = p.grow(p.indexOf(id), turn, true, unit, ids)
		if err != nil {
			return err
		}
		p.addInner("fold", PlacementLine, g.old, ids)
	}
	e := &p.Edges[p.indexOf(id)]
	e.Kind, e.Allowance = RawEdge, Allowance{}
	return nil
}

func (p *Piece) indexOf(id ID) int {
	_, i := p.Edge(id)
	return i
}

// noteEnds notes which of the new edges goes on from which neighbour, where each neighbour
// goes on in one edge.
func noteEnds(ends map[edgeKey]grownTo, piece, prev, next ID, g growth) {
	if len(g.before) == 1 {
		k := edgeKey{piece, prev}
		to := ends[k]
		to.end = g.before[0]
		ends[k] = to
	}
	if len(g.after) == 1 {
		k := edgeKey{piece, next}
		to := ends[k]
		to.start = g.after[0]
		ends[k] = to
	}
}

// addInner puts a line inside the piece and returns it.
func (p *Piece) addInner(name string, kind LineKind, path geom.Path, ids *idSource) *Line {
	l := Line{ID: ids.make(kindLine), Name: unusedName(name, p.hasLineName), Kind: kind}
	l.runAlong(path, ids)
	p.Lines = append(p.Lines, l)
	return &p.Lines[len(p.Lines)-1]
}

// casingEdge is how far, in mm, a casing is stitched from the edge that is turned back
// (common practice, no source); where it is narrower, a tenth of it.
const casingEdge = 1.5

// stitchCasing marks where the turned edge of a casing is sewn down.
func (p *Piece) stitchCasing(fold geom.Path, depth float64, ids *idSource) {
	line := longestInside(parallelOf(fold, -(depth-min(casingEdge, depth/10))), p.DrawnPath())
	if len(line) > 0 && line.Length() > shortestStretch {
		p.addInner("casing stitching", PlacementLine, line, ids)
	}
}

// fastenAlong sets the fastenings that were asked for along the old edge.
func (p *Piece) fastenAlong(l *Line, a GrowEdgeArgs, unit Unit, ids *idSource, out *Outcome) error {
	if a.Fasten == nil {
		if a.Way == GrowStand {
			out.say("Set buttons or buttonholes along the line %s with a row of fastenings.", l.Name)
		}
		return nil
	}
	r := Row{Kind: *a.Fasten, Size: a.Fasten.DefaultSize(), Across: rowRules[*a.Fasten].across}
	if a.Size != nil {
		r.Size = float64(*a.Size)
	}
	path := l.Path()
	length := path.Length()
	r.fill(length, a.Count, nil, nil)
	if err := r.sound(length, unit); err != nil {
		return err
	}
	row := p.addInner(r.Kind.String(), FastenLine, path, ids)
	row.Row = &r
	out.sayRow(&r, length, unit)
	if half := r.Size / 2; a.Way == GrowStand && float64(a.Depth) < r.Size {
		out.say("A stand as wide as a button is large keeps it off the edge: %s for these, and this one is %s.", unit.Format(2*half), unit.Format(float64(a.Depth)))
	}
	return nil
}

// longerShare is by how much of its length a turned edge may be longer or shorter than
// where it lies, before it is told: a fiftieth presses flat (common practice, no source).
const longerShare = 1. / 50

// sayLonger tells that a turned edge does not lie flat.
func (o *Outcome) sayLonger(label string, g growth, unit Unit) {
	if math.Abs(g.longer) <= longerShare*g.old.Length() {
		return
	}
	if g.longer > 0 {
		o.say("Edge %s is curved: turned back, its new edge is %s longer than where it lies. Ease that in on a thread, make it shallower, or face it.", label, unit.Format(g.longer))
		return
	}
	o.say("Edge %s is hollow: turned back, its new edge is %s shorter than where it lies, and must be clipped. A facing lies flatter.", label, unit.Format(-g.longer))
}

// The smallest that can well be turned, in mm (common practice, no source).
const (
	leastDoubleHem = 3 // deep, and as much turned under
	leastCasing    = 4
)

func (o *Outcome) saySmall(way GrowWay, depth, turn float64, unit Unit) {
	switch {
	case way == GrowCasing && depth < leastCasing:
		o.say("A casing of %s can hardly be threaded; below %s sew the cord down instead.", unit.Format(depth), unit.Format(leastCasing))
	case way == GrowHem && turn > 0 && min(depth, turn) < leastDoubleHem:
		o.say("A hem turned twice is %s and %s at least; below that turn it once, or seal the edge.", unit.Format(leastDoubleHem), unit.Format(leastDoubleHem))
	}
}

// sewEnds lets seams go on over the ends of what has grown, where both of their sides
// have grown at that end by the same length.
func (p *Project) sewEnds(ends map[edgeKey]grownTo, out *Outcome) {
	seams := slices.Clone(p.Seams)
	for k, s := range p.Seams {
		longer := *s
		for _, atEnd := range [...]bool{false, true} {
			a, okA := goesOn(s.A, atEnd, ends)
			b, okB := goesOn(s.B, atEnd, ends)
			if !okA || !okB || math.Abs(p.runLength(Run{a})-p.runLength(Run{b})) > seamLimitMin {
				continue
			}
			if atEnd {
				longer.A, longer.B = append(slices.Clip(longer.A), a), append(slices.Clip(longer.B), b)
			} else {
				longer.A, longer.B = append(Run{a}, longer.A...), append(Run{b}, longer.B...)
			}
			seams[k] = &longer
		}
		if seams[k] != s {
			out.say("Seam %s goes on over the ends of what has grown.", s.label())
		}
	}
	p.Seams = seams
}

// goesOn returns the use of the new edge that goes on from a run at its start or end.
func goesOn(run Run, atEnd bool, ends map[edgeKey]grownTo) (EdgeUse, bool) {
	u := run[0]
	if atEnd {
		u = run[len(run)-1]
	}
	to := ends[edgeKey{u.Piece, u.Edge}]
	u.Edge = to.start
	if atEnd != u.Reversed {
		u.Edge = to.end
	}
	return u, u.Edge != ""
}

// settle frees a piece that was changed from the block that it follows, where the change
// could not be carried when its measures change.
func (o *Outcome) settle(p *Piece) {
	if p.Derived == nil || p.carries() {
		return
	}
	o.free(p)
}

// settledSlack is how far, in mm, a piece that follows the very thing it was made from
// may come out off itself: what the grid rounds away, many times over.
const settledSlack = 1e-3

// carries reports whether the piece comes out as itself when it follows what it was made
// from once more.
func (p *Piece) carries() bool {
	base := p.Derived.piece(p.ID)
	base.Derived = p.Derived
	f, err := followNext(p, base, false)
	if err != nil {
		return false
	}
	c := changeOf(p, f.piece)
	return max(c.outline, c.marks) <= settledSlack && !c.other
}
