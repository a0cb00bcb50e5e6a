package scan

import (
	"errors"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"

	"hemlet/geom"
)

// edgeLine is a straight line: a point on it and its unit direction.
type edgeLine struct{ at, dir geom.Point }

// lineThrough returns the line from a to b.
func lineThrough(a, b geom.Point) edgeLine { return edgeLine{a, b.Sub(a).Unit()} }

// off returns how far p lies off the line, above 0 to its left as geom.Point.Left has it.
func (l edgeLine) off(p geom.Point) float64 { return l.dir.Cross(p.Sub(l.at)) }

// meet returns the point at which two lines meet, or false if they hardly do.
func (l edgeLine) meet(m edgeLine) (geom.Point, bool) {
	s := l.dir.Cross(m.dir)
	if math.Abs(s) < leastCorner/2 {
		return geom.Point{}, false
	}
	return l.at.Add(l.dir.Mul(m.at.Sub(l.at).Cross(m.dir) / s)), true
}

// errNoEdge says that there is no edge.
var errNoEdge = errors.New("no edge shows")

// Parameters of fitting an edge, in px and grey levels.
const (
	// edgeBlur is the sigma of the slope's Gaussian: about the blur of a sharp picture.
	edgeBlur = 1.5
	// leastSlope is the slope, in levels a px after edgeBlur, of the faintest edge: that of
	// a step of ten levels, where paper and table look alike to the eye.
	leastSlope = 2.0
	// edgeCandidates bounds the steep places that are kept of one profile.
	edgeCandidates = 6
	// edgeProfiles bounds the profiles across one side in the search, and edgeDense in the fit.
	edgeProfiles = 160
	edgeDense    = 600
	// edgeTries is the number of lines that are tried: enough that with a tenth of the
	// steep places on the edge one of them is right in 97 of 100 cases.
	edgeTries = 400
	// edgeBand is how far a place may lie off a tried line.
	edgeBand = 3.0
	// fineReach is how far the fit looks to either side of the found line.
	fineReach = 8.0
	// edgeEnds is the share of a side that is left out at each corner, which may be bent.
	edgeEnds = .04
	// leastOff is the distance below which no place is an outlier.
	leastOff = .3
)

// edgeFit is the line of an edge and the points that made it.
type edgeFit struct {
	line  edgeLine
	pts   []geom.Point
	drawn bool
	a, b  geom.Point // where it was looked for in the end
	side  float64    // the sign of its slope
}

// steep is a steep place of a profile across a side: at u along it and t to its left.
type steep struct{ u, t, slope float64 }

// fitEdge fits the edge near the line from a to b, within reach px.
func fitEdge(r *Raster, a, b geom.Point, reach float64) (edgeFit, error) {
	length := a.Dist(b)
	n := int(clamp(length/4, 16, edgeProfiles))
	rows := steepPlaces(r, a, b, n, reach, leastSlope)
	found, ok := sampleLine(rows, length, reach)
	if !ok {
		return edgeFit{}, errNoEdge
	}
	line := edgeLine{a, b.Sub(a).Unit()}
	at := func(s steep) geom.Point { return line.at.Add(line.dir.Mul(s.u)).Add(line.dir.Left().Mul(s.t)) }
	a, b = at(steep{0, found.t0, 0}), at(steep{length, found.t1, 0})
	fine, slope, err := refineEdge(r, a, b, found.sign)
	if err != nil {
		return edgeFit{}, err
	}
	fine = middleOfLine(r, fine, a, b, found.sign, slope)
	fine.a, fine.b, fine.side = a, b, found.sign
	return fine, nil
}

// steepPlaces returns, for n profiles across the line from a to b, the places at which the
// picture is steepest, the steepest first.
func steepPlaces(r *Raster, a, b geom.Point, n int, reach, least float64) [][]steep {
	length := a.Dist(b)
	dir := b.Sub(a).Unit()
	across := dir.Left()
	step := length * (1 - 2*edgeEnds) / float64(n)
	half := int(math.Ceil(reach)) + 5
	values, slopes := make([]float64, 2*half+1), make([]float64, 2*half+1)
	kernel := slopeKernel()
	k := len(kernel) / 2
	rows := make([][]steep, n)
	for i := range n {
		u := length*edgeEnds + (float64(i)+.5)*step
		// Three lanes lessen the noise; they are no wider apart than the blur.
		lane := math.Min(step/3, edgeBlur)
		for j := range values {
			p := a.Add(dir.Mul(u)).Add(across.Mul(float64(j - half)))
			values[j] = (r.sample(p) + r.sample(p.Sub(dir.Mul(lane))) + r.sample(p.Add(dir.Mul(lane)))) / 3
		}
		for j := k; j < len(values)-k; j++ {
			var s float64
			for m, w := range kernel {
				s += w * values[j+m-k]
			}
			slopes[j] = s
		}
		for j := k + 1; j < len(values)-k-1; j++ {
			s := math.Abs(slopes[j])
			if s < least || s < slopes[j-1]*sign(slopes[j]) || s <= slopes[j+1]*sign(slopes[j]) {
				continue
			}
			t := float64(j-half) + peakOf(math.Abs(slopes[j-1]), s, math.Abs(slopes[j+1]))
			if math.Abs(t) > reach {
				continue
			}
			p := a.Add(dir.Mul(u)).Add(across.Mul(t))
			if !holds(r.W, r.H, p) {
				continue
			}
			rows[i] = keepSteep(rows[i], steep{u, t, slopes[j]})
		}
	}
	return rows
}

// keepSteep puts s in its place by steepness and keeps the first edgeCandidates.
func keepSteep(row []steep, s steep) []steep {
	row = append(row, s)
	for i := len(row) - 1; i > 0 && math.Abs(row[i].slope) > math.Abs(row[i-1].slope); i-- {
		row[i], row[i-1] = row[i-1], row[i]
	}
	return row[:min(len(row), edgeCandidates)]
}

// slopeKernel returns the weights of the first derivative of a Gaussian, which give the
// slope of a ramp as it is.
func slopeKernel() [9]float64 {
	var k [9]float64
	var sum float64
	for i := range k {
		x := float64(i - 4)
		k[i] = x * math.Exp(-x*x/(2*edgeBlur*edgeBlur))
		sum += x * k[i]
	}
	for i := range k {
		k[i] /= sum
	}
	return k
}

// sign returns 1 or -1.
func sign(x float64) float64 { return math.Copysign(1, x) }

// peakOf returns where the parabola through three values one apart has its top, seen from
// the middle one, in [-½, ½].
func peakOf(before, at, after float64) float64 {
	bend := before - 2*at + after
	if !(bend < 0) {
		return 0
	}
	return clamp((before-after)/(2*bend), -.5, .5)
}

// sampled is a line found among steep places: t0 and t1 to the left at the ends.
type sampled struct{ t0, t1, sign float64 }

// sampleLine returns the line with the most and the steepest places on it, all rising or
// all falling to the left, with some favour for the line that was clicked.
func sampleLine(rows [][]steep, length, reach float64) (sampled, bool) {
	var firsts []float64
	for _, row := range rows {
		if len(row) > 0 {
			firsts = append(firsts, math.Abs(row[0].slope))
		}
	}
	if float64(len(firsts)) < leastSeen*float64(len(rows)) || len(firsts) < 4 {
		return sampled{}, false
	}
	full := middleOf(firsts)
	pick := rand.New(rand.NewPCG(1, 2)) // the same tries each time
	var best sampled
	var bestScore float64
	for range edgeTries {
		i, j := pick.IntN(len(rows)), pick.IntN(len(rows))
		if len(rows[i]) == 0 || len(rows[j]) == 0 || max(i-j, j-i) < len(rows)/8 {
			continue
		}
		p, q := rows[i][pick.IntN(len(rows[i]))], rows[j][pick.IntN(len(rows[j]))]
		if p.slope*q.slope <= 0 {
			continue
		}
		rise := (q.t - p.t) / (q.u - p.u)
		l := sampled{p.t - rise*p.u, p.t + rise*(length-p.u), sign(p.slope)}
		if math.Abs(l.t0) > 1.2*reach || math.Abs(l.t1) > 1.2*reach {
			continue
		}
		if score := l.score(rows, length, full) * (1 - .15*(l.t0*l.t0+l.t1*l.t1)/(reach*reach)); score > bestScore {
			best, bestScore = l, score
		}
	}
	return best, bestScore > 0 && float64(best.seen(rows, length)) >= leastSeen*float64(len(rows))
}

// score adds up how well the best place of each profile agrees with the line.
func (l sampled) score(rows [][]steep, length, full float64) float64 {
	var sum float64
	for _, row := range rows {
		var best float64
		for _, s := range row {
			d := (s.t - l.t0 - (l.t1-l.t0)*s.u/length) / edgeBand
			if s.slope*l.sign > 0 && d*d < 1 {
				best = math.Max(best, (1-d*d)*math.Min(math.Abs(s.slope)/full, 1))
			}
		}
		sum += best
	}
	return sum
}

// seen counts the profiles that have a place on the line.
func (l sampled) seen(rows [][]steep, length float64) int {
	var n int
	for _, row := range rows {
		for _, s := range row {
			if s.slope*l.sign > 0 && math.Abs(s.t-l.t0-(l.t1-l.t0)*s.u/length) < edgeBand {
				n++
				break
			}
		}
	}
	return n
}

// refineEdge fits a line to subpixel places near the line from a to b whose slope has the
// sign, and returns the usual slope as well.
func refineEdge(r *Raster, a, b geom.Point, side float64) (edgeFit, float64, error) {
	length := a.Dist(b)
	n := int(clamp(length/2, 16, edgeDense))
	var fit edgeFit
	var slope float64
	for range 2 {
		var us, ts, slopes []float64
		for _, row := range steepPlaces(r, a, b, n, fineReach, leastSlope) {
			for _, s := range row {
				if s.slope*side > 0 { // the steepest of its kind
					us, ts, slopes = append(us, s.u), append(ts, s.t), append(slopes, math.Abs(s.slope))
					break
				}
			}
		}
		slope = middleOf(append([]float64(nil), slopes...))
		t0, rise, keep := robustLine(us, ts)
		if len(keep) < 4 || float64(len(keep)) < leastSeen*float64(n) {
			return edgeFit{}, 0, errNoEdge
		}
		dir := b.Sub(a).Unit()
		across := dir.Left()
		fit.pts = fit.pts[:0]
		for _, i := range keep {
			fit.pts = append(fit.pts, a.Add(dir.Mul(us[i])).Add(across.Mul(ts[i])))
		}
		a, b = a.Add(across.Mul(t0)), b.Add(across.Mul(t0+rise*length))
		fit.line = lineThrough(a, b)
	}
	return fit, slope, nil
}

// bowRounds is the number of times that a bowed edge is followed farther out.
const bowRounds = 4

// bowedEdge returns the points of an edge near the line from a to b that bows as a lens
// makes it, the slope of which has the sign.
func bowedEdge(r *Raster, a, b geom.Point, side float64) []geom.Point {
	length := a.Dist(b)
	dir := b.Sub(a).Unit()
	across := dir.Left()
	n := int(clamp(length/4, 16, edgeProfiles))
	var c bow
	var pts []geom.Point
	for round := range bowRounds {
		var us, ts []float64
		for i := range n {
			// Piece by piece, so that each lies along the bow.
			u0, u1 := length*float64(i)/float64(n), length*float64(i+1)/float64(n)
			p := a.Add(dir.Mul(u0)).Add(across.Mul(c.at(u0)))
			q := a.Add(dir.Mul(u1)).Add(across.Mul(c.at(u1)))
			for _, s := range steepPlaces(r, p, q, 1, fineReach, leastSlope)[0] {
				if s.slope*side > 0 {
					at := p.Add(q.Sub(p).Unit().Mul(s.u)).Add(q.Sub(p).Unit().Left().Mul(s.t)).Sub(a)
					us, ts = append(us, at.Dot(dir)), append(ts, at.Dot(across))
					break
				}
			}
		}
		var keep []int
		c, keep = robustBow(us, ts, c, round == 0)
		pts = pts[:0]
		for _, i := range keep {
			pts = append(pts, a.Add(dir.Mul(us[i])).Add(across.Mul(ts[i])))
		}
		if float64(len(keep)) < leastSeen*float64(n) {
			return nil
		}
	}
	return pts
}

// bow is the parabola t = t0 + t1 u + t2 u².
type bow struct{ t0, t1, t2 float64 }

func (c bow) at(u float64) float64 { return c.t0 + u*(c.t1+u*c.t2) }

// robustBow fits a parabola by least squares to what lies near the one before, and at the
// first time near a line, with outliers rejected.
func robustBow(us, ts []float64, c bow, first bool) (bow, []int) {
	limit := fineReach / 2
	if first {
		limit = edgeBand
	}
	var keep []int
	for range 4 {
		keep = keep[:0]
		var offs []float64
		for i := range us {
			if d := math.Abs(ts[i] - c.at(us[i])); d <= limit {
				keep, offs = append(keep, i), append(offs, d)
			}
		}
		if len(keep) < 6 {
			return c, nil
		}
		next, ok := fitBow(us, ts, keep)
		if !ok {
			return c, nil
		}
		c = next
		limit = math.Max(leastOff, 3*1.4826*middleOf(offs))
	}
	return c, keep
}

// fitBow fits a parabola to some places by least squares.
func fitBow(us, ts []float64, keep []int) (bow, bool) {
	a, b := mat.NewDense(len(keep), 3, nil), mat.NewVecDense(len(keep), nil)
	scale := 1.0
	for _, i := range keep {
		scale = math.Max(scale, math.Abs(us[i]))
	}
	for k, i := range keep {
		u := us[i] / scale
		a.SetRow(k, []float64{1, u, u * u})
		b.SetVec(k, ts[i])
	}
	var x mat.VecDense
	if x.SolveVec(a, b) != nil {
		return bow{}, false
	}
	return bow{x.AtVec(0), x.AtVec(1) / scale, x.AtVec(2) / (scale * scale)}, true
}

// robustLine fits t = t0 + rise u by least squares with outliers rejected, and returns the
// indices of what it kept. The rise is small, so that distances up are those across.
func robustLine(us, ts []float64) (t0, rise float64, keep []int) {
	if len(us) < 4 {
		return 0, 0, nil
	}
	// The line lies nearly level, so the median stands at first against outliers.
	t0 = middleOf(append([]float64(nil), ts...))
	keep = within(us, ts, t0, 0)
	for round := range 8 {
		var n, su, st, suu, sut float64
		for _, i := range keep {
			n, su, st = n+1, su+us[i], st+ts[i]
		}
		for _, i := range keep {
			suu += (us[i] - su/n) * (us[i] - su/n)
			sut += (us[i] - su/n) * (ts[i] - st/n)
		}
		if n < 4 || suu == 0 {
			return 0, 0, nil
		}
		rise = sut / suu
		t0 = st/n - rise*su/n
		was := len(keep)
		keep = within(us, ts, t0, rise)
		if round > 1 && len(keep) == was {
			break
		}
	}
	return t0, rise, keep
}

// within returns the indices of what lies within three sigma of a line.
func within(us, ts []float64, t0, rise float64) []int {
	offs := make([]float64, len(us))
	for i := range us {
		offs[i] = math.Abs(ts[i] - t0 - rise*us[i])
	}
	// 1.4826 makes the median of distances a sigma (Rousseeuw and Croux 1993).
	limit := math.Max(leastOff, 3*1.4826*middleOf(append([]float64(nil), offs...)))
	var keep []int
	for i, d := range offs {
		if d <= limit {
			keep = append(keep, i)
		}
	}
	return keep
}

// Limits of a drawn frame.
const (
	// drawnShare is the widest that a drawn edge is held to be, as a share of its side.
	drawnShare = .012
	// drawnLeast and drawnMost are its bounds in px.
	drawnLeast, drawnMost = 6.0, 40.0
	// drawnSlope is the least steepness of its other side, of that of the first.
	drawnSlope = .5
	// drawnLevel is by how much the grounds to its two sides may differ, of its depth.
	drawnLevel = .4
)

// middleOfLine returns the middle of the two edges if the fitted edge is one side of a drawn
// line, and the edge itself if it is the edge of a sheet.
func middleOfLine(r *Raster, fit edgeFit, a, b geom.Point, side, slope float64) edgeFit {
	length := a.Dist(b)
	reach := clamp(drawnShare*length, drawnLeast, drawnMost)
	across := fit.line.dir.Left()
	// The other edge of a dark line whose left rises lies to its right.
	for _, way := range []float64{1, -1} {
		shift := across.Mul(way * reach / 2)
		var us, ts []float64
		n := int(clamp(length/4, 16, edgeProfiles))
		a2, b2 := fit.line.at, fit.line.at.Add(fit.line.dir.Mul(length))
		for _, row := range steepPlaces(r, a2.Add(shift), b2.Add(shift), n, reach/2, drawnSlope*slope) {
			for _, s := range row {
				if s.slope*side < 0 {
					us, ts = append(us, s.u), append(ts, s.t)
					break
				}
			}
		}
		t0, rise, keep := robustLine(us, ts)
		if len(keep) < 4 || float64(len(keep)) < .6*float64(n) {
			continue
		}
		wide := way*reach/2 + t0 + rise*length/2
		if math.Abs(rise)*length > drawnLeast || math.Abs(wide) > reach || math.Abs(wide) < 1 {
			continue
		}
		if !sameGround(r, fit.line, length, wide) {
			continue
		}
		other, _, err := refineEdge(r, a2.Add(across.Mul(way*reach/2+t0)), b2.Add(across.Mul(way*reach/2+t0+rise*length)), -side)
		if err != nil {
			continue
		}
		return between(fit, other, length)
	}
	return fit
}

// sameGround reports whether the picture is alike on both sides of a line that is wide px
// wide to the left of l, and unlike on it.
func sameGround(r *Raster, l edgeLine, length, wide float64) bool {
	var in, near, far []float64
	gap := sign(wide) * 4
	across := l.dir.Left()
	for i := range edgeProfiles {
		p := l.at.Add(l.dir.Mul(length * (.1 + .8*float64(i)/edgeProfiles)))
		in = append(in, r.sample(p.Add(across.Mul(wide/2))))
		near = append(near, r.sample(p.Sub(across.Mul(gap))))
		far = append(far, r.sample(p.Add(across.Mul(wide+gap))))
	}
	x, y, z := middleOf(near), middleOf(in), middleOf(far)
	depth := math.Min(math.Abs(x-y), math.Abs(z-y))
	return (x-y)*(z-y) > 0 && math.Abs(x-z) < drawnLevel*depth
}

// between returns the line in the middle of two that run alike, with the points of both
// moved onto it by half of what lies between.
func between(a, b edgeFit, length float64) edgeFit {
	across := a.line.dir.Left()
	end := a.line.at.Add(a.line.dir.Mul(length))
	d0, d1 := -b.line.off(a.line.at)/2, -b.line.off(end)/2
	mid := lineThrough(a.line.at.Add(across.Mul(d0)), end.Add(across.Mul(d1)))
	r := edgeFit{line: mid, drawn: true}
	for _, p := range a.pts {
		r.pts = append(r.pts, p.Sub(across.Mul(b.line.off(p)/2)))
	}
	for _, p := range b.pts {
		r.pts = append(r.pts, p.Sub(across.Mul(a.line.off(p)/2)))
	}
	return r
}
