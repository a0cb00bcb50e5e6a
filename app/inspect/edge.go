package inspect

import (
	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// edgeGroup speaks of the picked edges.
type edgeGroup struct {
	i    *Inspector
	all  *fyne.Container
	name *control.Field
	// length and runs are of a single edge, sum of several.
	length, runs *control.Field
	sum          *control.Text
	width        *control.Field
	start, end   *control.Field
	trim         *control.Field
	kind, corner *control.Choice
	nameRow      fyne.CanvasObject
	lengthRow    fyne.CanvasObject
	runsRow      fyne.CanvasObject
	sumRow       fyne.CanvasObject
}

func newEdgeGroup(i *Inspector) *edgeGroup {
	g := &edgeGroup{i: i}
	g.name = i.field("What the edge is called on the pattern", g.setName)
	g.length = i.lengthField("How long the edge is. Another length moves its end along it, or its start where a fold begins at its end.", func(mm draft.Length) error {
		return g.setLength(draft.SetEdgeLengthArgs{Length: &mm})
	})
	g.runs = i.angleField("The direction from the start of the edge to its end: 0 to the right, 90 up. Another turns the edge about its start.", func(a draft.Angle) error {
		return g.setLength(draft.SetEdgeLengthArgs{Angle: &a})
	})
	g.sum = control.NewText("", 13, false, "foreground")
	g.width = i.lengthField("Cloth left outside the stitching line, the same all along. Sums such as 1/4in + 2mm are fine.", func(mm draft.Length) error {
		return g.setAllowance(draft.SetAllowanceArgs{Width: &mm})
	})
	g.start = i.lengthField("The allowance where the edge starts; it tapers to the other end", func(mm draft.Length) error {
		return g.setAllowance(draft.SetAllowanceArgs{Start: &mm})
	})
	g.end = i.lengthField("The allowance where the edge ends", func(mm draft.Length) error {
		return g.setAllowance(draft.SetAllowanceArgs{End: &mm})
	})
	g.trim = i.lengthField("What is left of the allowance once the seam is sewn; 0 for untrimmed", func(mm draft.Length) error {
		return g.setAllowance(draft.SetAllowanceArgs{Trim: &mm})
	})
	g.kind = control.NewChoice("What happens to the edge when the garment is made up", wordsOf(draft.EdgeKinds()), g.setKind)
	g.corner = control.NewChoice("How the allowances meet at the corner where the edge starts", wordsOf(draft.CornerRules()), g.setCorner)
	g.nameRow = control.Labelled("Name", g.name.Object())
	g.lengthRow = control.Labelled("Length", g.length.Object())
	g.runsRow = control.Labelled("Direction", g.runs.Object())
	g.sumRow = control.Labelled("Together", control.Inset(10, 5, 0, 5, g.sum))
	g.width.PlaceHolder = "several"
	g.all = rows("",
		g.nameRow,
		g.lengthRow,
		g.runsRow,
		g.sumRow,
		control.Labelled("Allowance", g.width.Object()),
		control.Labelled("  at its start", g.start.Object()),
		control.Labelled("  at its end", g.end.Object()),
		control.Labelled("Trim to", g.trim.Object()),
		control.Labelled("Kind", g.kind.Object()),
		control.Labelled("Corner", g.corner.Object()),
	)
	return g
}

func (g *edgeGroup) object() fyne.CanvasObject { return g.all }

func (g *edgeGroup) update() bool {
	edges := g.edges()
	if len(edges) == 0 {
		return false
	}
	last := edges[len(edges)-1]
	unit := g.i.unit()
	single := len(edges) == 1
	for _, row := range []fyne.CanvasObject{g.nameRow, g.lengthRow, g.runsRow} {
		showRow(row, single)
	}
	showRow(g.sumRow, !single)
	sum := 0.0
	for _, e := range edges {
		sum += g.i.desk.Slots().EdgeLengths(e.piece)[e.index]
	}
	g.sum.Set(unit.Format(sum))
	if single {
		g.name.Put(last.edge.Name)
		g.length.Put(unit.Format(sum))
		path := last.piece.EdgePath(last.index)
		g.runs.Put(angleOf(last.piece, path))
	}
	g.width.Put(common(edges, func(e pickedEdge) string {
		if a := e.edge.Allowance; a.Start == a.End {
			return unit.Format(a.Start)
		}
		return ""
	}))
	g.start.Put(common(edges, func(e pickedEdge) string { return unit.Format(e.edge.Allowance.Start) }))
	g.end.Put(common(edges, func(e pickedEdge) string { return unit.Format(e.edge.Allowance.End) }))
	g.trim.Put(common(edges, func(e pickedEdge) string { return unit.Format(e.edge.Allowance.TrimTo) }))
	g.kind.Put(commonIndex(edges, func(e pickedEdge) int { return int(e.edge.Kind) }))
	g.corner.Put(commonIndex(edges, func(e pickedEdge) int { return int(e.edge.Corner) }))
	for _, f := range []*control.Field{g.width, g.start, g.end, g.trim} {
		if last.edge.Kind == draft.FoldEdge {
			f.Disable()
		} else {
			f.Enable()
		}
	}
	return true
}

// pickedEdge is an edge that is picked.
type pickedEdge struct {
	piece *draft.Piece
	edge  *draft.Edge
	index int
}

func (g *edgeGroup) edges() []pickedEdge {
	var out []pickedEdge
	for _, r := range g.i.desk.Picked().Of(desk.Edge) {
		if piece := g.i.desk.Project().Piece(r.Piece); piece != nil {
			if e, k := piece.Edge(r.Edge); e != nil {
				out = append(out, pickedEdge{piece, e, k})
			}
		}
	}
	return out
}

func (g *edgeGroup) refs() []draft.EdgeRef { return g.i.desk.Picked().Edges() }

func (g *edgeGroup) setName(name string) error {
	refs := g.refs()
	if len(refs) != 1 {
		return nil
	}
	return desk.Run(g.i.desk, draft.NameEdge, draft.NameEdgeArgs{Edge: refs[0], Name: name})
}

func (g *edgeGroup) setLength(args draft.SetEdgeLengthArgs) error {
	refs := g.refs()
	if len(refs) != 1 {
		return nil
	}
	args.Edge = refs[0]
	return runSaying(g.i, draft.SetEdgeLength, args)
}

func (g *edgeGroup) setAllowance(args draft.SetAllowanceArgs) error {
	args.Edges = g.refs()
	return desk.Run(g.i.desk, draft.SetAllowance, args)
}

func (g *edgeGroup) setKind(k int) {
	err := runSaying(g.i, draft.SetKind, draft.SetKindArgs{Edges: g.refs(), Kind: draft.EdgeKind(k)})
	if err != nil {
		g.i.report(err)
		g.update()
	}
}

func (g *edgeGroup) setCorner(k int) {
	var corners []draft.CornerRef
	for _, e := range g.edges() {
		corners = append(corners, draft.CornerRef{Piece: e.piece.ID, Node: e.edge.Nodes[0].ID})
	}
	err := desk.Run(g.i.desk, draft.SetCorner, draft.SetCornerArgs{Corners: corners, Rule: draft.CornerRule(k)})
	if err != nil {
		g.i.report(err)
		g.update()
	}
}
