package formula

import (
	"reflect"
	"sync"
	"testing"
)

// TestValuesStayAsTheyAre: no function changes a curve that it was handed, nor one
// that it gave before.
func TestValuesStayAsTheyAre(t *testing.T) {
	copied := Values{}
	for name, v := range sample {
		copied[name] = v
		if c, ok := v.(Curve); ok {
			copied[name] = Curve{append(c.Path[:0:0], c.Path...)}
		}
	}
	first := make([]Value, len(examples))
	for round := range 2 {
		for i, c := range examples {
			v := worked(t, c.source, sample)
			if round == 0 {
				first[i] = v
			} else if !reflect.DeepEqual(v, first[i]) {
				t.Errorf("%s is %v, and was %v", c.source, v, first[i])
			}
		}
	}
	if !reflect.DeepEqual(copied, sample) {
		t.Errorf("the values are %v, and were %v", sample, copied)
	}
}

// TestManyAtOnce: one formula serves several goroutines.
func TestManyAtOnce(t *testing.T) {
	f := compiled(t, "length(through(p, right(p, l), above(q, l))) > k ? l + k : l", Values{
		"p": sample["p"], "q": sample["q"], "l": sample["l"], "k": sample["k"],
	})
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			v := Values{"p": sample["p"], "q": sample["q"], "k": sample["k"], "l": Length{float64(i + 1)}}
			for range 200 {
				got, err := f.Value(v)
				if err != nil || got != (Length{float64(i + 21)}) {
					t.Errorf("with %d it is %v, %v", i+1, got, err)
					return
				}
			}
		}()
	}
	wait.Wait()
}

// TestErrorText: an error says the formula and the place.
func TestErrorText(t *testing.T) {
	if got, want := failure(t, "l + a", sample).Error(), `"l + a" at character 3: a length and an area cannot be added`; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got, want := failure(t, "", sample).Error(), `"": the formula is empty`; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestCurvesJoinedOverAndOver: steps that join a curve to itself end in an error
// before they fill the memory.
func TestCurvesJoinedOverAndOver(t *testing.T) {
	v := Values{"c": sample["d"]}
	f := compiled(t, "path(c, reverse(c), c, reverse(c), c, reverse(c), c, reverse(c), c, reverse(c))", v)
	for range 3 {
		x, err := f.Value(v)
		if err != nil {
			t.Fatal(err)
		}
		v["c"] = x
		if n := len(curve(x)); n > maxStretches {
			t.Fatalf("a curve of %d stretches", n)
		} else if n == maxStretches {
			break
		}
	}
	if _, err := f.Value(v); err == nil || err.(*Error).Says != "this curve has more than 1000 stretches" {
		t.Errorf("%d stretches ten times over: %v", len(curve(v["c"])), err)
	}
}
