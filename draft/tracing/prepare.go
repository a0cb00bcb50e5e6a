package tracing

import (
	"context"

	"hemlet/geom/trace"
)

// Prepare reads and cleans pictures as Run does before it follows them: for showing what
// is followed, and for following it by hand. It fails as Run does.
func Prepare(ctx context.Context, sources []Source, s Settings, progress trace.Progress) (trace.Prepared, error) {
	sheets, err := s.sheets(ctx, sources, progress)
	if err != nil {
		return trace.Prepared{}, err
	}
	return trace.Prepare(ctx, sheets, s.Options, afterReading(progress))
}
