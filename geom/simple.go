package geom

import "fmt"

// NotSimpleError says where a path meets itself.
type NotSimpleError struct {
	At   Point // in mm
	A, B Place // the two visits; the same place where a segment turns back on itself
	Kind MeetingKind
}

func (e *NotSimpleError) Error() string {
	return fmt.Sprintf("the path %s itself at (%.3f, %.3f) mm", e.Kind, e.At.X, e.At.Y)
}

// NotFiniteError says which segment of a path has a coordinate that is not a
// number, infinite, or beyond 1e9 mm.
type NotFiniteError struct{ Seg int }

func (e *NotFiniteError) Error() string {
	return fmt.Sprintf("segment %d has a coordinate that is not a length", e.Seg)
}

// Simple returns nil if the path nowhere crosses, touches or overlaps itself, and
// otherwise a *NotSimpleError for the first such place along it, or a
// *NotFiniteError. Two parts touch if they come within 1e-6 mm of each other
// anywhere but at the node that they share: so a node on another edge counts, and
// so does a node that is passed twice. A cusp and a segment without length do not
// count. Neither an open path nor an empty one is an error.
func (p Path) Simple() error {
	for i, s := range p {
		if !s.meetable() {
			return &NotFiniteError{i}
		}
	}
	if ms := p.SelfIntersections(); len(ms) > 0 {
		return &NotSimpleError{ms[0].P, ms[0].A, ms[0].B, ms[0].Kind}
	}
	return nil
}
