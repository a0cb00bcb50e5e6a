package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// DrawnLine says what a drawn outline stands for.
type DrawnLine int

const (
	// StitchDrawn: the line along which the piece is sewn; the allowance is added
	// outside it.
	StitchDrawn DrawnLine = iota
	// CutDrawn: the line along which it is cut; the allowance is taken off inside.
	CutDrawn
)

var drawnLineNames = names[DrawnLine]{"stitch", "cut"}

func (l DrawnLine) String() string               { return drawnLineNames.text(l) }
func (l DrawnLine) MarshalText() ([]byte, error) { return drawnLineNames.marshal(l) }

// UnmarshalText reads stitch or cut.
func (l *DrawnLine) UnmarshalText(b []byte) error {
	return drawnLineNames.unmarshal(l, b, "drawn line")
}

// ImportOutlinesArgs are the arguments of ImportOutlines.
type ImportOutlinesArgs struct {
	Outlines []Outline
	Line     DrawnLine
	// Allowance is the width in mm of every edge, 0 or more.
	Allowance float64
}

// ImportOutlines makes a piece of each outline, in order, at its place in the
// drawing unless it would lie on another piece: then it goes beside them. Its grain
// is taken to run upright. Where the outlines are cut lines, the stitching line is
// the parallel inside, and what does not come back to the given line when the
// allowance is added again is told. It is not listed: outlines come from a drawing,
// not from text.
var ImportOutlines = newAct(Info{
	Name: "import-outlines", Title: "Import outlines", Group: groupPieces,
	Says: "Makes pieces of the closed outlines of a drawing.",
}, importOutlines)

func importOutlines(p *Project, a ImportOutlinesArgs) (Outcome, error) {
	if len(a.Outlines) == 0 {
		return Outcome{}, errors.New("there is no outline to import")
	}
	if !(a.Allowance >= 0 && a.Allowance <= MaxAllowance) {
		return Outcome{}, outOfAllowances(a.Allowance, p.Unit)
	}
	nodes := p.nodeCount()
	for _, o := range a.Outlines {
		nodes += len(o.Path)
	}
	if nodes > MaxNodes {
		return Outcome{}, fmt.Errorf("the project would have %d points; at most %d fit", nodes, MaxNodes)
	}
	imp := newImporter(p, a)
	for i, o := range a.Outlines {
		if err := imp.add(i, o); err != nil {
			return Outcome{}, err
		}
	}
	imp.out.Project.NextID = imp.ids.next
	imp.out.subject = imp.out.Project.subject(imp.made)
	imp.out.Made = imp.made[0]
	return imp.out, nil
}

// importer carries what one import knows from piece to piece.
type importer struct {
	args  ImportOutlinesArgs
	out   Outcome
	ids   *idSource
	names map[string]bool
	bench benchRoom
	made  []ID
	// stays leaves pieces where they were drawn, over others too.
	stays bool
}

func newImporter(p *Project, a ImportOutlinesArgs) *importer {
	imp := &importer{args: a, ids: p.newIDs(), names: make(map[string]bool)}
	imp.out.Project = p.shallow()
	imp.out.Project.Pieces = append([]*Piece(nil), p.Pieces...)
	for _, piece := range p.Pieces {
		imp.names[piece.Name] = true
		imp.bench.take(piece)
	}
	return imp
}

// add makes the piece of outline i.
func (imp *importer) add(i int, o Outline) error {
	name, err := cleanName(o.Name)
	if err != nil {
		return fmt.Errorf("outline %d: %w", i+1, err)
	}
	if name == "" {
		name = fmt.Sprintf("Piece %d", len(imp.out.Project.Pieces)+1)
	}
	name = unusedName(name, func(n string) bool { return imp.names[n] })
	imp.names[name] = true
	edges, err := o.edges()
	if err != nil {
		return fmt.Errorf("piece %s: %w", name, err)
	}
	given := edges
	if imp.args.Line == CutDrawn && imp.args.Allowance > 0 {
		if edges, err = stitchInside(edges, imp.args.Allowance); err != nil {
			return fmt.Errorf("piece %s: with %s of allowance inside its cut line: %w", name, imp.unit().Format(imp.args.Allowance), inUnit(err, imp.unit()))
		}
	}
	piece := imp.piece(name, edges)
	if imp.args.Line == CutDrawn {
		imp.tellDeviation(piece, given)
		imp.tellLost(piece, given, edges)
	}
	if !imp.stays {
		imp.bench.lay(piece)
	}
	imp.made = append(imp.made, piece.ID)
	imp.out.Project.Pieces = append(imp.out.Project.Pieces, piece)
	return nil
}

func (imp *importer) unit() Unit { return imp.out.Project.Unit }

// inUnit puts the width that the error names into the unit.
func inUnit(err error, unit Unit) error {
	var none *geom.VanishedError
	if errors.As(err, &none) && none.Largest > 0 {
		return fmt.Errorf("nothing is left of the piece; about %s is the most that it can give", unit.Format(none.Largest))
	}
	return err
}

// piece makes a piece whose stitching line is the edges.
func (imp *importer) piece(name string, edges []drawnEdge) *Piece {
	piece := &Piece{ID: imp.ids.make(kindPiece), Name: name, Cut: CutRule{Way: CutSingle, Count: 1}}
	names := make(map[string]bool, len(edges))
	for i, e := range edges {
		label := e.name
		if label == "" {
			label = fmt.Sprintf("edge %d", i+1)
		}
		label = unusedName(label, func(n string) bool { return names[n] })
		names[label] = true
		edge := Edge{ID: imp.ids.make(kindEdge), Name: label, Allowance: Even(imp.args.Allowance)}
		before := edges[(i+len(edges)-1)%len(edges)].path
		last := before[len(before)-1]
		for _, s := range e.path {
			edge.Nodes = append(edge.Nodes, nodeBetween(imp.ids.make(kindNode), last, s))
			last = s
		}
		edge.Nodes[0].Smooth = edge.Nodes[0].Smooth && len(edges) == 1
		piece.Edges = append(piece.Edges, edge)
	}
	piece.Grain = grainAlong(piece.DrawnPath(), upright)
	return piece
}

// smoothSlack is how far, in radians, the two sides of a node may be from one line
// and still be meant as smooth: about 2°, more than the rounding of drawings and
// less than a corner that shows in cloth.
const smoothSlack = 0.035

// nodeBetween returns the node at which segment a ends and segment b starts.
func nodeBetween(id ID, a, b geom.Segment) Node {
	n := Node{ID: id, At: b.P0}
	if !a.Straight {
		n.In = a.P2.Sub(a.P3)
	}
	if !b.Straight {
		n.Out = b.P1.Sub(b.P0)
	}
	if n.In != (geom.Point{}) || n.Out != (geom.Point{}) {
		u, v := a.Tangent(1), b.Tangent(0)
		n.Smooth = u.Dot(v) > 0 && u.Cross(v) < smoothSlack && u.Cross(v) > -smoothSlack
	}
	return n
}

// How far, in mm, a cut line may be from the one that was given before it is told:
// two parallels of 0.01 mm each, and at a corner, where a curve that ends there
// comes back as its tangent, the width of a pencil line.
const (
	comeBackSlack       = 0.02
	comeBackCornerSlack = 0.5
)

// tellDeviation tells how far the cut line of the piece is from the given one.
func (imp *importer) tellDeviation(piece *Piece, given []drawnEdge) {
	flat, err := LayFlat(piece)
	if err != nil {
		imp.out.say("%v", err)
		return
	}
	along, corner := comesBack(flat.Cut, given, geom.MitreLimit*imp.args.Allowance)
	switch {
	case along.by > comeBackSlack && along.by >= corner.by:
		imp.out.say("%s: where edge %s turns too tightly for the allowance, its cut line lies up to %s off the drawn one.", piece.Name, along.edge, imp.unit().FormatSmall(along.by))
	case corner.by > comeBackCornerSlack:
		imp.out.say("%s: at a corner of edge %s its cut line lies up to %s off the drawn one, since an allowance runs on straight there.", piece.Name, corner.edge, imp.unit().FormatSmall(corner.by))
	}
}

// comeBackSamples is how many points of each segment of an outline are compared.
const comeBackSamples = 32

// deviation is the largest distance of a line from another, and where.
type deviation struct {
	by   float64
	edge string
}

func (d *deviation) include(by float64, edge drawnEdge, i int) {
	if by > d.by {
		d.by, d.edge = by, labelOf(edge.name, ID(fmt.Sprint(i+1)))
	}
}

// comesBack returns how far the drawn edges are from the cut line: along them, and
// within reach mm of their corners.
func comesBack(cut geom.Path, drawn []drawnEdge, reach float64) (along, corner deviation) {
	for i, e := range drawn {
		for k := range len(e.path) * comeBackSamples {
			q := e.path[k/comeBackSamples].At(float64(k%comeBackSamples) / comeBackSamples)
			_, d := cut.Nearest(q)
			if len(drawn) > 1 && min(q.Dist(e.path.Start()), q.Dist(e.path.End())) < reach {
				corner.include(d, e, i)
				continue
			}
			along.include(d, e, i)
		}
	}
	return along, corner
}

// tellLost tells which named edges have no stitching line left.
func (imp *importer) tellLost(piece *Piece, given, edges []drawnEdge) {
	left := make(map[string]bool)
	for _, e := range edges {
		left[e.name] = true
	}
	for _, e := range given {
		if e.name != "" && !left[e.name] {
			imp.out.say("%s: edge %s is shorter than its neighbours' allowances leave room for, and has no stitching line.", piece.Name, e.name)
		}
	}
}
