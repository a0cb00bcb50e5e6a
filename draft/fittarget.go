package draft

import (
	"fmt"
	"math"
	"strings"

	"hemlet/draft/body"
)

// FitTarget is one row of what a fit is to reach: a stretch of a piece with the length that
// it had, the one that is wanted of it for the wearer, and the one that it has.
type FitTarget struct {
	// Piece is the fitted piece; where that is gone by now it is the one that the fit makes.
	Piece *Piece
	Span  Span
	// Was, Wants and Reached are in mm. Wants is 0 where nothing is wanted: see Known and By.
	Was, Wants, Reached float64
	// Off is how much longer than wanted the stretch is, in mm. ByHand says that the fit has
	// reached what is wanted, and that it was changed by hand since.
	Off    float64
	ByHand bool
	// By is the rule by which it gets its length, TargetAsFit already made the rule that the fit
	// has; Given says that somebody chose it for this stretch. Value in mm is the ease or the
	// length that was given with it. Rule is all that as it is written.
	By    TargetBy
	Given bool
	Value float64
	Rule  string
	// Old and New are the measure that the stretch stands for, of the body for which the
	// pattern was made and of the wearer, in mm; 0 where nothing is known.
	Old, New                   float64
	OldEstimated, NewEstimated bool
	// OldUnder and NewUnder are by how much in mm what is worn underneath makes the measure
	// of either body larger, which Old and New do not count.
	OldUnder, NewUnder float64
	// oldFromSpan says that Old was worked out from the stretch itself.
	oldFromSpan bool
	// Known says that the stretch is a target: what is wanted of it could be worked out.
	Known  bool
	Weight float64
	// Why says in a sentence what it is not a target for, or what had to be assumed; empty
	// where there is nothing to say.
	Why string
}

// fitGoal is a span with what is wanted of it, as the solve takes it.
type fitGoal struct {
	key  fitPart
	want float64
	// weight is 0 for a span of which nothing is wanted.
	weight float64
}

// fitBodies are the two bodies of a fit, by the piece. A pattern can be of several origins:
// each piece has its own old body, nil where nothing is known of one, and reads both as the
// block by which it was drafted does.
type fitBodies struct {
	old, new map[ID]*body.Body
	// oldUnder and newUnder are how thick in mm what they wear underneath is.
	oldUnder map[ID]float64
	newUnder float64
}

// roundLayer returns by how much a measure grows with each mm of cloth that is worn under:
// a girth by 2 pi, as a round body does, and one of the two arcs of which it is made by half
// of that; no other measure does. (Common practice, no source.)
func roundLayer(measure string) float64 {
	switch {
	case strings.HasSuffix(measure, body.GirthOf("")):
		return 2 * math.Pi
	case strings.HasSuffix(measure, body.ArcFrontOf("")), strings.HasSuffix(measure, body.ArcBackOf("")):
		return math.Pi
	}
	return 0
}

// target works out what is wanted of a span of a source piece that is was mm long there.
func (f *fitPlan) target(piece *Piece, span Span, was float64, bodies fitBodies) FitTarget {
	key := fitPart{piece.ID, span.ID}
	rule, given := f.targets[key]
	t := FitTarget{Piece: piece, Span: span, Was: was, By: rule.by, Given: given && rule.by != TargetAsFit, Value: rule.value, Weight: f.weight(key)}
	if t.By == TargetAsFit {
		t.By, t.Value = TargetScaled, 0
		if f.ease == EaseKept {
			t.By = TargetKept
		}
	}
	t.Rule = targetRule{t.By, t.Value}.String()
	t.readBodies(bodies)
	layer := roundLayer(span.Measure)
	t.OldUnder, t.NewUnder = layer*bodies.oldUnder[piece.ID], layer*bodies.newUnder
	t.want()
	return t
}

// readBodies finds the measure of both bodies that the span stands for.
func (t *FitTarget) readBodies(bodies fitBodies) {
	if t.Span.Measure == "" {
		return
	}
	if old := bodies.old[t.Piece.ID]; old != nil {
		if m, ok := old.Get(t.Span.Measure); ok {
			t.Old, t.OldEstimated = m.Value, m.Estimated && !m.Summed
		}
	}
	if now := bodies.new[t.Piece.ID]; now != nil {
		if m, ok := now.Get(t.Span.Measure); ok {
			t.New, t.NewEstimated = m.Value, m.Estimated && !m.Summed
		}
	}
	if t.Old > 0 || !(t.Span.Share > 0) {
		return
	}
	// The span says itself what of it is ease: the rest is its share of the measure.
	if bare := t.Was - t.Span.Ease; bare > 0 {
		t.Old, t.OldEstimated, t.oldFromSpan = bare/t.Span.Share, true, true
		t.Why = fmt.Sprintf("The pattern does not say the measure %s for which it was made; it is taken from the stretch itself, less its ease.", body.Words(t.Span.Measure))
	}
}

// want works out what is wanted by the rule.
func (t *FitTarget) want() {
	measure := body.Words(t.Span.Measure)
	switch {
	case t.By == TargetFree:
		return
	case t.By == TargetLength:
		t.Wants, t.Known = t.Value, true
		return
	case t.Span.Measure == "":
		t.Why = "It stands for no measure, and so nothing is wanted of it; give it a length to have it become that long."
		return
	case t.New <= 0:
		t.Why = fmt.Sprintf("Nothing is known of the measure %s of the wearer; take it, or give this stretch a length.", measure)
		return
	case t.By == TargetEase: // all of it, as with a block
		t.Wants = t.Span.Share*t.New + t.Value
	case t.Old <= 0:
		t.Why = fmt.Sprintf("Nothing is known of the measure %s of the body for which the pattern was made; say it, or give this stretch an ease or a length.", measure)
		return
	case t.By == TargetScaled:
		t.Wants = (t.Was-t.Span.Share*t.OldUnder)*t.New/t.Old + t.Span.Share*t.NewUnder
	default:
		t.Wants = t.Was + t.Span.Share*(t.New+t.NewUnder-t.Old-t.OldUnder)
	}
	if t.Known = t.Wants >= shortestStretch && t.Wants <= MaxCoordinate; !t.Known {
		t.Why = fmt.Sprintf("By its rule it would be %.3g mm long, which no stretch can be; give it a length.", t.Wants)
		t.Wants = 0
	}
}

// goal returns what the solve takes of a target.
func (t *FitTarget) goal() fitGoal {
	g := fitGoal{key: fitPart{t.Piece.ID, t.Span.ID}}
	if t.Known {
		g.want, g.weight = t.Wants, t.Weight
	}
	return g
}
