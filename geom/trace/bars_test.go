package trace_test

import (
	"flag"
	"strings"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/tracetest"
)

// bars is how many outlines each condition takes. The full table of the contributors'
// guide wants 100 or more and takes an hour:
//
//	go test ./geom/trace -run TestBars -bars 100 -timeout 3h -v
var (
	bars  = flag.Int("bars", 0, "outlines of each condition of the tracing bars: 0 for a sample, 100 or more for the full table")
	quiet = flag.Bool("bars-quiet", false, "tell no single outline that exceeds its bars")
)

// sampleSize is how many outlines a condition takes where no full table is asked for:
// small ones, so that the tests stay quick.
const sampleSize = 2

// sample returns the outlines that a test takes, at most most of them.
func sample(t testing.TB, most int) []tracetest.Piece {
	if *bars > 0 {
		return specimens(t, min(*bars, most))
	}
	const small = 140.0 // mm
	var out []tracetest.Piece
	for _, p := range specimens(t, 150) {
		if b := p.Outline.Bounds(); max(b.W(), b.H()) < small && len(out) < min(sampleSize, most) {
			out = append(out, p)
		}
	}
	return out
}

func plain(dpi float64) func(tracetest.Sheet, uint64) (tracetest.Picture, error) {
	return func(s tracetest.Sheet, seed uint64) (tracetest.Picture, error) {
		return tracetest.Plain(dpi, seed).See(s)
	}
}

func rough(dpi float64) func(tracetest.Sheet, uint64) (tracetest.Picture, error) {
	return func(s tracetest.Sheet, seed uint64) (tracetest.Picture, error) {
		return tracetest.Rough(dpi, seed).See(s)
	}
}

// conditions are those of which the bars speak. Deviations in mm.
var conditions = []condition{
	{name: "300 dpi filled", manner: trace.Filled, see: plain(300), median: .01, largest: .15, strict: true},
	{name: "300 dpi pen 0.4", manner: trace.Drawn, pen: .4, see: plain(300), median: .01, largest: .25, strict: true},
	{name: "300 dpi pen 0.6", manner: trace.Drawn, pen: .6, see: plain(300), median: .01, largest: .25, strict: true},
	{name: "300 dpi pen 0.8", manner: trace.Drawn, pen: .8, see: plain(300), median: .01, largest: .25, strict: true},
	{name: "150 dpi filled", manner: trace.Filled, see: plain(150), median: .01, largest: .25, strict: true},
	{name: "150 dpi pen 0.6", manner: trace.Drawn, pen: .6, see: plain(150), median: .01, largest: .35, strict: true},
	{name: "600 dpi filled", large: true, manner: trace.Filled, see: plain(600), median: .01, largest: .15, strict: true},
	{name: "600 dpi pen 0.6", large: true, manner: trace.Drawn, pen: .6, see: plain(600), median: .01, largest: .25, strict: true},
	{name: "100 dpi filled", manner: trace.Filled, see: plain(100), median: .02},
	{name: "300 dpi filled, rough", manner: trace.Filled, see: rough(300), median: .05},
	{name: "300 dpi pen 0.6, rough", manner: trace.Drawn, pen: .6, see: rough(300), median: .05},
	{name: "300 dpi pen 0.6, squares, text, marks", manner: trace.Drawn, pen: .6, see: plain(300), adorn: squaredAndWritten, median: .01, largest: .25},
}

// squaredAndWritten puts the sheet on paper with pale printed squares and writes into the
// piece.
func squaredAndWritten(s tracetest.Sheet, seed uint64) tracetest.Sheet {
	p := s.Pieces[0]
	mid, ok := p.Outline.Centroid()
	if !ok {
		mid = p.Outline.Bounds().Center()
	}
	l := tracetest.Layer{Tone: tracetest.Black, Pen: .6}
	b := p.Outline.Bounds()
	l.Lines = append(l.Lines, geom.Path{geom.Line(mid.Sub(geom.Pt(0, b.H()/8)), mid.Add(geom.Pt(0, b.H()/8)))})
	l.Lines = append(l.Lines, tracetest.Tick(p.Outline, .27, 4))
	text, err := tracetest.Text(mid.Add(geom.Pt(2, 0)), 4, "Cut 2")
	if err == nil {
		l.Fills = text
	}
	return s.Cover(l).Under(s.Squared(tracetest.Tone{.82, .82, .82}, 5, .2))
}

func TestBars(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	pieces := sample(t, 150)
	table := []string{tableHead}
	for _, c := range append(conditions, photographs(t)...) {
		t.Run(strings.ReplaceAll(c.name, " ", "-"), func(t *testing.T) {
			some := pieces
			if *bars == 0 && (c.large || !c.strict) {
				some = pieces[:1]
			}
			outs := c.run(t, some)
			s := c.sum(outs)
			table = append(table, s.row(c.name))
			if !*quiet {
				c.tell(t, outs)
			}
			c.hold(t, s)
		})
	}
	t.Log("\n" + strings.Join(table, "\n"))
}
