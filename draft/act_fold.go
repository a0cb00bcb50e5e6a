package draft

import (
	"errors"
	"fmt"
	"slices"

	"hemlet/geom"
)

// KeptHalf says which half of a piece that is folded stays drawn.
type KeptHalf int

const (
	KeepLeft KeptHalf = iota // as the piece lies on the bench
	KeepRight
)

var keptHalfNames = names[KeptHalf]{"left", "right"}

func (k KeptHalf) String() string               { return keptHalfNames.text(k) }
func (k KeptHalf) MarshalText() ([]byte, error) { return keptHalfNames.marshal(k) }

// UnmarshalText reads left or right.
func (k *KeptHalf) UnmarshalText(b []byte) error { return keptHalfNames.unmarshal(k, b, "half") }

// FoldPieceArgs are the arguments of FoldPiece.
type FoldPieceArgs struct {
	Piece *PieceRef `arg:"piece" says:"the piece, which is folded on the upright line through its middle"`
	From  *PlaceRef `arg:"from" says:"or a place on an edge at which the fold begins"`
	To    *PlaceRef `arg:"to" says:"and the place at which it ends"`
	Line  *LineRef  `arg:"line" says:"or a straight line inside the piece on which it is folded"`
	Keep  *KeptHalf `arg:"keep" says:"the half that stays drawn; without it, the one with the first edge that does not cross the fold"`
	Apart Length    `arg:"apart" says:"by how much the two halves may differ" default:"0.5mm"`
}

// FoldPiece makes a half of a piece that is the same on both sides of a line, to be cut on
// the fold. It is refused where the two halves differ by more than is allowed, with the
// largest difference.
var FoldPiece = register(Info{
	Name: "fold-piece", Title: "Fold in half", Group: groupCutting,
	Says: "Makes a half of a piece that is the same on both sides of a line, to be cut on the fold.",
}, foldPiece)

func foldPiece(p *Project, a FoldPieceArgs) (Outcome, error) {
	cut, err := p.foldFor(a)
	if err != nil {
		return Outcome{}, err
	}
	piece := cut.piece
	if piece.Cut.Way != CutSingle {
		return Outcome{}, fmt.Errorf("%s is %s; only a piece that is cut as drawn is folded to half", piece.label(), piece.Cut)
	}
	if off := bend(cut.line); off > FoldTolerance {
		return Outcome{}, fmt.Errorf("%s: the line bends by %s, and a fold is straight", piece.label(), p.Unit.FormatSmall(off))
	}
	cut.line = geom.Path{geom.Line(cut.line.Start(), cut.line.End())}
	ids := p.newIDs()
	left, right, err := piece.sever(cut.a, cut.b, cut.line, "fold", ids)
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
	}
	f := &halving{project: p, piece: piece, keep: left, drop: right, apart: float64(a.Apart)}
	if f.keepsRight(a.Keep) {
		f.keep, f.drop = right, left
	}
	if err := f.match(ids); err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
	}
	return f.done(ids)
}

// foldFor returns the piece and the line on which it is folded.
func (p *Project) foldFor(a FoldPieceArgs) (pieceCut, error) {
	ways := 0
	for _, given := range []bool{a.Piece != nil, a.From != nil || a.To != nil, a.Line != nil} {
		if given {
			ways++
		}
	}
	if ways != 1 {
		return pieceCut{}, errors.New("needs a piece, or two places on its edges, or a line inside it")
	}
	if a.Piece == nil {
		return p.cutFor(SplitPieceArgs{From: a.From, To: a.To, Line: a.Line})
	}
	piece := p.Piece(ID(*a.Piece))
	if piece == nil {
		return pieceCut{}, fmt.Errorf("piece %s %w", *a.Piece, errGone)
	}
	outline := piece.DrawnPath()
	box := outline.Bounds()
	up := piece.fromBench(geom.Pt(0, box.W()+box.H()))
	axis := geom.Path{geom.Line(box.Center().Sub(up), box.Center().Add(up))}
	meets := axis.Intersections(outline)
	if len(meets) != 2 {
		return pieceCut{}, fmt.Errorf("%s: the upright line through its middle does not cut it in two halves; say on which line it is folded", piece.label())
	}
	cut := pieceCut{piece: piece, a: piece.placeAt(meets[0].P), b: piece.placeAt(meets[1].P)}
	cut.line = geom.Path{geom.Line(piece.pointAt(cut.a), piece.pointAt(cut.b))}
	return cut, nil
}

// halving is a whole piece becoming a half.
type halving struct {
	project    *Project
	piece      *Piece
	keep, drop half
	apart      float64
	// differ is by how much the halves differ, in mm.
	differ float64
	// twin is the edge of the kept half that stands for one of the other.
	twin map[ID]ID
	// added is how many corners were put on a half because the other has them.
	added int
}

// keepsRight reports whether the right of the two halves, as sever names them, stays.
func (f *halving) keepsRight(want *KeptHalf) bool {
	if want == nil {
		for i := range f.piece.Edges {
			if id := f.piece.Edges[i].ID; len(f.keep.lin[id]) == 0 && len(f.drop.lin[id]) == 0 {
				return !f.keep.piece.hasEdge(id)
			}
		}
		return false
	}
	m := f.piece.Place.Affine()
	l, r := f.keep.piece.DrawnPath().Transform(m).Bounds().Center(), f.drop.piece.DrawnPath().Transform(m).Bounds().Center()
	return (r.X < l.X) == (*want == KeepLeft)
}

// match finds for each edge of the half that goes the one that stands for it, and by how
// much the two halves differ.
func (f *halving) match(ids *idSource) error {
	line := f.keep.piece.EdgePath(f.keep.cut)
	m, ok := geom.Reflection(line.Start(), line.End())
	if !ok {
		return errors.New("the fold has no length")
	}
	image := f.drop.piece.clone()
	image.turnOver(m)
	f.differ = linesApart(f.keep.piece.DrawnPath(), image.DrawnPath())
	if f.differ > f.apart {
		return fmt.Errorf("the two halves differ by up to %s, and %s is allowed; make them alike first, or allow more", f.project.Unit.Format(f.differ), f.project.Unit.Format(f.apart))
	}
	if err := f.evenCorners(m, ids); err != nil {
		return err
	}
	kept, other := f.keep.open(), f.drop.openMirrored(m)
	if len(kept) != len(other) {
		return fmt.Errorf("one half has %d edges and the other %d; put a corner where one is missing", len(kept), len(other))
	}
	f.twin = make(map[ID]ID)
	for i := range kept {
		a, b := kept[i].Nodes[0].At, other[i].Nodes[0].At
		if off := a.Dist(b); off > f.apart+Grid {
			return fmt.Errorf("the corner where edge %s starts and its mirror image are %s apart, and %s is allowed", kept[i].label(), f.project.Unit.Format(off), f.project.Unit.Format(f.apart))
		}
		f.twin[other[i].ID] = kept[i].ID
	}
	return nil
}

// joinSamples is at how many places of each stretch it is looked how far two edges that are
// laid together are apart.
const joinSamples = 16

// linesApart returns how far at most one of two lines is from the other, at places
// along both.
func linesApart(p, q geom.Path) float64 {
	most := 0.0
	for _, pair := range [2][2]geom.Path{{p, q}, {q, p}} {
		for _, s := range pair[0] {
			for k := range joinSamples {
				_, d := pair[1].Nearest(s.At(float64(k) / joinSamples))
				most = max(most, d)
			}
		}
	}
	return most
}

// done makes the project with the half.
func (f *halving) done(ids *idSource) (Outcome, error) {
	p, q := f.project, f.keep.piece
	out := Outcome{subject: f.piece.label(), Made: q.ID, unit: p.Unit}
	fold := &q.Edges[f.keep.cut]
	fold.Kind, fold.Allowance = FoldEdge, Allowance{}
	q.Cut.Way = CutOnFold
	gone := Lineage{}
	for d, k := range f.twin {
		gone[d] = []Heir{{Piece: q.ID, Edge: k, Across: true, Old1: 1, New0: 1}}
		f.nameLike(d, k)
	}
	out.Lineage = f.keep.lin.unite(f.drop.lin.then(gone))
	if err := f.halveSpans(&out); err != nil {
		return Outcome{}, err
	}
	f.tellGone(&out)
	if f.added > 0 {
		out.say("One half had a corner that the other had not: %d are set on both.", f.added)
	}
	if f.differ > Grid {
		out.say("The two halves differed by up to %s; the other is the mirror image of this now.", p.Unit.FormatSmall(f.differ))
	}
	next := p.withPiece(q)
	next.NextID = ids.next
	moved, err := followLineage(p, next, out.Lineage)
	if err != nil {
		return Outcome{}, err
	}
	out.Project = moved.shallow()
	out.Project.pairSeams(q.ID)
	out.free(out.Project.Piece(q.ID))
	return out, nil
}

// nameLike gives a kept edge the plainer of its name and its mirror image's: "side" rather
// than "side 2".
func (f *halving) nameLike(d, k ID) {
	a, _ := f.drop.piece.Edge(d)
	b, _ := f.keep.piece.Edge(k)
	stemA, numberedA := nameStem(a.Name)
	stemB, numberedB := nameStem(b.Name)
	if stemA == stemB && numberedB && !numberedA && !f.keep.piece.hasEdgeName(stemB) {
		b.Name = stemB
	}
}

// halveSpans keeps lengths that went across the fold: along one half, for half the share.
func (f *halving) halveSpans(out *Outcome) error {
	q := f.keep.piece
	for _, s := range f.piece.Spans {
		if slices.ContainsFunc(q.Spans, func(t Span) bool { return t.ID == s.ID }) {
			continue
		}
		if half, ok := f.halfOfLines(s); ok {
			q.Spans = append(q.Spans, half)
			continue
		}
		var run Run
		for _, e := range s.Edges {
			run = append(run, EdgeUse{Piece: q.ID, Edge: e})
		}
		moved, err := followRun(run, out.Lineage)
		count := make(map[ID]int)
		var edges []ID
		for _, u := range moved {
			if count[u.Edge]++; count[u.Edge] == 1 {
				edges = append(edges, u.Edge)
			}
		}
		twice := err == nil && len(edges) > 0 && len(s.Lines) == 0 && len(moved) == 2*len(edges)
		for _, e := range edges {
			twice = twice && q.hasEdge(e)
		}
		if !twice {
			out.say("The length %s is no longer measured: it lies on the half that is gone.", labelOf(s.Name, s.ID))
			continue
		}
		s.Edges, s.From, s.To = edges, "", ""
		s.Share, s.Ease = s.Share/2, s.Ease/2
		q.Spans = append(q.Spans, s)
	}
	return nil
}

// halfOfLines returns a length along lines across the fold as that of their halves, or false
// where it is none.
func (f *halving) halfOfLines(s Span) (Span, bool) {
	q := f.keep.piece
	if len(s.Lines) == 0 || len(s.Edges) > 0 {
		return s, false
	}
	var lines []ID
	for _, id := range s.Lines {
		part := f.keptPart(id)
		if part == "" {
			return s, false
		}
		lines = append(lines, part)
	}
	if !isTwice(f.piece.linesLength(s.Lines), q.linesLength(lines)) {
		return s, false
	}
	s.Lines, s.From, s.To = lines, "", ""
	s.Share, s.Ease = s.Share/2, s.Ease/2
	return s, true
}

// keptPart returns the part of a line on the kept half, or nothing.
func (f *halving) keptPart(id ID) ID {
	if f.keep.piece.Line(id) != nil {
		return id
	}
	gone := f.drop.piece.Line(id)
	if gone == nil || len(gone.Nodes) < 2 {
		return ""
	}
	for _, t := range f.keep.ties {
		for _, pair := range [2]tie{t, {t.right, t.left}} {
			if pair.left != gone.Nodes[0].ID && pair.left != gone.Nodes[len(gone.Nodes)-1].ID {
				continue
			}
			for _, l := range f.keep.piece.Lines {
				if n := len(l.Nodes); n > 1 && (l.Nodes[0].ID == pair.right || l.Nodes[n-1].ID == pair.right) {
					return l.ID
				}
			}
		}
	}
	return ""
}

// tellGone tells of marks on the half that is gone which have no mirror image on the other.
func (f *halving) tellGone(out *Outcome) {
	notches := len(f.drop.piece.Notches) - len(f.keep.piece.Notches)
	lines := len(f.drop.piece.Lines) - len(f.keep.piece.Lines)
	if notches > 0 {
		out.say("%d more notches were on the half that is gone.", notches)
	}
	if lines > 0 {
		out.say("%d more lines were on the half that is gone.", lines)
	}
}

// pairSeams makes one seam of each two that sew a piece and are mirror images of each
// other; p may be written to.
func (p *Project) pairSeams(piece ID) {
	gone := make(map[ID]bool)
	seams := slices.Clone(p.Seams)
	for i, s := range seams {
		if gone[s.ID] || s.BothSides || !s.sews(map[ID]bool{piece: true}) {
			continue
		}
		a, okA := p.mirrored(s.A)
		b, okB := p.mirrored(s.B)
		if !okA || !okB {
			continue
		}
		for _, o := range seams[i+1:] {
			same := o.Ratio == s.Ratio && o.Opens == s.Opens && o.Lap == s.Lap && o.Fullness == s.Fullness && near(o.From, s.From) && near(o.To, s.To)
			plain := sameSewing(o.A, o.B, a, b) && o.Fuller == s.Fuller
			swapped := sameSewing(o.B, o.A, a, b) && (o.Fuller != s.Fuller || o.Ratio == 1)
			if !gone[o.ID] && same && (plain || swapped) {
				both := *s
				both.BothSides = true
				seams[i], gone[o.ID] = &both, true
				break
			}
		}
	}
	p.Seams = slices.DeleteFunc(seams, func(s *Seam) bool { return gone[s.ID] })
}
