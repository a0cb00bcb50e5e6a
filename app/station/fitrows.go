package station

import (
	"math"
	"strconv"

	"hemlet/app/control"
	"hemlet/draft"
	"hemlet/draft/body"
)

// rowKey names a stretch of a piece.
type rowKey struct{ piece, span draft.ID }

// fitRow is a stretch as the table shows it: what it stands for and, once the pattern is
// fitted, what is wanted of it and what it has become.
type fitRow struct {
	key   rowKey
	piece *draft.Piece
	span  draft.Span
	// was is what it measures in the pattern, then and now the measure of the body that the
	// pattern was made for and of the wearer, 0 where nothing is known.
	was, then, now  float64
	thenEst, nowEst bool
	target          *draft.FitTarget // nil before there is a fit
	// came says that the piece is fitted and the figures are those of the pattern as it came.
	came          bool
	level         control.Level
	contradictory bool
}

// rows returns what the table lists: of a fit its targets, else the stretches of the
// pieces in hand.
func (f *Fitting) spanRows() []fitRow {
	if fit := f.fit(); fit != nil && f.step != stepMade {
		return f.targetRows(fit)
	}
	var out []fitRow
	for _, piece := range f.scope.pieces() {
		known, wearer := f.madeForBody(piece), f.wearerAs(piece)
		for _, span := range piece.Spans {
			if span.Measure == "" {
				continue // a dimension line, which stands for nothing
			}
			r := fitRow{key: rowKey{piece.ID, span.ID}, piece: piece, span: span, level: control.Holds}
			r.then, r.thenEst = measureOf(known, span.Measure)
			r.was, r.came = f.asItCame(piece, span)
			if r.came && r.then > 0 {
				// What the pattern as it came had more than its body, not what the fit left of it.
				r.span.Ease = r.was - span.Share*r.then
			}
			r.now, r.nowEst = measureOf(wearer, span.Measure)
			switch {
			case r.then == 0:
				r.level = control.Note
			case farTooSmall(r.was-span.Share*r.then, span.Share*r.then):
				r.level = control.LookAgain
			}
			out = append(out, r)
		}
	}
	return out
}

// measureOf returns a measure of a body, 0 where nothing is known of it, and whether it was
// worked out from others.
func measureOf(b *body.Body, name string) (mm float64, estimated bool) {
	if b == nil {
		return 0, false
	}
	k, ok := b.Get(name)
	if !ok {
		return 0, false
	}
	return k.Value, k.Estimated
}

// holdsWithin is how far off its target, in mm, a stretch may be and count as reached: what
// no tape shows.
const holdsWithin = 0.05

// targetRows returns the targets of a fit.
func (f *Fitting) targetRows(fit *draft.FitState) []fitRow {
	var out []fitRow
	for i := range fit.Targets {
		t := &fit.Targets[i]
		if t.Span.Measure == "" && t.By != draft.TargetLength {
			continue // a dimension line of which nothing is wanted
		}
		r := fitRow{key: rowKey{t.Piece.ID, t.Span.ID}, piece: t.Piece, span: t.Span, was: t.Was, then: t.Old, now: t.New, thenEst: t.OldEstimated, nowEst: t.NewEstimated, target: t}
		switch {
		case t.By == draft.TargetFree:
			r.level = control.Note
		case !t.Known:
			r.level = control.LookAgain
		case t.ByHand:
			r.level = control.Note
		case math.Abs(t.Off) > holdsWithin:
			r.level = control.Problem
			r.contradictory = true
		default:
			r.level = control.Holds
		}
		out = append(out, r)
	}
	return out
}

// fitColumn is a column of the table.
type fitColumn int

// The columns in order.
const (
	fitState fitColumn = iota
	fitPiece
	fitName
	fitMeasure
	fitShare
	fitWas
	fitThen
	fitNow
	fitTimes
	fitEase
	fitWants
	fitReached
	fitOff
	fitRule
	fitWeight
	fitDrop
	fitColumnCount
)

var fitColumnWords = [fitColumnCount]string{
	fitState: "", fitPiece: "Piece", fitName: "Stretch", fitMeasure: "Stands for", fitShare: "Part", fitWas: "Was", fitThen: "Made for", fitNow: "Wearer",
	fitTimes: "Becomes", fitEase: "Ease", fitWants: "Wants", fitReached: "Reached", fitOff: "Off by", fitRule: "Rule", fitWeight: "Counts", fitDrop: "",
}

// Widths of the columns in screen units by step; the name takes what is left. 0 is not shown
// in that step.
var fitColumnWide = [stepCount][fitColumnCount]float32{
	stepMade: {fitState: 26, fitPiece: 104, fitMeasure: 156, fitShare: 54, fitWas: 76, fitThen: 88, fitEase: 76, fitDrop: 48},
	stepWhom: {fitState: 26, fitPiece: 104, fitMeasure: 146, fitShare: 50, fitWas: 72, fitThen: 84, fitNow: 84, fitTimes: 70},
	stepSee:  {fitState: 26, fitPiece: 90, fitMeasure: 164, fitWas: 62, fitWants: 68, fitReached: 68, fitOff: 74, fitRule: 106, fitWeight: 66},
}

// columns returns the step whose columns are shown: those of the last one need a fit.
func (f *Fitting) columns() fitStep {
	if f.step == stepSee && f.fit() == nil {
		return stepWhom
	}
	return f.step
}

// fitLine is a column in one of the two lines of a row; its width is 0 where it takes what is
// left.
type fitLine struct {
	column fitColumn
	wide   float32
}

// fitTwoLines are the two lines of a row by step, where there is no room for one: what is
// worked with stands in the upper one.
var fitTwoLines = [stepCount][2][]fitLine{
	stepMade: {
		{{fitState, 26}, {fitName, 0}, {fitWas, 62}, {fitThen, 76}, {fitEase, 62}},
		{{fitMeasure, 0}, {fitShare, 54}, {fitDrop, 48}},
	},
	stepWhom: {
		{{fitState, 26}, {fitName, 0}, {fitWas, 62}, {fitThen, 76}, {fitNow, 76}},
		{{fitMeasure, 0}, {fitShare, 54}, {fitTimes, 70}},
	},
	stepSee: {
		{{fitState, 26}, {fitName, 0}, {fitWants, 60}, {fitReached, 64}, {fitOff, 68}},
		{{fitMeasure, 0}, {fitWas, 56}, {fitRule, 106}, {fitWeight, 64}},
	},
}

// aboutEqual marks a figure that was worked out from others.
func aboutEqual(u draft.Unit, mm float64, estimated bool) string {
	if mm == 0 {
		return "?"
	}
	if estimated {
		return "≈ " + u.FormatBare(mm)
	}
	return u.FormatBare(mm)
}

// cells returns the texts of a row in a step.
func (r *fitRow) cells(u draft.Unit, step fitStep) [fitColumnCount]string {
	var out [fitColumnCount]string
	out[fitPiece], out[fitName], out[fitWas] = r.piece.Name, r.span.Name, u.FormatBare(r.was)
	if r.span.Measure != "" {
		out[fitMeasure], out[fitShare] = measureShort(r.span.Measure), shareWords(r.span.Share)
		out[fitThen], out[fitNow] = aboutEqual(u, r.then, r.thenEst), aboutEqual(u, r.now, r.nowEst)
	}
	if step == stepSee && r.target != nil && r.span.Measure != "" {
		out[fitMeasure] = standsFor(r.span.Measure, r.span.Share)
	}
	if r.then > 0 && r.now > 0 {
		out[fitTimes] = "× " + strconv.FormatFloat(r.now/r.then, 'f', 3, 64)
	}
	out[fitEase], out[fitDrop] = withSign(u, r.span.Ease), "Drop"
	if t := r.target; t != nil {
		out[fitRule], out[fitWeight] = ruleWords(t.By, t.Value, t.Given, u), weightWords(t.Weight)
		out[fitReached] = u.FormatBare(t.Reached)
		if t.Known {
			out[fitWants], out[fitOff] = u.FormatBare(t.Wants), withSign(u, t.Off)
		} else {
			out[fitWants], out[fitOff] = "–", "not known"
		}
	}
	return out
}

// ruleWords says by which rule a stretch gets its length.
func ruleWords(by draft.TargetBy, value float64, given bool, u draft.Unit) string {
	switch by {
	case draft.TargetScaled:
		return "with the body"
	case draft.TargetKept:
		return "same ease"
	case draft.TargetEase:
		return "ease " + u.Format(value)
	case draft.TargetLength:
		return "length given"
	case draft.TargetFree:
		return "goes along"
	}
	return "as the others"
}

// countsWords are the words for what a stretch counts against others, with the weights.
var countsWords = []struct {
	word   string
	weight float64
}{{"a little", 0.1}, {"as usual", 1}, {"much", 10}, {"most", 100}}

func weightWords(w float64) string {
	for _, c := range countsWords {
		if c.weight == w {
			return c.word
		}
	}
	return "× " + strconv.FormatFloat(w, 'g', 3, 64)
}
