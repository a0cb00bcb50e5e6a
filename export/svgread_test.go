package export

import (
	"encoding/xml"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"hemlet/geom"
)

// What reads the SVG here shares nothing with what writes it: encoding/xml and a
// reader of path data that knows the six commands that scripts rely on.

type svgFile struct {
	Width   string    `xml:"width,attr"`
	Height  string    `xml:"height,attr"`
	ViewBox string    `xml:"viewBox,attr"`
	Title   string    `xml:"title"`
	Desc    string    `xml:"desc"`
	Groups  []svgPart `xml:"g"`
}

type svgPart struct {
	Class    string    `xml:"class,attr"`
	Name     string    `xml:"data-name,attr"`
	Mirrored string    `xml:"data-mirrored,attr"`
	Paths    []svgPath `xml:"path"`
	Texts    []string  `xml:"text"`
}

type svgPath struct {
	Class string `xml:"class,attr"`
	Kind  string `xml:"data-kind,attr"`
	D     string `xml:"d,attr"`
}

func readSVG(t *testing.T, data []byte) svgFile {
	t.Helper()
	var f svgFile
	if err := xml.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

func (f svgFile) pieces() []svgPart {
	var out []svgPart
	for _, g := range f.Groups {
		if g.Class == "piece" {
			out = append(out, g)
		}
	}
	return out
}

func (p svgPart) of(class string) []svgPath {
	var out []svgPath
	for _, q := range p.Paths {
		if q.Class == class {
			out = append(out, q)
		}
	}
	return out
}

var (
	pathTokens = regexp.MustCompile(`[A-Za-z]|-?[0-9]+(?:\.[0-9]+)?`)
	pathOnly   = regexp.MustCompile(`^(?:[MLHVCZ]|-?[0-9]+(?:\.[0-9]+)?| )*$`)
)

// outline is path data read back: points every so often along it, y down.
type outline struct {
	points  []geom.Point
	closed  int
	strokes int
}

// chordsPerCurve is fine enough that the areas of chords and curve agree to 1e-7.
const chordsPerCurve = 2000

func readPath(t *testing.T, d string) outline {
	t.Helper()
	if !pathOnly.MatchString(d) {
		t.Fatalf("path data holds more than absolute M L H V C Z: %s", d)
	}
	tokens := pathTokens.FindAllString(d, -1)
	var o outline
	var at, start geom.Point
	next := func() float64 {
		if len(tokens) == 0 {
			t.Fatalf("path data ends early: %s", d)
		}
		v, err := strconv.ParseFloat(tokens[0], 64)
		if err != nil {
			t.Fatalf("path data: %v in %s", err, d)
		}
		tokens = tokens[1:]
		return v
	}
	point := func() geom.Point { x := next(); return geom.Pt(x, next()) }
	for len(tokens) > 0 {
		command := tokens[0]
		tokens = tokens[1:]
		switch command {
		case "M":
			at = point()
			start = at
			o.strokes++
		case "L":
			at = point()
		case "H":
			at.X = next()
		case "V":
			at.Y = next()
		case "C":
			a, b, c, e := at, point(), point(), point()
			for i := 1; i < chordsPerCurve; i++ {
				u := float64(i) / chordsPerCurve
				ab, bc, ce := a.Lerp(b, u), b.Lerp(c, u), c.Lerp(e, u)
				o.points = append(o.points, ab.Lerp(bc, u).Lerp(bc.Lerp(ce, u), u))
			}
			at = e
		case "Z":
			at = start
			o.closed++
		}
		o.points = append(o.points, at)
	}
	return o
}

// area is the shoelace area of the chords.
func (o outline) area() float64 {
	sum := 0.0
	for i, p := range o.points {
		sum += p.Cross(o.points[(i+1)%len(o.points)])
	}
	return math.Abs(sum) / 2
}

func (o outline) box() geom.Rect { return geom.RectOf(o.points...) }

// millimetres reads a length that must be in mm.
func millimetres(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSuffix(s, "mm"), 64)
	if err != nil || !strings.HasSuffix(s, "mm") {
		t.Fatalf("%q is no length in mm", s)
	}
	return v
}
