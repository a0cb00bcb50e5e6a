package block

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
	"unicode"
)

// place is where something stands in the file: by number, to find its line, and by
// name, to be read.
type place struct{ path, key string }

// under returns the place of a key of the table at p.
func (p place) under(key string) place {
	if p.path == "" {
		return place{key, key}
	}
	return place{p.path + "." + key, p.key + "." + key}
}

// item returns the place of item i of the list at p.
func (p place) item(i int) place {
	at := "[" + strconv.Itoa(i) + "]"
	return place{p.path + at, p.key + at}
}

// table reads one table of a decoded file. The first thing that is wrong is kept by
// the parser; after it everything reads as empty.
type table struct {
	p *parser
	place
	keys   *Section
	values map[string]any
}

// open checks the keys of a table against those that may stand in it.
func (p *parser) open(at place, s *Section, values map[string]any) *table {
	t := &table{p, at, s, values}
	strangers := make([]string, 0)
	for key := range values {
		if s.key(key) == nil {
			strangers = append(strangers, key)
		}
	}
	if len(strangers) > 0 {
		sort.Strings(strangers)
		stranger := at.under(strangers[0])
		if _, isList := values[strangers[0]].([]map[string]any); isList {
			stranger.path += "[0]" // where the first of them is opened
		}
		p.failf(stranger, "the key %s is not known %s%s%s; the keys there are %s", cut(strangers[0], maxName), s.where(), elsewhere(strangers[0], s), nearKey(strangers[0], s), and(s.names()))
	}
	for _, k := range s.Keys {
		if _, there := values[k.Name]; k.Needed && !there {
			p.failf(at, "%s is missing: %s", k.Name, lower(k.Says))
		}
	}
	return t
}

// lower returns a sentence so that it can stand after a colon.
func lower(s string) string {
	return strings.ToLower(s[:1]) + strings.TrimSuffix(s[1:], ".")
}

// elsewhere says in which other tables a key may stand. A key that comes after the
// heading of another table belongs to that table, which surprises people.
func elsewhere(key string, s *Section) string {
	var tables []string
	for i := range sections {
		other := &sections[i]
		if other.Heading != s.Heading && other.key(key) != nil {
			tables = append(tables, other.where())
		}
	}
	switch {
	case len(tables) == 0 || len(tables) > 2:
		return ""
	case tables[0] == topKeys.where():
		return " but at the top of the file, above the first [[table]]"
	}
	return " but " + or(tables) + ": what stands below a heading belongs to it, so write it higher up"
}

func (s *Section) key(name string) *Key {
	for i := range s.Keys {
		if s.Keys[i].Name == name {
			return &s.Keys[i]
		}
	}
	return nil
}

// where says in which table a key stands.
func (s *Section) where() string {
	if s.Heading == "" {
		return "at the top of a block"
	}
	return "in " + s.Heading
}

func (s *Section) names() []string {
	names := make([]string, len(s.Keys))
	for i, k := range s.Keys {
		names[i] = k.Name
	}
	return names
}

// under returns the place of a key. What a step is goes by the step's own name.
func (t *table) under(key string) place {
	at := t.place.under(key)
	if key == "is" {
		at.key = t.key
	}
	return at
}

// get returns what stands at a key of the section.
func (t *table) get(key string) (any, bool) {
	if t.keys.key(key) == nil {
		panic("block: the key " + key + " is not in the vocabulary")
	}
	v, ok := t.values[key]
	return v, ok && t.p.err == nil
}

// wrong says that something else is wanted at a place.
func (t *table) wrong(at place, wanted string, v any) {
	t.p.failf(at, "%s is wanted here, and %s stands there", wanted, kindOfValue(v))
}

// kindOfValue names what the decoder found.
func kindOfValue(v any) string {
	switch v := v.(type) {
	case string:
		return "text"
	case bool:
		return "true or false"
	case float64:
		if math.IsNaN(v - v) {
			return "no number that can be used"
		}
		return "a number"
	case int64:
		return "a number"
	case []any, []map[string]any:
		return "a list"
	case map[string]any:
		return "a table"
	default:
		return "a date or a time"
	}
}

// line returns a text of one line, empty where there is none.
func (t *table) line(key string, most int) string {
	s := t.text(key, most)
	if strings.ContainsAny(s, "\n\r") {
		t.p.failf(t.under(key), "this must be one line")
	}
	return s
}

// text returns a text without the blanks round it, empty where there is none.
func (t *table) text(key string, most int) string {
	v, ok := t.get(key)
	if !ok {
		return ""
	}
	s, isText := v.(string)
	if !isText {
		t.wrong(t.under(key), "text in quotes", v)
		return ""
	}
	s = strings.TrimSpace(strings.ReplaceAll(s, "\r\n", "\n"))
	switch {
	case len(s) > most:
		t.p.failf(t.under(key), "this is longer than %d bytes", most)
	case strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }):
		t.p.failf(t.under(key), "this holds control characters")
	case s == "" && t.keys.key(key).Needed:
		t.p.failf(t.under(key), "this is empty; it should say: %s", lower(t.keys.key(key).Says))
	}
	return s
}

// name returns a name of something in the block: a letter, then letters, digits,
// blanks, commas, _ and -; empty where there is none.
func (t *table) name(key string) string {
	s := t.line(key, maxName)
	if s != "" && !isName(s) {
		t.p.failf(t.under(key), "%q cannot be a name; a name is a letter followed by letters, digits, blanks, commas, _ and -%s", s, plainLetters(s))
	}
	return s
}

// plainLetters says which letters are meant, where a name has others.
func plainLetters(s string) string {
	if strings.ContainsFunc(s, func(r rune) bool { return r > unicode.MaxASCII && unicode.IsLetter(r) }) {
		return "; letters are a to z, without accents"
	}
	return ""
}

func isName(s string) bool {
	for i := range len(s) {
		c := s[i]
		letter := 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z'
		if !letter && (i == 0 || !('0' <= c && c <= '9' || c == ' ' || c == ',' || c == '_' || c == '-')) {
			return false
		}
	}
	return s != ""
}

func (t *table) flag(key string) bool {
	v, ok := t.get(key)
	if !ok {
		return false
	}
	b, isFlag := v.(bool)
	if !isFlag {
		t.wrong(t.under(key), "true or false, without quotes,", v)
	}
	return b
}

// count returns a whole number from 1 to most, 1 where there is none.
func (t *table) count(key string, most int) int {
	v, ok := t.get(key)
	if !ok {
		return 1
	}
	n, isWhole := v.(int64)
	switch {
	case !isWhole:
		t.wrong(t.under(key), "a whole number", v)
	case n < 1 || n > int64(most):
		t.p.failf(t.under(key), "this must be 1 to %d", most)
	}
	return int(n)
}

// word returns one of the words, the first where nothing stands there.
func (t *table) word(key string, words []string) string {
	if _, ok := t.get(key); !ok {
		return words[0]
	}
	s := t.line(key, maxTitle)
	for _, w := range words {
		if s == w {
			return s
		}
	}
	t.p.failf(t.under(key), "%q is not one of %s", s, or(words))
	return words[0]
}

// or joins words as a sentence does: "a, b or c".
func or(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// list returns the tables of a list, each with its place, which goes by the name
// under nameKey where there is one.
func (t *table) list(key, nameKey string, s *Section, most int) []*table {
	v, ok := t.get(key)
	if !ok {
		return nil
	}
	var items []map[string]any
	switch v := v.(type) {
	case []map[string]any:
		items = v
	case []any:
		for _, x := range v {
			m, isTable := x.(map[string]any)
			if !isTable {
				t.wrong(t.under(key), s.Heading, x)
				return nil
			}
			items = append(items, m)
		}
	default:
		t.p.failf(t.under(key), "write %s, with two brackets, for each of the %s", s.Heading, key)
		return nil
	}
	if len(items) > most {
		t.p.failf(t.under(key), "there are %d of these; at most %d fit", len(items), most)
		return nil
	}
	out := make([]*table, 0, len(items))
	for i, m := range items {
		at := t.under(key).item(i)
		if name, isText := m[nameKey].(string); isText && isName(name) && len(name) <= maxName {
			at.key = t.under(key).key + "." + name
		}
		if out = append(out, t.p.open(at, s, m)); t.p.err != nil {
			return nil
		}
	}
	return out
}

// texts returns the texts of a list, or the only text where no list stands there.
func (t *table) texts(key string, most int) ([]string, []place) {
	v, ok := t.get(key)
	if !ok {
		return nil, nil
	}
	list, isList := v.([]any)
	if !isList {
		list = []any{v}
	}
	if len(list) > most {
		t.p.failf(t.under(key), "there are %d of these; at most %d fit", len(list), most)
		return nil, nil
	}
	var texts []string
	var places []place
	for i, x := range list {
		at := t.under(key)
		if isList {
			at = at.item(i)
		}
		s, isText := x.(string)
		switch n := x.(type) {
		case int64:
			s, isText = strconv.FormatInt(n, 10), true
		case float64:
			s, isText = strconv.FormatFloat(n, 'g', -1, 64), !math.IsNaN(n-n)
		}
		if !isText {
			t.wrong(at, "text in quotes", x)
			return nil, nil
		}
		texts, places = append(texts, strings.TrimSpace(s)), append(places, at)
	}
	return texts, places
}

// failf keeps the first thing that is wrong.
func (p *parser) failf(at place, format string, args ...any) {
	p.fail(&Error{Key: at.key, Says: fmt.Sprintf(format, args...)}, at)
}
