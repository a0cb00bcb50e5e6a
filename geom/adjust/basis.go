package adjust

import "gonum.org/v1/gonum/integrate/quad"

// gaussPoints is the number of places of the Gauss-Legendre rule for integrals along a
// stretch: as many as the length of a calm cubic takes for 1e-9 of it.
const gaussPoints = 16

// basis holds, at the places of the rule, the weights with which the four slots of a
// stretch enter its point, and their first and second derivatives by the parameter.
type basis struct {
	t, w       [gaussPoints]float64
	f, df, ddf [gaussPoints][4]float64
}

// curved is the basis of a cubic: a node counts with its handle's end, which hangs on it.
// lined is that of a line, which has no handles.
var curved, lined = newBasis(curvedAt), newBasis(linedAt)

func newBasis(at func(t float64) (f, df, ddf [4]float64)) *basis {
	b := &basis{}
	quad.Legendre{}.FixedLocations(b.t[:], b.w[:], 0, 1)
	for i, t := range b.t {
		b.f[i], b.df[i], b.ddf[i] = at(t)
	}
	return b
}

func curvedAt(t float64) (f, df, ddf [4]float64) {
	u := 1 - t
	b := [4]float64{u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t}
	db := [4]float64{-3 * u * u, 3*u*u - 6*u*t, 6*u*t - 3*t*t, 3 * t * t}
	ddb := [4]float64{6 * u, 6*t - 12*u, 6*u - 12*t, 6 * t}
	onNodes := func(c [4]float64) [4]float64 { return [4]float64{c[0] + c[1], c[1], c[2], c[2] + c[3]} }
	return onNodes(b), onNodes(db), onNodes(ddb)
}

func linedAt(t float64) (f, df, ddf [4]float64) {
	return [4]float64{0: 1 - t, 3: t}, [4]float64{0: -1, 3: 1}, [4]float64{}
}

// basisOf returns the basis of stretch i.
func (o *outline) basisOf(i int) *basis {
	if o.shape.straight(i) {
		return lined
	}
	return curved
}
