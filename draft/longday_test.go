package draft_test

import (
	"os"
	"reflect"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/store"
)

const (
	// actsEnv says how many acts the long day has; without it, usualActs.
	actsEnv   = "HEMLET_ACTS"
	usualActs = 2_000
	// dayActs is how many acts are done on one project: enough that acts meet what
	// others have left, few enough that the project stays one.
	dayActs = 400
)

// longDay is a document on which somebody works: any acts with undo, redo, jumps and
// saving between them.
type longDay struct {
	t       *rapid.T
	history draft.History
	names   []string
	done    map[string]int
}

// However acts, undo, redo, saving and loading come after each other, nothing panics,
// no reference is broken, undo leads back to the identical document, and a saved one
// comes back as it was.
func TestLongDay(t *testing.T) {
	acts := usualActs
	if testing.Short() {
		acts = dayActs
	}
	if text := os.Getenv(actsEnv); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil {
			t.Fatalf("%s is %q, and not a number", actsEnv, text)
		}
		acts = n
	}
	done, names := make(map[string]int), actNames()
	total, failed := 0, false
	for total < acts && !failed {
		rapid.Check(t, func(r *rapid.T) {
			if total >= acts && !failed {
				return // there have been enough
			}
			whole := false
			defer func() { failed = failed || !whole }()
			d := &longDay{t: r, history: draft.NewHistory(startOn(r), "open"), names: names, done: done}
			for range dayActs {
				d.step()
			}
			total += dayActs
			whole = true
		})
	}
	t.Logf("%d steps, of which done: %v", total, done)
}

func (d *longDay) project() *draft.Project { return d.history.Project() }

// step does the next thing.
func (d *longDay) step() {
	switch n := rapid.IntRange(0, 99).Draw(d.t, "what"); {
	case n < 80:
		d.act()
	case n < 87:
		d.history = d.history.Undo()
	case n < 92:
		d.history = d.history.Redo()
	case n < 95:
		steps, _ := d.history.Steps()
		d.history = d.history.Go(rapid.IntRange(0, len(steps)-1).Draw(d.t, "step"))
	default:
		d.save()
	}
}

// act does any act, or has it refused, takes it back and does it again.
func (d *longDay) act() {
	p := d.project()
	act, err := draft.ActNamed(anyOf(d.t, d.names, "act"))
	if err != nil {
		d.t.Fatal(err)
	}
	texts, ok := drawArgs(d.t, p, act)
	if !ok {
		return
	}
	kept := frozen(p)
	out, err := act.DoText(p, texts)
	if !reflect.DeepEqual(p, kept) {
		d.t.Fatalf("%s %v changed the project that it was given", act.Info().Name, texts)
	}
	if err != nil {
		return
	}
	d.sound(act.Info().Name, texts, out.Project)
	d.done[act.Info().Name]++
	next := d.history.Do(out.Step, out.Project, "")
	if next.Undo().Project() != p || next.Undo().Redo().Project() != out.Project {
		d.t.Fatalf("%s: undo and redo lead elsewhere", act.Info().Name)
	}
	d.history = next
}

// sound holds a project to what every project has to be.
func (d *longDay) sound(name string, texts map[string]string, p *draft.Project) {
	if err := draft.Validate(p); err != nil {
		d.t.Fatalf("%s %v made an unsound project: %v", name, texts, err)
	}
	if err := draft.UsesExist(p); err != nil {
		d.t.Fatalf("%s %v: %v", name, texts, err)
	}
}

// save writes the project, reads it, and goes on with what was read.
func (d *longDay) save() {
	p := d.project()
	read, err := store.Decode(store.Encode(p))
	if err != nil {
		d.t.Fatalf("what was saved cannot be read: %v", err)
	}
	if diff := cmp.Diff(p, read, cmpopts.EquateEmpty()); diff != "" {
		d.t.Fatalf("what was saved comes back otherwise: %s", diff)
	}
	d.history = d.history.Do("Open", read, "")
}
