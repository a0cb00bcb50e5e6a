package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft"
)

// sample is a small sound project that the bad inputs are made from.
const sample = `format = 7
name = "Cape"
unit = "mm"
next_id = 20

[[wearers]]
id = "w1"
name = "Quill"
measures = [
  {name = "bust_girth", value_mm = 231},
]

[[pieces]]
id = "p2"
name = "Back"
layer = "shell"
cut = "single"
notches = [
  {id = "t9", edge = "e3", distance_mm = 10, shape = "slit"},
]

[[pieces.edges]]
id = "e3"
name = "neck"
kind = "seam"
corner = "mitre"
allowance_mm = [6, 6]
nodes = [
  {id = "n4", at_mm = [0, 0]},
  {id = "n5", at_mm = [10, 0]},
]

[[pieces.edges]]
id = "e6"
name = "hem"
kind = "hem"
corner = "mitre"
allowance_mm = [10, 10]
nodes = [
  {id = "n7", at_mm = [10, 30]},
]

[[seams]]
id = "s8"
name = "side"
ratio = 1.03
fuller = "a"
fullness = "ease"
a = [
  {piece = "p2", edge = "e3"},
]
b = [
  {piece = "p2", edge = "e6", mirrored = true, reversed = true},
]
`

func TestDecodeRefuses(t *testing.T) {
	if _, err := Decode([]byte(sample)); err != nil {
		t.Fatalf("the sample itself: %v", err)
	}
	with := func(old, new string) string {
		if !strings.Contains(sample, old) {
			t.Fatalf("the sample has no %q", old)
		}
		return strings.Replace(sample, old, new, 1)
	}
	for _, c := range []struct {
		name, text string
		line       int
		says       string
	}{
		{"empty", "", 0, "no Hemlet project"},
		{"some other text", "Dear Sir,\n", 1, "= is wanted"},
		{"no format", with("format = 7\n", ""), 0, "no Hemlet project"},
		{"format in a table", "[a]\nformat = 7\n", 0, "no Hemlet project"},
		{"format 0", with("format = 7", "format = 0"), 0, "no Hemlet project"},
		{"format of text", with("format = 7", `format = "1"`), 0, "no Hemlet project"},
		{"newer", with("format = 7", "format = 8\nglitter = true"), 0, "open it with a newer Hemlet"},
		{"binary", "\x89PNG\r\n\x1a\n\x00\x00", 0, "no text"},
		{"a NUL", with("Cape", "Ca\x00pe"), 0, "no text"},
		{"cut off in a row", sample[:strings.Index(sample, "n5")], 30, "cut off"},
		{"cut off in a table", sample[:strings.Index(sample, "ratio")+5], 46, "= is wanted"},
		{"unknown key", with("cut = ", "hue = \"red\"\ncut = "), 17, `the key "hue" is not known`},
		{"key in the wrong place", with("cut = ", "fuller = \"a\"\ncut = "), 17, `the key "fuller" is not known here`},
		{"known key in other letters", with("name = \"Back\"", "Name = \"Back\""), 15, `"Name" is not known`},
		{"doubled key", with("cut = ", "cut = \"single\"\ncut = "), 18, "already been defined"},
		{"nan", with("[10, 30]", "[nan, 30]"), 40, "within the 100 m"},
		{"infinity", with("[10, 30]", "[10, -inf]"), 40, "within the 100 m"},
		{"out of bounds", with("[10, 30]", "[10, 100000.1]"), 40, "within the 100 m"},
		{"huge whole number", with("[10, 30]", "[10, 9223372036854775807]"), 40, "within the 100 m"},
		{"whole number beyond 64 bits", with("[10, 30]", "[10, 9223372036854775808]"), 40, "out of range"},
		{"huge exponent", with("[10, 30]", "[10, 1e999]"), 40, ""},
		{"three coordinates", with("[10, 30]", "[10, 30, 1]"), 40, "a list of 2 numbers is wanted, and 3"},
		{"text for a number", with("[10, 30]", `[10, "30"]`), 40, "a number is wanted, and text"},
		{"no place", with("at_mm = [10, 30]", "smooth = true"), 40, "a list of 2 numbers is wanted, and nothing"},
		{"number for text", with(`name = "Back"`, "name = 7"), 15, "text in quotes is wanted, and a number"},
		{"date", with(`name = "Back"`, "name = 2026-11-25"), 15, "a date or time"},
		{"table for a list", with("[[seams]]", "[seams]"), 43, "a list of tables is wanted"},
		{"unknown word", with(`kind = "hem"`, `kind = "frill"`), 36, `"frill" is not known; it is one of: seam, hem`},
		{"doubled id", with(`id = "n7"`, `id = "n4"`), 40, "taken by another thing (node) before it"},
		{"no id", with(`id = "p2"`+"\n", ""), 13, "the id is missing"},
		{"blank in an id", with(`id = "p2"`, `id = "p 2"`), 13, "blanks"},
		{"id ahead of the counter", with("next_id = 20", "next_id = 9"), 0, "raise next_id"},
		{"no counter", with("next_id = 20\n", ""), 0, "next_id is 0"},
		{"dangling edge", with(`edge = "e6"`, `edge = "e7"`), 53, `has no edge "e7"`},
		{"dangling piece", with(`{piece = "p2", edge = "e6"`, `{piece = "p9", edge = "e6"`), 53, `no piece "p9"`},
		{"edge of a notch", with(`edge = "e3", distance`, `edge = "e1", distance`), 19, `no edge "e1"`},
		{"notch placed twice", with("distance_mm = 10", "distance_mm = 10, share = 0.5"), 19, "either distance_mm or share"},
		{"notch placed nowhere", with("distance_mm = 10, ", ""), 19, "either distance_mm or share"},
		{"missing cloth", with("layer = ", "cloth = \"c9\"\nlayer = "), 13, `no cloth "c9"`},
		{"no node", with("  {id = \"n7\", at_mm = [10, 30]},\n", ""), 33, "has no node"},
		{"ratio 0", with("ratio = 1.03", "ratio = 0"), 43, "ratio is 0"},
		{"negative allowance", with("[6, 6]", "[6, -1]"), 22, "allowance at the end is -1"},
		{"too many copies", with("cut = ", "count = 1000\ncut = "), 13, "1 to 999"},
		{"half a copy", with("cut = ", "count = 1.5\ncut = "), 17, "a whole number is wanted"},
		{"two measures of a name", with("  {name = \"bust_girth\", value_mm = 231},\n", "  {name = \"a\", value_mm = 1},\n  {name = \"a\", value_mm = 2},\n"), 11, "two measures of this name"},
		{"deep lists", with("[10, 30]", strings.Repeat("[", 100)+strings.Repeat("]", 100)), 40, "nested more than 64 deep"},
		{"deep tables", with("[10, 30]", strings.Repeat("{id = ", 100)+"1"+strings.Repeat("}", 100)), 40, "nested more than 64 deep"},
		{"deep key", with("next_id = 20", "id"+strings.Repeat(".id", 100)+" = 1"), 4, "nested more than 64 deep"},
		{"deep heading", sample + "[id" + strings.Repeat(".id", 100) + "]\n", 55, "nested more than 64 deep"},
		{"open quotes", with(`"Back"`, `"Back`), 15, "does not end on its line"},
		{"open long quotes", with(`"Back"`, `"""Back`), 0, "cut off"},
	} {
		p, err := Decode([]byte(c.text))
		var bad *FileError
		if !errors.As(err, &bad) || p != nil {
			t.Errorf("%s: got %v, %v; want a *FileError", c.name, p, err)
			continue
		}
		if (c.line > 0 && bad.Line != c.line) || !strings.Contains(bad.Error(), c.says) || strings.Contains(bad.Error(), "\n") {
			t.Errorf("%s: got line %d, %q; want line %d and %q", c.name, bad.Line, bad.Error(), c.line, c.says)
		}
	}
}

// A message is a line to read, however long the names of a broken file are.
func TestDecodeKeepsItsMessagesShort(t *testing.T) {
	long := strings.Repeat("x", 1<<20)
	for name, text := range map[string]string{
		"name":   strings.Replace(sample, `"Back"`, `"`+long+`"`, 1) + "[[pieces]]\n",
		"edge":   strings.Replace(strings.Replace(sample, `"hem"`, `"`+long+`"`, 1), "[10, 10]", "[10, -1]", 1),
		"colour": sample + "[[cloths]]\nid = \"c11\"\ncolour = \"" + long + "\"\n",
		"key":    sample + long + " = 1\n",
		"id":     strings.Replace(sample, `edge = "e6"`, `edge = "`+long+`"`, 1),
		"toml":   "format = 7\n[a]\n[" + long[:1000] + "]\n[" + long[:1000] + "]\n",
	} {
		if _, err := Decode([]byte(text)); err == nil || len(err.Error()) > 2*longestSays {
			t.Errorf("%s: %.300v", name, err)
		}
	}
}

// Every beginning of a file is refused or, where only whole tables are missing, a
// sound project; never a panic.
func TestDecodeOfTruncatedFiles(t *testing.T) {
	for n := range len(sample) {
		p, err := Decode([]byte(sample[:n]))
		if err == nil && draft.Validate(p) != nil {
			t.Fatalf("the first %d bytes gave an unsound project", n)
		}
	}
}

func TestDecodeSurvivesTwentyMillionBrackets(t *testing.T) {
	const n = 20_000_000
	for _, c := range []struct{ head, unit string }{
		{"format = 7\nname = ", "["},
		{"format = 7\nname = ", "{id="},
		{"format = 7\n[", "id."},
		{"format = 7\n", "id."},
		{"", "["},
	} {
		unit := bytes.Repeat([]byte(c.unit), n/len(c.unit))
		_, err := Decode(append([]byte(c.head), unit...))
		if err == nil || len(err.Error()) > 300 {
			t.Errorf("%q over and over: %.300v", c.unit, err)
		}
	}
	// Brackets in text and in comments are no nesting.
	inside := strings.Repeat("[{", 1000)
	text := strings.Replace(sample, `"Cape"`, `"`+inside+`" # `+inside, 1)
	if _, err := Decode([]byte(text)); err != nil {
		t.Errorf("brackets inside text: %v", err)
	}
}

func TestDecodeBoundsSizeAndNumber(t *testing.T) {
	big := bytes.Repeat([]byte("#"), draft.MaxTextBytes+1)
	if _, err := Decode(big); err == nil || !strings.Contains(err.Error(), "64 MiB") {
		t.Errorf("65 MiB of comment: %v", err)
	}
	keys := []byte("format = 7\n" + strings.Repeat("[[pieces]]\n", maxTables+1))
	if _, err := Decode(keys); err == nil || !strings.Contains(err.Error(), "more keys") {
		t.Errorf("too many tables: %v", err)
	}
	rows := []byte("format = 7\nname = [" + strings.Repeat("{},", maxTables+1) + "]\n")
	if _, err := Decode(rows); err == nil || !strings.Contains(err.Error(), "more keys and values") {
		t.Errorf("too many rows: %v", err)
	}
	flat := []byte("format = 7\n" + strings.Repeat("id = 1\n", maxKeys+1))
	if _, err := Decode(flat); err == nil || !strings.Contains(err.Error(), "more keys and values") {
		t.Errorf("too many keys: %v", err)
	}
	values := []byte("format = 7\nname = [" + strings.Repeat("1,", maxValues+1) + "]\n")
	if _, err := Decode(values); err == nil || !strings.Contains(err.Error(), "more keys and values") {
		t.Errorf("too many values: %v", err)
	}
	nodes := strings.Replace(sample, "  {id = \"n7\"", strings.Repeat("{at_mm=[0,0]},\n", maxNodeKeys+1)+"  {id = \"n7\"", 1)
	if _, err := Decode([]byte(nodes)); err == nil || !strings.Contains(err.Error(), "at most 100000") {
		t.Errorf("too many nodes: %v", err)
	}
}

func TestDecodeTakesWhatEditorsDo(t *testing.T) {
	want, err := Decode([]byte(sample))
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"a byte order mark":     "\xef\xbb\xbf" + sample,
		"ends of lines with CR": strings.ReplaceAll(sample, "\n", "\r\n"),
		"comments":              "# mine\n" + strings.ReplaceAll(sample, "\n\n", " # note \"[{\n\n"),
		"no end of line":        strings.TrimSpace(sample),
	} {
		got, err := Decode([]byte(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

func TestLoadNamesTheFile(t *testing.T) {
	dir := t.TempDir()
	if _, _, err := Load(filepath.Join(dir, "none.hemlet")); err == nil || !errors.Is(err, os.ErrNotExist) || !strings.Contains(err.Error(), "none.hemlet: there is no such file") {
		t.Errorf("a file that is not there: %v", err)
	}
	if _, _, err := Load(dir); err == nil || !strings.Contains(err.Error(), "no plain file") {
		t.Errorf("a folder: %v", err)
	}
	path := filepath.Join(dir, "bad.hemlet")
	if err := os.WriteFile(path, []byte(strings.Replace(sample, "[10, 30]", "[nan, 30]", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	_, _, err := Load(path)
	if want := path + ": line 40: piece Back, edge hem, node n7: "; err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("got %v; want it to start with %q", err, want)
	}
	if err := os.Truncate(path, draft.MaxTextBytes+1); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Load(path); err == nil || !strings.Contains(err.Error(), "larger than 64 MiB") {
		t.Errorf("a large file: %v", err)
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(sample))
	for n := 1; n <= Format; n++ {
		text, err := os.ReadFile(filepath.Join("testdata", "store", fmt.Sprintf("format%d.hemlet", n)))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte("format = 7\nnext_id = 1\n"))
	f.Add([]byte("format = 7\nname = '''a''''\n"))
	f.Add([]byte("format = 7\nname = \"\"\"\\\n  x\"\"\"\"\"\n"))
	f.Add([]byte("format=1\n[[pieces]]\n[pieces.derived]\n[[pieces.derived.base]]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := Decode(text)
		if err != nil {
			var bad *FileError
			if !errors.As(err, &bad) {
				t.Fatalf("%T: %v", err, err)
			}
			return
		}
		again := Encode(p)
		q, err := Decode(again)
		if err != nil {
			t.Fatalf("what was written cannot be read: %v\n%s", err, again)
		}
		if last := Encode(q); !bytes.Equal(again, last) {
			t.Fatalf("written twice it differs:\n%s", cmp.Diff(string(again), string(last)))
		}
	})
}
