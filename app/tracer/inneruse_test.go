package tracer

import (
	"testing"

	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/trace"
)

// A piece has one grain line, and what was not said is as it looks.
func TestWhatLinesInsideAre(t *testing.T) {
	l := &line{Outline: trace.Outline{Path: geom.Polygon(geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 90), geom.Pt(0, 90))}}
	for _, x := range []float64{20, 40, 60} {
		l.Inner = append(l.Inner, trace.Inner{Path: geom.Path{geom.Line(geom.Pt(x, 0), geom.Pt(x, x-14))}})
	}
	l.say(1, tracing.AsGrain)
	l.say(2, tracing.AsGrain)
	for i, want := range []tracing.Use{tracing.AsNotch, tracing.AsPlacement, tracing.AsGrain} {
		if got := l.use(i); got != want {
			t.Errorf("line %d is %v, not %v", i+1, got, want)
		}
	}
}
