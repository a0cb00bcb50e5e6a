package draft

import (
	"fmt"

	"hemlet/geom"
)

// nearCorner is how near, as a multiple of what the two halves of a piece may differ by, two
// corners are taken for one that lies in two places, which the person has to mend, and not
// for two.
const nearCorner = 6

// evenCorners puts a corner on either half of a piece where the other has one, whose mirror
// image lies along an edge. m mirrors the one half onto the other.
func (f *halving) evenCorners(m geom.Affine, ids *idSource) error {
	kept, gone := f.keep.piece.corners(), f.drop.piece.corners()
	for _, side := range [...]struct {
		of, onto []geom.Point
		half     *half
	}{{gone, kept, &f.keep}, {kept, gone, &f.drop}} {
		for _, c := range side.of {
			at := m.Apply(c)
			least := nearCorner*f.apart + placeReach
			found := false
			for _, other := range side.onto {
				found = found || other.Dist(at) <= least
			}
			if found {
				continue
			}
			if err := side.half.addCorner(at, ids); err != nil {
				return err
			}
			f.added++
		}
	}
	return nil
}

// corners returns the places of the corners of the outline.
func (p *Piece) corners() []geom.Point {
	list := make([]geom.Point, len(p.Edges))
	for i := range p.Edges {
		list[i] = p.Edges[i].Nodes[0].At
	}
	return list
}

// addCorner makes a corner of the place on the outline nearest to a point.
func (h *half) addCorner(at geom.Point, ids *idSource) error {
	p := h.piece
	cut := p.Edges[h.cut].ID
	place := p.placeAt(at)
	if place.edge == h.cut {
		return nil
	}
	node, err := p.nodeFor(place, ids)
	if err != nil {
		return err
	}
	if d := p.mouthOf(node); d != nil {
		return fmt.Errorf("dart %s opens where the other half has a corner", labelOf(d.Name, d.ID))
	}
	n, i, k := p.Node(node)
	if k == 0 {
		return nil
	}
	n.Smooth = false
	h.lin = h.lin.then(p.split(i, k, ids))
	_, h.cut = p.Edge(cut)
	return nil
}

// openMirrored returns the edges of a half but its cut as they lie mirrored by m.
func (h half) openMirrored(m geom.Affine) []Edge {
	image := h.piece.clone()
	cut := image.Edges[h.cut].ID
	image.turnOver(m)
	_, at := image.Edge(cut)
	return half{piece: image, cut: at}.open()
}
