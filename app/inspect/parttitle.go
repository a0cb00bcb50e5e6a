package inspect

import (
	"hemlet/app/desk"
	"hemlet/draft"
)

// kindWord is what one thing of the kind is called.
func kindWord(k desk.Kind) string {
	switch k {
	case desk.Piece:
		return "piece"
	case desk.Edge:
		return "edge"
	case desk.Line:
		return "line"
	case desk.Dart:
		return "dart"
	case desk.Notch:
		return "notch"
	case desk.Stretch:
		return "stretch"
	case desk.Dimension:
		return "dimension"
	default:
		return "point"
	}
}

// partTitle says which point, line or mark of a piece is meant.
func partTitle(piece *draft.Piece, r desk.Ref) string {
	if r.AtNode() {
		if n, at, _ := piece.Node(r.Node); n != nil {
			return "point on " + edgeTitle(piece.Edges[at].Name)
		}
		if n, at, _ := piece.LineNode(r.Node); n != nil {
			return "point on " + lineTitle(&piece.Lines[at])
		}
		return "point"
	}
	switch r.Kind {
	case desk.Line:
		if l := piece.Line(r.Thing); l != nil {
			return lineTitle(l)
		}
	case desk.Dart:
		for _, d := range piece.Darts {
			if d.ID == r.Thing {
				return named(d.Fold.String(), d.Name)
			}
		}
	case desk.Notch:
		for _, n := range piece.Notches {
			if n.ID == r.Thing {
				return "notch on " + edgeNamed(piece, n.Edge)
			}
		}
	case desk.Stretch:
		for _, s := range piece.Stretches {
			if s.ID == r.Thing {
				return s.Kind.String() + " on " + edgeNamed(piece, s.Edge)
			}
		}
	}
	for _, s := range piece.Spans {
		if s.ID == r.Thing && r.Kind == desk.Dimension {
			return named("dimension", s.Name)
		}
	}
	return kindWord(r.Kind)
}

// lineTitle says what a line is for and what it is called.
func lineTitle(l *draft.Line) string {
	if l.Row != nil {
		return named("row of "+l.Row.Kind.String(), l.Name)
	}
	if len(l.Path()) == 0 {
		return named(l.Kind.String()+" point", l.Name)
	}
	return named(l.Kind.String()+" line", l.Name)
}

// named puts the name behind the kind, unless that says no more.
func named(kind, name string) string {
	if name == "" || name == kind {
		return kind
	}
	return kind + ": " + name
}

func edgeNamed(piece *draft.Piece, id draft.ID) string {
	if e, _ := piece.Edge(id); e != nil {
		return edgeTitle(e.Name)
	}
	return "an edge"
}
