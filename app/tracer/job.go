package tracer

import (
	"context"
	"errors"

	"hemlet/draft"
)

// job is slow work under way.
type job struct {
	word   string
	cancel context.CancelFunc
	share  float64
	says   string
}

// work does something slow aside, in the place of what was under way. word says what it
// is, such as "Looking for the sheet". do gets a context that ends with Stop and a
// function that tells how far it is, 0 to 1, and what it is at; what it returns is done on
// the window's goroutine, unless one of the pictures has changed meanwhile. An error is
// told.
func (r *Room) work(word string, of []*draft.Picture, do func(ctx context.Context, tell func(share float64, says string)) (func(), error)) {
	r.stop()
	ctx, cancel := context.WithCancel(context.Background())
	j := &job{word: word, cancel: cancel}
	r.job = j
	r.side.showJob()
	tell := func(share float64, says string) {
		r.onMain(func() {
			if r.job == j {
				j.share, j.says = share, says
				r.side.showJob()
			}
		})
	}
	r.host.Aside(func() func() {
		then, err := do(ctx, tell)
		return func() {
			cancel()
			if r.job != j {
				return // stopped, or something else is under way
			}
			r.job = nil
			r.side.showJob()
			switch {
			case !r.stand(of):
				r.say(word + " was dropped, for the picture has changed meanwhile.")
			case errors.Is(err, context.Canceled):
			case err != nil:
				r.say(err.Error())
				r.update()
			case then != nil:
				then()
			}
		}
	})
}

// stand reports whether the pictures are in the document as they are.
func (r *Room) stand(of []*draft.Picture) bool {
	for _, pic := range of {
		if r.desk.Project().Picture(pic.ID) != pic {
			return false
		}
	}
	return true
}

// stop ends the slow work under way.
func (r *Room) stop() {
	if r.job != nil {
		r.job.cancel()
		r.job = nil
		r.side.showJob()
	}
}

// working reports whether slow work is under way.
func (r *Room) working() bool { return r.job != nil }
