package store

import (
	"hemlet/draft"
)

func pieceLayout(f fields, p *draft.Piece) {
	f.id("id", &p.ID)
	f.text("name", &p.Name)
	f.text("garment", &p.Garment)
	f.id("cloth", &p.Cloth)
	f.word("layer", &p.Layer)
	f.word("cut", &p.Cut.Way)
	f.count("count", &p.Cut.Count, 1)
	f.prose("note", &p.Note)
	f.id("origin", &p.Origin)
	grainLayout(f, &p.Grain)
	f.maybePlace("label_at_mm", &p.LabelAt)
	f.vector("bench_mm", &p.Place.At)
	f.turn("bench_turn_deg", &p.Place.Turn)
	f.flag("hidden", &p.Hidden)
	f.flag("locked", &p.Locked)
	f.number("ghost", &p.Ghost, 0)
	rows(f, "darts", &p.Darts, dartLayout)
	rows(f, "notches", &p.Notches, notchLayout)
	rows(f, "spans", &p.Spans, spanLayout)
	rows(f, "stretches", &p.Stretches, stretchLayout)
	tables(f, "edges", &p.Edges, edgeLayout)
	tables(f, "lines", &p.Lines, lineLayout)
	f.table("derived", p.Derived != nil, func() { p.Derived = new(draft.Derived) }, func(f fields) {
		d := p.Derived
		f.id("derivation", &d.Derivation)
		f.text("role", &d.Role)
		f.table("rest", d.Rest != nil, func() { d.Rest = new(draft.Rest) }, func(f fields) { restLayout(f, d.Rest) })
		tables(f, "base", &d.Base, edgeLayout)
	})
}

// restLayout says of what was generated besides the outline what pieceLayout says of
// the piece.
func restLayout(f fields, r *draft.Rest) {
	f.text("name", &r.Name)
	f.text("garment", &r.Garment)
	f.word("layer", &r.Layer)
	f.word("cut", &r.Cut.Way)
	f.count("count", &r.Cut.Count, 1)
	f.prose("note", &r.Note)
	grainLayout(f, &r.Grain)
	f.maybePlace("label_at_mm", &r.LabelAt)
	rows(f, "darts", &r.Darts, dartLayout)
	rows(f, "notches", &r.Notches, notchLayout)
	rows(f, "spans", &r.Spans, spanLayout)
	rows(f, "stretches", &r.Stretches, stretchLayout)
	tables(f, "lines", &r.Lines, lineLayout)
}

func grainLayout(f fields, grain **draft.Grain) {
	f.row("grain", *grain != nil, func() { *grain = new(draft.Grain) }, func(f fields) {
		f.place("from_mm", &(*grain).From)
		f.place("to_mm", &(*grain).To)
	})
}

func dartLayout(f fields, d *draft.Dart) {
	f.id("id", &d.ID)
	f.text("name", &d.Name)
	f.id("edge", &d.Edge)
	f.id("from", &d.From)
	f.id("to", &d.To)
	f.place("apex_mm", &d.Apex)
	f.word("press", &d.Press)
	f.word("fold", &d.Fold)
}

// notchLayout keeps the place under a key that says what the figure is.
func notchLayout(f fields, n *draft.Notch) {
	f.id("id", &n.ID)
	f.id("edge", &n.Edge)
	f.flag("from_end", &n.FromEnd)
	const none = -1
	mm, share := n.At, float64(none)
	if n.Share {
		mm, share = none, n.At
	}
	f.number("distance_mm", &mm, none)
	f.number("share", &share, none)
	if f.reading() {
		if (mm == none) == (share == none) {
			f.fault("distance_mm", "a notch has either distance_mm or share; give one of them")
		}
		n.At, n.Share = max(mm, share), share != none
	}
	f.word("shape", &n.Shape)
	f.flag("double", &n.Double)
	f.id("mark", &n.Mark)
}

func spanLayout(f fields, s *draft.Span) {
	f.id("id", &s.ID)
	f.text("name", &s.Name)
	f.text("measure", &s.Measure)
	f.number("share", &s.Share, 0)
	f.number("ease_mm", &s.Ease, 0)
	f.ids("edges", &s.Edges)
	f.ids("lines", &s.Lines)
	f.id("from", &s.From)
	f.id("to", &s.To)
	// Few spans are measured along or across the grain: the others say nothing of it.
	way := ""
	if s.Way != draft.Straight {
		way = s.Way.String()
	}
	f.text("way", &way)
	if f.reading() && way != "" {
		if err := s.Way.UnmarshalText([]byte(way)); err != nil {
			f.fault("way", err.Error())
		}
	}
}

func edgeLayout(f fields, e *draft.Edge) {
	f.id("id", &e.ID)
	f.text("name", &e.Name)
	f.word("kind", &e.Kind)
	f.word("corner", &e.Corner)
	f.text("passes", &e.Passes)
	a := &e.Allowance
	f.numbers("allowance_mm", []*float64{&a.Start, &a.End})
	f.number("trim_to_mm", &a.TrimTo, 0)
	rows(f, "nodes", &e.Nodes, nodeLayout)
}

func lineLayout(f fields, l *draft.Line) {
	f.id("id", &l.ID)
	f.text("name", &l.Name)
	f.word("kind", &l.Kind)
	f.flag("closed", &l.Closed)
	f.row("row", l.Row != nil, func() { l.Row = new(draft.Row) }, func(f fields) { rowLayout(f, l.Row) })
	rows(f, "nodes", &l.Nodes, nodeLayout)
}

func rowLayout(f fields, r *draft.Row) {
	f.word("kind", &r.Kind)
	f.count("count", &r.Count, 1)
	f.number("size_mm", &r.Size, 0)
	f.number("first_mm", &r.First, 0)
	f.number("last_mm", &r.Last, 0)
	f.flag("across", &r.Across)
}

func stretchLayout(f fields, s *draft.Stretch) {
	f.id("id", &s.ID)
	f.id("edge", &s.Edge)
	f.word("kind", &s.Kind)
	f.number("from_share", &s.From, 0)
	f.number("to_share", &s.To, 1)
}
