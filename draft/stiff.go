package draft

import "hemlet/geom"

// roleStiffener is the role of a stiffener: buckram, board, wire net, that is laid
// inside the stitching line and never sewn into a seam.
const roleStiffener = "stiffener"

// stiffening makes a stiffener of the parent.
type stiffening struct {
	name string
	// net is how far it lies inside the stitching line, in mm.
	net float64
}

func (s *settingReader) stiffening() stiffening {
	return stiffening{name: s.text(settingName), net: s.length(settingNet, 0)}
}

func (stiffening) role() string { return roleStiffener }

func (s stiffening) settings() []Setting {
	var l settingList
	l.text(settingMake, roleStiffener)
	l.text(settingName, s.name)
	l.length(settingNet, s.net)
	return l
}

func (s stiffening) follow(Lineage) (recipe, bool) { return s, false }

func (s stiffening) make(parent *Piece, ids linkIDs) (*Piece, error) {
	p := parent.clone()
	p.Notches, p.Stretches = nil, nil // nothing is matched or gathered
	p.Lines = linesOfKinds(p.Lines, DartLine, CutoutLine)
	q := traced(p, ids)
	widths := make([]inset, len(parent.Edges))
	for i := range widths {
		if !parent.foldsOn(i) {
			widths[i] = inset{s.net, s.net}
		}
	}
	edges, err := insetEdges(q, widths, ids.between)
	if err != nil {
		return nil, err
	}
	for i := range edges {
		e := &edges[i]
		e.Allowance, e.Corner = Allowance{}, Mitre
		if e.Kind != FoldEdge {
			e.Kind = RawEdge
		}
	}
	q.Edges = edges
	q.Name, q.Note, q.LabelAt, q.Layer = nameOr(s.name, parent.label()+" stiffener"), "", nil, Interlining
	q.Cut.Count = 1
	return q, nil
}

// foldsOn reports whether edge i is the fold on which the piece is cut.
func (p *Piece) foldsOn(i int) bool { return p.Edges[i].Kind == FoldEdge }

// within reports whether all of a line lies inside an outline.
func (l Line) within(outline geom.Path) bool {
	for _, n := range l.Nodes {
		if !outline.Contains(n.At) {
			return false
		}
	}
	return len(l.Path().Intersections(outline)) == 0
}

// linesOfKinds returns the lines of some kinds.
func linesOfKinds(lines []Line, kinds ...LineKind) []Line {
	var out []Line
	for _, l := range lines {
		for _, k := range kinds {
			if l.Kind == k {
				out = append(out, l)
			}
		}
	}
	return out
}
