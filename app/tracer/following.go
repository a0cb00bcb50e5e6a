package tracer

import (
	"context"
	"fmt"

	"hemlet/draft"
	"hemlet/draft/tracing"
	"hemlet/geom/trace"
)

// followAll follows groups of pictures, each together, and puts what was found into one
// result.
func followAll(ctx context.Context, groups [][]tracing.Source, s tracing.Settings, tell func(float64, string)) (*tracing.Traced, error) {
	all := &tracing.Traced{Settings: s}
	for i, sources := range groups {
		one, err := tracing.Run(ctx, sources, s, func(share float64, says string) {
			if len(groups) > 1 {
				says = fmt.Sprintf("%s (%d of %d)", says, i+1, len(groups))
			}
			tell((float64(i)+share)/float64(len(groups)), says)
		})
		if err != nil {
			return nil, err
		}
		for _, o := range one.Outlines {
			o.Sheet += len(all.Pictures)
			all.Outlines = append(all.Outlines, o)
		}
		all.Pictures = append(all.Pictures, one.Pictures...)
		all.Specks += one.Specks
		all.Lettering += one.Lettering
		all.Open = append(all.Open, one.Open...)
		all.Cut = append(all.Cut, one.Cut...)
		all.Says = append(all.Says, one.Says...)
	}
	return all, nil
}

// namesOf returns the names that outlines are given by the pictures in which they lie.
func namesOf(t *tracing.Traced) map[int]string {
	names := map[int]string{}
	for _, take := range t.All() {
		names[take.Outline] = take.Name
	}
	return names
}

// isTrue reports whether a picture is true to size, with all that are joined to it, and if
// not, why.
func (f *finds) isTrue(pic *draft.Picture) (bool, string) {
	for _, p := range f.group(pic) {
		if p.True == nil {
			return false, p.Name + " is not true to size yet: what is followed now would have the wrong size."
		}
	}
	return true, ""
}

// leftOut says what of the ink became no outline, and what may help.
func leftOut(t *tracing.Traced) []string {
	says := t.LeftOut()
	least := 0.0
	for _, o := range t.Open {
		if o.Gap > t.Settings.Gap && o.Gap <= mostGap && (least == 0 || o.Gap < least) {
			least = o.Gap
		}
	}
	if least > 0 && t.Settings.Manner == trace.Drawn {
		says = append([]string{fmt.Sprintf("A line breaks off %.1f mm before it goes on: bridge wider gaps under “More settings”, or follow it by hand.", least)}, says...)
	}
	return says
}
