package tracing

import (
	"context"
	"errors"
	"fmt"

	"hemlet/geom/trace"
)

// Prepare reads and cleans pictures as Run does before it follows them: for showing what
// is followed, and for following it by hand. It fails as Run does.
func Prepare(ctx context.Context, sources []Source, s Settings, progress trace.Progress) (trace.Prepared, error) {
	if len(sources) == 0 {
		return trace.Prepared{}, errors.New("there is no picture to clean")
	}
	if progress == nil {
		progress = func(float64, string) {}
	}
	var sheets []trace.Sheet
	for i, src := range sources {
		progress(readShare*float64(i)/float64(len(sources)), fmt.Sprintf("reading %s", src.Picture.Name))
		if err := ctx.Err(); err != nil {
			return trace.Prepared{}, err
		}
		sheet, err := s.sheet(ctx, src)
		if err != nil {
			return trace.Prepared{}, err
		}
		sheets = append(sheets, sheet)
	}
	return trace.Prepare(ctx, sheets, s.Options, func(share float64, says string) {
		progress(readShare+(1-readShare)*share, says)
	})
}
