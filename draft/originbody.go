package draft

import (
	"fmt"
	"strings"
	"sync"

	"hemlet/draft/block"
	"hemlet/draft/body"
)

// A block may read a measure that nobody took otherwise than the catalogue does. What was
// drafted by it and is fitted to another body goes on being read so, on both bodies: else
// a stretch would change because of how a measure is guessed and not because of the body.

// ownEstimates returns the block's own estimates of measures.
func ownEstimates(b *block.Block) []OriginEstimate {
	var list []OriginEstimate
	for _, m := range b.Measures() {
		if m.Estimate != "" {
			list = append(list, OriginEstimate{m.Name, m.Estimate})
		}
	}
	return list
}

// Body returns what is known of the body for which the pattern was made, nil where it
// states no measure.
func (o *Origin) Body() *body.Body {
	if o == nil || len(o.Measures) == 0 {
		return nil
	}
	g := make(body.Given, len(o.Measures))
	for _, m := range o.Measures {
		g[m.Name] = m.Value
	}
	return o.Read(g)
}

// Read works out a body as what came from the origin reads it, nil being an origin that
// is not known. Estimates that cannot be read count for none: a fit says which these are.
func (o *Origin) Read(g body.Given) *body.Body {
	if o == nil || len(o.Estimates) == 0 {
		return body.Resolve(g)
	}
	e, err := estimatorOf(o.Estimates)
	if err != nil {
		return body.Resolve(g)
	}
	return e.Resolve(g)
}

// checkEstimates refuses estimates that cannot be read. One may read another of the same
// block, so that only all of an origin together can tell.
func (o *Origin) checkEstimates() error {
	if len(o.Estimates) == 0 {
		return nil
	}
	if _, err := estimatorOf(o.Estimates); err != nil {
		return fmt.Errorf("how %s estimates measures: %w", labelOf(o.Name, o.ID), err)
	}
	return nil
}

// recentEstimators keeps estimators by what they were made of: making one compiles the
// catalogue's formulas.
var recentEstimators struct {
	sync.Mutex
	list map[string]estimating
}

type estimating struct {
	estimator *body.Estimator
	err       error
}

// maxRecentEstimators is how many are kept: a few blocks and each of their estimates.
const maxRecentEstimators = 64

func estimatorOf(list []OriginEstimate) (*body.Estimator, error) {
	var key strings.Builder
	for _, o := range list {
		fmt.Fprintf(&key, "%q=%q;", o.Measure, o.Formula)
	}
	recentEstimators.Lock()
	defer recentEstimators.Unlock()
	if e, ok := recentEstimators.list[key.String()]; ok {
		return e.estimator, e.err
	}
	if len(recentEstimators.list) >= maxRecentEstimators || recentEstimators.list == nil {
		recentEstimators.list = make(map[string]estimating)
	}
	own := make([]body.Own, len(list))
	for i, o := range list {
		own[i] = body.Own{Name: o.Measure, Estimates: []string{o.Formula}}
	}
	e, err := body.NewEstimator(own...)
	recentEstimators.list[key.String()] = estimating{e, err}
	return e, err
}
