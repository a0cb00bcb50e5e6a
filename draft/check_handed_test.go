package draft_test

import (
	"fmt"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

// doAll does acts that are written as a script gives them: the name, then NAME=VALUE with
// bars between.
func doAll(t testing.TB, p *draft.Project, acts ...[2]string) *draft.Project {
	t.Helper()
	for _, a := range acts {
		args := make(map[string]string)
		for _, pair := range strings.Split(a[1], "|") {
			name, value, _ := strings.Cut(pair, "=")
			args[name] = value
		}
		act, err := draft.ActNamed(a[0])
		if err != nil {
			t.Fatal(err)
		}
		out, err := act.DoText(p, args)
		if err != nil {
			t.Fatalf("%s %s: %v", a[0], a[1], err)
		}
		p = out.Project
	}
	return p
}

// foundIn returns the open findings whose key ends in what is given.
func foundIn(p *draft.Project, ending string) []draft.Finding {
	var out []draft.Finding
	for _, f := range draft.NewSlots().Check(p).Findings {
		if strings.HasSuffix(f.Key, ending) && f.Open() {
			out = append(out, f)
		}
	}
	return out
}

// capBent is the act that makes the cap of the sample's sleeve 4 mm higher at one end.
func capBent(t *testing.T) [2]string {
	t.Helper()
	sleeve := sampleProject(t).Pieces[2]
	_, i := sleeve.Edge(sleeve.Edges[2].ID)
	run := geom.NewRun(sleeve.EdgePath(i))
	place, _ := run.At(run.Length() / 4)
	at := sleeve.Place.Affine().Apply(run.Point(place))
	return [2]string{"bend-edge", fmt.Sprintf("edge=Sleeve.cap|at=25%%|to=%gmm,%gmm", at.X, at.Y+4)}
}

// twoSleeves returns the sample with a sleeve that is higher at its back, cut twice alike
// and sewn into both armholes.
func twoSleeves(t *testing.T) *draft.Project {
	return doAll(t, sampleProject(t),
		[2]string{"unlink-seam", "seams=armhole;sleeve;cuff"},
		[2]string{"set-cut", "pieces=Sleeve|way=single|count=2"},
		capBent(t),
		[2]string{"link-seam", "a=Front.armhole;Back.armhole/left/reversed|b=Sleeve.cap|name=right armhole|both-sides=no"},
		[2]string{"link-seam", "a=Sleeve.back seam|b=Sleeve.front seam|name=right sleeve"},
		[2]string{"link-seam", "a=Sleeve.back seam/2|b=Sleeve.front seam/2|name=left sleeve"},
	)
}

// armholeEnds returns which edge of the sleeve next to its cap lies where the front's
// armhole begins, under the arm.
func armholeEnds(t *testing.T, p *draft.Project, name string) string {
	t.Helper()
	for _, s := range p.Seams {
		if s.Name != name {
			continue
		}
		u := s.B[0]
		piece := p.Piece(u.Piece)
		_, i := piece.Edge(u.Edge)
		n := len(piece.Edges)
		if u.Reversed {
			return piece.Edges[(i+1)%n].Name
		}
		return piece.Edges[(i+n-1)%n].Name
	}
	t.Fatalf("no seam %s", name)
	return ""
}

func TestSleeveCutTwiceAlike(t *testing.T) {
	one := twoSleeves(t)
	both := doAll(t, one, [2]string{"link-seam", "a=Front.armhole/far;Back.armhole/reversed|b=Sleeve.cap/2|name=left armhole|both-sides=no"})
	for _, tc := range []struct {
		name  string
		p     *draft.Project
		level draft.Gravity
	}{{"second one loose", doAll(t, one, [2]string{"unlink-seam", "seams=left sleeve"}), draft.LookAgain}, {"both sewn", both, draft.Problem}} {
		found := foundIn(tc.p, "/not mirrored")
		if len(found) != 1 || found[0].Level != tc.level || tc.p.Piece(found[0].Piece).Name != "Sleeve" {
			t.Fatalf("%s: found %+v", tc.name, found)
		}
		out, err := tc.p.Do(found[0].Mends[0])
		if err != nil {
			t.Fatalf("%s: %v", tc.name, err)
		}
		if left := foundIn(out.Project, "/not mirrored"); len(left) > 0 {
			t.Errorf("%s: still found after its mend: %+v", tc.name, left)
		}
		if err := draft.Validate(out.Project); err != nil {
			t.Errorf("%s: %v", tc.name, err)
		}
	}
	// As drawn, the second sleeve has its back seam where the first has its front seam.
	right := armholeEnds(t, both, "right armhole")
	if armholeEnds(t, both, "left armhole") == right {
		t.Fatal("the second sleeve is sewn as the first is before anything is mended")
	}
	out, err := both.Do(foundIn(both, "/not mirrored")[0].Mends[0])
	if err != nil {
		t.Fatal(err)
	}
	if got := armholeEnds(t, out.Project, "left armhole"); got != right {
		t.Errorf("the %s of the left sleeve lies at the front, want the %s as on the right", got, right)
	}
	for _, s := range out.Project.Seams {
		if s.Name == "left sleeve" && (!s.A[0].Copy.Mirrored || !s.B[0].Copy.Mirrored) {
			t.Errorf("the second sleeve is sewn to %v and %v, want the left one to itself", s.A[0], s.B[0])
		}
	}
}

// withoutNotches returns the project with no notch on any piece or seam.
func withoutNotches(p *draft.Project) *draft.Project {
	q := *p
	q.Pieces, q.Seams = nil, nil
	for _, piece := range p.Pieces {
		bare := *piece
		bare.Notches = nil
		q.Pieces = append(q.Pieces, &bare)
	}
	for _, seam := range p.Seams {
		bare := *seam
		bare.Marks = nil
		q.Seams = append(q.Seams, &bare)
	}
	return &q
}

func TestSymmetricPiecesServeOnBothSides(t *testing.T) {
	p := doAll(t, withoutNotches(sampleProject(t)),
		[2]string{"unlink-seam", "seams=armhole;sleeve;cuff"},
		[2]string{"set-cut", "pieces=Sleeve|way=single|count=2"},
		[2]string{"link-seam", "a=Front.armhole;Back.armhole/left/reversed|b=Sleeve.cap|both-sides=no"},
		[2]string{"link-seam", "a=Front.armhole/far;Back.armhole/reversed|b=Sleeve.cap/2|both-sides=no"},
	)
	if found := foundIn(p, "/not mirrored"); len(found) > 0 {
		t.Errorf("a sleeve that is its own mirror image: %+v", found)
	}
	// A notch that is single in front and double behind tells its sides apart.
	p = doAll(t, p, [2]string{"add-notch", "edge=Sleeve.cap|at=20%"}, [2]string{"add-notch", "edge=Sleeve.cap|at=80%|double=yes"})
	if found := foundIn(p, "/not mirrored"); len(found) != 1 {
		t.Errorf("a sleeve whose notches tell front from back: %+v", found)
	}
}

// leftAndRight returns the sample with two sleeve pieces that are drawn alike.
func leftAndRight(t *testing.T) *draft.Project {
	return doAll(t, sampleProject(t),
		[2]string{"unlink-seam", "seams=armhole;sleeve;cuff"},
		[2]string{"set-cut", "pieces=Sleeve|way=single"},
		capBent(t),
		[2]string{"rename-piece", "piece=Sleeve|name=Right sleeve"},
		[2]string{"duplicate-piece", "piece=Right sleeve"},
		[2]string{"rename-piece", "piece=Right sleeve 2|name=Left sleeve"},
		[2]string{"link-seam", "a=Front.armhole;Back.armhole/left/reversed|b=Right sleeve.cap|name=right armhole|both-sides=no"},
	)
}

func TestTwoSleevesDrawnAlike(t *testing.T) {
	one := leftAndRight(t)
	found := foundIn(one, "/not mirrored")
	if len(found) != 1 || found[0].Level != draft.LookAgain || one.Piece(found[0].Piece).Name != "Left sleeve" {
		t.Fatalf("by their names: %+v", found)
	}
	both := doAll(t, one, [2]string{"link-seam", "a=Front.armhole/far;Back.armhole/reversed|b=Left sleeve.cap|name=left armhole|both-sides=no"})
	found = foundIn(both, "/not mirrored")
	if len(found) != 1 || found[0].Level != draft.Problem {
		t.Fatalf("sewn: %+v", found)
	}
	for _, m := range found[0].Mends {
		out, err := both.Do(m)
		if err != nil {
			t.Fatal(err)
		}
		if left := foundIn(out.Project, "/not mirrored"); len(left) > 0 {
			t.Errorf("%s: still found: %+v", m.Title, left)
		}
		if a, b := armholeEnds(t, out.Project, "right armhole"), armholeEnds(t, out.Project, "left armhole"); a != b {
			t.Errorf("%s: the %s lies at the front on the right, the %s on the left", m.Title, a, b)
		}
	}
	// Turned over by hand, without the mend, nothing is found.
	p := doAll(t, one, [2]string{"mirror-piece", "pieces=Left sleeve"})
	if found := foundIn(p, "/not mirrored"); len(found) > 0 {
		t.Errorf("two sleeves that are mirror images: %+v", found)
	}
}
