package export

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"hemlet/draft"
)

// Paper is what a PDF is printed on. All lengths are mm.
type Paper struct {
	Name          string
	Width, Height float64
	// Margin is left free on every side; few printers reach closer than 5 mm to
	// the edge.
	Margin float64
	// Overlap is what neighbouring pages have in common, for the glue.
	Overlap float64
}

// The margin and overlap, in mm, that papers come with (common practice, no
// source).
const (
	defaultMargin  = 10
	defaultOverlap = 10
)

// Papers lists the sizes that are known by name: the A series of ISO 216, and the
// sizes of ANSI/ASME Y14.1 that are sold as office paper.
func Papers() []Paper {
	sizes := []Paper{
		{Name: "A4", Width: 210, Height: 297},
		{Name: "Letter", Width: 215.9, Height: 279.4},
		{Name: "A3", Width: 297, Height: 420},
		{Name: "A2", Width: 420, Height: 594},
		{Name: "A1", Width: 594, Height: 841},
		{Name: "A0", Width: 841, Height: 1189},
		{Name: "Legal", Width: 215.9, Height: 355.6},
		{Name: "Tabloid", Width: 279.4, Height: 431.8},
	}
	for i := range sizes {
		sizes[i].Margin, sizes[i].Overlap = defaultMargin, defaultOverlap
	}
	return sizes
}

// PaperNamed returns the paper with the name, in any case.
func PaperNamed(name string) (Paper, error) {
	var known []string
	for _, p := range Papers() {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
		known = append(known, strings.ToLower(p.Name))
	}
	return Paper{}, fmt.Errorf("paper %q is not known; it is one of: %s", name, strings.Join(known, ", "))
}

// ParsePaper reads a paper as scripts write it: a name ("a4", "letter"), a size
// ("500mm x 700mm"), or a roll of a width ("roll 36in"); after it may stand
// "landscape".
func ParsePaper(text string) (Paper, error) {
	words, landscape := strings.CutSuffix(strings.ToLower(strings.TrimSpace(text)), "landscape")
	words = strings.TrimSpace(words)
	paper, err := paperOf(words)
	if err != nil {
		return Paper{}, err
	}
	if landscape {
		paper = paper.Landscape()
	}
	return paper, nil
}

func paperOf(words string) (Paper, error) {
	if width, ok := strings.CutPrefix(words, "roll "); ok {
		w, err := draft.ParseLength(strings.TrimSpace(width))
		return Roll(w), err
	}
	if w, h, ok := strings.Cut(words, "x"); ok {
		width, err := draft.ParseLength(strings.TrimSpace(w))
		if err != nil {
			return Paper{}, err
		}
		height, err := draft.ParseLength(strings.TrimSpace(h))
		return CustomPaper(width, height), err
	}
	return PaperNamed(words)
}

// CustomPaper returns a paper of any size in mm.
func CustomPaper(width, height float64) Paper {
	return Paper{Name: fmt.Sprintf("%s x %s mm", number(width), number(height)), Width: width, Height: height, Margin: defaultMargin, Overlap: defaultOverlap}
}

// Roll returns a paper of the roll's width in mm, as long as needed up to the
// limit of the format.
func Roll(width float64) Paper {
	p := CustomPaper(width, maxPaper)
	p.Name = fmt.Sprintf("roll of %s mm", number(width))
	return p
}

// words names the paper for people: one without a name of its own by its size in
// the unit.
func (p Paper) words(unit draft.Unit) string {
	name, landscape := strings.CutSuffix(p.Name, landscapeWord)
	if _, err := PaperNamed(name); err == nil {
		return p.Name
	}
	name = unit.FormatTrue(p.Width) + " x " + unit.FormatTrue(p.Height)
	if p.endless() {
		name = "roll of " + unit.FormatTrue(p.Width)
	}
	if landscape {
		name += landscapeWord
	}
	return name
}

// landscapeWord follows the name of a paper that lies on its long side.
const landscapeWord = " landscape"

// endless reports whether pages are cut off below what lies on them.
func (p Paper) endless() bool { return p.Height == maxPaper }

// Landscape returns the paper lying on its long side.
func (p Paper) Landscape() Paper {
	if p.Width < p.Height {
		p.Width, p.Height = p.Height, p.Width
		p.Name += landscapeWord
	}
	return p
}

// maxPaper is the longest side of a PDF page in mm: 14,400 points of 1/72 in (ISO
// 32000-1, annex C, with a user unit of 1).
const maxPaper = 14400 * pointMM

// headBand is the least height in mm of the strip at the top of every page that says
// what the page is and names its pieces; it grows where there are many.
const headBand = 9

// minTileWidth and minTileHeight are the smallest stretch in mm that a page must
// show of the pattern, so that the first page holds both scale squares and the map.
const (
	minTileWidth  = 112
	minTileHeight = 167
)

// checked returns the paper with what is missing filled in, or an error if
// nothing can be printed on it.
func (p Paper) checked() (Paper, error) {
	if p == (Paper{}) {
		return PaperNamed("a4")
	}
	if !(p.Width > 0 && p.Height > 0) || p.Width > maxPaper || p.Height > maxPaper {
		return p, fmt.Errorf("a paper of %g x %g mm cannot be written; each side is at most %.0f mm", p.Width, p.Height, float64(maxPaper))
	}
	if !(p.Margin >= 0) || !(p.Overlap >= 0) {
		return p, errors.New("margin and overlap of a paper are 0 or more")
	}
	w, h := p.tile()
	if !(w >= minTileWidth && h >= minTileHeight && p.Overlap <= w/2 && p.Overlap <= h/2) {
		return p, fmt.Errorf("paper %s with margins of %g mm and an overlap of %g mm leaves %.0f x %.0f mm of pattern a page; at least %d x %d mm are needed, and an overlap of at most half of it", p.Name, p.Margin, p.Overlap, w, h, minTileWidth, minTileHeight)
	}
	return p, nil
}

// mostHead returns the height in mm to which the strip at the top of the pages may
// grow.
func (p Paper) mostHead() float64 {
	_, h := p.tile()
	return headBand + math.Max(0, h-math.Max(minTileHeight, 2*p.Overlap))
}

// tile returns the size in mm of what a page shows of the pattern at most.
func (p Paper) tile() (w, h float64) {
	return p.Width - 2*p.Margin, p.Height - 2*p.Margin - headBand
}
