package intake

import (
	"errors"
	"fmt"
)

// pdfMostPages bounds the pages of a PDF.
const pdfMostPages = 10_000

// pdfPage is a page with what it takes over from the branches above it.
type pdfPage struct {
	dict, resources pdfDict
	// box is what is seen of the page, in points: left, bottom, right, top.
	box [4]float64
	// unit is how many points a unit of the page is.
	unit float64
	// turn is by how many quarters it is turned clockwise to be looked at.
	turn int
}

// pages returns the references or dictionaries of all pages in order, each with the
// branches above it.
func (f *pdfFile) pages() ([]pdfLeaf, error) {
	root := f.catalogue()
	w := pdfTreeWalk{f: f, seen: map[pdfRef]bool{}}
	if err := w.branch(root["Pages"], nil); err != nil {
		return nil, err
	}
	if err := f.spent(); err != nil {
		return nil, err
	}
	if len(w.leaves) == 0 {
		return nil, errors.New("has no pages. Copy or scan it again")
	}
	return w.leaves, nil
}

type pdfLeaf struct {
	page  any
	above []pdfDict // outermost first
}

type pdfTreeWalk struct {
	f      *pdfFile
	seen   map[pdfRef]bool
	leaves []pdfLeaf
}

func (w *pdfTreeWalk) branch(v any, above []pdfDict) error {
	if r, ok := v.(pdfRef); ok {
		if w.seen[r] {
			return nil // a ring, or a page that is there twice
		}
		w.seen[r] = true
	}
	d := w.f.dict(v)
	kids := w.f.array(d["Kids"])
	switch {
	case d == nil:
		return nil
	case len(above) > pdfDepth:
		return errors.New("is damaged: its list of pages is nested too deep. Print it to a new PDF")
	case d["Type"] == pdfName("Page") || kids == nil:
		if len(w.leaves) == pdfMostPages {
			return fmt.Errorf("has more than %d pages. Split it first", pdfMostPages)
		}
		w.leaves = append(w.leaves, pdfLeaf{v, above})
		return nil
	}
	above = append(above[:len(above):len(above)], d)
	for _, kid := range kids {
		if err := w.branch(kid, above); err != nil {
			return err
		}
	}
	return nil
}

// page reads a leaf.
func (f *pdfFile) page(leaf pdfLeaf) pdfPage {
	p := pdfPage{dict: f.dict(leaf.page), unit: 1}
	inherited := func(key pdfName) any {
		if v, ok := p.dict[key]; ok {
			return v
		}
		for i := len(leaf.above) - 1; i >= 0; i-- {
			if v, ok := leaf.above[i][key]; ok {
				return v
			}
		}
		return nil
	}
	p.resources = f.dict(inherited("Resources"))
	box := f.numbers(inherited("CropBox"), 4)
	if box == nil {
		box = f.numbers(inherited("MediaBox"), 4)
	}
	if box != nil {
		p.box = [4]float64{min(box[0], box[2]), min(box[1], box[3]), max(box[0], box[2]), max(box[1], box[3])}
	}
	if unit, ok := f.number(p.dict["UserUnit"]); ok && unit > 0 {
		p.unit = unit
	}
	if turn := f.whole(inherited("Rotate"), 0); turn%90 == 0 {
		p.turn = (turn/90%4 + 4) % 4
	}
	return p
}

// content returns what a page draws: its streams one after the other.
func (f *pdfFile) content(p pdfPage) ([]byte, error) {
	v := f.get(p.dict["Contents"])
	parts, ok := v.(pdfArray)
	if !ok {
		parts = pdfArray{v}
	}
	var all []byte
	for _, part := range parts {
		s, ok := f.get(part).(*pdfStream)
		if !ok {
			continue
		}
		data, err := f.unpack(s)
		if err != nil {
			return nil, err
		}
		if all = append(append(all, data...), '\n'); len(all) > pdfMostUnpacked {
			return nil, fmt.Errorf("it draws more than %d MiB", pdfMostUnpacked>>20)
		}
	}
	return all, f.spent()
}
