package intake

import (
	"errors"
	"math"

	"hemlet/geom"
)

// pdfDrawn is a picture that a page draws.
type pdfDrawn struct {
	ref    any // its stream, as the page refers to it
	stream *pdfStream
	// place takes the square from (0, 0) to (1, 1) to points on the page, y up.
	place geom.Affine
}

// Bounds of what a page draws.
const (
	pdfMostDrawn    = 1000 // pictures on a page
	pdfMostWords    = 5_000_000
	pdfMostSaved    = 1000
	pdfMostOperands = 64
	pdfMostForms    = 12 // drawings within one another
)

// drawn lists the pictures that a page draws, in the order in which it does. Their
// places follow from the transformations before them (ISO 32000-1, 8.3.4).
func (f *pdfFile) drawn(p pdfPage) ([]pdfDrawn, error) {
	content, err := f.content(p)
	if err != nil {
		return nil, err
	}
	d := pdfDrawing{f: f, words: pdfMostWords}
	if err := d.run(content, p.resources, geom.Scaling(p.unit, p.unit), 0); err != nil {
		return nil, err
	}
	return d.found, f.spent()
}

type pdfDrawing struct {
	f     *pdfFile
	words int
	found []pdfDrawn
}

func (d *pdfDrawing) run(content []byte, resources pdfDict, place geom.Affine, depth int) error {
	l := pdfLexer{src: content}
	var operands []any
	var saved []geom.Affine
	for {
		if d.words--; d.words < 0 {
			return errors.New("it draws too much to be looked through")
		}
		l.parts = 0
		v, err := l.object(0)
		if errors.Is(err, errPDFEnd) {
			return nil
		}
		if err != nil {
			l.at++ // a stray sign; what follows may still be read
			operands = operands[:0]
			continue
		}
		word, ok := v.(pdfWord)
		if !ok {
			if len(operands) < pdfMostOperands {
				operands = append(operands, v)
			}
			continue
		}
		switch word {
		case "q":
			if len(saved) < pdfMostSaved {
				saved = append(saved, place)
			}
		case "Q":
			if n := len(saved); n > 0 {
				place, saved = saved[n-1], saved[:n-1]
			}
		case "cm":
			if m, ok := pdfMatrix(operands); ok {
				place = m.Then(place)
			}
		case "Do":
			if len(operands) == 1 {
				if err := d.draw(operands[0], resources, place, depth); err != nil {
					return err
				}
			}
		case "BI":
			l.skipInline()
		}
		operands = operands[:0]
	}
}

// draw notes a picture, or goes through a drawing of its own.
func (d *pdfDrawing) draw(name any, resources pdfDict, place geom.Affine, depth int) error {
	key, _ := name.(pdfName)
	ref := d.f.dict(resources["XObject"])[key]
	s, ok := d.f.get(ref).(*pdfStream)
	if !ok {
		return nil
	}
	switch d.f.get(s.dict["Subtype"]) {
	case pdfName("Image"):
		if len(d.found) == pdfMostDrawn {
			return errors.New("it draws too many pictures")
		}
		d.found = append(d.found, pdfDrawn{ref, s, place})
	case pdfName("Form"):
		if depth == pdfMostForms {
			return errors.New("its drawings are nested too deep")
		}
		content, err := d.f.unpack(s)
		if err != nil {
			return err
		}
		if m, ok := pdfMatrix(d.f.array(s.dict["Matrix"])); ok {
			place = m.Then(place)
		}
		if own := d.f.dict(s.dict["Resources"]); own != nil {
			resources = own
		}
		return d.run(content, resources, place, depth+1)
	}
	return nil
}

// pdfMatrix reads the six numbers of a transformation.
func pdfMatrix(list []any) (geom.Affine, bool) {
	var n [6]float64
	if len(list) != len(n) {
		return geom.Affine{}, false
	}
	for i, v := range list {
		var ok bool
		if n[i], ok = v.(float64); !ok {
			return geom.Affine{}, false
		}
	}
	return geom.Affine{A: n[0], B: n[1], C: n[2], D: n[3], E: n[4], F: n[5]}, true
}

// skipInline passes over a picture that is written among what is drawn: up to EI between
// white space.
func (l *pdfLexer) skipInline() {
	for ; l.at+2 <= len(l.src); l.at++ {
		if l.src[l.at] != 'E' || l.src[l.at+1] != 'I' || l.at == 0 || !pdfSpace(l.src[l.at-1]) {
			continue
		}
		if l.at+2 == len(l.src) || pdfSpace(l.src[l.at+2]) {
			l.at += 2
			return
		}
	}
	l.at = len(l.src)
}

// laid tells how a picture lies on a page that is looked at: how large, in points, its
// columns and rows are together, and how it is turned; false where it has no size.
func (d pdfDrawn) laid(p pdfPage) (wide, high float64, turn orientation, ok bool) {
	right := geom.Pt(d.place.A, d.place.B) // along a row of pixels
	down := geom.Pt(-d.place.C, -d.place.D)
	wide, high = math.Hypot(right.X, right.Y), math.Hypot(down.X, down.Y)
	if !(wide > 0 && high > 0) || math.IsInf(wide, 0) || math.IsInf(high, 0) {
		return 0, 0, upright, false
	}
	for range p.turn {
		right, down = geom.Pt(right.Y, -right.X), geom.Pt(down.Y, -down.X)
	}
	return wide, high, turnOf(right, down), true
}

// turnOf returns the orientation of a picture whose rows and columns run so, y up, to the
// nearest quarter.
func turnOf(right, down geom.Point) orientation {
	mirrored := right.X*down.Y-right.Y*down.X > 0
	lies := math.Abs(right.Y) > math.Abs(right.X)
	switch {
	case !lies && right.X > 0:
		return either(mirrored, 4, upright)
	case !lies:
		return either(mirrored, 2, 3)
	case right.Y < 0:
		return either(mirrored, 5, 6)
	}
	return either(mirrored, 7, 8)
}

func either(first bool, a, b orientation) orientation {
	if first {
		return a
	}
	return b
}
