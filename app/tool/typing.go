package tool

import (
	"math"
	"strconv"
	"strings"
	"unicode"

	"hemlet/draft"
	"hemlet/geom"
)

// Typist is a tool that takes what is typed while it has something under way, before
// any key means something else.
type Typist interface {
	// Rune takes a letter or figure, and reports whether it did.
	Rune(r rune) bool
	// Back takes the last thing back, Next goes on to the next figure.
	Back() bool
	Next() bool
	// Typing reports whether there is anything under way that a figure would be for.
	Typing() bool
}

// typing is two figures that are typed while drawing, one after the other: a length and
// an angle, or a width and a height.
type typing struct {
	text   [2]string
	second bool
}

// any reports whether anything is typed.
func (t *typing) any() bool { return t.text[0] != "" || t.text[1] != "" || t.second }

func (t *typing) clear() { *t = typing{} }

func (t *typing) now() *string {
	if t.second {
		return &t.text[1]
	}
	return &t.text[0]
}

// longestTyped bounds a typed figure, in bytes.
const longestTyped = 60

// take takes a sign of a figure: what begins one, and once it has begun whatever a sum
// may hold. "<" goes on to the second figure.
func (t *typing) take(r rune) bool {
	switch {
	case r == '<' || r == '∠':
		return t.next()
	case len(*t.now()) > longestTyped:
		return true
	case unicode.IsDigit(r), strings.ContainsRune(".(½¼¾⅛⅜⅝⅞", r):
	case t.second && strings.ContainsRune("-−+", r):
	case *t.now() != "" && unicode.IsPrint(r):
	default:
		return false
	}
	*t.now() += string(r)
	return true
}

func (t *typing) next() bool {
	t.second = !t.second
	return true
}

// back takes the last sign back and reports whether there was any.
func (t *typing) back() bool {
	if !t.any() {
		return false
	}
	s := []rune(*t.now())
	if len(s) == 0 {
		t.second = false
		return true
	}
	*t.now() = string(s[:len(s)-1])
	return true
}

// lengths reads the figures as lengths, nil where nothing is typed. The error says what
// cannot be read.
func (t *typing) lengths(u draft.Unit) (first, second *float64, err error) {
	if first, err = readTyped(t.text[0], u.Parse); err == nil {
		second, err = readTyped(t.text[1], u.Parse)
	}
	return first, second, err
}

// polar reads the figures as a length and an angle in degrees.
func (t *typing) polar(u draft.Unit) (length, angle *float64, err error) {
	if length, err = readTyped(t.text[0], u.Parse); err == nil {
		angle, err = readTyped(t.text[1], draft.ParseAngle)
	}
	return length, angle, err
}

func readTyped(text string, read func(string) (float64, error)) (*float64, error) {
	if strings.TrimSpace(text) == "" {
		return nil, nil
	}
	v, err := read(text)
	if err != nil {
		return nil, err
	}
	return &v, nil
}

// apply returns where the way from a place to the pointer leads with what is typed of
// its length and its angle. What cannot be read yet does not count.
func (t *typing) apply(from, to geom.Point, u draft.Unit) geom.Point {
	length, angle, _ := t.polar(u)
	way := to.Sub(from)
	dir, far := way.Unit(), way.Len()
	if dir == (geom.Point{}) {
		dir = geom.Pt(1, 0)
	}
	if angle != nil {
		rad := *angle * math.Pi / 180
		dir = geom.Pt(math.Cos(rad), math.Sin(rad))
		far = max(way.Dot(dir), 0)
	}
	if length != nil {
		far = *length
	}
	if length == nil && angle == nil {
		return to
	}
	return from.Add(dir.Mul(far))
}

// shown puts what is typed in the place of what is measured, with a mark where the next
// sign goes.
func (t *typing) shown(first, second, between string) string {
	for i, s := range []*string{&first, &second} {
		if t.text[i] != "" {
			*s = t.text[i]
		}
		if t.any() && t.second == (i == 1) {
			*s = t.text[i] + "|"
		}
	}
	return first + between + second
}

// degrees returns the direction of a way in degrees from 0 to 360, counter-clockwise
// from the right, as the plate shows it.
func degrees(way geom.Point) string {
	deg := math.Round(way.Angle()*1800/math.Pi) / 10
	if deg < 0 {
		deg += 360
	}
	return strconv.FormatFloat(deg+0, 'f', -1, 64) + "°"
}
