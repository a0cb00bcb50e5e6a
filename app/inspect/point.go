package inspect

import (
	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// pointGroup speaks of the point that was picked last.
type pointGroup struct {
	i          *Inspector
	all        *fyne.Container
	across, up *control.Field
	joins      *control.Choice
}

// joinWords are the ways in which two stretches join at a point.
var joinWords = []string{"corner", "smooth"}

func newPointGroup(i *Inspector) *pointGroup {
	g := &pointGroup{i: i}
	g.across = i.lengthField("How far to the right of the bench's origin the point lies", func(mm draft.Length) error {
		return g.moveTo(func(at geom.Point) geom.Point { return geom.Pt(float64(mm), at.Y) })
	})
	g.up = i.lengthField("How far above the bench's origin the point lies", func(mm draft.Length) error {
		return g.moveTo(func(at geom.Point) geom.Point { return geom.Pt(at.X, float64(mm)) })
	})
	g.joins = control.NewChoice("Whether the line turns sharply at the point or runs on smoothly. S changes it.", joinWords, func(int) {
		if n := g.node(); n != nil {
			g.i.hand.ToggleSmooth()
			g.update()
		}
	})
	g.all = rows("Point",
		control.Labelled("Across", g.across.Object()),
		control.Labelled("Up", g.up.Object()),
		control.Labelled("Joins", g.joins.Object()),
	)
	return g
}

func (g *pointGroup) object() fyne.CanvasObject { return g.all }

// ref returns the point that was picked last.
func (g *pointGroup) ref() (desk.Ref, *draft.Piece) {
	last := g.i.desk.Picked().Last()
	if !last.AtNode() {
		return desk.Ref{}, nil
	}
	return last, g.i.desk.Project().Piece(last.Piece)
}

func (g *pointGroup) node() *draft.Node {
	r, piece := g.ref()
	if piece == nil {
		return nil
	}
	return piece.AnyNode(r.Node)
}

func (g *pointGroup) update() bool {
	n := g.node()
	if n == nil {
		return false
	}
	_, piece := g.ref()
	at := piece.Place.Affine().Apply(n.At)
	g.across.Put(g.i.unit().Format(at.X))
	g.up.Put(g.i.unit().Format(at.Y))
	if n.Smooth {
		g.joins.Put(1)
	} else {
		g.joins.Put(0)
	}
	return true
}

// moveTo moves the point to another place on the bench.
func (g *pointGroup) moveTo(to func(geom.Point) geom.Point) error {
	r, piece := g.ref()
	n := g.node()
	if n == nil {
		return nil
	}
	at := piece.Place.Affine().Apply(n.At)
	return desk.Run(g.i.desk, draft.MoveNodes, draft.MoveNodesArgs{
		Nodes: []draft.NodeRef{{Piece: r.Piece, Node: r.Node}},
		By:    draft.Vector(to(at).Sub(at)),
	})
}
