package intake

import (
	"fmt"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// pxPerInch is the size of the CSS pixel: CSS Values and Units, section 6.2.
const pxPerInch = 96

// pxOf holds how many px one of each absolute unit of CSS is.
var pxOf = map[string]float64{
	"": 1, "px": 1, "in": pxPerInch, "pt": pxPerInch / 72., "pc": pxPerInch / 6.,
	"cm": pxPerInch / 2.54, "mm": pxPerInch / draft.MMPerInch, "q": pxPerInch / (4 * draft.MMPerInch),
}

// length is a CSS length: px, or a share of something.
type length struct {
	px      float64
	percent bool
	// plain says that no physical unit was written: a bare number or px.
	plain bool
}

func parseLength(s string) (length, error) {
	c := scanner{s: s}
	c.space()
	v, err := c.number()
	if err != nil {
		return length{}, err
	}
	if c.take('%') {
		c.space()
		if !c.done() {
			return length{}, c.errorf("expected the end, found %s", c.found())
		}
		return length{px: v / 100, percent: true}, nil
	}
	unit := strings.ToLower(c.word())
	c.space()
	factor, ok := pxOf[unit]
	if !ok || !c.done() {
		return length{}, fmt.Errorf("the length %.40q has no unit that is read here: mm, cm, in, pt, pc, q, px or %%", s)
	}
	return length{px: v * factor, plain: unit == "" || unit == "px"}, nil
}

// of returns the length in px, with the whole that a percentage refers to.
func (l length) of(whole float64) float64 {
	if l.percent {
		return l.px * whole
	}
	return l.px
}

// viewBox is the rectangle of user space that fills a viewport.
type viewBox struct {
	min  geom.Point
	w, h float64
}

func parseViewBox(s string) (*viewBox, error) {
	c := pathReader{scanner: scanner{s: s}}
	c.space()
	p, err := c.points(2, geom.Point{})
	if err != nil {
		return nil, err
	}
	c.space()
	if !c.done() {
		return nil, c.errorf("expected the end, found %s", c.found())
	}
	v := &viewBox{p[0], p[1].X, p[1].Y}
	if v.w < 0 || v.h < 0 {
		return nil, fmt.Errorf("the size %g × %g is negative", v.w, v.h)
	}
	return v, nil
}

// fit returns the map from the box to a viewport of w by h that
// preserveAspectRatio asks for (SVG 2, section 8.6).
func (v viewBox) fit(w, h float64, preserve string) (geom.Affine, error) {
	words := strings.Fields(preserve)
	if len(words) > 0 && words[0] == "defer" {
		words = words[1:]
	}
	sx, sy := w/v.w, h/v.h
	align, slice := "xMidYMid", false
	if len(words) > 0 {
		align = words[0]
	}
	if len(words) > 1 {
		slice = words[1] == "slice"
		if !slice && words[1] != "meet" {
			return geom.Identity, fmt.Errorf("%.40q is neither meet nor slice", words[1])
		}
	}
	if len(words) > 2 {
		return geom.Identity, fmt.Errorf("%.40q has too many words", preserve)
	}
	if align == "none" {
		return geom.Translation(v.min.Mul(-1)).Then(geom.Scaling(sx, sy)), nil
	}
	share := map[string]float64{"Min": 0, "Mid": 0.5, "Max": 1}
	if len(align) != 8 || align[0] != 'x' || align[4] != 'Y' {
		return geom.Identity, fmt.Errorf("%.40q is not an alignment", align)
	}
	ax, okX := share[align[1:4]]
	ay, okY := share[align[5:8]]
	if !okX || !okY {
		return geom.Identity, fmt.Errorf("%.40q is not an alignment", align)
	}
	k := min(sx, sy)
	if slice {
		k = max(sx, sy)
	}
	shift := geom.Pt((w-v.w*k)*ax, (h-v.h*k)*ay)
	return geom.Translation(v.min.Mul(-1)).Then(geom.Scaling(k, k)).Then(geom.Translation(shift)), nil
}
