package intake

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"hemlet/draft"
	"hemlet/geom"
)

const fixtures = "../../testdata/intake"

// face is what ezdxf and shapely measured; see make_dxf.py beside the fixtures.
type face struct {
	Layer  string     `json:"layer"`
	Area   float64    `json:"area_mm2"`
	Length float64    `json:"length_mm"`
	Box    [4]float64 `json:"box_mm"`
}

func readFixture(t testing.TB, name string, opts Options) *Drawing {
	t.Helper()
	f, err := os.Open(filepath.Join(fixtures, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d, err := Read(context.Background(), name, f, opts)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestDXFAgainstEzdxf(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(fixtures, "dxf.json"))
	if err != nil {
		t.Fatal(err)
	}
	var outside struct{ Faces map[string][]face }
	if err := json.Unmarshal(data, &outside); err != nil {
		t.Fatal(err)
	}
	opts := map[string]Options{"heavy_r12.dxf": {UnitMM: 1}}
	warned := map[string]int{"light.dxf": 1}
	for name, faces := range outside.Faces {
		t.Run(name, func(t *testing.T) {
			d := readFixture(t, name, opts[name])
			outlines, warnings, err := d.Outlines(draft.StitchDrawn)
			if err != nil {
				t.Fatal(err)
			}
			if len(warnings)+len(d.Warnings) != warned[name] {
				t.Errorf("warnings: %v %v", d.Warnings, warnings)
			}
			if len(outlines) != len(faces) {
				t.Fatalf("%d outlines, want %d", len(outlines), len(faces))
			}
			// Equal areas (to the micrometre) go by their left ends.
			sort.SliceStable(outlines, func(i, j int) bool {
				a, b := outlines[i].Path, outlines[j].Path
				if math.Abs(a.Area()-b.Area()) > 0.001 {
					return a.Area() < b.Area()
				}
				return a.Bounds().Min.X < b.Bounds().Min.X
			})
			for i, f := range faces {
				p := outlines[i].Path
				length := 0.0
				for _, s := range p {
					length += s.Length()
				}
				if math.Abs(p.Area()-f.Area) > 1e-5*f.Area {
					t.Errorf("%s: area %.9g, want %.9g", f.Layer, p.Area(), f.Area)
				}
				if math.Abs(length-f.Length) > 1e-5*f.Length {
					t.Errorf("%s: length %.9g, want %.9g", f.Layer, length, f.Length)
				}
				b := p.Bounds()
				for k, v := range [4]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
					if math.Abs(v-f.Box[k]) > 0.001 {
						t.Errorf("%s: box %v, want %v", f.Layer, b, f.Box)
						break
					}
				}
			}
		})
	}
}

func TestDXFAsksForTheUnit(t *testing.T) {
	f, err := os.Open(filepath.Join(fixtures, "heavy_r12.dxf"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	_, err = Read(context.Background(), "heavy_r12.dxf", f, Options{})
	var unit *UnitError
	if !errors.As(err, &unit) || unit.LikelyMM() != 1 || !strings.Contains(err.Error(), "drawn in mm, cm or inches") {
		t.Errorf("got %v", err)
	}
	english := dxf("0:SECTION 2:HEADER 9:$INSUNITS 70:0 9:$MEASUREMENT 70:0 0:ENDSEC " + entities(triangle))
	_, err = Read(context.Background(), "x.dxf", strings.NewReader(english), Options{})
	if !errors.As(err, &unit) || unit.LikelyMM() != 25.4 || !strings.Contains(err.Error(), "drawn in inches") {
		t.Errorf("got %v", err)
	}
}

// dxf writes a file out of codes and values, one pair a word, as code:value.
func dxf(pairs string) string {
	var b strings.Builder
	for _, w := range strings.Fields(pairs) {
		code, value, _ := strings.Cut(w, ":")
		b.WriteString(code + "\n" + strings.ReplaceAll(value, "_", " ") + "\n")
	}
	return b.String()
}

func header(unit int) string {
	return fmt.Sprintf("0:SECTION 2:HEADER 9:$INSUNITS 70:%d 0:ENDSEC ", unit)
}

func entities(pairs string) string { return "0:SECTION 2:ENTITIES " + pairs + " 0:ENDSEC 0:EOF" }

const triangle = "0:LWPOLYLINE 8:A 70:1 10:0 20:0 10:10 20:0 10:0 20:10 "

func readPairs(t *testing.T, pairs string, opts Options) *Drawing {
	t.Helper()
	d, err := Read(context.Background(), "test.dxf", strings.NewReader(dxf(pairs)), opts)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Lengths of the units: the international inch of 1959 and the metre.
func TestDXFUnits(t *testing.T) {
	for _, c := range []struct {
		name, pairs string
		opts        Options
		want        float64
	}{
		{"inches", header(1) + entities(triangle), Options{}, 25.4},
		{"feet", header(2) + entities(triangle), Options{}, 304.8},
		{"millimetres", header(4) + entities(triangle), Options{}, 1},
		{"centimetres", header(5) + entities(triangle), Options{}, 10},
		{"metres", header(6) + entities(triangle), Options{}, 1000},
		{"yards", header(10) + entities(triangle), Options{}, 914.4},
		{"given", header(6) + entities(triangle), Options{UnitMM: 2}, 2},
		{"comment", "999:Units:_millimetres. " + header(0) + entities(triangle), Options{}, 1},
		{"text", entities(triangle + "0:TEXT 1:Units:_METRIC 10:0 20:0"), Options{}, 1},
		{"text in inches", entities(triangle + "0:TEXT 1:All_units_in_inches 10:0 20:0"), Options{}, 25.4},
		{"text in mm", entities(triangle + "0:TEXT 1:units_in_mm 10:0 20:0"), Options{}, 1},
		{"text of one unit", entities(triangle + "0:TEXT 1:1_unit_=_1_cm 10:0 20:0"), Options{}, 10},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := readPairs(t, c.pairs, c.opts)
			if w := d.Shapes[0].Path.Bounds().W(); math.Abs(w-10*c.want) > 1e-9 || d.Scale.MM != c.want {
				t.Errorf("10 units are %g mm, scale %v, want %g", w, d.Scale, c.want)
			}
		})
	}
}

func TestDXFEntities(t *testing.T) {
	for _, c := range []struct {
		name, pairs string
		want        []string // outlines: name, area, corners of nodes
		warn        string   // of all warnings, a part
	}{
		{"closed polyline", triangle, []string{"A 50 3/3"}, ""},
		{"hidden", triangle + "60:1 " + triangle + " 67:1 " + triangle, []string{"A 50 3/3"}, ""},
		{"semicircles by bulges", "0:LWPOLYLINE 70:1 10:0 20:0 42:1 10:10 20:0 42:1", []string{"Piece 1 78.54 0/8"}, ""},
		{"bulge to the right", "0:LWPOLYLINE 70:1 10:0 20:0 10:10 20:0 42:-1 10:10 20:10 10:0 20:10", []string{"Piece 1 60.73 4/7"}, ""},
		{"circle", "0:CIRCLE 8:Patch 10:5 20:5 40:10", []string{"Patch 314.16 0/8"}, ""},
		{"half an ellipse from below", "0:ELLIPSE 10:0 20:0 11:10 21:0 40:0.5 41:0 42:3.141592653589793 210:0 220:0 230:-1 0:LINE 10:-10 20:0 11:10 21:0", []string{"Piece 1 78.54 2/5"}, ""},
		{"arc that closes", "0:ARC 10:0 20:0 40:10 50:30 51:390", []string{"Piece 1 314.16 0/8"}, ""},
		{"arc and chord", "0:ARC 10:0 20:0 40:10 50:0 51:180 0:LINE 10:10 20:0 11:-10 21:0", []string{"Piece 1 157.08 2/5"}, ""},
		{"ends a little apart", "0:LINE 10:0 20:0 11:10 21:0 0:LINE 10:10 20:0.05 11:0 21:10 0:LINE 10:0 20:10 11:0.05 21:0", []string{"Piece 1 50 3/3"}, ""},
		{"ends too far apart", triangle + "0:LINE 8:B 10:0 20:0 11:10 21:0 0:LINE 8:B 10:10 20:0.5 11:0 21:10", []string{"A 50 3/3"}, "the line is open"},
		{"layers are not mixed", triangle + "0:LINE 8:B 10:0 20:0 11:10 21:0 0:LINE 8:C 10:10 20:0 11:0 21:10 0:LINE 8:C 10:0 20:10 11:0 21:0", []string{"A 50 3/3"}, "the line is open"},
		{"branch", triangle + "0:LINE 8:B 10:0 20:0 11:10 21:0 0:LINE 8:B 10:10 20:0 11:0 21:10 0:LINE 8:B 10:0 20:10 11:0 21:0 0:LINE 8:B 10:0 20:0 11:5 21:5", []string{"A 50 3/3", "B 50 3/3"}, "3 ends meet at (0, 0) mm"},
		{"drawn twice", "0:LINE 10:0 20:0 11:10 21:0 0:LINE 10:10 20:0 11:0 21:10 0:LINE 10:0 20:10 11:0 21:0 0:LINE 10:10 20:0 11:0 21:0", []string{"Piece 1 50 3/3"}, "drawn twice"},
		{"frame points", "0:POLYLINE 70:5 0:VERTEX 10:0 20:0 70:8 0:VERTEX 10:50 20:50 70:16 0:VERTEX 10:10 20:0 70:8 0:VERTEX 10:0 20:10 70:8 0:SEQEND", []string{"Piece 1 50 3/3"}, ""},
		{"mesh", triangle + "0:POLYLINE 70:16 0:VERTEX 10:0 20:0 0:SEQEND", []string{"A 50 3/3"}, "1 POLYLINE entities that are meshes"},
		{"tilted", triangle + "0:CIRCLE 10:0 20:0 40:1 210:1 220:0 230:0", []string{"A 50 3/3"}, "do not lie flat"},
		{"no such block", triangle + "0:INSERT 2:X", []string{"A 50 3/3"}, `the block "X" is not in the file`},
		{"unknown", triangle + "0:HATCH 8:A 0:HATCH 8:A 0:POINT 10:1 20:1", []string{"A 50 3/3"}, "2 HATCH entities left out"},
		{"named by lettering", "0:LWPOLYLINE 70:1 10:0 20:0 10:10 20:0 10:0 20:10 0:TEXT 10:50 20:2 1:far 0:TEXT 10:2 20:2 1:Left_cuff", []string{"Left cuff 50 3/3"}, ""},
		{"the tallest lettering", "0:LWPOLYLINE 70:1 10:0 20:0 10:10 20:0 10:0 20:10 0:TEXT 10:1 20:1 40:2 1:fold 0:TEXT 10:2 20:2 40:3 1:Yoke 0:TEXT 10:3 20:3 40:2 1:cut_2", []string{"Yoke 50 3/3"}, ""},
		{"escaped lettering", `0:LWPOLYLINE 70:1 10:0 20:0 10:10 20:0 10:0 20:10 0:MTEXT 10:2 20:2 1:{\U+00C4rmel\P2}`, []string{"Ärmel 2 50 3/3"}, ""},
		// 140.714: numpy, solving for the second derivatives instead.
		{"natural spline through four points", "0:SPLINE 70:1 71:3 11:0 21:0 11:10 21:0 11:10 21:10 11:0 21:10", []string{"Piece 1 140.71 1/4"}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := readPairs(t, header(4)+entities(c.pairs), Options{})
			outlines, warnings, err := d.Outlines(draft.StitchDrawn)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, o := range outlines {
				corners := 0
				for _, at := range o.Corner {
					if at {
						corners++
					}
				}
				got = append(got, fmt.Sprintf("%s %.5g %d/%d", o.Name, o.Path.Area(), corners, len(o.Path)))
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
			said := fmt.Sprint(append(d.Warnings, warnings...))
			if c.warn == "" && said != "[]" || !strings.Contains(said, c.warn) {
				t.Errorf("said %s, want %s", said, c.warn)
			}
		})
	}
}

func TestDXFBlocksNameThePieces(t *testing.T) {
	block := func(name, inner string) string { return "0:BLOCK 2:" + name + " 10:0 20:0 " + inner + " 0:ENDBLK " }
	d := readPairs(t, header(4)+"0:SECTION 2:BLOCKS "+
		block("BACK_1", "0:TEXT 8:1 10:0 20:0 1:Size:_one 0:TEXT 8:1 10:0 20:0 1:Piece_Name:_Back_yoke "+
			"0:POLYLINE 8:1 70:1 0:VERTEX 8:1 10:0 20:0 0:VERTEX 8:1 10:30 20:0 0:VERTEX 8:1 10:15 20:2 0:VERTEX 8:1 10:0 20:30 0:SEQEND "+
			"0:POINT 8:2 10:0 20:0 0:POINT 8:2 10:30 20:0 0:POINT 8:2 10:0 20:30 0:POINT 8:3 10:15 20:2 "+
			"0:LWPOLYLINE 8:14 70:1 10:2 20:2 10:10 20:2 10:2 20:10 0:LINE 8:7 10:3 20:3 11:3 21:9 0:LWPOLYLINE 8:8 70:1 10:3 20:3 10:4 20:3 10:3 20:4 ")+
		block("COLLAR", "0:LWPOLYLINE 8:1 70:1 10:0 20:0 10:5 20:0 10:5 20:5 10:0 20:5")+
		"0:ENDSEC "+entities("0:INSERT 2:BACK_1 8:0 0:INSERT 2:COLLAR 8:0 10:100 20:0 0:LWPOLYLINE 8:15 70:1 10:0 20:-60 10:50 20:-60 10:50 20:-10 10:0 20:-10"), Options{})
	for _, c := range []struct {
		line draft.DrawnLine
		want []string
	}{
		{draft.CutDrawn, []string{"Back yoke 3", "COLLAR 4"}},
		{draft.StitchDrawn, []string{"Back yoke 3"}},
	} {
		outlines, warnings, err := d.Outlines(c.line)
		if err != nil || len(warnings) > 0 {
			t.Fatal(err, warnings)
		}
		var got []string
		for _, o := range outlines {
			n := 0
			for _, at := range o.Corner {
				if at {
					n++
				}
			}
			got = append(got, fmt.Sprintf("%s %d", o.Name, n))
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%v: %s", c.line, diff)
		}
	}
}

func TestDXFOfOurOwnLayers(t *testing.T) {
	square := func(layer string, side int) string {
		return fmt.Sprintf("0:POLYLINE 8:%s 70:1 0:VERTEX 10:0 20:0 0:VERTEX 10:%d 20:0 0:VERTEX 10:%d 20:%d 0:VERTEX 10:0 20:%d 0:SEQEND ", layer, side, side, side, side)
	}
	d := readPairs(t, "999:Units:_millimetres. "+entities(square("SCALE", 50)+square("CUT", 30)+square("STITCH", 20)+square("INTERNAL", 5)+
		"0:LINE 8:GRAIN 10:1 20:1 11:5 21:1 0:TEXT 8:TEXT 10:3 20:3 1:Cape"), Options{})
	for line, want := range map[draft.DrawnLine]float64{draft.CutDrawn: 900, draft.StitchDrawn: 400} {
		outlines, warnings, err := d.Outlines(line)
		if err != nil || len(warnings) > 0 || len(outlines) != 1 || outlines[0].Name != "Cape" || outlines[0].Path.Area() != want {
			t.Errorf("%v: %v, %v, %v", line, outlines, warnings, err)
		}
	}
}

func TestDXFWithoutInsertsTakesItsBlocks(t *testing.T) {
	d := readPairs(t, header(4)+"0:SECTION 2:BLOCKS 0:BLOCK 2:HOOD 10:5 20:5 "+triangle+" 0:ENDBLK 0:BLOCK 2:*D1 "+triangle+" 0:ENDBLK 0:ENDSEC "+entities("0:TEXT 1:x"), Options{})
	outlines, _, err := d.Outlines(draft.StitchDrawn)
	if err != nil || len(outlines) != 1 || outlines[0].Name != "HOOD" || len(d.Warnings) != 1 {
		t.Errorf("%v %v %v", outlines, d.Warnings, err)
	}
}

func TestDXFSwitchedOffLayers(t *testing.T) {
	tables := "0:SECTION 2:TABLES 0:TABLE 2:LAYER 0:LAYER 2:OFF 62:-7 70:0 0:LAYER 2:COLD 62:7 70:1 0:ENDTAB 0:ENDSEC "
	d := readPairs(t, header(4)+tables+entities(triangle+"0:CIRCLE 8:OFF 10:0 20:0 40:5 0:CIRCLE 8:COLD 10:0 20:0 40:5"), Options{})
	if len(d.Shapes) != 1 || len(d.Warnings) != 2 || !strings.Contains(d.Warnings[1].Says, "switched off") {
		t.Errorf("%v %v", d.Shapes, d.Warnings)
	}
}

func TestDXFMistakes(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	long := strings.Repeat("10:1 20:1 10:2 20:2 ", 50_001)
	doubling := "0:SECTION 2:BLOCKS 0:BLOCK 2:B0 0:LINE 10:0 20:0 11:1 21:0 0:ENDBLK "
	for i := 1; i < 40; i++ {
		doubling += fmt.Sprintf("0:BLOCK 2:B%d 0:INSERT 2:B%d 0:INSERT 2:B%d 0:ENDBLK ", i, i-1, i-1)
	}
	deep := "0:SECTION 2:BLOCKS 0:BLOCK 2:B0 0:LINE 10:0 20:0 11:1 21:0 0:ENDBLK "
	for i := 1; i < 80; i++ {
		deep += fmt.Sprintf("0:BLOCK 2:B%d 0:INSERT 2:B%d 0:ENDBLK ", i, i-1)
	}
	for _, c := range []struct{ name, pairs, want string }{
		{"truncated", header(4) + "0:SECTION 2:ENTITIES " + triangle, "the file ends in the middle"},
		{"truncated in a block", header(4) + "0:SECTION 2:BLOCKS 0:BLOCK 2:A 0:LINE 8:0", "the file ends in the middle"},
		{"no section", header(4), "the file ends in the middle"},
		{"rubbish code", header(4) + "0:SECTION 2:ENTITIES x:y", "line 15: expected a group code"},
		{"not a section", "0:LINE 8:0", "expected a section"},
		{"rubbish number", header(4) + entities("0:LINE 8:A 10:abc"), `test.dxf: line 15, LINE on layer A: line 20: group 10 is not a number: "abc"`},
		{"NaN", header(4) + entities("0:CIRCLE 10:0 20:nan 40:5"), "is not a number"},
		{"infinity", header(4) + entities("0:CIRCLE 10:0 20:0 40:inf"), "is not a number"},
		{"hexadecimal", header(4) + entities("0:CIRCLE 10:0 20:0 40:0x1p4"), "is not a number"},
		{"overflow", header(4) + entities("0:CIRCLE 10:0 20:0 40:1e999"), "is not a number"},
		{"too far", header(6) + entities("0:CIRCLE 10:0 20:0 40:1e5"), "lies beyond 100 m"},
		{"radius", header(4) + entities("0:CIRCLE 10:0 20:0 40:-1"), "the radius is -1"},
		{"ellipse without an axis", header(4) + entities("0:ELLIPSE 40:1"), "an axis has no length"},
		{"angles", header(4) + entities("0:ARC 40:5 50:1e12 51:3"), "out of range"},
		{"one point through", header(4) + entities("0:SPLINE 71:3 11:5 21:5"), "needs two points or more"},
		{"odd weights", header(4) + entities("0:SPLINE 71:1 40:0 40:0 40:1 40:1 10:0 20:0 10:1 20:1 41:1"), "1 weights for 2 control points"},
		{"nameless section", "0:SECTION 0:ENDSEC", "a section has no name"},
		{"degree", header(4) + entities("0:SPLINE 71:11 40:0 10:0 20:0"), "a spline of degree 11 is not read"},
		{"few points", header(4) + entities("0:SPLINE 71:3 40:0 10:0 20:0"), "1 control points are too few"},
		{"few knots", header(4) + entities("0:SPLINE 71:1 40:0 10:0 20:0 10:1 20:1"), "1 knots for 2 control points"},
		{"falling knots", header(4) + entities("0:SPLINE 71:1 40:0 40:1 40:0 40:1 10:0 20:0 10:1 20:1"), "the knots do not rise"},
		{"equal knots", header(4) + entities("0:SPLINE 71:1 40:0 40:0 40:0 40:0 10:0 20:0 10:1 20:1"), "no length"},
		{"weights", header(4) + entities("0:SPLINE 71:1 40:0 40:0 40:1 40:1 10:0 20:0 10:1 20:1 41:1 41:-1"), "the weight -1 is not above 0"},
		{"cyclic blocks", header(4) + "0:SECTION 2:BLOCKS 0:BLOCK 2:A 0:INSERT 2:B 0:ENDBLK 0:BLOCK 2:B 0:INSERT 2:A 0:ENDBLK 0:ENDSEC " + entities("0:INSERT 2:A"), `the block "A" holds itself`},
		{"doubling blocks", header(4) + doubling + "0:ENDSEC " + entities("0:INSERT 2:B39"), "more than"},
		{"deep blocks", header(4) + deep + "0:ENDSEC " + entities("0:INSERT 2:B79"), "nested more than 64 deep"},
		{"huge grid", header(4) + "0:SECTION 2:BLOCKS 0:BLOCK 2:A 0:LINE 11:1 0:ENDBLK 0:ENDSEC " + entities("0:INSERT 2:A 70:30000 71:30000"), "is too much"},
		{"too many vertices", header(4) + entities("0:LWPOLYLINE 70:1 "+long), "more than 100000 nodes"},
		{"nothing closed", header(4) + entities("0:LINE 10:0 20:0 11:5 21:5"), "none of its 1 lines is closed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := Read(context.Background(), "test.dxf", strings.NewReader(dxf(c.pairs)), Options{})
			if err == nil {
				_, _, err = d.Outlines(draft.CutDrawn)
			}
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v\nwant %s", err, c.want)
			}
		})
	}
	for name, c := range map[string]struct{ file, want string }{
		"binary": {"Any Binary DXF\r\n\x1a\x00", "this is a binary DXF"},
		"zeros":  {"0\x00\x00", "it holds binary data"},
	} {
		if _, err := Read(context.Background(), "x.dxf", strings.NewReader(c.file), Options{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	groups := strings.NewReader("0\nSECTION\n2\nENTITIES\n0\nLINE\n" + strings.Repeat("1\n\n", maxGroups+1))
	if _, err := Read(context.Background(), "x.dxf", groups, Options{UnitMM: 1}); err == nil || !strings.Contains(err.Error(), "more than 3000000 groups and entities") {
		t.Error(err)
	}
}

// Hostile files whose single parts are small: what costs time or memory is how
// often they stand there or are drawn. Each gives its answer within seconds.
func TestDXFHostileNumbers(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	name := strings.Repeat(`\U+0041`, 585)
	section := func(s string) string { return "0\nSECTION\n2\nENTITIES\n" + s + "0\nENDSEC\n0\nEOF\n" }
	block := func(s string) string { return "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nB\n" + s + "0\nENDBLK\n0\nENDSEC\n" }
	for _, c := range []struct{ name, file, want string }{
		{"entities without groups", section(strings.Repeat("0\nX\n", 700_000)), "more than 3000000 groups and entities"},
		{"vertices without groups", section("0\nPOLYLINE\n" + strings.Repeat("0\nVERTEX\n", 700_000)), "more than 3000000 groups and entities"},
		{"grids of an empty block", block("") + section(strings.Repeat("0\nINSERT\n2\nB\n70\n10000\n", 100_000)), "more than 200000 entities"},
		{"inserts of a long layer name", block("0\nLINE\n8\n"+name+"\n11\n1\n") + section(strings.Repeat("0\nINSERT\n2\nB\n", 60_000)), "none of its"},
		{"inserts of a long text", block("0\nTEXT\n1\n"+strings.Repeat("a", 1<<20)+"\n") + section(strings.Repeat("0\nINSERT\n2\nB\n", 60_000)), "no closed outline"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := Read(context.Background(), "x.dxf", strings.NewReader(c.file), Options{UnitMM: 1})
			if err == nil {
				_, _, err = d.Outlines(draft.CutDrawn)
			}
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %s", err, c.want)
			}
		})
	}
}

// A name is decoded once: what its escapes give is no escape.
func TestDXFEscapes(t *testing.T) {
	for in, want := range map[string]string{
		`\U+00C4rmel`: "Ärmel", `a\U+0042`: "aB", `\U+005CU+0041`: `\U+0041`, `\U+00`: `\U+00`, `\U+zzzz`: `\U+zzzz`, `\U+zz\U+0041`: `\U+zzA`,
	} {
		if got := plainWord(in); got != want {
			t.Errorf("%s: got %q, want %q", in, got, want)
		}
	}
}

// A unit that is given goes before the one that the file states, and is told where
// they differ.
func TestGivenUnitAgainstTheFile(t *testing.T) {
	for _, c := range []struct {
		name, file string
		given      float64
		told       bool
	}{
		{"inches read as mm", dxf(header(1) + entities(triangle)), 1, true},
		{"mm read as mm", dxf(header(4) + entities(triangle)), 1, false},
		{"silent", dxf(entities(triangle)), 25.4, false},
		{"a page in mm", `<svg width="210mm" height="297mm" viewBox="0 0 793.7 1122.5">` + square + `</svg>`, 1, true},
		{"a page in px", `<svg width="210" height="297" viewBox="0 0 210 297">` + square + `</svg>`, 1, false},
		{"a page true to size", `<svg width="210mm" height="297mm" viewBox="0 0 210 297">` + square + `</svg>`, 1, false},
	} {
		d := read(t, c.file, Options{UnitMM: c.given})
		if told := len(d.Warnings) == 1 && strings.Contains(d.Warnings[0].Says, "as told"); told != c.told || d.Scale.MM != c.given {
			t.Errorf("%s: one unit is %g mm, and %v", c.name, d.Scale.MM, d.Warnings)
		}
	}
}

// Texts of any length and blocks of any number of texts are read in one pass.
func TestDXFLongTexts(t *testing.T) {
	escapes := strings.Repeat(`\U+0041`, 1_000_000)
	texts := strings.Repeat("0:TEXT 1:x:y ", 20_000)
	inserts := strings.Repeat("0:INSERT 2:B ", 3)
	d := readPairs(t, header(4)+"0:SECTION 2:BLOCKS 0:BLOCK 2:B "+texts+triangle+"0:ENDBLK 0:ENDSEC "+entities(inserts+"0:TEXT 1:"+escapes), Options{})
	if len(d.Shapes) != 3 || len(d.Texts) != 1 || d.Texts[0].Says != strings.Repeat("A", maxName) {
		t.Errorf("%d shapes, %d texts", len(d.Shapes), len(d.Texts))
	}
}

func TestDXFLineEnds(t *testing.T) {
	text := dxf(header(4) + entities("0:TEXT 8:1 10:1 20:1 1:\xc4rmel "+triangle))
	for name, s := range map[string]string{"LF": text, "CRLF": strings.ReplaceAll(text, "\n", "\r\n"), "CR": strings.ReplaceAll(text, "\n", "\r"), "indented": strings.ReplaceAll(text, "\n10\n", "\n 10\n")} {
		d := read(t, s, Options{})
		if len(d.Shapes) != 1 || d.Texts[0].Says != "Ärmel" || !d.Texts[0].At.Near(geom.Pt(1, 1), 0) {
			t.Errorf("%s: %+v", name, d)
		}
	}
}

func FuzzDXF(f *testing.F) {
	for _, s := range []string{
		header(4) + entities(triangle),
		header(1) + entities("0:ARC 10:0 20:0 40:10 50:0 51:180 0:LINE 10:10 20:0 11:-10 21:0 0:ELLIPSE 10:1 11:5 40:0.5"),
		header(4) + "0:SECTION 2:BLOCKS 0:BLOCK 2:A 10:5 " + triangle + " 0:ENDBLK 0:ENDSEC " + entities("0:INSERT 2:A 41:2 42:-1 50:30 70:2 71:2 44:9 45:9"),
		header(4) + entities("0:SPLINE 71:2 40:0 40:0 40:0 40:1 40:1 40:1 10:0 20:0 10:1 20:1 10:2 20:0 41:1 41:2 41:1"),
		header(4) + entities("0:SPLINE 71:3 11:0 21:0 11:1 21:1 11:2 21:0 12:1 22:0"),
		header(4) + entities("0:POLYLINE 70:1 0:VERTEX 10:0 20:0 42:1 0:VERTEX 10:5 20:0 0:SEQEND"),
	} {
		f.Add([]byte(dxf(s)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 20_000 {
			return
		}
		d := &Drawing{Name: "fuzz", Format: DXF}
		if err := readDXF(context.Background(), d, data, Options{UnitMM: 1}); err == nil {
			soundDrawing(t, d)
		}
	})
}

func FuzzSVG(f *testing.F) {
	for _, s := range []string{
		page(square), page(`<g transform="rotate(30) scale(2 1)"><use href="#sq" x="3"/></g><defs>` + square + `</defs>`),
		page(`<symbol id="s" viewBox="0 0 1 1"><circle r="1"/></symbol><use href="#s" width="50%" height="9"/>`),
		page(`<rect width="5" height="9" rx="1"/><ellipse rx="3"/><polygon points="0,0 1,1 2,0"/><style>.a{display:none}</style><path class="a" d="M0 0h1v1z"/>`),
		laughs, `<svg viewBox="0 0 1 1" preserveAspectRatio="xMaxYMax slice" width="3in" height="2cm"><text x="1">a<tspan>b</tspan></text></svg>`,
		page(`<g class="piece" data-name="A"><path class="cut" d="M0 0h9v9z"/></g>`),
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 20_000 {
			return
		}
		d := &Drawing{Name: "fuzz"}
		if err := readSVG(context.Background(), d, data, Options{}); err == nil {
			soundDrawing(t, d)
		}
	})
}

// soundDrawing checks what holds for whatever was read without an error.
func soundDrawing(t *testing.T, d *Drawing) {
	for _, s := range d.Shapes {
		if err := inBounds(s.Path); err != nil {
			t.Fatal(err)
		}
		for i, g := range s.Path {
			if i > 0 && s.Path[i-1].P3 != g.P0 {
				t.Fatalf("the chain is broken in %v", s.Path)
			}
		}
		if s.Closed && !s.Path.Closed() {
			t.Fatalf("closed, but its ends are apart: %v", s.Path)
		}
	}
	for _, line := range []draft.DrawnLine{draft.CutDrawn, draft.StitchDrawn} {
		outlines, _, err := d.Outlines(line)
		if (err == nil) != (len(outlines) > 0) {
			t.Fatalf("%d outlines and %v", len(outlines), err)
		}
		for _, o := range outlines {
			if !o.Path.Closed() || o.Path.Area() <= 0 || len(o.Corner) != len(o.Path) || o.Name == "" {
				t.Fatalf("not an outline: %+v", o)
			}
		}
	}
}
