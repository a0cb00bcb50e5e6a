package follow

import (
	"context"
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
	"hemlet/geom/trace/tracetest"
)

// nested is a scan of two sizes over each other, with the truth in pixels.
type nested struct {
	field  *scan.Field
	s      float64
	sizes  [2]geom.Path
	pieces [2]tracetest.Piece
}

// scanNest draws a garment and its next size on one sheet and scans it.
func scanNest(t testing.TB, seed uint64, rough bool) nested {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 11))
	p := tracetest.Garment(seed)
	mid := p.Outline.Bounds().Center()
	grow := 1.02 + 0.06*rng.Float64()
	turn := (0.09 + 0.12*rng.Float64()) * float64(1-2*rng.IntN(2))
	m := geom.Translation(mid.Mul(-1)).Then(geom.Scaling(grow, 2-grow)).Then(geom.Rotation(turn, geom.Point{})).Then(geom.Translation(mid))
	q := p.Transform(m)
	sheet, laid := tracetest.Lay(p, q)
	pen := 0.35 + 0.25*rng.Float64()
	sheet = sheet.Draw(tracetest.Black, pen, laid[0]).Draw(tracetest.Black, pen, laid[1])
	see := tracetest.Plain(300, seed)
	if rough {
		see = tracetest.Rough(300, seed)
	}
	pic, err := see.See(sheet)
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	r, err := scan.Grey(ctx, pic.Image, nil)
	if err != nil {
		t.Fatal(err)
	}
	f, err := scan.Even(ctx, r, scan.Light{S: pic.Scale})
	if err != nil {
		t.Fatal(err)
	}
	back, ok := pic.Back.Affine()
	if !ok {
		t.Fatal("a scan is an affine map")
	}
	n := nested{field: f, s: pic.Scale}
	for i, piece := range laid {
		n.pieces[i] = piece
		n.sizes[i] = piece.Outline.Transform(back)
	}
	return n
}

// stopsFor clicks on the corners of a size and once between two of them, where the other
// size is farthest away, with a hand that is off by up to 0.3 mm, or less where the other
// size is so near that one looks closer.
func (n nested) stopsFor(which int, rng *rand.Rand) []Stop {
	const leastCorner = 10 * math.Pi / 180
	p, other := n.sizes[which], n.sizes[1-which]
	hand := func(q geom.Point) geom.Point {
		reach := min(0.6*n.s, 0.6*distances([]geom.Point{q}, other)[0])
		return q.Add(geom.Pt(rng.Float64()-.5, rng.Float64()-.5).Mul(reach))
	}
	var at []float64
	tape := p.Tape()
	for _, c := range tracetest.CornersOf(p, leastCorner) {
		for i, s := range p {
			if s.P0 == c.At {
				at = append(at, tape.Node(i))
			}
		}
	}
	corner := len(at) > 0
	if !corner { // a round: a click at every joint, as one does at the ends of bends
		for i := range p {
			at = append(at, tape.Node(i))
		}
	}
	var stops []Stop
	for i, from := range at {
		to := tape.Length() + at[0]
		if i+1 < len(at) {
			to = at[i+1]
		}
		stops = append(stops, Stop{At: hand(p.At(tape.At(from))), Corner: corner})
		best, far := geom.Point{}, -1.0
		for k := 6; k <= 14; k++ {
			q := p.At(tape.At(math.Mod(from+(to-from)*float64(k)/20, tape.Length())))
			if d := distances([]geom.Point{q}, other)[0]; d > far {
				best, far = q, d
			}
		}
		stops = append(stops, Stop{At: hand(best)})
	}
	if len(stops) < 3 {
		stops = append(stops, Stop{At: hand(p.At(tape.At(math.Mod(at[0]+0.8*tape.Length(), tape.Length()))))})
	}
	return stops
}

// astray reports how many crossings of its size with the other one a line passes on the
// wrong line: within 15 mm of the crossing it comes nearer to the other size than to its
// own where both are more than 0.8 mm apart.
func (n nested) astray(pts []geom.Point, which int) (crossings, wrong int) {
	own, other := n.sizes[which], n.sizes[1-which]
	for _, x := range own.Intersections(other) {
		crossings++
		for _, p := range pts {
			if p.Dist(x.P) > 15*n.s {
				continue
			}
			a, b := distances([]geom.Point{p}, own)[0], distances([]geom.Point{p}, other)[0]
			if b < a && a > 0.4*n.s {
				wrong++
				break
			}
		}
	}
	return crossings, wrong
}

// leastAngle returns the smallest angle at which the sizes cross, in radians.
func (n nested) leastAngle() float64 {
	least := math.Pi
	for _, x := range n.sizes[0].Intersections(n.sizes[1]) {
		a := turnBetween(n.sizes[0].Tangent(x.A), n.sizes[1].Tangent(x.B))
		least = min(least, a, math.Pi-a)
	}
	return least
}

// nestCrossings is how many crossings the guide has to pass. One on the wrong line fails,
// so that fewer only see fewer nests.
var nestCrossings = flag.Int("nest-crossings", 30, "crossings of drawn sizes that the guide has to pass")

// TestGuideInScannedNests: two sizes that overlap are told apart at every crossing of 4
// degrees or more, with clicks only at corners and one between, in scans that the guide
// knows nothing of. (Lines that cross at less run together for more than 7 mm.)
func TestGuideInScannedNests(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	leastCrossing, enough := 4*math.Pi/180, *nestCrossings
	crossings, wrong := 0, 0
	var off []float64
	for seed := uint64(0); crossings < enough; seed++ {
		n := scanNest(t, 300+seed, seed%3 == 2)
		if n.leastAngle() < leastCrossing {
			continue
		}
		g := NewGuide(n.field, n.s)
		rng := rand.New(rand.NewPCG(seed, 5))
		for which := range n.sizes {
			line, err := g.Line(context.Background(), true, n.stopsFor(which, rng)...)
			if err != nil {
				t.Fatal(err)
			}
			c, w := n.astray(line.Pts, which)
			crossings, wrong = crossings+c, wrong+w
			d := distances(line.Pts, n.sizes[which])
			if d[len(d)-1] > n.s || w > 0 {
				t.Logf("seed %d size %d (%s): %d crossings, %d wrong, off by up to %.2f mm", 300+seed, which, n.pieces[which].Name, c, w, d[len(d)-1]/n.s)
			}
			for _, v := range d {
				off = append(off, v/n.s)
			}
		}
	}
	slices.Sort(off)
	t.Logf("%d crossings, %d wrong; off by %.4f median, %.4f p95, %.4f p99, %.3f at most, mm", crossings, wrong, share(off, .5), share(off, .95), share(off, .99), share(off, 1))
	if wrong > 0 || share(off, .5) > 0.02 || share(off, .95) > 0.15 {
		t.Errorf("%d of %d crossings passed on the wrong line; off by %.4f mm median, %.4f p95", wrong, crossings, share(off, .5), share(off, .95))
	}
}
