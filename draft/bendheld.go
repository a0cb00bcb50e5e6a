package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// heldSlack is the relative error of a length that is held, before coordinates go to
// the grid.
const heldSlack = 1e-12

// heldGiven is what is put up with where rounding keeps from that.
const heldGiven = 1e-10

// bendHeld bends the course and keeps its length: the ends come nearer to what is held
// along the line between them, until the curve through the point is as long as it
// was. Nothing else of the course moves but in proportion.
func (c *course) bendHeld(k int, t float64, to geom.Point, hold Held) error {
	first, last := c.nodes[0], c.nodes[len(c.nodes)-1]
	chord := last.At.Sub(first.At)
	if c.closed() || chord.Len() < shortestStretch {
		return errors.New("its ends are one point, and none can come nearer; bend it without holding its length")
	}
	if err := c.endsMayMove(hold); err != nil {
		return err
	}
	before := c.save()
	// The same sides are kept all through, or the length would jump.
	var err error
	for _, keep := range bendKeeps {
		if err = c.holdLength(k, t, to, hold, keep, before); err == nil {
			return nil
		}
	}
	c.restore(before)
	return err
}

// holdLength is bendHeld for the sides of the stretch that are kept.
func (c *course) holdLength(k int, t float64, to geom.Point, hold Held, keep bendKeep, before []Node) error {
	c.restore(before)
	want := c.length()
	// try bends the course with its ends nearer by a share of the chord.
	try := func(x float64) (float64, error) {
		c.restore(before)
		c.squeeze(1-x, hold)
		if err := c.bendKeeping(k, t, to, keep); err != nil {
			return 0, err
		}
		return c.length() - want, nil
	}
	over, err := try(0)
	if err != nil || math.Abs(over) <= heldSlack*want {
		return err
	}
	lo, hi := 0.0, 0.0
	flo, fhi := over, over
	// Where the curve is longer than it was the ends come nearer, else they part.
	step := 0.02
	if over < 0 {
		step = -0.02
	}
	for over*fhi > 0 {
		lo, flo = hi, fhi
		hi += step
		if hi > heldNearest || hi < -heldFarthest {
			return errors.New("it cannot go through this point and be as long as it is")
		}
		if fhi, err = try(hi); err != nil {
			return err
		}
	}
	return c.settle(try, lo, hi, flo, fhi, want)
}

// heldNearest and heldFarthest are the shares of the distance between its ends by which
// they can come nearer, or part, while an edge is bent.
const (
	heldNearest  = 0.9
	heldFarthest = 1.5
)

// settle finds the root between lo and hi by the method of Illinois (false position with
// halving), which leaves the course bent there.
func (c *course) settle(try func(float64) (float64, error), lo, hi, flo, fhi, want float64) error {
	const rounds = 100
	for range rounds {
		x := hi - fhi*(hi-lo)/(fhi-flo)
		if !(x > min(lo, hi) && x < max(lo, hi)) {
			x = (lo + hi) / 2
		}
		f, err := try(x)
		if err != nil {
			return err
		}
		if math.Abs(f) <= heldSlack*want {
			return nil
		}
		if x == lo || x == hi {
			break
		}
		if f*fhi < 0 {
			lo, flo = hi, fhi
		} else {
			flo /= 2
		}
		hi, fhi = x, f
	}
	if math.Abs(c.length()-want) > heldGiven*want {
		return errors.New("it cannot go through this point and be as long as it is")
	}
	return nil
}

// save returns a copy of the nodes, in order; restore puts them back.
func (c *course) save() []Node {
	list := make([]Node, len(c.nodes))
	for i, n := range c.nodes {
		list[i] = *n
	}
	return list
}

func (c *course) restore(list []Node) {
	for i, n := range c.nodes {
		*n = list[i]
	}
}

// squeeze scales the course along the line between its ends, so that what is held stays.
func (c *course) squeeze(by float64, hold Held) {
	first, last := c.nodes[0].At, c.nodes[len(c.nodes)-1].At
	u := last.Sub(first).Unit()
	about := first
	switch hold {
	case HoldEnd:
		about = last
	case HoldMiddle:
		about = first.Lerp(last, 0.5)
	}
	flat := func(v geom.Point) geom.Point { return v.Add(u.Mul((by - 1) * v.Dot(u))) }
	for i, n := range c.nodes {
		n.At = about.Add(flat(n.At.Sub(about)))
		// At the ends only the handle inside the course belongs to it.
		if i > 0 {
			n.In = flat(n.In)
		}
		if i < len(c.nodes)-1 {
			n.Out = flat(n.Out)
		}
	}
}

// endsMayMove reports why an end that has to come nearer must stay.
func (c *course) endsMayMove(hold Held) error {
	if c.edge < 0 {
		return nil
	}
	p := c.piece
	n := len(p.Edges)
	if hold != HoldEnd && p.Edges[(c.edge+1)%n].Kind == FoldEdge || hold != HoldStart && p.Edges[(c.edge+n-1)%n].Kind == FoldEdge {
		return fmt.Errorf("%s ends at the fold there, which is to stay straight; hold that end", c.what)
	}
	return nil
}
