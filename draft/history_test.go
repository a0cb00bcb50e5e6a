package draft

import (
	"strings"
	"testing"
)

func TestHistoryFoldsADragIntoOneStep(t *testing.T) {
	start, mid, end := New("a"), New("b"), New("c")
	h := NewHistory(start, "open")
	h = h.Do("Move points", mid, "drag 1")
	h = h.Do("Move points", end, "drag 1")
	if steps, at := h.Steps(); len(steps) != 2 || at != 1 {
		t.Fatalf("%d steps at %d, want 2 at 1", len(steps), at)
	}
	if h.Undo().Project() != start || h.Undo().Redo().Project() != end {
		t.Error("undo and redo do not return the identical projects")
	}
	h = h.Seal().Do("Move points", mid, "drag 1")
	if steps, _ := h.Steps(); len(steps) != 3 {
		t.Errorf("%d steps; a sealed gesture must not be folded into", len(steps))
	}
}

func TestHistoryDropsTheUndoneAndStaysBounded(t *testing.T) {
	h := NewHistory(New("0"), "open")
	for i := 0; i < 3*MaxSteps; i++ {
		h = h.Do("x", New("x"), "")
	}
	if steps, at := h.Steps(); len(steps) != MaxSteps || at != MaxSteps-1 {
		t.Fatalf("%d steps at %d, want %d at its end", len(steps), at, MaxSteps)
	}
	kept := h
	h = h.Undo().Undo()
	other := New("other")
	h = h.Do("y", other, "")
	if steps, _ := h.Steps(); len(steps) != MaxSteps-1 {
		t.Errorf("%d steps after undoing two and doing one, want %d", len(steps), MaxSteps-1)
	}
	if _, ok := h.CanRedo(); ok {
		t.Error("what was undone can still be redone")
	}
	if kept.Project() == other {
		t.Error("an earlier history changed")
	}
	if h.Go(-1).Project() != other || h.Go(MaxSteps).Project() != other {
		t.Error("going nowhere moved")
	}
}

func TestHistoryEverywhereIsNoStep(t *testing.T) {
	h := NewHistory(New("a"), "open").Do("x", New("b"), "").Do("y", New("c"), "").Undo()
	inches := func(p *Project) *Project {
		out, err := SetUnit.Do(p, SetUnitArgs{Unit: Inch})
		if err != nil {
			t.Fatal(err)
		}
		return out.Project
	}
	changed := h.Everywhere(inches)
	if steps, at := changed.Steps(); len(steps) != 3 || at != 1 || steps[2].Name != "y" {
		t.Fatalf("%d steps at %d: %+v", len(steps), at, steps)
	}
	for _, where := range []History{changed, changed.Undo(), changed.Redo()} {
		if where.Project().Unit != Inch {
			t.Errorf("%s is shown in %v", where.Project().Name, where.Project().Unit)
		}
	}
	if changed.Undo().Project().Name != "a" || changed.Redo().Project().Name != "c" {
		t.Error("undo and redo come to other projects than before")
	}
	if h.Project().Unit != Millimetre {
		t.Error("an earlier history changed")
	}
}

// A history of an earlier session goes under the present one; what is the same in its
// steps is there once.
func TestHistoryOntoAnEarlierOne(t *testing.T) {
	step := func(name string, p *Project) Step { return Step{Name: name, Project: p} }
	named := func(p *Project, name string) *Project {
		q := *p
		q.Name = name
		return &q
	}
	earlier := []Step{step("a", named(bodice(), "a")), step("b", named(bodice(), "b")), step("c", named(bodice(), "c"))}
	opened := named(bodice(), "b")
	for _, c := range []struct {
		did  []string
		at   int
		want string
	}{
		{nil, 1, "a b c"},
		{[]string{"x"}, 1, "a b x"},
		{nil, 0, "a b c"},
		{nil, 7, "open"},
	} {
		h := NewHistory(opened, "open")
		for _, name := range c.did {
			h = h.Do(name, named(opened, name), "")
		}
		h = h.Onto(earlier, c.at)
		var names []string
		for _, s := range h.steps {
			names = append(names, s.Name)
		}
		if got := strings.Join(names, " "); got != c.want {
			t.Errorf("%v at %d: %s, want %s", c.did, c.at, got, c.want)
		}
		if len(c.did) == 0 && h.Project().Name != "b" {
			t.Errorf("%v at %d: it stands at %s", c.did, c.at, h.Project().Name)
		}
		for _, s := range h.steps {
			if s.Project.Pieces[0] != opened.Pieces[0] {
				t.Errorf("%v at %d: the pieces of %s are there twice", c.did, c.at, s.Name)
			}
		}
	}
}
