package fit

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// stiffness is the factor by which all pulls grow when a chain crosses itself: with
// a thousand samples' weight the corners stay where their arms meet, and handles at
// a third of their span cannot fold.
const stiffness = 1e3

// uncrossed returns the chain as good as it gets without crossing itself: changed
// joint by joint if that does, else as it was divided first, else the same with its
// corners and handles held. It fails if all of them cross.
func (f *fitter) uncrossed(ctx context.Context, c *chain) (*chain, error) {
	fine := c.clone()
	if err := f.refine(ctx, fine); err != nil {
		return nil, err
	}
	fine.solve(solveSteps)
	fine.settle()
	if fine.sound() == nil {
		return fine, nil
	}
	if c.sound() == nil {
		return c, nil
	}
	stiff := c.clone()
	stiff.noise *= math.Sqrt(stiffness)
	for j := range stiff.joints {
		o := &stiff.joints[j]
		if o.corner {
			o.p, o.in, o.out = o.home, o.homeIn, o.homeOut
			o.hold *= stiffness
		}
	}
	for i := range stiff.spans {
		s := &stiff.spans[i]
		s.out, s.in = s.third, s.third
	}
	stiff.solve(solveSteps)
	if err := stiff.sound(); err != nil {
		return nil, fmt.Errorf("no path that keeps clear of itself was found: %w", err)
	}
	return stiff, nil
}

// sound returns why the path of a chain may not be used, nil if it may.
func (c *chain) sound() error {
	path, _ := c.path()
	if c.closed && !(path.Area() > 0) {
		return errors.New("the outline turned inside out")
	}
	return path.Simple()
}
