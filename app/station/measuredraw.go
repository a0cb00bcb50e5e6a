package station

import (
	"slices"
	"strings"

	"hemlet/app/bench/paint"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/draft/figure"
	"hemlet/geom"
)

// figureGap is the room between the figure from the front and that from the side, as
// a share of the height.
const figureGap = 0.06

// draw shows the figure with the places of the measures.
func (m *Measure) draw() {
	w, other := m.Wearer(), m.compared()
	shown := m.shownMarks()
	now := drawnFor{wearer: w, other: other, unit: m.desk.Project().Unit, shown: strings.Join(shown, " ")}
	if m.drawn == now {
		return
	}
	if m.drawn.wearer == nil || m.drawn.wearer.ID != w.ID {
		defer m.sheet.Fit()
	}
	m.drawn = now
	resolved := body.Resolve(w.Given())
	own := ownLevels(w)
	front := figure.Draw(resolved, w.Build, figure.Front, own...)
	side := figure.Draw(resolved, w.Build, figure.Side, own...)
	gap := figureGap * (front.Bounds.Max.Y - front.Bounds.Min.Y)
	atFront := geom.Translation(geom.Pt(-front.Bounds.Max.X-gap/2, 0))
	atSide := geom.Translation(geom.Pt(-side.Bounds.Min.X+gap/2, 0))
	layers := []*sheet.Layer{
		{Place: atFront, Things: []*sheet.Thing{room(front.Bounds), {Marks: figureMarks(front)}}},
		{Place: atSide, Things: []*sheet.Thing{room(side.Bounds), {Marks: figureMarks(side)}}},
	}
	if other != nil {
		layers = append(layers, m.otherLayer(other, figure.Front, atFront), m.otherLayer(other, figure.Side, atSide))
	}
	layers = append(layers, m.markLayer(front, shown, resolved, atFront), m.markLayer(side, shown, resolved, atSide))
	m.sheet.Put(layers...)
}

// otherLayer draws the outline of the wearer that is compared with over the figure.
func (m *Measure) otherLayer(w *draft.Wearer, view figure.View, at geom.Affine) *sheet.Layer {
	d := figure.Draw(body.Resolve(w.Given()), w.Build, view, ownLevels(w)...)
	t := &sheet.Thing{}
	line := sheet.Fainter(sheet.Dashed(paint.Ochre, 1.3), 0.9)
	for _, p := range d.Silhouette() {
		t.Marks = append(t.Marks, sheet.Lined(p, line))
	}
	return &sheet.Layer{Place: at, Aside: true, Things: []*sheet.Thing{t}}
}

// markLayer shows the places of those measures that are to be seen in a view.
func (m *Measure) markLayer(d *figure.Drawing, shown []string, resolved *body.Body, at geom.Affine) *sheet.Layer {
	l := &sheet.Layer{Place: at, Aside: true}
	for _, mark := range d.Marks {
		if !slices.Contains(shown, mark.Measure) {
			continue
		}
		k, ok := resolved.Get(mark.Measure)
		style, label := markWanted, ""
		if ok {
			label = approx(k) + m.desk.Project().Unit.Format(k.Value)
			if !k.Estimated {
				style = markTaken
			}
		}
		l.Things = append(l.Things, markThing(mark, style, label))
	}
	return l
}

// shownMarks returns the measures whose places are to be seen: those that are asked
// for first, those that are taken, those of the groups that are folded out, and the
// one that has the keys.
func (m *Measure) shownMarks() []string {
	var names []string
	for _, x := range m.form.order {
		c, ok := body.Find(x.name)
		asked := ok && c.Ask > 0
		if asked || x.taken || x.name == m.focus || m.form.visible(x) {
			names = append(names, x.name)
		}
	}
	for _, level := range ownLevels(m.Wearer()) {
		names = append(names, body.GirthOf(level))
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// figureBox returns the box of the figure itself, without the marks.
func figureBox(d *figure.Drawing) geom.Rect {
	box := geom.EmptyRect()
	for _, p := range d.Parts {
		box = box.Union(p.Outline.Bounds())
	}
	return box
}
