package drafttest

import (
	"pgregory.net/rapid"

	"hemlet/draft"
)

func (m *maker) piece() *draft.Piece {
	p := &draft.Piece{
		ID: m.id('p'), Name: m.text("piece"), Garment: m.text("garment"), Note: m.text("note"),
		Layer: pick(m, "layer", []draft.Layer{draft.Shell, draft.Lining, draft.Interlining}),
		Cut:   draft.CutRule{Way: pick(m, "way", draft.CutWays()), Count: rapid.IntRange(1, draft.MaxCount).Draw(m.t, "count")},
		Edges: m.edges(),
		Place: draft.Placement{At: m.point("bench"), Turn: m.turn()},
	}
	if len(m.p.Cloths) > 0 && m.chance("cloth") {
		p.Cloth = pick(m, "cloth", m.p.Cloths).ID
	}
	if len(m.p.Origins) > 0 && m.chance("origin") {
		p.Origin = pick(m, "origin", m.p.Origins).ID
	}
	if m.chance("grain") {
		if g := (draft.Grain{From: m.point("grain from"), To: m.point("grain to")}); g.From != g.To {
			p.Grain = &g
		}
	}
	if m.chance("label") {
		at := m.point("label")
		p.LabelAt = &at
	}
	m.darts(p)
	for range m.few("notches", 3) {
		p.Notches = append(p.Notches, m.notch(p))
	}
	for range m.few("lines", 3) {
		p.Lines = append(p.Lines, m.line())
	}
	for range m.few("spans", 2) {
		p.Spans = append(p.Spans, m.span(p))
	}
	for range m.few("stretches", 2) {
		p.Stretches = append(p.Stretches, m.stretch(p))
	}
	p.Hidden, p.Locked = m.chance("hidden"), m.chance("locked")
	if rapid.IntRange(0, 4).Draw(m.t, "ghost") == 0 {
		p.Ghost = m.share("opacity")
	}
	return p
}

func (m *maker) stretch(p *draft.Piece) draft.Stretch {
	return draft.Stretch{
		ID: m.id('g'), Edge: pick(m, "treated edge", p.Edges).ID, Kind: pick(m, "treatment", draft.StretchKinds()),
		From: rapid.Float64Range(0, 0.5).Draw(m.t, "from"), To: rapid.Float64Range(0.6, 1).Draw(m.t, "to"),
	}
}

// turn draws an angle in radians that is a whole number of billionths of a degree,
// the grid on which a commit puts turns.
func (m *maker) turn() float64 {
	const perDegree = 1e9
	deg := rapid.OneOf(
		rapid.SampledFrom([]float64{0, 90, -90, 180, 45}),
		rapid.Map(rapid.Int64Range(-360*perDegree, 360*perDegree), func(n int64) float64 { return float64(n) / perDegree }),
	).Draw(m.t, "turn")
	return draft.TurnRadians(deg)
}

func (m *maker) edges() []draft.Edge {
	var edges []draft.Edge
	for range rapid.IntRange(1, 5).Draw(m.t, "edges") {
		e := draft.Edge{
			ID: m.id('e'), Name: m.text("edge"),
			Kind:      pick(m, "kind", draft.EdgeKinds()),
			Allowance: draft.Even(m.length("allowance")),
			Corner:    pick(m, "corner", draft.CornerRules()),
			Passes:    pick(m, "passes", []string{"", "", draft.PassesNothing, "head_girth"}),
			Nodes:     m.nodes(1, 4),
		}
		if m.chance("tapers") {
			e.Allowance.End = m.length("allowance end")
		}
		if m.chance("trimmed") {
			e.Allowance.TrimTo = m.length("trim to")
		}
		edges = append(edges, e)
	}
	return edges
}

// darts opens some of the stretches between neighbouring nodes as darts.
func (m *maker) darts(p *draft.Piece) {
	for i := range p.Edges {
		nodes := p.EdgeNodes(i)
		for k := 1; k < len(nodes); k++ {
			if nodes[k-1].ID == nodes[k].ID || rapid.IntRange(0, 5).Draw(m.t, "dart") > 0 {
				continue
			}
			p.Darts = append(p.Darts, draft.Dart{
				ID: m.id('d'), Name: m.text("dart"), Edge: p.Edges[i].ID, From: nodes[k-1].ID, To: nodes[k].ID,
				Apex: m.point("apex"), Press: pick(m, "press", []draft.Press{draft.PressToStart, draft.PressToEnd, draft.PressOpen}),
				Fold: pick(m, "fold", []draft.Fold{draft.Wedge, draft.Pleat, draft.Tuck}),
			})
		}
	}
}

func (m *maker) notch(p *draft.Piece) draft.Notch {
	n := draft.Notch{
		ID: m.id('t'), Edge: pick(m, "edge", p.Edges).ID, FromEnd: m.chance("from end"),
		Share: m.chance("share"), Double: m.chance("double"),
		Shape: pick(m, "shape", []draft.NotchShape{draft.NotchSlit, draft.NotchV, draft.NotchT}),
	}
	if n.Share {
		n.At = m.share("at")
	} else {
		n.At = m.length("at")
	}
	return n
}

func (m *maker) line() draft.Line {
	l := draft.Line{
		ID: m.id('l'), Name: m.text("line"), Closed: m.chance("closed"),
		Kind: pick(m, "kind", []draft.LineKind{
			draft.PlacementLine, draft.GatheringLine, draft.PleatLine, draft.SlitLine, draft.CutoutLine, draft.DrillPoint, draft.DartLine,
			draft.StyleLine, draft.FastenLine, draft.ReinforcePoint,
		}),
	}
	if l.Kind.Point() {
		l.Nodes = m.nodes(1, 1)
	} else {
		l.Nodes = m.nodes(2, 4)
	}
	if l.Kind == draft.FastenLine {
		l.Row = &draft.Row{
			Kind: pick(m, "fastening", draft.RowKinds()), Count: rapid.IntRange(1, draft.MaxCount).Draw(m.t, "how many"),
			Size: m.length("size"), First: m.length("first"), Last: m.length("last"), Across: m.chance("across"),
		}
	}
	return l
}

func (m *maker) span(p *draft.Piece) draft.Span {
	s := draft.Span{ID: m.id('m'), Name: m.text("span"), Measure: m.text("measure"), Share: rapid.Float64Range(0.01, 2).Draw(m.t, "share")}
	if m.chance("dimension") {
		s.Measure, s.Share = "", 0
	}
	if m.chance("eased") {
		s.Ease = m.mm("ease")
	}
	if m.chance("along edges") {
		for range 1 + m.few("span edges", 2) {
			s.Edges = append(s.Edges, pick(m, "span edge", p.Edges).ID)
		}
		return s
	}
	if len(p.Lines) > 0 && m.chance("along lines") {
		for range 1 + m.few("span lines", 2) {
			s.Lines = append(s.Lines, pick(m, "span line", p.Lines).ID)
		}
		return s
	}
	s.Way = pick(m, "way to measure", draft.SpanWays())
	s.From = pick(m, "from edge", p.Edges).Nodes[0].ID
	s.To = pick(m, "to edge", p.Edges).Nodes[0].ID
	return s
}

func (m *maker) seam() *draft.Seam {
	from := rapid.Float64Range(0, 0.5).Draw(m.t, "from")
	return &draft.Seam{
		ID: m.id('s'), Name: m.text("seam"), A: m.run(), B: m.run(),
		Ratio:    pick(m, "ratio", []float64{1, 1.03, 1.5, 2}),
		Fuller:   pick(m, "fuller", []draft.Side{draft.SideA, draft.SideB}),
		Fullness: pick(m, "fullness", draft.Fullnesses()),
		From:     from, To: rapid.Float64Range(0.6, 1).Draw(m.t, "to"),
		BothSides: m.chance("both sides"),
	}
}

// marks draws notches that match along a seam of the project, and has some of what lies
// along it stand for them.
func (m *maker) marks(s *draft.Seam) {
	if s.Opens = m.chance("opens"); s.Opens {
		s.Lap = m.length("lap")
	}
	for range m.few("marks", 2) {
		s.Marks = append(s.Marks, draft.SeamMark{
			ID: m.id('k'), At: m.share("mark"), Double: m.chance("double"),
			Shape: pick(m, "mark shape", []draft.NotchShape{draft.NotchSlit, draft.NotchV, draft.NotchT}),
		})
	}
	if len(s.Marks) == 0 {
		return
	}
	for _, u := range append(append(draft.Run(nil), s.A...), s.B...) {
		p := m.p.Piece(u.Piece)
		for k := range p.Notches {
			if n := &p.Notches[k]; n.Edge == u.Edge && n.Mark == "" && m.chance("marked") {
				n.Mark = pick(m, "which mark", s.Marks).ID
			}
		}
	}
}

func (m *maker) run() draft.Run {
	var run draft.Run
	for range 1 + m.few("uses", 3) {
		p := pick(m, "used piece", m.p.Pieces)
		run = append(run, draft.EdgeUse{
			Piece: p.ID, Edge: pick(m, "used edge", p.Edges).ID,
			Copy:     draft.CopyRef{Number: rapid.IntRange(1, p.Cut.Count).Draw(m.t, "copy"), Mirrored: p.Cut.Way == draft.CutPairs && m.chance("mirrored")},
			Half:     m.half(p),
			Reversed: m.chance("reversed"),
		})
	}
	return run
}

// half draws the far half only of pieces that have one.
func (m *maker) half(p *draft.Piece) draft.Half {
	if p.FoldEdge() >= 0 && m.chance("far") {
		return draft.Far
	}
	return draft.Near
}
