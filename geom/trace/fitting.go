package trace

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"sync"

	"hemlet/geom"
	"hemlet/geom/trace/fit"
	"hemlet/geom/trace/follow"
)

// fit brings what was followed to mm and fits it, several shapes at a time.
func (j job) fit(ctx context.Context, found follow.Found, o Options, progress Progress) (Result, error) {
	res := Result{Specks: found.Specks, Lettering: found.Lettering, Outside: found.Outside, Crossed: found.Crossed, Says: remarks(found)}
	for _, l := range found.Open {
		m := j.m.Near(l.At)
		scale := j.m.ScaleAt(l.At)
		res.Open = append(res.Open, Stray{j.ink(l.Line), m.Apply(l.At), l.Gap * scale})
	}
	for _, l := range found.Cut {
		ink := j.ink(l)
		res.Cut = append(res.Cut, Stray{Ink: ink, At: ink[0]})
	}
	outlines, fails := j.shapes(ctx, found.Shapes, o, progress)
	if err := ctx.Err(); err != nil {
		return Result{}, err
	}
	for i, out := range outlines {
		if fails[i] != "" {
			res.Says = append(res.Says, fails[i])
		}
		if out.Path == nil {
			ink := j.ink(found.Shapes[i].Outline)
			res.Open = append(res.Open, Stray{Ink: ink, At: ink[0]})
			continue
		}
		res.Outlines = append(res.Outlines, out)
	}
	return res, nil
}

// shapes fits the shapes, as many at a time as there are processors. Of each it returns the
// outline and, where that is not as it should be, what to say; where ctx is done, only some.
func (j job) shapes(ctx context.Context, shapes []follow.Shape, o Options, progress Progress) (outlines []Outline, fails []string) {
	outlines, fails = make([]Outline, len(shapes)), make([]string, len(shapes))
	var mu sync.Mutex
	var wait sync.WaitGroup
	next, done := 0, 0
	for range min(runtime.GOMAXPROCS(0), len(shapes)) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for {
				mu.Lock()
				i := next
				next++
				mu.Unlock()
				if i >= len(shapes) || ctx.Err() != nil {
					return
				}
				outlines[i], fails[i] = j.shape(ctx, shapes[i], o)
				mu.Lock()
				done++
				progress(1-shareFit+shareFit*float64(done)/float64(len(shapes)), "fitting the lines")
				mu.Unlock()
			}
		}()
	}
	wait.Wait()
	return outlines, fails
}

// remarks says what was seen that asks for another way to follow the ink.
func remarks(found follow.Found) []string {
	var says []string
	if found.Crossed > 0 {
		says = append(says, "Outlines cross each other, as those of several sizes drawn into one another do. Follow the one that is wanted with the guide, from corner to corner.")
	}
	if found.Solid > 0 {
		says = append(says, "There is ink too wide for a pen. If the shapes are filled or cut out, follow their edges.")
	}
	return says
}

// shape fits one shape. An outline without a path could not be fitted; what is said then
// tells why.
func (j job) shape(ctx context.Context, sh follow.Shape, o Options) (Outline, string) {
	var says string
	pen := sh.Outline.Width * j.m.ScaleAt(sh.Outline.Pts[0])
	marks, known := j.marks(sh, pen)
	c, ink, err := j.curve(ctx, sh.Outline, known, o)
	var plain *plainLinesError
	if err != nil && !errors.As(err, &plain) {
		mid := geom.RectOf(ink...).Center()
		return Outline{}, fmt.Sprintf("The outline about (%.0f, %.0f) mm could not be fitted: %v.", mid.X, mid.Y, err)
	}
	if plain != nil {
		says = plainly("outline", ink, plain)
	} else {
		ink = j.sharpened(c.Path, ink, sh.Outline)
	}
	out := Outline{Path: c.Path, Corner: c.Corner, Ink: [][]geom.Point{ink}, Off: Review(c.Path, [][]geom.Point{ink})}
	out.Pen = pen
	inner := func(l follow.Line, what string) (Inner, bool) {
		c, ink, err := j.curve(ctx, l, nil, o)
		var plain *plainLinesError
		switch {
		case errors.As(err, &plain):
			says = joinSays(says, plainly(what, ink, plain))
		case err != nil:
			says = joinSays(says, fmt.Sprintf("The %s about (%.0f, %.0f) mm could not be fitted: %v.", what, ink[0].X, ink[0].Y, err))
			return Inner{}, false
		default:
			ink = j.sharpened(c.Path, ink, l)
		}
		return Inner{c.Path, c.Corner, Review(c.Path, [][]geom.Point{ink})}, true
	}
	for _, l := range marks {
		if in, ok := inner(l, "line inside the outline"); ok {
			out.Inner = append(out.Inner, in)
		}
	}
	for _, l := range sh.Holes {
		if in, ok := inner(l, "hole"); ok {
			out.Holes = append(out.Holes, in)
		}
	}
	return out, says
}

// sharpened returns the ink of a line with the corners of its path.
func (j job) sharpened(path geom.Path, ink []geom.Point, l follow.Line) []geom.Point {
	scale := j.m.ScaleAt(l.Pts[len(l.Pts)/2])
	return Sharpened(path, ink, l.Blur*scale, l.Width*scale)
}

// plainLinesError says that a line was only covered by straight lines, since it could not
// be fitted. The curve that comes with it may be used.
type plainLinesError struct {
	lines int
	err   error // why it could not be fitted
}

func (e *plainLinesError) Error() string {
	return fmt.Sprintf("%d straight lines cover it, since no curve was found: %v", e.lines, e.err)
}

func (e *plainLinesError) Unwrap() error { return e.err }

// plainly says where a line is covered by straight lines only, and what may help.
func plainly(what string, ink []geom.Point, e *plainLinesError) string {
	mid := geom.RectOf(ink...).Center()
	return fmt.Sprintf("No curves were found for the %s about (%.0f, %.0f) mm: %d straight lines lie along its ink instead. Look it over; specks taken out, or another light, may let it be fitted.", what, mid.X, mid.Y, e.lines)
}

// joinSays puts one remark behind another.
func joinSays(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

// curve fits a followed line, and returns it in mm as well.
func (j job) curve(ctx context.Context, l follow.Line, known []fit.Tip, o Options) (fit.Curve, []geom.Point, error) {
	ink := j.ink(l)
	scale := j.m.ScaleAt(l.Pts[len(l.Pts)/2])
	fo := fit.Options{Tol: o.Tol, Blur: l.Blur * scale, Pen: l.Width * scale, Noise: l.Noise * scale, Tips: known}
	if !l.Closed {
		c, err := fit.Open(ctx, ink, fo)
		if err == nil {
			err = c.Path.Simple()
		}
		return c, ink, err
	}
	c, err := closedCurve(ctx, ink[:len(ink)-1], fo)
	return c, ink, err
}

// closedCurve fits a closed line. Where no path comes of it, which a knot of specks may
// bring about, its points are thinned out to straight lines: that is met less closely, but
// better than none. A plainLinesError then says so beside the curve.
func closedCurve(ctx context.Context, pts []geom.Point, o fit.Options) (fit.Curve, error) {
	c, err := bestClosed(ctx, pts, o)
	if err == nil {
		err = c.Path.Simple()
	}
	if err == nil && astray(c.Path, pts) {
		err = errors.New("the curves that were found run far away from it")
	}
	if err == nil || ctx.Err() != nil {
		return c, err
	}
	p := polygon(pts, o.Tol/2)
	if len(p) < 3 || p.Area() <= 0 || p.Simple() != nil {
		return c, err
	}
	corner := make([]bool, len(p))
	for i := range corner {
		corner[i] = true
	}
	return fit.Curve{Path: p, Corner: corner}, &plainLinesError{len(p), err}
}

// strayShare is how far, as a share of the diagonal of the box round a line, curves that
// are fitted to it may lead out of that box. Fits do so by a thousandth; one that found no
// hold, as at a knot of small letters, runs off by many times the size of the line.
const strayShare = 0.1

// astray reports whether a path leads far out of the box round the points that it was
// fitted to.
func astray(p geom.Path, pts []geom.Point) bool {
	line := geom.RectOf(pts...)
	room := line.Grow(strayShare * line.Min.Dist(line.Max))
	b := p.Bounds()
	return !room.Contains(b.Min) || !room.Contains(b.Max)
}

// polygon returns the closed path of straight lines through those of the points from
// which no other lies further off than tol mm (Douglas and Peucker 1973).
func polygon(pts []geom.Point, tol float64) geom.Path {
	if len(pts) < 3 {
		return nil
	}
	far := 0
	for i, p := range pts {
		if p.Dist(pts[0]) > pts[far].Dist(pts[0]) {
			far = i
		}
	}
	around := append(append([]geom.Point{}, pts...), pts[0])
	keep := append(thinned(around[:far+1], tol), thinned(around[far:], tol)...)
	p := geom.Polygon(keep...)
	if p.Area() < 0 {
		p = p.Reverse()
	}
	return p
}

// thinned returns the points of a line that it needs to keep within tol, without its last.
func thinned(pts []geom.Point, tol float64) []geom.Point {
	if len(pts) < 2 {
		return nil
	}
	chord := geom.Line(pts[0], pts[len(pts)-1])
	at, most := 0, tol
	for i, p := range pts {
		if _, d := chord.Nearest(p); d > most {
			at, most = i, d
		}
	}
	if at == 0 {
		return pts[:1:1]
	}
	return append(thinned(pts[:at+1], tol), thinned(pts[at:], tol)...)
}

// ink brings a line to mm; where it closes the first point is repeated.
func (j job) ink(l follow.Line) []geom.Point {
	pts := make([]geom.Point, len(l.Pts), len(l.Pts)+1)
	for i, p := range l.Pts {
		pts[i] = j.m.Apply(p)
	}
	if l.Closed && len(pts) > 0 {
		pts = append(pts, pts[0])
	}
	return pts
}
