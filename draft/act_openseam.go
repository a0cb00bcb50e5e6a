package draft

import (
	"errors"
	"fmt"
	"slices"
)

// OpenSeamArgs are the arguments of OpenSeam.
type OpenSeamArgs struct {
	Seam SeamRef `arg:"seam" says:"the seam"`
	From EdgeEnd `arg:"from" says:"the end from which it opens" default:"start"`
	// Length nil means all of it.
	Length *Length `arg:"length" says:"how far it opens; without it, all of it"`
	Lap    Length  `arg:"lap" says:"by how much its sides lie over each other when it is closed" default:"0mm"`
	Name   string  `arg:"name,optional" says:"what the part that opens is called; without it, the seam's name with opening after it"`
}

// OpenSeam leaves a part of a seam open for dressing, from one of its ends on: the seam ends
// there, and what is left of it is closed with buttons, hooks or ties. The end is marked to
// be sewn over.
var OpenSeam = register(Info{
	Name: "open-seam", Title: "Open a seam for dressing", Group: groupSeams,
	Says: "Leaves a seam open from one of its ends, as a placket in a centre back, so that what must pass does; the rest goes on being sewn.",
}, openSeam)

func openSeam(p *Project, a OpenSeamArgs) (Outcome, error) {
	s := p.Seam(ID(a.Seam))
	if s == nil {
		return Outcome{}, fmt.Errorf("seam %s %w", a.Seam, errGone)
	}
	if s.Opens {
		return Outcome{}, fmt.Errorf("seam %s opens already", s.label())
	}
	if !(a.Lap >= 0 && a.Lap <= MaxCoordinate) {
		return Outcome{}, errors.New("a lap is 0 or more")
	}
	out := Outcome{subject: s.label(), Made: s.ID, unit: p.Unit}
	if a.Length == nil {
		whole := *s
		whole.Opens, whole.Lap = true, toGrid(float64(a.Lap))
		out.Project = p.withSeam(&whole)
		return out.openMade(p, s.ID, a)
	}
	lengths := [2]float64{p.runLength(s.A), p.runLength(s.B)}
	depth := float64(*a.Length)
	if least := min(lengths[0], lengths[1]); !(depth > 2*placeReach && depth < least-2*placeReach) {
		return Outcome{}, fmt.Errorf("seam %s is %s long; it opens by some of that, or all of it without a length", s.label(), p.Unit.Format(least))
	}
	far := [2]float64{depth, p.opposite(s, SideA, depth)}
	if a.From != EdgeStart {
		far[SideA] = lengths[SideA] - depth
		far[SideB] = p.opposite(s, SideA, far[SideA])
		if s.Ratio == 1 { // as deep on either side
			far[SideB] = lengths[SideB] - depth
		}
	}
	name, err := p.openName(a.Name, s)
	if err != nil {
		return Outcome{}, err
	}
	open, err := out.openPart(p, s, a, far, name)
	if err != nil {
		return Outcome{}, err
	}
	return out.openMade(p, open, a)
}

// openName returns what the part of a seam that opens is called.
func (p *Project) openName(given string, s *Seam) (string, error) {
	name, err := cleanName(given)
	if err != nil || name == "" {
		name = s.label() + " opening"
	}
	return unusedName(name, func(n string) bool {
		return slices.ContainsFunc(p.Seams, func(o *Seam) bool { return o.Name == n })
	}), err
}

// openPart leaves a seam open from one end of it to far mm along each of its sides, and
// returns the part that opens.
func (o *Outcome) openPart(p *Project, s *Seam, a OpenSeamArgs, far [2]float64, name string) (ID, error) {
	ids := p.newIDs()
	next, lin, parts, err := p.partSeam(s, a.From, far, ids)
	if err != nil {
		return "", err
	}
	sewn, open := parts[0], parts[1]
	open.Name, open.Lap = name, toGrid(float64(a.Lap))
	o.Project, o.Lineage = next, lin
	touched := o.reinforceEnd(ids, sewn, a.From)
	for _, id := range touched {
		q := o.Project.Piece(id).clone()
		o.settle(q)
		o.Project = o.Project.withPiece(q)
	}
	o.say("%s opens for dressing; %s is sewn on from there. Secure the end.", open.label(), sewn.label())
	o.Project.dropIdle(p)
	o.Project.NextID = ids.next
	return open.ID, nil
}

// partSeam makes two seams of one, at far mm along each of its sides. It returns the part
// that stays sewn, with the id of the whole, and that which opens, which may be written to.
func (p *Project) partSeam(s *Seam, from EdgeEnd, far [2]float64, ids *idSource) (*Project, Lineage, [2]*Seam, error) {
	var none [2]*Seam
	var cuts []runCut
	for _, side := range [...]Side{SideA, SideB} {
		if c, ok, err := p.cutOf(s.run(side), far[side]); err == nil && ok {
			cuts = append(cuts, c)
		}
	}
	next, lin, err := p.divideEdges(cuts, ids)
	if err != nil {
		return nil, nil, none, err
	}
	first, second := *s, *s
	for _, side := range [...]Side{SideA, SideB} {
		run, err := next.followRun(s.run(side), lin)
		if err != nil {
			return nil, nil, none, err
		}
		x, y, err := next.parted(run, far[side])
		if err != nil {
			return nil, nil, none, err
		}
		if side == SideA {
			first.A, second.A = x, y
		} else {
			first.B, second.B = x, y
		}
	}
	next.keepFullness(p, s, &first, 0)
	next.keepFullness(p, s, &second, far[s.Fuller])
	marks := partMarks(s, far[SideA]/p.runLength(s.A))
	first.Marks, second.Marks = marks[0], marks[1]
	parts := [2]*Seam{&second, &first}
	if from != EdgeStart {
		parts = [2]*Seam{&first, &second}
	}
	open := parts[1]
	open.ID, open.Opens = ids.make(kindSeam), true
	next = next.withSeam(parts[0])
	next.Seams = append(slices.Clip(next.Seams), open)
	return next, lin, parts, nil
}

// partMarks returns the marks of a seam that lie before and after a share of it, by their
// shares of the parts.
func partMarks(s *Seam, at float64) [2][]SeamMark {
	var parts [2][]SeamMark
	for _, m := range s.Marks {
		if m.At < at {
			m.At = toGrid(m.At / at)
			parts[0] = append(parts[0], m)
		} else if at < 1 {
			m.At = toGrid((m.At - at) / (1 - at))
			parts[1] = append(parts[1], m)
		}
	}
	return parts
}

// reinforceEnd marks on both sides where a seam ends that goes on open, to be sewn over, and
// returns the pieces.
func (o *Outcome) reinforceEnd(ids *idSource, sewn *Seam, from EdgeEnd) []ID {
	var touched []ID
	for _, run := range [...]Run{sewn.A, sewn.B} {
		u := run[0]
		if from != EdgeStart {
			u = run[len(run)-1]
		}
		q := o.Project.Piece(u.Piece).clone()
		path := q.EdgePath(q.indexOf(u.Edge))
		tip := path.Start()
		if u.Reversed == (from == EdgeStart) {
			tip = path.End()
		}
		if !q.reinforced(tip) {
			q.Lines = append(q.Lines, Line{
				ID: ids.make(kindLine), Name: unusedName("end of the opening", q.hasLineName), Kind: ReinforcePoint,
				Nodes: []Node{{ID: ids.make(kindNode), At: tip}},
			})
			o.Project = o.Project.withPiece(q)
		}
		if !slices.Contains(touched, q.ID) {
			touched = append(touched, q.ID)
		}
	}
	return touched
}
