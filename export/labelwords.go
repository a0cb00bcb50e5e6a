package export

import (
	"strings"

	"hemlet/draft"
)

// wording is one line of a label: its words, and its size as a share of the
// label's.
type wording struct {
	words  string
	share  float64
	strong bool
}

// The sizes of lines of a label as shares of its own, and the most letters in a line
// of the note or of a wearer's name.
const (
	nameShare   = 1.25
	aboutShare  = 0.85
	lineLetters = 32
)

// try is one way to word a label, in blocks of lines that say the same in other lines.
type try struct {
	blocks []block
	// least is the least size in mm at which it is taken.
	least float64
	// whole says that nothing of the piece's note is missing in it.
	whole bool
}

// tries returns the ways to word a label, those first that say most: with and without
// the widths of the allowances and the note, then without what is not needed to cut
// the piece, below each other or as one line.
func (r ruler) tries(l *Laid) []try {
	p := l.Piece
	note := wrap(p.Note, lineLetters)
	var out []try
	add := func(least float64, noted bool, blocks ...block) {
		out = append(out, try{blocks, least, noted || len(note) == 0})
	}
	widths, short := allowanceLines(p, r.project.Unit)
	for _, n := range [...][]string{note, nil} {
		var long []block
		for _, w := range widths {
			long = append(long, blockOf(r.lines(l, true, w, n)))
		}
		if long != nil {
			add(fullLabelLeast, n != nil, long...)
		}
		add(fullLabelLeast, n != nil, blockOf(r.lines(l, true, short, n)))
		if len(note) == 0 {
			break
		}
	}
	if len(note) > 0 {
		add(smallestLetters, true, blockOf(r.lines(l, false, nil, note)))
	}
	add(smallestLetters, false, blockOf(r.lines(l, false, nil, nil)))
	parts := []string{p.Name}
	if l.Wearer != "" {
		parts = append(parts, forWearer+l.Wearer)
	}
	line := strings.Join(append(parts, ruleWords(p.Cut), "rev "+l.Revision), ", ")
	add(smallestLetters, false, blockOf([]wording{{line, 1, false}}))
	return out
}

// lines returns a label in lines below each other.
func (r ruler) lines(l *Laid, cloth bool, allowance, note []string) []wording {
	p := l.Piece
	out := []wording{{p.Name, nameShare, true}}
	add := func(share float64, lines ...string) {
		for _, words := range lines {
			if words != "" {
				out = append(out, wording{words, share, false})
			}
		}
	}
	if l.Wearer != "" {
		add(1, wrap(forWearer+l.Wearer, lineLetters)...)
	}
	add(1, ruleWords(p.Cut))
	if cloth {
		add(1, r.clothWords(p))
	}
	add(aboutShare, allowance...)
	add(aboutShare, note...)
	add(aboutShare, "rev "+l.Revision)
	return out
}

// forWearer stands before the name of a wearer.
const forWearer = "for "

// title returns the name of the piece with that of its wearer.
func (l *Laid) title() string {
	if l.Wearer == "" {
		return l.Piece.Name
	}
	return l.Piece.Name + " " + forWearer + l.Wearer
}

// wearerOf names the wearer for whom the piece was drafted, empty where there is none.
func wearerOf(p *draft.Project, piece *draft.Piece) string {
	if piece.Derived == nil {
		return ""
	}
	d := p.Derivation(piece.Derived.Derivation)
	if d == nil {
		return ""
	}
	w := p.WearerOf(d)
	if w == nil {
		return ""
	}
	return strings.Join(strings.Fields(w.Name), " ")
}

// ruleWords says how often the piece is cut; a piece that is cut on the fold is
// drawn unfolded, so that nobody folds it twice.
func ruleWords(rule draft.CutRule) string {
	if rule.Way != draft.CutOnFold {
		return rule.String()
	}
	return draft.CutRule{Count: rule.Count}.String() + ", drawn unfolded"
}

// clothWords names the cloth, and the layer where it is not the shell.
func (r ruler) clothWords(p *draft.Piece) string {
	var words []string
	if c := r.project.Cloth(p.Cloth); c != nil && c.Name != "" {
		words = append(words, c.Name)
	}
	if p.Layer != draft.Shell {
		words = append(words, p.Layer.String())
	}
	return strings.Join(words, ", ")
}

// wrap breaks a text into lines of at most most letters where it can.
func wrap(text string, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && len([]rune(line))+1+len([]rune(word)) > most {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
