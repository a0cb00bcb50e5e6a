package block

import (
	"errors"
	"math"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/google/go-cmp/cmp"

	"hemlet/draft/body"
	"hemlet/draft/formula"
	"hemlet/geom"
)

// whole returns the block that uses every key.
func whole(t testing.TB) *Block {
	t.Helper()
	text, err := os.ReadFile("testdata/whole.toml")
	if err != nil {
		t.Fatal(err)
	}
	b, err := Parse("whole.toml", text)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// parse returns the block of a text that is sound.
func parse(t testing.TB, text string) *Block {
	t.Helper()
	b, err := Parse("test.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func draft(t testing.TB, b *Block, g body.Given, s Settings) *Sheet {
	t.Helper()
	sheet, err := b.Draft(g, s)
	if err != nil {
		t.Fatal(err)
	}
	return sheet
}

// The fixture uses every key of the vocabulary, so that each was read.
func TestWholeUsesEveryKey(t *testing.T) {
	var tree map[string]any
	if _, err := toml.DecodeFile("testdata/whole.toml", &tree); err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	var walk func(heading string, table map[string]any)
	walk = func(heading string, table map[string]any) {
		for key, v := range table {
			used[heading+" "+key] = true
			if list, ok := v.([]map[string]any); ok {
				for _, sub := range list {
					walk(strings.TrimPrefix(heading+"."+key, "."), sub)
				}
			}
		}
	}
	walk("", tree)
	for _, s := range Vocabulary() {
		for _, k := range s.Keys {
			heading := strings.Trim(s.Heading, "[]")
			// when is one key of four tables; one of them will do.
			if !used[heading+" "+k.Name] && k.Name != "when" {
				t.Errorf("the fixture does not use %s of %s", k.Name, s.Heading)
			}
		}
	}
	if !used["pieces.lines when"] {
		t.Error("the fixture does not use when")
	}
}

func TestDraftWhole(t *testing.T) {
	b := whole(t)
	s := draft(t, b, body.Given{"waist_girth": 400}, Settings{WornUnder: formula.Length{MM: 1}})
	want := []Used{
		{Name: "waist_girth", Value: 400},
		{Name: "hip_girth", Value: 480, Estimated: true, By: "1.2*waist_girth"},
		{Name: "spine_length", Value: 200, Estimated: true, By: "0.5*waist_girth"},
	}
	if diff := cmp.Diff(want, s.Measures); diff != "" {
		t.Error(diff)
	}
	// ease = 0.05*400 + 6*1, quarter = (400 + 26)/4, dart = 80/8 - 4.
	if got := s.Choices[0].Value; got != formula.Value(formula.Length{MM: 26}) {
		t.Errorf("ease %v", got)
	}
	front := s.Pieces[0]
	waist := front.Edges[2]
	if diff := cmp.Diff([]Node{
		{Name: "waist.waist_side", At: geom.Pt(112.5, 0), In: waist.Nodes[0].In},
		{Name: "waist.dart_b", At: geom.Pt(59.25, 0)},
		{Name: "waist.dart_a", At: geom.Pt(53.25, 0)},
	}, waist.Nodes); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]Dart{{"waist dart", "waist", "waist.dart_b", "waist.dart_a", geom.Pt(56.25, -90), "to end"}}, front.Darts); diff != "" {
		t.Error(diff)
	}
	if e := front.Edges[0]; e.Start != 15 || e.End != 10 || e.Kind != "hem" || e.Nodes[0].Name != "hem.hem_cf" {
		t.Errorf("hem %+v", e)
	}
	if e := front.Edges[1]; e.Start != 6 || e.End != 6 || e.TrimTo != 4 || e.Nodes[0].Name != "side.side.start" {
		t.Errorf("side %+v", e)
	}
	if e := front.Edges[3]; e.Start != 0 || e.Kind != "fold" {
		t.Errorf("centre %+v", e)
	}
	if diff := cmp.Diff([]Span{
		{Name: "waist", Measure: "waist_girth", Share: 0.25, Ease: 6.5, Edges: []string{"waist"}},
		{Name: "length", Measure: "spine_length", Share: 1, From: "centre.cf", To: "hem.hem_cf", Way: "along grain"},
		{Name: "round the pocket", Measure: "spine_length", Share: 0.2, Lines: []string{"pocket"}},
	}, front.Spans); diff != "" {
		t.Error(diff)
	}
	if front.Grain == nil || front.LabelAt == nil || front.Note != "Mark the dart." || len(front.Lines) != 1 || !front.Lines[0].Closed {
		t.Errorf("front %+v", front)
	}
	if diff := cmp.Diff(Seam{
		Name:  "ruffle to hem",
		A:     []Use{{Piece: "ruffle", Edge: "top", Number: 1}, {Piece: "ruffle", Edge: "top", Number: 1, Mirrored: true, Reversed: true}},
		B:     []Use{{Piece: "front", Edge: "hem", Number: 1, Far: true}, {Piece: "front", Edge: "hem", Number: 1, Reversed: true}},
		Ratio: 1.5, Fuller: "a", Fullness: "gathers", From: 0.05, To: 0.95,
	}, s.Seams[0]); diff != "" {
		t.Error(diff)
	}
}

// A piece that is listed clockwise comes out counter-clockwise, with all that was
// said of its edges turned with them.
func TestClockwiseIsTurned(t *testing.T) {
	s := draft(t, whole(t), body.Given{"waist_girth": 400}, nil)
	r := s.Pieces[1]
	if area := pathOf(r.Edges).Area(); area <= 0 {
		t.Errorf("area %v", area)
	}
	var names []string
	for _, e := range r.Edges {
		names = append(names, e.Name)
	}
	if diff := cmp.Diff([]string{"left end", "bottom", "right end", "top"}, names); diff != "" {
		t.Error(diff)
	}
	// Listed from the bottom up with 1 mm below and 2 mm above, it runs down.
	if e := r.Edges[0]; e.Nodes[0].At != geom.Pt(0, 40) || e.Start != 2 || e.End != 1 {
		t.Errorf("left end %+v", e)
	}
	if n := r.Notches[0]; !n.FromEnd || n.Name != "notch 1" {
		t.Errorf("notch %+v", n)
	}
	if got, want := r.Notches[0].At, r.Edges[2].Nodes[0].At.X/4; math.Abs(got-want) > 1e-9 {
		t.Errorf("the notch is at %v, not %v", got, want)
	}
}

// A dart whose mouth is closed, and a line that has no length or is not wanted, are
// not there, and the other points keep their names.
func TestWhatHasNoLengthIsNotThere(t *testing.T) {
	s := draft(t, whole(t), body.Given{"waist_girth": 100}, nil)
	front := s.Pieces[0]
	if len(front.Darts) != 0 || len(front.Lines) != 0 || len(front.Spans) != 2 {
		t.Errorf("darts %v, lines %v, spans %v", front.Darts, front.Lines, front.Spans)
	}
	var names []string
	for _, n := range front.Edges[2].Nodes {
		names = append(names, n.Name)
	}
	if diff := cmp.Diff([]string{"waist.waist_side", "waist.dart_b"}, names); diff != "" {
		t.Error(diff)
	}
}

func TestDraftTellsWhatIsMissing(t *testing.T) {
	b := whole(t)
	for _, c := range []struct {
		g    body.Given
		s    Settings
		want string
	}{
		{body.Given{}, nil, "the block Everything needs "},
		{body.Given{"hip_girth": 90}, nil, "(waist_girth); measure and draft again"},
		{body.Given{"waist_girth": -1}, nil, "waist_girth: this measure is -1 mm; a measure is above 0 and at most 100 m"},
		{body.Given{"waist_girth": math.NaN()}, nil, "waist_girth: this measure is NaN mm"},
		{body.Given{"waist_girth": 400, "wrist_girth": 1e6, "stature": math.Inf(1)}, nil, "stature: this measure is +Inf mm"},
		{body.Given{"waist_girth": 400, "antler_girth": -1, "spine_length": 9}, nil, "It is too short"},
		{body.Given{"waist_girth": 400}, mm(map[string]float64{"easy": 3}), "easy: the block Everything has no choice of this name; its choices are ease, fullness and allowance"},
		{body.Given{"waist_girth": 400}, mm(map[string]float64{"fullness": 3}), "fullness: the choice fullness is a number"},
		{body.Given{"waist_girth": 400}, Settings{"ease": 3.0}, "ease: the choice ease is a length"},
		{body.Given{"waist_girth": 400}, mm(map[string]float64{"ease": math.Inf(1)}), "ease: the choice ease is a length"},
		{body.Given{"waist_girth": 400}, mm(map[string]float64{WornUnder: -1}), "worn_under: what is worn under must be a length from 0 to 100 m"},
		{body.Given{"waist_girth": 400}, mm(map[string]float64{"allowance": -1}), "whole.toml line 122: pieces.front.edges.side: “allowance”: this width is -1 mm, and an allowance is 0 or more (here allowance is -1 mm)"},
		{body.Given{"waist_girth": 400, "spine_length": 9}, nil, "It is too short (look at spine_length)"},
	} {
		_, err := b.Draft(c.g, c.s)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v %v:\n got %v\nwant %s", c.g, c.s, err, c.want)
		}
	}
	var missing *MissingError
	if _, err := b.Draft(nil, nil); !errors.As(err, &missing) || len(missing.Measures) != 1 || missing.Measures[0] != "waist_girth" {
		t.Errorf("missing: %v", missing)
	}
	var stop *StopError
	if _, err := b.Draft(body.Given{"waist_girth": 400, "spine_length": 9}, nil); !errors.As(err, &stop) || stop.Told.Name != "deep enough" || stop.Line == 0 {
		t.Errorf("stop: %+v", stop)
	}
}

// What fails for one body names the place, the formula and what its names stood for.
func TestDraftTellsWhichFormulaFails(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{`is = "(waist_girth + ease)/4"`, `is = "leg(ease, waist_girth)"`, `test.toml line 16: steps.side: “leg(ease, waist_girth)” at character 1: `},
		{`is = "(waist_girth + ease)/4"`, `is = "leg(ease, waist_girth)"`, `(here ease is 40 mm, waist_girth is 400 mm)`},
		{`path = ["c", "d"]`, `path = ["d", "right(c, side)"]`, `pieces.front: the outline of this piece crosses itself for this body`},
		{`path = ["b"]`, `path = ["left(a, side)"]`, `line 39: pieces.front: the outline of this piece encloses nothing`},
		{`path = ["c", "d"]`, `path = ["below(b, side)", "below(a, side)"]`, `pieces.front: the outline of this piece runs clockwise. If it always does, write clockwise = true in the piece`},
		{`role = "front"`, "role = \"front\"\nclockwise = true", `the outline of this piece runs counter-clockwise. If it always does, take out clockwise = true`},
		{`path = ["c", "d"]`, `path = ["b"]`, `the outline of this piece encloses nothing for this body`},
		{`role = "front"`, "role = \"front\"\ngrain = [\"a\", \"at(0*mm, 0*mm)\"]", `the two ends of the grain line are one point`},
		{"[[seams]]", "[[pieces.darts]]\nname = \"x\"\nedge = \"hem\"\nfrom = \"c\"\nto = \"d\"\napex = \"a\"\n[[seams]]", `pieces.front.darts.x: the mouth of this dart is no stretch of the edge hem: c and d must stand in the path of the edge, one after the other`},
		{"[[seams]]", "[[pieces.darts]]\nname = \"x\"\nedge = \"top\"\nfrom = \"c\"\nto = \"d\"\napex = \"a\"\n[[pieces.darts]]\nname = \"y\"\nedge = \"top\"\nfrom = \"d\"\nto = \"c\"\napex = \"a\"\n[[seams]]", `pieces.front.darts.y: another dart has its mouth there`},
		{"[[seams]]", "[[pieces.notches]]\nedge = \"hem\"\nat = \"c\"\n[[seams]]", `this point lies 110 mm off the edge hem, and a notch lies on it (here c is (110, 110) mm)`},
		{"[[seams]]", "[[pieces.spans]]\nname = \"x\"\nmeasure = \"hip_girth\"\nfrom = \"a\"\nto = \"between(b, c, 0.5)\"\n[[seams]]", `the piece has no point here; a span runs between points that stand in the paths of its edges and lines`},
		{"[[seams]]", "[[pieces.spans]]\nname = \"x\"\nmeasure = \"hip_girth\"\nshare = \"-1\"\nedges = [\"hem\"]\n[[seams]]", `“-1”: this is -1, and it must be above 0 and at most 1000`},
		{`path = ["b"]`, "path = [\"b\"]\nallowance = \"ease - 50*mm\"", `pieces.front.edges.side.allowance: “ease - 50*mm”: this width is -10 mm, and an allowance is 0 or more`},
		{`default = "0.1*waist_girth"`, "default = \"0.1*waist_girth\"\nleast = \"50*mm\"\nmost = \"0.1*waist_girth\"", `choices.ease.most: “0.1*waist_girth”: the most, 40 mm, is below the least, 50 mm (here waist_girth is 400 mm)`},
		{`name = "closing"`, "name = \"closing\"\nratio = 0", `seams.closing.ratio: “0”: this is 0, and it must be from 0.001 to 1000`},
		{`name = "closing"`, "name = \"closing\"\nfull_from = 0.7\nfull_to = 0.2", `seams.closing: the fullness of this seam starts at 0.7 and ends at 0.2 of it`},
		{"[[seams]]", "[[pieces.lines]]\nname = \"x\"\npath = [\"a\", \"c\"]\nwhen = \"side > 0*mm\"\n[[pieces.lines]]\nname = \"x\"\npath = [\"a\", \"c\"]\nwhen = \"side > 1*mm\"\n[[seams]]", `there are two of the name "x" for this body; let one be there only when the other is not`},
		{`holds = "side > 20*mm"`, `holds = "leg(ease, side) > 20*mm"`, `checks.wide enough.holds`},
	} {
		b, err := Parse("test.toml", []byte(with(t, c.old, c.new)))
		if err != nil {
			t.Errorf("%q: %v", c.new, err)
			continue
		}
		_, err = b.Draft(body.Given{"waist_girth": 400}, nil)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q:\n got %v\nwant %s", c.new, err, c.want)
		}
	}
}

// A choice beyond its bounds is drafted at the bound, and only one that was made is
// told of.
func TestChoicesAreBounded(t *testing.T) {
	b := parse(t, with(t, `default = "0.1*waist_girth"`, "default = \"0.1*waist_girth\"\nleast = \"10*mm\"\nmost = \"50*mm\""))
	for _, c := range []struct {
		waist, set, want float64
		told             string
	}{
		{400, 0, 40, ""}, {50, 0, 10, ""}, {900, 0, 50, ""}, {400, 20, 20, ""},
		{400, 60, 50, "ease: 60 mm is more than this body allows; it is drafted with 50 mm."},
		{400, 1, 10, "ease: 1 mm is less than this body allows; it is drafted with 10 mm."},
		{400, 50.0000001, 50, ""}, // rounding is no news
	} {
		var s Settings
		if c.set != 0 {
			s = mm(map[string]float64{"ease": c.set})
		}
		sheet := draft(t, b, body.Given{"waist_girth": c.waist}, s)
		got := sheet.Choices[0]
		if got.Value != formula.Value(formula.Length{MM: c.want}) || got.Default != (c.set == 0) {
			t.Errorf("%+v: %+v", c, got)
		}
		if got.Least != formula.Value(formula.Length{MM: 10}) || got.Most != formula.Value(formula.Length{MM: 50}) {
			t.Errorf("bounds %v %v", got.Least, got.Most)
		}
		var told string
		for _, x := range sheet.Told {
			if x.Name == "ease" {
				told = x.Says
			}
		}
		if told != c.told {
			t.Errorf("told %q, not %q", told, c.told)
		}
	}
}

// A fold is one straight line that never turns back.
func TestFoldIsStraight(t *testing.T) {
	for _, c := range []struct{ fold, want string }{
		{`"d"`, ""},
		{`"d", "between(d, a, 0.3)", "between(d, a, 0.6)"`, ""},
		{`"d", "right(between(d, a, 0.5), 1*mm)"`, "pieces.front.edges.fold: the fold of this piece is not straight"},
		{`"d", "between(d, a, 0.6)", "between(d, a, 0.3)"`, "the fold of this piece is not straight"},
		{`"bend(d, 0*degree, a, 180*degree, 20*mm, 20*mm)"`, "the fold of this piece is not straight"},
		{`"a"`, "pieces.front: the fold of this piece has no length for this body"},
	} {
		text := strings.Replace(with(t, `path = ["c", "d"]`, "path = [\"c\"]\n[[pieces.edges]]\nname = \"fold\"\nkind = \"fold\"\npath = ["+c.fold+"]"), `role = "front"`, "role = \"front\"\ncut = \"on fold\"", 1)
		_, err := parse(t, text).Draft(body.Given{"waist_girth": 400}, nil)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v", c.fold, err)
		}
	}
}

// A dart is pressed the same way, whichever way round its piece was listed.
func TestPressOfAClockwisePiece(t *testing.T) {
	const dart = "[[pieces.darts]]\nname = \"d\"\nedge = \"top\"\nfrom = \"between(c, d, 0.4)\"\nto = \"between(c, d, 0.6)\"\napex = \"between(a, c, 0.5)\"\npress = \"to end\"\n"
	there := strings.Replace(with(t, `path = ["c", "d"]`, "path = [\"c\", \"between(c, d, 0.4)\", \"between(c, d, 0.6)\", \"d\"]"), "[[seams]]", dart+"[[seams]]", 1)
	back := strings.NewReplacer(
		"role = \"front\"", "role = \"front\"\nclockwise = true",
		`path = ["a"]`, `path = ["b"]`, `path = ["b"]`, `path = ["c"]`,
		`path = ["c", "between(c, d, 0.4)", "between(c, d, 0.6)", "d"]`, `path = ["a", "d", "between(c, d, 0.6)", "between(c, d, 0.4)"]`,
	).Replace(there)
	// The edges in their order: top, side, hem.
	at := func(s, name string) int { return strings.Index(s, "[[pieces.edges]]\nname = \""+name+"\"") }
	hem, side, top, rest := at(back, "hem"), at(back, "side"), at(back, "top"), strings.Index(back, "[[pieces.darts]]")
	back = back[:hem] + back[top:rest] + back[side:top] + back[hem:side] + back[rest:]
	for text, want := range map[string]string{there: "to end", back: "to start"} {
		s := draft(t, parse(t, text), body.Given{"waist_girth": 400}, nil)
		if got := s.Pieces[0].Darts[0].Press; got != want {
			t.Errorf("pressed %q, not %q", got, want)
		}
	}
}

// Checks that do not hold are told at their level.
func TestChecksAreTold(t *testing.T) {
	s := draft(t, parse(t, square), body.Given{"waist_girth": 40}, nil)
	if diff := cmp.Diff([]Told{{Name: "wide enough", Level: "problem", Says: "It is narrow."}}, s.Told); diff != "" {
		t.Error(diff)
	}
}

// Guards stop the draft before the formula that would fail without them.
func TestGuardComesBeforeTheFormulaThatFails(t *testing.T) {
	text := with(t, "says = \"It is narrow.\"", "says = \"It is narrow.\"\nguard = true")
	text = strings.Replace(text, `is = "right(a, side)"`, `is = "right(a, leg(side, 20*mm))"`, 1)
	_, err := parse(t, text).Draft(body.Given{"waist_girth": 40}, nil)
	var stop *StopError
	if !errors.As(err, &stop) {
		t.Errorf("%v", err)
	}
}

// A cutout that encloses nothing for a body is left out and told.
func TestCutoutOfNothing(t *testing.T) {
	text := with(t, "[[seams]]", "[[pieces.lines]]\nname = \"pocket\"\nkind = \"cutout\"\npath = [\"a\", \"b\", \"above(b, max(0*mm, side - 60*mm))\"]\n[[seams]]")
	for waist, told := range map[float64]int{400: 0, 200: 1} {
		s := draft(t, parse(t, text), body.Given{"waist_girth": waist}, nil)
		if len(s.Told) != told || len(s.Pieces[0].Lines) != 1-told {
			t.Errorf("waist %v: %v, %v", waist, s.Told, s.Pieces[0].Lines)
		}
	}
}

// A notch that would lie off its edge is left out and told.
func TestNotchOffItsEdge(t *testing.T) {
	b := parse(t, with(t, "[[seams]]", "[[pieces.notches]]\nname = \"n\"\nedge = \"hem\"\nat = \"200*mm\"\n[[seams]]"))
	s := draft(t, b, body.Given{"waist_girth": 400}, nil)
	if len(s.Pieces[0].Notches) != 0 || len(s.Told) != 1 || s.Told[0].Says != "A notch of front, “n”, would lie off its edge hem, which is 110 mm long, and is left out." {
		t.Errorf("%+v", s.Told)
	}
}

// The same body and settings make the same sheet, from any number of goroutines.
func TestDraftIsDeterministicAndConcurrent(t *testing.T) {
	b := whole(t)
	g := body.Given{"waist_girth": 400}
	want := draft(t, b, g, nil)
	var group sync.WaitGroup
	for range 8 {
		group.Add(1)
		go func() {
			defer group.Done()
			for range 20 {
				got, err := b.Draft(g, nil)
				if err != nil {
					t.Error(err)
					return
				}
				if diff := cmp.Diff(want, got); diff != "" {
					t.Error(diff)
					return
				}
			}
		}()
	}
	group.Wait()
	again, err := Parse("whole.toml", []byte(b.Text()))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, draft(t, again, g, nil)); diff != "" {
		t.Error(diff)
	}
}

// While a block is being written it has no pieces; its construction is there.
func TestBlockWithoutPieces(t *testing.T) {
	text, _, _ := strings.Cut(square, "[[pieces]]")
	s := draft(t, parse(t, text), body.Given{"waist_girth": 400}, nil)
	if len(s.Pieces) != 0 || len(s.Steps) != 5 {
		t.Errorf("%d pieces, %d steps", len(s.Pieces), len(s.Steps))
	}
}
