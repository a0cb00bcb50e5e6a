package intake

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft"
)

func read(t *testing.T, text string, opts Options) *Drawing {
	t.Helper()
	d, err := Read(context.Background(), "test.svg", strings.NewReader(text), opts)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// page wraps elements in a page of 200 by 100 mm whose unit is a millimetre.
func page(inner string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"` +
		` width="200mm" height="100mm" viewBox="0 0 200 100">` + inner + `</svg>`
}

// boxes writes name and extents, x right and y up in mm, of every shape.
func boxes(d *Drawing) []string {
	var out []string
	for _, s := range d.Shapes {
		b := s.Path.Bounds()
		n := func(v float64) string { return fmt.Sprintf("%.6g", math.Round(v*1e4)/1e4+0) }
		out = append(out, fmt.Sprintf("%s %s %s %s %s", s.Name, n(b.Min.X), n(b.Min.Y), n(b.Max.X), n(b.Max.Y)))
	}
	return out
}

const square = `<path id="sq" d="M0 0H10V10H0z"/>`

func TestSVGElements(t *testing.T) {
	for _, c := range []struct {
		name, svg string
		want      []string
	}{
		{"path", page(square), []string{"sq 0 -10 10 0"}},
		{"two subpaths", page(`<path id="a" d="M0 0h10v10zM20 0h5v5z"/>`), []string{"a 0 -10 10 0", "a 20 -5 25 0"}},
		{"rect", page(`<rect id="a" x="10" y="20" width="30" height="40"/>`), []string{"a 10 -60 40 -20"}},
		{"rect in mm of a mm page", page(`<rect id="a" x="1in" y="0" width="96px" height="1"/>`), []string{"a 96 -1 192 0"}},
		{"rect in percent", page(`<rect id="a" x="10%" y="10%" width="50%" height="50%"/>`), []string{"a 20 -60 120 -10"}},
		{"round rect", page(`<rect id="a" x="10" y="20" width="30" height="40" rx="5"/>`), []string{"a 10 -60 40 -20"}},
		{"rect of no size", page(`<rect id="a" width="0" height="4"/>`), nil},
		{"circle", page(`<circle id="a" cx="50" cy="40" r="10"/>`), []string{"a 40 -50 60 -30"}},
		{"circle in percent", page(`<circle id="a" cx="50%" cy="50%" r="10%"/>`), []string{"a 84.1886 -65.8114 115.811 -34.1886"}},
		{"ellipse", page(`<ellipse id="a" cx="50" cy="40" rx="20" ry="10"/>`), []string{"a 30 -50 70 -30"}},
		{"ellipse with one radius", page(`<ellipse id="a" cx="50" cy="40" rx="20"/>`), []string{"a 30 -60 70 -20"}},
		{"line", page(`<line id="a" x1="1" y1="2" x2="3" y2="4"/>`), []string{"a 1 -4 3 -2"}},
		{"polyline", page(`<polyline id="a" points="1,2 3,4, 5 6"/>`), []string{"a 1 -6 5 -2"}},
		{"polygon", page(`<polygon id="a" points="0,0 10,0 10-10"/>`), []string{"a 0 0 10 10"}},
		{"translate", page(`<g transform="translate(10 20)">` + square + `</g>`), []string{"sq 10 -30 20 -20"}},
		{"translate by one number", page(`<g transform="translate(10)">` + square + `</g>`), []string{"sq 10 -10 20 0"}},
		{"scale", page(`<g transform="scale(2,3)">` + square + `</g>`), []string{"sq 0 -30 20 0"}},
		{"quarter turn", page(`<g transform="rotate(90)">` + square + `</g>`), []string{"sq -10 -10 0 0"}},
		{"turn about a point", page(`<g transform="rotate(180, 10, 10)">` + square + `</g>`), []string{"sq 10 -20 20 -10"}},
		{"turn by 45", page(`<g transform="rotate(45)">` + square + `</g>`), []string{"sq -7.0711 -14.1421 7.0711 0"}},
		{"skewX", page(`<g transform="skewX(45)">` + square + `</g>`), []string{"sq 0 -10 20 0"}},
		{"skewY", page(`<g transform="skewY(45)">` + square + `</g>`), []string{"sq 0 -20 10 0"}},
		{"matrix", page(`<g transform="matrix(1 0 0 2 3 4)">` + square + `</g>`), []string{"sq 3 -24 13 -4"}},
		{"several in order", page(`<g transform="translate(10,0) scale(2)">` + square + `</g>`), []string{"sq 10 -20 30 0"}},
		{"nested groups", page(`<g transform="scale(2)"><g transform="translate(5)">` + square + `</g></g>`), []string{"sq 10 -20 30 0"}},
		{"transform of style", page(`<g style="transform: rotate(90deg); fill:red">` + square + `</g>`), []string{"sq -10 -10 0 0"}},
		{"transform-origin", page(`<g transform="scale(2)" transform-origin="10 10">` + square + `</g>`), []string{"sq -10 -10 10 10"}},
		{"use", page(`<defs>` + square + `</defs><use href="#sq" x="5" y="6"/>`), []string{"sq 5 -16 15 -6"}},
		{"use by xlink, forward", page(`<use xlink:href="#sq" transform="scale(2)" x="5"/><defs>` + square + `</defs>`), []string{"sq 10 -20 30 0"}},
		{"use of use", page(`<defs>` + square + `<g id="two"><use href="#sq"/><use href="#sq" x="20"/></g></defs><use href="#two" y="1"/>`),
			[]string{"sq 0 -11 10 -1", "sq 20 -11 30 -1"}},
		{"named use", page(`<defs>` + square + `</defs><use id="Sleeve" href="#sq"/>`), []string{"Sleeve 0 -10 10 0"}},
		{"symbol", page(`<symbol id="s" viewBox="0 0 10 10">` + square + `</symbol><use href="#s" x="10" y="20" width="40" height="20"/>`),
			[]string{"sq 20 -40 40 -20"}},
		{"symbol without a reference", page(`<symbol>` + square + `</symbol>`), nil},
		{"turned symbol", page(`<symbol id="s" transform="translate(5)" width="10" height="10" viewBox="0 0 10 10">` + square + `</symbol><use href="#s"/>`),
			[]string{"sq 5 -10 15 0"}},
		{"use of a nested svg", page(`<defs><svg id="s" x="3" width="10" height="10">` + square + `</svg></defs><use href="#s" y="2"/>`),
			[]string{"sq 3 -12 13 -2"}},
		{"symbol of no size", page(`<symbol id="s" viewBox="0 0 10 10">` + square + `</symbol><use href="#s" width="0" height="20"/>`), nil},
		{"transforms of style sheets", page(`<g style="transform:translateX(5px) translateY(4px) scaleX(2) scaleY(3)">` + square + `</g>`), []string{"sq 5 -34 25 -4"}},
		{"ellipse with the other radius", page(`<ellipse id="a" cx="50" cy="40" rx="auto" ry="20"/>`), []string{"a 30 -60 70 -20"}},
		{"nested svg", page(`<svg x="10" y="10" width="50%" height="50" viewBox="0 0 10 10" preserveAspectRatio="xMinYMax slice">` + square + `</svg>`),
			[]string{"sq 10 -60 110 40"}},
		{"nested svg without a box", page(`<svg x="10" y="10" width="50" height="50">` + square + `</svg>`), []string{"sq 10 -20 20 -10"}},
		{"not drawn", page(`<defs>` + square + `</defs><clipPath id="c">` + square + `</clipPath><mask>` + square + `</mask><pattern>` + square +
			`</pattern><marker>` + square + `</marker>`), nil},
		{"display none", page(`<g display="none">` + square + `</g><g style="display : none">` + square + `</g>`), nil},
		{"hidden", page(`<g visibility="hidden">` + square + `<path id="b" visibility="visible" d="M0 0h1v1z"/></g>`), []string{"b 0 -1 1 0"}},
		{"hidden by a style sheet", page(`<style>/* x */ .no, #b { fill: red; display:none } rect{visibility:hidden}</style>` +
			`<g class="no">` + square + `</g><path id="b" d="M0 0h1v1z"/><rect width="5" height="5"/><path id="c" d="M0 0h1v1z"/>`), []string{"c 0 -1 1 0"}},
		{"switch", page(`<switch><foreignObject requiredExtensions="x"/><g systemLanguage="de"><path id="de" d="M0 0h2v2z"/></g>` +
			`<g>` + square + `</g><path id="third" d="M0 0h1v1z"/></switch>`), []string{"sq 0 -10 10 0"}},
		{"link", page(`<a>` + square + `</a>`), []string{"sq 0 -10 10 0"}},
		{"foreign elements", page(`<x:g xmlns:x="urn:x">` + square + `</x:g>`), nil},
		{"no name space", `<svg width="10mm" height="10mm" viewBox="0 0 10 10">` + square + `</svg>`, []string{"sq 0 -10 10 0"}},
		{"prefixed", `<s:svg xmlns:s="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10"><s:rect id="a" width="2" height="3"/></s:svg>`,
			[]string{"a 0 -3 2 0"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, boxes(read(t, c.svg, Options{}))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// One inch is 25.4 mm and 96 px, 72 pt, 6 pc; a q is a quarter of a millimetre
// (CSS Values and Units, section 6.2).
func TestSVGUnits(t *testing.T) {
	svg := func(attrs string) string {
		return `<svg xmlns="http://www.w3.org/2000/svg" ` + attrs + `><path id="sq" d="M10 10H20V20H10z"/></svg>`
	}
	for _, c := range []struct {
		name, attrs string
		unit        float64
		want        string
		assumed     bool
	}{
		{"mm", `width="100mm" height="100mm" viewBox="0 0 100 100"`, 0, "sq 10 -20 20 -10", false},
		{"cm", `width="10cm" height="10cm" viewBox="0 0 100 100"`, 0, "sq 10 -20 20 -10", false},
		{"in", `width="1in" height="1in" viewBox="0 0 100 100"`, 0, "sq 2.54 -5.08 5.08 -2.54", false},
		{"pt", `width="72pt" height="72pt" viewBox="0 0 100 100"`, 0, "sq 2.54 -5.08 5.08 -2.54", false},
		{"pc", `width="6pc" height="6pc" viewBox="0 0 100 100"`, 0, "sq 2.54 -5.08 5.08 -2.54", false},
		{"q", `width="400q" height="400Q" viewBox="0 0 100 100"`, 0, "sq 10 -20 20 -10", false},
		{"px", `width="96px" height="96" viewBox="0 0 100 100"`, 0, "sq 2.54 -5.08 5.08 -2.54", true},
		{"nothing", ``, 0, "sq 2.6458 -5.2917 5.2917 -2.6458", true},
		{"only a viewBox", `viewBox="10 10 100 100"`, 0, "sq 0 -2.6458 2.6458 0", true},
		{"percent", `width="100%" height="100%" viewBox="0 0 100 100"`, 0, "sq 2.6458 -5.2917 5.2917 -2.6458", true},
		{"mm without a viewBox", `width="100mm" height="100mm"`, 0, "sq 2.6458 -5.2917 5.2917 -2.6458", false},
		{"width alone", `width="50mm" viewBox="0 0 100 200"`, 0, "sq 5 -10 10 -5", false},
		{"height alone", `height="50mm" viewBox="0 0 100 200"`, 0, "sq 2.5 -5 5 -2.5", false},
		{"shifted viewBox", `width="100mm" height="100mm" viewBox="5,5,100,100"`, 0, "sq 5 -15 15 -5", false},
		{"middle", `width="200mm" height="100mm" viewBox="0 0 100 100"`, 0, "sq 60 -20 70 -10", false},
		{"xMinYMin", `width="200mm" height="100mm" viewBox="0 0 100 100" preserveAspectRatio="xMinYMin"`, 0, "sq 10 -20 20 -10", false},
		{"xMaxYMid meet", `width="200mm" height="100mm" viewBox="0 0 100 100" preserveAspectRatio="xMaxYMid meet"`, 0, "sq 110 -20 120 -10", false},
		{"xMidYMax slice", `width="200mm" height="100mm" viewBox="0 0 100 100" preserveAspectRatio="xMidYMax slice"`, 0, "sq 20 60 40 80", false},
		{"none", `width="200mm" height="100mm" viewBox="0 0 100 100" preserveAspectRatio="none"`, 0, "sq 20 -20 40 -10", false},
		{"unit given", `width="300mm" height="100mm" viewBox="5 0 100 100"`, 25.4, "sq 127 -508 381 -254", false},
		{"unit given to a bare file", ``, 2, "sq 20 -40 40 -20", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := read(t, svg(c.attrs), Options{UnitMM: c.unit})
			if diff := cmp.Diff([]string{c.want}, boxes(d)); diff != "" {
				t.Error(diff)
			}
			told := len(d.Warnings) > 0
			if otherUnit := c.name == "unit given"; d.Scale.Assumed != c.assumed || told != (c.assumed || otherUnit) {
				t.Errorf("assumed %v with warnings %v, want %v", d.Scale.Assumed, d.Warnings, c.assumed)
			}
		})
	}
}

func TestSVGNames(t *testing.T) {
	const d = `d="M0 0h1v1z"`
	for _, c := range []struct{ name, inner, want string }{
		{"title first", `<path id="x" aria-label="y" ` + d + `><title> Left
			Front </title></path>`, "Left Front"},
		{"id", `<path id="Back" aria-label="y" ` + d + `/>`, "Back"},
		{"label", `<path aria-label="Hood" ` + d + `/>`, "Hood"},
		{"label before a counted id", `<path id="path12" aria-label="Hood" ` + d + `/>`, "Hood"},
		{"group", `<g id="Collar"><path ` + d + `/></g>`, "Collar"},
		{"group before a counted id", `<g><title>Collar</title><path id="path-7" ` + d + `/></g>`, "Collar"},
		{"nearest group", `<g id="All"><g id="g5"><g id="Cuff"><path ` + d + `/></g></g></g>`, "Cuff"},
		{"counted id", `<path id="path12" ` + d + `/>`, "path12"},
		{"entities", `<path id="a&amp;b&#x20AC;" ` + d + `/>`, "a&b€"},
		{"nothing", `<path ` + d + `/>`, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := read(t, page(c.inner), Options{}).Shapes[0].Name; got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// An export of our own says which line is which.
func TestSVGOfOurOwn(t *testing.T) {
	svg := page(`<g class="scale"><path d="M0 0h50v50h-50z"/></g>
	<g class="piece" data-name="Front"><path class="cut" d="M0 0h30v30h-30z"/><path class="stitch" d="M5 5h20v20h-20z"/>
	<path class="grain" d="M15 5V20"/><path class="notch" d="M5 10h-3v1z"/><path class="internal" d="M10 10h5v5z"/><text x="1" y="2">Front</text></g>
	<g class="piece" data-name="Back"><path class="cut" d="M60 0h30v40h-30z"/><path class="stitch" d="M65 5h20v30h-20z"/></g>`)
	for _, c := range []struct {
		line draft.DrawnLine
		want []string
	}{
		{draft.CutDrawn, []string{"Front 900", "Back 1200"}},
		{draft.StitchDrawn, []string{"Front 400", "Back 600"}},
	} {
		outlines, warnings, err := read(t, svg, Options{}).Outlines(c.line)
		if err != nil || len(warnings) > 0 {
			t.Fatal(err, warnings)
		}
		var got []string
		for _, o := range outlines {
			got = append(got, fmt.Sprintf("%s %.4g", o.Name, o.Path.Area()))
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%v lines: %s", c.line, diff)
		}
	}
	only := page(`<g class="piece" data-name="Front"><path class="cut" d="M0 0h30v30h-30z"/></g>`)
	outlines, warnings, err := read(t, only, Options{}).Outlines(draft.StitchDrawn)
	if err != nil || len(outlines) != 1 || len(warnings) != 1 ||
		warnings[0].Says != "the file has no stitch lines of its own; its cut lines are taken for them" {
		t.Errorf("stitching lines of a file that has cut lines alone: %v, %v, %v", outlines, warnings, err)
	}
}

func TestSVGMistakes(t *testing.T) {
	for _, c := range []struct{ name, svg, want string }{
		{"path data", page("\n\n" + `<path id="front" d="M1 2X"/>`), `test.svg: line 3, <path id="front">: path data: at character 5: expected a path command, found 'X'`},
		{"points", page(`<polygon points="1 2 3"/>`), `<polygon>: points: the list of points has an odd number of coordinates`},
		{"bad points", page(`<polygon points="1 2 x"/>`), `points: at character 5: expected a number, found 'x'`},
		{"length", page(`<rect width="3em" height="1"/>`), `width: the length "3em" has no unit that is read here`},
		{"length with rubbish", page(`<rect width="3 mm x" height="1"/>`), `width: the length`},
		{"negative size", page(`<rect width="-3" height="1"/>`), `a size or radius is negative`},
		{"negative radius", page(`<circle r="-3"/>`), `a radius is negative`},
		{"transform", page(`<g id="x" transform="turn(3)"/>`), `<g id="x">: transform: at character 8: turn with 1 numbers is not a transform`},
		{"transform open", page(`<g transform="rotate(3"/>`), `transform: at character 9: expected a number, found the end`},
		{"transform overflow", page(`<g transform="scale(1e300) scale(1e300)"/>`), `out of range`},
		{"too far", page(`<rect x="1e6" width="1" height="1"/>`), `<rect>: the point (1e+06, `},
		{"page of nothing", `<svg xmlns="http://www.w3.org/2000/svg" width="0" height="3mm"/>`, `width: the page must be larger than 0`},
		{"viewBox of nothing", `<svg viewBox="0 0 0 3"/>`, `viewBox: a size of 0 shows nothing`},
		{"viewBox short", `<svg viewBox="0 0 3"/>`, `viewBox: at character 6: expected a number, found the end`},
		{"viewBox long", `<svg viewBox="0 0 3 3 3"/>`, `viewBox: at character 9: expected the end, found '3'`},
		{"viewBox negative", `<svg viewBox="0 0 3 -3"/>`, `viewBox: the size 3 × -3 is negative`},
		{"meet", `<svg width="1mm" height="1mm" viewBox="0 0 3 3" preserveAspectRatio="xMidYMid fit"/>`, `"fit" is neither meet nor slice`},
		{"symbol", page(`<symbol id="s" viewBox="x"/><use href="#s"/>`), `<symbol id="s">: viewBox: at character 1: expected a number`},
		{"alignment", `<svg width="1mm" height="1mm" viewBox="0 0 3 3" preserveAspectRatio="left"/>`, `preserveAspectRatio: "left" is not an alignment`},
		{"cyclic reference", page(`<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>`), `leads back to itself`},
		{"reference to oneself", page(`<use id="a" href="#a"/>`), `leads back to itself`},
		{"reference to the page", `<svg id="a" width="9mm" height="9mm"><use href="#a"/></svg>`, `leads back to itself`},
		{"not SVG", `<html><body/></html>`, `the outermost element is <html>, not <svg>`},
		{"truncated", page(square)[:160], `the file ends in the middle`},
		{"unclosed", `<svg><g></svg>`, `not well-formed XML`},
		{"unknown entity", page(`<path d="&what;"/>`), `not well-formed XML: invalid character entity &what;`},
		{"encoding", `<?xml version="1.0" encoding="koi8-r"?><svg/>`, `the encoding "koi8-r" is not read`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read(context.Background(), "test.svg", strings.NewReader(c.svg), Options{})
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v\nwant %s", err, c.want)
			}
			if err != nil && strings.Contains(err.Error(), "\n") {
				t.Errorf("the message has more than one line: %q", err)
			}
		})
	}
}

func TestSVGEncodings(t *testing.T) {
	const body = `<svg width="10mm" height="10mm" viewBox="0 0 10 10"><rect id="Ärmel" width="1" height="1"/></svg>`
	latin := `<?xml version="1.0" encoding="ISO-8859-1"?>` + strings.ReplaceAll(body, "Ä", "\xc4")
	utf16 := []byte{0xff, 0xfe}
	for _, r := range `<?xml version="1.0" encoding="UTF-16"?>` + body {
		utf16 = append(utf16, byte(r), byte(r>>8))
	}
	entity := "<!DOCTYPE svg [\n<!ENTITY ns \"http://www.w3.org/2000/svg\">\n]>\n" +
		strings.Replace(body, "<svg", `<svg xmlns="&ns;"`, 1)
	for name, text := range map[string]string{
		"utf-8": body, "byte order mark": "\ufeff" + body, "latin-1": latin, "utf-16": string(utf16), "plain entity": entity,
	} {
		if got := read(t, text, Options{}).Shapes[0].Name; got != "Ärmel" {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// The area of a shape is multiplied by the determinant of its transform.
func TestSVGTransformsKeepArea(t *testing.T) {
	svg := page(`<g transform="translate(3 4) rotate(33) skewX(20) scale(1.5 .5)"><circle id="a" r="20"/></g>`)
	outlines, _, err := read(t, svg, Options{}).Outlines(draft.StitchDrawn)
	if err != nil {
		t.Fatal(err)
	}
	want := math.Pi * 400 * 0.75
	if got := outlines[0].Path.Area(); math.Abs(got-want) > 1e-5*want {
		t.Errorf("area %.9g, want %.9g", got, want)
	}
}

func TestOutlinesLeavesOutWithAWord(t *testing.T) {
	svg := page(`<path id="open" d="M0 0h20v20"/><path id="nearly" d="M0 0h20v20L0.05 0.05"/><line id="l" x1="1" x2="5"/>
	<path id="holed" d="M30 0h20v20h-20zM35 5h5v5h-5z"/><use href="other.svg#a"/><use href="#gone"/>
	<path id="flat" d="M0 0h20h-10z"/><path id="point" d="M1 1h0z"/><path id="flat2" d="M0 0L5 5"/><image id="photo"/>`)
	d := read(t, svg, Options{})
	outlines, warnings, err := d.Outlines(draft.StitchDrawn)
	if err != nil || len(outlines) != 3 || outlines[0].Name != "nearly" || !outlines[0].Path.Closed() {
		t.Fatalf("%v, %v", outlines, err)
	}
	var got []string
	for _, w := range append(d.Warnings, warnings...) {
		got = append(got, w.String())
	}
	want := []string{
		`line 2, <use>: left out: the reference "other.svg#a" leads out of the file; nothing is fetched`,
		`line 2, <use>: left out: the reference "#gone" leads nowhere`,
		`line 3, <image id="photo">: a picture is no outline; trace it instead`,
		`line 1, <path id="open">: left out: the line is open, its ends are 28.3 mm apart`,
		`line 1, <line id="l">: left out: the line is open, its ends are 4 mm apart`,
		`line 2, <path id="holed">: an outline inside the outline became a piece of its own; if it is a hole, delete that piece`,
		`line 3, <path id="flat">: left out: it encloses no area`,
		`line 3, <path id="point">: left out: it has no length`,
		`line 3, <path id="flat2">: left out: the line is open, its ends are 7.07 mm apart`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if _, _, err := read(t, page(`<line x2="5"/>`), Options{}).Outlines(draft.CutDrawn); err == nil || !strings.Contains(err.Error(), "none of its 1 lines is closed") {
		t.Error(err)
	}
}

func TestOutlinesRunCounterClockwise(t *testing.T) {
	for _, d := range []string{"M0 0H30V20H0z", "M0 0V20H30V0z", "M0 0C0 40 40 40 40 0z"} {
		outlines, _, err := read(t, page(`<path d="`+d+`"/>`), Options{}).Outlines(draft.StitchDrawn)
		if err != nil {
			t.Fatal(err)
		}
		o := outlines[0]
		if o.Path.Area() <= 0 || !o.Path.Closed() || o.Name != "Piece 1" || len(o.Corner) != len(o.Path) || !o.Corner[0] {
			t.Errorf("%s: %+v", d, o)
		}
	}
}

func TestOutlineNamesAreUnique(t *testing.T) {
	svg := page(strings.Repeat(`<rect id="cuff" width="5" height="5"/>`, 3) + `<rect id="cuff 2" width="5" height="5"/><rect width="5" height="5"/>`)
	outlines, _, err := read(t, svg, Options{}).Outlines(draft.StitchDrawn)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, o := range outlines {
		got = append(got, o.Name)
	}
	if diff := cmp.Diff([]string{"cuff", "cuff 2", "cuff 3", "cuff 2 2", "Piece 5"}, got); diff != "" {
		t.Error(diff)
	}
}
