package tracing

import (
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
)

// Settings say how pictures are cleaned and followed. Its zero value with a manner will
// do for most.
type Settings struct {
	trace.Options
	// Tint is a printed colour that is taken for paper, nil for none.
	Tint *scan.Tint
	// Squares has the printed lines of squared paper found and taken out.
	Squares bool
}
