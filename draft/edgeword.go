package draft

import "strings"

// garmentLine is the line of a garment that an edge belongs to, as far as its name
// tells: the edges that are sewn to each other belong to one line, whatever the pieces
// are called.
type garmentLine int

const (
	noLine   garmentLine = iota // the name does not tell
	openLine                    // an opening, a hem, an end that is turned in: sewn to nothing
	sideLine
	shoulderLine
	underarmLine
	insideLegLine
	crotchLine
	centreLine
	centreBackLine
	centreFrontLine
	neckLine
	armholeLine
	waistLine
	wristLine
	ankleLine
)

// lineWords are the words of the trade for the edges of garments; the first that a name
// holds counts. (Common practice, no source.)
var lineWords = []struct {
	words string
	line  garmentLine
}{
	{"centre back", centreBackLine}, {"center back", centreBackLine}, {"back centre", centreBackLine},
	{"centre front", centreFrontLine}, {"center front", centreFrontLine}, {"front centre", centreFrontLine},
	{"inside leg", insideLegLine}, {"inseam", insideLegLine}, {"inner leg", insideLegLine},
	{"outside leg", sideLine}, {"outer leg", sideLine}, {"outseam", sideLine},
	{"sleeve seam", underarmLine}, {"front seam", underarmLine}, {"back seam", underarmLine}, {"underarm", underarmLine},
	{"sleeve head", armholeLine}, {"cap", armholeLine}, {"armhole", armholeLine}, {"armscye", armholeLine},
	{"hem", openLine}, {"end", openLine}, {"opening", openLine}, {"fold", openLine}, {"slit", openLine},
	{"shoulder", shoulderLine}, {"crotch", crotchLine}, {"neck", neckLine}, {"neckline", neckLine}, {"collar", neckLine},
	{"waist", waistLine}, {"waistline", waistLine}, {"wrist", wristLine}, {"cuff", wristLine}, {"ankle", ankleLine},
	{"centre", centreLine}, {"center", centreLine}, {"middle", centreLine}, {"side", sideLine},
}

// lineOfName returns the line of the garment that an edge of this name belongs to.
func lineOfName(name string) garmentLine {
	text := " " + strings.ToLower(strings.Join(strings.Fields(name), " ")) + " "
	for _, w := range lineWords {
		if strings.Contains(text, " "+w.words+" ") {
			return w.line
		}
	}
	return noLine
}

// round reports whether the line goes round the body over several pieces: its edges
// follow each other, and are sewn to the edges of other pieces that go round as well.
func (l garmentLine) round() bool { return l >= neckLine }

// ownMirror reports whether an edge of the line is sewn to its own mirror image.
func (l garmentLine) ownMirror() bool {
	return l == centreLine || l == centreBackLine || l == centreFrontLine || l == crotchLine
}
