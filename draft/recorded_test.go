package draft

import (
	"strings"
	"testing"
)

// done is an act with its arguments, NAME=VALUE.
type done []string

// doAll does acts one after the other.
func doAll(t fataler, p *Project, acts ...done) *Project {
	for _, a := range acts {
		p = mustDo(t, p, a[0], a[1:]...).Project
	}
	return p
}

var (
	toYoke    = done{"split-piece", "from=Front.armhole@50%", "to=Front.centre@30%", "name=Yoke", "seam=yoke"}
	otherSize = []done{
		{"set-measure", "wearer=Quill", "name=bust_girth", "value=255mm"},
		{"set-measure", "wearer=Quill", "name=waist_girth", "value=244mm"},
		{"set-measure", "wearer=Quill", "name=belly_girth", "value=280mm"},
		{"set-measure", "wearer=Quill", "name=back_waist_length", "value=88mm"},
	}
)

// cutUps are ways to cut up and join the pieces of a bodice.
var cutUps = map[string][]done{
	"split":              {toYoke},
	"split by a line":    {{"split-piece", "line=Back.waist", "name=Lower back"}},
	"split twice":        {toYoke, {"split-piece", "from=Front.hem@40%", "to=Front.yoke@50%", "name=Side front"}},
	"unfold":             {{"unfold-piece", "piece=Front"}},
	"unfold and fold":    {{"unfold-piece", "piece=Front"}, {"fold-piece", "piece=Front"}},
	"turn over":          {{"mirror-piece", "pieces=Back"}},
	"join at shoulder":   {{"join-pieces", "seam=shoulder"}},
	"split and join":     {toYoke, {"join-pieces", "seam=shoulder", "gap=50mm"}},
	"dart into a seam":   {{"dart-to-seam", "dart=Front.dart", "to=Front.shoulder@50%"}},
	"split, turned, cut": {toYoke, {"mirror-piece", "pieces=Yoke+Back"}, {"split-piece", "from=Yoke.shoulder@50%", "to=Yoke.yoke@50%"}},
}

// What was cut up follows a changed measure as if it had been cut from a block that was
// drafted for the new body in the first place.
func TestCutUpFollowsMeasures(t *testing.T) {
	for name, acts := range cutUps {
		t.Run(name, func(t *testing.T) {
			got := doAll(t, doAll(t, bodiceFor(t), acts...), otherSize...)
			// Ids are given out by the same counter, which setting a measure leaves alone.
			want := doAll(t, doAll(t, bodiceFor(t), otherSize...), acts...)
			if len(got.Pieces) != len(want.Pieces) || len(got.Seams) != len(want.Seams) {
				t.Fatalf("%d pieces and %d seams, want %d and %d", len(got.Pieces), len(got.Seams), len(want.Pieces), len(want.Seams))
			}
			for _, w := range want.Pieces {
				g := got.Piece(w.ID)
				if g == nil || g.Derived == nil {
					t.Fatalf("%s is gone or free", w.label())
				}
				a, b := *g, *w
				a.Place, b.Place = Placement{}, Placement{}
				if c := changeOf(&b, &a); c.most() > settledSlack || c.other {
					t.Errorf("%s: %+v", w.label(), c)
				}
			}
			for _, w := range want.Seams {
				if g := got.Seam(w.ID); g == nil || !equalSeams(g, w) {
					t.Errorf("seam %s is %v, want %v", w.label(), g, w)
				}
			}
			for _, f := range NewSlots().Check(got).Findings {
				if strings.HasSuffix(f.Key, "/behind") || strings.HasSuffix(f.Key, "/older") {
					t.Errorf("%s: %s", f.About, f.Says)
				}
			}
			if err := Validate(got); err != nil {
				t.Error(err)
			}
		})
	}
}
