package export

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// reprinted is how far, in mm, a line must lie from where it was printed for its page to be
// printed anew: half of what a printed line is wide, and less than scissors can follow.
const reprinted = 0.1

// lookEvery is how far apart, in mm, the places of a line are that are compared.
const lookEvery = 2

// stays reports whether a page shows what it showed in an earlier plan in the same
// arrangement: every line where it was, and no word that is no longer true. The head, which
// bears the marks of pieces that may have changed on another page, does not count.
func (p *Plan) stays(page *Page, was *Plan) bool {
	n := slices.Index(p.Groups, page.Group)
	old := was.samePage(n, page.Row, page.Col)
	if old == nil || math.Abs(old.Height-page.Height) > reprinted || !sameNeighbours(page, old) {
		return false
	}
	if page.Number == 1 && !p.sameMap(was) {
		return false
	}
	shift := geom.Pt(0, page.Group.grown)
	for _, l := range page.Pieces {
		if before := laidOf(was.Groups[n], l.Piece.ID); before == nil || !sameOn(page.Window, before, l, shift) {
			return false
		}
	}
	for _, before := range old.Pieces {
		if laidOf(page.Group, before.Piece.ID) == nil {
			return false
		}
	}
	return true
}

func laidOf(g *Group, id draft.ID) *Laid {
	for _, l := range g.Pieces {
		if l.Piece.ID == id {
			return l
		}
	}
	return nil
}

// sameNeighbours reports whether a page is joined to others at the same sides.
func sameNeighbours(a, b *Page) bool {
	return a.Col < a.Group.Cols == (b.Col < b.Group.Cols) && a.Row < a.Group.Rows == (b.Row < b.Group.Rows)
}

// sameMap reports whether the map on the first page shows the pages that there are.
func (p *Plan) sameMap(was *Plan) bool {
	if len(p.Groups) != len(was.Groups) || len(p.Pages) != len(was.Pages) {
		return false
	}
	for i, page := range p.Pages {
		if old := was.Pages[i]; old.Number != page.Number || old.Row != page.Row || old.Col != page.Col {
			return false
		}
	}
	return true
}

// sameDrawing reports whether a copy is drawn as it was, so far away.
func sameDrawing(was, now *Laid, shift geom.Point) bool {
	by := geom.Translation(shift)
	return reflect.DeepEqual(was.Transform(by).Strokes(), now.Strokes()) && reflect.DeepEqual(wordsOf(was), wordsOf(now))
}

// sameOn reports whether what a page shows of a copy holds as it was printed: each line
// within reprinted of one that was printed, the other way round, and every word still said
// of the piece. A word that has only found another place is no reason.
func sameOn(window geom.Rect, was, now *Laid, shift geom.Point) bool {
	if sameDrawing(was, now, shift) {
		return true
	}
	before := was.Transform(geom.Translation(shift))
	if tellsOther(window, before, now) || tellsOther(window, now, before) {
		return false
	}
	a, b := byLook(before), byLook(now)
	for look := range union(a, b) {
		if strays(window, a[look], b[look]) || strays(window, b[look], a[look]) {
			return false
		}
	}
	return true
}

// tellsOther reports whether a page shows words on a copy that another state of it does not
// bear anywhere.
func tellsOther(window geom.Rect, l, other *Laid) bool {
	has := wordsOf(other)
	return slices.ContainsFunc(l.Words(), func(t Text) bool {
		return !has[t.Words] && t.Bounds().Overlaps(window)
	})
}

func wordsOf(l *Laid) map[string]bool {
	has := make(map[string]bool)
	for _, t := range l.Words() {
		has[t.Words] = true
	}
	return has
}

// byLook parts the lines of a copy by how they are drawn. The line that ties a label to its
// piece is none of the pattern's.
func byLook(l *Laid) map[string][]geom.Path {
	lines := make(map[string][]geom.Path)
	for _, m := range l.Strokes() {
		if m.Role != Leader {
			look := fmt.Sprint(m.Role, m.Sort, m.Turned, m.Solid)
			lines[look] = append(lines[look], m.Chains...)
		}
	}
	return lines
}

func union(a, b map[string][]geom.Path) map[string]bool {
	all := make(map[string]bool)
	for k := range a {
		all[k] = true
	}
	for k := range b {
		all[k] = true
	}
	return all
}

// strays reports whether a line has a place in the window that lies farther than reprinted
// from all the others.
func strays(window geom.Rect, lines, others []geom.Path) bool {
	for _, line := range lines {
		for _, s := range line {
			if !(geom.Path{s}).Bounds().Overlaps(window) {
				continue
			}
			n := max(4, int(math.Ceil(s.Length()/lookEvery)))
			for k := range n + 1 {
				at := s.At(float64(k) / float64(n))
				if window.Contains(at) && farFrom(at, others) {
					return true
				}
			}
		}
	}
	return false
}

func farFrom(at geom.Point, lines []geom.Path) bool {
	for _, line := range lines {
		if !line.Bounds().Grow(reprinted).Contains(at) {
			continue
		}
		if _, d := line.Nearest(at); d <= reprinted {
			return false
		}
	}
	return true
}

// unchanged names the pieces on pages to be printed anew that are as they were: another piece
// of the page has changed, or they have found another place. A name that one of them shares
// with a piece that has changed tells nobody which is meant, and is left out.
func (p *Plan) unchanged(was *Plan) []string {
	var names, changed []string
	for _, page := range p.Pages {
		for _, l := range page.Pieces {
			switch {
			case !was.has(l):
				changed = append(changed, l.Piece.Name)
			case !page.Stays && !slices.Contains(names, l.Piece.Name):
				names = append(names, l.Piece.Name)
			}
		}
	}
	return slices.DeleteFunc(names, func(name string) bool { return slices.Contains(changed, name) })
}

// has reports whether a copy of a piece is drawn in the plan as in another one. The label
// bears the mark of what is drawn.
func (p *Plan) has(l *Laid) bool {
	return slices.ContainsFunc(p.Groups, func(g *Group) bool {
		before := laidOf(g, l.Piece.ID)
		return before != nil && before.Revision == l.Revision && reflect.DeepEqual(wordsOf(before), wordsOf(l))
	})
}

// Since returns the version whose arrangement the plan keeps, nil where it was laid out by
// itself.
func (p *Plan) Since() *draft.Version { return p.since }

// Printed lists the indices of the pages that are written: all, or those that do not stay as
// they were printed.
func (p *Plan) Printed() []int {
	var list []int
	for i := range p.Pages {
		if !p.Pages[i].Stays {
			list = append(list, i)
		}
	}
	return list
}

// Kept lists the numbers of the pages that stay as they were printed, and those that are no
// longer needed.
func (p *Plan) Kept() (stay, gone []int) {
	have := make(map[int]bool)
	for _, page := range p.Pages {
		have[page.Number] = true
		if page.Stays {
			stay = append(stay, page.Number)
		}
	}
	for n := 1; p.since != nil && n <= p.most; n++ {
		if !have[n] {
			gone = append(gone, n)
		}
	}
	return stay, gone
}

// KeptWords says in sentences what of an earlier print is still good, nil where the plan
// was laid out by itself.
func (p *Plan) KeptWords() []string {
	if p.since == nil {
		return nil
	}
	var says []string
	stay, gone := p.Kept()
	if len(stay) > 0 {
		verb := "stay"
		if len(stay) == 1 {
			verb = "stays"
		}
		says = append(says, fmt.Sprintf("%s %s as printed with “%s”.", pageList(stay), verb, p.since.Name))
	}
	if n := len(p.asWere); n > 0 {
		verb, them := "lie", "them"
		if n == 1 {
			verb, them = "lies", "it"
		}
		says = append(says, fmt.Sprintf("%s %s on the pages to print anew as before: what you have cut of %s still holds.", andList(p.asWere), verb, them))
	}
	if old := p.oldHeads(); len(old) > 0 {
		says = append(says, fmt.Sprintf("The heads of pages that stay still name the former marks of %s; the label tells the present one.", strings.Join(old, ", ")))
	}
	if len(gone) > 0 {
		verb := "are"
		if len(gone) == 1 {
			verb = "is"
		}
		says = append(says, fmt.Sprintf("%s %s not needed any more.", pageList(gone), verb))
	}
	return says
}

// oldHeads names the pieces whose mark has changed and of which a page that stays shows a
// part.
func (p *Plan) oldHeads() []string {
	var names []string
	for _, page := range p.Pages {
		for _, l := range page.Pieces {
			was := p.since.Piece(l.Piece.ID)
			if page.Stays && was != nil && draft.Revision(was) != l.Revision && !slices.Contains(names, l.Piece.Name) {
				names = append(names, l.Piece.Name)
			}
		}
	}
	return names
}

// pageList names pages by their numbers.
func pageList(numbers []int) string {
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = fmt.Sprint(n)
	}
	if len(words) == 1 {
		return "Page " + words[0]
	}
	return "Pages " + andList(words)
}

// andList puts words in a row with an and before the last.
func andList(words []string) string {
	n := len(words) - 1
	if n < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n], ", ") + " and " + words[n]
}
