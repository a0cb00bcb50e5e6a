package export

import (
	"fmt"
	"sort"
	"sync"

	"github.com/tdewolff/canvas"

	"hemlet/assets"
)

// How far letters reach from the baseline, as shares of the em: capitals and
// descenders of the embedded font, rounded outward.
const (
	textHeight = 0.76
	textDepth  = 0.24
)

// pointMM is the typographic point, 1/72 in.
const pointMM = 25.4 / 72

// lettering holds the two cuts of the font for one file. The drawing library
// keeps caches inside a font, so that goroutines must not share one.
type lettering struct{ regular, strong *canvas.Font }

func newLettering() (*lettering, error) {
	regular, err := loadFont(assets.Regular, canvas.FontRegular)
	if err != nil {
		return nil, err
	}
	strong, err := loadFont(assets.SemiBold, canvas.FontSemiBold)
	if err != nil {
		return nil, err
	}
	return &lettering{regular, strong}, nil
}

func loadFont(w assets.Weight, style canvas.FontStyle) (*canvas.Font, error) {
	name, ttf := assets.Font(w)
	// The library may write into what it is handed.
	font, err := canvas.LoadFont(append([]byte(nil), ttf...), 0, style)
	if err != nil {
		return nil, fmt.Errorf("font %s: %w", name, err)
	}
	return font, nil
}

// face returns the font at a size of em mm.
func (l *lettering) face(size float64, strong bool) *canvas.FontFace {
	font := l.regular
	if strong {
		font = l.strong
	}
	return font.Face(size/pointMM, canvas.Black)
}

// measuring is the lettering that layout measures with.
var measuring struct {
	sync.Mutex
	fonts  *lettering
	widths map[widthKey]float64
}

type widthKey struct {
	words  string
	strong bool
}

// textWidth returns the width in mm of a line of text set at size mm to the em.
func textWidth(words string, size float64, strong bool) float64 {
	m := &measuring
	m.Lock()
	defer m.Unlock()
	if m.fonts == nil {
		fonts, err := newLettering()
		if err != nil {
			panic(err) // the embedded fonts are part of the program
		}
		m.fonts, m.widths = fonts, make(map[widthKey]float64)
	}
	key := widthKey{words, strong}
	if w, ok := m.widths[key]; ok {
		return w * size
	}
	const keep = 4096 // words remembered: more than a project's labels hold
	if len(m.widths) > keep {
		clear(m.widths)
	}
	// Measured at a size that hinting does not touch.
	const em = 100
	w := m.fonts.face(em, strong).TextWidth(words) / em
	m.widths[key] = w
	return w * size
}

// setLines sets items with a space between them in lines of at most width mm. An item
// that is wider is broken; nothing is left out.
func setLines(items []string, width, size float64) []string {
	return setLinesIn(items, width, size, false)
}

// setLinesIn is setLines in either cut of the font.
func setLinesIn(items []string, width, size float64, strong bool) []string {
	fits := func(words string) bool { return textWidth(words, size, strong) <= width }
	var lines []string
	line := ""
	end := func() {
		if line != "" {
			lines = append(lines, line)
		}
		line = ""
	}
	for _, item := range items {
		if line != "" && fits(line+" "+item) {
			line += " " + item
			continue
		}
		end()
		letters := []rune(item)
		for !fits(string(letters)) && len(letters) > 1 {
			n := sort.Search(len(letters)-1, func(n int) bool { return !fits(string(letters[:n+1])) })
			line, letters = string(letters[:max(n, 1)]), letters[max(n, 1):]
			end()
		}
		line = string(letters)
	}
	end()
	return lines
}
