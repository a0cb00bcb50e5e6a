package geom

import "math"

const (
	// planStations is the number of equal lengths by whose ends a run may be
	// divided at first; the joints move freely afterwards.
	planStations = 24
	// planSamples is the number of points of a stretch that the plan looks at.
	planSamples = 24
	// planRounds bounds the steps on one stretch: the plan needs to know whether
	// a cubic will do, not which.
	planRounds = 6
	// planHopeless is the number of tolerances by which a stretch is off so far
	// that longer ones are not tried; each is taken to be worse by planWorse.
	planHopeless, planWorse = 16, 2
	// planArm is the share of a station's length over which the direction at a
	// joint is read at first.
	planArm = 0.5
)

// fitPlan knows how well each stretch between two stations is met by one cubic,
// and divides a run by that.
type fitPlan struct {
	run  pointRun
	tol  float64
	at   []int       // points at the stations
	cost [][]float64 // largest deviation of the cubic from station i to j
}

func newFitPlan(run pointRun, f Fit) *fitPlan {
	n := len(run.pts)
	p := &fitPlan{run: run, tol: f.Tol}
	stations := min(planStations, n-1)
	k := 0
	for i := range stations + 1 {
		want := run.at[n-1] * float64(i) / float64(stations)
		for k < n-1 && run.at[k] < want {
			k++
		}
		if i == stations {
			k = n - 1
		}
		if len(p.at) == 0 || p.at[len(p.at)-1] < k {
			p.at = append(p.at, k)
		}
	}
	m := len(p.at)
	p.cost = make([][]float64, m)
	for i := range m {
		p.cost[i] = make([]float64, m)
		for j := i + 1; j < m; j++ {
			if j > i+1 && p.cost[i][j-1] > planHopeless*f.Tol {
				p.cost[i][j] = p.cost[i][j-1] * planWorse
				continue
			}
			p.cost[i][j] = p.stretch(i, j, f)
		}
	}
	return p
}

// stretch returns the largest deviation of one cubic fitted to the points from
// station i to j by itself.
func (p *fitPlan) stretch(i, j int, f Fit) float64 {
	a, b := p.at[i], p.at[j]
	arm := planArm * p.run.at[len(p.run.at)-1] / planStations
	var part pointRun
	step := max(1, (b-a)/planSamples)
	for k := a; k < b; k += step {
		q := p.run.pts[k]
		if f.Noise > 0 {
			q = p.run.mean(k, min(step/2, k-a, b-k))
		}
		part.pts = append(part.pts, q)
		part.at = append(part.at, p.run.at[k]-p.run.at[a])
	}
	part.pts = append(part.pts, p.run.pts[b])
	part.at = append(part.at, p.run.at[b]-p.run.at[a])
	part.pts[0], _ = p.run.frame(a, arm)
	part.pts[len(part.pts)-1], _ = p.run.frame(b, arm)
	g := Fit{Tol: f.Tol, Noise: f.Noise / math.Sqrt(float64(2*(step/2)+1))}
	if i == 0 {
		g.Start = f.Start
	}
	if j == len(p.at)-1 {
		g.End = f.End
	}
	s := newFitState(part, g, []int{0, len(part.pts) - 1})
	s.rounds, s.enough = planRounds, f.Tol/2
	s.solve()
	return s.deviation()
}

// mean returns the mean of point k and the half points on either side of it.
func (r pointRun) mean(k, half int) Point {
	sum := Point{}
	for _, q := range r.pts[k-half : k+half+1] {
		sum = sum.Add(q)
	}
	return sum.Mul(1 / float64(2*half+1))
}

// fewest returns the number of cubics from which to try: one less than what the
// stretches need by themselves, because joints that move freely can save one.
func (p *fitPlan) fewest(most int) int {
	m := len(p.at)
	// reach[j] is the least number of stretches from the start to station j.
	reach := make([]int, m)
	for j := 1; j < m; j++ {
		reach[j] = m
		for i := range j {
			if p.cost[i][j] <= p.tol || i == j-1 {
				reach[j] = min(reach[j], reach[i]+1)
			}
		}
	}
	return max(1, min(reach[m-1]-1, most))
}

// breaks returns the points that divide the run into k stretches, the ends among
// them, with the least sum of squared deviations.
func (p *fitPlan) breaks(k int) []int {
	m := len(p.at)
	if k >= m-1 {
		return p.finer(k)
	}
	best := make([][]float64, k+1)
	from := make([][]int, k+1)
	for c := range best {
		best[c] = make([]float64, m)
		from[c] = make([]int, m)
		for j := range best[c] {
			best[c][j] = math.Inf(1)
		}
	}
	best[0][0] = 0
	for c := 1; c <= k; c++ {
		for j := c; j < m; j++ {
			for i := c - 1; i < j; i++ {
				if v := best[c-1][i] + p.cost[i][j]*p.cost[i][j]; v < best[c][j] {
					best[c][j], from[c][j] = v, i
				}
			}
		}
	}
	out := make([]int, k+1)
	for c, j := k, m-1; c >= 0; c-- {
		out[c] = p.at[j]
		j = from[c][j]
	}
	return out
}

// finer returns k + 1 points that divide the run evenly, for more stretches than
// there are stations.
func (p *fitPlan) finer(k int) []int {
	n := len(p.run.pts) - 1
	k = min(k, n)
	out := make([]int, k+1)
	for i := range out {
		out[i] = i * n / k
	}
	return out
}
