package export

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"hemlet/draft"
)

// Format is a kind of file.
type Format int

const (
	SVG Format = iota
	PDF
	DXF
	PNG
)

var formatNames = [...]string{"svg", "pdf", "dxf", "png"}

func (f Format) String() string { return formatNames[f] }

// Formats lists every format.
func Formats() []Format { return []Format{SVG, PDF, DXF, PNG} }

// FormatOf returns the format that the ending of a file name asks for.
func FormatOf(path string) (Format, error) {
	ending := strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))
	for _, f := range Formats() {
		if ending == f.String() {
			return f, nil
		}
	}
	return 0, fmt.Errorf("%s: the ending says what to write; it is one of: .%s", path, strings.Join(formatNames[:], ", ."))
}

// Purpose is what the file is for.
type Purpose int

const (
	Pen   Purpose = iota // drawn or printed, cut by hand: everything, each piece once
	Blade                // a cutter with a knife: cut lines of every copy
	Laser                // the same for a laser
)

var purposeNames = [...]string{"pen", "blade", "laser"}

func (p Purpose) String() string { return purposeNames[p] }

// ParsePurpose reads one of pen, blade, laser.
func ParsePurpose(s string) (Purpose, error) {
	for i, name := range purposeNames {
		if name == s {
			return Purpose(i), nil
		}
	}
	return 0, fmt.Errorf("purpose %q is not known; it is one of: %s", s, strings.Join(purposeNames[:], ", "))
}

// Cuts reports whether a machine cuts along what the file holds.
func (p Purpose) Cuts() bool { return p != Pen }

// DXFKind is how a DXF file is laid out.
type DXFKind int

const (
	PlainDXF DXFKind = iota // layers with plain names
	D6673                   // blocks and numbered layers after ASTM D6673
)

var dxfNames = [...]string{"plain", "d6673"}

func (k DXFKind) String() string { return dxfNames[k] }

// ParseDXFKind reads one of plain, d6673.
func ParseDXFKind(s string) (DXFKind, error) {
	for i, name := range dxfNames {
		if name == s {
			return DXFKind(i), nil
		}
	}
	return 0, fmt.Errorf("kind of DXF %q is not known; it is one of: %s", s, strings.Join(dxfNames[:], ", "))
}

// Arrangement says where pieces lie on the sheet.
type Arrangement int

const (
	// Shelves sets the pieces side by side in rows, large ones first. On pages of
	// paper outlines also reach into each other where that saves a page.
	Shelves Arrangement = iota
	// AsOnBench keeps the places that the pieces have on the bench. Files for a
	// machine are always laid in shelves: copies have no place on the bench.
	AsOnBench
)

var arrangementNames = [...]string{"shelves", "bench"}

func (a Arrangement) String() string { return arrangementNames[a] }

// ParseArrangement reads one of shelves, bench.
func ParseArrangement(s string) (Arrangement, error) {
	for i, name := range arrangementNames {
		if name == s {
			return Arrangement(i), nil
		}
	}
	return 0, fmt.Errorf("arrangement %q is not known; it is one of: %s", s, strings.Join(arrangementNames[:], ", "))
}

// Correction is by how much a printer is known to miss: everything is drawn so
// many times as large across and up. The zero Correction is none.
type Correction struct{ X, Y float64 }

// maxCorrection bounds a correction: a printer that is farther off than a tenth
// is scaling the page, and its settings are what must be mended.
const maxCorrection = 0.1

func (c Correction) factors() (x, y float64, err error) {
	x, y = c.X, c.Y
	if x == 0 {
		x = 1
	}
	if y == 0 {
		y = 1
	}
	for _, f := range [...]float64{x, y} {
		if !(f >= 1-maxCorrection && f <= 1+maxCorrection) {
			return 1, 1, fmt.Errorf("a printer correction of %g is out of range; it lies between %g and %g (1 is none); a printer that is farther off is scaling the page: print at 100 %%", f, 1-maxCorrection, 1+maxCorrection)
		}
	}
	return x, y, nil
}

// Options say what to write. The zero Options write an SVG for the pen.
type Options struct {
	Format  Format
	Purpose Purpose
	DXF     DXFKind
	// Pieces are the pieces to write, all where there are none.
	Pieces      []draft.ID
	Arrangement Arrangement
	// CutNotches lets a machine cut the notches that their allowance bears.
	CutNotches bool
	// CutButtonholes lets a machine cut buttonholes and the exits of drawstrings; else
	// they are cut by hand once they are sewn round.
	CutButtonholes bool
	// Since names a version: a PDF then holds only the pages that show something else than
	// they do for that version, in the same arrangement. It is empty for all pages.
	Since draft.ID
	// Paper is what a PDF is printed on; the zero Paper is A4.
	Paper      Paper
	Correction Correction
	// DPI is the resolution of a PNG in pixels per inch, 0 for DefaultDPI.
	DPI float64
	// Clock tells the time that is written into the file; nil is time.Now.
	Clock func() time.Time
	// Progress, where not nil, is told how many of how many steps are done.
	Progress func(done, total int)
}

func (o Options) now() time.Time {
	if o.Clock != nil {
		return o.Clock()
	}
	return time.Now()
}

func (o Options) step(done, total int) {
	if o.Progress != nil {
		o.Progress(done, total)
	}
}
