package station

import (
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/bench"
	"hemlet/app/control"
	"hemlet/app/inspect"
	"hemlet/app/sheet"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
)

// problemWide is how wide the card with the problem is, in screen units, where there is
// room and where there is little.
var problemWide = []float32{520, 300}

// draw shows the sample. Where it cannot be read there is no picture, and the ways are
// as good without it.
func (s *Start) draw() {
	p, err := s.sample()
	if err != nil {
		s.picture.Objects = s.picture.Objects[:1]
		return
	}
	if p == s.drawn {
		return
	}
	s.drawn = p
	slots := draft.NewSlots()
	report := slots.Check(p)
	pieces, told := bench.Drawing(slots, p, report)
	var layers []*sheet.Layer
	for _, it := range append(pieces, told...) {
		layers = append(layers, &sheet.Layer{Place: it.Place, Things: []*sheet.Thing{{Marks: it.Marks}}})
	}
	if worn := wornLayer(p, layers); worn != nil {
		layers = append(layers, worn)
	}
	s.sheet.Put(layers...)
	s.tell(p, report)
}

// wornApart is what lies between the wearer and the pieces, as a share of the wearer's
// width.
const wornApart = 0.1

// wornLayer draws the wearer with the garment at the left of the pieces, its middle at
// the height of theirs; nil where the project has no wearer.
func wornLayer(p *draft.Project, pieces []*sheet.Layer) *sheet.Layer {
	marks, box := wornMarks(p)
	if len(marks) == 0 {
		return nil
	}
	all := sheet.Bounds(pieces...)
	by := geom.Pt(all.Min.X-wornApart*box.W()-box.Max.X, all.Center().Y-box.Center().Y)
	return &sheet.Layer{Place: geom.Translation(by), Things: []*sheet.Thing{{Marks: marks}}}
}

// tell shows the first problem of the sample and what would mend it, or that none is
// left.
func (s *Start) tell(p *draft.Project, report draft.Report) {
	s.title.Set(sampleTitle(p))
	s.problem.RemoveAll()
	first, problems := draft.Finding{}, 0
	for _, f := range report.Findings {
		if !f.Open() || f.Level != draft.Problem {
			continue
		}
		if problems++; problems == 1 {
			first = f
		}
	}
	for _, wide := range problemWide {
		card := s.mended(wide)
		if problems > 0 {
			card = s.unmended(first, problems, wide)
		}
		s.problem.Add(control.Wide(wide, card))
	}
}

func (s *Start) unmended(f draft.Finding, problems int, wide float32) fyne.CanvasObject {
	title := "One problem is left: " + f.About
	if problems > 1 {
		title = wording.Count(problems, "problem") + " are left. The first: " + f.About
	}
	mend := control.NewButton(control.WordShape, "shape", "Mend it", "Go to this problem of the sample", func() { s.ways.Show() })
	return control.Told(inspect.LevelOf(f.Level), title, f.Says, wide, "Go to this problem of the sample", func() { s.ways.Show() }, mend)
}

func (s *Start) mended(wide float32) fyne.CanvasObject {
	again := control.NewButton(control.QuietShape, "", "Begin it anew", "Open the sample as it comes with Hemlet", func() { s.ways.Again() })
	return control.Told(control.Holds, "No problem is left", "The sample is shown as you have it open.", wide, "Go to the sample", func() { s.ways.Show() }, again)
}

// sampleTitle says what the sample is and for whom.
func sampleTitle(p *draft.Project) string {
	title := p.Name
	if len(p.Pieces) > 0 && p.Pieces[0].Garment != "" {
		title += ": " + strings.ToLower(p.Pieces[0].Garment)
	}
	if len(p.Wearers) > 0 {
		title += " for " + p.Wearers[0].Name
	}
	return title
}
