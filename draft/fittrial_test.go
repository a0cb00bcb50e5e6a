package draft

import (
	"fmt"
	"math"
	"strings"

	"hemlet/draft/body"
	"hemlet/geom"
)

// fitTrial is a pattern fitted to a body. direct is the block drafted for that body at once,
// which the fit knows nothing of; nil where the pattern is no block.
type fitTrial struct {
	source, fitted, direct []*Piece
	seams                  []*Seam
	state                  *FitState
	before, after          *Project
}

// twoWearers returns a project with two bodies.
func twoWearers(from, to body.Given) (*Project, error) {
	p := New("fit")
	for i, g := range []body.Given{from, to} {
		out, err := AddWearerFrom.Do(p, AddWearerFromArgs{wearerOf(fmt.Sprint("body ", i+1), g)})
		if err != nil {
			return nil, err
		}
		p = out.Project
	}
	return p, nil
}

// blockPair is a block drafted for one body and for another.
type blockPair struct{ from, to *Project }

// draftPair drafts a block for two bodies. That it cannot be drafted for one of them is no
// matter of the fit.
func draftPair(block string, set Choices, from, to body.Given) (blockPair, error) {
	p, err := twoWearers(from, to)
	if err != nil {
		return blockPair{}, err
	}
	var drafts [2]*Project
	for i := range drafts {
		out, err := DraftBlock.Do(p, DraftBlockArgs{Block: block, Wearer: WearerRef(p.Wearers[i].ID), Set: set})
		if err != nil {
			return blockPair{}, err
		}
		drafts[i] = out.Project
	}
	return blockPair{drafts[0], drafts[1]}, nil
}

// sameMake reports whether the block makes the same points for both bodies. Where a dart
// comes or goes, no re-shaping makes of the one what is drafted for the other.
func (b blockPair) sameMake() bool {
	if len(b.from.Pieces) != len(b.to.Pieces) {
		return false
	}
	for i, p := range b.from.Pieces {
		q := b.to.Pieces[i]
		if p.ID != q.ID || len(stretchesOf(p)) != len(stretchesOf(q)) || len(p.Darts) != len(q.Darts) || len(p.Lines) != len(q.Lines) {
			return false
		}
	}
	return true
}

// fit fits what was drafted for the first body to the second.
func (b blockPair) fit(ease FitEase) (*fitTrial, error) {
	t, err := tryPattern(b.from, b.from.Wearers[1].ID, ease)
	if err == nil {
		t.direct = b.to.Pieces
	}
	return t, err
}

// tryPattern fits the whole pattern of a project to a wearer.
func tryPattern(p *Project, wearer ID, ease FitEase) (*fitTrial, error) {
	out, err := FitPattern.Do(p, FitPatternArgs{Wearer: WearerRef(wearer), Ease: ease, Free: true})
	if err != nil {
		return nil, err
	}
	q := out.Project
	t := &fitTrial{before: p, after: q, seams: q.Seams, state: NewSlots().Fit(q, out.Made)}
	if t.state == nil || t.state.Err != nil {
		return nil, fmt.Errorf("the fit %s has no state", out.Made)
	}
	for _, piece := range q.PiecesOf(t.state.Derivation) {
		t.fitted, t.source = append(t.fitted, piece), append(t.source, p.Piece(piece.ID))
	}
	return t, nil
}

// meanScale is the mean factor of the targets: the percentage that a copier would be set to.
func (t *fitTrial) meanScale() float64 {
	sum, n := 0.0, 0
	for _, x := range t.state.Targets {
		if x.Known {
			sum += x.Wants / x.Was
			n++
		}
	}
	return sum / float64(n)
}

// gaps compares all pieces with those drafted at once: as they were fitted, and as they
// would be if all were scaled by one factor.
func (t *fitTrial) gaps() (fit, plain laidGap) {
	k := t.meanScale()
	for i := range t.fitted {
		direct := samplesOf(t.direct[i])
		fit = fit.with(gapBetween(samplesOf(t.fitted[i]), direct))
		scaled := samplesOf(t.source[i])
		for j := range scaled {
			scaled[j] = scaled[j].Mul(k)
		}
		plain = plain.with(gapBetween(scaled, direct))
	}
	return fit, plain
}

// worstSpan is how far a target is missed, in mm.
func (t *fitTrial) worstSpan() float64 {
	worst := 0.0
	for _, x := range t.state.Targets {
		if x.Known {
			worst = max(worst, math.Abs(x.Off))
		}
	}
	return worst
}

// pieceOfList returns the piece with the id.
func pieceOfList(list []*Piece, id ID) *Piece {
	for _, p := range list {
		if p.ID == id {
			return p
		}
	}
	return nil
}

// sewnBySpeed returns the length of a run, the mouths of darts left out.
func sewnBySpeed(list []*Piece, run Run) float64 {
	sum := 0.0
	for _, u := range run {
		p := pieceOfList(list, u.Piece)
		if p == nil {
			return math.NaN()
		}
		all, at := stretchesOf(p), 0
		for e := range p.Edges {
			nodes := p.EdgeNodes(e)
			for k := range p.Edges[e].Nodes {
				mouth := false
				for _, d := range p.Darts {
					mouth = mouth || d.From == nodes[k].ID && d.To == nodes[k+1].ID
				}
				if p.Edges[e].ID == u.Edge && !mouth {
					sum += lengthBySpeed(all[at])
				}
				at++
			}
		}
	}
	return sum
}

// seamMeant is the share of a seam within which a pattern that is off its ratio still
// means it, as the fit has it.
const seamMeant = 0.05

// worstSeam returns by how much in mm a seam is off: a seam that held its ratio is to hold
// it, another the one that it had.
func (t *fitTrial) worstSeam() float64 {
	worst := 0.0
	for _, s := range t.seams {
		full, less := s.A, s.B
		if s.Fuller == SideB {
			full, less = s.B, s.A
		}
		was, base := sewnBySpeed(t.source, full), sewnBySpeed(t.source, less)
		ratio := s.Ratio
		if math.Abs(was-ratio*base) > seamMeant*max(was, ratio*base) {
			ratio = was / base
		}
		if off := math.Abs(sewnBySpeed(t.fitted, full) - ratio*sewnBySpeed(t.fitted, less)); !(off <= worst) {
			worst = off
		}
	}
	return worst
}

// notchesMet returns by how much in mm notches that met on both sides of a seam of one edge
// with one other are apart now, more than they were.
func (t *fitTrial) notchesMet() float64 {
	worst := 0.0
	for _, s := range t.seams {
		if len(s.A) != 1 || len(s.B) != 1 {
			continue
		}
		was, now := notchesAlong(t.source, s), notchesAlong(t.fitted, s)
		for i, a := range was[0] {
			for k, b := range was[1] {
				if before := math.Abs(a - b); before < 0.05 {
					worst = max(worst, math.Abs(now[0][i]-now[1][k])-before)
				}
			}
		}
	}
	return worst
}

// notchesAlong returns the places of the notches of both sides in mm along side B.
func notchesAlong(list []*Piece, s *Seam) (at [2][]float64) {
	long := [2]float64{sewnBySpeed(list, s.A), sewnBySpeed(list, s.B)}
	for side, run := range [2]Run{s.A, s.B} {
		u := run[0]
		p := pieceOfList(list, u.Piece)
		for _, n := range p.Notches {
			if n.Edge != u.Edge {
				continue
			}
			d := n.At
			if n.Share {
				d *= long[side]
			}
			if n.FromEnd != u.Reversed {
				d = long[side] - d
			}
			at[side] = append(at[side], d*long[1]/long[side])
		}
	}
	return at
}

// structure returns by how much in mm, over the length of what it is about, the form of the
// pieces has suffered: straight edges, the direction of folds and of what runs along the
// grain, right angles at folds, and smooth points.
func (t *fitTrial) structure() (worst float64, what string) {
	note := func(off float64, is string) {
		if off > worst {
			worst, what = off, is
		}
	}
	for i, p := range t.fitted {
		was := t.source[i]
		up := was.GrainWay()
		for e := range p.Edges {
			a, b := was.EdgeNodes(e), p.EdgeNodes(e)
			name := string(p.ID) + " " + p.Edges[e].Name
			if lineOff(a) < formNoise {
				note(lineOff(b), name+" is not straight")
				u, v := a[len(a)-1].At.Sub(a[0].At), b[len(b)-1].At.Sub(b[0].At)
				if p.Edges[e].Kind == FoldEdge || math.Abs(u.Cross(up)) < formNoise {
					note(math.Abs(v.Cross(u.Unit())), name+" has turned")
				}
			}
			for k := 1; k+1 < len(b); k++ {
				if b[k].Smooth && a[k].Smooth {
					note(math.Abs(b[k].In.Unit().Cross(b[k].Out))-math.Abs(a[k].In.Unit().Cross(a[k].Out)), name+" has a kink")
				}
			}
		}
		note(foldAngles(was, p), string(p.ID)+" is not square to its fold")
	}
	return worst, what
}

// formNoise is the mm that the grid of coordinates leaves of what is straight or square.
const formNoise = 1e-5

// lineOff returns how far in mm the nodes and handles lie off the line of the ends.
func lineOff(nodes []Node) float64 {
	a, u := nodes[0].At, nodes[len(nodes)-1].At.Sub(nodes[0].At).Unit()
	off := 0.0
	for _, n := range nodes {
		off = max(off, math.Abs(n.At.Sub(a).Cross(u)))
	}
	for k := 1; k < len(nodes); k++ {
		off = max(off, math.Abs(nodes[k-1].Out.Cross(u)), math.Abs(nodes[k].In.Cross(u)))
	}
	return off
}

// foldAngles returns by how much in mm, along a handle, right angles at a fold are off.
func foldAngles(was, p *Piece) float64 {
	fold := p.FoldEdge()
	if fold < 0 {
		return 0
	}
	off := 0.0
	n := len(p.Edges)
	u := p.EdgeNodes(fold)[len(p.EdgeNodes(fold))-1].At.Sub(p.EdgeNodes(fold)[0].At).Unit()
	for k, e := range [2]int{(fold + n - 1) % n, (fold + 1) % n} {
		before, now := endHandle(was.EdgeNodes(e), k == 0), endHandle(p.EdgeNodes(e), k == 0)
		if math.Abs(before.Dot(u)) < formNoise {
			off = max(off, math.Abs(now.Dot(u)))
		}
	}
	return off
}

// endHandle is the way in which an edge comes to its end, or leaves its start.
func endHandle(nodes []Node, end bool) geom.Point {
	n := len(nodes)
	if end {
		if h := nodes[n-1].In; h != (geom.Point{}) {
			return h
		}
		return nodes[n-2].At.Sub(nodes[n-1].At)
	}
	if h := nodes[0].Out; h != (geom.Point{}) {
		return h
	}
	return nodes[1].At.Sub(nodes[0].At)
}

// newTurns returns the edges that change sides more often than they did, apart those that
// do so on the pattern drafted at once, too: there the body asks for it.
func (t *fitTrial) newTurns() (list, asked []string) {
	for i, p := range t.fitted {
		was, now := turnsOf(t.source[i], hardlyTurned), turnsOf(p, straightEnough)
		for e := range now {
			name := string(p.ID) + " " + p.Edges[e].Name
			switch {
			case now[e] <= was[e]:
			case i < len(t.direct) && len(t.direct[i].Edges) == len(p.Edges) && turnsOf(t.direct[i], straightEnough)[e] >= now[e]:
				asked = append(asked, name)
			default:
				list = append(list, name)
			}
		}
	}
	return list, asked
}

// kinks returns by how many degrees the hems have come to run on otherwise across seams.
func (t *fitTrial) kinks() []float64 {
	was := make(map[[2]edgeCorner]float64)
	for _, j := range NewSlots().Joints(t.before) {
		was[j.lines()] = j.Degrees()
	}
	var list []float64
	for _, j := range NewSlots().Joints(t.after) {
		if before, ok := was[j.lines()]; ok && j.What == "hem" {
			list = append(list, math.Abs(j.Degrees()-before))
		}
	}
	return list
}

// crossed returns the pieces whose outline crosses itself.
func (t *fitTrial) crossed() string {
	var list []string
	for _, p := range t.fitted {
		if sampledCrossing(thinned(samplesOf(p), 6)) {
			list = append(list, string(p.ID))
		}
	}
	return strings.Join(list, ", ")
}
