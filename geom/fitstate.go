package geom

import "math"

// The unknowns of a fit, in an order that keeps those of one piece together: for
// every joint its place and direction, then the two handle lengths of the piece
// that starts there.
const (
	fitX = iota
	fitY
	fitAngle
	fitOut // length of the handle at the piece's start
	fitIn  // length of the handle at its end
	fitStride
	// fitBand is the number of unknowns that touch one piece: two joints and
	// two handles.
	fitBand = fitStride + 3
)

const (
	// fitSteps bounds the Gauss-Newton steps; they converge in about ten.
	fitSteps = 40
	// fitSpread is how far a handle may be expected from a third of its piece,
	// as a share of that third. The pull there weighs as much as one point that
	// is off by the mean residual: it settles straight stretches, where the
	// points leave the handles open, and is not felt elsewhere.
	fitSpread = 0.5
	// fitExact is the share of a piece's length below which a residual is
	// rounding.
	fitExact = 1e-10
	// fitSettled is the relative fall of the sum of squares that ends the steps.
	fitSettled = 1e-9
	// footSettled is the step of the parameter at which a foot has been found:
	// its square is the relative error of the distance.
	footSettled = 1e-8
	// A handle is kept between these shares of the length of its piece.
	fitShortest, fitLongest = 0.01, 1.2
)

// fitState is a chain of cubics on its way to the points of a run.
type fitState struct {
	run    pointRun
	k      int       // pieces
	v      []float64 // unknowns
	fixed  []bool
	third  []float64 // a third of the length of each piece
	piece  []int     // for each point: the piece it is measured on
	t      []float64 // and the parameter of its foot there
	segs   []Segment // of v
	rounds int
	enough float64   // deviation in mm at which the steps may end
	window int       // points whose mean is compared with the tolerance
	slack  float64   // what noise may add to one point, in mm
	pulls  []float64 // weight of the pull on the handles of each piece
}

// newFitState starts with one piece between each two breaks.
func newFitState(run pointRun, f Fit, breaks []int) *fitState {
	k := len(breaks) - 1
	s := &fitState{
		run: run, k: k, rounds: fitSteps,
		v: make([]float64, k*fitStride+3), fixed: make([]bool, k*fitStride+3),
		third: make([]float64, k), pulls: make([]float64, k), segs: make([]Segment, k),
		piece: make([]int, len(run.pts)), t: make([]float64, len(run.pts)),
	}
	s.window, s.slack = f.window(len(run.pts))
	arm := planArm * run.at[len(run.at)-1] / float64(max(k, 4))
	for j, b := range breaks {
		place, dir := run.frame(b, arm)
		s.v[j*fitStride+fitX], s.v[j*fitStride+fitY] = place.X, place.Y
		s.v[j*fitStride+fitAngle] = dir.Angle()
	}
	s.fixEnd(0, run.pts[0], f.Start)
	s.fixEnd(k, run.pts[len(run.pts)-1], f.End)
	for i := range k {
		a, b := breaks[i], breaks[i+1]
		length := run.at[b] - run.at[a]
		s.third[i] = length / 3
		s.v[i*fitStride+fitOut], s.v[i*fitStride+fitIn] = length/3, length/3
		for q := a; q <= b; q++ {
			s.piece[q], s.t[q] = i, (run.at[q]-run.at[a])/length
		}
	}
	s.update()
	return s
}

// fixEnd holds the joint at an end, and its direction if there is one.
func (s *fitState) fixEnd(j int, p, dir Point) {
	o := j * fitStride
	s.v[o+fitX], s.v[o+fitY] = p.X, p.Y
	s.fixed[o+fitX], s.fixed[o+fitY] = true, true
	if dir != (Point{}) {
		s.v[o+fitAngle] = dir.Angle()
		s.fixed[o+fitAngle] = true
	}
}

// update makes the segments of the unknowns.
func (s *fitState) update() {
	for i := range s.k {
		o := i * fitStride
		a, b := Pt(s.v[o+fitX], s.v[o+fitY]), Pt(s.v[o+fitStride+fitX], s.v[o+fitStride+fitY])
		s.segs[i] = Cubic(a, a.Add(direct(s.v[o+fitAngle]).Mul(s.v[o+fitOut])), b.Sub(direct(s.v[o+fitStride+fitAngle]).Mul(s.v[o+fitIn])), b)
	}
}

// direct returns the unit vector at the angle.
func direct(angle float64) Point {
	sin, cos := math.Sincos(angle)
	return Point{cos, sin}
}

func (s *fitState) path() Path { return append(Path(nil), s.segs...) }

// project moves the foot of every point by Newton steps along the chain, across
// joints if need be.
func (s *fitState) project() {
	for q, p := range s.run.pts {
		i, t := s.piece[q], s.t[q]
		for range 6 {
			seg := &s.segs[i]
			g, d := seg.At(t).Sub(p), seg.Deriv(t)
			den := d.Dot(d) + g.Dot(seg.Second(t))
			if !(den > 0.1*d.Dot(d)) {
				den = d.Dot(d) // beyond the centre of curvature: a plain step
			}
			step := -g.Dot(d) / den
			if !(step > footSettled || step < -footSettled) {
				break
			}
			t += max(-0.5, min(0.5, step))
			if t < 0 && i > 0 {
				i, t = i-1, 1
			} else if t > 1 && i < s.k-1 {
				i, t = i+1, 0
			}
			t = max(0, min(1, t))
		}
		s.piece[q], s.t[q] = i, t
	}
}

// value returns the sum of squares of the points and of the pulls.
func (s *fitState) value() float64 {
	sum := s.squares()
	for i := range s.k {
		for _, h := range [2]float64{s.v[i*fitStride+fitOut], s.v[i*fitStride+fitIn]} {
			d := h - s.third[i]
			sum += s.pulls[i] * d * d
		}
	}
	return sum
}

// squares returns the sum of the squared distances of the points.
func (s *fitState) squares() float64 {
	sum := 0.0
	for q, p := range s.run.pts {
		d := s.segs[s.piece[q]].At(s.t[q]).Sub(p)
		sum += d.Dot(d)
	}
	return sum
}

// weigh sets the pulls by the residuals as they are.
func (s *fitState) weigh() {
	mean := s.squares() / float64(len(s.run.pts))
	for i, third := range s.third {
		exact := fitExact * third
		s.pulls[i] = (mean + exact*exact) / (fitSpread * fitSpread * third * third)
	}
}

// solve runs the Gauss-Newton steps, damped as Levenberg and Marquardt do where
// the plain step does not lower the sum.
func (s *fitState) solve() {
	s.project()
	damp := 1e-6
	m := newBand(len(s.v))
	for range s.rounds {
		s.weigh()
		s.normal(m)
		before := s.value()
		value := before
		for range 8 {
			old := s.save()
			if step, ok := m.solve(damp, s.fixed); ok {
				s.move(step)
				s.project()
				value = s.value()
			}
			if value < before {
				damp = math.Max(damp/9, 1e-12)
				break
			}
			s.restore(old)
			value = before
			damp = math.Max(damp*16, 1e-9)
		}
		if !(value < before*(1-fitSettled)) || s.enough > 0 && s.deviation() <= s.enough {
			return
		}
	}
}

// fitSaved is what a step changes.
type fitSaved struct {
	v, t  []float64
	piece []int
}

func (s *fitState) save() fitSaved {
	return fitSaved{append([]float64(nil), s.v...), append([]float64(nil), s.t...), append([]int(nil), s.piece...)}
}

func (s *fitState) restore(o fitSaved) {
	s.v, s.t, s.piece = o.v, o.t, o.piece
	s.update()
}

// move adds a step, with the handles kept to their range.
func (s *fitState) move(step []float64) {
	for i, d := range step {
		s.v[i] += d
	}
	for i := range s.k {
		length := 3 * s.third[i]
		for _, h := range [2]int{fitOut, fitIn} {
			v := &s.v[i*fitStride+h]
			*v = math.Max(fitShortest*length, math.Min(fitLongest*length, *v))
		}
	}
	s.update()
}

// normal sums up the normal equations of the distances along the normals at the
// feet, linear in the unknowns to first order.
func (s *fitState) normal(m *band) {
	m.reset()
	for q, p := range s.run.pts {
		i, t := s.piece[q], s.t[q]
		seg := &s.segs[i]
		n := seg.Normal(t)
		if n == (Point{}) {
			continue
		}
		r := n.Dot(seg.At(t).Sub(p))
		o := i * fitStride
		u := 1 - t
		b0, b1, b2, b3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
		out, in := direct(s.v[o+fitAngle]), direct(s.v[o+fitStride+fitAngle])
		row := [fitBand]float64{
			(b0 + b1) * n.X, (b0 + b1) * n.Y,
			b1 * s.v[o+fitOut] * n.Dot(out.Left()),
			b1 * n.Dot(out), -b2 * n.Dot(in),
			(b2 + b3) * n.X, (b2 + b3) * n.Y,
			-b2 * s.v[o+fitIn] * n.Dot(in.Left()),
		}
		m.add(o, row, r, 1)
	}
	for i := range s.k {
		for _, h := range [2]int{fitOut, fitIn} {
			var row [fitBand]float64
			row[h] = 1
			m.add(i*fitStride, row, s.v[i*fitStride+h]-s.third[i], s.pulls[i])
		}
	}
}

// deviation returns the largest distance in mm of a point from the chain, or of
// the chain from the points' own chain if that is more than half a gap farther.
// Where the points have noise it is the largest mean over as many points in a row
// as bring the noise of the mean down to a share of the tolerance.
func (s *fitState) deviation() float64 {
	if s.window <= 1 {
		worst := 0.0
		for q, p := range s.run.pts {
			worst = math.Max(worst, s.segs[s.piece[q]].At(s.t[q]).Dist(p))
		}
		return math.Max(worst, s.straying())
	}
	sum, worst, gross := 0.0, 0.0, 0.0
	off := make([]float64, len(s.run.pts))
	for q, p := range s.run.pts {
		seg := &s.segs[s.piece[q]]
		off[q] = seg.Normal(s.t[q]).Dot(p.Sub(seg.At(s.t[q])))
		gross = math.Max(gross, math.Abs(off[q])-s.slack)
		sum += off[q]
		if q >= s.window {
			sum -= off[q-s.window]
		}
		if q >= s.window-1 {
			worst = math.Max(worst, math.Abs(sum)/float64(s.window))
		}
	}
	return max(worst, gross, s.straying())
}

// straying returns the largest distance of a sample of the chain from the points'
// chain, less half the gap between the two points about it: what keeps a loop
// between two points from passing unseen.
func (s *fitState) straying() float64 {
	worst := 0.0
	q := 0
	for i := range s.k {
		const samples = 32
		for j := range samples + 1 {
			t := float64(j) / samples
			p := s.segs[i].At(t)
			for q+2 < len(s.run.pts) && (s.piece[q+1] < i || s.piece[q+1] == i && s.t[q+1] < t) {
				q++
			}
			a, b := s.run.pts[q], s.run.pts[q+1]
			_, d := nearestOnLine(a, b, p)
			worst = math.Max(worst, d-a.Dist(b)/2-s.slack)
		}
	}
	return worst
}
