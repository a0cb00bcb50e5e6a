package store

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft"
)

// done does an act with arguments as a person writes them.
func done(t *testing.T, p *draft.Project, act string, args ...string) *draft.Project {
	t.Helper()
	a, err := draft.ActNamed(act)
	if err != nil {
		t.Fatal(err)
	}
	texts := make(map[string]string)
	for _, arg := range args {
		name, value, _ := strings.Cut(arg, "=")
		texts[name] = value
	}
	out, err := a.DoText(p, texts)
	if err != nil {
		t.Fatal(err)
	}
	return out.Project
}

// A drafted block is the same after it was saved and loaded, and goes on following
// its wearer in the same way.
func TestDraftedBlockFollowsAfterLoading(t *testing.T) {
	p := done(t, draft.New("winter show"), "add-wearer", "name=Quill", "build=wide")
	for _, m := range []string{"bust_girth=231mm", "waist_girth=238mm", "back_waist_length=84mm", "belly_arc_front=150mm", "belly_girth=262mm"} {
		name, value, _ := strings.Cut(m, "=")
		p = done(t, p, "set-measure", "wearer=Quill", "name="+name, "value="+value)
	}
	p = done(t, p, "draft-block", "block=bodice", "wearer=Quill")
	for _, piece := range p.Pieces {
		p = done(t, p, "insert-node", `edge="`+string(piece.ID)+`"."`+string(piece.Edges[1].ID)+`"`, "at=35%")
	}
	followsLoaded(t, p)
}

// followsLoaded holds a project to this: saved and loaded it is the same, its pieces are
// neither behind nor older, and it follows a changed measure as it would have. It returns
// the project with that measure.
func followsLoaded(t *testing.T, p *draft.Project) *draft.Project {
	t.Helper()
	load := func(p *draft.Project) *draft.Project {
		q, err := Decode(Encode(p))
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	if d := cmp.Diff(p, load(p)); d != "" {
		t.Fatalf("loading changes it (- saved, + loaded):\n%s", d)
	}
	for _, f := range draft.NewSlots().Check(load(p)).Findings {
		if strings.HasSuffix(f.Key, "/behind") || strings.HasSuffix(f.Key, "/older") {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
	a := done(t, p, "set-measure", "wearer=Quill", "name=belly_girth", "value=290mm")
	b := done(t, load(p), "set-measure", "wearer=Quill", "name=belly_girth", "value=290mm")
	if d := cmp.Diff(a, b); d != "" {
		t.Fatalf("what was loaded follows otherwise (- before, + loaded):\n%s", d)
	}
	return a
}
