package tracer

import (
	"math"
	"strings"
	"testing"

	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/tracetest"
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
		if got := tracing.Uses(l.Outline, l.uses)[i]; got != want {
			t.Errorf("line %d is %v, not %v", i+1, got, want)
		}
	}
}

// A line that is taken for the grain line is named in the picture and told; what is said of
// it takes that away.
func TestAGrainLineIsTold(t *testing.T) {
	bib := bib()
	bib.Inner = []geom.Path{{geom.Line(geom.Pt(24, 10), geom.Pt(24, 40))}}
	x := newTracing(t, tracetest.Drawn(0.5, bib, cuff()))
	x.followed(t)
	var l *line
	for _, other := range x.follow.finds.lines {
		if len(other.Inner) > 0 {
			l = other
		}
	}
	if l == nil || l.grain() == nil || grainMarks(l) == nil || !strings.Contains(x.follow.finds.grainSays(), l.called()) {
		t.Fatalf("not told: %q", x.follow.finds.grainSays())
	}
	if up := l.up().Unit(); math.Abs(up.Y) < 0.99 {
		t.Errorf("up is %v", up)
	}
	l.say(0, tracing.AsStyle)
	if l.grain() != nil || grainMarks(l) != nil || x.follow.finds.grainSays() != "" {
		t.Errorf("still told: %q", x.follow.finds.grainSays())
	}
}
