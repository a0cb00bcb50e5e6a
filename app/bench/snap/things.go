package snap

import (
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// Things is what one piece has to catch the pointer with. It is made once for a
// piece as it lies, and holds as long as the piece is the same pointer.
type Things struct {
	piece  *draft.Piece
	box    geom.Rect // of all of it, on the bench
	spots  []spot
	pieces []stretch // of edges and lines
	levels []level
	// lengths are those of the edges, to draw others as long.
	lengths []length
	grain   geom.Point // the direction of the grain on the bench, none without one
}

// spot is a place of its own.
type spot struct {
	at   geom.Point
	kind tool.CatchKind
	ref  desk.Ref
	word string
}

// stretch is one segment of an edge or of a line between two nodes.
type stretch struct {
	seg      geom.Segment
	box      geom.Rect
	ref      desk.Ref
	from, to draft.ID
	word     string
}

// level is a height of the wearer that a piece bears as a straight line; it goes on
// over the whole bench.
type level struct {
	at, dir geom.Point
	ref     desk.Ref
	word    string
}

// length is how long an edge is.
type length struct {
	mm   float64
	ref  desk.Ref
	word string
}

// Of returns what the piece has to catch the pointer with, as it lies on the bench.
func Of(p *draft.Piece) *Things {
	t := &Things{piece: p, box: geom.EmptyRect()}
	place := p.Place.Affine()
	t.edges(place)
	t.lines(place)
	t.darts(place)
	t.notches(place)
	t.spans(place)
	if g := p.Grain; g != nil {
		t.grain = place.ApplyVector(g.To.Sub(g.From)).Unit()
	}
	return t
}

func (t *Things) spot(at geom.Point, kind tool.CatchKind, ref desk.Ref, word string) {
	t.spots = append(t.spots, spot{at, kind, ref, word})
	t.box = t.box.Include(at)
}

// run adds the segments between nodes, and half of its length as a middle.
func (t *Things) run(path geom.Path, nodes []draft.Node, ref desk.Ref, word string) {
	if len(path) == 0 {
		return
	}
	for i, s := range path {
		box := s.Bounds()
		t.box = t.box.Union(box)
		t.pieces = append(t.pieces, stretch{
			seg: s, box: box, ref: ref, word: word,
			from: nodes[i].ID, to: nodes[(i+1)%len(nodes)].ID,
		})
	}
	tape := path.Tape()
	if mm := tape.Length(); mm > 0 {
		t.spot(path.At(tape.At(mm/2)), tool.CaughtMiddle, ref, "middle of "+word)
		t.lengths = append(t.lengths, length{mm, ref, word})
	}
}

func (t *Things) edges(place geom.Affine) {
	for i, e := range t.piece.Edges {
		for _, n := range e.Nodes {
			t.spot(place.Apply(n.At), tool.CaughtPoint, desk.NodeRef(t.piece.ID, n.ID), "point")
		}
		t.run(t.piece.EdgePath(i).Transform(place), t.piece.EdgeNodes(i), desk.EdgeRef(t.piece.ID, e.ID), e.Name)
	}
}

func (t *Things) lines(place geom.Affine) {
	for _, l := range t.piece.Lines {
		for _, n := range l.Nodes {
			t.spot(place.Apply(n.At), tool.CaughtPoint, desk.NodeRef(t.piece.ID, n.ID), "point")
		}
		t.run(l.Path().Transform(place), l.Nodes, desk.ThingRef(desk.Line, t.piece.ID, l.ID), lineWord(l))
	}
}

// lineWord is what a line is called: by its name, or else by what it is for.
func lineWord(l draft.Line) string {
	if l.Name != "" {
		return l.Name
	}
	return l.Kind.String() + " line"
}

func (t *Things) darts(place geom.Affine) {
	for _, d := range t.piece.Darts {
		t.spot(place.Apply(d.Apex), tool.CaughtPoint, desk.ThingRef(desk.Dart, t.piece.ID, d.ID), "tip of "+dartWord(d))
	}
}

func dartWord(d draft.Dart) string {
	if d.Name != "" {
		return d.Name
	}
	return d.Fold.String()
}

func (t *Things) notches(place geom.Affine) {
	for _, n := range t.piece.Notches {
		if at, _, ok := Notch(t.piece, n); ok {
			t.spot(place.Apply(at), tool.CaughtPoint, desk.ThingRef(desk.Notch, t.piece.ID, n.ID), "notch")
		}
	}
}

// Notch returns the place of a notch on its piece and the direction out of it.
func Notch(p *draft.Piece, n draft.Notch) (at, out geom.Point, ok bool) {
	_, i := p.Edge(n.Edge)
	if i < 0 {
		return at, out, false
	}
	parts := p.EdgeParts(i)
	total := 0.0
	for _, part := range parts {
		total += part.Length()
	}
	left := n.Along(total)
	for i, part := range parts {
		long := part.Length()
		if left > long && i < len(parts)-1 {
			left -= long
			continue
		}
		if len(part) == 0 {
			return at, out, false
		}
		place := part.AtLength(left)
		return part.At(place), part.Tangent(place).Left().Mul(-1), true
	}
	return at, out, false
}

// levelBow is how far, as a share of its length, a measured line may bow and still
// count as a straight level.
const levelBow = 0.02

// spans takes the lines by which the wearer is measured: those that are straight are
// the wearer's levels on this piece.
func (t *Things) spans(place geom.Affine) {
	for _, s := range t.piece.Spans {
		if s.Measure == "" {
			continue
		}
		word := s.Name
		if word == "" {
			word = s.Measure
		}
		for _, id := range s.Lines {
			if l := t.piece.Line(id); l != nil {
				t.level(l.Path().Transform(place), desk.ThingRef(desk.Line, t.piece.ID, id), word)
			}
		}
		for _, id := range s.Edges {
			if _, i := t.piece.Edge(id); i >= 0 {
				t.level(t.piece.EdgePath(i).Transform(place), desk.EdgeRef(t.piece.ID, id), word)
			}
		}
	}
}

func (t *Things) level(path geom.Path, ref desk.Ref, word string) {
	if len(path) == 0 {
		return
	}
	a, b := path.Start(), path.End()
	long := a.Dist(b)
	if long == 0 {
		return
	}
	dir := b.Sub(a).Mul(1 / long)
	for _, s := range path {
		for _, q := range [...]geom.Point{s.P1, s.P2, s.P3} {
			if off := dir.Cross(q.Sub(a)); off > levelBow*long || -off > levelBow*long {
				return
			}
		}
	}
	t.levels = append(t.levels, level{a, dir, ref, word})
}
