package draft

import (
	"fmt"
	"math"
	"testing"

	"hemlet/geom"
)

// levelEdge returns the edge of a piece that lies nearest to a height.
func levelEdge(p *Piece, y float64) int {
	best, least := -1, math.Inf(1)
	for i := range p.Edges {
		line := p.EdgePath(i)
		if off := math.Abs(line.Start().Y-y) + math.Abs(line.End().Y-y); off < least {
			best, least = i, off
		}
	}
	return best
}

// The five-gore skirt of Ella A. Bennett, The Perfect Dressmaking System, 1914: waist 25
// inches, hip 40 at 7 inches below it, each gore 5 at the waist and 8 at the hip, the hem
// of the front gore twice its top, that of the others 17 1/2; 38 long. A rectangle is split
// into gores, points are put in at the hip and moved out, and the hem is measured off
// equally from the hip line. The seams that the splitting recorded hold untouched. The
// hems of her gores make 80 inches; she rounds the sweep to 81.
func TestFiveGoreSkirtByActs(t *testing.T) {
	const inch = 25.4
	const long = 38 * inch
	p, gores := fiveGores(t)
	sum := map[string]float64{}
	for _, id := range gores {
		q := p.Piece(id)
		if n := q.nodeCount(); n != 6 {
			t.Fatalf("%s has %d points", q.Name, n)
		}
		top, low := q.EdgeLength(levelEdge(q, long)), q.EdgeLength(levelEdge(q, 0))
		wantNear(t, "waist of a gore", top, 5*inch, 1e-5)
		sum["waist"] += top
		sum["hem"] += low
		var hips []geom.Point
		for i := range q.Edges {
			for _, n := range q.Edges[i].Nodes[1:] {
				hips = append(hips, n.At)
			}
		}
		sum["hip"] += hips[0].Dist(hips[1])
	}
	wantNear(t, "waist", sum["waist"], 25*inch, 1e-4)
	wantNear(t, "hip", sum["hip"], 40*inch, 1e-4)
	wantNear(t, "hem", sum["hem"], 80*inch, 1e-4)
	if len(p.Seams) != 4 {
		t.Fatalf("%d seams", len(p.Seams))
	}
	slots := NewSlots()
	for _, s := range p.Seams {
		state, err := slots.SeamState(p, s)
		if err != nil || !state.Holds || math.Abs(state.Diff) > 1e-4 {
			t.Errorf("seam %s: %+v, %v", s.Name, state, err)
		}
	}
}

// fiveGores drafts the skirt by acts, and returns its gores too.
func fiveGores(t *testing.T) (*Project, []ID) {
	t.Helper()
	const inch = 25.4
	const waist, long, hip, hipDown, frontHem, hem = 25 * inch, 38 * inch, 8 * inch, 7 * inch, 10 * inch, 17.5 * inch
	skirt := polygonPiece("skirt", 10, geom.Pt(0, 0), geom.Pt(waist, 0), geom.Pt(waist, long), geom.Pt(0, long))
	name(skirt, "hem", "right", "waist", "left")
	p := projectOf(skirt)
	gores := []ID{"skirt"}
	for left := 5; left > 1; left-- {
		q := p.Piece("skirt")
		top, low := q.Edges[levelEdge(q, long)], q.Edges[levelEdge(q, 0)]
		out, err := SplitPiece.Do(p, SplitPieceArgs{
			From: &PlaceRef{"skirt", top.ID, EdgePlace{At: 1 / float64(left), Share: true}},
			To:   &PlaceRef{"skirt", low.ID, EdgePlace{At: 1 / float64(left), Share: true, FromEnd: true}},
			Name: fmt.Sprintf("gore %d", left),
		})
		if err != nil {
			t.Fatal(err)
		}
		p, gores = out.Project, append(gores, out.Made)
	}
	for _, id := range gores {
		sweep := hem
		if id == gores[0] {
			sweep = frontHem
		}
		p = flared(t, p, id, long, hip, hipDown, sweep)
	}
	return p, gores
}

// flared moves the sides of a gore out to the width of the hip and on to that of the hem.
func flared(t *testing.T, p *Project, id ID, long, hip, hipDown, sweep float64) *Project {
	t.Helper()
	q := p.Piece(id)
	low, top := levelEdge(q, 0), levelEdge(q, long)
	for i := range q.Edges {
		if i == low || i == top {
			continue
		}
		// The right side runs up, the left one down.
		fromEnd := q.EdgePath(i).End().Y > q.EdgePath(i).Start().Y
		out, err := InsertNode.Do(p, InsertNodeArgs{Edge: EdgeRef{id, q.Edges[i].ID}, At: EdgePlace{At: hipDown, FromEnd: fromEnd}})
		if err != nil {
			t.Fatal(err)
		}
		p = out.Project
	}
	width := q.EdgeLength(top)
	middle := q.EdgePath(low).Start().Lerp(q.EdgePath(low).End(), 0.5)
	drop := long - hipDown
	for i := range p.Piece(id).Edges {
		for k, n := range p.Piece(id).Edges[i].Nodes {
			side := math.Copysign(1, n.At.X-middle.X)
			by := geom.Pt(side*(hip-width)/2, 0)
			if k == 0 {
				if n.At.Y > 1 {
					continue // the waist stays
				}
				out := (sweep - hip) / 2
				by = by.Add(geom.Pt(side*out, drop-math.Sqrt(drop*drop-out*out)))
			}
			done, err := MoveNodes.Do(p, MoveNodesArgs{Nodes: []NodeRef{{id, n.ID}}, By: Vector(by)})
			if err != nil {
				t.Fatal(err)
			}
			p = done.Project
		}
	}
	return p
}
