package draft

import "hemlet/geom"

// FastenPlace is where one fastening of a row lies on its piece.
type FastenPlace struct {
	At geom.Point
	// Along is the unit direction in which it lies: that of the line, or square to it.
	Along geom.Point
}

// Fastenings returns where the fastenings of a line lie, in its direction, in the
// piece's own millimetres; none where the line bears no row or has no length. A single
// one lies at First from the start.
func (l Line) Fastenings() []FastenPlace {
	path := l.Path()
	if l.Row == nil || len(path) == 0 {
		return nil
	}
	tape := path.Tape()
	var out []FastenPlace
	for _, d := range l.Row.along(tape.Length()) {
		at := tape.At(d)
		way := path.Tangent(at)
		if l.Row.Across {
			way = way.Left()
		}
		out = append(out, FastenPlace{path.At(at), way})
	}
	return out
}

// along returns how far along a line of the length each fastening lies, in mm. Where the
// two distances leave no room between them all lie where the first does.
func (r *Row) along(length float64) []float64 {
	first := min(r.First, length)
	last := max(length-r.Last, first)
	out := make([]float64, r.Count)
	for i := range out {
		out[i] = first
		if r.Count > 1 {
			out[i] += (last - first) * float64(i) / float64(r.Count-1)
		}
	}
	return out
}

// Gap returns how far neighbouring fastenings of a row lie apart on a line of the length
// in mm, 0 for a single one.
func (r *Row) Gap(length float64) float64 {
	at := r.along(length)
	if len(at) < 2 {
		return 0
	}
	return at[1] - at[0]
}

// rowRule is how fastenings of a kind are set where nothing is said (common practice,
// no source): sizes in mm, distances as multiples of the size.
type rowRule struct {
	one string
	// size is that of a small doll's, least the smallest that can be sewn on by hand.
	size, least float64
	// apart is how far they lie apart, off how far the row lies inside its edge, end
	// how far the first and the last lie from its ends.
	apart, off, end float64
	across          bool
}

var rowRules = [...]rowRule{
	Buttons:     {one: "button", size: 5, least: 2.5, apart: 5, off: 1, end: 1.5},
	Buttonholes: {one: "buttonhole", size: 6, least: 4, apart: 4.5, off: 1, end: 1.25, across: true},
	Hooks:       {one: "hook", size: 5, least: 4, apart: 4, off: 0.5, end: 1, across: true},
	HookEyes:    {one: "eye", size: 5, least: 4, apart: 4, off: 0.5, end: 1, across: true},
	Snaps:       {one: "snap", size: 5, least: 4, apart: 5, off: 1, end: 1.5},
	Eyelets:     {one: "eyelet", size: 4, least: 2.5, apart: 3, off: 1.5, end: 1.5},
	Exits:       {one: "drawstring exit", size: 4, least: 3, apart: 5, off: 0, end: 2},
}

// DefaultSize returns the size in mm of a fastening of the kind where nothing is said.
func (k RowKind) DefaultSize() float64 { return rowRules[k].size }

// ForButton returns how long the hole for a button of a diameter in mm is: a fifth
// longer, and at least by 1 mm for its thickness (common practice, no source).
func ForButton(diameter float64) float64 { return diameter + max(1, diameter/5) }

// fill gives the row what was not said of it, for a line of the length in mm.
func (r *Row) fill(length float64, count *int, first, last *Length) {
	rule := rowRules[r.Kind]
	end := min(rule.end*r.Size, length/4)
	r.First, r.Last = toGrid(end), toGrid(end)
	if first != nil {
		r.First = float64(*first)
	}
	if last != nil {
		r.Last = float64(*last)
	}
	r.Count = 1
	if gap := rule.apart * r.Size; gap > 0 {
		r.Count = min(max(2, int((length-r.First-r.Last)/gap+0.5)+1), MaxCount)
	}
	if count != nil {
		r.Count = *count
	}
}

// overlapped sets two exits about the middle of a line of the length, so that the ends
// of a cord that leave by the farther one each overlap by so many mm.
func (r *Row) overlapped(overlap, length float64) {
	r.Count = 2
	r.First = toGrid((length - overlap) / 2)
	r.Last = r.First
}
