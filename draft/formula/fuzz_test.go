package formula

import (
	"errors"
	"strings"
	"testing"
	"time"
)

// maxWork is far more than any formula of 1000 bytes may take, even on a busy
// machine: the longest searches are bounded and take some milliseconds.
const maxWork = 2 * time.Second

// FuzzCompile: whatever is written is answered with a formula or an *Error, in short
// time and without a panic, and what is worked out has the kind that was promised.
func FuzzCompile(f *testing.F) {
	for _, c := range examples {
		f.Add(c.source)
	}
	for _, s := range []string{
		"", "1+", "(((", "a.b", "1..2", "'x'", "[1]", "{a:1}", "x|f()", "let a=1;a", "1?:2", "1<2<3", "not not not 1<2",
		"0x10", "1_000*mm", "1e400", "-9223372036854775808", "if 1<2 {3} else {4}", "$env", "#", "b'x'", "::f(1)", "l??k", "p?.x",
		"filter(l, {# > 1})", "reduce(1..9, #acc + #)", "sweep(p, l, q, k)", "sweep(p, 1e-9*mm, q, 1e5*mm)", "through(p,p,p,p)",
		"path(c,c,c,c,c,c,c,c,c,c,c,c)", "trimmed(d, 1e5*mm)", "compass(p,l,p,l)", "given(l)", "given(given)", "ä", "\xff\xfe",
	} {
		f.Add(s)
	}
	s := scopeOf(f, sample)
	f.Fuzz(func(t *testing.T, source string) {
		start := time.Now()
		c, err := Compile(source, s)
		if err == nil {
			check(t, c)
		} else {
			refusal(t, source, err)
		}
		if d := time.Since(start); d > maxWork {
			t.Errorf("%q takes %v", source, d)
		}
	})
}

// check works a formula out and holds the value against what was promised.
func check(t *testing.T, c *Formula) {
	v, err := c.Value(sample)
	if err != nil {
		refusal(t, c.Source(), err)
		return
	}
	if k, ok := kindOf(v); !ok || k != c.Kind() {
		t.Errorf("%q gives %v and promised %s", c.Source(), v, c.Kind())
	}
	if err := sound(v); err != nil {
		t.Errorf("%q gives %v: %v", c.Source(), v, err)
	}
	again, _ := c.Value(sample)
	if !alike(v, again) {
		t.Errorf("%q gives %v, and then %v", c.Source(), v, again)
	}
	for _, name := range c.Reads() {
		if !strings.Contains(c.Source(), name) {
			t.Errorf("%q reads %s", c.Source(), name)
		}
	}
}

// refusal checks that an error is ours, is at a place in the formula, and is no
// panic that was caught.
func refusal(t *testing.T, source string, err error) {
	var e *Error
	if !errors.As(err, &e) {
		t.Fatalf("%q: %T is no *Error: %v", source, err, err)
	}
	if e.Source != source || e.Column < 0 || e.Column > len(source)+1 {
		t.Errorf("%q: the error is at %d of %q", source, e.Column, e.Source)
	}
	if e.Says == "" || strings.HasPrefix(e.Says, caught) {
		t.Errorf("%q: %s", source, e.Says)
	}
}
