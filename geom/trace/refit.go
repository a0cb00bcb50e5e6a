package trace

import (
	"context"
	"math"

	"hemlet/geom"
	"hemlet/geom/trace/fit"
)

const (
	// astrayTols is how many tolerances a path may lie off its ink somewhere before another
	// one is looked for.
	astrayTols = 1.5
	// leastCorner is the turn in radians, of 3 degrees, below which a corner is none.
	leastCorner = math.Pi / 60
	// nearerShare is by what share the deviation has to shrink for another path to be taken.
	nearerShare = 0.6
)

// retries are other ways to begin a fit: from another place of the line, as a share of it,
// and with another blur, which leaves out less or more beside corners. A fit is a search
// step by step; where the samples about a corner leave it in doubt, it may end in a bad
// solution that lies beside a good one.
var retries = []struct{ from, blur float64 }{{1. / 3, 1}, {2. / 3, 1}, {1. / 3, 0.9}, {0, 1.25}, {2. / 3, 1.25}, {0, 0.9}}

// bestClosed fits a closed line as fit.Closed does. Where the path lies off its ink, or has a
// corner that does not turn, it is looked for again, and a better path is kept: nearer to the
// ink, whether that is given the corners of the one or of the other, and with no more
// corners.
func bestClosed(ctx context.Context, pts []geom.Point, o fit.Options) (fit.Curve, error) {
	best, err := fit.Closed(ctx, pts, o)
	if err != nil {
		return best, err
	}
	around := append(pts[:len(pts):len(pts)], pts[0])
	first := Sharpened(best.Path, around, o.Blur, o.Pen)
	off, flat := Review(best.Path, [][]geom.Point{first}).Largest, flatCorner(best)
	for _, again := range retries {
		if off <= astrayTols*o.Tol && !flat {
			break
		}
		c, err := fit.Closed(ctx, from(pts, again.from), begun(o, len(pts), again.from, again.blur))
		if ctx.Err() != nil {
			return best, ctx.Err()
		}
		if err != nil || c.Path.Simple() != nil || len(c.Path) > len(best.Path)+1 || cornersIn(c) > cornersIn(best) {
			continue
		}
		own := Sharpened(c.Path, around, o.Blur, o.Pen)
		by := math.Max(Review(c.Path, [][]geom.Point{own}).Largest, Review(c.Path, [][]geom.Point{first}).Largest)
		level := flatCorner(c)
		nearer := by < nearerShare*off && (flat || !level)
		if nearer || flat && !level && by <= math.Max(off, o.Tol) {
			best, off, flat = c, by, level
		}
	}
	return best, nil
}

// cornersIn returns the number of corners of a curve.
func cornersIn(c fit.Curve) int {
	n := 0
	for _, is := range c.Corner {
		if is {
			n++
		}
	}
	return n
}

// flatCorner reports whether a closed curve has a corner that does not turn.
func flatCorner(c fit.Curve) bool {
	for i, s := range c.Path {
		u, v := c.Path[(i+len(c.Path)-1)%len(c.Path)].Tangent(1), s.Tangent(0)
		if c.Corner[i] && len(c.Path) > 1 && math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) < leastCorner {
			return true
		}
	}
	return false
}

// from returns a round of points that begins at a share of it.
func from(pts []geom.Point, share float64) []geom.Point {
	k := int(share * float64(len(pts)))
	return append(append(make([]geom.Point, 0, len(pts)), pts[k:]...), pts[:k]...)
}

// begun returns the options for a round of n points that begins at a share of it, with the
// blur times a factor.
func begun(o fit.Options, n int, share, blur float64) fit.Options {
	k := int(share * float64(n))
	shift := func(at int) int { return ((at-k)%n + n) % n }
	tips := make([]fit.Tip, len(o.Tips))
	for i, t := range o.Tips {
		tips[i] = fit.Tip{At: shift(t.At), P: t.P}
	}
	corners := make([]int, len(o.Corners))
	for i, at := range o.Corners {
		corners[i] = shift(at)
	}
	o.Tips, o.Corners, o.Blur = tips, corners, o.Blur*blur
	return o
}
