package draft

import (
	"maps"

	"hemlet/draft/body"
)

// sayMeasured tells what went along with a measure of a wearer, and where nothing that is
// fitted to the wearer goes by what has changed: the pattern stays as it is, and whoever
// measured would look for what is not there.
func (o *Outcome) sayMeasured(before *Project, wearer WearerRef, along []string) {
	if o.Project == nil {
		return
	}
	o.Says = append(o.Says, along...)
	w, was := o.Project.Wearer(ID(wearer)), before.Wearer(ID(wearer))
	if w == nil || was == nil || maps.Equal(w.Given(), was.Given()) {
		return
	}
	var fits []*Derivation
	for _, d := range o.Project.Derivations {
		if o.Project.WearerOf(d) != w {
			continue
		}
		if before.makesOther(o.Project, d) {
			return
		}
		if d.Kind == fitKind && d.Source != nil && len(o.Project.PiecesOf(d)) > 0 {
			fits = append(fits, d)
		}
	}
	if len(fits) == 0 {
		return
	}
	if by := o.Project.hipStretches(fits); len(by) > 0 && bellyOther(was, w) {
		o.say("No stretch of the fitted pattern goes by it: %s by the hips. Under Fit, let that stand for the belly.", goes(by))
		return
	}
	o.say("No stretch of the fitted pattern goes by it. Under Fit, choose the stretch that stands for it.")
}

// mostByHips is how many stretches are named that go by the hips where the belly is larger.
const mostByHips = 3

// goes says of stretches by their names that they go.
func goes(names []string) string {
	if len(names) == 1 {
		return names[0] + " goes"
	}
	return stretchNames(names) + " go"
}

// stretchNames names stretches in one breath.
func stretchNames(names []string) string {
	if len(names) == 2 {
		return names[0] + " and " + names[1]
	}
	return list(names, mostByHips)
}

// hipStretches names the stretches of fits that go by the hips.
func (p *Project) hipStretches(fits []*Derivation) []string {
	var names []string
	for _, d := range fits {
		for _, piece := range d.Source.Pieces {
			for _, s := range piece.Spans {
				if levelOfMeasure(s.Measure) == "hip" {
					names = append(names, labelOf(s.Name, s.ID)+" of "+piece.label())
				}
			}
		}
	}
	return names
}

// bellyOther reports whether a wearer who is widest round the belly measures otherwise there
// than before.
func bellyOther(was, w *Wearer) bool {
	b, old := body.Resolve(w.Given()), body.Resolve(was.Given())
	if !bellyStandsOut(b) {
		return false
	}
	for _, name := range []string{body.GirthOf("belly"), body.ArcFrontOf("belly"), body.ArcBackOf("belly")} {
		if b.MM(name) != old.MM(name) {
			return true
		}
	}
	return false
}
