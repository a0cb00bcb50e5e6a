package draft

import "testing"

func TestSetPasses(t *testing.T) {
	p := panel(CutPairs)
	p = doneAct(t, p, "add-wearer", "name=Quill").Project
	p = doneAct(t, p, "set-part", "wearer=Quill", "name=snout", "girth=140mm").Project
	for what, want := range map[string]string{"head_girth": "head_girth", "Snout": "snout", "Nothing": PassesNothing, "": ""} {
		out := doneAct(t, p, "set-passes", "edges=Front.neck", "what="+what)
		if e, _ := out.Project.Pieces[0].Edge(p.Pieces[0].Edges[3].ID); e.Passes != want {
			t.Errorf("%q goes through as %q, want %q", what, e.Passes, want)
		}
	}
	for _, what := range []string{"barrel", "waist_height"} {
		if _, err := tryAct(p, "set-passes", "edges=Front.neck", "what="+what); err == nil {
			t.Errorf("%q is taken", what)
		}
	}
	if _, err := tryAct(panel(CutOnFold), "set-passes", "edges=Front.middle", "what=head_girth"); err == nil {
		t.Error("something goes through a fold")
	}
}

// A seam that opens has a lap; one that is sewn again has none.
func TestSeamThatOpens(t *testing.T) {
	p := panel(CutPairs)
	if _, err := tryAct(p, "link-seam", "a=Back.middle", "b=Back.middle/left", "lap=8mm"); err == nil {
		t.Error("a sewn seam has a lap")
	}
	out := doneAct(t, p, "link-seam", "a=Back.middle", "b=Back.middle/left", "opens=yes", "lap=8mm")
	s := out.Project.Seams[0]
	if !s.Opens || s.Lap != 8 {
		t.Fatalf("opens %t with a lap of %g", s.Opens, s.Lap)
	}
	if s = doneAct(t, out.Project, "edit-seam", "seam="+string(s.ID), "lap=10mm").Project.Seams[0]; s.Lap != 10 {
		t.Errorf("a lap of %g", s.Lap)
	}
	if s = doneAct(t, out.Project, "edit-seam", "seam="+string(s.ID), "opens=no").Project.Seams[0]; s.Opens || s.Lap != 0 {
		t.Errorf("sewn again, it opens %t with a lap of %g", s.Opens, s.Lap)
	}
}
