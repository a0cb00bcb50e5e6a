package tracer

import (
	"fmt"
	"reflect"
	"slices"

	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
)

const (
	// samePlace is how far in mm a line may lie off that of a piece to count as the one
	// that the piece came of: more than two ways of following the same ink differ by.
	samePlace = 0.5
	// sameMost is the share of the line that has to lie there; the rest may have been
	// corrected on the bench.
	sameMost = 0.75
	// sameSteps is at how many places along the line that is looked at.
	sameSteps = 120
)

// recognise finds lines that lie on the bench already as pieces that were traced, such as
// in a project that was saved and opened again: these are not ticked.
func (f *finds) recognise() {
	used := map[draft.ID]bool{}
	for _, l := range f.lines {
		used[l.piece] = true
	}
	var names []string
	for _, l := range f.lines {
		if f.lies(l) {
			continue
		}
		p, line := f.pieceOf(l, used)
		if p == nil {
			continue
		}
		used[p.ID] = true
		l.piece, l.lay, l.taken = p.ID, true, false
		f.laid = append(f.laid, &laidPiece{id: p.ID, ink: l.Ink, line: line, place: p.Place})
		names = append(names, p.Name)
	}
	f.recall()
	if len(names) == 0 {
		return
	}
	f.changed()
	is := "is"
	if len(names) > 1 {
		is = "are"
	}
	f.say(fmt.Sprintf("%s %s on the bench already and not ticked.", wording.List(names), is))
}

// pieceOf returns the traced piece whose line lies where a line that was found lies, and
// what of the piece that is; nil without.
func (f *finds) pieceOf(l *line, used map[draft.ID]bool) (*draft.Piece, draft.DrawnLine) {
	for _, p := range f.desk.Project().Pieces {
		o := f.desk.Project().Origin(p.Origin)
		if o == nil || used[p.ID] {
			continue
		}
		path, err := f.inkLine(p, o.Line)
		if err == nil && liesOn(l.Path, path) {
			return p, o.Line
		}
	}
	return nil, 0
}

// liesOn reports whether most of a path lies on another.
func liesOn(path, on geom.Path) bool {
	a, b := path.Bounds(), on.Bounds()
	if a.Empty() || b.Empty() || a.Center().Dist(b.Center()) > sameShare*max(a.W(), a.H()) {
		return false // which spares looking closely
	}
	n := 0
	for _, pt := range alongPath(path, sameSteps) {
		if _, off := on.Nearest(pt); off <= samePlace {
			n++
		}
	}
	return n >= sameMost*sameSteps
}

// alongPath returns n places along a path, evenly spaced.
func alongPath(p geom.Path, n int) []geom.Point {
	pts := p.Flatten(samePlace / 10)
	total := 0.0
	for i := 1; i < len(pts); i++ {
		total += pts[i].Dist(pts[i-1])
	}
	step := total / float64(n)
	out := make([]geom.Point, 0, n)
	left := step / 2
	for i := 1; i < len(pts); i++ {
		long := pts[i].Dist(pts[i-1])
		for ; left <= long && long > 0 && len(out) < n; left += step {
			out = append(out, pts[i-1].Lerp(pts[i], left/long))
		}
		left -= long
	}
	return out
}

// recall begins what the pattern was made for with what the project says of the pattern
// that was traced last, as long as nothing else was said.
func (f *finds) recall() {
	origins := f.desk.Project().Origins
	if len(origins) == 0 || !reflect.DeepEqual(f.made, madeFor{}) {
		return
	}
	o := origins[len(origins)-1]
	m := madeFor{said: true, line: o.Line, name: o.Name, size: o.Size, measures: slices.Clone(o.Measures)}
	if o.Line == draft.CutDrawn {
		m.inside, m.insideSaid = o.Allowance, true
	} else {
		m.outside = usualAllowance
		for _, p := range f.desk.Project().Pieces {
			if p.Origin == o.ID && len(p.Edges) > 0 {
				m.outside = p.Edges[0].Allowance.Widest()
				break
			}
		}
	}
	f.made = m
}
