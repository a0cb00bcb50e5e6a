package draft

import (
	"fmt"
	"slices"

	"hemlet/geom"
)

// marksMerge brings together what belongs to a piece besides its outline: was, as it
// was generated, laid on the edges of mine; mine, as the maker left it; and now, as
// it is generated, laid on the new edges. Things are told apart by their ids: what
// the maker took out stays out, what the maker put in stays in, and of what both
// have changed the maker's part stays.
type marksMerge struct {
	was, mine, now *Piece
	// out is the piece under way, with its outline, and stretches the stretches of that.
	out       *Piece
	stretches map[ID]stretch
	err       error
}

// fail keeps the first thing that cannot be carried.
func (m *marksMerge) fail(format string, args ...any) {
	if m.err == nil {
		m.err = fmt.Errorf(format, args...)
	}
}

// mergeRest sets everything of out but its outline, its id, its place and its
// derivation, which are set already.
func mergeRest(was, mine, now, out *Piece) error {
	m := &marksMerge{was, mine, now, out, out.stretches(), nil}
	out.Name = merged(mine.Name, was.Name, now.Name)
	out.Garment = merged(mine.Garment, was.Garment, now.Garment)
	out.Note = merged(mine.Note, was.Note, now.Note)
	out.Layer = merged(mine.Layer, was.Layer, now.Layer)
	out.Cut = merged(mine.Cut, was.Cut, now.Cut)
	out.Grain = mergedPointer(mine.Grain, was.Grain, now.Grain)
	out.LabelAt = mergedPointer(mine.LabelAt, was.LabelAt, now.LabelAt)
	out.Lines = mergeThings(was.Lines, mine.Lines, now.Lines, func(l Line) ID { return l.ID }, equalLines, m.line)
	out.Darts = mergeThings(was.Darts, mine.Darts, now.Darts, func(d Dart) ID { return d.ID }, equal[Dart], m.dart)
	out.Notches = mergeThings(was.Notches, mine.Notches, now.Notches, func(n Notch) ID { return n.ID }, equalNotches, m.notch)
	out.Spans = mergeThings(was.Spans, mine.Spans, now.Spans, func(s Span) ID { return s.ID }, equalSpans, m.span)
	out.Stretches = mergeThings(was.Stretches, mine.Stretches, now.Stretches, func(s Stretch) ID { return s.ID }, equalStretches, m.stretchOf)
	out.followDarts()
	return m.err
}

func equal[T comparable](a, b T) bool { return a == b }

func mergedPointer[T comparable](mine, was, now *T) *T {
	if equalPointers(mine, was) {
		return now
	}
	return mine
}

// mergeThings merges a list. change returns what becomes of a thing that the maker
// has changed or put in: was and now are nil where there is none. It returns false
// where the thing cannot stay.
func mergeThings[T any](was, mine, now []T, id func(T) ID, same func(a, b T) bool, change func(was, mine, now *T) (T, bool)) []T {
	index := func(list []T) map[ID]*T {
		m := make(map[ID]*T, len(list))
		for i := range list {
			m[id(list[i])] = &list[i]
		}
		return m
	}
	inWas, inMine, inNow := index(was), index(mine), index(now)
	var out []T
	for i := range now {
		w, m := inWas[id(now[i])], inMine[id(now[i])]
		switch {
		case m == nil && w != nil: // the maker took it out
		case m == nil, w != nil && same(*w, *m):
			out = append(out, now[i])
		default:
			if kept, ok := change(w, m, &now[i]); ok {
				out = append(out, kept)
			}
		}
	}
	for i := range mine {
		w, n := inWas[id(mine[i])], inNow[id(mine[i])]
		if n != nil || w != nil && same(*w, mine[i]) {
			continue
		}
		if kept, ok := change(w, &mine[i], nil); ok {
			out = append(out, kept)
		}
	}
	return out
}

// placeOf is where a notch lies.
func placeOf(n Notch) Notch {
	return Notch{Edge: n.Edge, FromEnd: n.FromEnd, At: n.At, Share: n.Share}
}

// notchSlack is how far, in mm, a notch may be from where it was generated, laid on
// edges that the maker divided or joined, and still be where it was.
const notchSlack = 1e-3

func equalNotches(a, b Notch) bool {
	at := a.At - b.At
	a.At, a.ID = b.At, b.ID
	return a == b && at <= notchSlack && -at <= notchSlack
}

func (m *marksMerge) notch(was, mine, now *Notch) (Notch, bool) {
	n := *mine
	if now != nil && was != nil {
		n.Shape = merged(mine.Shape, was.Shape, now.Shape)
		n.Double = merged(mine.Double, was.Double, now.Double)
		if equalNotches(placeOf(*mine), placeOf(*was)) {
			p := placeOf(*now)
			n.Edge, n.FromEnd, n.At, n.Share = p.Edge, p.FromEnd, p.At, p.Share
		}
	}
	if e, _ := m.out.Edge(n.Edge); e == nil {
		m.fail("a notch lies on the edge %s, which is no longer there", m.mine.edgeLabel(n.Edge))
	}
	return n, true
}

func (p *Piece) edgeLabel(id ID) string {
	if e, _ := p.Edge(id); e != nil {
		return e.label()
	}
	return string(id)
}

func (m *marksMerge) dart(was, mine, now *Dart) (Dart, bool) {
	if now == nil {
		if m.stretches[mine.From].next == mine.To {
			d := *mine
			if was == nil {
				d.Apex = d.Apex.Add(movedFrom(m.mine, m.out).wayAt(d.Apex))
			}
			return d, true
		}
		m.fail("the %s, which was changed, is no longer there", mine.called())
		return *mine, false
	}
	if was == nil {
		return *mine, true
	}
	d := *now
	d.Name = merged(mine.Name, was.Name, now.Name)
	d.Press = merged(mine.Press, was.Press, now.Press)
	d.Fold = merged(mine.Fold, was.Fold, now.Fold)
	if by := mine.Apex.Sub(was.Apex); by.Len() > carrySlack {
		t := noTurn
		if a, ok := m.was.dartWay(*was); ok {
			if b, ok := m.now.dartWay(*now); ok {
				t, _ = turnFrom(a, b)
			}
		}
		d.Apex = now.Apex.Add(t.of(by))
	}
	return d, true
}

// dartWay returns the way from the middle of a dart's mouth to its tip.
func (p *Piece) dartWay(d Dart) (geom.Point, bool) {
	from, _, _ := p.Node(d.From)
	to, _, _ := p.Node(d.To)
	if from == nil || to == nil {
		return geom.Point{}, false
	}
	return d.Apex.Sub(from.At.Lerp(to.At, 0.5)), true
}

func equalLines(a, b Line) bool {
	return a.Name == b.Name && a.Kind == b.Kind && a.Closed == b.Closed && equalPointers(a.Row, b.Row) && slices.Equal(a.Nodes, b.Nodes)
}

// line carries what was changed of a line inside the piece: the ways of its points,
// where it has the same points as before.
func (m *marksMerge) line(was, mine, now *Line) (Line, bool) {
	if was == nil && now == nil {
		return movedFrom(m.mine, m.out).line(*mine), true
	}
	if was == nil || now == nil {
		return *mine, true
	}
	l := *now
	l.Name = merged(mine.Name, was.Name, now.Name)
	l.Kind = merged(mine.Kind, was.Kind, now.Kind)
	l.Closed = merged(mine.Closed, was.Closed, now.Closed)
	l.Row = mergedPointer(mine.Row, was.Row, now.Row)
	if (l.Kind == FastenLine) != (l.Row != nil) { // the maker's kind, and so the maker's row
		l.Kind, l.Row = mine.Kind, mine.Row
	}
	if slices.Equal(mine.Nodes, was.Nodes) {
		return l, true
	}
	if !sameIDs(mine.Nodes, was.Nodes) || !sameIDs(mine.Nodes, now.Nodes) {
		l.Nodes = mine.Nodes
		return l, true
	}
	l.Nodes = slices.Clone(now.Nodes)
	for i := range l.Nodes {
		n, a, b := &l.Nodes[i], mine.Nodes[i], was.Nodes[i]
		n.At = n.At.Add(a.At.Sub(b.At))
		n.In, n.Out = n.In.Add(a.In.Sub(b.In)), n.Out.Add(a.Out.Sub(b.Out))
		n.Smooth = merged(a.Smooth, b.Smooth, n.Smooth)
	}
	return l, true
}

func equalSpans(a, b Span) bool {
	return a.Name == b.Name && a.Measure == b.Measure && a.Share == b.Share && a.Ease == b.Ease && a.From == b.From && a.To == b.To && a.Way == b.Way &&
		slices.Equal(a.Edges, b.Edges) && slices.Equal(a.Lines, b.Lines)
}

// span keeps a span that the maker put in or changed as long as what it measures is
// there.
func (m *marksMerge) span(was, mine, now *Span) (Span, bool) {
	s := *mine
	if was == nil && now != nil && sameButEase(s, *now) {
		return *now, true // put in, and generated by that with the ease that is wanted in it
	}
	if was != nil && now != nil {
		s.Name = merged(mine.Name, was.Name, now.Name)
		s.Measure = merged(mine.Measure, was.Measure, now.Measure)
		s.Share = merged(mine.Share, was.Share, now.Share)
		s.Way = merged(mine.Way, was.Way, now.Way)
		s.Ease = merged(mine.Ease, was.Ease, now.Ease)
		if slices.Equal(mine.Edges, was.Edges) && slices.Equal(mine.Lines, was.Lines) && mine.From == was.From && mine.To == was.To {
			s.Edges, s.Lines, s.From, s.To = now.Edges, now.Lines, now.From, now.To
		}
	}
	if err := m.out.measurable(s); err != nil {
		m.fail("the length %s %v", labelOf(s.Name, s.ID), err)
	}
	return s, true
}

// measurable says what a span measures that is not there.
func (p *Piece) measurable(s Span) error {
	for _, id := range s.Edges {
		if e, _ := p.Edge(id); e == nil {
			return fmt.Errorf("is measured along the edge %s, which is no longer there", id)
		}
	}
	for _, id := range s.Lines {
		if p.Line(id) == nil {
			return fmt.Errorf("is measured along the line %s, which is no longer there", id)
		}
	}
	if len(s.Edges)+len(s.Lines) > 0 && s.From == "" && s.To == "" {
		return nil
	}
	for _, id := range []ID{s.From, s.To} {
		if p.AnyNode(id) == nil {
			return fmt.Errorf("is measured from the point %s, which is no longer there", id)
		}
	}
	return nil
}
