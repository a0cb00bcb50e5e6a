package store

import (
	"fmt"
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

// wardrobe is a project of n pieces as garments have them: four edges of three
// cubics, two notches an edge, a grain line, and a seam from each to the next.
func wardrobe(n int) *draft.Project {
	p := draft.New("Lamplighter")
	id := func(kind byte) draft.ID {
		p.NextID++
		return draft.ID(fmt.Sprintf("%c%d", kind, p.NextID-1))
	}
	for i := range n {
		piece := &draft.Piece{
			ID: id('p'), Name: fmt.Sprintf("Piece %d", i), Garment: "Smock", Cut: draft.CutRule{Way: draft.CutPairs, Count: 1},
			Grain: &draft.Grain{From: geom.Pt(40, 10), To: geom.Pt(40, 90)},
		}
		for k, name := range []string{"neck", "side", "hem", "front"} {
			e := draft.Edge{ID: id('e'), Name: name, Allowance: draft.Even(6)}
			for j := range 3 {
				x := float64(100*k+30*j) + 0.123457*float64(i)
				e.Nodes = append(e.Nodes, draft.Node{
					ID: id('n'), At: geom.Pt(x, x/3), In: geom.Pt(-10.123456, 2.654321), Out: geom.Pt(9.87654, -3.2101), Smooth: j > 0,
				})
			}
			piece.Edges = append(piece.Edges, e)
			for _, at := range []float64{0.25, 0.75} {
				piece.Notches = append(piece.Notches, draft.Notch{ID: id('t'), Edge: e.ID, At: at, Share: true})
			}
		}
		p.Pieces = append(p.Pieces, piece)
	}
	for i := range n - 1 {
		p.Seams = append(p.Seams, &draft.Seam{
			ID: id('s'), Name: "side", Ratio: 1, To: 1,
			A: draft.Run{{Piece: p.Pieces[i].ID, Copy: draft.CopyRef{Number: 1}, Edge: p.Pieces[i].Edges[1].ID}},
			B: draft.Run{{Piece: p.Pieces[i+1].ID, Copy: draft.CopyRef{Number: 1}, Edge: p.Pieces[i+1].Edges[1].ID, Reversed: true}},
		})
	}
	return p
}

// BenchmarkDecode200 reads a project of 200 pieces; the bar is 100 ms.
func BenchmarkDecode200(b *testing.B) {
	text := Encode(wardrobe(200))
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Decode(text); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkEncode200 writes a project of 200 pieces.
func BenchmarkEncode200(b *testing.B) {
	p := wardrobe(200)
	b.ReportAllocs()
	for b.Loop() {
		Encode(p)
	}
}
