package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// seamMatch tells which places of the two sides of a seam are sewn to each other. Places
// are in mm along the runs, from where they begin, without darts.
type seamMatch struct {
	seam *Seam
	rows [2]seamRow
	// pair matches the side that is not the fuller one, less, with the fuller one. sound is
	// false where the fullness has no room; then places are matched by shares.
	pair  geom.Walk
	less  Side
	sound bool
}

// seamRow is one side of a seam as a row of edges.
type seamRow struct {
	run    Run
	pieces []*Piece
	// edges are the indices of the edges in their pieces, lengths their lengths, and ends
	// where each ends along the run.
	edges         []int
	lengths, ends []float64
}

func (r *seamRow) length() float64 { return r.ends[len(r.ends)-1] }

// starts is where use k begins along the run.
func (r *seamRow) starts(k int) float64 { return r.ends[k] - r.lengths[k] }

// matchOf returns the match of a seam of the project, or an error where what it sews is
// gone or has no length.
func (p *Project) matchOf(s *Seam) (*seamMatch, error) {
	m := &seamMatch{seam: s, less: SideA}
	if s.Fuller == SideA {
		m.less = SideB
	}
	for k, run := range [2]Run{s.A, s.B} {
		row := seamRow{run: run}
		at := 0.0
		for _, u := range run {
			piece := p.Piece(u.Piece)
			if piece == nil {
				return nil, fmt.Errorf("piece %s %w", u.Piece, errGone)
			}
			_, i := piece.Edge(u.Edge)
			if i < 0 {
				return nil, fmt.Errorf("edge %s of %s %w", u.Edge, piece.label(), errGone)
			}
			length := piece.EdgeLength(i)
			at += length
			row.pieces, row.edges = append(row.pieces, piece), append(row.edges, i)
			row.lengths, row.ends = append(row.lengths, length), append(row.ends, at)
		}
		if !(at > 0) || math.IsInf(at, 0) {
			return nil, fmt.Errorf("side %s of seam %s has no length", Side(k), s.label())
		}
		m.rows[k] = row
	}
	m.setPair()
	return m, nil
}

// setPair finds how places belong together. Only lengths matter for that, and a straight
// line of each length stands for its run.
func (m *seamMatch) setPair() {
	s := m.seam
	straight := func(length float64) geom.Run {
		return geom.NewRun(geom.Path{geom.Line(geom.Point{}, geom.Pt(length, 0))})
	}
	less := m.rows[m.less].length()
	m.pair = geom.Walk{A: straight(less), B: straight(m.rows[s.Fuller].length()), Ratio: s.Ratio}
	if s.From > 0 || s.To < 1 {
		// The stretch is told on the fuller side, as long as that is meant to be.
		full := s.Ratio * less
		m.pair.From, m.pair.To = s.From*full, s.To*full-(s.Ratio-1)*less
	}
	m.sound = m.pair.Check() == nil
}

// across returns the place on the other side that is sewn to a place on the given side,
// held within the other side.
func (m *seamMatch) across(from Side, at float64) float64 {
	row, to := &m.rows[from], &m.rows[from.other()]
	far := at / row.length() * to.length()
	if m.sound && from == m.less {
		far = m.pair.ToB(at)
	} else if m.sound {
		far = m.pair.ToA(at)
	}
	return min(max(far, 0), to.length())
}

// spot is a place of a drawn edge that a run goes along.
type spot struct {
	use   int
	piece *Piece
	edge  int
	// at is in mm from the start of the edge as it is drawn.
	at float64
	// fromEnd says that the run goes along the edge from its end.
	fromEnd bool
}

// spot returns the place of the drawing at a place of a run. Where two edges meet it is
// the end of the first.
func (r *seamRow) spot(at float64) spot {
	k := 0
	for k < len(r.ends)-1 && at > r.ends[k]+Grid {
		k++
	}
	along := min(max(at-r.starts(k), 0), r.lengths[k])
	s := spot{use: k, piece: r.pieces[k], edge: r.edges[k], at: along, fromEnd: r.run[k].Reversed}
	if s.fromEnd {
		s.at = r.lengths[k] - along
	}
	return s
}

// along returns the place of a run at a place of the drawing of use k, in mm from the
// start of the edge.
func (r *seamRow) along(k int, at float64) float64 {
	if r.run[k].Reversed {
		at = r.lengths[k] - at
	}
	return r.starts(k) + at
}

// runJoint is how near, in mm, a place of a run counts as the place at which two of its
// edges meet: what is sewn there marks the place by itself.
const runJoint = 1e-3

// atJoint reports whether two edges of the run meet at the place, or the run ends there.
func (r *seamRow) atJoint(at float64) bool {
	if at < runJoint {
		return true
	}
	for _, end := range r.ends {
		if math.Abs(at-end) < runJoint {
			return true
		}
	}
	return false
}

// place returns a place of the run that is given as a length or a share.
func (r *seamRow) place(at EdgePlace, unit Unit) (float64, error) {
	length := r.length()
	d := at.At
	if at.Share {
		d *= length
	}
	if !(d >= 0 && d <= length+unit.placeSlack()) {
		return 0, fmt.Errorf("the side is %s long, so that there is no place at %s", unit.Format(length), unit.Format(d))
	}
	if at.FromEnd {
		d = length - d
	}
	return min(max(d, 0), length), nil
}

// locked returns a piece of the seam that cannot be touched, or nil.
func (m *seamMatch) locked() error {
	for _, row := range m.rows {
		for _, piece := range row.pieces {
			if piece.Locked {
				return errors.New(piece.label() + " is locked; unlock it, so that it can be notched")
			}
		}
	}
	return nil
}
