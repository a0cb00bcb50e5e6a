package inspect

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// rowGroup speaks of the fastenings along the line that was picked last.
type rowGroup struct {
	i                 *Inspector
	all               *fyne.Container
	kind, way         *control.Choice
	count             *control.Field
	size, first, last *control.Field
	apart             *control.Text
	wayRow            fyne.CanvasObject
}

func newRowGroup(i *Inspector) *rowGroup {
	g := &rowGroup{i: i}
	g.kind = control.NewChoice("What is set along the line", wordsOf(draft.RowKinds()), func(k int) {
		kind := draft.RowKinds()[k]
		g.i.refused(g.set(draft.SetRowArgs{Kind: &kind}), g)
	})
	g.count = i.field("How many there are", func(text string) error {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil {
			return fmt.Errorf("%q is no whole number", text)
		}
		return g.set(draft.SetRowArgs{Count: &n})
	})
	g.count.Step = func(by int) {
		if n, err := strconv.Atoi(g.count.Text); err == nil {
			n += by
			g.i.refused(g.set(draft.SetRowArgs{Count: &n}), g)
		}
	}
	g.size = i.lengthField("The diameter of a button, snap or eyelet, the length of a buttonhole, hook or exit", func(mm draft.Length) error {
		return g.set(draft.SetRowArgs{Size: &mm})
	})
	g.first = i.lengthField("How far the first lies from the start of the line", func(mm draft.Length) error {
		return g.set(draft.SetRowArgs{First: &mm})
	})
	g.last = i.lengthField("How far the last lies from the end of the line", func(mm draft.Length) error {
		return g.set(draft.SetRowArgs{Last: &mm})
	})
	g.way = control.NewChoice("Whether they lie along the line or square to it", []string{"along", "across"}, func(k int) {
		across := k == 1
		g.i.refused(g.set(draft.SetRowArgs{Across: &across}), g)
	})
	g.apart = control.NewText("", 13, false, "foreground")
	g.wayRow = control.Labelled("Lie", g.way.Object())
	g.all = rows("Fastenings",
		control.Labelled("What", g.kind.Object()),
		control.Labelled("How many", g.count.Object()),
		control.Labelled("Size", g.size.Object()),
		control.Labelled("First at", g.first.Object()),
		control.Labelled("Last before end", g.last.Object()),
		g.wayRow,
		control.Labelled("Apart", control.Inset(10, 5, 0, 5, g.apart)),
	)
	return g
}

func (g *rowGroup) object() fyne.CanvasObject { return g.all }

// row returns the line of fastenings that was picked last.
func (g *rowGroup) row() (onPiece[draft.Line], bool) {
	list := things(g.i, desk.Line, func(p *draft.Piece, id draft.ID) *draft.Line { return p.Line(id) })
	if len(list) == 0 || last(list).thing.Row == nil {
		return onPiece[draft.Line]{}, false
	}
	return last(list), true
}

func (g *rowGroup) update() bool {
	l, ok := g.row()
	if !ok {
		return false
	}
	r, unit := l.thing.Row, g.i.unit()
	g.kind.Put(int(r.Kind))
	g.count.Put(strconv.Itoa(r.Count))
	g.size.Put(unit.Format(r.Size))
	g.first.Put(unit.Format(r.First))
	g.last.Put(unit.Format(r.Last))
	g.way.Put(0)
	if r.Across {
		g.way.Put(1)
	}
	switch r.Kind {
	case draft.Buttonholes, draft.Hooks, draft.HookEyes, draft.Exits:
		g.wayRow.Show()
	default:
		g.wayRow.Hide() // they are round
	}
	g.apart.Set("–")
	if gap := r.Gap(l.thing.Path().Length()); gap > 0 {
		g.apart.Set(unit.Format(gap))
	}
	return true
}

func (g *rowGroup) set(args draft.SetRowArgs) error {
	l, ok := g.row()
	if !ok {
		return nil
	}
	args.Line = draft.LineRef{Piece: l.piece.ID, Line: l.thing.ID}
	return runSaying(g.i, draft.SetRow, args)
}
