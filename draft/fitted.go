package draft

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"sync"

	"hemlet/draft/body"
	"hemlet/geom"
	"hemlet/geom/warp"
)

// fitTask is what a fit is solved from: the same task has the same solution.
type fitTask struct {
	source *Source
	keep   FitKeep
	goals  []fitGoal
	// mouths are the widths in mm that the darts are to have, 0 for those that follow the
	// scale of the whole.
	mouths []fitGoal
	// targets are the goals as they are shown; plan is what was asked, bodies are those of
	// which both are read.
	targets []FitTarget
	plan    fitPlan
	bodies  fitBodies
	err     error
}

// like reports whether two tasks have the same solution.
func (t *fitTask) like(o *fitTask) bool {
	return t.keep == o.keep && slices.Equal(t.goals, o.goals) && slices.Equal(t.mouths, o.mouths) && sameText(t.err, o.err) && t.source.like(o.source)
}

func sameText(a, b error) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Error() == b.Error()
}

// like reports whether two sources are the same pattern.
func (s *Source) like(o *Source) bool { return s == o || reflect.DeepEqual(s, o) }

// fitTaskOf returns what a fit of the project is solved from.
func (p *Project) fitTaskOf(d *Derivation) *fitTask {
	t := &fitTask{source: d.Source}
	if d.Source == nil || len(d.Source.Pieces) == 0 {
		t.err = errNoSource
		return t
	}
	if t.plan, t.err = readFitPlan(d.Settings); t.err != nil {
		return t
	}
	t.keep = t.plan.keep
	bodies, err := p.fitBodiesOf(d)
	if err != nil {
		t.err = err
		return t
	}
	t.bodies = bodies
	basis := basisOf(d.Source)
	for _, piece := range d.Source.Pieces {
		for _, span := range piece.Spans {
			target := t.plan.target(piece, span, basis.was[fitPart{piece.ID, span.ID}], bodies)
			t.targets = append(t.targets, target)
			t.goals = append(t.goals, target.goal())
		}
	}
	scale := t.scale()
	for _, piece := range d.Source.Pieces {
		for _, dart := range piece.Darts {
			t.mouths = append(t.mouths, t.plan.mouth(fitPart{piece.ID, dart.ID}, piece.TakeUp(dart), basis.reason(piece, dart), bodies, scale))
		}
		for i := range piece.Lines {
			if l := &piece.Lines[i]; l.Kind == DartLine {
				a, b, ok := l.dartSides()
				goal := fitGoal{key: fitPart{piece.ID, l.ID}}
				if ok {
					goal = t.plan.mouth(goal.key, l.Nodes[a].At.Dist(l.Nodes[b].At), shapesWaist, bodies, scale)
				}
				t.mouths = append(t.mouths, goal)
			}
		}
	}
	if p.WearerOf(d) == nil {
		t.err = errNoFitWearer
	} else if !slices.ContainsFunc(t.targets, func(x FitTarget) bool { return x.Known }) {
		t.err = t.nothingKnown()
	}
	return t
}

// scale returns by how many times the targets are what they were: the median, as the solve
// takes it; 1 where there is none.
func (t *fitTask) scale() float64 {
	var list []float64
	for i := range t.targets {
		if x := &t.targets[i]; x.Known && x.Was >= shortestStretch {
			list = append(list, x.Wants/x.Was)
		}
	}
	if len(list) == 0 {
		return 1
	}
	slices.Sort(list)
	if n := len(list); n%2 == 0 {
		return (list[n/2-1] + list[n/2]) / 2
	}
	return list[len(list)/2]
}

// mouth returns how wide a dart is to be.
func (t *fitTask) mouth(key fitPart) fitGoal {
	for _, m := range t.mouths {
		if m.key == key {
			return m
		}
	}
	return fitGoal{key: key}
}

// nothingKnown says why there is no target, and what to do about it.
func (t *fitTask) nothingKnown() error {
	for i := range t.targets {
		if why := t.targets[i].Why; why != "" {
			return fmt.Errorf("no stretch of it has a length that is wanted: of %s, %s. %s",
				labelOf(t.targets[i].Span.Name, t.targets[i].Span.ID), t.targets[i].Piece.label(), why)
		}
	}
	return errNoTargets
}

// fitBodiesOf returns the bodies of a fit.
func (p *Project) fitBodiesOf(d *Derivation) (fitBodies, error) {
	b := fitBodies{old: make(map[ID]*body.Body), new: make(map[ID]*body.Body), oldUnder: make(map[ID]float64)}
	w := p.WearerOf(d)
	if w != nil {
		b.newUnder = w.WornUnder()
	}
	type read struct{ old, new *body.Body }
	known := make(map[*Origin]read)
	for _, piece := range d.Source.Pieces {
		o := p.fitOrigin(d, piece.ID)
		if o != nil {
			b.oldUnder[piece.ID] = o.WornUnder()
		}
		r, ok := known[o]
		if !ok {
			if o != nil {
				if err := o.checkEstimates(); err != nil {
					return b, err
				}
			}
			r.old = o.Body()
			if w != nil {
				r.new = o.Read(w.Given())
			}
			known[o] = r
		}
		b.old[piece.ID], b.new[piece.ID] = r.old, r.new
	}
	return b, nil
}

// fitOrigin returns for whom a piece of a fit was made: that is said of the fitted piece.
// Where it is gone, the first origin that the fit reads holds.
func (p *Project) fitOrigin(d *Derivation, piece ID) *Origin {
	if q := p.Piece(piece); q != nil {
		return p.Origin(q.Origin)
	}
	for _, in := range d.Inputs {
		if o := p.Origin(in); o != nil {
			return o
		}
	}
	return nil
}

// fitMade is a pattern fitted to a body, or why it cannot be: the maker of its pieces.
type fitMade struct {
	task *fitTask
	// result is nil where there is an error.
	result *warp.Result
	err    error
	pieces map[ID]*Piece
	// moved is by how much each piece was moved to lie where the pattern's did.
	moved []geom.Point
	// spanGoal leads from the spans that were solved to the goals of the task.
	spanGoal []int
}

// place returns where a place of a source piece lies on the fitted one.
func (f *fitMade) place(shape int, at geom.Point) geom.Point {
	return f.result.Map(shape, at).Add(f.moved[shape])
}

// recentFits keeps what was fitted last: what a commit has solved is read again by the
// checks and the window, and an undone step brings the one before back.
var recentFits struct {
	sync.Mutex
	list []*fitMade
}

// maxRecentFits is how many are kept: a few fits while one target is dragged.
const maxRecentFits = 24

// fittedFor solves a task. What was solved a moment ago is returned again. Where the context
// ends first the error says so, and nothing is kept.
func fittedFor(ctx context.Context, task *fitTask, progress func(share float64)) *fitMade {
	if f := recentFit(task); f != nil {
		return f
	}
	f := &fitMade{task: task, err: task.err}
	if f.err == nil {
		f.solve(ctx, progress)
	}
	if ctx.Err() != nil {
		return f
	}
	recentFits.Lock()
	defer recentFits.Unlock()
	if len(recentFits.list) >= maxRecentFits {
		recentFits.list = recentFits.list[1:]
	}
	recentFits.list = append(recentFits.list, f)
	return f
}

// recentFit returns what was solved of the same task, or nil.
func recentFit(task *fitTask) *fitMade {
	recentFits.Lock()
	defer recentFits.Unlock()
	for i, old := range slices.Backward(recentFits.list) {
		if old.task.like(task) {
			recentFits.list = append(slices.Delete(recentFits.list, i, i+1), old)
			return old
		}
	}
	return nil
}

// fittedOf returns the maker of a fit of the project.
func (p *Project) fittedOf(d *Derivation) *fitMade {
	return fittedFor(context.Background(), p.fitTaskOf(d), nil)
}

func (f *fitMade) trouble() error { return f.err }

func (f *fitMade) makes(role string) bool { return f.pieces[ID(role)] != nil }

// renames is false: a fit keeps every point of the pattern.
func (f *fitMade) renames() bool { return false }

func (f *fitMade) generate(role string, derivation, id ID) (*Piece, error) {
	if f.err != nil {
		return nil, f.err
	}
	made := f.pieces[ID(role)]
	if made == nil || made.ID != id {
		return nil, fmt.Errorf("the pattern that is fitted has no piece %s", role)
	}
	return made.clone().madeBy(derivation, role), nil
}
