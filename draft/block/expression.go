package block

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hemlet/draft/formula"
)

// expression is a compiled formula and where it stands.
type expression struct {
	*formula.Formula
	place
}

// optional returns the formula at a key, nil where there is none.
func (t *table) optional(key string, kinds ...formula.Kind) *expression {
	list := t.formulas(key, kinds...)
	switch {
	case len(list) == 0:
		return nil
	case len(list) > 1:
		t.p.failf(t.under(key), "one formula is wanted here, and %d stand there", len(list))
	}
	return list[0]
}

// formulas returns the formulas of a list, or the only one.
func (t *table) formulas(key string, kinds ...formula.Kind) []*expression {
	sources, places := t.texts(key, maxItems)
	var out []*expression
	for i, source := range sources {
		e := t.p.compile(places[i], source, kinds...)
		if e == nil {
			return nil
		}
		out = append(out, e)
	}
	return out
}

// compile compiles a formula of one of the kinds, of any where there are none; nil
// says that it failed.
func (p *parser) compile(at place, source string, kinds ...formula.Kind) *expression {
	if p.formulas++; p.formulas > maxFormulas {
		p.failf(at, "there are more than %d formulas", maxFormulas)
	}
	if p.err != nil {
		return nil
	}
	f, err := formula.Compile(source, p.scope)
	if err != nil {
		p.fail(p.refused(source, err), at)
		return nil
	}
	if says := unwanted(f.Kind(), kinds); says != "" {
		p.fail(&Error{Key: at.key, Formula: source, Says: says}, at)
		return nil
	}
	p.note(f)
	return &expression{f, at}
}

// refused turns the error of a formula into one of the file.
func (p *parser) refused(source string, err error) *Error {
	e := &Error{Formula: source, Says: err.Error(), Err: err}
	var f *formula.Error
	if errors.As(err, &f) {
		e.Column, e.Says = f.Column, f.Says
	}
	if name, kind := p.laterName(source); name != "" {
		e.Says, _, _ = strings.Cut(e.Says, "; near it")
		e.Says += fmt.Sprintf("; %s is a %s further down, and a formula reads only what stands above it", name, kind)
	}
	return e
}

// laterName returns the first word of a formula that is a choice or a step not yet worked
// out, and which of both it is.
func (p *parser) laterName(source string) (name, kind string) {
	words := strings.FieldsFunc(source, func(r rune) bool {
		return !(r == '_' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9')
	})
	for _, w := range words {
		if _, there := p.scope.Kind(w); p.later[w] != "" && !there {
			return w, p.later[w]
		}
	}
	return "", ""
}

// oneKind holds the default of a choice and its bounds to be all lengths or all numbers.
// Where the bounds are one kind and the default is the other, the default is wrong, for a
// figure that stands alone has most often lost its unit; where there is but one bound,
// the number is.
func (p *parser) oneKind(c *choice) {
	if p.err != nil {
		return
	}
	var odd []*expression
	bounds := 0
	for _, e := range []*expression{c.least, c.most} {
		if e == nil {
			continue
		}
		if bounds++; e.Kind() != c.Kind {
			odd = append(odd, e)
		}
	}
	if len(odd) == 0 {
		return
	}
	wrong, other, key := odd[0], c.preset, "default"
	if len(odd) == bounds && (bounds == 2 || c.Kind == formula.NumberKind) {
		wrong, other, key = c.preset, odd[0], "least"
		if c.least == nil {
			key = "most"
		}
	}
	says := fmt.Sprintf("this makes %s, and the %s, “%s”, makes %s", article(wrong.Kind()), key, cut(other.Source(), maxName), article(other.Kind()))
	if wrong.Kind() == formula.NumberKind {
		if _, err := strconv.ParseFloat(wrong.Source(), 64); err == nil {
			says += "; a length has a unit: write " + wrong.Source() + "*mm"
		} else {
			says += "; a length has a unit, such as 6*mm"
		}
	}
	p.fail(&Error{Key: wrong.key, Formula: wrong.Source(), Says: says}, wrong.place)
}

// unwanted says why a formula of one kind cannot stand where others are wanted.
func unwanted(have formula.Kind, want []formula.Kind) string {
	if len(want) == 0 || slices.Contains(want, have) {
		return ""
	}
	names := make([]string, len(want))
	for i, k := range want {
		names[i] = article(k)
	}
	says := "this makes " + article(have) + ", and " + or(names) + " is wanted here"
	if have == formula.NumberKind && slices.Contains(want, formula.LengthKind) {
		says += "; a length has a unit, such as 6*mm"
	}
	return says
}

// article returns a kind with its article.
func article(k formula.Kind) string {
	switch k {
	case formula.AreaKind, formula.AngleKind:
		return "an " + k.String()
	}
	return "a " + k.String()
}
