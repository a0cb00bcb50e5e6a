package tracetest

import (
	"math"
	"math/rand/v2"

	"hemlet/geom"
)

// Camera says how a sheet that lies on a table is photographed.
type Camera struct {
	W, H   int     // px
	Tilt   float64 // of the view from straight above, radians
	From   float64 // side from which it leans, radians
	Turn   float64 // of the camera about its view, radians
	Fill   float64 // share of the picture that the sheet may fill, about 0.9
	Wide   float64 // focal length as a multiple of the picture's width, about 0.8
	Faults Scan    // its DPI and Turn are not used
}

// Phone is a photograph of 12 megapixels by hand, leaning by 8 to 20 degrees.
func Phone(seed uint64) Camera {
	rng := rand.New(rand.NewPCG(seed, 0xca3e))
	return Camera{
		W: 4000, H: 3000, Tilt: between(rng, .14, .35), From: rng.Float64() * 2 * math.Pi,
		Turn: between(rng, -.1, .1), Fill: .92, Wide: .8,
		Faults: Scan{Blur: 1, Noise: 5, JPEG: 88, FallOff: .25, Specks: 10, Seed: seed},
	}
}

// See returns the photograph of the sheet on a dark wooden table.
func (c Camera) See(sheet Sheet) (Picture, error) {
	m := c.project(sheet)
	rng := rand.New(rand.NewPCG(c.Faults.Seed, 0x7ab1e))
	waves := between(rng, .008, .015)
	v := view{
		w: c.W, h: c.H, toPx: m, clip: true, faults: c.Faults,
		glass: Tone{.26, .26, .26},
		table: func(x, y float64) float32 {
			return float32(1 + .12*math.Sin(waves*y+.6*math.Sin(x*.0021)) + .08*math.Sin(waves*4.7*y+.9*math.Sin(x*.0043)))
		},
	}
	return v.see(sheet)
}

// project returns the map from mm of the sheet to pixels, from as near as the sheet keeps
// within its share of the picture.
func (c Camera) project(sheet Sheet) geom.Homography {
	const nearer = 1.01
	far := c.Wide * math.Max(sheet.W, sheet.H) / 2
	for {
		m := c.from(sheet, far)
		if c.holds(m, sheet) {
			return m
		}
		far *= nearer
	}
}

// holds reports whether all corners of the sheet lie well within the picture.
func (c Camera) holds(m geom.Homography, sheet Sheet) bool {
	for _, p := range [4]geom.Point{{}, {X: sheet.W}, {X: sheet.W, Y: sheet.H}, {Y: sheet.H}} {
		q := m.Apply(p)
		x, y := 2*q.X/float64(c.W)-1, 2*q.Y/float64(c.H)-1
		if m.Depth(p) <= 0 || math.Abs(x) > c.Fill || math.Abs(y) > c.Fill {
			return false
		}
	}
	return true
}

// from returns the map as seen from far mm before the middle of the sheet.
func (c Camera) from(sheet Sheet, far float64) geom.Homography {
	f := c.Wide * float64(c.W)
	// The camera's axes, seen from the sheet: forward, right, down.
	st, ct := math.Sincos(c.Tilt)
	sf, cf := math.Sincos(c.From)
	fwd := [3]float64{-st * cf, -st * sf, -ct}
	// Right: level, square to forward; where it leans not at all, along x.
	right := [3]float64{1, 0, 0}
	d := right[0]*fwd[0] + right[1]*fwd[1] + right[2]*fwd[2]
	var n float64
	for i := range right {
		right[i] -= d * fwd[i]
		n += right[i] * right[i]
	}
	for i := range right {
		right[i] /= math.Sqrt(n)
	}
	down := [3]float64{
		fwd[1]*right[2] - fwd[2]*right[1],
		fwd[2]*right[0] - fwd[0]*right[2],
		fwd[0]*right[1] - fwd[1]*right[0],
	}
	s, co := math.Sincos(c.Turn)
	for i := range right {
		right[i], down[i] = co*right[i]+s*down[i], co*down[i]-s*right[i]
	}
	mid := geom.Pt(sheet.W/2, sheet.H/2)
	// A point q = (x, y) - mid of the plane lies at (q·right, q·down, far + q·fwd).
	row := func(v [3]float64, off float64) [3]float64 {
		return [3]float64{v[0], v[1], off - v[0]*mid.X - v[1]*mid.Y}
	}
	x, y, z := row(right, 0), row(down, 0), row(fwd, far)
	cx, cy := float64(c.W)/2, float64(c.H)/2
	return geom.Homography{
		A: (f*x[0] + cx*z[0]) / z[2], C: (f*x[1] + cx*z[1]) / z[2], E: (f*x[2] + cx*z[2]) / z[2],
		B: (f*y[0] + cy*z[0]) / z[2], D: (f*y[1] + cy*z[1]) / z[2], F: (f*y[2] + cy*z[2]) / z[2],
		G: z[0] / z[2], H: z[1] / z[2],
	}
}
