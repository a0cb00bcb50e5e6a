package draft

import (
	"errors"
	"fmt"
)

// Pleating says how the cloth of a pleat is laid.
type Pleating int

const (
	Knife    Pleating = iota // folded once, all to one side
	Box                      // two folds turned under a face between them
	Inverted                 // two folds that meet over the cloth between them
)

var pleatingNames = names[Pleating]{"knife", "box", "inverted"}

func (p Pleating) String() string               { return pleatingNames.text(p) }
func (p Pleating) MarshalText() ([]byte, error) { return pleatingNames.marshal(p) }

// UnmarshalText reads knife, box or inverted.
func (p *Pleating) UnmarshalText(b []byte) error {
	return pleatingNames.unmarshal(p, b, "kind of pleat")
}

// TakenFrom says where the cloth of pleats and tucks comes from.
type TakenFrom int

const (
	Added TakenFrom = iota // the edge stays as long as it is, the piece gets wider
	Taken                  // the piece stays as wide as it is, the edge gets shorter
)

var takenFromNames = names[TakenFrom]{"added", "taken"}

func (t TakenFrom) String() string               { return takenFromNames.text(t) }
func (t TakenFrom) MarshalText() ([]byte, error) { return takenFromNames.marshal(t) }

// UnmarshalText reads added or taken.
func (t *TakenFrom) UnmarshalText(b []byte) error {
	return takenFromNames.unmarshal(t, b, "where the cloth comes from")
}

// AddPleatsArgs are the arguments of AddPleats.
type AddPleatsArgs struct {
	Edge   EdgeRef    `arg:"edge" says:"the edge that is pleated"`
	Count  int        `arg:"count" says:"how many pleats"`
	Depth  Length     `arg:"depth" says:"how deep each fold is; a knife pleat takes twice as much, a box or inverted one four times"`
	Kind   Pleating   `arg:"kind" says:"how they are laid" default:"knife"`
	Press  Press      `arg:"press" says:"to which side knife pleats are pressed" default:"to start"`
	From   *EdgePlace `arg:"from" says:"where on the edge the pleats begin; without it, at its start"`
	To     *EdgePlace `arg:"to" says:"where they end; without it, at the end"`
	Cloth  TakenFrom  `arg:"cloth" says:"added: the edge keeps its length and the piece gets wider; taken: the edge gets shorter" default:"added"`
	Face   *Length    `arg:"face" says:"how wide the face of a box pleat is; without it, twice the depth, so that the folds meet behind"`
	Length *Length    `arg:"length" says:"how far in the folds are marked; without it, a quarter of the way across"`
	Across *EdgeRef   `arg:"across" says:"the edge across, to which the folds run; without it, the one that lies there"`
	Name   string     `arg:"name,optional" says:"their name, with a number after it"`
}

// AddPleats lays pleats at an edge, evenly over all of it or over a stretch. Their mouths
// count for no length, and the cut line across them is that of folded paper.
var AddPleats = register(Info{
	Name: "add-pleats", Title: "Pleats", Group: groupCutting,
	Says: "Lays knife, box or inverted pleats at an edge; the piece gets wider by what they take up, or the edge shorter.",
}, func(p *Project, a AddPleatsArgs) (Outcome, error) {
	f := folding{edge: a.Edge, count: a.Count, depth: float64(a.Depth), from: a.From, to: a.To, cloth: a.Cloth, across: a.Across, length: a.Length, fold: Pleat, name: a.Name}
	if f.name == "" {
		f.name = "pleat"
	}
	f.cell = []creased{{press: a.Press, layers: 2}}
	switch a.Kind {
	case Knife:
		if a.Press == PressOpen {
			return Outcome{}, errors.New("a knife pleat is pressed to one side; open, it is an inverted pleat")
		}
	case Box:
		face := 2 * f.depth
		if a.Face != nil {
			face = float64(*a.Face)
		}
		f.cell = []creased{{aside: -face / 2, press: PressToEnd, layers: 2}, {aside: face / 2, press: PressToStart, layers: 2}}
	case Inverted:
		f.cell = []creased{{press: PressOpen, layers: 4}}
	}
	if a.Face != nil && a.Kind != Box {
		return Outcome{}, errors.New("only a box pleat has a face of its own")
	}
	return f.do(p)
})

// AddTucksArgs are the arguments of AddTucks.
type AddTucksArgs struct {
	Edge    EdgeRef    `arg:"edge" says:"the edge at which the tucks begin"`
	Count   int        `arg:"count" says:"how many tucks"`
	Depth   Length     `arg:"depth" says:"how deep each is; it takes twice as much cloth"`
	Spacing *Length    `arg:"spacing" says:"how far they are apart as sewn; without it, evenly over the stretch"`
	Length  *Length    `arg:"length" says:"how long they are sewn; without it, all the way to the edge across"`
	Press   Press      `arg:"press" says:"to which side they are pressed" default:"to start"`
	From    *EdgePlace `arg:"from" says:"where on the edge the tucks begin; without it, at its start"`
	To      *EdgePlace `arg:"to" says:"where they end; without it, at the end"`
	Cloth   TakenFrom  `arg:"cloth" says:"added: the edge keeps its length and the piece gets wider; taken: the edge gets shorter" default:"added"`
	Across  *EdgeRef   `arg:"across" says:"the edge across, to which the tucks run; without it, the one that lies there"`
	Name    string     `arg:"name,optional" says:"their name, with a number after it"`
}

// AddTucks sews tucks into a piece: folds along two parallel lines, from an edge on for a
// length or all the way across. Each takes twice its depth.
var AddTucks = register(Info{
	Name: "add-tucks", Title: "Tucks", Group: groupCutting,
	Says: "Sews tucks into a piece from an edge on, or all the way across; the piece gets wider by what they take up, or the edge shorter.",
}, func(p *Project, a AddTucksArgs) (Outcome, error) {
	f := folding{edge: a.Edge, count: a.Count, depth: float64(a.Depth), from: a.From, to: a.To, cloth: a.Cloth, across: a.Across, length: a.Length, fold: Tuck, name: a.Name}
	if f.name == "" {
		f.name = "tuck"
	}
	if a.Spacing != nil {
		f.spacing = float64(*a.Spacing)
	}
	if a.Press == PressOpen {
		return Outcome{}, errors.New("a tuck is pressed to one side")
	}
	f.cell = []creased{{press: a.Press, layers: 2}}
	f.through = a.Length == nil
	return f.do(p)
})

// folding is a row of pleats or tucks under way.
type folding struct {
	edge     EdgeRef
	count    int
	depth    float64
	spacing  float64
	from, to *EdgePlace
	cloth    TakenFrom
	across   *EdgeRef
	length   *Length
	fold     Fold
	name     string
	// cell are the mouths of one pleat.
	cell []creased
	// through says that a tuck is sewn all the way across.
	through bool
}

// creased is one mouth of a pleat: how far in mm it lies from the pleat's middle, as
// sewn, how it is pressed, and how many times the depth it takes.
type creased struct {
	aside  float64
	press  Press
	layers float64
}

// mouthPlace is one mouth on the edge as sewn, in mm from its start.
type mouthPlace struct {
	at float64
	creased
}

func (f folding) do(p *Project) (Outcome, error) {
	switch {
	case f.count < 1 || f.count > maxSlashes:
		return Outcome{}, fmt.Errorf("1 to %d can be laid at once, not %d", maxSlashes, f.count)
	case !(f.depth >= shortestStretch):
		return Outcome{}, errors.New("a fold without depth takes nothing up")
	case f.length != nil && !(float64(*f.length) >= shortestStretch):
		return Outcome{}, errors.New("a fold without length takes nothing up")
	}
	if f.cloth == Taken {
		return f.take(p)
	}
	var mouths []mouthPlace
	var w *spread
	var long []float64
	out, err := spreadPiece(p, f.edge, nil, func(q *Piece, ids *idSource) (*spread, float64, error) {
		var err error
		if w, err = newSpread(q, f.edge, f.across, nil, ids); err != nil {
			return nil, 0, err
		}
		if mouths, err = f.mouths(q, w.near.edge, w.near.length, p.Unit); err != nil {
			return nil, 0, err
		}
		openings := make([]opening, len(mouths))
		for i, m := range mouths {
			openings[i] = opening{at: m.at / w.near.length, near: m.layers * f.depth, mouth: true, farMouth: f.through}
		}
		w.open(Parallel, openings)
		w.rulings = make(map[rulingKey]ruling)
		for _, o := range openings {
			long = append(long, w.ruling(o.at, false).length)
		}
		w.folds = func(g spreadGap) Dart {
			m := mouths[g.opening]
			d := Dart{ID: ids.make(kindDart), Edge: g.edge, From: g.from, To: g.to, Press: m.press, Fold: f.fold}
			length := long[g.opening] / 4
			switch {
			case f.through:
				length = long[g.opening] / 2
			case f.length != nil:
				length = float64(*f.length)
			}
			if g.edge != f.edge.Edge { // run the other way
				d.Press = otherSide(d.Press)
			}
			return f.laid(q, d, length)
		}
		return w, 0, nil
	})
	return out, err
}

// otherSide returns the same way to press as the edge across has it, which runs against
// this one.
func otherSide(p Press) Press {
	switch p {
	case PressToStart:
		return PressToEnd
	case PressToEnd:
		return PressToStart
	default:
		return p
	}
}

// laid returns the fold with its name and the end of its lines.
func (f folding) laid(q *Piece, d Dart, length float64) Dart {
	d.Name = unusedName(f.name, q.hasDartName)
	m, _ := q.mouthAt(&d)
	d.Apex = m.middle().Add(m.square().Mul(length))
	return d
}

// mouths returns where the mouths lie on the edge as sewn, given its length.
func (f folding) mouths(q *Piece, i int, length float64, unit Unit) ([]mouthPlace, error) {
	from, to, err := f.stretch(q, i, length, unit)
	if err != nil {
		return nil, err
	}
	pitch := (to - from) / float64(f.count)
	first := from + pitch/2
	if f.spacing > 0 {
		pitch = f.spacing
		first = (from+to)/2 - pitch*float64(f.count-1)/2
	}
	var list []mouthPlace
	for k := range f.count {
		for _, c := range f.cell {
			list = append(list, mouthPlace{first + pitch*float64(k) + c.aside, c})
		}
	}
	for i, m := range list {
		if m.at < from+shortestStretch || m.at > to-shortestStretch {
			return nil, fmt.Errorf("they need more of the edge than the %s that there are", unit.Format(to-from))
		}
		if i > 0 && m.at-list[i-1].at < leastFace {
			return nil, errors.New("they would lie on one another; lay fewer, or narrower ones")
		}
	}
	return list, nil
}

// leastFace is how far apart two mouths are at least, in mm as sewn: two needles' widths.
const leastFace = 0.5

func (f folding) stretch(q *Piece, i int, length float64, unit Unit) (from, to float64, err error) {
	to = length
	if f.from != nil {
		from, err = f.from.along(q, i, unit)
	}
	if err == nil && f.to != nil {
		to, err = f.to.along(q, i, unit)
	}
	if err == nil && to-from < shortestStretch {
		err = errors.New("the stretch ends before it begins")
	}
	return from, to, err
}

// take lays the folds in the cloth that is there: the edge gets shorter by what they take
// up.
func (f folding) take(p *Project) (Outcome, error) {
	out := Outcome{unit: p.Unit, subject: p.subject([]ID{f.edge.Piece})}
	ids := p.newIDs()
	next, err := onePiece(p, f.edge.Piece, func(q *Piece) error {
		_, i := q.Edge(f.edge.Edge)
		if i < 0 {
			return fmt.Errorf("edge %s %w", f.edge.Edge, errGone)
		}
		if q.Edges[i].Kind == FoldEdge {
			return fmt.Errorf("edge %s is a fold, which is not pleated", q.Edges[i].label())
		}
		if f.through {
			return errors.New("tucks that are taken from the cloth that is there end inside the piece; give their length")
		}
		old, length := q.clone(), q.EdgeLength(i)
		from, to, err := f.stretch(q, i, length, p.Unit)
		if err != nil {
			return err
		}
		taken := 0.0
		for _, c := range f.cell {
			taken += c.layers * f.depth * float64(f.count)
		}
		if taken >= to-from {
			return fmt.Errorf("they take up %s, and there are %s", p.Unit.Format(taken), p.Unit.Format(to-from))
		}
		// As sewn the stretch is shorter by what is taken up.
		sewn := f
		sewn.from, sewn.to = &EdgePlace{At: from}, &EdgePlace{At: to - taken}
		mouths, err := sewn.mouths(q, i, length, p.Unit)
		if err != nil {
			return err
		}
		was, is := []float64{0}, []float64{0}
		before := 0.0
		for _, m := range mouths {
			was, is = append(was, m.at+before, m.at+before+m.layers*f.depth), append(is, m.at, m.at)
			before += m.layers * f.depth
			d := Dart{ID: ids.make(kindDart), Edge: f.edge.Edge, Press: m.press, Fold: f.fold}
			// What is open already counts for no length.
			if d.From, d.To, err = q.openMouth(i, m.at, m.at+m.layers*f.depth, ids.make(kindNode), ids.make(kindNode)); err != nil {
				return err
			}
			q.Darts = append(q.Darts, d)
			long := dartProportion * f.depth
			if f.length != nil {
				long = float64(*f.length)
			}
			q.Darts[len(q.Darts)-1] = f.laid(q, d, long)
			out.Made = d.ID
		}
		was, is = append(was, length), append(is, q.EdgeLength(i))
		out.Lineage = Lineage{f.edge.Edge: heirsAlong(f.edge.Edge, was, is)}
		return q.soundAfter(old)
	})
	if err != nil {
		return Outcome{}, err
	}
	next.NextID = ids.next
	out.Project = next.meanTaken(p, f.edge, &out)
	return out, nil
}
