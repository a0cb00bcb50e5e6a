package body

import (
	"fmt"
	"math"
	"slices"
)

// A figure in the wrong unit, or two in each other's place, show against the shape
// of the whole body. Each measure that a survey knows is compared with its share of
// a human stature, on a logarithmic scale: what they have in common is the size of
// the body, how far they lie apart is its oddness, and a figure is under suspicion
// when it lies much further out than the others and another unit brings it in.
const (
	// Apart from the rest by less than minApart (in natural logarithm, a factor of
	// 1.9), nothing is called a slip: people differ as much, and the smallest slip
	// of unit is a factor of 2.54.
	minApart = 0.65
	// farApart is from where a slip of unit may be a problem: a factor of 6.7, which
	// only 10 and more can be.
	farApart = 1.9
	// apartPerOddness is how many times the oddness of the rest a slip lies out.
	apartPerOddness = 4
	// leastOddness is the oddness of a body whose measures are all human shares.
	leastOddness = 0.1
	// outerFifth is how many times its standard deviation a normal spread has in its
	// outer fifth; bodies with a few very odd measures have more.
	outerFifth = 1.28
	// firstOddness stands in where fewer than three other measures tell.
	firstOddness = 0.2
	// maxMisfit is how far from the rest a figure may still be after it is put
	// right, in the same scale: a factor of 1.5.
	maxMisfit = 0.4
	// misfitPerOddness is the same as a part of the oddness of the rest.
	misfitPerOddness = 1.5
	// swapApart is how far two figures must lie out together to have changed places.
	swapApart = 0.9
	// swapGain is how many times closer they must lie after changing back.
	swapGain = 3
)

// unit is a unit in which a measure is noted.
type unit struct {
	mm   float64
	name string
}

// inch and metre are in mm; the inch is exact since 1959.
const inch, metre = 25.4, 1000.0

var units = [...]unit{{1, "millimetres"}, {10, "centimetres"}, {inch, "inches"}, {metre, "metres"}}

// trait is a measure seen as a share of the body.
type trait struct {
	name string
	m    *Measure
	// mm is its value, put right where it was told already.
	mm float64
	// out is the logarithm of the stature that a human body of this measure has.
	out float64
	// round says that it goes round or across, not along.
	round bool
}

// put gives the measure another value.
func (t *trait) put(mm float64) { t.mm, t.out = mm, t.outAt(mm) }

// outAt returns what out would be at a value.
func (t *trait) outAt(mm float64) float64 { return math.Log(mm / t.m.Share) }

// traits returns the measures given of which a survey or common practice knows the
// share, in the order of the catalogue.
func (c *inquiry) traits() []trait {
	var ts []trait
	for _, m := range theCatalogue().measures {
		v, ok := c.given[m.Name]
		if !ok || m.Source == "guess" {
			continue
		}
		round := m.Kind == Girth || m.Kind == Arc || m.Kind == Width
		t := trait{name: m.Name, m: m, round: round}
		t.put(v)
		ts = append(ts, t)
	}
	return ts
}

// rest is what the other measures say.
type rest struct {
	// all is the middle of all others, kin of those of the same sort.
	all, kin float64
	oddness  float64
}

// without looks at all measures but two, which may be the same.
func without(ts []trait, i, j int, round bool) rest {
	var all, kin []float64
	for k, t := range ts {
		if k == i || k == j {
			continue
		}
		all = append(all, t.out)
		if t.round == round {
			kin = append(kin, t.out)
		}
	}
	r := rest{all: middle(all), oddness: firstOddness}
	if r.kin = r.all; len(kin) > 1 {
		r.kin = middle(kin)
	}
	if len(all) > 2 {
		for k, v := range all {
			all[k] = math.Abs(v - r.all)
		}
		slices.Sort(all)
		r.oddness = max(1.4826*middle(all), all[len(all)*4/5]/outerFifth, leastOddness) // as a standard deviation
	}
	return r
}

// middle returns the median, 0 of nothing.
func middle(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	v = slices.Sorted(slices.Values(v))
	n := len(v)
	return (v[(n-1)/2] + v[n/2]) / 2
}

// apart returns how far out a measure lies, with its sign: by the nearer of the two
// middles, 0 between them.
func (r rest) apart(out float64) float64 {
	a, b := out-r.all, out-r.kin
	if a*b <= 0 {
		return 0
	}
	if math.Abs(a) < math.Abs(b) {
		return a
	}
	return b
}

// causes tells figures in another's place, then figures in another unit, the
// clearest first; each is put right before the next is looked for.
func (c *inquiry) causes() {
	ts := c.traits()
	if len(ts) == 2 {
		c.pair(ts)
		return
	}
	for len(ts) > 2 && (c.swap(ts) || c.unit(ts)) {
	}
}

// unit looks for the figure that another unit brings furthest in, tells it, puts it
// right in ts and says whether there was one.
func (c *inquiry) unit(ts []trait) bool {
	best, at, written, meant := 0.0, -1, unit{}, unit{}
	for i, t := range ts {
		if _, told := c.blamed[t.name]; told {
			continue
		}
		r := without(ts, i, i, t.round)
		d := r.apart(t.out)
		if math.Abs(d) < max(t.m.minApart(), apartPerOddness*r.oddness) || t.m.MayVanish && d < 0 {
			continue
		}
		for _, w := range units {
			for _, m := range units {
				if w.mm+m.mm == inch+metre {
					continue // nobody takes one for the other
				}
				left := math.Abs(d + math.Log(m.mm/w.mm))
				if gain := math.Abs(d) - left; left < max(maxMisfit, misfitPerOddness*r.oddness) && gain > best {
					best, at, written, meant = gain, i, w, m
				}
			}
		}
	}
	if at < 0 {
		return false
	}
	t := ts[at]
	level := LookAgain
	if r := without(ts, at, at, t.round); math.Abs(r.apart(t.out)) > farApart && t.beyond(c.sizes(ts, t.name)) {
		level = Problem
	}
	right := t.mm * meant.mm / written.mm
	ts[at].put(right)
	c.blame(level, "unit", []string{t.name}, map[string]float64{t.name: right},
		fmt.Sprintf("It looks as if %s had been written as %s: then it would be %s.", meant.name, written.name, c.format(right)),
		"The measure %s, does not go with the others.", c.is(t.name))
	return true
}

// minApart returns how far from the rest the measure must lie to be a slip of unit.
func (m *Measure) minApart() float64 {
	if m.Loose {
		return farApart
	}
	return minApart
}

// beyond says whether a figure lies outside the widest share of the body that the
// catalogue allows.
func (t *trait) beyond(sizes []float64) bool {
	return t.mm < t.m.Least*slices.Min(sizes) || t.mm > t.m.Most*slices.Max(sizes)
}

// sizes returns what may be the stature: what all measures say, what those of either
// sort say, and the stature itself where it was taken, without those named.
func (c *inquiry) sizes(ts []trait, without ...string) []float64 {
	var all, round, along []float64
	for _, t := range ts {
		if slices.Contains(without, t.name) {
			continue
		}
		all = append(all, t.out)
		if t.round {
			round = append(round, t.out)
		} else {
			along = append(along, t.out)
		}
	}
	var sizes []float64
	for _, outs := range [][]float64{all, round, along} {
		if len(outs) > 0 {
			sizes = append(sizes, math.Exp(middle(outs)))
		}
	}
	if v, ok := c.given["stature"]; ok && !slices.Contains(without, "stature") {
		sizes = append(sizes, v)
	}
	return sizes
}

// swap looks for two neighbours of a list that fit far better in each other's place.
func (c *inquiry) swap(ts []trait) bool {
	best, at, with := 0.0, -1, -1
	for i := range ts {
		for j := i + 1; j < len(ts); j++ {
			if !neighbours(ts[i].m, ts[j].m) || c.told(ts[i].name) || c.told(ts[j].name) {
				continue
			}
			if gain := swapped(ts, i, j); gain > best {
				best, at, with = gain, i, j
			}
		}
	}
	if at < 0 {
		return false
	}
	a, b := &ts[at], &ts[with]
	x, y := a.mm, b.mm
	c.blame(LookAgain, "swap", []string{a.name, b.name}, map[string]float64{a.name: y, b.name: x},
		"It looks as if each stood in the other's place: change them over.",
		"The measures %s, and %s, do not go with the others.", c.is(a.name), c.is(b.name))
	a.put(y)
	b.put(x)
	return true
}

func (c *inquiry) told(name string) bool {
	_, ok := c.blamed[name]
	return ok
}

// swapped returns how much closer two figures lie to the rest in each other's place,
// 0 where that is no slip.
func swapped(ts []trait, i, j int) float64 {
	a, b := ts[i], ts[j]
	ra, rb := without(ts, i, j, a.round), without(ts, i, j, b.round)
	x, y := a.outAt(b.mm), b.outAt(a.mm)
	da, db := ra.apart(a.out), rb.apart(b.out)
	if da*db >= 0 {
		return 0
	}
	before := math.Abs(da) + math.Abs(db)
	after := math.Abs(x-ra.all) + math.Abs(y-rb.all)
	if before < max(swapApart, 2*apartPerOddness*ra.oddness) || after*swapGain > before {
		return 0
	}
	return before - after
}

// neighbours says whether two measures stand next to each other in a list from which
// they are typed: among those asked first, or in a group of the catalogue.
func neighbours(a, b *Measure) bool {
	if a.Ask > 0 && b.Ask > 0 && (a.Ask-b.Ask == 1 || b.Ask-a.Ask == 1) {
		return true
	}
	all := theCatalogue().measures
	i := slices.Index(all, a)
	return a.Group == b.Group && (i > 0 && all[i-1] == b || i+1 < len(all) && all[i+1] == b)
}

// pair looks at a body of which only two measures are known: neither can be said to
// be right.
func (c *inquiry) pair(ts []trait) {
	a, b := ts[0], ts[1]
	if math.Abs(a.out-b.out) < math.Log(10)-maxMisfit {
		return
	}
	c.blame(LookAgain, "pair", []string{a.name, b.name}, nil,
		"Look whether both are in the same unit.",
		"The measures %s, and %s, hardly belong to one body.", c.is(a.name), c.is(b.name))
}
