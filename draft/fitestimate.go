package draft

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"hemlet/draft/block"
	"hemlet/draft/body"
)

// A block may read a measure that nobody took otherwise than the catalogue does. What was
// drafted by it and is fitted to another body goes on being read so, on both bodies: else
// a stretch would change because of how a measure is guessed and not because of the body.

// ownEstimates returns the block's own estimates of measures.
func ownEstimates(b *block.Block) []body.Own {
	var list []body.Own
	for _, m := range b.Measures() {
		if m.Estimate != "" {
			list = append(list, body.Own{Name: m.Name, Estimates: []string{m.Estimate}})
		}
	}
	return list
}

// estimateSetting returns the setting by which a fit keeps an estimate for what came from
// an origin.
func estimateSetting(origin ID, measure string) string {
	return fitPart{origin, ID(measure)}.setting(fitEstimatePrefix)
}

// readEstimate takes such a setting in.
func (f *fitPlan) readEstimate(k fitPart, source string) {
	f.estimates[k.piece] = append(f.estimates[k.piece], body.Own{Name: string(k.part), Estimates: []string{source}})
}

// checkEstimates refuses estimates that cannot be read. One may read another of the same
// block, so that only all of an origin together can tell.
func (f *fitPlan) checkEstimates() error {
	for _, origin := range slices.Sorted(maps.Keys(f.estimates)) {
		if _, err := estimatorOf(f.estimates[origin]); err != nil {
			return fmt.Errorf("the settings %q of the fit: %w", fitEstimatePrefix+string(origin), err)
		}
	}
	return nil
}

// resolve works out a body as what came from an origin reads it.
func (f *fitPlan) resolve(origin ID, g body.Given) *body.Body {
	own := f.estimates[origin]
	if len(own) == 0 {
		return body.Resolve(g)
	}
	e, err := estimatorOf(own)
	if err != nil {
		return body.Resolve(g) // such a plan is refused when it is read
	}
	return e.Resolve(g)
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

func estimatorOf(own []body.Own) (*body.Estimator, error) {
	var key strings.Builder
	for _, o := range own {
		fmt.Fprintf(&key, "%q=%q;", o.Name, o.Estimates)
	}
	recentEstimators.Lock()
	defer recentEstimators.Unlock()
	if e, ok := recentEstimators.list[key.String()]; ok {
		return e.estimator, e.err
	}
	if len(recentEstimators.list) >= maxRecentEstimators || recentEstimators.list == nil {
		recentEstimators.list = make(map[string]estimating)
	}
	e, err := body.NewEstimator(slices.Clone(own)...)
	recentEstimators.list[key.String()] = estimating{e, err}
	return e, err
}
