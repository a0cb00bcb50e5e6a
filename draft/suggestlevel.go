package draft

import (
	"math"
	"slices"

	"hemlet/geom"
)

// drawnLevel is a level of the body on a piece: the lines across the piece that lie there.
type drawnLevel struct {
	name   string
	height float64
	// ids are those of the lines, from left to right, lines those of them that have to be
	// drawn first.
	ids   []ID
	lines []Line
	width float64
	// middle is the end nearest the middle of the body.
	middle ID
}

// stretchAcross is a stretch of cloth across a piece, from its left to its right end as
// the piece's own right has it.
type stretchAcross struct{ from, to float64 }

// acrossAt returns the stretches of cloth at a height, from left to right, without what
// darts take in.
func (pa *PieceAnatomy) acrossAt(height float64) []stretchAcross {
	outline := pa.Piece.DrawnPath()
	list := pa.inside(outline, height)
	for i := range pa.Piece.Darts {
		d := &pa.Piece.Darts[i]
		if m, ok := pa.Piece.mouthAt(d); ok && d.Fold == Wedge {
			list = without(list, pa.inside(geom.Path{geom.Line(m.from, m.to), geom.Line(m.to, d.Apex), geom.Line(d.Apex, m.from)}, height))
		}
	}
	for i := range pa.Piece.Lines {
		if l := &pa.Piece.Lines[i]; l.Kind == DartLine && l.Closed {
			list = without(list, pa.inside(l.Path(), height))
		}
	}
	return list
}

// inside returns the stretches at a height that lie within a closed path.
func (pa *PieceAnatomy) inside(path geom.Path, height float64) []stretchAcross {
	box := path.Bounds()
	reach := box.W() + box.H() + 1
	middle := pa.right(box.Center())
	level := geom.Line(pa.at(middle-reach, height), pa.at(middle+reach, height))
	var cuts []float64
	for _, s := range path {
		for _, m := range s.Intersections(level) {
			cuts = append(cuts, pa.right(m.P))
		}
	}
	slices.Sort(cuts)
	var out []stretchAcross
	for i := 1; i < len(cuts); i++ {
		a, b := cuts[i-1], cuts[i]
		if b-a <= shortestStretch || !path.Contains(pa.at((a+b)/2, height)) {
			continue
		}
		if n := len(out); n > 0 && a-out[n-1].to <= shortestStretch {
			out[n-1].to = b
			continue
		}
		out = append(out, stretchAcross{a, b})
	}
	return out
}

// without takes stretches out of others.
func without(list, cut []stretchAcross) []stretchAcross {
	for _, c := range cut {
		var out []stretchAcross
		for _, s := range list {
			if c.to <= s.from || c.from >= s.to {
				out = append(out, s)
				continue
			}
			if c.from-s.from > shortestStretch {
				out = append(out, stretchAcross{s.from, c.from})
			}
			if s.to-c.to > shortestStretch {
				out = append(out, stretchAcross{c.to, s.to})
			}
		}
		list = out
	}
	return list
}

// widthAt returns how much cloth there is across a piece at a height, in mm.
func (pa *PieceAnatomy) widthAt(height float64) float64 {
	sum := 0.0
	for _, s := range pa.acrossAt(height) {
		sum += s.to - s.from
	}
	return sum
}

const (
	// lineLevel is how much a line may rise, as a share of how far it goes across, and
	// still mark a level; linesCover how much of the width lines must cover that are taken
	// for the level.
	lineLevel  = 0.2
	linesCover = 0.85
)

// level returns the level of a name at a height of a piece: lines that lie there within a
// distance in mm, or one that is drawn there; nil where the piece does not reach.
func (f *spanFinder) level(pa *PieceAnatomy, name string, height, within float64) *drawnLevel {
	for _, l := range f.drawn[pa.Piece.ID] {
		if l.name == name {
			return l
		}
	}
	l := f.levelThere(pa, name, height, within)
	if l == nil {
		l = f.drawLevel(pa, name, height)
	}
	if l != nil {
		f.drawn[pa.Piece.ID] = append(f.drawn[pa.Piece.ID], l)
	}
	return l
}

// levelThere returns the level where lines of the piece mark it.
func (f *spanFinder) levelThere(pa *PieceAnatomy, name string, height, within float64) *drawnLevel {
	var marks []*Line
	for i := range pa.Piece.Lines {
		l := &pa.Piece.Lines[i]
		if l.Closed || len(l.Nodes) < 2 || l.Kind != PlacementLine && l.Kind != StyleLine {
			continue
		}
		a, b := l.Nodes[0].At, l.Nodes[len(l.Nodes)-1].At
		if math.Abs(pa.height((a.Lerp(b, 0.5)))-height) <= within && math.Abs(pa.height(b)-pa.height(a)) <= lineLevel*pa.across(a, b) {
			marks = append(marks, l)
		}
	}
	if len(marks) == 0 {
		return nil
	}
	left := func(l *Line) float64 { return min(pa.right(l.Nodes[0].At), pa.right(l.Nodes[len(l.Nodes)-1].At)) }
	slices.SortStableFunc(marks, func(a, b *Line) int {
		if left(a) < left(b) {
			return -1
		}
		return 1
	})
	out := &drawnLevel{name: name}
	var ends []Node
	for _, l := range marks {
		first, last := l.Nodes[0], l.Nodes[len(l.Nodes)-1]
		out.ids = append(out.ids, l.ID)
		out.width += l.Path().Length()
		out.height += pa.height(first.At.Lerp(last.At, 0.5)) / float64(len(marks))
		ends = append(ends, first, last)
	}
	if all := pa.widthAt(out.height); out.width < linesCover*all || out.width > all/linesCover {
		return nil
	}
	out.middle = pa.nearestMiddle(ends)
	return out
}

// drawLevel draws a level across the piece, beside what darts take in.
func (f *spanFinder) drawLevel(pa *PieceAnatomy, name string, height float64) *drawnLevel {
	list := pa.acrossAt(height)
	if len(list) == 0 {
		return nil
	}
	out := &drawnLevel{name: name, height: height}
	var ends []Node
	taken := make(map[string]bool)
	for _, s := range list {
		l := Line{ID: f.ids.make(kindLine)}
		l.Name = unusedName(name, func(n string) bool { return taken[n] || pa.Piece.hasLineName(n) })
		taken[l.Name] = true
		for _, right := range [...]float64{s.from, s.to} {
			l.Nodes = append(l.Nodes, Node{ID: f.ids.make(kindNode), At: onGrid(pa.at(right, height))})
		}
		ends = append(ends, l.Nodes...)
		out.ids, out.lines = append(out.ids, l.ID), append(out.lines, l)
		out.width += s.to - s.from
	}
	out.middle = pa.nearestMiddle(ends)
	return out
}

func onGrid(at geom.Point) geom.Point { return geom.Pt(toGrid(at.X), toGrid(at.Y)) }

// nearestMiddle returns the node that lies nearest to the middle of the body: to the edge
// that lies there, or to the middle of a piece that is drawn whole.
func (pa *PieceAnatomy) nearestMiddle(nodes []Node) ID {
	var best ID
	least := math.Inf(1)
	middle := pa.right(pa.Piece.DrawnPath().Bounds().Center())
	for _, n := range nodes {
		d := math.Abs(pa.right(n.At) - middle)
		for k, i := range pa.With(AtCentre, AtCentreFront, AtCentreBack) {
			_, off := pa.Piece.EdgePath(i).Nearest(n.At)
			if k == 0 || off < d {
				d = off
			}
		}
		if d < least {
			best, least = n.ID, d
		}
	}
	return best
}
