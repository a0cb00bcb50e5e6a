package tool

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// taken is one thing that the pointer gave to a step.
type taken struct {
	// texts are what the act reads, one for each parameter of the step.
	texts []string
	// words say what it is, on the card.
	words string
	// refs are what glows, at where it lies on the bench.
	refs []desk.Ref
	at   geom.Point
}

// refText names a part of a piece as acts read it. Ids are quoted, for those of blocks
// may hold any sign.
func refText(piece, part draft.ID) string {
	return strconv.Quote(string(piece)) + "." + strconv.Quote(string(part))
}

func pieceText(piece draft.ID) string { return `"` + string(piece) + `"` }

// wordsOf says what a ref points at.
func wordsOf(p *draft.Project, r desk.Ref) string {
	if pic := p.Picture(r.Thing); pic != nil && r.Kind == desk.Picture {
		return pic.Name
	}
	piece := p.Piece(r.Piece)
	if piece == nil {
		return ""
	}
	part := ""
	switch r.Kind {
	case desk.Edge:
		if e, _ := piece.Edge(r.Edge); e != nil {
			part = e.Name
		}
	case desk.Node, desk.HandleIn, desk.HandleOut:
		part = "a point"
	case desk.Line:
		if l := piece.Line(r.Thing); l != nil {
			part = named(l.Name, "a line")
		}
	case desk.Dart:
		part = "a dart"
		for _, d := range piece.Darts {
			if d.ID == r.Thing {
				part = named(d.Name, part)
			}
		}
	case desk.Notch:
		part = "a notch"
	case desk.Stretch:
		part = "a stretch of an edge"
	case desk.Dimension:
		part = "a dimension"
	}
	if part == "" {
		return piece.Name
	}
	return piece.Name + " · " + part
}

func named(name, other string) string {
	if name == "" {
		return other
	}
	return name
}

// take returns what the pointer gives to a step of the kind, or false where it is on
// nothing that fits.
func (h *Hand) take(t Take, p Pointer) (taken, bool) {
	project := h.Desk.Project()
	switch t {
	case TakePoint, TakeDrawn:
		return h.takePoint(p), true
	case TakePiece:
		if project.Piece(p.Hit.Piece) == nil {
			return taken{}, false
		}
		return h.takeRef(TakePiece, desk.PieceRef(p.Hit.Piece))
	case TakeEdge, TakeRun:
		r, ok := h.edgeAt(p.Hit)
		if !ok {
			return taken{}, false
		}
		return h.takeRef(t, r)
	case TakePlace, TakeStroke:
		return h.takePlace(p)
	case TakeSeam:
		return h.takeSeam(p.Hit)
	case TakeDart:
		if r, ok := h.dartAt(p); ok {
			return h.takeRef(t, r)
		}
	case TakeLine:
		if r, ok := h.lineAt(p); ok {
			return h.takeRef(t, r)
		}
	case TakeSpot:
		x, ok := h.takeRef(TakePiece, desk.PieceRef(p.Hit.Piece))
		if at := h.takePoint(p); ok {
			x.texts, x.words, x.at = append(x.texts, at.texts...), x.words+" at "+at.words, at.at
		}
		return x, ok
	case TakeNode:
		if r, ok := h.nodeAt(p); ok {
			return h.takeRef(t, r)
		}
	case TakeMark:
		r := p.Hit
		if line, ok := h.lineAt(p); ok && r.Kind != desk.Notch && r.Kind != desk.Stretch && r.Kind != desk.Dimension {
			r = line
		}
		return h.takeRef(t, r)
	case TakeLinePlace:
		if r, ok := h.lineAt(p); ok {
			return h.linePlace(r, p)
		}
	default:
		return h.takeRef(t, p.Hit)
	}
	return taken{}, false
}

// nodeAt returns the point at the pointer, of an outline or of a line inside a piece.
func (h *Hand) nodeAt(p Pointer) (desk.Ref, bool) {
	if p.Hit.AtNode() {
		return p.Hit, true
	}
	best, found := thingReach*p.MM, desk.Ref{}
	h.eachAt(p, func(piece *draft.Piece, local geom.Point) {
		try := func(n draft.Node) {
			if d := n.At.Dist(local); d <= best {
				best, found = d, desk.NodeRef(piece.ID, n.ID)
			}
		}
		for i := range piece.Edges {
			for _, n := range piece.Edges[i].Nodes {
				try(n)
			}
		}
		for i := range piece.Lines {
			for _, n := range piece.Lines[i].Nodes {
				try(n)
			}
		}
	})
	return found, found.Kind == desk.Node
}

// linePlace takes a line inside a piece and the place on it nearest to the pointer.
func (h *Hand) linePlace(r desk.Ref, p Pointer) (taken, bool) {
	project := h.Desk.Project()
	piece := project.Piece(r.Piece)
	back, ok := piece.Place.Affine().Invert()
	line := piece.Line(r.Thing)
	if !ok || line == nil {
		return taken{}, false
	}
	at := p.At
	if p.Caught.Fixed() {
		at = p.Caught.At
	}
	path := line.Path()
	place, _ := path.Nearest(back.Apply(at))
	along := path.Tape().To(place)
	return taken{
		texts: []string{refText(r.Piece, r.Thing), lengthText(along)}, refs: []desk.Ref{r},
		words: wordsOf(project, r) + " at " + project.Unit.Format(along),
	}, true
}

// kindOf returns the kind of ref that a step takes as a whole.
func (t Take) kindOf() desk.Kind {
	switch t {
	case TakePiece:
		return desk.Piece
	case TakeEdge, TakeRun:
		return desk.Edge
	case TakeNode:
		return desk.Node
	case TakeLine:
		return desk.Line
	case TakeDart:
		return desk.Dart
	case TakeNotch:
		return desk.Notch
	case TakeStretch:
		return desk.Stretch
	case TakePicture:
		return desk.Picture
	}
	return desk.Nothing
}

// fits reports whether a step takes things of the kind as a whole.
func (t Take) fits(k desk.Kind) bool {
	if t == TakeMark {
		return k == desk.Notch || k == desk.Stretch || k == desk.Line || k == desk.Dimension
	}
	return k == t.kindOf()
}

// kinds returns the kinds of things that can be touched for a step.
func (t Take) kinds() []desk.Kind {
	switch t {
	case TakePoint, TakeDrawn:
		return nil
	case TakePiece, TakeSpot: // any part of it stands for it
		return []desk.Kind{desk.Piece, desk.Edge}
	case TakePlace, TakeStroke, TakeSeam:
		return []desk.Kind{desk.Edge}
	case TakeMark:
		return []desk.Kind{desk.Notch, desk.Stretch, desk.Line, desk.Dimension}
	case TakeLinePlace:
		return []desk.Kind{desk.Line}
	}
	return []desk.Kind{t.kindOf()}
}

// takeRef takes a thing as a whole, if it is of the kind.
func (h *Hand) takeRef(t Take, r desk.Ref) (taken, bool) {
	if t == TakeNode && r.AtNode() {
		r = desk.NodeRef(r.Piece, r.Node)
	}
	project := h.Desk.Project()
	if !t.fits(r.Kind) || r.Kind == desk.Nothing || !r.In(project) {
		return taken{}, false
	}
	x := taken{words: wordsOf(project, r), refs: []desk.Ref{r}}
	switch r.Kind {
	case desk.Piece:
		x.texts = []string{pieceText(r.Piece)}
	case desk.Picture:
		x.texts = []string{pieceText(r.Thing)}
	case desk.Edge:
		x.texts = []string{refText(r.Piece, r.Edge)}
	case desk.Node:
		x.texts = []string{refText(r.Piece, r.Node)}
	default:
		x.texts = []string{refText(r.Piece, r.Thing)}
	}
	return x, true
}

func (h *Hand) takePoint(p Pointer) taken {
	if p.Caught.Caught() {
		return h.pointAt(p.Caught.At)
	}
	return h.pointAt(p.At)
}

func (h *Hand) pointAt(at geom.Point) taken {
	unit := h.Desk.Project().Unit
	return taken{
		texts: []string{lengthText(at.X) + "," + lengthText(at.Y)},
		words: unit.FormatBare(at.X) + ", " + unit.Format(at.Y), at: at,
	}
}

// edgeAt returns the edge that a hit is on; a point of the outline stands for the edge
// that it lies on or starts.
func (h *Hand) edgeAt(r desk.Ref) (desk.Ref, bool) {
	switch {
	case r.Kind == desk.Edge:
		return r, r.In(h.Desk.Project())
	case r.AtNode():
		piece := h.Desk.Project().Piece(r.Piece)
		if piece == nil {
			return r, false
		}
		if n, i, _ := piece.Node(r.Node); n != nil && i >= 0 {
			return desk.EdgeRef(r.Piece, piece.Edges[i].ID), true
		}
	}
	return r, false
}

func (h *Hand) takePlace(p Pointer) (taken, bool) {
	r, ok := h.edgeAt(p.Hit)
	if !ok {
		return taken{}, false
	}
	p.Hit = r
	return h.placeAlong(r, h.placeOn(p))
}

// placeAlong returns the place on an edge nearest to one on the bench.
func (h *Hand) placeAlong(r desk.Ref, at geom.Point) (taken, bool) {
	along, _, ok := h.along(r, at)
	if !ok {
		return taken{}, false
	}
	project := h.Desk.Project()
	return taken{
		texts: []string{refText(r.Piece, r.Edge) + "@" + lengthText(along), lengthText(along)},
		words: wordsOf(project, r) + " at " + project.Unit.Format(along), refs: []desk.Ref{r}, at: at,
	}, true
}

// split returns what a place fills: one parameter, or an edge and the place on it.
func (x taken) split(params []string) taken {
	edge, _, _ := strings.Cut(x.texts[0], "@")
	if len(params) == 2 {
		x.texts = []string{edge, x.texts[1]}
	} else {
		x.texts = x.texts[:1]
	}
	return x
}

func (h *Hand) takeSeam(r desk.Ref) (taken, bool) {
	edge, ok := h.edgeAt(r)
	if !ok {
		return taken{}, false
	}
	seams := h.Desk.SeamsOf(desk.Picked{edge})
	if len(seams) == 0 {
		return taken{}, false
	}
	s := seams[0]
	return taken{
		texts: []string{pieceText(s.ID)}, refs: desk.SeamRefs(s),
		words: "seam " + desk.Letter(h.Desk.Project(), s.ID) + ": " + s.Name,
	}, true
}

// thingReach is how near, in screen units, the pointer must come to a line or to the
// leg of a dart.
const thingReach = 9

// dartAt returns the dart at the pointer: on its legs or between them.
func (h *Hand) dartAt(p Pointer) (desk.Ref, bool) {
	if p.Hit.Kind == desk.Dart {
		return p.Hit, true
	}
	best, found := thingReach*p.MM, desk.Ref{}
	h.eachAt(p, func(piece *draft.Piece, local geom.Point) {
		for _, d := range piece.Darts {
			from, _, _ := piece.Node(d.From)
			to, _, _ := piece.Node(d.To)
			if from == nil || to == nil {
				continue
			}
			legs := geom.Path{geom.Line(from.At, d.Apex), geom.Line(d.Apex, to.At)}
			_, dist := legs.Nearest(local)
			if geom.Polygon(from.At, d.Apex, to.At).Contains(local) {
				dist = 0
			}
			if dist < best || dist == 0 {
				best, found = dist, desk.ThingRef(desk.Dart, piece.ID, d.ID)
			}
		}
	})
	return found, found.Kind == desk.Dart
}

// lineAt returns the line inside a piece at the pointer.
func (h *Hand) lineAt(p Pointer) (desk.Ref, bool) {
	if p.Hit.Kind == desk.Line {
		return p.Hit, true
	}
	best, found := thingReach*p.MM, desk.Ref{}
	h.eachAt(p, func(piece *draft.Piece, local geom.Point) {
		for i := range piece.Lines {
			path := piece.Lines[i].Path()
			if len(path) == 0 {
				continue
			}
			if _, dist := path.Nearest(local); dist <= best {
				best, found = dist, desk.ThingRef(desk.Line, piece.ID, piece.Lines[i].ID)
			}
		}
	})
	return found, found.Kind == desk.Line
}

// eachAt goes through the pieces that can be touched with the place of the pointer in
// their own millimetres.
func (h *Hand) eachAt(p Pointer, f func(piece *draft.Piece, local geom.Point)) {
	for _, piece := range h.Desk.Project().Pieces {
		if piece.Hidden || piece.Locked {
			continue
		}
		if back, ok := piece.Place.Affine().Invert(); ok {
			f(piece, back.Apply(p.At))
		}
	}
}

var (
	errNoStroke  = errors.New("draw from one edge of a piece to another, or click one place after the other")
	errTwoPieces = errors.New("both ends of the stroke have to lie on one piece")
)

// stroke takes the two places where a stroke from one place on the bench to another
// goes into a piece and out of it.
func (h *Hand) stroke(from, to Pointer) (taken, error) {
	a, b, err := h.strokePlaces(from, to)
	if err != nil {
		return taken{}, err
	}
	return joinPlaces(a, b)
}

// strokePlaces returns the two places. The stroke that is shown runs between them, so
// that it ends where its line meets the edge, and not where the edge is nearest to the
// pointer.
func (h *Hand) strokePlaces(from, to Pointer) (a, b taken, err error) {
	a, aOn := h.takePlace(from)
	b, bOn := h.strokeTarget(to)
	if aOn && bOn {
		return a, b, nil
	}
	begun, end := h.strokeBegun(from), to.At
	if to.Caught.Caught() {
		end = to.Caught.At
	}
	beyond := end
	if to.Hit.Kind == desk.Edge {
		beyond = end.Add(end.Sub(begun).Unit().Mul(thingReach * to.MM)) // it ends at the edge, though short of it
	}
	piece, first, last, err := h.crossed(begun, beyond)
	if err != nil && aOn {
		if b, bOn = h.takePlace(to); bOn {
			return a, b, nil
		}
	}
	if err != nil {
		return a, b, err
	}
	if !aOn || a.refs[0].Piece != piece.ID {
		a, aOn = h.placeAlong(first.ref, first.at)
	}
	if !bOn || b.refs[0].Piece != piece.ID {
		b, bOn = h.placeAlong(last.ref, last.at)
	}
	if !aOn || !bOn {
		return a, b, errNoStroke
	}
	return a, b, nil
}

// strokeTarget takes the place on an edge at which a stroke ends, if what caught its end
// lies on the edge.
func (h *Hand) strokeTarget(to Pointer) (taken, bool) {
	edge, ok := h.edgeAt(to.Hit)
	if !ok || !to.Caught.Caught() {
		return h.takePlace(to)
	}
	at, ok := h.nearestOn(edge, to.Caught.At)
	if !ok || !at.Near(to.Caught.At, onPlace) {
		return taken{}, false
	}
	return h.placeAlong(edge, to.Caught.At)
}

// joinPlaces makes one stroke of two places.
func joinPlaces(a, b taken) (taken, error) {
	if a.refs[0].Piece != b.refs[0].Piece {
		return taken{}, errTwoPieces
	}
	_, _, edge := cutWords(b.words)
	return taken{
		texts: []string{a.texts[0], b.texts[0]}, words: a.words + " to " + edge,
		refs: []desk.Ref{a.refs[0], b.refs[0]}, at: b.at,
	}, nil
}

// cutWords takes what wordsOf says apart.
func cutWords(words string) (piece, sign, part string) {
	piece, part, ok := strings.Cut(words, " · ")
	if !ok {
		return "", "", words
	}
	return piece, " · ", part
}

// crossing is a place where a stroke crosses an edge.
type crossing struct {
	ref desk.Ref
	at  geom.Point
}

// crossed returns the piece that a stroke crosses, or in which it lies for the longest
// way, and where it goes in first and out last.
func (h *Hand) crossed(from, to geom.Point) (*draft.Piece, crossing, crossing, error) {
	project := h.Desk.Project()
	var best *draft.Piece
	var first, last crossing
	longest := 0.0
	line := geom.Path{geom.Line(from, to)}
	box := geom.RectOf(from, to)
	for _, piece := range project.Pieces {
		if piece.Hidden || piece.Locked {
			continue
		}
		place := piece.Place.Affine()
		var on []crossing
		for i := range piece.Edges {
			path := piece.EdgePath(i).Transform(place)
			if !path.Bounds().Grow(1).Overlaps(box) {
				continue
			}
			for _, m := range line.Intersections(path) {
				on = append(on, crossing{desk.EdgeRef(piece.ID, piece.Edges[i].ID), m.P})
			}
		}
		a, b, way := outermost(on, from)
		if way > longest {
			best, first, last, longest = piece, a, b, way
		}
	}
	if best == nil {
		return nil, first, last, errNoStroke
	}
	return best, first, last, nil
}

// outermost returns the crossings nearest to a place and farthest from it, and how far
// they are apart.
func outermost(on []crossing, from geom.Point) (first, last crossing, way float64) {
	if len(on) == 0 {
		return first, last, 0
	}
	near, far := math.Inf(1), -1.0
	for _, c := range on {
		if d := c.at.Dist(from); d < near {
			near, first = d, c
		}
		if d := c.at.Dist(from); d > far {
			far, last = d, c
		}
	}
	return first, last, first.at.Dist(last.at)
}

// lacking says why the pointer gives nothing to a step.
func (t Take) lacking() error {
	thing := map[Take]string{
		TakePiece: "a piece", TakeSpot: "a piece", TakeEdge: "an edge", TakeRun: "an edge", TakePlace: "an edge", TakeStroke: "an edge",
		TakeLine: "a line inside a piece", TakeDart: "a dart", TakeSeam: "an edge that is sewn", TakeNode: "a point",
		TakeNotch: "a notch", TakeMark: "a mark", TakeLinePlace: "a line inside a piece", TakeStretch: "a gathered or eased stretch of an edge",
	}[t]
	return fmt.Errorf("there is no %s here", strings.TrimPrefix(strings.TrimPrefix(thing, "an "), "a "))
}

// strokeEnd returns the pointer at the end of a stroke, with what catches it for a line
// from its beginning; Shift keeps the stroke across or up.
func (h *Hand) strokeEnd(from, p Pointer) Pointer {
	begun := h.strokeBegun(from)
	if p.Keys.Shift {
		// Where the straight stroke crosses the edge counts, and not what is near it.
		way := straight(p.At.Sub(begun))
		p.At = begun.Add(way).Add(way.Unit().Mul(thingReach * p.MM))
		p.Hit, p.Caught = desk.Ref{}, Catch{}
		return p
	}
	if h.Catches != nil {
		p.Caught = h.Catch(p, &begun)
	}
	return p
}

// strokeBegun returns where a stroke begins: on the edge that it was begun at.
func (h *Hand) strokeBegun(from Pointer) geom.Point {
	r, ok := h.edgeAt(from.Hit)
	if !ok {
		return from.At
	}
	from.Hit = r
	return h.placeOn(from)
}
