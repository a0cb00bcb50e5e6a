package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// Spreading says how the parts of a slashed piece are moved apart.
type Spreading int

const (
	Hinged   Spreading = iota // about the far ends of the slashes, which stay shut
	Parallel                  // by as much at one end as at the other
)

var spreadingNames = names[Spreading]{"hinged", "parallel"}

func (s Spreading) String() string               { return spreadingNames.text(s) }
func (s Spreading) MarshalText() ([]byte, error) { return spreadingNames.marshal(s) }

// UnmarshalText reads hinged or parallel.
func (s *Spreading) UnmarshalText(b []byte) error {
	return spreadingNames.unmarshal(s, b, "way to spread")
}

// AddFullnessArgs are the arguments of AddFullness.
type AddFullnessArgs struct {
	Edge   EdgeRef    `arg:"edge" says:"the edge that gets fuller"`
	Amount *Length    `arg:"amount" says:"by how much it gets longer; below 0, shorter"`
	Ratio  *float64   `arg:"ratio" says:"instead, how many times as long as it is the edge becomes; with From or To, only the stretch between them counts"`
	From   *EdgePlace `arg:"from" says:"where on the edge the fullness begins; without it, at its start"`
	To     *EdgePlace `arg:"to" says:"where it ends; without it, at the end"`
	Way    Spreading  `arg:"way" says:"hinged at the edge across, or put in as wide there" default:"hinged"`
	Across *EdgeRef   `arg:"across" says:"the edge across, at which the cloth is hinged; without it, the one that lies there"`
	Corner *CornerRef `arg:"corner" says:"instead, the corner at which it is hinged"`
	Into   *Fullness  `arg:"into" says:"what becomes of the fullness where the edge is sewn; without it, ease up to 1.04 and gathers beyond"`
}

// AddFullness puts cloth in along an edge, evenly over all of it or over a stretch, as if
// the piece were slashed to the edge across without end and spread. The edge across keeps
// its length exactly where it is the hinge.
var AddFullness = register(Info{
	Name: "add-fullness", Title: "Add fullness", Group: groupCutting,
	Says: "Spreads a piece evenly so that an edge, or a stretch of it, gets longer; the edge across keeps its length. The side with the fold stays put, else the cloth at the grain line.",
}, addFullness)

func addFullness(p *Project, a AddFullnessArgs) (Outcome, error) {
	if (a.Amount == nil) == (a.Ratio == nil) {
		return Outcome{}, errors.New("say by how much the edge gets longer, or how many times as long it becomes")
	}
	if a.Into != nil && *a.Into == Plain {
		return Outcome{}, errors.New("what is fuller is eased, gathered or pleated in, not plain")
	}
	return spreadPiece(p, a.Edge, a.Into, func(q *Piece, ids *idSource) (*spread, float64, error) {
		w, err := newSpread(q, a.Edge, a.Across, a.Corner, ids)
		if err != nil {
			return nil, 0, err
		}
		from, to := 0.0, w.near.length
		if a.From != nil {
			from, err = a.From.along(q, w.near.edge, p.Unit)
		}
		if err == nil && a.To != nil {
			to, err = a.To.along(q, w.near.edge, p.Unit)
		}
		if err != nil {
			return nil, 0, err
		}
		if to-from < shortestStretch {
			return nil, 0, errors.New("the stretch ends before it begins")
		}
		grow := 0.0
		if a.Amount != nil {
			grow = float64(*a.Amount)
		} else {
			grow = (*a.Ratio - 1) * (to - from)
		}
		if err := enough(grow, to-from); err != nil {
			return nil, 0, err
		}
		lo, hi := from/w.near.length, to/w.near.length
		w.open(a.Way, []opening{{at: (lo + hi) / 2, half: (hi - lo) / 2, near: grow}})
		return w, grow, nil
	})
}

// mostTaken is how much of a stretch can be lapped away at most.
const mostTaken = 0.9

// enough reports an amount that cannot be put into a stretch, both in mm.
func enough(grow, stretch float64) error {
	switch {
	case math.IsNaN(grow) || math.Abs(grow) < shortestStretch:
		return errors.New("that changes nothing")
	case grow < -mostTaken*stretch:
		return errors.New("more is to be taken out than there is")
	case grow > MaxRatio*stretch:
		return fmt.Errorf("more than %d times as much is to be put in as there is", MaxRatio)
	}
	return nil
}

// open sets the openings, which say what is put in at the near edge. Parallel ones all
// part in one direction.
func (w *spread) open(way Spreading, openings []opening) {
	w.openings = openings
	if way == Hinged {
		return
	}
	w.both = true
	for i := range openings {
		openings[i].far = openings[i].near
	}
	w.way = w.parting()
}

// spreadPiece spreads one piece as prepare says, which returns the spread and by how much
// the near edge grows; then it has the seams of both edges mean what they got.
func spreadPiece(p *Project, edge EdgeRef, into *Fullness, prepare func(q *Piece, ids *idSource) (*spread, float64, error)) (Outcome, error) {
	out := Outcome{unit: p.Unit, subject: p.subject([]ID{edge.Piece})}
	ids := p.newIDs()
	var done spreadDone
	var far ID
	var w *spread
	next, err := onePiece(p, edge.Piece, func(q *Piece) (err error) {
		var grow float64
		if w, grow, err = prepare(q, ids); err != nil {
			return err
		}
		if w.far.edge >= 0 {
			far = q.Edges[w.far.edge].ID
		} else if w.both {
			return errors.New("a corner cannot be spread; name the edge across")
		}
		done, err = w.do(grow, &out)
		return err
	})
	if err != nil {
		return Outcome{}, err
	}
	next.NextID = ids.next
	out.say("%s", w.stays())
	lo, hi := w.fuller(done, edge.Edge)
	next = next.meanFuller(p, edge, into, lo, hi, &out)
	if far != "" && math.Abs(done.farGrew) > meantSlack {
		next = next.meanFuller(p, EdgeRef{edge.Piece, far}, into, 0, 1, &out)
	}
	out.Project, out.Lineage, out.Made = next, done.lineage, edge.Edge
	return out, nil
}

// fuller returns the stretch of the near edge, as shares of it as it is now, into which
// cloth was put.
func (w *spread) fuller(done spreadDone, near ID) (lo, hi float64) {
	if len(w.openings) == 0 {
		return 0, 1
	}
	lo, hi = w.openings[0].from(), w.openings[len(w.openings)-1].to()
	now := func(s float64) float64 {
		for _, h := range done.lineage[near] {
			if s <= h.Old1 && h.Old1 > h.Old0 {
				return between(s, h.Old0, h.Old1, h.New0, h.New1)
			}
		}
		return s
	}
	return clampShare(now(lo)), clampShare(now(hi))
}

// SlashSpreadArgs are the arguments of SlashSpread.
type SlashSpreadArgs struct {
	Edge   EdgeRef     `arg:"edge" says:"the edge from which the piece is slashed"`
	Amount Length      `arg:"amount" says:"by how much each slash opens at the edge; below 0, laps"`
	Count  int         `arg:"count" says:"how many slashes there are, spread evenly along the edge" default:"1"`
	At     []EdgePlace `arg:"at,optional" says:"instead, where along the edge each slash begins"`
	Lines  []LineRef   `arg:"lines,optional" says:"instead, the lines inside the piece along which it is slashed"`
	Way    Spreading   `arg:"way" says:"hinged at the edge across, or opened as wide there" default:"hinged"`
	Far    *Length     `arg:"far" says:"by how much each slash opens at the edge across, instead of a way"`
	Across *EdgeRef    `arg:"across" says:"the edge across, to which the slashes run; without it, the one that lies there"`
	Corner *CornerRef  `arg:"corner" says:"instead, the corner in which all slashes meet"`
	Blend  *Length     `arg:"blend" says:"how far to each side of a slash the edges are drawn smooth; without it, as far as it opens"`
	Into   *Fullness   `arg:"into" says:"what becomes of the fullness where the edge is sewn; without it, ease up to 1.04 and gathers beyond"`
}

// SlashSpread slashes a piece from an edge to the one across and opens each slash: about
// its far end, parallel, or by another amount there. Beside the slashes the cloth is moved
// as it is, near them the edges are drawn smooth through the openings.
var SlashSpread = register(Info{
	Name: "slash-spread", Title: "Slash and spread", Group: groupCutting,
	Says: "Slashes a piece from an edge to the one across and opens each slash, about its far end or parallel; the edges stay smooth. The side with the fold stays put, else the cloth at the grain line.",
}, slashSpread)

func slashSpread(p *Project, a SlashSpreadArgs) (Outcome, error) {
	if a.Into != nil && *a.Into == Plain {
		return Outcome{}, errors.New("what is fuller is eased, gathered or pleated in, not plain")
	}
	if len(a.At) > 0 && len(a.Lines) > 0 {
		return Outcome{}, errors.New("say where the slashes begin, or name lines, not both")
	}
	return spreadPiece(p, a.Edge, a.Into, func(q *Piece, ids *idSource) (*spread, float64, error) {
		w, err := newSpread(q, a.Edge, a.Across, a.Corner, ids)
		if err != nil {
			return nil, 0, err
		}
		places, err := w.slashes(p, a)
		if err != nil {
			return nil, 0, err
		}
		each := float64(a.Amount)
		grow := each * float64(len(places))
		if err := enough(grow, w.near.length); err != nil {
			return nil, 0, err
		}
		reach := max(each, lapReach*-each, leastBlend*w.near.length)
		if a.Blend != nil {
			reach = max(float64(*a.Blend), shortestStretch)
		}
		openings := make([]opening, len(places))
		for i, s := range places {
			half := min(reach/w.near.length, s, 1-s)
			if i > 0 {
				half = min(half, (s-places[i-1])/2)
			}
			if i+1 < len(places) {
				half = min(half, (places[i+1]-s)/2)
			}
			if half*w.near.length < shortestStretch/2 {
				return nil, 0, errors.New("two slashes lie too near each other or to the end of the edge")
			}
			openings[i] = opening{at: s, half: half, near: each}
		}
		w.open(a.Way, openings)
		if a.Far != nil {
			w.both, w.way = false, geom.Point{}
			for i := range openings {
				openings[i].far = float64(*a.Far)
			}
			if w.far.edge < 0 && *a.Far != 0 {
				return nil, 0, errors.New("a corner cannot be spread; name the edge across")
			}
		}
		return w, grow, nil
	})
}

// lapReach is over how many times what a slash laps the edges are drawn smooth: some cloth
// must be left there.
const lapReach = 2

// leastBlend is over how much of the edge, as a share, a slash is drawn smooth at least.
const leastBlend = 0.01

// slashes returns the shares of the near edge at which the slashes begin, in order, and
// has the rulings run along lines where those are named.
func (w *spread) slashes(p *Project, a SlashSpreadArgs) ([]float64, error) {
	if len(a.Lines) > 0 {
		return w.slashLines(a.Lines)
	}
	var places []float64
	for _, at := range a.At {
		along, err := at.along(w.piece, w.near.edge, p.Unit)
		if err != nil {
			return nil, err
		}
		places = append(places, along/w.near.length)
	}
	if len(a.At) == 0 {
		n := max(a.Count, 1)
		if n > maxSlashes {
			return nil, fmt.Errorf("at most %d slashes are made at once", maxSlashes)
		}
		for k := range n {
			places = append(places, (float64(k)+0.5)/float64(n))
		}
	}
	return ordered(places)
}
