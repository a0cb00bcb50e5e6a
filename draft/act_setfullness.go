package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// SetFullnessArgs are the arguments of SetFullness.
type SetFullnessArgs struct {
	Seam  SeamRef  `arg:"seam" says:"the seam"`
	Ratio *float64 `arg:"ratio" says:"how many times as long as the other side the fuller one becomes; without it, as it is meant to be"`
}

// SetFullness makes the fuller side of a seam as full as it is to be, and has the seam
// mean that. Straight strips get longer or shorter as they are; of anything else the
// stretch in which the fullness lies is spread.
var SetFullness = register(Info{
	Name: "set-fullness", Title: "Make a seam as full as wanted", Group: groupSeams,
	Says: "Makes the fuller side of a seam so many times as long as the other: straight strips get longer or shorter, other pieces are spread where the fullness lies.",
}, setFullness)

func setFullness(p *Project, a SetFullnessArgs) (Outcome, error) {
	old := p.Seam(ID(a.Seam))
	if old == nil {
		return Outcome{}, fmt.Errorf("seam %s %w", a.Seam, errGone)
	}
	if err := p.checkRuns(old); err != nil {
		return Outcome{}, err
	}
	s := *old
	put(&s.Ratio, a.Ratio)
	kind := &s.Fullness
	if s.Ratio == 1 {
		s.Fullness = Plain
	} else if s.Fullness == Plain {
		kind = nil
	}
	if err := s.setFullness(kind); err != nil {
		return Outcome{}, err
	}
	if math.IsInf(s.wantedLocal(), 1) {
		return Outcome{}, errors.New("the stretch in which the fullness lies is too short for that; let it lie in a longer one")
	}
	q := p
	if s.Ratio != old.Ratio || s.Fullness != old.Fullness {
		q = p.withSeam(&s)
	}
	if math.Abs(q.seamDiff(&s)) <= MatchedTo {
		if q == p {
			return Outcome{}, errMatches
		}
		return Outcome{Project: q, subject: s.label(), Made: s.ID}, nil
	}
	out, err := q.fillSide(&s)
	if err != nil {
		return Outcome{}, err
	}
	out.unit = p.Unit
	p.sayMoved(&out)
	out.subject, out.Made = s.label(), s.ID
	return out, nil
}

// fillSide brings the fuller side of a seam to the length that it is meant to have.
func (p *Project) fillSide(s *Seam) (Outcome, error) {
	if strips, ok := p.stripsOf(s.run(s.Fuller)); ok {
		return p.fitStrips(s, strips)
	}
	sides, err := p.givingSides(s, Giving(1+int(s.Fuller)))
	if err != nil {
		return Outcome{}, err
	}
	var out Outcome
	if err := p.matchBySpread(s, sides, s.From, s.To, &out); err != nil {
		out = Outcome{}
		if p.matchByEnd(s, sides, nil, &out) != nil {
			return Outcome{}, err
		}
	}
	return out, nil
}

// ruffleStrip is a straight strip of cloth: a rectangle that is sewn along one of its sides.
type ruffleStrip struct {
	piece ID
	// end are the two corners of the end that can be moved, and along the direction in
	// which the strip gets longer there.
	end   [2]ID
	along geom.Point
	long  float64
}

// stripSquare is by how much, in radians, a corner of a strip may be off the square.
const stripSquare = 1e-4

// stripsOf returns the pieces of a run where each of them is a straight strip, once.
func (p *Project) stripsOf(run Run) ([]ruffleStrip, bool) {
	var list []ruffleStrip
	seen := make(map[ID]bool)
	for _, u := range run {
		if seen[u.Piece] {
			continue
		}
		seen[u.Piece] = true
		piece := p.Piece(u.Piece)
		if piece == nil {
			return nil, false
		}
		s, ok := piece.asStrip(u.Edge)
		if !ok {
			return nil, false
		}
		list = append(list, s)
	}
	return list, len(list) > 0
}

// asStrip returns the piece as a strip that is sewn along an edge, or false where it is
// none.
func (p *Piece) asStrip(edge ID) (ruffleStrip, bool) {
	_, i := p.Edge(edge)
	if i < 0 || len(p.Edges) != 4 || len(p.Darts) > 0 {
		return ruffleStrip{}, false
	}
	for k := range p.Edges {
		if len(p.Edges[k].Nodes) != 1 || !p.EdgePath(k)[0].Straight {
			return ruffleStrip{}, false
		}
	}
	at := func(k int) geom.Point { return p.Edges[(i+k)%4].Nodes[0].At }
	along, across := at(1).Sub(at(0)), at(2).Sub(at(1))
	if !(along.Len() > 0 && across.Len() > 0) || math.Abs(along.Unit().Dot(across.Unit())) > stripSquare || !at(3).Near(at(2).Sub(along), stripSquare*along.Len()) {
		return ruffleStrip{}, false
	}
	s := ruffleStrip{piece: p.ID, long: along.Len()}
	// The end on the fold stays: the end at corner 1 and 2 moves unless it is that.
	if p.Edges[(i+1)%4].Kind != FoldEdge {
		s.end, s.along = [2]ID{p.Edges[(i+1)%4].Nodes[0].ID, p.Edges[(i+2)%4].Nodes[0].ID}, along.Unit()
	} else {
		s.end, s.along = [2]ID{p.Edges[i].Nodes[0].ID, p.Edges[(i+3)%4].Nodes[0].ID}, along.Unit().Mul(-1)
	}
	return s, true
}

// fitStrips makes all strips of the fuller side longer, or shorter, by the same share.
func (p *Project) fitStrips(s *Seam, strips []ruffleStrip) (Outcome, error) {
	now := p.runLength(s.run(s.Fuller))
	share := (now - p.seamDiff(s)) / now
	if !(share > 0) {
		return Outcome{}, errors.New("nothing would be left of the fuller side")
	}
	out := Outcome{Project: p}
	for _, st := range strips {
		if err := mayGive(p.Piece(st.piece)); err != nil {
			return Outcome{}, err
		}
		next, err := onePiece(out.Project, st.piece, func(q *Piece) error {
			by := st.along.Mul(st.long * (share - 1))
			for _, id := range st.end {
				n, _, _ := q.Node(id)
				n.At = n.At.Add(by)
			}
			return nil
		})
		if err != nil {
			return Outcome{}, err
		}
		out.Project = next
	}
	out.sayStripsWiderThanCloth(p, strips)
	return out, nil
}

// sayStripsWiderThanCloth tells of strips that have become longer than their cloth is
// wide.
func (o *Outcome) sayStripsWiderThanCloth(before *Project, strips []ruffleStrip) {
	for _, st := range strips {
		q := o.Project.Piece(st.piece)
		cloth := o.Project.Cloth(q.Cloth)
		if cloth == nil || cloth.Width <= 0 {
			continue
		}
		was, now := before.Piece(st.piece).cutAlong(st.along), q.cutAlong(st.along)
		if now > cloth.Width && was <= cloth.Width {
			o.say("%s is now cut %s long, and the cloth is %s wide: make the ruffle anew to have it pieced of more strips.", q.label(), o.Project.Unit.Format(now), o.Project.Unit.Format(cloth.Width))
		}
	}
}

// cutAlong returns how long the piece is cut in a direction, in mm.
func (p *Piece) cutAlong(way geom.Point) float64 {
	line := p.DrawnPath()
	if flat, err := LayFlat(p); err == nil {
		line = flat.Cut
	}
	return line.Transform(geom.Rotation(-math.Atan2(way.Y, way.X), geom.Point{})).Bounds().W()
}
