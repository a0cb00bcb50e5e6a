package shell

import (
	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/geom"
)

// takeAct takes an act up, wherever we are.
func (s *Shell) takeAct(asked *tool.Asked) {
	s.toBench()
	a := tool.NewAsking(s.hand, asked)
	s.takeTool(a)
	a.TakeUp()
	s.card.show(a)
	s.focusBench()
}

// takeActAt takes an act up with a thing on the bench and a place of it.
func (s *Shell) takeActAt(asked *tool.Asked, r desk.Ref, at geom.Point) {
	s.toBench()
	a := tool.NewAsking(s.hand, asked)
	s.takeTool(a)
	a.TakeUpAt(r, at)
	s.card.show(a)
	s.focusBench()
}

// actChanged tells the act in hand of a change of the document.
func (s *Shell) actChanged(c desk.Change) {
	if a, ok := s.bench.Tool().(*tool.Asking); ok && c.Has(desk.Document) {
		a.Changed()
	}
	if w, ok := s.bench.Tool().(*tool.Walk); ok && c.Has(desk.Document) {
		w.Changed()
	}
	s.joins.changed(c)
}

// actCommands are acts as a menu lists them.
func (s *Shell) actCommands(menu string, acts []*tool.Asked) []*command {
	var list []*command
	for _, a := range acts {
		list = append(list, &command{menu: menu, name: a.Word, also: a.Also, says: a.Says, icon: a.Icon, under: a.Under, gap: a.Gap, do: func() { s.takeAct(a) }, can: s.hasPieces})
	}
	return list
}

// cuttingCommands are the acts of the cutting table and those that mark, as the menus
// list them.
func (s *Shell) cuttingCommands() []*command {
	list := append(s.actCommands(menuCutting, tool.CuttingTable()), s.actCommands(menuMarks, tool.Marking())...)
	list = append(list, s.actCommands(menuSeam, tool.SeamActs())...)
	list = append(list, s.actCommands(menuCutting, tool.Alterations())...)
	return append(list, &command{
		menu: menuCutting, name: "All acts…", says: "List every act by the words of the trade", gap: true,
		key: fyne.KeyA, mod: ctrl | fyne.KeyModifierShift, do: func() { s.finder.openActs() },
	})
}
