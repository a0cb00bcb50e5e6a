package draft

import "slices"

// equalEdges reports whether two outlines are the same in everything.
func equalEdges(a, b []Edge) bool {
	return slices.EqualFunc(a, b, func(x, y Edge) bool {
		return x.ID == y.ID && x.Name == y.Name && x.Kind == y.Kind && x.Allowance == y.Allowance && x.Corner == y.Corner && x.Passes == y.Passes &&
			slices.Equal(x.Nodes, y.Nodes)
	})
}

// equalRest reports whether the same was generated besides two outlines.
func equalRest(a, b *Rest) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Name == b.Name && a.Garment == b.Garment && a.Note == b.Note && a.Layer == b.Layer && a.Cut == b.Cut &&
		equalPointers(a.Grain, b.Grain) && equalPointers(a.LabelAt, b.LabelAt) &&
		slices.Equal(a.Darts, b.Darts) && slices.Equal(a.Notches, b.Notches) && slices.Equal(a.Stretches, b.Stretches) &&
		slices.EqualFunc(a.Lines, b.Lines, func(x, y Line) bool { return x.ID == y.ID && equalLines(x, y) }) &&
		slices.EqualFunc(a.Spans, b.Spans, func(x, y Span) bool { return x.ID == y.ID && equalSpans(x, y) })
}

func equalPointers[T comparable](a, b *T) bool { return a == b || a != nil && b != nil && *a == *b }
