package draft

import (
	"fmt"

	"hemlet/draft/block"
	"hemlet/draft/body"
)

// drafted returns the block of a derivation drafted for its wearer.
func (s *Slots) drafted(p *Project, d *Derivation) *drafted {
	w := p.WearerOf(d)
	return slotOf(s, "drafted", d.ID, slotInputs{d, w}, func() *drafted { return draftFor(d, w) })
}

// Drafted returns the block of a derivation and the sheet that it makes for its
// wearer; the sheet is nil, with the reason, where it cannot be drafted.
func (s *Slots) Drafted(p *Project, d *Derivation) (*block.Block, *block.Sheet, error) {
	dr := s.drafted(p, d)
	return dr.block, dr.sheet, dr.err
}

// checkBlocks tells what the blocks have to say of the bodies they were drafted for,
// and which pieces have not followed.
func (s *Slots) checkBlocks(p *Project) []Finding {
	var out []Finding
	for _, d := range p.Derivations {
		if d.Kind == pieceKind {
			out = append(out, s.checkLink(p, d)...)
		}
		if d.Kind != blockKind {
			continue
		}
		dr := s.drafted(p, d)
		label := p.derivationLabel(d)
		out = append(out, slotOf(s, "block", d.ID, slotInputs{d, dr, p.Unit, label}, func() []Finding {
			return dr.findings(p.Unit, d, p.WearerOf(d), label)
		})...)
		by := s.maker(p, d)
		for _, piece := range p.PiecesOf(d) {
			if f := s.checkLag(p, d, by, piece, label); f != nil {
				out = append(out, *f)
			}
		}
	}
	return out
}

// findings are those about the block as a whole.
func (dr *drafted) findings(unit Unit, d *Derivation, w *Wearer, label string) []Finding {
	about := Finding{About: label, Derivation: d.ID}
	if w != nil {
		about.Wearer = w.ID
	}
	if dr.err != nil {
		f := about
		f.Key, f.Level = "block/"+string(d.ID)+"/draft", Problem
		f.Says = fmt.Sprintf("It cannot be drafted, and its pieces stay as they were: %s", sentence(dr.err))
		return []Finding{f}
	}
	var out []Finding
	for _, told := range dr.sheet.Told {
		if w != nil && w.TakesOff(told.Measures) {
			continue
		}
		f := about
		f.Key, f.Level, f.Says, f.Measures = "block/"+string(d.ID)+"/told/"+told.Name, named(gravityNames, told.Level), told.Says, told.Measures
		out = append(out, f)
	}
	var words, names []string
	for _, m := range dr.block.Measures() {
		for _, used := range dr.sheet.Measures {
			if used.Name == m.Name && used.Estimated && !used.Summed && !used.Idle {
				names = append(names, m.Name)
				words = append(words, fmt.Sprintf("%s %s", wordsOfMeasure(m), unit.Format(used.Value)))
			}
		}
	}
	if len(names) > 0 {
		f := about
		f.Key, f.Level, f.Measures = "block/"+string(d.ID)+"/estimated", Remark, names
		f.Says = fmt.Sprintf("Not measured, and so estimated: %s. What is measured fits better.", list(words, 6))
		out = append(out, f)
	}
	return out
}

// wordsOfMeasure returns what people call a measure of a block.
func wordsOfMeasure(m block.Measure) string {
	if m.Words != "" {
		return m.Words
	}
	return body.Words(m.Name)
}
