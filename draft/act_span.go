package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/draft/body"
)

// AddSpanArgs are the arguments of AddSpan.
type AddSpanArgs struct {
	Measure MeasureRef `arg:"measure" says:"the measure of the wearer, such as bust_girth"`
	From    *NodeRef   `arg:"from" says:"the point from which the stretch runs straight"`
	To      *NodeRef   `arg:"to" says:"the point to which it runs"`
	Edges   []EdgeRef  `arg:"edges,optional" says:"in place of points, edges of one piece"`
	Lines   []LineRef  `arg:"lines,optional" says:"or lines inside a piece"`
	Share   float64    `arg:"share" says:"which part of the measure it stands for: a quarter of a girth is 25%" default:"100%"`
	Ease    Length     `arg:"ease" says:"what is meant to be added to that part" default:"0mm"`
	Name    string     `arg:"name,optional" says:"what the stretch is called"`
	Way     SpanWay    `arg:"way" says:"between points, how it is measured: straight, or only its part along or across the grain" default:"straight"`
}

// MeasureRef is the name of a measure, such as bust_girth; no wearer need have it.
type MeasureRef string

func (m *MeasureRef) readArg(p *Project, text string) error {
	name, err := p.measureName(text)
	*m = MeasureRef(name)
	return err
}

func (*MeasureRef) argKind() string { return "measure" }

// AddSpan says which stretch of a piece stands for which measure of the wearer.
var AddSpan = register(Info{
	Name: "add-span", Title: "Say which measure a stretch stands for", Group: groupMarks,
	Says: "Says which stretch of a piece stands for which measure of the wearer, so that it can be fitted.",
}, func(p *Project, a AddSpanArgs) (Outcome, error) {
	measure, err := p.measureName(string(a.Measure))
	if err != nil {
		return Outcome{}, fmt.Errorf("the measure: %w", err)
	}
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	if !(a.Share > 0 && a.Share <= maxShare) {
		return Outcome{}, fmt.Errorf("a stretch cannot stand for %g times a measure", a.Share)
	}
	if !(math.Abs(float64(a.Ease)) <= MaxCoordinate) {
		return Outcome{}, errors.New("the ease is too much")
	}
	if name == "" {
		name = body.Words(measure)
	}
	s := Span{Name: name, Measure: measure, Share: a.Share, Ease: toGrid(float64(a.Ease))}
	return p.addSpan(s, AddDimensionArgs{From: a.From, To: a.To, Edges: a.Edges, Lines: a.Lines, Way: a.Way},
		fmt.Errorf("this stretch stands for %s already", body.Words(measure)))
})
