package store

import (
	"strings"
	"testing"

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
	a := followsLoaded(t, p)
	for _, f := range draft.NewSlots().Check(a).Findings {
		if strings.HasSuffix(f.Key, "/behind") {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
}
