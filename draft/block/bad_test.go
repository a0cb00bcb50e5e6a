package block

import (
	"errors"
	"strings"
	"testing"

	"hemlet/draft/body"
)

// square is a small sound block; tests put in what is wrong.
const square = `format = 1
name = "square"
title = "Square"
says = "A square."

[[measures]]
name = "waist_girth"
needed = true

[[choices]]
name = "ease"
default = "0.1*waist_girth"

[[steps]]
name = "side"
is = "(waist_girth + ease)/4"

[[steps]]
name = "a"
is = "at(0*mm, 0*mm)"

[[steps]]
name = "b"
is = "right(a, side)"

[[steps]]
name = "c"
is = "above(b, side)"

[[steps]]
name = "d"
is = "above(a, side)"

[[checks]]
name = "wide enough"
holds = "side > 20*mm"
says = "It is narrow."

[[pieces]]
role = "front"

[[pieces.edges]]
name = "hem"
path = ["a"]

[[pieces.edges]]
name = "side"
path = ["b"]

[[pieces.edges]]
name = "top"
path = ["c", "d"]

[[seams]]
name = "closing"
a = ["front.hem"]
b = ["-front.top"]
`

// with returns the square with one text in the place of another.
func with(t testing.TB, old, new string) string {
	t.Helper()
	if !strings.Contains(square, old) {
		t.Fatalf("the square holds no %q", old)
	}
	return strings.Replace(square, old, new, 1)
}

func TestSquareIsSound(t *testing.T) {
	b, err := Parse("square.toml", []byte(square))
	if err != nil {
		t.Fatal(err)
	}
	s, err := b.Draft(body.Given{"waist_girth": 400}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Pieces[0].Edges[2].Nodes[0].At; got.X != 110 || got.Y != 110 {
		t.Errorf("the corner c is at %v", got)
	}
}

// Every mistake is told with its line, its place by name, the formula, and what to
// do about it.
func TestParseTellsWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"format = 1", "format = 2", `square.toml line 1: format: this Hemlet reads blocks of format 1, and this one is of 2; open it with a newer Hemlet`},
		{"format = 1\n", "", `square.toml: format is missing: the number of the file format`},
		{`name = "square"`, `name = "Square"`, `square.toml line 2: name: "Square" cannot be the name of a block; it is a small letter followed by small letters, digits and -`},
		{`title = "Square"`, `title = 7`, `square.toml line 3: title: text in quotes is wanted here, and a number stands there`},
		{`title = "Square"`, `titel = "Square"`, `square.toml line 3: titel: the key titel is not known at the top of a block; near it is title; the keys there are`},
		{`says = "A square."`, `says = ""`, `square.toml line 4: says: this is empty; it should say: one sentence: what is drafted`},
		{`says = "A square."`, "says = \"A\x01square.\"", `line 4`},
		{`says = "A square."`, `says = A square.`, `; texts and formulas stand in quotes`},
		{`needed = true`, `needed = "true"`, `line 8: measures.waist_girth.needed: true or false, without quotes, is wanted here, and text stands there`},
		{`"waist_girth"`, `"waste_girth"`, `line 6: measures.waste_girth: Hemlet does not know the measure waste_girth. If it is the block's own, say in “words” what it is called and in “how” how it is taken; if not, see the spelling: there is waist_girth`},
		{"needed = true", "words = \"round the waist\"", `measures.waist_girth: Hemlet knows how waist_girth is called and taken; leave out “words” and “how”, or give the measure another name`},
		{"needed = true", "[[measures]]\nname = \"waist_girth\"", `line 9: measures.waist_girth.name: the measure waist_girth is listed twice`},
		{"needed = true", "[[measures]]\nname = \"spine_length\"\nwords = \"along the spines\"", `a measure of the block's own that is not needed must have an estimate`},
		{"needed = true", "estimate = \"3*mm*mm\"", `line 8: measures.waist_girth.estimate: “3*mm*mm”: this makes an area, and a length is wanted here`},
		{`default = "0.1*waist_girth"`, `default = "0.1"` + "\nleast = \"3*mm\"", `line 12: choices.ease.default: “0.1”: this makes a number, and the least, “3*mm”, makes a length; a length has a unit: write 0.1*mm`},
		{`default = "0.1*waist_girth"`, "default = 5\nleast = \"0*mm\"\nmost = \"9*mm\"", `line 12: choices.ease.default: “5”: this makes a number, and the least, “0*mm”, makes a length; a length has a unit: write 5*mm`},
		{`default = "0.1*waist_girth"`, "default = \"2*ease_share\"\nmost = \"9*mm\"\n[[choices]]\nname = \"ease_share\"\ndefault = 1", `line 12: choices.ease.default: “2*ease_share” at character 3: there is no name ease_share here; ease_share is a choice further down, and a formula reads only what stands above it`},
		{`default = "0.1*waist_girth"`, "default = \"5*mm\"\nleast = 1\nmost = 9", `line 12: choices.ease.default: “5*mm”: this makes a length, and the least, “1”, makes a number`},
		{`default = "0.1*waist_girth"`, "default = \"5*mm\"\nleast = 1", `line 13: choices.ease.least: “1”: this makes a number, and the default, “5*mm”, makes a length; a length has a unit: write 1*mm`},
		{`default = "0.1*waist_girth"`, "default = \"5*mm\"\nleast = \"1*mm\"\nmost = 9", `line 14: choices.ease.most: “9”: this makes a number, and the default, “5*mm”, makes a length; a length has a unit: write 9*mm`},
		{`default = "0.1*waist_girth"`, "default = 1\nmost = \"waist_girth\"", `line 12: choices.ease.default: “1”: this makes a number, and the most, “waist_girth”, makes a length`},
		{`default = "0.1*waist_girth"`, `default = "a"`, `line 12: choices.ease.default: “a” at character 1: `},
		{`name = "ease"`, `name = "waist_girth"`, `line 11: choices.waist_girth.name: the name waist_girth is taken`},
		{`name = "side"`, `name = "length"`, `line 15: steps.length.name: length is a function of the formulas and cannot be a name`},
		{`name = "side"`, `name = "2nd"`, `"2nd" cannot be a name`},
		{`is = "(waist_girth + ease)/4"`, `is = "(waist_girth + 10)/4"`, `line 16: steps.side: “(waist_girth + 10)/4” at character 14: `},
		{`is = "(waist_girth + ease)/4"`, `is = "dist(a, d)"`, `there is no name a here; a is a step further down, and a formula reads only what stands above it`},
		{"[[steps]]\nname = \"a\"", "[[step]]\nname = \"a\"", `square.toml line 18: step: the key step is not known at the top of a block; near it is steps; the keys there are`},
		{"[[pieces.edges]]\nname = \"hem\"", "[[pieces.edge]]\nname = \"hem\"", `square.toml line 42: pieces.front.edge: the key edge is not known in [[pieces]] but in`},
		{"[[steps]]\nname = \"side\"", "[steps]\nname = \"side\"", `line 14: write [[steps]], with two brackets, for each of the steps`},
		{`"waist_girth"`, `"hips_girth"`, `see the spelling: there is hip_girth`},
		{`"A square."`, `“A square.”`, `line 4: texts and formulas stand in straight quotes, such as "6*mm"; these are not straight`},
		{`format = 1`, `format = 1,5`, `line 1: decimals are written with a point; write 1.5`},
		{`name = "side"`, `name = "länge"`, `"länge" cannot be a name; a name is a letter followed by letters, digits, blanks, commas, _ and -; letters are a to z, without accents`},
		{`title = "Square"`, "title = \"Square\"\ntitle = \"Box\"", `line 4: the key title stands here for the second time`},
		{`title = "Square"`, "title = \"Squ\xe4re\"", `line 3: a character here is not in UTF-8; save the file as UTF-8`},
		{`title = "Square"`, "title = \"Squ\x00re\"", `line 3: this is no text in UTF-8, as a block is; save the file as UTF-8`},
		{`is = "(waist_girth + ease)/4"`, `is = (waist_girth + ease)/4`, `; texts and formulas stand in quotes`},
		{`is = "(waist_girth + ease)/4"`, `is = ""`, `line 16: steps.side: the formula is empty`},
		{`is = "(waist_girth + ease)/4"`, `is = ["1", "2"]`, `line 16: steps.side: one formula is wanted here, and 2 stand there`},
		{`is = "(waist_girth + ease)/4"`, `is = true`, `line 16: steps.side: text in quotes is wanted here, and true or false stands there`},
		{`is = "(waist_girth + ease)/4"`, ``, `line 14: steps.side: is is missing: what it is: a point,`},
		{`holds = "side > 20*mm"`, `holds = "side"`, `line 36: checks.wide enough.holds: “side”: this makes a length, and a yes or no is wanted here`},
		{`says = "It is narrow."`, `says = "It is narrow."` + "\nlevel = \"bad\"", `checks.wide enough.level: "bad" is not one of problem, look again or note`},
		{`says = "It is narrow."`, `says = "It is narrow."` + "\nmeasures = [\"waist\"]", `checks.wide enough.measures[0]: there is no measure "waist": there is waist_girth`},
		{"[[steps]]\nname = \"a\"", "[steps]\nname = \"a\"", `line 18: write [[steps]], with two brackets, for each of the steps`},
		{`role = "front"`, `role = "front"` + "\ncut = \"on fold\"", `line 39: pieces.front: a piece that is cut on fold needs one edge of kind fold, and this one has 0`},
		{`role = "front"`, `role = "front"` + "\ncut = \"twice\"", `pieces.front.cut: "twice" is not one of single, pairs or on fold`},
		{`role = "front"`, `role = "fr.ont"`, `pieces[0].role: "fr.ont" cannot be a name; a name is a letter followed by letters, digits, blanks, commas, _ and -`},
		{`role = "front"`, `role = "front/"`, `"front/" cannot be a name`},
		{`role = "front"`, `role = "2 fronts"`, `"2 fronts" cannot be a name`},
		{`role = "front"`, `role = "front{"`, `"front{" cannot be a name`},
		{`role = "front"`, `role = "front"` + "\ncount = 1000", `pieces.front.count: this must be 1 to 999`},
		{`role = "front"`, `role = "front"` + "\ncount = 0", `pieces.front.count: this must be 1 to 999`},
		{`role = "front"`, `role = "front"` + "\ncount = 1.5", `pieces.front.count: a whole number is wanted here`},
		{`role = "front"`, `role = "front"` + "\ngrain = [\"a\"]", `pieces.front.grain: a grain line has two ends, and 1 stand here`},
		{`path = ["a"]`, `path = ["a"]` + "\ngrain = [\"a\", \"b\"]", `line 45: pieces.front.edges.hem.grain: the key grain is not known in [[pieces.edges]] but in [[pieces]]: what stands below a heading belongs to it, so write it higher up`},
		{`path = ["a"]`, `path = ["a"]` + "\ngarment = \"Skirt\"", `the key garment is not known in [[pieces.edges]] but at the top of the file, above the first [[table]]`},
		{`path = ["a"]`, `path = []`, `line 44: pieces.front.edges.hem.path: the path is empty; at least the corner at which the edge starts is wanted`},
		{`path = ["a"]`, `path = ["side"]`, `line 44: pieces.front.edges.hem.path[0]: “side”: this makes a length, and a point or a curve is wanted here`},
		{`path = ["a"]`, `path = ["a"]` + "\nallowance = 6", `pieces.front.edges.hem.allowance: “6”: this makes a number, and a length is wanted here; a length has a unit, such as 6*mm`},
		{`path = ["a"]`, `path = ["a"]` + "\nallowance = [\"1*mm\",\n\"2*mm\", \"3*mm\"]", `line 45: pieces.front.edges.hem.allowance: an edge has one width or two, at its start and at its end, and 3 stand here`},
		{`path = ["a"]`, `path = ["a"]` + "\nkind = \"fold\"", `it has an edge of kind fold, and so must be cut on fold`},
		{`path = ["c", "d"]`, "path = [\"c\",\n\"e\"]", `line 53: pieces.front.edges.top.path[1]: “e” at character 1: `},
		{"role = \"front\"", "role = \"front\"\nclockwise = true\n[[pieces.edges]]\nname = \"x\"\npath = \"a\"\ncorner = \"square\"", `a square corner needs an outline that is listed counter-clockwise`},
		{`name = "top"`, `name = "hem"`, `line 51: pieces.front.edges.hem.name: the name "hem" is taken`},
		{"[[seams]]", "[[pieces.darts]]\nname = \"d\"\nedge = \"waist\"\nfrom = \"a\"\nto = \"b\"\napex = \"c\"\n[[seams]]", `line 56: pieces.front.darts.d.edge: the piece front has no edge "waist"; it has hem, side and top`},
		{"[[seams]]", "[[pieces.lines]]\nname = \"top\"\npath = [\"a\", \"b\"]\n[[seams]]", `pieces.front.lines.top.name: the name "top" is taken`},
		{"[[seams]]", "[[pieces.lines]]\nname = \"mark\"\nkind = \"drill\"\npath = [\"a\", \"b\"]\n[[seams]]", `pieces.front.lines.mark.path: a drill mark is one point`},
		{"[[seams]]", "[[pieces.notches]]\nedge = \"top\"\nat = \"a\"\nfrom_end = true\n[[seams]]", `pieces.front.notches[0].from_end: a point lies where it lies; leave out from_end`},
		{"[[seams]]", "[[pieces.spans]]\nname = \"w\"\nmeasure = \"waist_girth\"\n[[seams]]", `pieces.front.spans.w: a span measures edges, or lines, or the way from one point to another: one of the three`},
		{"[[seams]]", "[[pieces.spans]]\nname = \"w\"\nmeasure = \"waist_girth\"\nlines = [\"x\"]\n[[seams]]", `pieces.front.spans.w.lines[0]: the piece front has no line "x"; it has none`},
		{"[[seams]]", "[[pieces.spans]]\nname = \"w\"\nmeasure = \"waist_girth\"\nedges = [\"top\"]\nway = \"along grain\"\n[[seams]]", `pieces.front.spans.w.way: only a span from one point to another has a way`},
		{"[[seams]]", "[[pieces.spans]]\nname = \"w\"\nmeasure = \"waist_girth\"\nway = \"down\"\nedges = [\"top\"]\n[[seams]]", `pieces.front.spans.w.way: "down" is not one of straight, along grain or across grain`},
		{"[[seams]]", "[[pieces.spans]]\nname = \"w\"\nmeasure = \"girth\"\nedges = [\"top\"]\n[[seams]]", `pieces.front.spans.w.measure: there is no measure "girth": there is `},
		{`"front.hem"`, `"back.hem"`, `line 56: seams.closing.a[0]: "back.hem" is no edge: the block has no piece "back"; an edge is “piece.edge”, and the pieces are front`},
		{`"front.hem"`, `"front.waist"`, `line 56: seams.closing.a[0]: the piece front has no edge "waist"; it has hem, side and top`},
		{`"front.hem"`, `"front.hem:left"`, `the piece front has no left copy; only what is cut in pairs has`},
		{`"front.hem"`, `"front.hem:far"`, `the piece front has no far half; only what is cut on fold has`},
		{`"front.hem"`, `"front.hem:2"`, `there is no copy 2 of front; its count is 1`},
		{`"front.hem"`, `"front.hem:up"`, `"up" is not one of left, far or the number of a copy`},
		{`a = ["front.hem"]`, `a = []`, `line 56: seams.closing.a: at least one edge is wanted here`},
		{"[[seams]]", strings.Repeat("[[seams]]\n", maxSeams+1), `seams: there are 401 of these; at most 400 fit`},
		{"needed = true", "needed = true\n[[measures]]\nname = \"worn_under\"\nwords = \"layers\"\nneeded = true", `line 10: measures.worn_under.name: worn_under is how thick in all what is worn under is`},
		{`"(waist_girth + ease)/4"`, `inf`, `line 16: steps.side: text in quotes is wanted here, and no number that can be used stands there`},
		{`"(waist_girth + ease)/4"`, `1e25`, `line 24: steps.b: “right(a, side)” at character 10: d of right is a length, and this is a number`},
		{`title = "Square"`, `title = 1979-05-27`, `text in quotes is wanted here, and a date or a time stands there`},
		{`"(waist_girth + ease)/4"`, `{a = 1}`, `text in quotes is wanted here, and a table stands there`},
		{`"A square."`, strings.Repeat("[", 70), `nested more than 64 deep`},
	} {
		_, err := Parse("square.toml", []byte(with(t, c.old, c.new)))
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q: %v is no *Error", c.new, err)
			continue
		}
		if !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.60q:\n got %s\nwant %s", c.new, err, c.want)
		}
		if strings.Contains(err.Error(), "\n") || e.File != "square.toml" {
			t.Errorf("%q: not one line, or no file: %q", c.new, err)
		}
	}
}

func TestParseRefusesWhatIsNoText(t *testing.T) {
	for _, text := range []string{"", "a\x00", "\xff\xfe", strings.Repeat("#\n", MaxTextBytes), strings.Repeat("a.b = 1\n", 60_000)} {
		if _, err := Parse("x.toml", []byte(text)); err == nil {
			t.Errorf("%.20q was read", text)
		}
	}
}
