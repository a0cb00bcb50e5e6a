package scan

import (
	"errors"
	"fmt"
	"image"
	"math"
	"slices"
)

// Tint is a printed colour that is to be taken for paper, such as the lines of squared
// paper, beside the paper that it is printed on: red, green and blue from 0 to 255.
type Tint struct {
	Colour, Paper [3]float64
}

// errGreyTint is the error of a tint that is no colour.
var errGreyTint = errors.New("this is a shade of grey: only a colour can be told from ink by its colour")

// leastChroma is the least distance of a tint from the grey of its own lightness, in steps
// of 255. Weights that blot out a paler one would enlarge the noise of the picture tenfold.
const leastChroma = 12.0

// ParseTint reads a colour on white paper, written as #rrggbb.
func ParseTint(s string) (Tint, error) {
	var r, g, b uint8
	if n, err := fmt.Sscanf(s, "#%02x%02x%02x", &r, &g, &b); err != nil || n != 3 || len(s) != len("#rrggbb") {
		return Tint{}, fmt.Errorf("%q is not a colour written as #rrggbb", s)
	}
	t := Tint{Colour: [3]float64{float64(r), float64(g), float64(b)}, Paper: [3]float64{255, 255, 255}}
	_, err := t.weights()
	return t, err
}

// tintReach is how far round a place TintAt looks for paper, in pixels: past the next line
// of squared paper it would see no other paper than before it.
const tintReach = 12

// TintAt returns the colour of the picture at a place, and that of the paper beside it: the
// lightest tenth of what lies round it. It fails outside the picture and for greys.
func TintAt(img image.Image, at image.Point) (Tint, error) {
	if !at.In(img.Bounds()) {
		return Tint{}, errors.New("there is no picture there")
	}
	var t Tint
	type shade struct {
		light uint8
		c     [3]float64
	}
	var near []shade
	box := image.Rect(at.X-tintReach, at.Y-tintReach, at.X+tintReach+1, at.Y+tintReach+1).Intersect(img.Bounds())
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r, g, b := overWhite(img.At(x, y))
			c := [3]float64{float64(r), float64(g), float64(b)}
			near = append(near, shade{luma(r, g, b), c})
			if x == at.X && y == at.Y {
				t.Colour = c
			}
		}
	}
	slices.SortFunc(near, func(a, b shade) int { return int(b.light) - int(a.light) })
	light := near[:max(1, len(near)/10)]
	for _, s := range light {
		for k := range t.Paper {
			t.Paper[k] += s.c[k] / float64(len(light))
		}
	}
	_, err := t.weights()
	return t, err
}

// tintHeadroom is the share of white that paper gets, so that noise above it is kept: cut
// off, it would darken the mean.
const tintHeadroom = 0.85

// weights returns the smallest weights of red, green and blue under which the tint is as
// light as the paper and black stays black. So every mixture of tint, paper and black, in
// any light, comes out as if the tint were paper.
func (t Tint) weights() ([3]float64, error) {
	var pp, pc, cc float64
	for k := range t.Paper {
		pp += t.Paper[k] * t.Paper[k]
		pc += t.Paper[k] * t.Colour[k]
		cc += t.Colour[k] * t.Colour[k]
	}
	// The part of the tint that is not paper darkened: how far it is from grey.
	if pp == 0 || cc-pc*pc/pp < leastChroma*leastChroma {
		return [3]float64{}, errGreyTint
	}
	// w = a Paper + b Colour with w·Paper = w·Colour = v.
	v, det := tintHeadroom*255, pp*cc-pc*pc
	a, b := v*(cc-pc)/det, v*(pp-pc)/det
	var w [3]float64
	for k := range w {
		w[k] = a*t.Paper[k] + b*t.Colour[k]
	}
	return w, nil
}

// row returns what reads a row of img with the tint taken for paper; a tint that is no
// colour takes nothing out.
func (t Tint) row(img image.Image) rowFunc {
	w, err := t.weights()
	if err != nil {
		return greyRow(img)
	}
	var parts [3][256]float32
	for k := range parts {
		for v := range parts[k] {
			parts[k][v] = float32(w[k] * float64(v))
		}
	}
	colours := colourRow(img)
	return func(y int, dst []uint8) {
		colours(y, len(dst), func(i int, r, g, b uint8) {
			v := parts[0][r] + parts[1][g] + parts[2][b]
			dst[i] = uint8(min(max(math.Round(float64(v)), 0), 255))
		})
	}
}
