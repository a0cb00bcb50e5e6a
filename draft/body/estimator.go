package body

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"hemlet/draft/formula"
)

// Own is a measure as a block has it for itself: one that the catalogue does not
// know, or other estimates for one that it knows.
type Own struct {
	Name string
	// Estimates are formulas over all measures, tried in order before those of the
	// catalogue.
	Estimates []string
}

// Estimator works out what was not taken. It is made once and may be used by
// several goroutines at the same time.
type Estimator struct {
	names   []string
	index   map[string]int
	entries []entry
	scope   *formula.Scope
}

// entry holds the estimates of one measure, in the order in which they are tried.
type entry struct{ ways []way }

// way is one estimate: a formula and the places of the measures that it reads.
type way struct {
	formula *formula.Formula
	names   []string
	reads   []int
	// takenOnly says that it stands for measures that were taken, not estimated; sums,
	// that it adds a front and a back arc up to their girth.
	takenOnly, sums bool
}

// MaxEstimateEffort bounds an estimate, as formula.Effort counts it, in microseconds:
// estimates are tried again and again, and arithmetic with a curve or two is enough.
const MaxEstimateEffort = 150

// NewEstimator returns the estimator of the catalogue and a block's own measures.
// It is an error if a name cannot be one, is there twice, or if an estimate is not
// the formula of a length or takes longer than MaxEstimateEffort.
func NewEstimator(own ...Own) (*Estimator, error) {
	e := &Estimator{index: map[string]int{}, scope: formula.NewScope()}
	for _, m := range theCatalogue().measures {
		if err := e.add(m.Name); err != nil {
			return nil, err
		}
	}
	known := len(e.names)
	for _, o := range own {
		if i, ok := e.index[o.Name]; ok && i < known {
			continue
		}
		if err := e.add(o.Name); err != nil {
			return nil, err
		}
	}
	e.entries = make([]entry, len(e.names))
	for _, o := range own {
		if err := e.addWays(o.Name, o.Estimates, false); err != nil {
			return nil, err
		}
	}
	for _, m := range theCatalogue().measures {
		if err := e.addWays(m.Name, m.FromTaken, true); err != nil {
			return nil, err
		}
		if err := e.addWays(m.Name, m.Estimates, false); err != nil {
			return nil, err
		}
	}
	return e, nil
}

func (e *Estimator) add(name string) error {
	if err := e.scope.Add(name, formula.LengthKind); err != nil {
		return fmt.Errorf("measure %s: %w", name, err)
	}
	e.scope.AddGiven(name)
	e.index[name] = len(e.names)
	e.names = append(e.names, name)
	return nil
}

func (e *Estimator) addWays(name string, sources []string, takenOnly bool) error {
	to := &e.entries[e.index[name]]
	for _, source := range sources {
		f, err := formula.Compile(source, e.scope)
		if err != nil {
			return fmt.Errorf("estimate of %s: %w", name, err)
		}
		if f.Kind() != formula.LengthKind {
			return fmt.Errorf("estimate of %s: %q is not a length but of the kind %s", name, source, f.Kind())
		}
		if f.Effort(nil) > MaxEstimateEffort {
			return fmt.Errorf("estimate of %s: %q takes too long for an estimate", name, source)
		}
		w := way{formula: f, names: f.Reads(), takenOnly: takenOnly, sums: addsArcs(name, source)}
		for _, read := range w.names {
			w.reads = append(w.reads, e.index[read])
		}
		to.ways = append(to.ways, w)
	}
	return nil
}

// addsArcs reports whether the estimate of a girth is the sum of its arcs.
func addsArcs(girth, source string) bool {
	level, ok := strings.CutSuffix(girth, GirthOf(""))
	return ok && source == ArcFrontOf(level)+" + "+ArcBackOf(level)
}

// Names returns the measures that the estimator knows: those of the catalogue, then
// the block's own.
func (e *Estimator) Names() []string { return append([]string(nil), e.names...) }

var plain = sync.OnceValue(func() *Estimator {
	e, err := NewEstimator()
	if err != nil {
		panic("body: measures.toml: " + err.Error()) // carried in the program, held by a test
	}
	return e
})

// Resolve works out every measure that can be had from what is given. Values that
// are not above 0 or not finite count as not given.
//
// Measures are worked out one after another, those of the catalogue first, each by
// the first of its estimates whose measures are given or can be had without coming
// back to a measure that is under way; an estimate that comes out at 0 or less, or
// cannot be worked out for this body, is passed over. Each has one value, which is
// what its formula gives for the values in the same Body.
func (e *Estimator) Resolve(g Given) *Body {
	r := resolution{
		e: e, state: make([]state, len(e.names)), values: make(formula.Values, 2*len(e.names)),
		body: &Body{known: make([]Known, len(e.names)), index: e.index, names: e.names},
	}
	for name, v := range g {
		if !sane(v) {
			continue
		}
		i, ok := e.index[name]
		if !ok {
			r.body.addOther(name, v)
			continue
		}
		r.state[i] = taken
		r.values[name] = formula.Length{MM: v}
		r.values[formula.GivenKey(name)] = true
		r.body.known[i] = Known{Value: v}
	}
	r.patience = patiencePerMeasure * len(e.names)
	for i := range e.names {
		r.need(i)
	}
	r.rest()
	return r.body
}

// patiencePerMeasure bounds the search for estimates that lean on other estimates,
// in looks a measure: the catalogue takes under 10. A block whose own measures lean
// on each other in many circles is cut short here and answered by rest.
const patiencePerMeasure = 50

// sane says whether a figure can be a measure at all.
func sane(v float64) bool { return v > 0 && !math.IsInf(v, 0) }

// state is how far a measure is worked out.
type state uint8

const (
	open     state = iota
	underWay       // an estimate of it is being worked out
	taken
	estimated
)

// resolution is the work on one body.
type resolution struct {
	e      *Estimator
	state  []state
	values formula.Values
	body   *Body
	// patience is how often need may still look.
	patience int
}

// rest works out what need left: again and again whatever reads only what is known,
// until nothing is added.
func (r *resolution) rest() {
	for again := true; again; {
		again = false
		for i := range r.state {
			if r.state[i] == open && r.leaf(i) {
				again = true
			}
		}
	}
}

// leaf works the measure out from what is known already.
func (r *resolution) leaf(i int) bool {
	for k := range r.e.entries[i].ways {
		if w := &r.e.entries[i].ways[k]; r.known(w) && r.work(i, w) {
			return true
		}
	}
	return false
}

// known says whether everything that the estimate may read is known already.
func (r *resolution) known(w *way) bool {
	if w.takenOnly {
		return r.taken(w)
	}
	for _, i := range w.reads {
		if r.state[i] != taken && r.state[i] != estimated {
			return false
		}
	}
	return true
}

// need works the measure out and says whether it is known now.
func (r *resolution) need(i int) bool {
	switch r.state[i] {
	case taken, estimated:
		return true
	case underWay:
		return false
	}
	if r.patience--; r.patience < 0 {
		return false
	}
	r.state[i] = underWay
	for k := range r.e.entries[i].ways {
		if w := &r.e.entries[i].ways[k]; r.ready(w) && r.work(i, w) {
			return true
		}
	}
	r.state[i] = open
	return false
}

// ready says whether everything that the estimate reads is known.
func (r *resolution) ready(w *way) bool {
	if w.takenOnly {
		return r.taken(w)
	}
	for _, i := range w.reads {
		if !r.need(i) {
			return false
		}
	}
	return true
}

// work takes the value of the estimate, if it has one for this body.
func (r *resolution) work(i int, w *way) bool {
	v, err := w.formula.Value(r.values)
	if err != nil {
		return false
	}
	l, ok := v.(formula.Length)
	if !ok || !sane(l.MM) {
		return false
	}
	r.state[i] = estimated
	r.values[r.e.names[i]] = v
	r.body.known[i] = Known{Value: l.MM, Estimated: true, By: w.formula.Source(), From: w.names, Summed: w.sums && r.taken(w)}
	return true
}

// taken says whether everything that the estimate reads was taken.
func (r *resolution) taken(w *way) bool {
	for _, i := range w.reads {
		if r.state[i] != taken {
			return false
		}
	}
	return true
}
