package draft

import (
	"fmt"
	"strings"

	"hemlet/draft/body"
)

// bellyForgotten tells that a wearer is widest round the belly, and that pieces go by the
// hips there, nil where none does. Where they have room for the belly it is only a remark:
// that they do not follow it, whatever it becomes.
func (st *FitState) bellyForgotten(unit Unit, key string) *Finding {
	if st.Wearer == nil {
		return nil
	}
	b := body.Resolve(st.Wearer.Given())
	turns := st.turnsToBelly()
	if len(turns) == 0 {
		return nil
	}
	f := &Finding{Key: key + "belly", Level: Remark, About: st.Label, Derivation: st.Derivation.ID, Wearer: st.Wearer.ID, Measures: []string{"belly_girth"}}
	var names, spans []string
	for _, x := range turns {
		if x.tight {
			f.Level = LookAgain
		}
		names = append(names, labelOf(x.target.Span.Name, x.target.Span.ID)+" of "+x.target.Piece.label())
		spans = append(spans, partText(x.target.Piece.ID, x.target.Span.ID))
	}
	f.mend("Let "+stretchNames(names)+" go by the belly", "follow-belly", "spans", strings.Join(spans, " + "))
	belly, _ := b.Get("belly_girth")
	f.Says = fmt.Sprintf("%s is widest round the belly, %s, and the pattern goes by the hips there: it may be too tight.", labelOf(st.Wearer.Name, st.Wearer.ID), unit.Format(belly.Value))
	if f.Level == Remark {
		f.Says = fmt.Sprintf("%s is widest round the belly, %s, and the pattern goes by the hips there. It has room for the belly, but does not follow it when that changes. By the belly it stays as wide as it is, and follows.", labelOf(st.Wearer.Name, st.Wearer.ID), unit.Format(belly.Value))
	}
	return f
}

// bellyTurn is how a stretch that goes by the hips goes by the belly instead.
type bellyTurn struct {
	target  *FitTarget
	measure string
	ease    float64 // mm
	// tight says that its garment has no room for the belly.
	tight bool
}

// turnsToBelly lists the stretches that go by the hips of a wearer who is widest round the
// belly, as they would go by that, of pieces on which nothing does yet. All are for the
// pattern as it is: where several are turned, they are turned by one list.
func (st *FitState) turnsToBelly() []bellyTurn {
	if st.Wearer == nil || st.Err != nil {
		return nil
	}
	b := body.Resolve(st.Wearer.Given())
	if !bellyStandsOut(b) {
		return nil
	}
	follows := make(map[ID]bool)
	for i := range st.Targets {
		if t := &st.Targets[i]; levelOfMeasure(t.Span.Measure) == "belly" {
			follows[t.Piece.ID] = true
		}
	}
	tight := st.tightRound(b)
	var out []bellyTurn
	for i := range st.Targets {
		t := &st.Targets[i]
		if follows[t.Piece.ID] || !t.byHips() {
			continue
		}
		x := bellyTurn{target: t, measure: bellyFor(t.Span.Measure), tight: tight[t.worn()]}
		round := b.MM(x.measure)
		// With room for the belly it stays as wide as it is, and only follows from now on.
		wants := t.Wants
		if x.tight {
			wants = max(wants, st.roundBelly(t, round))
		}
		x.ease = toGrid(wants - t.Span.Share*round)
		out = append(out, x)
	}
	return out
}

// turnToBelly returns how a stretch of a fitted piece is turned to the belly, nil where it
// goes by the belly already or has no need to.
func (s *Slots) turnToBelly(p *Project, r SpanRef) *bellyTurn {
	d := p.FitOf(p.Piece(r.Piece))
	if d == nil {
		return nil
	}
	for _, x := range s.Fit(p, d.ID).turnsToBelly() {
		if x.target.Piece.ID == r.Piece && x.target.Span.ID == r.Span {
			return &x
		}
	}
	return nil
}

// byHips reports whether a stretch goes by the hips.
func (t *FitTarget) byHips() bool {
	return levelOfMeasure(t.Span.Measure) == "hip" && t.Known && t.By != TargetLength
}

// wornLayer is one layer of a garment.
type wornLayer struct {
	garment string
	layer   Layer
}

// worn is the layer of a garment of which the piece is a part.
func (t *FitTarget) worn() wornLayer { return wornLayer{t.Piece.Garment, t.Piece.Layer} }

// tightRound tells of which layers of which garments all stretches that go by the hips
// together, some of which may have more room than others, have none for the belly of a body.
func (st *FitState) tightRound(b *body.Body) map[wornLayer]bool {
	spare := make(map[wornLayer]float64)
	for i := range st.Targets {
		if t := &st.Targets[i]; t.byHips() {
			spare[t.worn()] += t.Reached - t.Span.Share*(b.MM(bellyFor(t.Span.Measure))+t.NewUnder)
		}
	}
	tight := make(map[wornLayer]bool)
	for worn, by := range spare {
		tight[worn] = by < 0
	}
	return tight
}

// bellyFor returns the measure of the belly that answers to one of the hips.
func bellyFor(hip string) string { return "belly" + strings.TrimPrefix(hip, "hip") }

// roundBelly returns how long in mm a stretch that went by the hips is to be for a belly that
// measures round. What hangs past both hangs from the wider of the two, so that its ease is
// what it has beyond that: on the body for which it was made mostly the hips, where it is
// far wider than the belly without ever lying on it.
func (st *FitState) roundBelly(t *FitTarget, round float64) float64 {
	widest := t.Old
	if old := st.bodies.old[t.Piece.ID]; old != nil {
		widest = max(widest, old.MM(bellyFor(t.Span.Measure)))
	}
	if !(widest > 0) {
		return t.Wants + t.Span.Share*(round-t.New)
	}
	if st.Ease == EaseKept {
		return t.Was + t.Span.Share*(round+t.NewUnder-widest-t.OldUnder)
	}
	return (t.Was-t.Span.Share*t.OldUnder)*round/widest + t.Span.Share*t.NewUnder
}
