package bench

import (
	"hemlet/app/bench/snap"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// part is something that lies on a piece besides its outline, in the piece's own
// millimetres: a line, a dart, a notch, a stretch or a dimension.
type part struct {
	ref desk.Ref
	// paths are touched along their lines; those of a stretch, and of a dimension along
	// edges, are the edges themselves, beside which it is drawn, inset units to the left.
	paths []geom.Path
	inset float64
	// spots are touched at their places: the tip of a dart, a drill point, the
	// fastenings of a row.
	spots []geom.Point
	// box holds the paths and the spots.
	box geom.Rect
	// notch is where a notch stands and the direction out of the piece.
	notch, out geom.Point
}

// partsOn returns what lies on a piece, in the order in which it is drawn; flat is the piece
// as it is cut, nil where that is not known.
func partsOn(p *draft.Piece, flat *draft.Flat) []part {
	var parts []part
	add := func(x part) {
		x.box = geom.RectOf(x.spots...)
		for _, path := range x.paths {
			x.box = x.box.Union(path.Bounds())
		}
		parts = append(parts, x)
	}
	for i := range p.Stretches {
		s := &p.Stretches[i]
		if clips := clipsOn(flat, *s); len(clips) > 0 {
			add(part{ref: desk.ThingRef(desk.Stretch, p.ID, s.ID), paths: clips})
			continue
		}
		if paths := stretchPaths(p, s); len(paths) > 0 {
			add(part{ref: desk.ThingRef(desk.Stretch, p.ID, s.ID), paths: paths, inset: stretchInset})
		}
	}
	for i := range p.Darts {
		d := &p.Darts[i]
		legs, ok := dartLegs(p, d)
		if !ok {
			continue
		}
		x := part{ref: desk.ThingRef(desk.Dart, p.ID, d.ID), paths: legs}
		if d.Fold == draft.Wedge {
			x.spots = []geom.Point{d.Apex}
		}
		add(x)
	}
	for i := range p.Lines {
		add(linePart(p, &p.Lines[i]))
	}
	for _, n := range p.Notches {
		if at, out, ok := snap.Notch(p, n); ok {
			add(part{ref: desk.ThingRef(desk.Notch, p.ID, n.ID), spots: []geom.Point{at}, notch: at, out: out})
		}
	}
	for _, s := range p.Spans {
		if s.Measure != "" {
			continue
		}
		x := part{ref: desk.ThingRef(desk.Dimension, p.ID, s.ID), paths: spanned(p, s)}
		if len(s.Edges) > 0 {
			x.inset = dimensionInset
		}
		if len(x.paths) > 0 {
			add(x)
		}
	}
	return parts
}

// clipsOn returns the clips of a stretch across the allowance, from the cut edge inward.
func clipsOn(flat *draft.Flat, s draft.Stretch) []geom.Path {
	if flat == nil || s.Kind != draft.ClipStretch {
		return nil
	}
	var clips []geom.Path
	for _, fe := range flat.Edges {
		if fe.Edge.ID != s.Edge || fe.Half == draft.Far {
			continue
		}
		for _, clip := range draft.ClipMarks(fe, s) {
			clips = append(clips, geom.Path{clip})
		}
	}
	return clips
}

func linePart(p *draft.Piece, l *draft.Line) part {
	x := part{ref: desk.ThingRef(desk.Line, p.ID, l.ID)}
	if path := l.Path(); len(path) > 0 {
		x.paths = []geom.Path{path}
		for _, f := range l.Fastenings() {
			x.spots = append(x.spots, f.At)
		}
		return x
	}
	for _, n := range l.Nodes {
		x.spots = append(x.spots, n.At)
	}
	return x
}

// dartLegs returns the lines of a dart: its legs to the tip, or those of a pleat or a
// tuck, which run side by side.
func dartLegs(p *draft.Piece, d *draft.Dart) ([]geom.Path, bool) {
	meet, _ := p.FoldLines(*d)
	switch {
	case len(meet) == 0:
		return nil, false
	case d.Fold == draft.Wedge:
		return []geom.Path{{meet[0], meet[1].Reverse()}}, true
	default:
		return []geom.Path{{meet[0]}, {meet[1]}}, true
	}
}

// stretchPaths returns the parts of the edge that the stretch covers; darts divide
// them.
func stretchPaths(p *draft.Piece, s *draft.Stretch) []geom.Path {
	_, i := p.Edge(s.Edge)
	if i < 0 {
		return nil
	}
	edge := p.EdgeParts(i)
	total := 0.0
	for _, part := range edge {
		total += part.Length()
	}
	from, to := min(s.From, s.To)*total, max(s.From, s.To)*total
	var out []geom.Path
	done := 0.0
	for _, part := range edge {
		tape := part.Tape()
		a, b := max(from-done, 0), min(to-done, tape.Length())
		if a < b {
			if cut := tape.Between(a, b); len(cut) > 0 {
				out = append(out, cut)
			}
		}
		done += tape.Length()
	}
	return out
}
