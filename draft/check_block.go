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
		if d.Kind != blockKind {
			continue
		}
		dr := s.drafted(p, d)
		label := p.derivationLabel(d)
		out = append(out, slotOf(s, "block", d.ID, slotInputs{d, dr, p.Unit, label}, func() []Finding {
			return dr.findings(p.Unit, d, p.WearerOf(d), label)
		})...)
		for _, piece := range p.PiecesOf(d) {
			if f := s.behind(piece, dr, label); f != nil {
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
		f := about
		f.Key, f.Level, f.Says, f.Measures = "block/"+string(d.ID)+"/"+told.Name, named(gravityNames, told.Level), told.Says, told.Measures
		out = append(out, f)
	}
	var words, names []string
	for _, m := range dr.block.Measures() {
		for _, used := range dr.sheet.Measures {
			if used.Name == m.Name && used.Estimated {
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

// behind tells that a piece is not what its block would make of it now, nil where it
// is. That is worked out whenever it is asked, never kept: the block may follow again.
func (s *Slots) behind(piece *Piece, dr *drafted, label string) *Finding {
	if dr.err != nil {
		return nil // said of the block
	}
	return slotOf(s, "behind", piece.ID, slotInputs{piece, dr, label}, func() *Finding {
		err := piece.lag(dr)
		if err == nil {
			return nil
		}
		return &Finding{
			Key: "piece/" + string(piece.ID) + "/behind", Level: Problem, Piece: piece.ID, Derivation: piece.Derived.Derivation,
			About: piece.label(),
			Says:  fmt.Sprintf("It has not followed %s and is as it was: %s Take back what stands in the way, redraw it from the block, or keep it as it is.", label, sentence(err)),
		}
	})
}

// lag says why the piece is not as its block would make it now, nil where it is.
func (p *Piece) lag(dr *drafted) error {
	sp := dr.piece(p.Derived.Role)
	if sp == nil {
		return fmt.Errorf("the block makes no piece %s any more", p.Derived.Role)
	}
	next, err := pieceOf(dr, sp, p.Derived.Derivation, p.ID)
	if err != nil {
		return err
	}
	if likeEdges(next.Derived.Base, p.Derived.Base) {
		return nil
	}
	if _, err := followNext(p, next); err != nil {
		return err
	}
	return fmt.Errorf("it was generated from other measures")
}

// checkWearers tells what looks like a slip of the tape or of the pen.
func (s *Slots) checkWearers(p *Project) []Finding {
	var out []Finding
	for _, w := range p.Wearers {
		out = append(out, slotOf(s, "slips", w.ID, slotInputs{w, p.Unit}, func() []Finding {
			var list []Finding
			for _, slip := range body.Slips(w.Given(), p.Unit.Format) {
				list = append(list, Finding{
					Key: "wearer/" + string(w.ID) + "/" + slip.Key, Level: named(gravityNames, slip.Level),
					About: labelOf(w.Name, w.ID), Says: slip.Says, Wearer: w.ID, Measures: slip.Measures,
				})
			}
			return list
		})...)
	}
	return out
}
