package trace

import (
	"context"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// Prepared is what Trace follows: an evenly lit and cleaned picture, of several sheets
// laid together, with its map from pixels to mm.
type Prepared struct {
	Field *scan.Field
	Map   geom.Homography
	S     float64 // pixels per mm, in the middle
}

// Prepare does of Trace what comes before following: for showing what is followed, and for
// following it by hand. It fails as Trace does.
func Prepare(ctx context.Context, sheets []Sheet, o Options, progress Progress) (Prepared, error) {
	if len(sheets) == 0 {
		return Prepared{}, errNoSheet
	}
	if progress == nil {
		progress = func(float64, string) {}
	}
	j, err := prepare(ctx, sheets, o.withDefaults(), func(share float64, says string) {
		progress(share/(shareEven+shareClean), says)
	})
	return Prepared{j.field, j.m, j.s}, err
}
