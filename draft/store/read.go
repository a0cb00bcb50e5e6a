package store

import (
	"fmt"
	"slices"
	"strconv"

	"hemlet/draft"
	"hemlet/geom"
)

// way is the place of a table in the tree, from the leaf to the root.
type way struct {
	up    *way
	key   string
	index int // -1 where the key holds one table
}

func (w *way) String() string {
	s := w.key
	if w.index >= 0 {
		s += "[" + strconv.Itoa(w.index) + "]"
	}
	if w.up != nil {
		s = w.up.String() + "." + s
	}
	return s
}

// flaw is the first thing that is wrong with a tree, and where.
type flaw struct{ path, says string }

// reader reads fields from a decoded tree. It takes what it reads out of the
// tables: what is left over is unknown.
type reader struct {
	tree  map[string]any
	way   *way
	first *flaw // shared by all readers of a tree; says is empty while all is well
}

// readTree reads a decoded tree by a layout.
func readTree[T any](tree map[string]any, v *T, each layout[T]) *flaw {
	r := &reader{tree: tree, first: &flaw{}}
	each(r, v)
	r.rest()
	if r.first.says != "" {
		return r.first
	}
	return nil
}

func (r *reader) reading() bool { return true }

// fault keeps the first complaint.
func (r *reader) fault(key, says string) {
	if r.first.says != "" {
		return
	}
	path := key
	if r.way != nil {
		path = r.way.String() + "." + key
	}
	*r.first = flaw{path, says}
}

// rest complains about keys that nothing asked for. They are refused, not passed
// over: the next save would drop them, and whoever wrote them would lose them.
func (r *reader) rest() {
	if len(r.tree) == 0 || r.first.says != "" {
		return
	}
	keys := make([]string, 0, len(r.tree))
	for k := range r.tree {
		keys = append(keys, k)
	}
	key := slices.Min(keys)
	r.fault(key, fmt.Sprintf("the key %q is not known here; take it out or put its spelling right", key))
}

// take takes the value of a key out of the table, nil if there is none.
func (r *reader) take(key string) any {
	v, ok := r.tree[key]
	if ok {
		delete(r.tree, key)
	}
	return v
}

func (r *reader) wants(key, what string, got any) {
	r.fault(key, fmt.Sprintf("%s is wanted, and %s stands there", what, kindOf(got)))
}

// kindOf says what a decoded value is.
func kindOf(v any) string {
	switch v.(type) {
	case nil:
		return "nothing"
	case string:
		return "text in quotes"
	case bool:
		return "true or false"
	case int64:
		return "a number"
	case float64:
		return "a number with a point"
	case []any, []map[string]any:
		return "a list"
	case map[string]any:
		return "a table"
	default:
		return "a date or time"
	}
}

func (r *reader) id(key string, v *draft.ID) { r.text(key, (*string)(v)) }

func (r *reader) ids(key string, v *[]draft.ID) { readList(r, key, "ids", "an id", v) }

func (r *reader) texts(key string, v *[]string) { readList(r, key, "texts", "text", v) }

func readList[T ~string](r *reader, key, several, one string, v *[]T) {
	got := r.take(key)
	if got == nil {
		return
	}
	list, ok := got.([]any)
	if !ok {
		r.wants(key, "a list of "+several+" in quotes", got)
		return
	}
	if len(list) == 0 {
		return
	}
	*v = make([]T, len(list))
	for i, x := range list {
		s, ok := x.(string)
		if !ok {
			r.wants(key, one+" in quotes", x)
			return
		}
		(*v)[i] = T(s)
	}
}

func (r *reader) text(key string, v *string) {
	got := r.take(key)
	if got == nil {
		return
	}
	s, ok := got.(string)
	if !ok {
		r.wants(key, "text in quotes", got)
		return
	}
	*v = s
}

func (r *reader) prose(key string, v *string) { r.text(key, v) }

func (r *reader) word(key string, v word) {
	var s string
	if r.text(key, &s); s == "" {
		return
	}
	if err := v.UnmarshalText([]byte(s)); err != nil {
		r.fault(key, err.Error())
	}
}

func (r *reader) flag(key string, v *bool) {
	got := r.take(key)
	if got == nil {
		return
	}
	b, ok := got.(bool)
	if !ok {
		r.wants(key, "true or false", got)
		return
	}
	*v = b
}

func (r *reader) count(key string, v *int, usual int) {
	*v = usual
	got := r.take(key)
	if got == nil {
		return
	}
	n, ok := got.(int64)
	if !ok || int64(int(n)) != n {
		r.wants(key, "a whole number", got)
		return
	}
	*v = int(n)
}

func (r *reader) number(key string, v *float64, usual float64) {
	*v = usual
	if got := r.take(key); got != nil {
		r.float(key, v, got)
	}
}

func (r *reader) turn(key string, v *float64) {
	r.number(key, v, 0)
	*v = draft.TurnRadians(*v)
}

// float takes a decoded number. Whole ones that float64 cannot hold are far out
// of every bound, so that rounding them does no harm.
func (r *reader) float(key string, v *float64, got any) {
	switch x := got.(type) {
	case float64:
		*v = x
	case int64:
		*v = float64(x)
	default:
		r.wants(key, "a number", got)
	}
}

func (r *reader) place(key string, v *geom.Point) { r.numbers(key, []*float64{&v.X, &v.Y}) }

func (r *reader) vector(key string, v *geom.Point) {
	if _, ok := r.tree[key]; ok {
		r.place(key, v)
	}
}

func (r *reader) maybePlace(key string, v **geom.Point) {
	if _, ok := r.tree[key]; ok {
		*v = new(geom.Point)
		r.place(key, *v)
	}
}

func (r *reader) numbers(key string, v []*float64) {
	got := r.take(key)
	list, ok := got.([]any)
	if !ok {
		r.wants(key, fmt.Sprintf("a list of %d numbers", len(v)), got)
		return
	}
	if len(list) != len(v) {
		r.fault(key, fmt.Sprintf("a list of %d numbers is wanted, and %d stand there", len(v), len(list)))
		return
	}
	for i, x := range list {
		r.float(key, v[i], x)
	}
}

// Rows and tables are two ways to write the same thing, and both are read.

func (r *reader) row(key string, _ bool, grow func(), each func(f fields)) {
	r.table(key, false, grow, each)
}

func (r *reader) rows(key string, _ int, grow func(int), each func(int, fields)) {
	r.tables(key, 0, grow, each)
}

func (r *reader) table(key string, _ bool, grow func(), each func(f fields)) {
	got := r.take(key)
	if got == nil {
		return
	}
	tree, ok := got.(map[string]any)
	if !ok {
		r.wants(key, "a table", got)
		return
	}
	grow()
	r.below(key, -1, tree, each)
}

func (r *reader) tables(key string, _ int, grow func(int), each func(int, fields)) {
	var trees []map[string]any
	switch got := r.take(key).(type) {
	case nil:
		return
	case []map[string]any:
		trees = got
	case []any:
		trees = make([]map[string]any, len(got))
		for i, x := range got {
			tree, ok := x.(map[string]any)
			if !ok {
				r.wants(key+"["+strconv.Itoa(i)+"]", "a table", x)
				return
			}
			trees[i] = tree
		}
	default:
		r.wants(key, "a list of tables", got)
		return
	}
	if len(trees) == 0 {
		return
	}
	grow(len(trees))
	for i, tree := range trees {
		if r.first.says != "" {
			return
		}
		r.below(key, i, tree, func(f fields) { each(i, f) })
	}
}

// below reads a table that lies under a key of this one.
func (r *reader) below(key string, index int, tree map[string]any, each func(fields)) {
	sub := &reader{tree, &way{r.way, key, index}, r.first}
	each(sub)
	sub.rest()
}
