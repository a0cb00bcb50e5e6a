package store

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft"
)

// quillsBodice is a bodice drafted for a hedgehog.
func quillsBodice(t *testing.T) *draft.Project {
	p := done(t, draft.New("winter show"), "add-wearer", "name=Quill", "build=wide")
	for _, m := range []string{"bust_girth=231mm", "waist_girth=238mm", "back_waist_length=84mm", "belly_girth=262mm"} {
		name, value, _ := strings.Cut(m, "=")
		p = done(t, p, "set-measure", "wearer=Quill", "name="+name, "value="+value)
	}
	return done(t, p, "draft-block", "block=bodice", "wearer=Quill")
}

// Pieces that were cut up are the same after they were saved and loaded, and follow in the
// same way; a lining of one goes on following it.
func TestCutUpPiecesFollowAfterLoading(t *testing.T) {
	p := quillsBodice(t)
	p = done(t, p, "split-piece", "from=Front.armhole@50%", "to=Front.centre@30%", "name=Yoke", "seam=yoke", "notches=2")
	p = done(t, p, "line-piece", "piece=Yoke")
	p = done(t, p, "mirror-piece", "pieces=Back")
	p = done(t, p, "dart-to-seam", "dart=Front.dart", "to=Front.yoke@50%", "name=Side front")
	load := func(p *draft.Project) *draft.Project {
		q, err := Decode(Encode(p))
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	if n := len(p.Derivations[0].Steps); n != 3 {
		t.Fatalf("%d acts are recorded, want 3", n)
	}
	if d := cmp.Diff(p, load(p)); d != "" {
		t.Fatalf("loading changes it (- saved, + loaded):\n%s", d)
	}
	a := done(t, p, "set-measure", "wearer=Quill", "name=belly_girth", "value=290mm")
	b := done(t, load(p), "set-measure", "wearer=Quill", "name=belly_girth", "value=290mm")
	if d := cmp.Diff(a, b); d != "" {
		t.Errorf("a loaded project follows in another way:\n%s", d)
	}
	for _, piece := range a.Pieces {
		if piece.Derived == nil {
			t.Errorf("%s follows nothing", piece.Name)
		}
	}
	for _, f := range draft.NewSlots().Check(a).Findings {
		if strings.HasSuffix(f.Key, "/behind") || strings.HasSuffix(f.Key, "/older") {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
}

// A recorded act that a file tells otherwise than it was done leaves its pieces behind, and
// everything else follows.
func TestRecordedActsThatCannotBeDoneAgain(t *testing.T) {
	p := quillsBodice(t)
	p = done(t, p, "split-piece", "from=Front.armhole@50%", "to=Front.centre@30%", "name=Yoke", "seam=yoke")
	p = done(t, p, "split-piece", "from=Back.armhole@50%", "to=Back.centre@30%", "name=Back yoke")
	text := string(Encode(p))
	for name, c := range map[string][2]string{
		"an edge that is not there": {"front.armhole\\\"@", "front.arm\\\"@"},
		"a place beyond the edge":   {"front.armhole\\\"@50%", "front.armhole\\\"@150%"},
		"no such argument":          {`{name = "from", value = "\"front\"`, `{name = "off", value = "\"front\"`},
		"nonsense":                  {"\\\"front\\\".\\\"front.armhole\\\"@50%", "\\\"\\\"\\\""},
		"fewer ids":                 {"until_id = ", "until_id = 1#"},
	} {
		t.Run(name, func(t *testing.T) {
			if name == "fewer ids" {
				at := strings.Index(text, "until_id = ") + len("until_id = ")
				c = [2]string{text[at-len("until_id = ") : at+2], "until_id = " + string(rune(text[at]-1)) + text[at+1:at+2]}
			}
			if !strings.Contains(text, c[0]) {
				t.Fatalf("the file has no %q:\n%s", c[0], text[strings.Index(text, "derivations.steps"):])
			}
			q, err := Decode([]byte(strings.Replace(text, c[0], c[1], 1)))
			if err != nil {
				t.Fatal(err)
			}
			next := done(t, q, "set-measure", "wearer=Quill", "name=belly_girth", "value=290mm")
			behind := ""
			for _, f := range draft.NewSlots().Check(next).Findings {
				if strings.HasSuffix(f.Key, "/behind") {
					behind += f.About + "; "
				}
			}
			if behind != "Front; Yoke; " {
				t.Errorf("behind are %q, want front and yoke", behind)
			}
			if len(next.Seams) != len(p.Seams) {
				t.Errorf("%d seams are left of %d", len(next.Seams), len(p.Seams))
			}
			if p.Piece("back").Edges[0].Nodes[0] == next.Piece("back").Edges[0].Nodes[0] && cmp.Equal(p.Piece("back"), next.Piece("back")) {
				t.Error("the back has not followed")
			}
		})
	}
}
