package export

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/geom"
)

// anyPiece draws a star-shaped piece of any size from a doll's tab to a cloak, with
// curved edges, any cut rule, and marks anywhere.
func anyPiece(t *rapid.T, i int) *draft.Piece {
	size := math.Pow(10, rapid.Float64Range(0.7, 2.9).Draw(t, "size"))
	n := rapid.IntRange(3, 7).Draw(t, "edges")
	p := &draft.Piece{
		ID: draft.ID(fmt.Sprintf("p%d", i)), Name: rapid.StringN(0, 20, -1).Draw(t, "name"),
		Cut: draft.CutRule{Way: draft.CutWay(rapid.IntRange(0, 2).Draw(t, "way")), Count: rapid.IntRange(1, 3).Draw(t, "count")},
	}
	// On the fold, the piece stands right of the line from its last corner to its
	// first, x = 0.
	fold := p.Cut.Way == draft.CutOnFold
	at := make([]geom.Point, n)
	for k := range at {
		r := size * rapid.Float64Range(0.4, 1).Draw(t, "radius")
		turn := 2 * math.Pi * float64(k) / float64(n)
		if fold {
			turn = math.Pi * (float64(k)/float64(n-1) - 0.5)
		}
		at[k] = geom.Pt(onGrid(r*math.Cos(turn)), onGrid(r*math.Sin(turn)))
		if fold && (k == 0 || k == n-1) {
			at[k].X = 0
		}
	}
	for k := range at {
		next := at[(k+1)%n]
		node := draft.Node{ID: draft.ID(fmt.Sprintf("n%d", k)), At: at[k]}
		e := draft.Edge{
			ID: draft.ID(fmt.Sprintf("e%d", k)), Name: fmt.Sprintf("edge %d", k),
			Allowance: draft.Allowance{
				Start: rapid.Float64Range(0, size/20).Draw(t, "start"), End: rapid.Float64Range(0, size/20).Draw(t, "end"),
			},
			Corner: draft.CornerRule(rapid.IntRange(0, 2).Draw(t, "corner")),
		}
		if fold && k == n-1 {
			e.Kind, e.Allowance = draft.FoldEdge, draft.Allowance{}
		} else if rapid.Bool().Draw(t, "curved") {
			node.Out = next.Sub(at[k]).Mul(rapid.Float64Range(0.1, 0.4).Draw(t, "handle"))
			node.Out = node.Out.Add(node.Out.Left().Mul(-0.2))
		}
		e.Nodes = []draft.Node{node}
		p.Edges = append(p.Edges, e)
		p.Notches = append(p.Notches, draft.Notch{
			ID: draft.ID(fmt.Sprintf("t%d", k)), Edge: e.ID, At: rapid.Float64Range(0, 1).Draw(t, "notch"), Share: true,
			Shape: draft.NotchShape(rapid.IntRange(0, 2).Draw(t, "shape")), Double: rapid.Bool().Draw(t, "double"),
		})
	}
	if rapid.Bool().Draw(t, "grain") {
		p.Grain = &draft.Grain{From: geom.Pt(0.1*size, 0), To: geom.Pt(0.1*size, 0.2*size)}
	}
	kind := draft.LineKind(rapid.IntRange(0, 5).Draw(t, "line"))
	p.Lines = []draft.Line{{ID: "l1", Kind: kind, Closed: kind == draft.CutoutLine, Nodes: []draft.Node{
		{ID: "m1", At: geom.Pt(0.05*size, 0)}, {ID: "m2", At: geom.Pt(0.1*size, 0)}, {ID: "m3", At: geom.Pt(0.1*size, 0.1*size)},
	}}}
	p.Place = draft.Placement{At: geom.Pt(rapid.Float64Range(-500, 500).Draw(t, "x"), 0), Turn: rapid.Float64Range(-4, 4).Draw(t, "turn")}
	return p
}

var notANumber = regexp.MustCompile(`\b(?:NaN|Inf)\b`)

// ways are the options among which the property draws.
var ways = []Options{
	{Format: SVG}, {Format: SVG, Purpose: Laser, CutNotches: true}, {Format: SVG, Arrangement: AsOnBench},
	{Format: DXF}, {Format: DXF, DXF: D6673}, {Format: DXF, Purpose: Blade},
	{Format: PDF}, {Format: PDF, Arrangement: AsOnBench}, {Format: PDF, Paper: Roll(900)}, {Format: PNG, DPI: 20},
}

// TestAnyProjectIsWritten: whatever has a cut line is written in every format for
// every purpose, without a number that is none.
func TestAnyProjectIsWritten(t *testing.T) {
	written := 0
	rapid.Check(t, func(t *rapid.T) {
		p := draft.New("any")
		for i := range rapid.IntRange(1, 3).Draw(t, "pieces") {
			piece := anyPiece(t, i)
			if _, err := draft.LayFlat(piece); err == nil {
				p.Pieces = append(p.Pieces, piece)
			}
		}
		if len(p.Pieces) == 0 {
			return
		}
		for range 2 {
			o := rapid.SampledFrom(ways).Draw(t, "options")
			o.Clock = clock
			var b bytes.Buffer
			if _, err := Encode(context.Background(), &b, p, o); err != nil {
				t.Fatalf("%+v: %v", o, err)
			}
			if o.Format != PNG && o.Format != PDF {
				// Names may hold any word; numbers stand in data and on lines of their own.
				for _, d := range regexp.MustCompile(` (?:d|x|y|width|height)="[^"]*"|(?m)^ *[1-3][0-9]\n.*$`).FindAll(b.Bytes(), -1) {
					if notANumber.Match(d) {
						t.Fatalf("%+v: %s", o, d)
					}
				}
			}
			written++
		}
	})
	if written < 100 {
		t.Errorf("only %d files were written: too few pieces had a cut line", written)
	}
}
