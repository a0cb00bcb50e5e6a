package draft

import (
	"math"
	"testing"

	"hemlet/geom"
)

// centreBacked is a front on the fold and a back with a centre seam, with a neck of 405 mm
// that a head of 560 mm does not pass.
func centreBacked(t fataler) *Project {
	t.Helper()
	panel := func(name string, neckline float64, edges ...string) *Piece {
		p := polygonPiece(name, 5, geom.Pt(0, 0), geom.Pt(240, 0), geom.Pt(240, 300), geom.Pt(200, 500), geom.Pt(80, 520), geom.Pt(0, neckline))
		for i, e := range edges {
			p.Edges[i].Name = e
		}
		p.Edges[0].Kind, p.Garment = HemEdge, "G"
		return p
	}
	front := panel("Front", 460, "hem", "side", "armhole", "shoulder", "neck", "centre front")
	front.Edges[5].Kind, front.Cut = FoldEdge, CutRule{Way: CutOnFold, Count: 1}
	back := panel("Back", 495, "hem", "side", "armhole", "shoulder", "neck", "centre back")
	back.Cut = CutRule{Way: CutPairs, Count: 1}
	p := sewnUp(t, projectOf(front, back), [3]string{"side", "Front.side", "Back.side"}, [3]string{"shoulder", "Front.shoulder", "Back.shoulder"},
		[3]string{"centre back", "Back.centre back", "Back.centre back"})
	return onBody(t, p, map[string]float64{"head_girth": 560, "stature": 1650})
}

// neckOf is the opening at the neck through which one passes: the tightest.
func neckOf(t fataler, p *Project) Opening {
	t.Helper()
	var neck *Opening
	for _, o := range NewSlots().Openings(p, "G") {
		if o.Place == OpenNeck && (neck == nil || o.Length < neck.Length) {
			neck = &o
		}
	}
	if neck == nil {
		t.Fatal("no neck")
	}
	return *neck
}

// doEach does an act once for each of some arguments, with others that are the same.
func doEach(t fataler, p *Project, act string, args map[string]string, seams ...[2]string) *Project {
	t.Helper()
	for _, s := range seams {
		with := map[string]string{s[0]: s[1]}
		for k, v := range args {
			with[k] = v
		}
		p = doAct(t, p, act, with)
	}
	return p
}

// A facing or a lining behind a slit makes the opening no larger: the slit is there once.
func TestSlitWithWhatIsBehindItCountsOnce(t *testing.T) {
	plain := doAct(t, centreBacked(t), "open-seam", map[string]string{"seam": "centre back", "length": "60mm"})
	want := neckOf(t, plain).Length
	for name, p := range map[string]*Project{
		"faced": doEach(t, plain, "face-edge", map[string]string{"width": "50mm"}, [2]string{"edges", "Front.neck"}, [2]string{"edges", "Back.neck"}),
		"lined": doEach(t, plain, "line-piece", nil, [2]string{"piece", "Front"}, [2]string{"piece", "Back"}),
	} {
		if o := neckOf(t, p); len(o.Seams) == 0 || math.Abs(o.Length-want) > 2*insideMost {
			t.Errorf("%s: the neck %q opens to %g, and to %g without", name, o.Name, o.Length, want)
		}
	}
}

// A facing that is sewn shut behind a slit keeps it shut; opened with its piece it does not.
func TestWhatIsBehindASlitOpensWithIt(t *testing.T) {
	for name, p := range map[string]*Project{
		"faced": doEach(t, centreBacked(t), "face-edge", map[string]string{"width": "50mm"}, [2]string{"edges", "Front.neck"}, [2]string{"edges", "Back.neck"}),
		"lined": doEach(t, centreBacked(t), "line-piece", nil, [2]string{"piece", "Front"}, [2]string{"piece", "Back"}),
	} {
		closed := neckOf(t, p)
		if closed.Holds {
			t.Fatalf("%s: the neck of %g lets the head pass", name, closed.Length)
		}
		// By hand, the shell alone.
		shell := doAct(t, p, "edit-seam", map[string]string{"seam": "centre back", "opens": "yes"})
		if o := neckOf(t, shell); o.Holds || math.Abs(o.Length-closed.Length) > 1e-6 {
			t.Errorf("%s: sewn shut behind, the neck opens to %g", name, o.Length)
		}
		f := problemAbout(t, NewSlots().Check(shell), "opening/")
		if len(f.Mends) == 0 || f.Mends[0].Act != "open-seam" {
			t.Errorf("%s: it is mended by %+v", name, f.Mends)
		}
		// By the first mend, all at once.
		f = problemAbout(t, NewSlots().Check(p), "opening/")
		out, err := p.Do(f.Mends[0])
		if err != nil {
			t.Fatal(err)
		}
		if o := neckOf(t, out.Project); !o.Holds || o.Length > o.Needs+o.Wants+2*slitStep {
			t.Errorf("%s: after %q it opens to %g", name, f.Mends[0].Title, o.Length)
		}
		if err := Validate(out.Project); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
