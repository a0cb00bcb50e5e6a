package store

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft"
)

// Linked pieces of every sort are the same after they were saved and loaded, and go on
// following their parents in the same way.
func TestLinkedPiecesFollowAfterLoading(t *testing.T) {
	p := done(t, draft.New("winter show"), "add-wearer", "name=Quill", "build=wide")
	for _, m := range []string{"bust_girth=231mm", "waist_girth=238mm", "back_waist_length=84mm", "belly_girth=262mm"} {
		name, value, _ := strings.Cut(m, "=")
		p = done(t, p, "set-measure", "wearer=Quill", "name="+name, "value="+value)
	}
	p = done(t, p, "draft-block", "block=bodice", "wearer=Quill")
	p = done(t, p, "line-piece", "piece=Front")
	p = done(t, p, "line-piece", "piece=Back")
	p = done(t, p, "set-lining", "edges=Front lining.neck", "inside=1.25mm")
	p = done(t, p, "face-edge", "edges=Front.neck", "width=9mm", "interface=yes")
	p = done(t, p, "trace-copy", "piece=Back", "mirrored=yes", "name=Toile")
	p = done(t, p, "trace-copy", "piece=Back", "from=Back.side@40%", "to=Back.shoulder@50%", "side=right", "name=Wing")
	p = done(t, p, "stiffener", "piece=Back lining", "inside=0.5mm")
	p = done(t, p, "cut-out", "edge=Back.side@30%", "width=9mm", "height=4mm", "name=arm")
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
		t.Errorf("a loaded project follows in another way:\n%s", d)
	}
	for _, f := range draft.NewSlots().Check(a).Findings {
		if strings.HasSuffix(f.Key, "/behind") {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
}
