package draft

import (
	"regexp"
	"sort"
	"strings"
	"testing"
)

func TestEveryActIsDescribed(t *testing.T) {
	name := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	titles := make(map[string]string)
	for _, a := range Acts() {
		info := a.Info()
		if !name.MatchString(info.Name) {
			t.Errorf("%q is no name for scripts", info.Name)
		}
		if info.Title == "" || info.Group == "" || !strings.HasSuffix(info.Says, ".") {
			t.Errorf("%s: title %q, group %q, says %q", info.Name, info.Title, info.Group, info.Says)
		}
		if other, taken := titles[info.Title]; taken {
			t.Errorf("%s and %s have the same title", info.Name, other)
		}
		titles[info.Title] = info.Name
		if strings.Contains(strings.ToLower(info.Title+info.Says), "node") {
			t.Errorf("%s: people read \"point\", not \"node\"", info.Name)
		}
		for _, p := range a.Params() {
			if p.Name == "" || p.Says == "" || p.Kind == "" {
				t.Errorf("%s: argument %+v is not described", info.Name, p)
			}
		}
	}
}

func TestActsAreInOneOrder(t *testing.T) {
	list := Acts()
	if len(list) < 30 {
		t.Fatalf("%d acts", len(list))
	}
	if !sort.SliceIsSorted(list, func(i, j int) bool {
		a, b := list[i].Info(), list[j].Info()
		return a.Group < b.Group || a.Group == b.Group && a.Name < b.Name
	}) {
		t.Error("the acts are not sorted by group and name")
	}
	for _, a := range list {
		if got, err := ActNamed(a.Info().Name); err != nil || got != a {
			t.Errorf("%s is not found by its name: %v", a.Info().Name, err)
		}
	}
	if _, err := ActNamed("move-point"); err == nil || !strings.Contains(err.Error(), "move-nodes") {
		t.Errorf("error %v does not offer move-nodes", err)
	}
}

func TestANameCannotBeTakenTwice(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("the second act of a name was taken")
		}
	}()
	register(Info{Name: "move-nodes"}, func(p *Project, _ struct{}) (Outcome, error) { return Outcome{Project: p}, nil })
}
