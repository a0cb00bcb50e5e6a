package adjust

import (
	"testing"

	"hemlet/geom"
)

// scipyFront is front() with its side 4 mm longer, its armhole as long as it was and its
// shoulder 1.5 mm longer, as the control points of its stretches in mm.
//
// Source: SciPy 1.10.1, scipy.optimize.minimize with method SLSQP and ftol 1e-15 from the
// unchanged outline, five times over; the metric of the package's comment and the lengths
// by Gauss-Legendre rules of 60 points (scipy.special.roots_legendre), the wishes and the
// joint inside the armhole as equality constraints, the turns of the control polygons as
// inequalities, one of which, in the hem, holds it back. It found a cost of 353.228753398.
var scipyFront = [7][4]geom.Point{
	{pt(0, 60.010033), pt(0, 39.992456), pt(0, 19.97488), pt(0, -0.042697)},
	{pt(0, -0.042697), pt(19.995157, -0.042697), pt(40.002275, 1.01593), pt(57.985821, 1.969485)},
	{pt(57.985821, 1.969485), pt(55.680225, 19.592551), pt(56.953878, 35.62194), pt(60.594414, 49.876428)},
	{pt(60.594414, 49.876428), pt(50.134434, 50.963162), pt(44.833502, 58.586412), pt(46.094864, 70.166483)},
	{pt(46.094864, 70.166483), pt(46.767102, 76.33804), pt(48.592203, 82.505591), pt(50.834036, 86.632164)},
	{pt(50.834036, 86.632164), pt(40.943463, 89.153192), pt(31.052889, 91.674221), pt(21.162315, 94.195249)},
	{pt(21.162315, 94.195249), pt(19.857675, 75.028733), pt(9.921451, 60.010033), pt(0, 60.010033)},
}

// TestAgainstSciPy: a general optimiser, told what is least, puts every control point where
// Solve does.
func TestAgainstSciPy(t *testing.T) {
	const near = 2e-6 // mm, what SLSQP settles to and is written down
	res := front().want(frontSide, 4).want(frontArmhole, 0).want(frontShoulder, 1.5).solved(t)
	met(t, res)
	for i, s := range res.Shapes[0].Path() {
		for k, p := range [4]geom.Point{s.P0, s.P1, s.P2, s.P3} {
			if !p.Near(scipyFront[i][k], near) {
				t.Errorf("stretch %d: control point %d at %v, by SciPy at %v", i, k, p, scipyFront[i][k])
			}
		}
	}
}
