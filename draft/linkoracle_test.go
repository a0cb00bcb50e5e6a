package draft

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// ringPart returns a piece with the shape of a part of a ring: edges "waist" along the
// inner arc, "side" and "side 2" along the radii, "hem" along the outer arc, as a skirt
// cut from a part of a circle. The arcs are cubics of at most 15 degrees, within 1e-9 of
// the radius.
func ringPart(inner, outer, angle float64) *Piece {
	p := &Piece{ID: "p", Name: "skirt", Cut: CutRule{Way: CutPairs, Count: 1}}
	at := func(r, a float64) geom.Point { return geom.Pt(r*math.Cos(a), r*math.Sin(a)) }
	arc := func(name string, r, from, to float64) Edge {
		n := int(math.Ceil(math.Abs(to-from) / (math.Pi / 12)))
		step := (to - from) / float64(n)
		k := 4. / 3 * math.Tan(step/4) * r
		e := Edge{ID: ID("p." + name), Name: name, Allowance: Even(5)}
		for i := range n {
			a := from + step*float64(i)
			node := Node{ID: ID(fmt.Sprintf("p.%s.%d", name, i)), At: at(r, a), Out: at(k, a+math.Pi/2), Smooth: i > 0}
			if i > 0 {
				node.In = node.Out.Mul(-1)
			}
			e.Nodes = append(e.Nodes, node)
		}
		return e
	}
	in := func(e *Edge, r, a, step float64) { e.Nodes[0].In = at(-4./3*math.Tan(step/4)*r, a+math.Pi/2) }
	hem := arc("hem", outer, 0, angle)
	left := Edge{ID: "p.left", Name: "left", Allowance: Even(5), Nodes: []Node{{ID: "p.left.0", At: at(outer, angle)}}}
	waist := arc("waist", inner, angle, 0)
	right := Edge{ID: "p.right", Name: "right", Allowance: Even(5), Nodes: []Node{{ID: "p.right.0", At: at(inner, 0)}}}
	steps := float64(len(hem.Nodes))
	in(&left, outer, angle, angle/steps)
	in(&right, inner, 0, -angle/steps)
	p.Edges = []Edge{hem, left, waist, right}
	return p
}

// The facing of the waist of a circular skirt, and of its hem, are parts of rings, and so
// is its lining, against the closed forms for their area and length. From a doll's
// sleeve of 20 mm to a cloak of 3 m.
func TestFacingAndLiningOfARing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		outer := math.Pow(10, rapid.Float64Range(math.Log10(20), math.Log10(3000)).Draw(t, "outer"))
		inner := outer * rapid.Float64Range(0.1, 0.8).Draw(t, "inner")
		angle := rapid.Float64Range(0.3, math.Pi).Draw(t, "angle")
		p := projectOf(ringPart(inner, outer, angle))
		ring := func(r0, r1 float64) float64 { return angle / 2 * (r1*r1 - r0*r0) }
		width := max(rapid.Float64Range(0.02, 0.9).Draw(t, "width")*(outer-inner), 2*leastInset)
		slack := 2*geom.ParallelTolerance*angle*outer + 1e-4*outer
		check := func(what string, q *Piece, r0, r1 float64) {
			t.Helper()
			if got, want := q.DrawnPath().Area(), ring(r0, r1); math.Abs(got-want) > slack {
				t.Fatalf("%s: %g mm2, want %g", what, got, want)
			}
		}
		edge := func(q *Piece, name ID, want float64) {
			t.Helper()
			_, i := q.Edge(q.ID + "." + name)
			if got := q.EdgeLength(i); math.Abs(got-want) > 0.02+1e-6*outer {
				t.Fatalf("%s is %g long, want %g", name, got, want)
			}
		}
		waist := madeBy(t, must(FaceEdge.Do(p, FaceEdgeArgs{Edges: []EdgeRef{{"p", "p.waist"}}, Width: Length(width)})))
		check("facing of the waist", waist, inner, inner+width)
		edge(waist, "p.waist", inner*angle)
		edge(waist, "p.waist~inner", (inner+width)*angle)
		edge(waist, "p.left", width)
		hem := madeBy(t, must(FaceEdge.Do(p, FaceEdgeArgs{Edges: []EdgeRef{{"p", "p.hem"}}, Width: Length(width)})))
		check("facing of the hem", hem, outer-width, outer)
		edge(hem, "p.hem~inner", (outer-width)*angle)
		// A lining that is shorter at hem and waist.
		top, bottom := 0.1*width, 0.3*width
		if top < leastInset {
			top = 0
		}
		if bottom < leastInset {
			bottom = 0
		}
		_, lined, err := p.link("p", lining{inside: map[ID]float64{"p.waist": top, "p.hem": bottom}})
		if err != nil {
			t.Fatal(err)
		}
		check("lining", lined, inner+top, outer-bottom)
		edge(lined, "p.hem", (outer-bottom)*angle)
		edge(lined, "p.right", outer-bottom-inner-top)
		// A stiffener a little inside all round keeps clear of the outline by that much.
		net := 0.05 * width
		if net < leastInset || net > inner*angle/4 { // too narrow for it, and refused
			return
		}
		_, stiff, err := p.link("p", stiffening{net: net})
		if err != nil {
			t.Fatal(err)
		}
		if least, _ := distances(stiff.DrawnPath(), p.Piece("p").DrawnPath(), 0); least < net-0.011 {
			t.Fatalf("the stiffener comes to %g of the outline, want %g", least, net)
		}
		for _, e := range stiff.Edges {
			if e.Allowance != (Allowance{}) || e.Kind != RawEdge {
				t.Fatalf("the stiffener's edge %s: %+v", e.Name, e)
			}
		}
	})
}

// geosScript reads polygons and answers for each line: the area that lies in one of two
// outlines and not in the other, where the second is the first less a strip of a width
// inside all round. GEOS through shapely 1.8 or newer.
const geosScript = `
import sys
from shapely.geometry import Polygon
from shapely import wkt
for line in sys.stdin:
    width, a, b = line.strip().split("|")
    a, b = wkt.loads(a), wkt.loads(b)
    want = a.buffer(-float(width), join_style=2, mitre_limit=4)
    print(want.symmetric_difference(b).area, want.area)
`

// polygonText writes an outline as a polygon in well-known text, flattened to 0.001 mm.
func polygonText(p *Piece) string {
	var b strings.Builder
	pts := p.DrawnPath().Flatten(0.001)
	for _, q := range pts {
		fmt.Fprintf(&b, "%.9f %.9f, ", q.X, q.Y)
	}
	return fmt.Sprintf("POLYGON ((%s%.9f %.9f))", b.String(), pts[0].X, pts[0].Y)
}

// A stiffener inside its piece by a width is what GEOS makes of the outline by a negative
// buffer with mitred corners.
func TestStiffenerAgainstGEOS(t *testing.T) {
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import shapely").Run(); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("shapely is missing:", err)
		}
		t.Skip("python3 with shapely is not installed: ", err)
	}
	var in bytes.Buffer
	type row struct {
		name  string
		round float64
	}
	var rows []row
	p := bodiceFor(t)
	for _, body := range []string{"231mm", "300mm"} {
		p = mustDo(t, p, "set-measure", "wearer=Quill", "name=bust_girth", "value="+body).Project
		for _, piece := range p.Pieces {
			plain := piece.clone()
			plain.Darts, plain.Lines, plain.Notches = nil, nil, nil
			plain.Cut, plain.Derived = CutRule{Count: 1}, nil
			for i := range plain.Edges {
				plain.Edges[i].Kind = SeamEdge
			}
			for _, net := range []float64{0.5, 1, 3, 6} {
				q, err := stiffening{net: net}.make(plain, newLinkIDs("s"))
				if err != nil {
					t.Fatal(err)
				}
				fmt.Fprintf(&in, "%g|%s|%s\n", net, polygonText(plain), polygonText(q))
				rows = append(rows, row{fmt.Sprintf("%s of a bust of %s, %g mm inside", piece.Name, body, net), q.DrawnPath().Length()})
			}
		}
	}
	cmd := exec.Command(python, "-c", geosScript)
	cmd.Stdin = &in
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(rows) {
		t.Fatalf("%d answers to %d questions", len(lines), len(rows))
	}
	for i, line := range lines {
		var off, area float64
		if _, err := fmt.Sscan(line, &off, &area); err != nil {
			t.Fatal(err)
		}
		// On the whole round the two may lie a tolerance apart.
		if limit := 2 * geom.ParallelTolerance * rows[i].round; off > limit {
			t.Errorf("%s: %g mm2 of %g are off, at most %g may be", rows[i].name, off, area, limit)
		}
	}
}
