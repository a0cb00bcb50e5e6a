package draft

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"hemlet/geom"
)

// parsePixel reads a place in a picture, in its pixels: "120,88.5".
func parsePixel(text string) (geom.Point, error) {
	x, y, ok := strings.Cut(text, ",")
	var at geom.Point
	var errs [2]error
	at.X, errs[0] = strconv.ParseFloat(strings.TrimSpace(x), 64)
	at.Y, errs[1] = strconv.ParseFloat(strings.TrimSpace(y), 64)
	if !ok || errs[0] != nil || errs[1] != nil || !(math.Abs(at.X) <= 2*MaxPixels && math.Abs(at.Y) <= 2*MaxPixels) {
		return geom.Point{}, fmt.Errorf("%q is no place in a picture; write pixels from its left and from its top, such as 120,88.5", text)
	}
	return at, nil
}

// Pixel is a place in a picture. As text it is "120,88.5": pixels from the left and from
// the top.
type Pixel geom.Point

// String returns the text that is read back the same.
func (p Pixel) String() string { return pixelText(geom.Point(p)) }

func (p *Pixel) readArg(_ *Project, text string) error {
	at, err := parsePixel(text)
	*p = Pixel(at)
	return err
}

func (*Pixel) argKind() string { return "place in a picture" }

func pixelText(at geom.Point) string {
	return strconv.FormatFloat(at.X, 'g', -1, 64) + "," + strconv.FormatFloat(at.Y, 'g', -1, 64)
}

// KnownLength is the true distance of two places in a picture. As text it is
// "120,88:950,92=20cm": the places in pixels from the left and from the top.
type KnownLength struct {
	From, To geom.Point
	// Distance is in mm.
	Distance float64
}

// ParseKnownLength reads what String writes.
func ParseKnownLength(text string) (k KnownLength, err error) {
	places, distance, ok := strings.Cut(text, "=")
	from, to, two := strings.Cut(places, ":")
	if !ok || !two {
		return k, fmt.Errorf("%q is no known length; write two places in pixels and their true distance, such as 120,88:950,92=20cm", text)
	}
	if k.From, err = parsePixel(from); err != nil {
		return k, err
	}
	if k.To, err = parsePixel(to); err != nil {
		return k, err
	}
	if k.Distance, err = ParseLength(distance); err != nil {
		return k, err
	}
	return k, k.check()
}

func (k KnownLength) check() error {
	switch {
	case !(k.From.Dist(k.To) >= 1):
		return fmt.Errorf("the two places of a known length lie in one pixel")
	case !(k.Distance > 0 && k.Distance <= MaxCoordinate):
		return fmt.Errorf("a length of %g mm cannot be known", k.Distance)
	}
	return nil
}

// String returns the text that is read back the same.
func (k KnownLength) String() string {
	return pixelText(k.From) + ":" + pixelText(k.To) + "=" + mmText(k.Distance)
}

func mmText(mm float64) string { return strconv.FormatFloat(mm, 'g', -1, 64) + "mm" }

func (k *KnownLength) readArg(_ *Project, text string) (err error) {
	*k, err = ParseKnownLength(text)
	return err
}

func (*KnownLength) argKind() string { return "known length" }

// KnownFrame is a rectangle in a picture whose sides are known. As text it is
// "90,80:2900,110:2880,2100:60,2050=297mmx210mm": its corners in pixels, from the top left
// to the right and round, and how wide and high it truly is.
type KnownFrame struct {
	Corners [4]geom.Point
	// Width and Height are in mm.
	Width, Height float64
}

// ParseKnownFrame reads what String writes.
func ParseKnownFrame(text string) (f KnownFrame, err error) {
	places, sides, ok := strings.Cut(text, "=")
	corners := strings.Split(places, ":")
	width, height, two := strings.Cut(sides, "x")
	if !ok || !two || len(corners) != 4 {
		return f, fmt.Errorf("%q is no known rectangle; write its four corners in pixels and its sides, such as 90,80:2900,110:2880,2100:60,2050=297mmx210mm", text)
	}
	for i, c := range corners {
		if f.Corners[i], err = parsePixel(c); err != nil {
			return f, err
		}
	}
	if f.Width, err = ParseLength(width); err != nil {
		return f, err
	}
	if f.Height, err = ParseLength(height); err != nil {
		return f, err
	}
	return f, f.check()
}

func (f KnownFrame) check() error {
	for _, mm := range [...]float64{f.Width, f.Height} {
		if !(mm > 0 && mm <= MaxCoordinate) {
			return fmt.Errorf("a rectangle cannot be %g mm wide or high", mm)
		}
	}
	_, err := f.Map()
	return err
}

// Map returns the map from pixels to mm, y up, that makes the frame the rectangle from
// the origin at its lower left.
func (f KnownFrame) Map() (geom.Homography, error) {
	rect := []geom.Point{geom.Pt(0, f.Height), geom.Pt(f.Width, f.Height), geom.Pt(f.Width, 0), {}}
	m, _, err := geom.FitHomography(f.Corners[:], rect)
	if err != nil {
		return m, fmt.Errorf("the corners make no rectangle seen from before it: %w", err)
	}
	if m.Near(f.Corners[0]).Det() > 0 {
		return m, fmt.Errorf("the corners run round the wrong way; begin at the top left and go on to the right")
	}
	return m, nil
}

// frameRim is how far inside a known rectangle, in mm, the part of a picture begins that
// counts: beyond the shadow of a sheet's edge, or the line of a printed frame.
const frameRim = 1.5

// within returns the corners, in pixels, of the rectangle without its rim.
func (f KnownFrame) within(m geom.Homography) []geom.Point {
	back, ok := m.Invert()
	rim := min(frameRim, f.Width/10, f.Height/10)
	if !ok {
		return nil
	}
	var crop []geom.Point
	for _, c := range [...]geom.Point{geom.Pt(rim, f.Height-rim), geom.Pt(f.Width-rim, f.Height-rim), geom.Pt(f.Width-rim, rim), geom.Pt(rim, rim)} {
		at := back.Apply(c)
		crop = append(crop, geom.Pt(toGrid(at.X), toGrid(at.Y)))
	}
	return crop
}

// String returns the text that is read back the same.
func (f KnownFrame) String() string {
	var places []string
	for _, c := range f.Corners {
		places = append(places, pixelText(c))
	}
	return strings.Join(places, ":") + "=" + mmText(f.Width) + "x" + mmText(f.Height)
}

func (f *KnownFrame) readArg(_ *Project, text string) (err error) {
	*f, err = ParseKnownFrame(text)
	return err
}

func (*KnownFrame) argKind() string { return "known rectangle" }

// PixelMap is a map from the pixels of a picture to mm, y up, as it was found from what
// the picture shows. As text it is its eight numbers with blanks between.
type PixelMap geom.Homography

func (m PixelMap) numbers() [8]float64 { return [...]float64{m.A, m.B, m.C, m.D, m.E, m.F, m.G, m.H} }

// String returns the text that is read back the same.
func (m PixelMap) String() string {
	var words []string
	for _, x := range m.numbers() {
		words = append(words, strconv.FormatFloat(x, 'g', -1, 64))
	}
	return strings.Join(words, " ")
}

func (m *PixelMap) readArg(_ *Project, text string) error {
	words := strings.Fields(text)
	var x [8]float64
	if len(words) != len(x) {
		return fmt.Errorf("%q is no map of a picture; it has eight numbers", text)
	}
	for i, w := range words {
		var err error
		if x[i], err = strconv.ParseFloat(w, 64); err != nil {
			return fmt.Errorf("%q is no number", w)
		}
	}
	*m = PixelMap{A: x[0], B: x[1], C: x[2], D: x[3], E: x[4], F: x[5], G: x[6], H: x[7]}
	return nil
}

func (*PixelMap) argKind() string { return "eight numbers" }

// MarkPair is a mark that two pictures show. As text it is "120,88=2300,91": its place in
// the one and in the other, in pixels.
type MarkPair struct{ In, Other geom.Point }

// ParseMarkPair reads what String writes.
func ParseMarkPair(text string) (k MarkPair, err error) {
	in, other, ok := strings.Cut(text, "=")
	if !ok {
		return k, fmt.Errorf("%q is no pair of marks; write its place in both pictures in pixels, such as 120,88=2300,91", text)
	}
	if k.In, err = parsePixel(in); err != nil {
		return k, err
	}
	k.Other, err = parsePixel(other)
	return k, err
}

// String returns the text that is read back the same.
func (k MarkPair) String() string { return pixelText(k.In) + "=" + pixelText(k.Other) }

func (k *MarkPair) readArg(_ *Project, text string) (err error) {
	*k, err = ParseMarkPair(text)
	return err
}

func (*MarkPair) argKind() string { return "mark in two pictures" }
