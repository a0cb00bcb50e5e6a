package store

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"hemlet/draft"
)

// Format 6 kept with each fit what the body had worn for which the pattern was made, and how
// its block estimates measures: settings called "under o5" and "estimate o5/bust_girth", o5
// being an origin. Since format 7 the origin says so itself, whether or not it is fitted.

// fitSays is what a fit of format 6 says of an origin.
type fitSays struct {
	under     []map[string]any
	estimates []map[string]any
}

// liftOrigins moves what fits say of origins into these. Where two fits say of one origin
// what differs, the second gets an origin of its own, so that both go on as they were.
func liftOrigins(tree map[string]any) error {
	l := &originLift{tree: tree, read: make(map[string]bool), by: make(map[string]string)}
	for _, d := range tablesOf(tree["derivations"]) {
		if d["kind"] == "fit" {
			l.fit(d)
		}
	}
	return nil
}

// originLift is the work on one file.
type originLift struct {
	tree map[string]any
	// read are the origins of which a fit has said something, if only that there is nothing
	// to say; by leads from an origin and what is said of it to the one that says so now.
	read map[string]bool
	by   map[string]string
}

// fit moves what one fit says.
func (l *originLift) fit(d map[string]any) {
	says := make(map[string]*fitSays)
	for _, id := range textsOf(d["inputs"]) {
		if l.origin(id) != nil {
			says[id] = &fitSays{}
		}
	}
	var rest []map[string]any
	for _, s := range tablesOf(d["settings"]) {
		if !moveSetting(s, says) {
			rest = append(rest, s)
		}
	}
	if len(rest) > 0 {
		d["settings"] = rest
	} else {
		delete(d, "settings")
	}
	for _, id := range slices.Sorted(maps.Keys(says)) {
		l.say(d, id, says[id])
	}
}

// moveSetting takes a setting of an origin in, and reports whether it was one. What cannot be
// read stays where it is, for the fit to complain of; what is said of an origin that the fit
// does not read holds for nothing.
func moveSetting(s map[string]any, says map[string]*fitSays) bool {
	name, _ := s["name"].(string)
	value, _ := s["value"].(string)
	if id, ok := strings.CutPrefix(name, "under "); ok {
		mm, err := draft.ParseLength(value)
		if err != nil || !(mm >= 0 && mm <= draft.MaxCoordinate) {
			return false
		}
		if x := says[id]; x != nil && mm > 0 {
			x.under = []map[string]any{{"thickness_mm": mm}}
		}
		return true
	}
	rest, ok := strings.CutPrefix(name, "estimate ")
	id, measure, _ := strings.Cut(rest, "/")
	if !ok || measure == "" || value == "" {
		return false
	}
	if x := says[id]; x != nil {
		x.estimates = append(x.estimates, map[string]any{"measure": measure, "formula": value})
	}
	return true
}

// say puts what a fit says of an origin into it, or into one like it that is made for it.
func (l *originLift) say(d map[string]any, id string, x *fitSays) {
	key := fmt.Sprintf("%q %v %v", id, x.under, x.estimates)
	own, ok := l.by[key]
	switch {
	case ok:
	case !l.read[id]:
		l.read[id], own = true, id
		x.into(l.origin(id))
	default:
		if own, ok = l.like(id, x); !ok {
			return // the reader says what is wrong with the counter
		}
	}
	l.by[key] = own
	if own == id {
		return
	}
	var inputs []any
	for _, in := range textsOf(d["inputs"]) {
		if in == id {
			in = own
		}
		inputs = append(inputs, in)
	}
	d["inputs"] = inputs
	for _, piece := range tablesOf(l.tree["pieces"]) {
		if made, ok := piece["derived"].(map[string]any); ok && piece["origin"] == id && made["derivation"] == d["id"] {
			piece["origin"] = own
		}
	}
}

// like adds an origin like another one, of which something else is said.
func (l *originLift) like(id string, x *fitSays) (string, bool) {
	next, ok := l.tree["next_id"].(int64)
	if !ok || next < 1 || next == math.MaxInt64 {
		return "", false
	}
	o := copyOf(l.origin(id)).(map[string]any)
	delete(o, "under")
	delete(o, "estimates")
	own := fmt.Sprintf("o%d", next)
	o["id"], l.tree["next_id"] = own, next+1
	x.into(o)
	l.tree["origins"] = append(tablesOf(l.tree["origins"]), o)
	return own, true
}

// into writes what is said into an origin.
func (x *fitSays) into(o map[string]any) {
	if len(x.under) > 0 {
		o["under"] = x.under
	}
	if len(x.estimates) > 0 {
		o["estimates"] = x.estimates
	}
}

// origin returns the origin with the id, or nil.
func (l *originLift) origin(id string) map[string]any {
	for _, o := range tablesOf(l.tree["origins"]) {
		if o["id"] == id {
			return o
		}
	}
	return nil
}

// copyOf returns a decoded value that shares nothing with v: the reader takes tables apart.
func copyOf(v any) any {
	switch v := v.(type) {
	case map[string]any:
		out := make(map[string]any, len(v))
		for key, x := range v {
			out[key] = copyOf(x)
		}
		return out
	case []map[string]any:
		out := make([]map[string]any, len(v))
		for i, x := range v {
			out[i] = copyOf(x).(map[string]any)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, x := range v {
			out[i] = copyOf(x)
		}
		return out
	}
	return v
}

// tablesOf returns a list of tables as the decoder leaves it, none where it is none.
func tablesOf(v any) []map[string]any {
	switch v := v.(type) {
	case []map[string]any:
		return v
	case []any:
		list := make([]map[string]any, 0, len(v))
		for _, x := range v {
			sub, ok := x.(map[string]any)
			if !ok {
				return nil
			}
			list = append(list, sub)
		}
		return list
	}
	return nil
}

// textsOf returns the texts of a list.
func textsOf(v any) []string {
	list, _ := v.([]any)
	var out []string
	for _, x := range list {
		if s, ok := x.(string); ok {
			out = append(out, s)
		}
	}
	return out
}
