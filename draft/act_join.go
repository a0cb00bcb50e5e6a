package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// JoinPiecesArgs are the arguments of JoinPieces.
type JoinPiecesArgs struct {
	Seam *SeamRef `arg:"seam" says:"the seam along which two pieces become one"`
	A    *EdgeRef `arg:"a" says:"or an edge of the piece that stays"`
	B    *EdgeRef `arg:"b" says:"and the edge of the other that is laid against it"`
	Name string   `arg:"name,optional" says:"the name of the joined piece; without it, that of the one that stays"`
	Gap  Length   `arg:"gap" says:"how far the two edges may be apart when they are laid together" default:"0.5mm"`
}

// JoinPieces lays two pieces together along an edge of each and makes them one. The piece
// on side a stays, the other is gone. Edges that a cut had divided are one edge again, the
// seam between the two pieces is gone, all other seams stay.
var JoinPieces = register(Info{
	Name: "join-pieces", Title: "Join", Group: groupCutting,
	Says: "Lays two pieces together along a seam, or along two edges, and makes them one piece.",
}, joinPieces)

func joinPieces(p *Project, a JoinPiecesArgs) (Outcome, error) {
	if !(a.Gap >= 0 && a.Gap <= maxJoinGap) {
		return Outcome{}, fmt.Errorf("two edges may be apart by 0 to %s, not by %s", p.Unit.Format(maxJoinGap), p.Unit.Format(float64(a.Gap)))
	}
	seam, err := p.joinedSeam(a)
	if err != nil {
		return Outcome{}, err
	}
	b := &pieceJoin{project: p, gap: float64(a.Gap), seam: seam}
	if err := b.prepare(); err != nil {
		return Outcome{}, err
	}
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	if name != "" {
		b.left.piece.Name = name
	}
	// An edge stays divided where a seam begins or ends at the corner.
	var first error
	for _, divided := range b.mergings() {
		out, err := b.join(divided)
		if err == nil {
			_, err = followLineage(p, out.Project, out.Lineage)
		}
		if err == nil {
			return out, nil
		}
		if first == nil {
			first = err
		}
	}
	return Outcome{}, first
}

// maxJoinGap bounds, in mm, how far two edges that are laid together may be apart.
const maxJoinGap = 50

// joinedSeam returns the seam that is named, or one that stands for the two edges.
func (p *Project) joinedSeam(a JoinPiecesArgs) (*Seam, error) {
	edges := a.A != nil && a.B != nil
	if edges == (a.Seam != nil) || (a.A == nil) != (a.B == nil) {
		return nil, errors.New("needs a seam, or an edge of each of two pieces")
	}
	if a.Seam != nil {
		s := p.Seam(ID(*a.Seam))
		if s == nil {
			return nil, fmt.Errorf("seam %s %w", *a.Seam, errGone)
		}
		return s, nil
	}
	runA, runB := drawnRun(a.A.Piece, a.A.Edge), drawnRun(a.B.Piece, a.B.Edge)
	for _, s := range p.Seams {
		if sameEdges(s.A, runA) && sameEdges(s.B, runB) {
			return s, nil
		}
		if sameEdges(s.A, runB) && sameEdges(s.B, runA) {
			turned := *s
			turned.A, turned.B = s.B, s.A
			return &turned, nil
		}
	}
	s := &Seam{A: runA, B: runB.reversed()}
	if err := p.checkRuns(s); err != nil {
		return nil, err
	}
	return s, nil
}

// sameEdges reports whether two runs go along the same edges, on whatever side.
func sameEdges(a, b Run) bool {
	return slices.EqualFunc(a, b, func(u, v EdgeUse) bool { return u.Piece == v.Piece && u.Edge == v.Edge })
}

// pieceJoin is two pieces becoming one.
type pieceJoin struct {
	project *Project
	gap     float64
	seam    *Seam
	// a stays, b goes.
	a, b *Piece
	// left and right are the two with the seam as their cut; right lies against left.
	left, right half
	// gone are the edges that the seam took.
	gone map[ID]bool
	// turned says that b is turned over to lie against a.
	turned bool
	said   Outcome
}

// prepare checks that the two can be joined, and lays b against a.
func (j *pieceJoin) prepare() (err error) {
	if j.a, err = j.onePieceOf(j.seam.A); err != nil {
		return err
	}
	if j.b, err = j.onePieceOf(j.seam.B); err != nil {
		return err
	}
	if err := j.suits(); err != nil {
		return err
	}
	j.gone = make(map[ID]bool)
	ids := &idSource{next: j.project.NextID}
	if j.left, err = j.halfOf(j.a, j.seam.A, false, ids); err != nil {
		return err
	}
	if j.right, err = j.halfOf(j.b, j.seam.B, j.turned, ids); err != nil {
		return err
	}
	return j.layAgainst()
}

// onePieceOf returns the piece on which a whole run lies.
func (j *pieceJoin) onePieceOf(run Run) (*Piece, error) {
	for _, u := range run {
		if u.Piece != run[0].Piece || u.Copy != run[0].Copy || u.Half != run[0].Half {
			return nil, fmt.Errorf("seam %s sews more than two pieces; join two pieces by an edge of each", j.seam.label())
		}
	}
	piece := j.project.Piece(run[0].Piece)
	if piece == nil {
		return nil, fmt.Errorf("piece %s %w", run[0].Piece, errGone)
	}
	return piece, nil
}

// suits reports what about the two pieces stands against their being one.
func (j *pieceJoin) suits() error {
	a, b := j.a, j.b
	ua, ub := j.seam.A[0], j.seam.B[0]
	other := func(u EdgeUse) bool { return (u.Half == Far) != u.Copy.Mirrored }
	j.turned = other(ua) != other(ub)
	switch {
	case a.ID == b.ID && a.Cut.Way == CutPairs && j.turned:
		return fmt.Errorf("the seam sews %s to its own mirror image; make the edge a fold, and the two are one piece", a.label())
	case a.ID == b.ID:
		return fmt.Errorf("both edges belong to %s; two pieces are needed", a.label())
	case a.Ghost > 0 || b.Ghost > 0:
		return errors.New("a ghost is only looked at; make it a piece first")
	case a.Cut.Count != b.Cut.Count, (a.Cut.Way == CutSingle) != (b.Cut.Way == CutSingle):
		return fmt.Errorf("%s is %s and %s is %s; cut both alike first", a.label(), a.Cut, b.label(), b.Cut)
	case ua.Copy.Number != ub.Copy.Number:
		return fmt.Errorf("the seam sews copy %d of %s to copy %d of %s, so that they cannot be one piece", ua.Copy.Number, a.label(), ub.Copy.Number, b.label())
	case ua.forward() == ub.forward():
		return fmt.Errorf("%s and %s would lie on top of each other along this seam; turn one of them over first, or run one side of the seam the other way", a.label(), b.label())
	}
	if a.Cloth != b.Cloth || a.Layer != b.Layer {
		j.said.say("%s was of another cloth or layer; the joined piece is of that of %s.", b.label(), a.label())
	}
	return nil
}

// halfOf returns the piece as a half whose cut is the run; where turned it is the mirror
// image. A run over several edges is made one edge.
func (j *pieceJoin) halfOf(p *Piece, run Run, turned bool, ids *idSource) (half, error) {
	h := half{piece: p.clone(), lin: Lineage{}}
	if turned {
		m := geom.Scaling(-1, 1)
		for id, heirs := range h.piece.turnOver(m) {
			h.lin[id] = heirs
		}
	}
	q := h.piece
	want := make(map[ID]bool)
	for _, u := range run {
		want[u.Edge], j.gone[u.Edge] = true, true
	}
	// The edges of the run must follow each other round the piece.
	n, first := len(q.Edges), -1
	for i := range q.Edges {
		if want[q.Edges[i].ID] && !want[q.Edges[(i+n-1)%n].ID] {
			if first >= 0 {
				return h, fmt.Errorf("the edges of %s in seam %s do not follow each other", p.label(), j.seam.label())
			}
			first = i
		}
	}
	if first < 0 || len(want) >= n {
		return h, fmt.Errorf("%s is sewn all round and has no edge left to be joined by", p.label())
	}
	q.Edges = append(append([]Edge(nil), q.Edges[first:]...), q.Edges[:first]...)
	for k := range len(want) {
		for _, d := range q.Darts {
			if d.Edge == q.Edges[k].ID {
				return h, fmt.Errorf("%s lies on the seam; take it out of there first", d.called())
			}
		}
	}
	cut := q.Edges[0]
	cut.ID = ids.make(kindEdge)
	cut.Nodes = slices.Clone(cut.Nodes)
	for k := 1; k < len(want); k++ {
		cut.Nodes = append(cut.Nodes, q.Edges[k].Nodes...)
	}
	q.Edges = append([]Edge{cut}, q.Edges[len(want):]...)
	q.Notches = slices.DeleteFunc(q.Notches, func(m Notch) bool { return want[m.Edge] })
	q.Stretches = slices.DeleteFunc(q.Stretches, func(s Stretch) bool { return want[s.Edge] })
	q.Spans = slices.DeleteFunc(q.Spans, func(s Span) bool {
		lost := slices.ContainsFunc(s.Edges, func(id ID) bool { return want[id] })
		for _, id := range [2]ID{s.From, s.To} {
			if n, i, k := q.Node(id); id != "" && (n == nil || i == 0 && k > 0) {
				lost = true
			}
		}
		if lost {
			j.said.say("The length %s ended on the seam and is no longer measured.", labelOf(s.Name, s.ID))
		}
		return lost
	})
	for id := range want {
		h.lin[id] = nil
	}
	return h, nil
}

// layAgainst moves the right half so that its cut lies on that of the left.
func (j *pieceJoin) layAgainst() error {
	l, r := j.left.piece.EdgePath(0), j.right.piece.EdgePath(0).Reverse()
	m := layOn(l.Start(), l.End(), r.Start(), r.End())
	j.right = j.right.moved(m)
	r = j.right.piece.EdgePath(0).Reverse()
	apart := max(r.Start().Dist(l.Start()), r.End().Dist(l.End()))
	apart = max(apart, linesApart(l, r))
	if apart > j.gap+Grid {
		return fmt.Errorf("laid together, the two edges are up to %s apart, and %s is allowed; true the seam first, or allow a wider gap", j.project.Unit.Format(apart), j.project.Unit.Format(j.gap))
	}
	// Ends that nearly meet do: those of the piece that goes are moved there.
	q := j.right.piece
	q.Edges[0].Nodes[0].At, q.Edges[1].Nodes[0].At = l.End(), l.Start()
	return j.foldsAgree()
}

// layOn returns the rigid motion that lays the chord from c to d on that from a to b, middle
// on middle.
func layOn(a, b, c, d geom.Point) geom.Affine {
	if a.Dist(c) <= joinSlack && b.Dist(d) <= joinSlack {
		return geom.Identity
	}
	from, to := c.Lerp(d, 0.5), a.Lerp(b, 0.5)
	turn := d.Sub(c).Unit()
	way := b.Sub(a).Unit()
	if turn == (geom.Point{}) || way == (geom.Point{}) {
		return geom.Translation(to.Sub(from))
	}
	angle := math.Atan2(turn.Cross(way), turn.Dot(way))
	return geom.Rotation(angle, from).Then(geom.Translation(to.Sub(from)))
}

// ends returns for each end of the left half's cut the two edges that meet there: of which
// half the one before is, and their indices in their halves.
func (j *pieceJoin) ends() [2]struct{ before, after *Edge } {
	l, r := j.left.piece.Edges, j.right.piece.Edges
	return [2]struct{ before, after *Edge }{
		{&l[len(l)-1], &r[1]},
		{&r[len(r)-1], &l[1]},
	}
}

// foldsAgree reports a joined piece that would fold on two lines.
func (j *pieceJoin) foldsAgree() error {
	folds := j.left.piece.folds() + j.right.piece.folds()
	if folds < 2 {
		return nil
	}
	for n, e := range j.ends() {
		if e.before.Kind == FoldEdge && e.after.Kind == FoldEdge && j.turnAt(n) <= smoothSlack {
			return nil
		}
	}
	return fmt.Errorf("%s and %s both fold, and not on one line when they are laid together; make the fold of one of them a seam first", j.a.label(), j.b.label())
}

// turnAt returns by how much, in radians, the outline of the joined piece turns at one end
// of the seam.
func (j *pieceJoin) turnAt(n int) float64 {
	l, r := j.left.piece, j.right.piece
	before, after := l, r
	if n == 1 {
		before, after = r, l
	}
	in := before.EdgePath(len(before.Edges) - 1)
	out := after.EdgePath(1 % len(after.Edges))
	u, v := in[len(in)-1].Tangent(1), out[0].Tangent(0)
	return math.Abs(math.Atan2(u.Cross(v), u.Dot(v)))
}

// mergings lists which ends of the seam to make one edge of, the most first.
func (j *pieceJoin) mergings() [][2]bool {
	var can [2]bool
	for n, e := range j.ends() {
		can[n] = e.before.partOfOne(e.after) && j.turnAt(n) <= smoothSlack
	}
	list := [][2]bool{can}
	for _, try := range [][2]bool{{can[0], false}, {false, can[1]}, {}} {
		if !slices.Contains(list, try) {
			list = append(list, try)
		}
	}
	return list
}

// partOfOne reports whether two edges that meet are parts of one that a cut had divided.
func (e *Edge) partOfOne(after *Edge) bool {
	a, _ := nameStem(e.Name)
	b, _ := nameStem(after.Name)
	return e.Kind == after.Kind && (a == b || e.Kind == FoldEdge) && near2(e.Allowance.End, after.Allowance.Start) && e.Allowance.TrimTo == after.Allowance.TrimTo
}

// near2 reports whether two widths in mm are one but for rounding.
func near2(a, b float64) bool { return math.Abs(a-b) <= 2*Grid }

// join makes the joined project, merging edges at the ends that are told.
func (j *pieceJoin) join(divided [2]bool) (Outcome, error) {
	p := j.project
	ids := p.newIDs()
	ids.next += 2 // the two edges that stood for the seam
	out := Outcome{subject: p.subject([]ID{j.a.ID, j.b.ID}), Made: j.a.ID, unit: p.Unit, Says: slices.Clone(j.said.Says)}
	left, right := j.left, j.right
	left.divided, right.divided = divided, [2]bool{divided[1], divided[0]}
	right.lin = Lineage{}
	for i := range j.b.Edges {
		id := j.b.Edges[i].ID
		if j.gone[id] {
			right.lin[id] = nil
			continue
		}
		heir := Heir{Piece: j.a.ID, Edge: id, Across: j.turned, Old1: 1, New1: 1}
		if j.turned {
			heir.New0, heir.New1 = 1, 0
		}
		right.lin[id] = []Heir{heir}
	}
	if j.a.Cut.Way == CutPairs && j.b.Cut.Way == CutOnFold {
		// What was the left of a pair is the far half of the folded piece.
		left.lin = handedTo(j.a, j.a.ID, j.gone)
	}
	joined, lin, err := rejoinSaying(left, right, geom.Identity, ids, &out)
	if err != nil {
		return Outcome{}, err
	}
	if err := joined.DrawnPath().Simple(); err != nil {
		return Outcome{}, fmt.Errorf("laid together, %s and %s would lie on each other in part", j.a.label(), j.b.label())
	}
	if err := j.seamsLeft(&out); err != nil {
		return Outcome{}, err
	}
	j.sayGrain(&out)
	if joined.Cut.Way == CutPairs && joined.folds() > 0 {
		joined.Cut.Way = CutOnFold
	}
	if joined.folds() > 1 {
		return Outcome{}, fmt.Errorf("%s and %s would fold on two edges; name the two folds alike, or make one of them a seam", j.a.label(), j.b.label())
	}
	next := out.Project.withPiece(joined)
	next.Pieces = slices.DeleteFunc(next.Pieces, func(q *Piece) bool { return q.ID == j.b.ID })
	next.NextID = ids.next
	out.Project, out.Made, out.Lineage = next, j.a.ID, lin
	out.free(joined)
	return out, nil
}

// handedTo returns the edges of a piece as heirs on the piece with the id; what is gone has
// none.
func handedTo(p *Piece, id ID, gone map[ID]bool) Lineage {
	lin := Lineage{}
	for i := range p.Edges {
		e := p.Edges[i].ID
		lin[e] = nil
		if !gone[e] {
			lin[e] = []Heir{{Piece: id, Edge: e, Old1: 1, New1: 1}}
		}
	}
	return lin
}

// seamsLeft takes out the seams between the two edges; another seam that goes along one of
// them stands against it.
func (j *pieceJoin) seamsLeft(out *Outcome) error {
	next := j.project.shallow()
	next.Seams = nil
	all := func(run Run) bool {
		return !slices.ContainsFunc(run, func(u EdgeUse) bool { return !j.gone[u.Edge] })
	}
	some := func(run Run) bool { return slices.ContainsFunc(run, func(u EdgeUse) bool { return j.gone[u.Edge] }) }
	for _, s := range j.project.Seams {
		switch {
		case all(s.A) && all(s.B):
			out.say("Seam %s is gone: its two edges are inside the piece.", s.label())
		case some(s.A) || some(s.B):
			return fmt.Errorf("seam %s goes along the edge too; take it apart first", s.label())
		default:
			next.Seams = append(next.Seams, s)
		}
	}
	out.Project = next
	return nil
}

// sayGrain tells where the cloth of the piece that is gone ran another way.
func (j *pieceJoin) sayGrain(out *Outcome) {
	a, b := j.left.piece.Grain, j.right.piece.Grain
	if a == nil || b == nil {
		return
	}
	u, v := a.To.Sub(a.From).Unit(), b.To.Sub(b.From).Unit()
	if off := math.Asin(min(math.Abs(u.Cross(v)), 1)); off > grainOff {
		out.say("The grain of %s ran at another angle, by %.0f°; it is that of %s now.", j.b.label(), off*180/math.Pi, j.a.label())
	}
}

// grainOff is how far, in radians, two grain lines may differ and be called one: what a
// hand lays a pattern askew.
const grainOff = math.Pi / 180
