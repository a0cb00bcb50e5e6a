package tracing

import (
	"context"
	"errors"

	"hemlet/draft"
	"hemlet/geom/trace"
)

// Traced is what was found in pictures, and how it was looked for.
type Traced struct {
	trace.Result
	Settings Settings
	// Pictures are those that were followed, by the index that an outline's Sheet has.
	Pictures []*draft.Picture
}

// readShare is how much of the work it is to read the pictures.
const readShare = 0.25

// Run follows the pictures together, each at its place: what runs on from one that is
// joined to the next becomes one outline. progress, where not nil, is told how much of the
// work is done. It fails where a picture cannot be read or ctx ends; that nothing was found
// is no error.
func Run(ctx context.Context, sources []Source, s Settings, progress trace.Progress) (*Traced, error) {
	t := &Traced{Settings: s}
	for _, src := range sources {
		t.Pictures = append(t.Pictures, src.Picture)
	}
	sheets, err := s.sheets(ctx, sources, progress)
	if err != nil {
		return nil, err
	}
	t.Result, err = trace.Trace(ctx, sheets, s.Options, afterReading(progress))
	return t, err
}

// sheets reads the pictures.
func (s Settings) sheets(ctx context.Context, sources []Source, progress trace.Progress) ([]trace.Sheet, error) {
	if len(sources) == 0 {
		return nil, errNoPicture
	}
	var sheets []trace.Sheet
	for i, src := range sources {
		if progress != nil {
			progress(readShare*float64(i)/float64(len(sources)), "reading "+src.Picture.Name)
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		sheet, err := s.sheet(ctx, src)
		if err != nil {
			return nil, err
		}
		sheets = append(sheets, sheet)
	}
	return sheets, nil
}

var errNoPicture = errors.New("there is no picture to follow")

// afterReading returns the progress of what is done with pictures once they are read.
func afterReading(progress trace.Progress) trace.Progress {
	if progress == nil {
		return nil
	}
	return func(share float64, says string) { progress(readShare+(1-readShare)*share, says) }
}
