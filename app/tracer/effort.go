package tracer

import (
	"context"
	"time"

	"hemlet/app/wording"
	"hemlet/draft"
)

// effort is slow work of a step that begins by itself whenever something it depends on
// has changed, after a short pause, so that several changes in a row are one.
type effort struct {
	r *Room
	// own is the work that was begun last and has not come to its end; it is under way as
	// long as the room says so, and was stopped otherwise.
	own *job
	// fault says why the last one could not be done.
	fault string
}

// shortPause is how long settings rest before the work begins anew: long enough to change
// two of them, too short to wonder.
const shortPause = 350 * time.Millisecond

// under reports whether the work is under way.
func (e *effort) under() bool { return e.own != nil && e.r.job == e.own }

// stopped reports whether it was stopped before its end.
func (e *effort) stopped() bool { return e.own != nil && e.r.job != e.own }

// begin does something after a pause in the place of what is under way; it comes as
// Room.work has it, but an error is kept as a fault for the panel to show.
func (e *effort) begin(word string, of []*draft.Picture, pause time.Duration, do func(ctx context.Context, tell func(float64, string)) (func(), error)) {
	e.fault = ""
	e.r.work(word, of, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		if err := rest(ctx, pause); err != nil {
			return nil, err
		}
		then, err := do(ctx, func(share float64, says string) { tell(share, wording.Sentence(says)) })
		if err == nil || ctx.Err() != nil {
			return func() {
				e.own = nil
				if then != nil {
					then()
				}
				e.r.update()
			}, ctx.Err()
		}
		return func() {
			e.own, e.fault = nil, err.Error()
			e.r.update()
		}, nil
	})
	e.own = e.r.job
}

// rest waits, unless the context ends.
func rest(ctx context.Context, pause time.Duration) error {
	if pause <= 0 {
		return ctx.Err()
	}
	wait := time.NewTimer(pause)
	defer wait.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-wait.C:
		return nil
	}
}
