package block

import (
	"regexp"
	"strings"
)

// Chapter is a part of a construction, as a block's author has headed it.
type Chapter struct {
	// Title is the heading, Step the name of the first step under it.
	Title, Step string
}

var (
	headingLine = regexp.MustCompile(`^#\s*-{2,}\s*(.*?)\s*-{2,}\s*$`)
	tableLine   = regexp.MustCompile(`^\[\[\s*([a-z]+)\s*\]\]`)
	stepName    = regexp.MustCompile(`^name\s*=\s*["']([A-Za-z][A-Za-z0-9_]*)["']`)
)

// Chapters returns the parts of the construction in order: where a line such as
// "# --- Sleeve ---" stands between two steps, a part of that title begins with the next
// one. A block without such lines has none.
func (b *Block) Chapters() []Chapter {
	var out []Chapter
	title, table := "", ""
	for _, line := range strings.Split(b.text, "\n") {
		line = strings.TrimSpace(line)
		if m := headingLine.FindStringSubmatch(line); m != nil {
			title = m[1]
			continue
		}
		if m := tableLine.FindStringSubmatch(line); m != nil {
			if table = m[1]; table != "steps" {
				title = "" // it heads something else
			}
			continue
		}
		if m := stepName.FindStringSubmatch(line); m != nil && table == "steps" && title != "" {
			out = append(out, Chapter{Title: title, Step: m[1]})
			title = ""
		}
	}
	return out
}
