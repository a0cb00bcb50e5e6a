package draft

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"hemlet/geom"
)

// A piece is slashed from one edge, the near one, to another, the far one, and spread. The
// slashes are rulings: straight lines from a place of the near edge, at the share s of its
// length, to the place across. Each ruling is a rigid line of cloth. Where cloth is put in,
// its neighbour is turned and moved away from it: by near mm for a whole opening at the
// near edge, by far mm at the far one, always square to the ruling.
//
// An opening has a width of its own: it is spread evenly over the rulings of a cell, so
// that what was smooth stays so, as when paper is slashed many times and the edge is drawn
// through the middles. Between the cells the cloth is moved as it is. An opening of no
// width is a gap between two rulings on the same place: the mouth of a pleat.
//
// With M the motion of a ruling, R its turn, A and B the ends of the ruling and n the unit
// direction square to it: d turn/ds = (near - far) / |AB|, dA = R (A' + near n) ds and
// dB = R (B' + far n) ds, near and far being densities. Where far is 0, |dB| = |B'| ds: the
// far edge keeps its length exactly.

// opening is cloth that is put in at one place.
type opening struct {
	// at is the place as a share of the near edge, half the half width of the cell as a
	// share too.
	at, half  float64
	near, far float64
	// mouth says that at the near edge the cloth that is put in is taken up again there
	// by a pleat, farMouth that it is at the far edge.
	mouth, farMouth bool
}

func (o opening) from() float64 { return o.at - o.half }
func (o opening) to() float64   { return o.at + o.half }

// motion turns a place about the origin and moves it.
type motion struct {
	turn float64
	by   geom.Point
}

func (m motion) affine() geom.Affine {
	return geom.Rotation(m.turn, geom.Point{}).Then(geom.Translation(m.by))
}

func (m motion) of(v geom.Point) geom.Point {
	s, c := math.Sincos(m.turn)
	return geom.Pt(c*v.X-s*v.Y, s*v.X+c*v.Y)
}

// bank is one of the two edges.
type bank struct {
	// edge is its index; -1 where all slashes meet in a corner.
	edge   int
	corner geom.Point
	run    geom.Run
	length float64
}

func bankOf(p *Piece, i int) bank {
	b := bank{edge: i, run: geom.NewRun(p.EdgeParts(i)...)}
	b.length = b.run.Length()
	return b
}

// at returns the point of the bank at a share of its length, beyond a mouth that closes
// there or before it.
func (b bank) at(share float64, beyond bool) geom.Point {
	if b.edge < 0 {
		return b.corner
	}
	d := share * b.length
	for i := 1; i < b.run.Paths(); i++ {
		// Where mouths close is a sum of lengths that rounding may put to either side.
		if aside := shareSlack * b.length; math.Abs(d-b.run.Starts(i)) < aside {
			if d = b.run.Starts(i) - aside; beyond {
				d += 2 * aside
			}
		}
	}
	at, _ := b.run.At(d)
	return b.run.Point(at)
}

// spread is a piece under way.
type spread struct {
	piece     *Piece
	near, far bank
	// farCorner is the edge that starts at the corner across, where far is one.
	farCorner int
	// across are pairs of a share of the near edge and the share of the far one that lies
	// across from it; the first grow from 0 to 1, the second fall.
	across   [][2]float64
	openings []opening
	ids      *idSource
	// scale is by how much the openings at the near edge differ from what they say, and
	// those at the far one where both do.
	scale float64
	both  bool
	// way, where set, is the direction in which all openings part, as for slashes that are
	// all parallel; else each opens square to its own ruling.
	way geom.Point
	// folds, where set, makes the pleat that takes up a gap.
	folds func(spreadGap) Dart
	// kinked says that an edge could not be drawn smooth.
	kinked bool
	// fixed is the share of the near edge whose ruling stays where it is.
	fixed float64
	// places are the shares at which the motion is known, motions the motion before and
	// after a gap that lies there.
	places  []float64
	motions [][2]motion
	rulings map[rulingKey]ruling
}

// rulingKey names a ruling; where it meets the mouth of a dart there are two, one to each
// side of it.
type rulingKey struct {
	s     float64
	after bool
}

// ruling is a line of cloth from the near edge to the far one.
type ruling struct {
	a, b   geom.Point
	n      geom.Point // square to it, on along the near edge
	length float64
}

// opposite returns the share of the far edge across from s, and how fast it changes.
func (w *spread) opposite(s float64) (u, slope float64) {
	i := sort.Search(len(w.across), func(i int) bool { return w.across[i][0] >= s })
	i = min(max(i, 1), len(w.across)-1)
	p, q := w.across[i-1], w.across[i]
	return between(s, p[0], q[0], p[1], q[1]), (q[1] - p[1]) / (q[0] - p[0])
}

// facing returns the share of the near edge across from the share u of the far one, and
// how fast it changes.
func (w *spread) facing(u float64) (s, slope float64) {
	i := sort.Search(len(w.across), func(i int) bool { return w.across[i][1] <= u })
	i = min(max(i, 1), len(w.across)-1)
	p, q := w.across[i-1], w.across[i]
	if p[1] == q[1] {
		return q[0], 0
	}
	return between(u, p[1], q[1], p[0], q[0]), (q[0] - p[0]) / (q[1] - p[1])
}

// ruling returns the ruling at a place, on along the near edge from a mouth that closes
// there or before it.
func (w *spread) ruling(s float64, after bool) ruling {
	key := rulingKey{s, after}
	if r, known := w.rulings[key]; known {
		return r
	}
	u, _ := w.opposite(s)
	r := ruling{a: w.near.at(s, after), b: w.far.at(u, !after)}
	r.length = r.a.Dist(r.b)
	if r.n = w.way; r.n == (geom.Point{}) {
		r.n = r.a.Sub(r.b).Unit().Left()
	}
	w.rulings[key] = r
	return r
}

// density returns what is put in per share of the near edge at the two ends of the
// rulings between two places that no end of a cell lies between.
func (w *spread) density(from, to float64) (near, far float64) {
	s := (from + to) / 2
	for _, o := range w.openings {
		if o.half > 0 && s > o.from() && s < o.to() {
			near += w.scale * o.near / (2 * o.half)
			far += w.farScale() * o.far / (2 * o.half)
		}
	}
	return near, far
}

func (w *spread) farScale() float64 {
	if w.both {
		return w.scale
	}
	return 1
}

// integrate works out the motion at every place, from the first on.
func (w *spread) integrate() {
	w.motions = make([][2]motion, len(w.places))
	var m motion
	for i, s := range w.places {
		if i > 0 {
			m = w.step(m, w.places[i-1], s)
		}
		w.motions[i][0] = m
		for _, o := range w.openings {
			if o.half == 0 && o.at == s {
				m = w.jump(m, o)
			}
		}
		w.motions[i][1] = m
	}
	// The ruling that is fixed stays where it is.
	f := w.motionAt(w.fixed, false)
	for i := range w.motions {
		for k := range w.motions[i] {
			w.motions[i][k] = w.motions[i][k].against(f)
		}
	}
}

// against returns the motion as one sees it who is moved by f.
func (m motion) against(f motion) motion {
	return motion{m.turn - f.turn, motion{turn: -f.turn}.of(m.by.Sub(f.by))}
}

// jump returns the motion beyond a gap.
func (w *spread) jump(m motion, o opening) motion {
	r := w.ruling(o.at, false)
	near, far := w.scale*o.near, w.farScale()*o.far
	// Half of the turn, the way square to the ruling as it lies then, the other half.
	half := math.Asin(min(max((near-far)/(2*r.length), -1), 1))
	next := motion{turn: m.turn + 2*half}
	b := m.affine().Apply(r.b).Add(motion{turn: m.turn + half}.of(r.n).Mul(far))
	next.by = b.Sub(next.of(r.b))
	return next
}

// spreadSteps is into how many steps the way from one place to the next is taken when the
// motion is summed up, by a rule of the fourth order: at 20 degrees between two places, what
// is left out is below a thousandth of a micrometre for each metre.
const spreadSteps = 16

// step returns the motion at s1 where that at s0 is m.
func (w *spread) step(m motion, s0, s1 float64) motion {
	near, far := w.density(s0, s1)
	if near == 0 && far == 0 {
		return m
	}
	h := (s1 - s0) / spreadSteps
	turning := func(r ruling) float64 { return (near - far) / r.length }
	moving := func(r ruling, turn float64) geom.Point {
		return motion{turn: turn}.of(r.n.Mul(far).Sub(r.b.Left().Mul(turning(r))))
	}
	for k := range spreadSteps {
		a, b, c := w.ruling(s0+float64(k)*h, true), w.ruling(s0+(float64(k)+0.5)*h, true), w.ruling(s0+float64(k+1)*h, false)
		fa, fb, fc := turning(a), turning(b), turning(c)
		half := m.turn + h/24*(5*fa+8*fb-fc)
		whole := m.turn + h/6*(fa+4*fb+fc)
		m.by = m.by.Add(moving(a, m.turn).Add(moving(b, half).Mul(4)).Add(moving(c, whole)).Mul(h / 6))
		m.turn = whole
	}
	return m
}

// motionAt returns the motion of the ruling at one of the places, before or after a gap
// there.
func (w *spread) motionAt(s float64, after bool) motion {
	i := sort.SearchFloat64s(w.places, s)
	switch {
	case i == len(w.places):
		i--
	case i > 0 && w.places[i] != s && s-w.places[i-1] < w.places[i]-s:
		i--
	}
	if after {
		return w.motions[i][1]
	}
	return w.motions[i][0]
}

// longestTurn is how far, in radians, cloth turns along one cubic of an edge: at 20
// degrees a cubic follows an arc to a ten-millionth of its radius.
const longestTurn = math.Pi / 9

// mostTurn is how far, in radians, the two sides of a piece may be turned from each other:
// all the way round, beyond which they lie on each other.
const mostTurn = 2 * math.Pi

// cells returns the ends of the cells and places inside them that divide each into
// stretches that turn no farther than longestTurn.
func (w *spread) cells() []float64 {
	var list []float64
	for _, o := range w.openings {
		if o.half == 0 {
			list = append(list, o.at)
			continue
		}
		a, b := w.ruling(o.from(), true), w.ruling(o.to(), false)
		turn := min(math.Abs(o.near-o.far)/min(a.length, b.length), mostTurn)
		n := max(1, int(math.Ceil(turn/longestTurn)))
		for k := 0; k <= n; k++ {
			list = append(list, o.from()+(o.to()-o.from())*float64(k)/float64(n))
		}
		list[len(list)-1] = o.to()
	}
	sort.Float64s(list)
	kept := list[:0]
	for _, s := range list {
		if len(kept) == 0 || s-kept[len(kept)-1] > shareSlack {
			kept = append(kept, s)
		}
	}
	return kept
}

// check reports slashes that leave the piece or cross one another.
func (w *spread) check() error {
	turn := 0.0
	for i, o := range w.openings {
		if !(o.from() >= -shareSlack && o.to() <= 1+shareSlack) || o.half == 0 && (o.at <= 0 || o.at >= 1) {
			return errors.New("a slash lies beyond the end of the edge")
		}
		if i > 0 && o.from() < w.openings[i-1].to()-shareSlack {
			return errors.New("two slashes lie too near each other")
		}
		if len(w.openings) > maxSlashes {
			return fmt.Errorf("more than %d slashes are asked for", maxSlashes)
		}
		for _, s := range []float64{max(o.from(), 0), o.at, min(o.to(), 1)} {
			r := w.ruling(s, s < o.at)
			if r.length < shortestSlash*max(w.near.length, w.far.length) || r.length < shortestStretch {
				return errors.New("there a slash would have no length; choose another edge across")
			}
			if s == o.at {
				if err := w.meetsSteeply(o, r); err != nil {
					return err
				}
				if turn += math.Abs(o.near-o.far) / r.length; turn > mostTurn {
					return errors.New("the piece would be turned all the way round and lie on itself; put less in")
				}
			}
			if s <= 0 || s >= 1 {
				continue // along the side of the piece
			}
			if err := w.piece.seesInside(r.a, r.b, ""); err != nil {
				return slashBlocked(err)
			}
		}
	}
	return nil
}

// meetsSteeply reports a slash that opens at both ends and grazes an edge: the edge would
// be torn into steps.
func (w *spread) meetsSteeply(o opening, r ruling) error {
	if o.far == 0 {
		return nil
	}
	u, _ := w.opposite(o.at)
	if dir := r.b.Sub(r.a); w.near.sine(o.at, dir) < steepest || w.far.sine(u, dir) < steepest {
		return fmt.Errorf("slashes from %s to %s run too slanting to be opened as wide at both; hinge them, name another edge across, or do this before a godet is let in there", w.piece.Edges[w.near.edge].label(), w.piece.Edges[w.far.edge].label())
	}
	return nil
}

// maxSlashes bounds how many slashes one act makes: more than one a millimetre of a long
// hem are never cut.
const maxSlashes = 2000

// shortestSlash is how long a slash is at least, as a share of the edges: about a shorter
// one the cloth would turn on the spot.
const shortestSlash = 1e-3
