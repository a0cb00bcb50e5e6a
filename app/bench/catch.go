package bench

import (
	"slices"

	"hemlet/app/bench/paint"
	"hemlet/app/bench/snap"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// SetCatching lets points, edges and what else lies on the bench catch the pointer, or
// not.
func (b *Bench) SetCatching(on bool) { b.free = !on }

// Catching reports whether anything catches the pointer.
func (b *Bench) Catching() bool { return !b.free }

// catch returns what catches a place.
func (b *Bench) catch(q tool.Reach) tool.Catch {
	if b.free {
		return tool.Catch{At: q.At}
	}
	field := b.scene.field()
	field.Guides, field.Seen, field.Grid = b.guides, b.view.Visible(), b.grid().Step(b.view)
	return field.Catch(q)
}

// grid is the squared paper for the unit of the document.
func (b *Bench) grid() paint.Grid {
	if u := b.desk.Project().Unit; u == draft.Inch || u == draft.InchFraction {
		return paint.Inches
	}
	return paint.Metric
}

// things returns what the piece catches the pointer with.
func (b *body) things() *snap.Things {
	if b.caught == nil {
		b.caught = snap.Of(b.piece)
	}
	return b.caught
}

// field returns all that catches the pointer; its slices hold until the next call.
func (s *scene) field() *snap.Field {
	f := &snap.Field{Things: s.fieldThings[:0]}
	for _, b := range s.order {
		f.Things = append(f.Things, b.things())
		if s.picked.Touches(b.piece.ID) {
			f.Alike = append(f.Alike, b.things())
		}
	}
	s.fieldThings = f.Things
	return f
}

// touch returns what of the kinds, of all where none is given, lies at a place.
func (b *Bench) touch(at geom.Point, mm float64, kinds ...desk.Kind) (desk.Ref, geom.Point) {
	h := b.scene.hitAt(at, mm, takesOf(kinds))
	return h.ref, h.at
}

// takes says which kinds can be touched.
type takes func(desk.Kind) bool

func takesOf(kinds []desk.Kind) takes {
	if len(kinds) == 0 {
		return func(desk.Kind) bool { return true }
	}
	return func(k desk.Kind) bool { return slices.Contains(kinds, k) }
}

// takes says what the tool in hand takes.
func (b *Bench) takes() takes {
	if t, ok := b.tool.(tool.Picky); ok {
		kinds := t.Takes()
		return func(k desk.Kind) bool { return slices.Contains(kinds, k) }
	}
	return takesOf(nil)
}
