package draft_test

import (
	"strings"
	"testing"

	"hemlet/draft"
)

// directed are acts that random tries come to seldom, as they ask for much at once, each with
// what surely does it: steps on the workshop, the costume or the fitted bodice, the last of
// which is the act. The words in braces stand for what is there: a drafted block, a piece of
// it, a measured stretch, a dart.
var directed = []struct {
	on    string
	steps []string
}{
	{"workshop", []string{"follow-block draft={block}"}},
	{"workshop", []string{"follow-piece pieces={drafted}"}},
	{"costume", []string{"renew-block draft={block}"}},
	{"workshop", []string{"set-choice draft={block}|name=ease|value=10mm"}},
	{"workshop", []string{"clear-choice draft={block}|name=ease"}},
	{"workshop", []string{"set-lining edges=Back lining.neck|inside=2mm"}},
	{"workshop", []string{"stiffener piece=Pocket|name=Board", "set-link pieces=Board|width=3mm"}},
	{"workshop", []string{"set-cut pieces=Pocket|way=single|count=2", "cut-left-right pieces=Pocket"}},
	{"workshop", []string{"fold-piece piece=Pocket"}},
	{"workshop", []string{"cut-out piece=Pocket|at=420mm,30mm|width=10mm|height=10mm"}},
	{"costume", []string{"join-pieces seam=shoulder"}},
	{"costume", []string{"fit-pattern wearer=Quill|free=yes"}},
	{"fitted", []string{"set-fit ease=kept"}},
	{"fitted", []string{"set-fit-target span={span}|by=free"}},
	{"fitted", []string{"set-measure wearer=Doll|name=belly_girth|value=600mm", "set-span span={span}|measure=hip_girth", "follow-belly spans={span}"}},
	{"fitted", []string{"set-fit-intake dart={dart}|scaled=yes"}},
	{"fitted", []string{"end-fit"}},
}

// doDirected does the directed steps for an act and returns the project that comes of them,
// false where there are none.
func doDirected(t *testing.T, name string) (*draft.Project, bool) {
	t.Helper()
	for _, d := range directed {
		if last, _, _ := strings.Cut(d.steps[len(d.steps)-1], " "); last != name {
			continue
		}
		p := directedOn(t, d.on)
		for _, step := range d.steps {
			act, args, _ := strings.Cut(step, " ")
			texts := make(map[string]string)
			for _, a := range strings.Split(args, "|") {
				if k, v, ok := strings.Cut(a, "="); ok {
					texts[k] = directedWord(t, p, v)
				}
			}
			a, err := draft.ActNamed(act)
			if err != nil {
				t.Fatal(err)
			}
			out, err := a.DoText(p, texts)
			if err != nil {
				t.Fatalf("%s on the %s: %v", step, d.on, err)
			}
			if err := draft.Validate(out.Project); err != nil {
				t.Fatalf("%s on the %s made an unsound project: %v", step, d.on, err)
			}
			p = out.Project
		}
		return p, true
	}
	return nil, false
}

func directedOn(t *testing.T, what string) *draft.Project {
	t.Helper()
	if what == "fitted" {
		return fittedBodice(t)
	}
	start := theWorkshop
	if what == "costume" {
		start = theCostume
	}
	p, err := start()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// directedWord returns what an argument stands for in a project.
func directedWord(t *testing.T, p *draft.Project, word string) string {
	t.Helper()
	if word == "{block}" {
		for _, d := range p.Derivations {
			if d.Kind == "block" {
				return string(d.ID)
			}
		}
	}
	for _, piece := range p.Pieces {
		id := `"` + string(piece.ID) + `"`
		switch {
		case word == "{drafted}" && piece.Derived != nil:
			if d := p.Derivation(piece.Derived.Derivation); d != nil && d.Kind == "block" {
				return id
			}
		case word == "{span}" && len(piece.Spans) > 0:
			return id + `."` + string(piece.Spans[0].ID) + `"`
		case word == "{dart}" && len(piece.Darts) > 0:
			return id + `."` + string(piece.Darts[0].ID) + `"`
		}
	}
	if strings.HasPrefix(word, "{") {
		t.Fatalf("there is no %s", word)
	}
	return word
}

// What is directed can be done, so that the test of random acts never fails by chance.
func TestDirectedActs(t *testing.T) {
	for _, d := range directed {
		name, _, _ := strings.Cut(d.steps[len(d.steps)-1], " ")
		t.Run(name, func(t *testing.T) {
			if _, ok := doDirected(t, name); !ok {
				t.Error("was not done")
			}
		})
	}
}
