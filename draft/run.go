package draft

import "hemlet/geom"

// dartAt returns the dart whose mouth is the stretch from node a to node b,
// neighbours on an edge, or nil.
func (p *Piece) dartAt(a, b ID) *Dart {
	for i := range p.Darts {
		if p.Darts[i].From == a && p.Darts[i].To == b {
			return &p.Darts[i]
		}
	}
	return nil
}

// EdgeParts returns the stitching line of edge i without the mouths of its darts:
// one open path, and one more for each dart.
func (p *Piece) EdgeParts(i int) []geom.Path {
	nodes := p.EdgeNodes(i)
	var parts []geom.Path
	var part geom.Path
	for k := 1; k < len(nodes); k++ {
		if p.dartAt(nodes[k-1].ID, nodes[k].ID) != nil {
			if len(part) > 0 {
				parts = append(parts, part)
			}
			part = nil
			continue
		}
		part = append(part, segment(nodes[k-1], nodes[k]))
	}
	if len(part) > 0 {
		parts = append(parts, part)
	}
	return parts
}

// EdgeLength returns the length of edge i along its stitching line in mm; the
// mouths of darts count for nothing.
func (p *Piece) EdgeLength(i int) float64 {
	sum := 0.0
	for _, part := range p.EdgeParts(i) {
		sum += part.Length()
	}
	return sum
}
