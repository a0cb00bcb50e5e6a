package inspect

import (
	"slices"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// lineGroup speaks of the line inside a piece that was picked last.
type lineGroup struct {
	i            *Inspector
	all          *fyne.Container
	name         *control.Field
	kind, ends   *control.Choice
	point        *control.Choice
	pointRow     fyne.CanvasObject
	length, runs *control.Field
	lengthRow    fyne.CanvasObject
	runsRow      fyne.CanvasObject
	kindRow      fyne.CanvasObject
	endsRow      fyne.CanvasObject
}

// lineKinds are what a drawn line can be for, and lineWords what they are called.
var (
	lineKinds = []draft.LineKind{draft.StyleLine, draft.PlacementLine, draft.GatheringLine, draft.PleatLine, draft.SlitLine, draft.CutoutLine, draft.DartLine}
	lineWords = []string{"to shape by", "placement", "gathering", "pleat", "slit, cut open", "cut out", "dart pointed at both ends"}
)

// pointKinds are what a single marked place can be for, and pointWords what they are
// called.
var (
	pointKinds = []draft.LineKind{draft.DrillPoint, draft.ReinforcePoint}
	pointWords = []string{"to drill or mark through", "to sew over twice"}
)

// endWords say whether a line is closed.
var endWords = []string{"open", "closed"}

func newLineGroup(i *Inspector) *lineGroup {
	g := &lineGroup{i: i}
	g.name = i.field("What the line is called on the pattern", func(name string) error {
		return g.set(draft.SetLineArgs{Name: &name})
	})
	g.kind = control.NewChoice("What the line is for", lineWords, func(k int) {
		g.choose(draft.SetLineArgs{Kind: &lineKinds[k]})
	})
	g.point = control.NewChoice("What the marked place is for", pointWords, func(k int) {
		g.choose(draft.SetLineArgs{Kind: &pointKinds[k]})
	})
	g.pointRow = control.Labelled("It is", g.point.Object())
	g.ends = control.NewChoice("Whether the end of the line leads back to its start", endWords, func(k int) {
		closed := k == 1
		g.choose(draft.SetLineArgs{Closed: &closed})
	})
	g.length = i.lengthField("How long the line is. Another length moves its end along it.", func(mm draft.Length) error {
		return g.measure(draft.SetLineLengthArgs{Length: &mm})
	})
	g.runs = i.angleField("The direction from the start of the line to its end: 0 to the right, 90 up. Another turns it about its start.", func(a draft.Angle) error {
		return g.measure(draft.SetLineLengthArgs{Angle: &a})
	})
	g.kindRow = control.Labelled("It is for", g.kind.Object())
	g.endsRow = control.Labelled("It is", g.ends.Object())
	g.lengthRow = control.Labelled("Length", g.length.Object())
	g.runsRow = control.Labelled("Direction", g.runs.Object())
	g.all = rows("Line", control.Labelled("Name", g.name.Object()), g.kindRow, g.pointRow, g.endsRow, g.lengthRow, g.runsRow)
	return g
}

func (g *lineGroup) object() fyne.CanvasObject { return g.all }

// line returns the line that was picked last, or nil.
func (g *lineGroup) line() (*draft.Piece, *draft.Line) {
	last := g.i.desk.Picked().Last()
	piece := g.i.desk.Project().Piece(last.Piece)
	if last.Kind != desk.Line || piece == nil {
		return nil, nil
	}
	return piece, piece.Line(last.Thing)
}

func (g *lineGroup) ref() draft.LineRef {
	last := g.i.desk.Picked().Last()
	return draft.LineRef{Piece: last.Piece, Line: last.Thing}
}

func (g *lineGroup) update() bool {
	piece, l := g.line()
	if l == nil {
		return false
	}
	g.name.Put(l.Name)
	drawn := len(l.Nodes) > 1
	kind := -1
	for k := range lineKinds {
		if lineKinds[k] == l.Kind {
			kind = k
		}
	}
	showRow(g.kindRow, kind >= 0)
	point := slices.Index(pointKinds, l.Kind)
	showRow(g.pointRow, point >= 0)
	g.point.Put(point)
	showRow(g.endsRow, drawn && kind >= 0)
	showRow(g.lengthRow, drawn)
	showRow(g.runsRow, drawn && !l.Closed)
	g.kind.Put(kind)
	g.ends.Put(0)
	if l.Closed {
		g.ends.Put(1)
	}
	if drawn {
		path := l.Path()
		g.length.Put(g.i.unit().Format(path.Length()))
		g.runs.Put(angleOf(piece, path))
	}
	if l.Closed {
		g.length.Disable()
	} else {
		g.length.Enable()
	}
	return true
}

func (g *lineGroup) set(args draft.SetLineArgs) error {
	args.Line = g.ref()
	return desk.Run(g.i.desk, draft.SetLine, args)
}

// choose sets what was chosen; where that cannot be, the choice goes back.
func (g *lineGroup) choose(args draft.SetLineArgs) {
	if _, l := g.line(); l == nil {
		return
	}
	if err := g.set(args); err != nil {
		g.i.report(err)
		g.update()
	}
}

func (g *lineGroup) measure(args draft.SetLineLengthArgs) error {
	args.Line = g.ref()
	return desk.Run(g.i.desk, draft.SetLineLength, args)
}
