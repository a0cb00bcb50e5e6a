package draft

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// The oracle for cut lines of convex pieces: where every corner is mitred within
// its limit, the cloth is the intersection of the half-planes that the edges bound,
// each moved out by its allowance. It is found here by clipping a large square, and
// shares no code with the making of cut lines.

// halfPlane is what lies left of the line from a along u, a unit vector.
type halfPlane struct{ a, u geom.Point }

func (h halfPlane) depth(p geom.Point) float64 { return h.u.Cross(p.Sub(h.a)) }

// clipped returns what of a convex polygon lies in the half-plane (Sutherland and
// Hodgman 1974).
func (h halfPlane) clipped(poly []geom.Point) []geom.Point {
	var out []geom.Point
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		dp, dq := h.depth(p), h.depth(q)
		if dp >= 0 {
			out = append(out, p)
		}
		if (dp > 0) != (dq > 0) && dp != dq {
			out = append(out, p.Lerp(q, dp/(dp-dq)))
		}
	}
	return out
}

func shoelace(poly []geom.Point) float64 {
	sum := 0.0
	for i, p := range poly {
		sum += p.Cross(poly[(i+1)%len(poly)])
	}
	return sum / 2
}

// grown returns the area of the convex polygon whose edge from point i is moved out
// by width[i], and whether plain mitres make it: at every corner both edges are
// lengthened, to no more than the limit.
func grown(pts []geom.Point, width []float64) (area float64, plain bool) {
	size := 0.0
	for i := range pts {
		size = math.Max(size, pts[i].Len()+width[i])
	}
	size *= 10
	poly := []geom.Point{geom.Pt(-size, -size), geom.Pt(size, -size), geom.Pt(size, size), geom.Pt(-size, size)}
	n := len(pts)
	for i, p := range pts {
		u := pts[(i+1)%n].Sub(p).Unit()
		poly = halfPlane{p.Add(u.Left().Mul(-width[i])), u}.clipped(poly)

		before := (i + n - 1) % n
		v := p.Sub(pts[before]).Unit()
		sin, cos := v.Cross(u), v.Dot(u)
		a, b := width[before], width[i]
		onA, onB := (b-a*cos)/sin, (a-b*cos)/sin // by how much the mitre lengthens each
		if sin < leastTurn || onA < 0 || onB < 0 || math.Hypot(onA, a) > geom.MitreLimit*math.Max(a, b) {
			return 0, false
		}
	}
	return shoelace(poly), true
}

// leastTurn is the sine of the least turn that counts as a corner: where edges of
// different widths run on more smoothly, the cut line steps across.
const leastTurn = 0.35

// convex draws the corners of a convex piece of any size from a doll's cuff to a
// cloak; folded ones are symmetric about x = 0 and begin on it.
func convex(t *rapid.T, folded bool) []geom.Point {
	size := math.Pow(10, rapid.Float64Range(1, 3.2).Draw(t, "size"))
	flat := rapid.Float64Range(0.5, 1).Draw(t, "flat")
	n := rapid.IntRange(3, 6).Draw(t, "corners")
	span := 2 * math.Pi
	if folded {
		span = math.Pi
	}
	var pts []geom.Point
	for k := range n {
		share := (float64(k) + rapid.Float64Range(-0.3, 0.3).Draw(t, "share")) / float64(n)
		if folded {
			share = float64(k) / float64(n-1)
			if k > 0 && k < n-1 {
				share += rapid.Float64Range(-0.3, 0.3).Draw(t, "share") / float64(n)
			}
		}
		turn := span*share - math.Pi/2
		pts = append(pts, geom.Pt(toGrid(size*math.Cos(turn)), toGrid(size*flat*math.Sin(turn))))
		if folded && (k == 0 || k == n-1) {
			pts[k].X = 0
		}
	}
	return pts
}

func TestCutAreaOfConvexPiecesIsThatOfHalfPlanes(t *testing.T) {
	compared := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		folded := rapid.Bool().Draw(t, "folded")
		pts := convex(t, folded)
		p := polygonPiece("any", 0, pts...)
		whole, widths := pts, make([]float64, len(pts))
		size := math.Sqrt(p.DrawnPath().Area())
		for i := range pts {
			widths[i] = size * rapid.Float64Range(0.01, 0.2).Draw(t, "width")
			p.Edges[i].Allowance = Even(widths[i])
		}
		if folded {
			last := len(pts) - 1
			p.Edges[last].Kind, p.Cut.Way = FoldEdge, CutOnFold
			whole, widths = append([]geom.Point(nil), pts...), append([]float64(nil), widths[:last]...)
			for i := last - 1; i >= 0; i-- {
				if i > 0 {
					whole = append(whole, geom.Pt(-pts[i].X, pts[i].Y))
				}
				widths = append(widths, widths[i])
			}
		}
		want, plain := grown(whole, widths)
		if !plain {
			return
		}
		flat, err := LayFlat(p)
		if err != nil {
			t.Fatal(err)
		}
		if got := flat.Cut.Area(); math.Abs(got-want) > 1e-9*want {
			t.Fatalf("the cut line encloses %.9g mm², the half-planes %.9g", got, want)
		}
		if got, want := flat.Stitch.Area(), shoelace(whole); math.Abs(got-want) > 1e-9*want {
			t.Fatalf("the stitching line encloses %.9g mm², want %.9g", got, want)
		}
		compared[folded]++
	})
	if (compared[true] == 0 || compared[false] == 0) && !testing.Short() {
		t.Errorf("compared %v pieces; none is folded, or every one", compared)
	}
}

// The mirrored half of a piece on the fold is met from the other side. Every rule at
// every corner, with equal widths and others, hems and seams, must give a cut line
// that is its own mirror image.
func TestEveryCornerRuleUnfoldsSymmetrically(t *testing.T) {
	for _, rule := range CornerRules() {
		for _, kinds := range [][3]EdgeKind{{HemEdge, SeamEdge, SeamEdge}, {SeamEdge, SeamEdge, SeamEdge}, {HemEdge, HemEdge, HemEdge}, {SeamEdge, CasingEdge, RawEdge}} {
			for _, widths := range [][3]Allowance{{Even(12), Even(6), Even(4)}, {Even(8), Even(8), Even(8)}, {{Start: 4, End: 10}, {Start: 10, End: 3}, {Start: 3, End: 6}}} {
				p := polygonPiece("half", 0, geom.Pt(0, 0), geom.Pt(55, -6), geom.Pt(40, 60), geom.Pt(0, 60))
				p.Edges[3].Kind, p.Cut = FoldEdge, CutRule{Way: CutOnFold, Count: 1}
				for i := range 3 {
					p.Edges[i].Kind, p.Edges[i].Allowance, p.Edges[i].Corner = kinds[i], widths[i], rule
				}
				what := fmt.Sprint(rule, kinds, widths)
				flat, err := LayFlat(p)
				if err != nil {
					t.Fatalf("%s: %v", what, err)
				}
				for _, q := range flat.Cut.Transform(geom.Scaling(-1, 1)).Flatten(0.01) {
					if _, d := flat.Cut.Nearest(q); d > 0.03 {
						t.Errorf("%s: the halves differ by %g mm at %v", what, d, q)
						break
					}
				}
			}
		}
	}
}

// The near half of an unfolded piece is cut as the same piece drawn whole would be.
func TestUnfoldedIsCutAsIfDrawnWhole(t *testing.T) {
	for _, rule := range CornerRules() {
		half := polygonPiece("half", 0, geom.Pt(0, 0), geom.Pt(55, -6), geom.Pt(40, 60), geom.Pt(0, 66))
		half.Edges[3].Kind, half.Cut = FoldEdge, CutRule{Way: CutOnFold, Count: 1}
		whole := polygonPiece("whole", 0, geom.Pt(-55, -6), geom.Pt(0, 0), geom.Pt(55, -6), geom.Pt(40, 60), geom.Pt(0, 66), geom.Pt(-40, 60))
		kinds, widths := []EdgeKind{HemEdge, SeamEdge, SeamEdge}, []Allowance{Even(12), {Start: 6, End: 9}, Even(5)}
		for i := range 3 {
			half.Edges[i].Kind, half.Edges[i].Allowance = kinds[i], widths[i]
			whole.Edges[i+1].Kind, whole.Edges[i+1].Allowance = kinds[i], widths[i]
			far := [...]int{0, 5, 4}[i]
			whole.Edges[far].Kind, whole.Edges[far].Allowance = kinds[i], Allowance{Start: widths[i].End, End: widths[i].Start}
		}
		half.Edges[1].Corner, half.Edges[2].Corner = rule, rule
		whole.Edges[2].Corner, whole.Edges[3].Corner = rule, rule
		a, err := LayFlat(half)
		if err != nil {
			t.Fatal(err)
		}
		b, err := LayFlat(whole)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range b.Cut.Flatten(0.01) {
			if _, d := a.Cut.Nearest(q); q.X > 0 && d > 0.02 {
				t.Errorf("%v: at %v the half that is unfolded is cut %g mm off", rule, q, d)
				break
			}
		}
	}
}
