package bench

import (
	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// handlesItem draws the picked edges, the nodes of the piece and the handles that
// are shown.
func (s *scene) handlesItem(b *body) *paint.Item {
	item := &paint.Item{Place: b.place}
	add := func(m paint.Mark) { item.Marks = append(item.Marks, m) }
	chalk := paint.Of(paint.Chalk)
	for _, r := range s.picked {
		if r.Kind == desk.Edge && r.Piece == b.piece.ID {
			if _, i := b.piece.Edge(r.Edge); i >= 0 {
				add(edgeLine(b, i, chalk))
				if text, ok := s.startMark(b, i); ok {
					add(text)
				}
			}
		} else if r.Piece == b.piece.ID {
			item.Marks = append(item.Marks, b.outlined(r, chalk)...)
		}
	}
	if b.piece.Locked {
		return item
	}
	b.eachNode(func(n nodeMark) {
		for _, h := range n.handles() {
			if !s.showsHandle(b, n, h.out) {
				continue
			}
			add(paint.Shape{Path: geom.Path{geom.Line(n.node.At, h.at)}, Line: paint.Line{Colour: chalk, Width: markWidth}})
			ref := desk.HandleRef(b.piece.ID, n.node.ID, h.out)
			add(paint.Dot{At: h.at, Kind: paint.HandleEnd, Colour: chalk, Large: s.picked.Has(ref) || s.hover == ref})
		}
	})
	b.eachNode(func(n nodeMark) {
		ref := desk.NodeRef(b.piece.ID, n.node.ID)
		dot := paint.Dot{At: n.node.At, Colour: paint.Of(paint.Ink), Fill: paint.Of(paint.Node)}
		if !n.corner {
			dot.Kind = paint.SmoothNode
			if !n.node.Smooth {
				dot.Kind = paint.CornerNode
			}
		}
		if s.picked.Has(ref) {
			dot.Colour, dot.Fill = chalk, chalk
			dot.Large = true
		} else if s.showsHandles(b, n) || s.hover == ref {
			dot.Colour, dot.Large = chalk, true
		}
		if n.line != "" && !dot.Large && len(b.piece.Line(n.line).Nodes) == 1 {
			return // the mark itself shows where it is
		}
		add(dot)
	})
	return item
}

// outlined returns what draws attention to a thing on the piece: its lines, thick and
// in the colour; of a whole piece its outline.
func (b *body) outlined(r desk.Ref, c paint.Colour) []paint.Mark {
	thick := paint.Line{Colour: c, Width: 3.4, Join: paint.Round, Cap: paint.RoundCap}
	switch r.Kind {
	case desk.Piece:
		return nil
	case desk.Edge:
		if _, i := b.piece.Edge(r.Edge); i >= 0 {
			return []paint.Mark{edgeLine(b, i, c)}
		}
		return nil
	}
	x := b.part(r)
	if x == nil {
		return nil
	}
	var marks []paint.Mark
	switch r.Kind {
	case desk.Notch:
		for i := range b.piece.Notches {
			if n := &b.piece.Notches[i]; n.ID == r.Thing {
				marks = append(marks, notchTick(n, x, thick))
			}
		}
		return marks
	case desk.Stretch:
		for _, s := range b.piece.Stretches {
			for _, path := range x.paths {
				switch {
				case s.ID != r.Thing:
				case s.Kind == draft.ClipStretch && x.inset == 0:
					marks = append(marks, paint.Shape{Path: path, Line: paint.Line{Colour: c, Width: 3}})
				default:
					marks = append(marks, stretchLine(s.Kind, path, c, 3))
				}
			}
		}
		return marks
	case desk.Dimension:
		for _, path := range x.paths {
			marks = append(marks, dimensionLine(path, x.inset, paint.Line{Colour: c, Width: 3}))
		}
		return marks
	}
	for _, path := range x.paths {
		marks = append(marks, paint.Shape{Path: path, Line: thick})
	}
	for _, at := range x.spots {
		marks = append(marks, paint.Dot{At: at, Kind: paint.Ring, Colour: c, Large: true})
	}
	return marks
}

// The word at the start of an edge stands so far along it and so far inside, in
// screen units.
const (
	startAlong  = 20
	startInside = 10
)

// startsAt are how far from the start of an edge its word is tried, in screen units.
var startsAt = []float64{startAlong, 1.8 * startAlong, 2.6 * startAlong}

// startMark returns what says at which end an edge starts, where its allowance can differ; false
// where it would stand over what is written on the piece, or past the middle of the edge.
func (s *scene) startMark(b *body, i int) (paint.Text, bool) {
	if len(b.edges[i]) == 0 {
		return paint.Text{}, false
	}
	from, long := 0.0, b.edges[i].Length()*s.view.Scale/s.view.DPR
	if b.namedAt(b.edges[i].Start()) {
		from = pointWordOff // its name stands here
	}
	for _, along := range startsAt {
		text := startText(b, i, from+along)
		if from+along < long/2 && !s.coversWords(b, text) {
			return text, true
		}
	}
	return paint.Text{}, false
}

// coversWords reports whether a text lies over what is written on the piece.
func (s *scene) coversWords(b *body, text paint.Text) bool {
	box, _ := textBox(s.view, b.place, text)
	if b.drawn.item == nil {
		return false
	}
	for _, m := range b.drawn.item.Marks {
		if other, ok := m.(paint.Text); ok {
			if o, shown := textBox(s.view, b.place, other); shown && o.Overlaps(box) {
				return true
			}
		}
	}
	return false
}

// startText is the word so far along an edge from its start, in screen units.
func startText(b *body, i int, from float64) paint.Text {
	along := b.place.ApplyVector(b.edges[i].Tangent(b.edges[i].AtLength(0)))
	in := along.Left()
	way := along.Mul(from).Add(in.Mul(startInside))
	// Beside a steep edge the word begins or ends at the edge and does not cross it.
	const steep = 0.4
	anchor := paint.Middle
	switch {
	case in.X > steep:
		anchor = paint.Start
	case in.X < -steep:
		anchor = paint.End
	}
	return paint.Text{
		At: b.edges[i].Start(), DX: way.X, DY: letterDrop - way.Y, Text: "start", Size: 10.5,
		Colour: paint.Of(paint.Chalk), Anchor: anchor, Halo: paint.Of(paint.Cloth),
	}
}

// namedAt reports whether a marked point with a name lies at a place of the piece.
func (b *body) namedAt(at geom.Point) bool {
	const same = 1e-3
	for _, l := range b.piece.Lines {
		if len(l.Nodes) == 1 && l.Name != "" && l.Nodes[0].At.Dist(at) < same {
			return true
		}
	}
	return false
}

// seamItems draws attention to the seams that do not hold: both edges in colour,
// and at the side that is too long or too short what is wrong. Those that the maker lives with are
// left in peace.
func (s *scene) seamItems(report draft.Report) []*paint.Item {
	var items []*paint.Item
	above := map[draft.ID]int{} // how many plates stand above a piece already
	for _, state := range report.Seams {
		if state.Holds || desk.SeamWaived(report, state.Seam.ID) {
			continue
		}
		for _, r := range desk.SeamRefs(state.Seam) {
			if !s.picked.Has(r) {
				items = append(items, s.glow(r, paint.Of(paint.Pin)))
			}
		}
		piece := offPiece(s.project, state)
		if b := s.bodies[piece]; b != nil {
			items = append(items, s.seamPlate(b, state, above[piece]))
			above[piece]++
		}
	}
	return items
}

// offPiece returns the first piece of the side of a seam that is too long or too short.
func offPiece(p *draft.Project, state draft.SeamState) draft.ID {
	a, b := state.Seam.A, state.Seam.B
	if side := state.Off(p).Side; len(b) > 0 && side == draft.SideName(p, b) && side != draft.SideName(p, a) {
		return b[0].Piece
	}
	return a[0].Piece
}

// Plates stand so far above a piece, and above one another, in screen units.
const (
	plateAbove = 20
	plateStep  = 28
)

// seamPlate says above a piece which side of a seam is too long or too short.
func (s *scene) seamPlate(b *body, state draft.SeamState, n int) *paint.Item {
	off := state.Off(s.project)
	text := desk.Letter(s.project, state.Seam.ID) + ": " + off.Edge + " " + s.project.Unit.FormatSmall(off.By) + " " + off.What()
	at, dy := geom.Pt(b.box.Center().X, b.box.Max.Y), -plateAbove-plateStep*float64(n)-b.lettersOut()
	if s.plateMeets(b, at, dy, text) {
		low, down := geom.Pt(at.X, b.box.Min.Y), plateHigh+plateClear/2+plateStep*float64(n)+b.lettersOut()
		if !s.plateMeets(b, low, down, text) {
			at, dy = low, down
		}
	}
	dx, dy := s.clear(at, dy, text)
	return &paint.Item{Marks: []paint.Mark{paint.Text{
		At: at, DX: dx, DY: dy,
		Text: text, Size: 12, Weight: paint.SemiBold, Colour: paint.Of(paint.PinText),
		Anchor: paint.Middle, Plate: paint.Of(paint.PinTint), Rim: paint.Of(paint.Pin),
	}}}
}

// lettersOut returns how much room the letters of seams take outside a piece that is too
// shallow to have them inside, in screen units.
func (b *body) lettersOut() float64 {
	const letterTall = 9
	if b.box.H() < 2*letterDepth {
		return letterOutset + letterTall
	}
	return 0
}

// plateMeets reports whether a plate at a place by a piece would lie over another piece, or
// below the foot of the bench.
func (s *scene) plateMeets(by *body, at geom.Point, dy float64, text string) bool {
	v := s.view
	px, mm := v.ToPx(at), v.DPR/v.Scale
	if low := float64(v.H) / v.DPR; px.Y/v.DPR+dy > low-plateClear/2 {
		return true
	}
	half := (float64(len([]rune(text)))*12*letterWide/2 + plateClear) * mm
	box := geom.Rect{Min: geom.Pt(at.X-half, at.Y-(dy+plateClear/2)*mm), Max: geom.Pt(at.X+half, at.Y-(dy-plateHigh)*mm)}
	for _, b := range s.order {
		if b != by && b.box.Min.X < box.Max.X && b.box.Max.X > box.Min.X && b.box.Min.Y < box.Max.Y && b.box.Max.Y > box.Min.Y {
			return true
		}
	}
	return false
}

// plateHigh is how high a plate reaches above its baseline, and plateClear what stays
// free beside it, in screen units.
const (
	plateHigh  = 18
	plateClear = 12
)

// clear returns how far from the place a plate is set so that it neither lies under
// what covers the top of the bench nor runs out at its sides; dy is where it stands
// otherwise. A place that is out of sight keeps its plate.
func (s *scene) clear(at geom.Point, dy float64, text string) (dx, y float64) {
	v := s.view
	px := v.ToPx(at)
	x, top := px.X/v.DPR, px.Y/v.DPR
	wide, high := float64(v.W)/v.DPR, float64(v.H)/v.DPR
	if x < 0 || x > wide || top > high {
		return 0, dy
	}
	half := float64(len([]rune(text)))*12*letterWide/2 + plateClear
	if 2*half < wide {
		dx = max(half-x, 0) + min(wide-half-x, 0)
	}
	least := s.covered + plateHigh + plateClear/2 - top
	if dy < least && least < plateLower {
		return dx, least
	}
	return dx, dy
}

// plateLower is how far down from its piece's top a plate goes out of the way, in
// screen units.
const plateLower = 400

// findingItems marks the places that findings point at.
func (s *scene) findingItems(report draft.Report) []*paint.Item {
	var items []*paint.Item
	for _, f := range report.Findings {
		b := s.bodies[f.Piece]
		if !f.Open() || f.At == nil || b == nil {
			continue
		}
		badge := paint.Badge{At: *f.At, DX: 13, DY: -13, Kind: paint.Note, Colour: paint.Of(paint.Faint), Fill: paint.Of(paint.Bench)}
		switch f.Level {
		case draft.Problem:
			badge.Kind, badge.Colour = paint.Problem, paint.Of(paint.Pin)
		case draft.LookAgain:
			badge.Kind, badge.Colour = paint.LookAgain, paint.Of(paint.Ochre)
		}
		items = append(items, &paint.Item{Place: b.place, Marks: []paint.Mark{badge}})
	}
	return items
}
