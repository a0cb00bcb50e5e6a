package scan

import (
	"context"
	"errors"
	"math"

	"hemlet/geom"
)

// Grid is the squared paper of a picture.
type Grid struct {
	// Map takes px to squares, y up: lines lie at whole numbers. A stronger line lies at 0
	// where there are any.
	Map       geom.Homography
	RMS       float64 // px, of the crossings from where the map has them
	Crossings int     // that the map was fitted to
	Spacing   float64 // px, the side of a square in the middle of the picture
	Turn      float64 // radians, counter-clockwise as it is seen, of the lines across, within a right angle
	Skew      float64 // radians, by how much the corner of a square is wider than square there
	Minor     int     // squares from one stronger line to the next; 0 where all are alike
	Light     bool    // the lines are lighter than what lies between
	// Seen holds, in squares, the crossings found and as much beyond as to the next that
	// were looked for. Where it has no area the paper is held to fill the picture.
	Seen geom.Rect
}

// errNoGrid says that there is no squared paper.
var errNoGrid = errors.New("no squared paper shows: make the picture true by a length or by corners that are known")

// Parameters of finding squared paper.
const (
	// gridSize is the size in px to which the longer side of a picture is lessened for the
	// search: 5 mm on A3 are then 15 px.
	gridSize = 1300
	// gridSeeds bounds the places from which growing is tried.
	gridSeeds = 6
	// leastCrossings is the least number of crossings that make squared paper, and
	// leastLines the least number of lines each way.
	leastCrossings, leastLines = 20, 4
	// leastGridShare is the least share of the crossings where the lattice lies that must
	// show, in the part of the picture where it shows at all.
	leastGridShare = .3
	// mostGridRMS is the largest rms of crossings, in squares.
	mostGridRMS = .06
)

// FindGrid finds squared paper, light or dark lines about as far apart both ways, turned,
// skewed or seen in mild perspective, and partly covered. It refuses pictures without.
//
// Method: in small windows of the lessened picture the two directions at which thin lines
// add up best, and how often they come again; from the best window crossings are found
// outward in the full picture, each from where those before put it.
func FindGrid(ctx context.Context, r *Raster) (Grid, error) {
	if !r.whole() {
		return Grid{}, errNoPicture
	}
	small, k := lessened(r, gridSize)
	views := []gridView{{small, k, geom.Point{}}}
	if k > 1 {
		// Lines so fine that lessening blurs them into grey.
		views = append(views, closeViews(r)...)
	}
	for _, v := range views {
		for _, light := range []bool{false, true} {
			g, ok, err := v.find(ctx, r, light)
			if ok || err != nil {
				return g, err
			}
		}
	}
	return Grid{}, errNoGrid
}

// gridView is a part of a picture in which squared paper is looked for: lessened by k, with
// its top left corner at a place of the picture.
type gridView struct {
	r  *Raster
	k  float64
	at geom.Point
}

// closeSize is the side in px of a part of the picture that is looked at as it is.
const closeSize = 500

// closeViews returns the middle of the picture and of its quarters as they are.
func closeViews(r *Raster) []gridView {
	var vs []gridView
	for _, at := range [5]geom.Point{{X: .5, Y: .5}, {X: .25, Y: .25}, {X: .75, Y: .75}, {X: .75, Y: .25}, {X: .25, Y: .75}} {
		w, h := min(closeSize, r.W), min(closeSize, r.H)
		x, y := int(at.X*float64(r.W-w)), int(at.Y*float64(r.H-h))
		c := &Raster{W: w, H: h, Pix: make([]uint8, w*h)}
		for j := range h {
			copy(c.Pix[j*w:(j+1)*w], r.Pix[(y+j)*r.W+x:])
		}
		vs = append(vs, gridView{c, 1, geom.Pt(float64(x), float64(y))})
	}
	return vs
}

// find looks for squared paper in the view and grows what it finds in the whole picture.
func (v gridView) find(ctx context.Context, r *Raster, light bool) (Grid, bool, error) {
	seeds, err := gridSeedsOf(ctx, v.r, light)
	if err != nil {
		return Grid{}, false, err
	}
	for _, s := range seeds {
		s.at, s.u, s.v = s.at.Mul(v.k).Add(v.at), s.u.Mul(v.k), s.v.Mul(v.k)
		l := newLattice(r, s, light)
		if ok, err := l.grow(ctx); err != nil {
			return Grid{}, false, err
		} else if ok {
			g, err := l.grid()
			return g, true, err
		}
	}
	return Grid{}, false, nil
}

// True returns the map from px to mm, y up and with the lines across and up, under which a
// square is side mm wide, and that brings the place px to mm. The residual in mm is that
// of the crossings.
func (g Grid) True(side float64, px, mm geom.Point) (geom.Homography, float64, error) {
	if !(side > 0) || side > mostLength {
		return geom.Homography{}, 0, errors.New("the side of a square must lie above 0 and be at most 100 m")
	}
	h := g.Map.Then(geom.Scaling(side, side))
	at := h.Apply(px)
	if !at.Finite() || !mm.Finite() {
		return geom.Homography{}, 0, errLostMark
	}
	return h.Then(geom.Translation(mm.Sub(at))), g.RMS * side / g.Spacing, nil
}

// grid tells what a grown lattice is.
func (l *lattice) grid() (Grid, error) {
	l.subdivide()
	minor := l.stronger()
	back, ok := l.toPx.Invert()
	if !ok {
		return Grid{}, errNoGrid
	}
	g := Grid{Map: back, RMS: l.rms, Crossings: len(l.px), Minor: minor, Light: l.light, Seen: l.seen()}
	mid := l.toPx.Near(back.Apply(geom.Pt(float64(l.r.W)/2, float64(l.r.H)/2)))
	across, up := geom.Pt(mid.A, -mid.B), geom.Pt(mid.C, -mid.D)
	if math.Abs(across.Y) > math.Abs(across.X) {
		// From where the seed lay another quarter turn was nearer.
		way := math.Copysign(1, across.Y)
		turn := geom.Affine{B: way, C: -way}
		g.Map = back.Then(turn)
		g.Seen = geom.RectOf(turn.Apply(g.Seen.Min), turn.Apply(g.Seen.Max))
		across, up = up.Mul(-way), across.Mul(way)
	}
	g.Spacing = math.Sqrt(math.Abs(mid.Det()))
	g.Turn = across.Angle()
	g.Skew = math.Atan2(across.Cross(up), across.Dot(up)) - math.Pi/2
	return g, nil
}
