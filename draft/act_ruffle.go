package draft

import (
	"errors"
	"fmt"

	"hemlet/draft/trim"
	"hemlet/geom"
)

// MakeRuffleArgs are the arguments of MakeRuffle.
type MakeRuffleArgs struct {
	Edges      Run      `arg:"edges" says:"the edge or the row of edges that it is sewn to"`
	Depth      Length   `arg:"depth" says:"how deep the finished ruffle hangs below the seam"`
	Ratio      *float64 `arg:"ratio" says:"how many times as long as the edge it is; without it, what the cloth gathers to well"`
	Into       Fullness `arg:"into" says:"what becomes of its length: gathers or pleats" default:"gathers"`
	Allowance  *Length  `arg:"allowance" says:"the allowance of its upper edge and its joins; without it, what most edges of the pattern have"`
	Hem        *Length  `arg:"hem" says:"what is turned up below and at open ends; without it, the hem of the edge or else the allowance"`
	ClothWidth *Length  `arg:"cloth-width" says:"the usable width of the cloth, between its selvedges; without it, the width that the cloth is known to have"`
	Whole      bool     `arg:"whole" says:"whether it goes on over the other side of the body, where the edge does" default:"yes"`
	Name       string   `arg:"name" says:"what its pieces are called" default:"Ruffle"`
}

// MakeRuffle makes a straight ruffle for an edge: the strips that it is pieced of, cut
// across the cloth, with their joins and the seam to the edge.
var MakeRuffle = register(Info{
	Name: "make-ruffle", Title: "Make a ruffle", Group: groupSeams,
	Says: "Makes a straight ruffle for an edge or a row of edges: its strips, their joins, and the gathered seam to the edge.",
}, makeRuffle)

// mostStrips bounds how many strips a ruffle is pieced of: each join is a seam.
const mostStrips = 60

func makeRuffle(p *Project, a MakeRuffleArgs) (Outcome, error) {
	w, err := newRuffling(p, a)
	if err != nil {
		return Outcome{}, err
	}
	if err := w.strips(); err != nil {
		return Outcome{}, err
	}
	w.prepareEdges()
	w.makePieces()
	w.sewJoins()
	seam := w.sewEdge()
	w.next.NextID = w.ids.next
	w.notch(seam)
	w.out.Project, w.out.Made, w.out.subject = w.next, w.made[0].ID, p.runLabel(w.run)
	return w.out, nil
}

// ruffling is a ruffle while it is made.
type ruffling struct {
	p, next *Project
	args    MakeRuffleArgs
	ids     *idSource
	out     Outcome
	// run is what it is sewn to; closed says that it is a ring, twice that the ruffle
	// is made for both sides of the body.
	run           Run
	closed, twice bool
	// All in mm: the run, the allowance of the gathered edge, and what is turned up.
	edge, allowance, hem float64
	ratio                float64
	cut                  trim.Strips
	// forward says that the strips follow one another from left to right.
	forward bool
	made    []*Piece
	// order is the ruffle's strips as they are joined, one use of the upper edge each.
	order Run
}

func newRuffling(p *Project, a MakeRuffleArgs) (*ruffling, error) {
	w := &ruffling{p: p, next: p.shallow(), args: a, ids: p.newIDs()}
	if len(a.Edges) == 0 {
		return nil, errors.New("no edge is named")
	}
	if err := p.checkRow(a.Edges); err != nil {
		return nil, fmt.Errorf("the ruffle cannot be sewn to %w", err)
	}
	name, err := neededName(a.Name)
	if err != nil {
		return nil, err
	}
	w.args.Name = name
	if a.Into != Gathers && a.Into != Pleats {
		return nil, errors.New("a ruffle is gathered or pleated, neither plain nor eased")
	}
	if !(a.Depth > 0 && a.Depth <= MaxCoordinate) {
		return nil, errors.New("a ruffle is deeper than nothing; say how deep it hangs")
	}
	corners := newSewnCorners(p)
	run, stuck := corners.chained(a.Edges)
	if stuck != nil {
		return nil, fmt.Errorf("edge %s does not go on where the edge before it ends; sew what lies between them first, or make a ruffle for each", p.useText(*stuck))
	}
	w.run = run
	if a.Whole {
		w.run, w.twice = corners.whole(run)
	}
	w.closed = corners.ring(w.run)
	w.forward = w.run[0].forward()
	return w, w.free()
}

// checkRow reports edges that cannot stand in a row to which something is sewn.
func (p *Project) checkRow(row Run) error {
	seen := make(map[EdgeRef]bool)
	for _, u := range row {
		if err := p.useExists(u); err != nil {
			return err
		}
		if q := p.Piece(u.Piece); q.Ghost > 0 {
			return fmt.Errorf("%s is a ghost, which is only looked at and never sewn", q.label())
		}
		ref := EdgeRef{u.Piece, u.Edge}
		if seen[ref] && u.asDrawn() {
			return fmt.Errorf("%s twice", p.useText(u))
		}
		seen[ref] = true
	}
	return nil
}

// free reports an edge that no ruffle can be sewn to.
func (w *ruffling) free() error {
	uses := w.run
	if w.twice {
		if m, ok := w.p.mirrored(w.run); ok {
			uses = append(append(Run(nil), w.run...), m...)
		}
	}
	for i, u := range uses {
		e := w.p.edgeOf(u)
		if overlaps(Run{u}, uses[:i]) {
			return fmt.Errorf("edge %s is there twice", w.p.useText(u))
		}
		for _, s := range w.p.Seams {
			if overlaps(Run{u}, w.p.usesOf(s)) {
				return fmt.Errorf("edge %s is sewn in seam %s already; take that apart first", e.label(), s.label())
			}
		}
	}
	return nil
}

// strips works out ratio, allowances and strips.
func (w *ruffling) strips() error {
	w.edge = w.p.runLength(w.run)
	w.allowance = w.p.usualAllowance()
	put(&w.allowance, (*float64)(w.args.Allowance))
	w.hem = w.allowance
	if e := w.p.edgeOf(w.run[0]); e.Kind == HemEdge && e.Allowance.Widest() > 0 {
		w.hem = e.Allowance.Widest()
	}
	put(&w.hem, (*float64)(w.args.Hem))
	for _, mm := range []float64{w.allowance, w.hem} {
		if !(mm >= 0 && mm <= MaxAllowance) {
			return outOfAllowances(mm, w.p.Unit)
		}
	}
	cloth := w.p.clothOf(w.run)
	w.ratio = usualRatio(cloth)
	put(&w.ratio, w.args.Ratio)
	width := 0.0
	if cloth != nil {
		width = cloth.Width
	}
	put(&width, (*float64)(w.args.ClothWidth))
	var err error
	w.cut, err = trim.Ruffle{
		Edge: w.edge, Ratio: w.ratio, ClothWidth: width,
		Join: w.allowance, Closed: w.closed, End: w.hem,
	}.Strips()
	if err != nil {
		return err
	}
	if w.cut.Count > mostStrips {
		return fmt.Errorf("it takes %d strips of cloth that is %s wide, and at most %d are made; take a wider cloth, or cut them lengthwise", w.cut.Count, w.p.Unit.Format(width), mostStrips)
	}
	if width == 0 {
		w.out.say("The width of the cloth is not known, so that the ruffle is one strip; say how wide it is to have it pieced.")
	}
	return nil
}

// usualRatio is what the cloth gathers to well: the most of what it takes, for a
// ruffle is seen. Heavy cloth, which does not gather, gets what quilting cotton does.
func usualRatio(c *Cloth) float64 {
	weight, _ := WeightOf(c)
	if weight == Heavy {
		weight = Medium
	}
	_, most := weight.Gathering()
	return most
}

// prepareEdges turns the edges from hems or raw edges into seams.
func (w *ruffling) prepareEdges() {
	done := make(map[EdgeRef]bool)
	for _, u := range w.run {
		ref := EdgeRef{u.Piece, u.Edge}
		if done[ref] {
			continue
		}
		done[ref] = true
		q := w.next.Piece(u.Piece).clone()
		e, i := q.Edge(u.Edge)
		if e.Kind != HemEdge && e.Kind != RawEdge {
			continue
		}
		was := e.Kind
		e.Kind, e.Allowance = SeamEdge, Even(w.allowance)
		for _, k := range []int{i, (i + 1) % len(q.Edges)} {
			if q.Edges[k].Corner == TurnedBack {
				q.Edges[k].Corner = Mitre
			}
		}
		w.next = w.next.withPiece(q)
		w.out.say("Edge %s of %s was %s and is a seam of %s now.", e.label(), q.label(), kindPhrase[was], w.p.Unit.Format(w.allowance))
	}
}

var kindPhrase = map[EdgeKind]string{HemEdge: "a hem", RawEdge: "left raw"}

// The names of the edges of a strip.
const (
	ruffleTop   = "top"
	ruffleHem   = "hem"
	ruffleLeft  = "left end"
	ruffleRight = "right end"
)

// makePieces makes the strips: one drawing of those that are alike.
func (w *ruffling) makePieces() {
	n := w.cut.Count
	switch {
	case w.closed:
		w.piece("", n, true, true)
	case n == 1:
		w.piece("", 1, false, false)
	default:
		// The strips run from left to right, or back: the first has its hemmed end there.
		w.piece(", first strip", 1, !w.forward, w.forward)
		if n > 2 {
			w.piece(", middle strips", n-2, true, true)
		}
		w.piece(", last strip", 1, w.forward, !w.forward)
	}
	w.layOut()
	for _, q := range w.made {
		top := q.Edges[2].ID
		for k := 1; k <= q.Cut.Count; k++ {
			w.order = append(w.order, EdgeUse{Piece: q.ID, Copy: CopyRef{Number: k}, Edge: top, Reversed: w.forward})
		}
	}
	says := fmt.Sprintf("The ruffle is %s long", w.p.Unit.Format(w.cut.Flat))
	if n > 1 {
		says += fmt.Sprintf(", of %d strips cut %s long each", n, w.p.Unit.Format(w.cut.Length))
	}
	w.out.say("%s. It hangs %s below the seam.", says, w.p.Unit.Format(float64(w.args.Depth)))
}

// piece makes one strip that is cut count times; a joined end is a seam, the other is
// hemmed.
func (w *ruffling) piece(what string, count int, joinedLeft, joinedRight bool) {
	end := func(joined bool) (EdgeKind, float64) {
		if joined {
			return SeamEdge, w.allowance
		}
		return HemEdge, w.hem
	}
	leftKind, left := end(joinedLeft)
	rightKind, right := end(joinedRight)
	long, deep := w.cut.Length-left-right, float64(w.args.Depth)
	pts := []geom.Point{{}, geom.Pt(long, 0), geom.Pt(long, deep), geom.Pt(0, deep)}
	first := w.p.Piece(w.run[0].Piece)
	q := &Piece{
		ID: w.ids.make(kindPiece), Name: w.args.Name + what, Garment: first.Garment, Cloth: first.Cloth, Layer: first.Layer,
		Cut: CutRule{Way: CutSingle, Count: count},
	}
	if w.twice {
		q.Cut.Way = CutPairs
	}
	top := Even(w.allowance)
	if w.args.Into == Gathers && w.allowance >= gatherAllowance {
		top.TrimTo = gatherTrim // the rows of stitches lie in what is trimmed
	}
	for i, e := range []struct {
		name string
		kind EdgeKind
		wide Allowance
	}{{ruffleHem, HemEdge, Even(w.hem)}, {ruffleRight, rightKind, Even(right)}, {ruffleTop, SeamEdge, top}, {ruffleLeft, leftKind, Even(left)}} {
		q.Edges = append(q.Edges, Edge{
			ID: w.ids.make(kindEdge), Name: e.name, Kind: e.kind, Allowance: e.wide,
			Nodes: []Node{{ID: w.ids.make(kindNode), At: pts[i]}},
		})
	}
	q.Grain = grainAlong(q.DrawnPath(), upright)
	w.made = append(w.made, q)
}

// layOut lays the strips below the piece that they are for.
func (w *ruffling) layOut() {
	var room benchRoom
	for _, piece := range w.next.Pieces {
		room.take(piece)
	}
	under := w.p.Piece(w.run[0].Piece).lineOnBench().box
	at := geom.Pt(under.Min.X, under.Min.Y-benchGap)
	for _, q := range w.made {
		box := q.lineOnBench().box
		q.Place.At = at.Sub(geom.Pt(box.Min.X, box.Max.Y))
		room.settle(q)
		at.Y -= box.H() + benchGap
	}
	w.next.Pieces = append(append([]*Piece(nil), w.next.Pieces...), w.made...)
}

// sewJoins sews each strip to the one that follows it, and in a ring the last to the
// first.
func (w *ruffling) sewJoins() {
	for i, u := range w.order {
		if i == len(w.order)-1 && !w.closed {
			return
		}
		v := w.order[(i+1)%len(w.order)]
		end, start := ruffleLeft, ruffleRight
		if w.forward {
			end, start = ruffleRight, ruffleLeft
		}
		w.next.sew(w.ids, Run{w.endOf(u, end)}, Run{w.endOf(v, start).turned()}, w.args.Name+" join", 1, Plain)
	}
}

// endOf returns the use of an end of the strip of which u is the upper edge.
func (w *ruffling) endOf(u EdgeUse, name string) EdgeUse {
	for i := range w.next.Piece(u.Piece).Edges {
		if e := &w.next.Piece(u.Piece).Edges[i]; e.Name == name {
			return EdgeUse{Piece: u.Piece, Copy: u.Copy, Edge: e.ID}
		}
	}
	return u
}

// notch marks where the ruffle is pinned to its edge: at the middle of each strip, and of
// a single strip by the rules of the trade, so that the gathers are spread. Where the seam
// cannot be notched it goes without.
func (w *ruffling) notch(s *Seam) {
	args := NotchSeamArgs{Seam: SeamRef(s.ID)}
	if whole := w.next.runLength(w.order); len(w.order) > 1 && whole > 0 {
		before := 0.0
		for _, u := range w.order {
			long := w.next.runLength(Run{u})
			args.At = append(args.At, EdgePlace{At: (before + long/2) / whole, Share: true})
			before += long
		}
	}
	if out, err := NotchSeam.do(w.next, args); err == nil {
		w.next = out.Project
		w.out.Says = append(w.out.Says, out.Says...)
	}
}

// sewEdge sews the ruffle to its edge and returns the seam.
func (w *ruffling) sewEdge() *Seam {
	kind := w.args.Into
	if w.ratio == 1 {
		kind = Plain
	}
	s := w.next.sew(w.ids, w.run, w.order, "", w.ratio, kind)
	s.Fuller = SideB
	if w.ratio > 1 {
		w.out.say("Seam %s has %s, %.2f to 1.", s.label(), s.Fullness, s.Ratio)
	}
	return s
}
