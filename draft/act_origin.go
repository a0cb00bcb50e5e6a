package draft

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"hemlet/draft/body"
)

// SetOriginArgs are the arguments of SetOrigin.
type SetOriginArgs struct {
	Pieces    []PieceRef      `arg:"pieces" says:"the pieces"`
	Name      string          `arg:"name,optional" says:"what the pattern is called"`
	Size      string          `arg:"size,optional" says:"the size that it states, in its own words"`
	Line      DrawnLine       `arg:"line" says:"what its drawn lines were"`
	Allowance Length          `arg:"allowance" says:"how much allowance lay inside a drawn cut line" default:"0mm"`
	Measures  []OriginMeasure `arg:"measures,optional" says:"measures of the body for which it was made, such as bust_girth=91cm"`
	Under     []Worn          `arg:"under,optional" says:"what that body wore under it and how thick that is, such as shirt=0.5mm, or only 3mm"`
}

// SetOrigin says where pieces came from and for whom they were made: for another body
// they are fitted by the measures of that one. What was said of them before is forgotten,
// but not how the block by which they were drafted estimates measures.
var SetOrigin = register(Info{
	Name: "set-origin", Title: "Say what a pattern was made for", Group: groupPieces,
	Says: "Says where pieces came from, which size they state and for which body they were made.",
}, func(p *Project, a SetOriginArgs) (Outcome, error) {
	o, err := newOrigin(a)
	if err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	var fresh []*Origin // one for each way to estimate measures
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		var own []OriginEstimate
		if was := p.Origin(q.Origin); was != nil {
			own = was.Estimates
		}
		k := slices.IndexFunc(fresh, func(x *Origin) bool { return slices.Equal(x.Estimates, own) })
		if k < 0 {
			k = len(fresh)
			n := o.clone()
			n.ID, n.Estimates = ids.make(kindOrigin), slices.Clone(own)
			fresh = append(fresh, n)
		}
		q.Origin = fresh[k].ID
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Project.NextID = ids.next
	out.Project.Origins = append(slices.Clip(p.Origins), fresh...)
	if len(fresh) > 0 {
		out.Made = fresh[0].ID
	}
	return out, nil
})

// Args returns the arguments that say of pieces, which are still to be named, what the origin
// says, so that one thing of it can be said anew.
func (o *Origin) Args() SetOriginArgs {
	n := o.clone()
	return SetOriginArgs{Name: n.Name, Size: n.Size, Line: n.Line, Allowance: Length(n.Allowance), Measures: n.Measures, Under: n.Under}
}

// newOrigin returns what the arguments say, without an id.
func newOrigin(a SetOriginArgs) (*Origin, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return nil, err
	}
	size, err := cleanName(a.Size)
	if err != nil {
		return nil, err
	}
	if !(a.Allowance >= 0 && a.Allowance <= MaxAllowance) {
		return nil, fmt.Errorf("an allowance of %g mm cannot lie inside a line", float64(a.Allowance))
	}
	if a.Line == StitchDrawn && a.Allowance != 0 {
		return nil, errors.New("no allowance lies inside a stitching line; say that it was the cut line, or leave the allowance out")
	}
	o := &Origin{Name: name, Size: size, Line: a.Line, Allowance: toGrid(float64(a.Allowance))}
	for _, m := range a.Measures {
		if m, err = m.kept(); err != nil {
			return nil, err
		}
		if _, twice := o.Measure(m.Name); twice {
			return nil, fmt.Errorf("the measure %s is given twice", body.Words(m.Name))
		}
		o.Measures = append(o.Measures, OriginMeasure{m.Name, toGrid(m.Value)})
	}
	for _, u := range a.Under {
		if u, err = u.kept(); err != nil {
			return nil, err
		}
		o.Under = append(o.Under, u)
	}
	return o, nil
}

// kept returns the measure under the name by which measures are kept, so that it meets
// that of a wearer.
func (m OriginMeasure) kept() (OriginMeasure, error) {
	name, err := MeasureName(m.Name)
	if err != nil {
		return m, fmt.Errorf("a measure: %w", err)
	}
	m.Name = name
	if !(m.Value > 0 && m.Value <= MaxCoordinate) {
		return m, fmt.Errorf("the measure %s cannot be %g mm", body.Words(name), m.Value)
	}
	return m, nil
}

// String returns the measure as text that is read back the same.
func (m OriginMeasure) String() string { return m.Name + "=" + mmText(m.Value) }

// ParseOriginMeasure reads what String writes.
func ParseOriginMeasure(text string) (OriginMeasure, error) {
	name, value, ok := strings.Cut(text, "=")
	if !ok {
		return OriginMeasure{}, fmt.Errorf("%q is no measure; write its name and its length, such as bust_girth=91cm", text)
	}
	mm, err := ParseLength(value)
	if err != nil {
		return OriginMeasure{}, err
	}
	return OriginMeasure{strings.TrimSpace(name), mm}.kept()
}

func (m *OriginMeasure) readArg(_ *Project, text string) (err error) {
	*m, err = ParseOriginMeasure(text)
	return err
}

func (*OriginMeasure) argKind() string { return "measure=length" }
