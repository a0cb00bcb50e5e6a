package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// AddRowArgs are the arguments of AddRow.
type AddRowArgs struct {
	Kind     RowKind   `arg:"kind" says:"what is set along it" default:"buttons"`
	Edge     *EdgeRef  `arg:"edge" says:"the edge that the row keeps its distance from"`
	Line     *LineRef  `arg:"line" says:"in place of an edge, the line inside a piece along which it runs"`
	Distance *Length   `arg:"distance" says:"how far inside the edge the middles lie; without it, by their size"`
	From     EdgePlace `arg:"from" says:"where along the edge the row begins" default:"0%"`
	To       EdgePlace `arg:"to" says:"where it ends" default:"100%"`
	Size     *Length   `arg:"size" says:"the diameter of a button, snap or eyelet, the length of a buttonhole, hook or exit"`
	Count    *int      `arg:"count" says:"how many; without it, as many as their size asks for"`
	First    *Length   `arg:"first" says:"how far the first lies from the start of the row"`
	Last     *Length   `arg:"last" says:"how far the last lies from its end"`
	Overlap  *Length   `arg:"overlap" says:"for drawstring exits: how far the two lie apart about the middle, which the ends of the cord overlap by"`
	Across   *bool     `arg:"across" says:"whether buttonholes, hooks and exits lie square to the row"`
	Name     string    `arg:"name,optional" says:"what the row is called; without it, what is set along it"`
}

// AddRow sets a row of fastenings along an edge at a distance, or along a line.
var AddRow = register(Info{
	Name: "add-row", Title: "Set a row of fastenings", Group: groupMarks,
	Says: "Sets buttons, buttonholes, hooks, eyes, snaps, eyelets or drawstring exits along an edge or a line.",
}, addRow)

func addRow(p *Project, a AddRowArgs) (Outcome, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	if (a.Edge == nil) == (a.Line == nil) {
		return Outcome{}, errors.New("a row runs along an edge or along a line inside a piece; name one of the two")
	}
	if _, err := a.Kind.MarshalText(); err != nil {
		return Outcome{}, err
	}
	r := Row{Kind: a.Kind, Size: a.Kind.DefaultSize(), Across: rowRules[a.Kind].across}
	if a.Size != nil {
		r.Size = float64(*a.Size)
	}
	put(&r.Across, a.Across)
	ids := p.newIDs()
	l := Line{Kind: FastenLine, Name: name}
	piece := ID("")
	if a.Edge != nil {
		piece = a.Edge.Piece
	} else {
		piece = a.Line.Piece
	}
	out := Outcome{subject: p.subject([]ID{piece})}
	out.Project, err = onePiece(p, piece, func(q *Piece) error {
		path, err := q.rowPath(a, r, p.Unit)
		if err != nil {
			return err
		}
		l.runAlong(path, ids)
		if l.Name == "" {
			l.Name = unusedName(a.Kind.String(), q.hasLineName)
		}
		length := l.Path().Length()
		r.fill(length, a.Count, a.First, a.Last)
		if a.Overlap != nil {
			if a.Kind != Exits {
				return fmt.Errorf("only drawstring exits have an overlap, not %s", a.Kind)
			}
			r.overlapped(float64(*a.Overlap), length)
		}
		if err := r.sound(length, p.Unit); err != nil {
			return err
		}
		l.Row = &r
		l.ID = ids.make(kindLine)
		q.Lines = append(q.Lines, l)
		out.sayRow(&r, length, p.Unit)
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Made = l.ID
	out.Project.NextID = ids.next
	return out, nil
}

// rowPath returns the line along which a new row runs.
func (p *Piece) rowPath(a AddRowArgs, r Row, unit Unit) (geom.Path, error) {
	if a.Line != nil {
		l := p.Line(a.Line.Line)
		if l == nil {
			return nil, fmt.Errorf("line %s %w", a.Line.Line, errGone)
		}
		path := l.Path()
		if len(path) == 0 {
			return nil, fmt.Errorf("%s is a single point, and a row runs along a line", labelOf(l.Name, l.ID))
		}
		return path, nil
	}
	_, i := p.Edge(a.Edge.Edge)
	if i < 0 {
		return nil, fmt.Errorf("edge %s %w", a.Edge.Edge, errGone)
	}
	off := rowRules[a.Kind].off * r.Size
	if r.Across && a.Kind == Buttonholes {
		off = r.Size // the hole ends half its length before the edge
	}
	if a.Distance != nil {
		off = float64(*a.Distance)
	}
	return p.lineBeside(i, a.From, a.To, off, unit)
}

// sound reports what of a row cannot be set along a line of the length.
func (r *Row) sound(length float64, unit Unit) error {
	rule := rowRules[r.Kind]
	switch {
	case r.Count < 1 || r.Count > MaxCount:
		return fmt.Errorf("a row has 1 to %d fastenings, not %d", MaxCount, r.Count)
	case !(r.Size >= 0 && r.Size <= MaxCoordinate):
		return fmt.Errorf("a %s cannot be %s large", rule.one, unit.Format(r.Size))
	case !(r.First >= 0 && r.Last >= 0):
		return errors.New("the first and the last lie on the row, and not before or beyond it")
	case r.First+r.Last > length+unit.placeSlack():
		return fmt.Errorf("the row is %s long, and %s at its start and %s at its end leave no room", unit.Format(length), unit.Format(r.First), unit.Format(r.Last))
	}
	reach := r.Size
	if r.Across != (r.Kind == Buttonholes || r.Kind == Exits || r.Kind == Hooks || r.Kind == HookEyes) {
		reach = r.Size
	} else if r.Across {
		reach = 0 // square to the row they take no room along it
	}
	if gap := r.Gap(length); r.Count > 1 && gap < reach {
		return fmt.Errorf("%d of %s lie %s apart and would touch; set fewer, or smaller ones", r.Count, unit.Format(r.Size), unit.FormatSmall(gap))
	}
	return nil
}

// sayRow tells how a row has come out, and what to heed.
func (o *Outcome) sayRow(r *Row, length float64, unit Unit) {
	rule := rowRules[r.Kind]
	if gap := r.Gap(length); gap > 0 {
		o.say("%d %s, %s apart.", r.Count, r.Kind, unit.Format(gap))
	}
	if r.Size < rule.least {
		o.say("A %s of %s is smaller than can well be sewn; below %s draw it on, or use another closing.", rule.one, unit.Format(r.Size), unit.Format(rule.least))
	}
	if r.Kind == Exits {
		o.say("Cords can catch and strangle: on what a child wears or plays with, keep them short or leave them out, and follow local safety rules for toys and children's clothes.")
		return
	}
	o.say("Small parts can come off and be swallowed: on what a child wears or plays with, follow local safety rules for toys.")
}

// SetRowArgs are the arguments of SetRow. What is nil stays as it is.
type SetRowArgs struct {
	Line   LineRef  `arg:"line" says:"the line along which the row runs"`
	Kind   *RowKind `arg:"kind" says:"what is set along it"`
	Size   *Length  `arg:"size" says:"the diameter of a button, snap or eyelet, the length of a buttonhole, hook or exit"`
	Count  *int     `arg:"count" says:"how many"`
	First  *Length  `arg:"first" says:"how far the first lies from the start of the row"`
	Last   *Length  `arg:"last" says:"how far the last lies from its end"`
	Across *bool    `arg:"across" says:"whether buttonholes, hooks and exits lie square to the row"`
	Name   *string  `arg:"name" says:"what the row is called"`
}

// SetRow changes a row of fastenings, or makes one of a line inside a piece.
var SetRow = register(Info{
	Name: "set-row", Title: "Set fastenings", Group: groupMarks,
	Says: "Says what is set along a row of fastenings, how many and how large; a line becomes one.",
}, func(p *Project, a SetRowArgs) (Outcome, error) {
	out := Outcome{subject: p.subject([]ID{a.Line.Piece})}
	var err error
	out.Project, err = onePiece(p, a.Line.Piece, func(q *Piece) error {
		l := q.Line(a.Line.Line)
		if l == nil {
			return fmt.Errorf("line %s %w", a.Line.Line, errGone)
		}
		return l.setRow(a, p.Unit, &out)
	})
	return out, err
})

func (l *Line) setRow(a SetRowArgs, unit Unit, out *Outcome) error {
	path := l.Path()
	if len(path) == 0 {
		return fmt.Errorf("%s is a single point, and a row runs along a line", labelOf(l.Name, l.ID))
	}
	length := path.Length()
	if a.Name != nil {
		name, err := cleanName(*a.Name)
		if err != nil {
			return err
		}
		l.Name = name
	}
	r := Row{Kind: Buttons, Size: Buttons.DefaultSize()}
	if l.Row != nil {
		r = *l.Row
	} else {
		put(&r.Kind, a.Kind)
		r.Size, r.Across = r.Kind.DefaultSize(), rowRules[r.Kind].across
		r.fill(length, nil, nil, nil)
		out.say("%s is a row of fastenings now.", labelOf(l.Name, l.ID))
	}
	put(&r.Kind, a.Kind)
	put(&r.Across, a.Across)
	put(&r.Count, a.Count)
	for _, of := range [...]struct {
		to   *float64
		from *Length
	}{{&r.Size, a.Size}, {&r.First, a.First}, {&r.Last, a.Last}} {
		if of.from != nil {
			*of.to = float64(*of.from)
		}
	}
	if err := r.sound(length, unit); err != nil {
		return err
	}
	l.Kind, l.Row = FastenLine, &r
	out.sayRow(&r, length, unit)
	return nil
}
