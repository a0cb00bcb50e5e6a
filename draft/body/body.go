package body

import "slices"

// Body is a body of which everything is known that could be worked out.
type Body struct {
	names []string
	index map[string]int
	known []Known
	// others are given measures that neither the catalogue nor the block knows.
	others map[string]Known
}

// Resolve works out the measures of a body from those that are given, with the
// estimates of the catalogue and a block's own. It panics on own measures with
// which NewEstimator would fail; whoever resolves many bodies makes the estimator
// once and calls its Resolve.
func Resolve(g Given, own ...Own) *Body {
	if len(own) == 0 {
		return plain().Resolve(g)
	}
	e, err := NewEstimator(own...)
	if err != nil {
		panic("body: " + err.Error())
	}
	return e.Resolve(g)
}

// Get returns the measure with the name, or false where it was neither given nor
// could be estimated.
func (b *Body) Get(name string) (Known, bool) {
	if i, ok := b.index[name]; ok {
		return b.known[i], b.known[i].Value > 0
	}
	k, ok := b.others[name]
	return k, ok
}

// MM returns the value of the measure in mm, 0 where it is not known.
func (b *Body) MM(name string) float64 {
	k, _ := b.Get(name)
	return k.Value
}

// Names returns the measures that are known: in the order of the catalogue, then
// the block's own, then in alphabetical order those that neither knows.
func (b *Body) Names() []string {
	names := make([]string, 0, len(b.names)+len(b.others))
	for i, name := range b.names {
		if b.known[i].Value > 0 {
			names = append(names, name)
		}
	}
	others := len(names)
	for name := range b.others {
		names = append(names, name)
	}
	slices.Sort(names[others:])
	return names
}

func (b *Body) addOther(name string, v float64) {
	if b.others == nil {
		b.others = map[string]Known{}
	}
	b.others[name] = Known{Value: v}
}
