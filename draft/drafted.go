package draft

import (
	"fmt"
	"maps"
	"slices"
	"sync"

	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/formula"
)

// drafted is a block drafted for a wearer, or why it cannot be.
type drafted struct {
	// block is nil where the text cannot be read, sheet nil where it cannot be
	// drafted for this body.
	block *block.Block
	sheet *block.Sheet
	err   error
	// What it was drafted from.
	text     string
	settings []Setting
	given    body.Given
	under    float64
}

// piece returns the sheet's piece with the role, or nil.
func (dr *drafted) piece(role string) *block.Piece {
	if dr.sheet == nil {
		return nil
	}
	for i := range dr.sheet.Pieces {
		if dr.sheet.Pieces[i].Role == role {
			return &dr.sheet.Pieces[i]
		}
	}
	return nil
}

// recent keeps what was drafted last: a changed measure is drafted in the commit of
// its act, and read again by the checks and the window.
var recent struct {
	sync.Mutex
	sheets []*drafted
	blocks map[string]parsedBlock
}

type parsedBlock struct {
	block *block.Block
	err   error
}

// How many drafts and texts of blocks are kept: several garments for a few wearers.
const (
	maxRecentSheets = 24
	maxRecentBlocks = 24
)

// draftFor drafts the block of a derivation for a wearer, nil for none. What was
// drafted from equal inputs a moment ago is returned again.
func draftFor(d *Derivation, w *Wearer) *drafted {
	dr := inputsOf(d, w)
	recent.Lock()
	defer recent.Unlock()
	for i, old := range recent.sheets {
		if old.like(dr) {
			recent.sheets = append(slices.Delete(recent.sheets, i, i+1), old)
			return old
		}
	}
	dr.make()
	if len(recent.sheets) >= maxRecentSheets {
		recent.sheets = slices.Delete(recent.sheets, 0, 1)
	}
	recent.sheets = append(recent.sheets, dr)
	return dr
}

// inputsOf returns what a derivation is drafted from, not yet drafted.
func inputsOf(d *Derivation, w *Wearer) *drafted {
	dr := &drafted{text: d.Text, settings: d.Settings, given: body.Given{}}
	if w != nil {
		dr.given, dr.under = w.Given(), w.WornUnder()
	}
	return dr
}

// like reports whether two drafts are made from equal inputs.
func (dr *drafted) like(other *drafted) bool {
	return dr.under == other.under && dr.text == other.text && slices.Equal(dr.settings, other.settings) && maps.Equal(dr.given, other.given)
}

func (dr *drafted) make() {
	if dr.block, dr.err = parseRecent(dr.text); dr.err != nil {
		return
	}
	settings, err := readSettings(dr.block, dr.settings)
	if err != nil {
		dr.err = err
		return
	}
	settings[block.WornUnder] = formula.Length{MM: dr.under}
	dr.sheet, dr.err = dr.block.Draft(dr.given, settings)
	if dr.err != nil {
		dr.sheet = nil
	}
}

// parseRecent reads a block, or returns it as it was read before. The lock of
// recent is held.
func parseRecent(text string) (*block.Block, error) {
	if p, ok := recent.blocks[text]; ok {
		return p.block, p.err
	}
	if len(recent.blocks) >= maxRecentBlocks || recent.blocks == nil {
		recent.blocks = make(map[string]parsedBlock)
	}
	b, err := block.Parse("", []byte(text))
	recent.blocks[text] = parsedBlock{b, err}
	return b, err
}

// blockOf reads the block of a text.
func blockOf(text string) (*block.Block, error) {
	recent.Lock()
	defer recent.Unlock()
	return parseRecent(text)
}

// BlockOf returns the block of a derivation, as the derivation keeps it.
func BlockOf(d *Derivation) (*block.Block, error) { return blockOf(d.Text) }

// readSettings reads settings as the block's choices want them.
func readSettings(b *block.Block, list []Setting) (block.Settings, error) {
	out := make(block.Settings, len(list)+1)
	for _, s := range list {
		c, ok := b.Choice(s.Name)
		if !ok {
			return nil, noChoice(b, s.Name)
		}
		v, err := readChoice(c, s.Value)
		if err != nil {
			return nil, fmt.Errorf("the choice %s: %w", s.Name, err)
		}
		out[s.Name] = v
	}
	return out, nil
}

func noChoice(b *block.Block, name string) error {
	var list []candidate
	for _, c := range b.Choices() {
		list = append(list, candidate{shown: c.Name})
	}
	if len(list) == 0 {
		return fmt.Errorf("the block %s has no choices, and so none called %q", b.Title, name)
	}
	return fmt.Errorf("the block %s has no choice %q; it has %s", b.Title, name, listed(list))
}

// readChoice reads the value of a choice: a length with its unit, or a number.
func readChoice(c block.Choice, text string) (formula.Value, error) {
	if c.Kind == formula.NumberKind {
		x, err := ParseNumber(text)
		return formula.Value(x), err
	}
	mm, err := ParseLength(text)
	return formula.Length{MM: mm}, err
}
