package export

import (
	"math"
	"slices"

	"hemlet/geom"
)

// rowsAcross is into how many rows the shorter side of a page is divided at most to
// count the room on it, leastRow the least height of a row in mm: less than scissors
// waste.
const (
	rowsAcross = 400
	leastRow   = 0.5
)

// rowHeight returns the height in mm of the rows of a page.
func (p *Plan) rowHeight() float64 {
	return max(leastRow, min(p.tile())/rowsAcross)
}

// stretch is a part of a row, in mm from the left.
type stretch struct{ lo, hi float64 }

// footprint is what something covers of a page, in rows downward from its top. A row
// covers at least what lies in it.
type footprint struct {
	w, h float64
	// row is the height of a row in mm.
	row float64
	// above is how many of the rows lie above the top: none before it is grown.
	above int
	rows  [][]stretch
}

// boxFootprint covers a box of w by h mm, in rows of a height in mm.
func boxFootprint(w, h, row float64) footprint {
	f := footprint{w: w, h: h, row: row, rows: make([][]stretch, int(math.Ceil(h/row)))}
	for i := range f.rows {
		f.rows[i] = []stretch{{0, w}}
	}
	return f
}

// bordered returns the footprint of a box with a border of a width in mm.
func (f footprint) bordered(by float64) footprint {
	reach := int(math.Ceil(by / f.row))
	g := footprint{w: f.w, h: f.h, row: f.row, above: reach, rows: make([][]stretch, int(math.Ceil((f.h+by)/f.row))+reach)}
	for i := range g.rows {
		g.rows[i] = []stretch{{-by, f.w + by}}
	}
	return g
}

// flatness is the distance in mm within which the chords follow an outline.
const flatness = 0.05

// outlineFootprint covers the copy with all its lines and words, and no more of the
// box around it than it must.
func outlineFootprint(l *Laid, row float64) footprint {
	box := l.Bounds()
	f := footprint{w: box.W(), h: box.H(), row: row, rows: make([][]stretch, int(math.Ceil(box.H()/row)))}
	for _, p := range [...]geom.Path{l.Cut, l.Stitch} {
		f.inside(p, box)
	}
	for _, m := range l.Strokes() {
		for _, c := range m.Chains {
			f.line(c, box)
		}
	}
	for _, t := range l.Words() {
		b := t.Bounds()
		f.inside(rectPath(b), box)
		f.line(rectPath(b), box)
	}
	f.merge()
	return f
}

// line covers a path.
func (f *footprint) line(p geom.Path, box geom.Rect) {
	pts := p.AppendFlat(nil, flatness)
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		if a.Y < b.Y {
			a, b = b, a
		}
		top, low := box.Max.Y-a.Y-flatness, box.Max.Y-b.Y+flatness
		for row := f.rowAt(top); row <= f.rowAt(low); row++ {
			// Where the chord enters and leaves the row.
			from, to := 0.0, 1.0
			if drop := a.Y - b.Y; drop > flatness {
				from = max(0, (float64(row)*f.row-flatness-(box.Max.Y-a.Y))/drop)
				to = min(1, (float64(row+1)*f.row+flatness-(box.Max.Y-a.Y))/drop)
			}
			x0, x1 := a.Lerp(b, from).X-box.Min.X, a.Lerp(b, to).X-box.Min.X
			f.rows[row] = append(f.rows[row], stretch{min(x0, x1) - flatness, max(x0, x1) + flatness})
		}
	}
}

// rowAt returns the row in which a place so many mm below the top lies.
func (f *footprint) rowAt(below float64) int {
	return min(max(int(math.Floor(below/f.row)), 0), len(f.rows)-1)
}

// inside covers what a closed path encloses on the middle line of each row; what it
// encloses elsewhere in the row lies between stretches of the path itself.
func (f *footprint) inside(p geom.Path, box geom.Rect) {
	pts := p.AppendFlat(nil, flatness)
	for row := range f.rows {
		y := box.Max.Y - (float64(row)+0.5)*f.row
		var at []float64
		for i := 1; i < len(pts); i++ {
			a, b := pts[i-1], pts[i]
			if (a.Y > y) != (b.Y > y) {
				at = append(at, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y)-box.Min.X)
			}
		}
		slices.Sort(at)
		for i := 1; i < len(at); i += 2 {
			f.rows[row] = append(f.rows[row], stretch{at[i-1], at[i]})
		}
	}
}

// merge puts the stretches of each row in order and joins those that meet.
func (f *footprint) merge() {
	for i, row := range f.rows {
		slices.SortFunc(row, func(a, b stretch) int {
			switch {
			case a.lo < b.lo:
				return -1
			case a.lo > b.lo:
				return 1
			}
			return 0
		})
		var out []stretch
		for _, s := range row {
			if n := len(out); n > 0 && s.lo <= out[n-1].hi {
				out[n-1].hi = max(out[n-1].hi, s.hi)
			} else {
				out = append(out, s)
			}
		}
		f.rows[i] = out
	}
}

// grown returns the footprint with all that lies nearer to it than by mm.
func (f footprint) grown(by float64) footprint {
	reach := int(math.Ceil(by / f.row))
	g := footprint{w: f.w, h: f.h, row: f.row, above: reach, rows: make([][]stretch, len(f.rows)+2*reach)}
	for i, row := range f.rows {
		for d := -reach; d <= reach; d++ {
			// Rows so far apart are at least one row less apart in places.
			away := max(0, math.Abs(float64(d))-1) * f.row
			aside := math.Sqrt(max(0, by*by-away*away))
			for _, s := range row {
				g.rows[i+d+reach] = append(g.rows[i+d+reach], stretch{s.lo - aside, s.hi + aside})
			}
		}
	}
	g.merge()
	return g
}
