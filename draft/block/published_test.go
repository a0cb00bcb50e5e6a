package block_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/formula"
	"hemlet/geom"
)

// The tests in the files published*_test.go hold the blocks against figures from
// books. Tables of figures lie in testdata/published, each with its source; single
// figures stand in the tests, with theirs.

// inch is in mm.
const inch = 25.4

// drawnSlack is how far, in mm, a point may lie from where a book puts it by a whole
// instruction ("up 3/4"): such a figure is no measurement that was rounded, so that
// only rounding of the arithmetic is left.
const drawnSlack = 1e-6

// figures are the rows of a kept table, by the names in its first line.
type figures []map[string]string

func published(t testing.TB, name string) figures {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", "published", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	out := make(figures, 0, len(rows))
	for _, row := range rows[1:] {
		m := make(map[string]string, len(row))
		for i, column := range rows[0] {
			m[column] = row[i]
		}
		out = append(out, m)
	}
	if len(out) == 0 {
		t.Fatalf("%s has no figures", name)
	}
	return out
}

// number reads a figure as books print it: "7", "22.333", "3/4", "15 1/2".
func number(t testing.TB, s string) float64 {
	t.Helper()
	sum := 0.0
	for _, word := range strings.Fields(s) {
		over, under, broken := strings.Cut(word, "/")
		v, err := strconv.ParseFloat(over, 64)
		if err != nil {
			t.Fatalf("%q is no figure: %v", s, err)
		}
		if broken {
			d, err := strconv.ParseFloat(under, 64)
			if err != nil || d == 0 {
				t.Fatalf("%q is no figure", s)
			}
			v /= d
		}
		sum += v
	}
	return sum
}

// drafted is a sheet with its steps, measures and choices by name.
type drafted struct {
	*block.Sheet
	values map[string]formula.Value
}

func draftFor(t testing.TB, b *block.Block, g body.Given, s block.Settings) drafted {
	t.Helper()
	sheet, err := b.Draft(g, s)
	if err != nil {
		t.Fatalf("%s for %v: %v", b.Name, g, err)
	}
	return readSheet(sheet)
}

func readSheet(sheet *block.Sheet) drafted {
	d := drafted{sheet, make(map[string]formula.Value)}
	for _, m := range sheet.Measures {
		d.values[m.Name] = formula.Length{MM: m.Value}
	}
	for _, c := range sheet.Choices {
		d.values[c.Name] = c.Value
	}
	for _, s := range sheet.Steps {
		d.values[s.Name] = s.Value
	}
	return d
}

// point, mm and curve panic where the block has no such step: that fails the test,
// which has to be looked at when steps are renamed.
func (d drafted) point(name string) geom.Point { return d.values[name].(formula.Point).At }
func (d drafted) mm(name string) float64       { return d.values[name].(formula.Length).MM }
func (d drafted) curve(name string) geom.Path  { return d.values[name].(formula.Curve).Path }

// inches returns the length of a length or curve.
func (d drafted) inches(name string) float64 {
	if c, ok := d.values[name].(formula.Curve); ok {
		return c.Path.Length() / inch
	}
	return d.mm(name) / inch
}

func builtin(t testing.TB, name string) *block.Block {
	t.Helper()
	b, err := block.Named(name)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// inchBody returns a body from measures in inches.
func inchBody(inches map[string]float64) body.Given {
	g := make(body.Given, len(inches))
	for name, v := range inches {
		g[name] = v * inch
	}
	return g
}

// size36 is the figure of the foundation's page.
func size36() body.Given {
	return inchBody(map[string]float64{"bust_girth": 39, "back_waist_length": 15.5, "armscye_depth": 7})
}

// tell fails the test with every fault.
func tell(t *testing.T, faults []string) {
	t.Helper()
	for _, f := range faults {
		t.Error(f)
	}
}

// TestFoundationIsThePrintedOne holds the block to every point and line that the
// page gives for size 36.
func TestFoundationIsThePrintedOne(t *testing.T) {
	tell(t, foundationFaults(t, builtin(t, "foundation-1918")))
}

func foundationFaults(t testing.TB, b *block.Block) (faults []string) {
	fault := func(format string, a ...any) { faults = append(faults, fmt.Sprintf(format, a...)) }
	d := draftFor(t, b, size36(), nil)
	for _, row := range published(t, "foundation-1918.csv") {
		want := geom.Pt(number(t, row["across_in"])*inch, -number(t, row["down_in"])*inch)
		if got := d.point(row["point"]); got.Dist(want) > drawnSlack {
			fault("%s lies at %v, and the book has it at %v", row["point"], got, want)
		}
	}
	for _, row := range published(t, "foundation-1918-lines.csv") {
		from, to := d.point(row["line"][:1]), d.point(row["line"][1:])
		if got, want := from.Dist(to), number(t, row["long_in"])*inch; math.Abs(got-want) > drawnSlack {
			fault("%s is %.4f mm long, and %.4f in the book", row["line"], got, want)
		}
	}
	if along, line := d.point("L").Sub(d.point("K")), d.point("I").Sub(d.point("K")); math.Abs(along.Cross(line))/line.Len() > drawnSlack || along.Dot(line) <= 0 {
		fault("the shoulder from K to L does not run through I")
	}
	p := pieceOf(d.Sheet, "back")
	for edge, ends := range map[string][2]string{"centre": {"A", "C"}, "waist": {"C", "F"}, "side": {"F", "E"}, "armhole": {"E", "L"}, "shoulder": {"L", "K"}, "neck": {"K", "A"}} {
		path := edgePath(p, edge)
		if a, z := d.point(ends[0]), d.point(ends[1]); path.Start().Dist(a) > drawnSlack || path.End().Dist(z) > drawnSlack {
			fault("the edge %s does not run from %s to %s", edge, ends[0], ends[1])
		} else if straight := edge != "armhole" && edge != "neck"; straight && path.Length()-a.Dist(z) > drawnSlack {
			fault("the edge %s is not straight", edge)
		}
	}
	return faults
}

// TestFoundationTakesItsOwnDepth holds that the book's depth of the back is drawn for
// the book's back where nobody took it.
func TestFoundationTakesItsOwnDepth(t *testing.T) {
	g := size36()
	delete(g, "armscye_depth")
	d := draftFor(t, builtin(t, "foundation-1918"), g, nil)
	if got := d.point("B").Y; math.Abs(got+7*inch) > drawnSlack {
		t.Errorf("the depth of the back is %.4f mm, and 7 in in the book", -got)
	}
}

// TestFoundationForEverySize holds that the size is read from the bust as the
// proportions say, and that the lines which the book gives as shares of it (the frame
// a third, the back neck a sixth of half) follow it.
func TestFoundationForEverySize(t *testing.T) {
	for _, row := range published(t, "proportions.csv") {
		size := number(t, row["size_in"]) * inch
		g := size36()
		g["bust_girth"] = number(t, row["bust_in"]) * inch
		d := draftFor(t, builtin(t, "foundation-1918"), g, nil)
		for name, want := range map[string]float64{"D": size / 3, "E": size / 3, "F": size / 3, "J": size / 12} {
			if got := d.point(name).X; math.Abs(got-want) > drawnSlack {
				t.Errorf("size %s: %s lies %.4f mm across, and should %.4f", row["size_in"], name, got, want)
			}
		}
		if len(d.Told) > 0 {
			t.Errorf("size %s: told %v of a size that the books draft", row["size_in"], d.Told)
		}
		if err := outlineOf(pieceOf(d.Sheet, "back")).Simple(); err != nil {
			t.Errorf("size %s: %v", row["size_in"], err)
		}
	}
}
