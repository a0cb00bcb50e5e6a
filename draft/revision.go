package draft

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"math"

	"hemlet/geom"
)

// revisionLength is how many hexadecimal figures a revision mark has: short enough
// to compare by eye, and of a million different shapes one is mistaken for another.
const revisionLength = 5

// Revision returns the mark by which a paper or a file tells whether it still
// shows the piece as it is. It is made from what is cut and marked: the drawn
// outline rounded to 0.001 mm with the allowances and corner rules that make the
// cut line of it, darts, notches, stretches, grain, inner lines and the cut rule. What is
// computed from these (the half beyond the fold, caps of darts, the cut line) has no
// part in it, so that a finer way to compute, or another processor's rounding, marks
// no piece as changed. Nor have names, notes, labels and the place on the bench, and
// saving and loading do not change the mark.
func Revision(p *Piece) string {
	h := revisionHash{sha256.New()}
	for i := range p.Edges {
		e := &p.Edges[i]
		h.path("edge", p.EdgePath(i))
		fmt.Fprintf(h, "allowance %d %d %d %t %t\n", microns(e.Allowance.Start), microns(e.Allowance.End), e.Corner, e.turned(), e.Kind == FoldEdge)
	}
	fmt.Fprintf(h, "rule %d %d\n", p.Cut.Way, max(p.Cut.Count, 1))
	if p.Grain != nil {
		h.points("grain", p.Grain.From, p.Grain.To)
	}
	for _, d := range p.Darts {
		from, _, _ := p.Node(d.From)
		to, _, _ := p.Node(d.To)
		if from != nil && to != nil {
			h.points("dart", from.At, d.Apex, to.At)
			fmt.Fprintf(h, "pressed %d\n", d.Press)
			if d.Fold != Wedge {
				fmt.Fprintf(h, "folded %d\n", d.Fold)
			}
		}
	}
	for _, n := range p.Notches {
		h.notch(p, n)
	}
	for _, l := range p.Lines {
		fmt.Fprintf(h, "line %d ", l.Kind)
		for _, n := range l.Nodes {
			h.points("node", n.At)
		}
		h.path("along", l.Path())
		if r := l.Row; r != nil {
			fmt.Fprintf(h, "row %d %d %d %d %d %t\n", r.Kind, r.Count, microns(r.Size), microns(r.First), microns(r.Last), r.Across)
		}
	}
	for _, s := range p.Stretches {
		if _, i := p.Edge(s.Edge); i >= 0 {
			length := p.EdgeLength(i)
			fmt.Fprintf(h, "stretch %d %d %d %d\n", i, s.Kind, microns(s.From*length), microns(s.To*length))
		}
	}
	return hex.EncodeToString(h.Sum(nil))[:revisionLength]
}

type revisionHash struct{ hash.Hash }

func (h revisionHash) path(what string, p geom.Path) {
	fmt.Fprintln(h, what, len(p))
	for _, s := range p {
		if s.Straight {
			h.points("l", s.P0, s.P3)
		} else {
			h.points("c", s.P0, s.P1, s.P2, s.P3)
		}
	}
}

func (h revisionHash) points(what string, pts ...geom.Point) {
	fmt.Fprint(h, what)
	for _, p := range pts {
		fmt.Fprintf(h, " %d %d", microns(p.X), microns(p.Y))
	}
	fmt.Fprintln(h)
}

// notch writes the place of a notch in mm from the start of its edge, so that a
// notch that is only counted from the other end is the same notch.
func (h revisionHash) notch(p *Piece, n Notch) {
	_, i := p.Edge(n.Edge)
	if i < 0 {
		return
	}
	length := p.EdgeLength(i)
	at := n.At
	if n.Share {
		at *= length
	}
	if n.FromEnd {
		at = length - at
	}
	fmt.Fprintf(h, "notch %d %d %d %t\n", i, microns(at), n.Shape, n.Double)
}

func microns(mm float64) int64 { return int64(math.Round(mm * 1000)) }
