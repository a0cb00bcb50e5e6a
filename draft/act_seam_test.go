package draft

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"hemlet/geom"
)

// bodice is a front on the fold and a back in pairs with a centre back seam. Both
// are drawn with the middle at the left.
func bodice() *Project {
	front := polygonPiece("front", 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 80), geom.Pt(0, 80))
	name(front, "hem", "side", "shoulder", "fold")
	front.Edges[3].Kind, front.Cut = FoldEdge, CutRule{CutOnFold, 1}
	back := polygonPiece("back", 6, geom.Pt(0, 0), geom.Pt(55, 0), geom.Pt(55, 80), geom.Pt(0, 80))
	name(back, "hem", "side", "shoulder", "middle")
	back.Cut = CutRule{CutPairs, 1}
	return projectOf(front, back)
}

func name(p *Piece, names ...string) {
	for i, n := range names {
		p.Edges[i].Name = n
	}
}

func mustDo(t fataler, p *Project, act string, args ...string) Outcome {
	t.Helper()
	a, err := ActNamed(act)
	if err != nil {
		t.Fatal(err)
	}
	out, err := a.DoText(p, pairs(args))
	if err != nil {
		t.Fatal(err)
	}
	if err := Validate(out.Project); err != nil {
		t.Fatalf("%s made an unsound project: %v", act, err)
	}
	return out
}

func pairs(args []string) map[string]string {
	texts := make(map[string]string)
	for _, a := range args {
		k, v, _ := strings.Cut(a, "=")
		texts[k] = v
	}
	return texts
}

func mustRefuse(t *testing.T, p *Project, says, act string, args ...string) {
	t.Helper()
	a, err := ActNamed(act)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := a.DoText(p, pairs(args)); err == nil || !strings.Contains(err.Error(), says) {
		t.Errorf("%s %v: error %v, want it to say %q", act, args, err, says)
	}
}

// ends returns the places in space of the start and end of a run of one use, with
// the copy laid down the right side up, its middle on x = 0.
func ends(p *Project, u EdgeUse) (geom.Point, geom.Point) {
	piece := p.Piece(u.Piece)
	_, i := piece.Edge(u.Edge)
	line := piece.EdgePath(i)
	if u.Copy.Mirrored != (u.Half == Far) {
		line = line.Transform(geom.Scaling(-1, 1))
	}
	if u.Reversed {
		line = line.Reverse()
	}
	return line.Start(), line.End()
}

// The two bodice pieces are drawn at the same place, so that ends that meet when
// sewn lie at the same height.
func TestLinkedEndsMeet(t *testing.T) {
	p := bodice()
	for _, runs := range [][2]string{
		{"front.side", "back.side/left"},
		{"front.side/far", "back.side"},
		{"front.side", "back.side"},
		{"back.middle", "back.middle/left"},
		{"front.side/reversed", "back.side/left"},
	} {
		s := mustDo(t, p, "link-seam", "a="+runs[0], "b="+runs[1]).Project.Seams[0]
		a0, a1 := ends(p, s.A[0])
		b0, b1 := ends(p, s.B[0])
		// Two copies sewn right sides together run round against each other.
		same := s.A[0].forward() != s.B[0].forward()
		if !same {
			t.Errorf("%v: both runs go round the same way", runs)
		}
		if a0.Y != b0.Y || a1.Y != b1.Y {
			t.Errorf("%v: starts at heights %g and %g, ends at %g and %g", runs, a0.Y, b0.Y, a1.Y, b1.Y)
		}
	}
	// A piece that lies turned on the bench is sewn as it was.
	turned := mustDo(t, p, "turn-piece", "pieces=back", "by=180deg").Project
	if got, want := mustDo(t, turned, "link-seam", "a=front.side", "b=back.side").Project.Seams[0].B[0], mustDo(t, p, "link-seam", "a=front.side", "b=back.side").Project.Seams[0].B[0]; got != want {
		t.Errorf("turned on the bench, the side is sewn to %+v, before to %+v", got, want)
	}
	own := mustDo(t, p, "link-seam", "a=back.middle", "b=back.middle").Project.Seams[0]
	if want := mustDo(t, p, "link-seam", "a=back.middle", "b=back.middle/left").Project.Seams[0]; !reflect.DeepEqual(own.B, want.B) {
		t.Errorf("an edge that is sewn to itself is sewn to %+v, want its mirror image %+v", own.B, want.B)
	}
	given := mustDo(t, p, "link-seam", "a=front.side", "b=back.side", "ends=as-given").Project.Seams[0]
	if given.B[0].Reversed {
		t.Error("the run was turned although it was to stay as given")
	}
}

func TestLinkSeamFindsTheRest(t *testing.T) {
	p := bodice()
	out := mustDo(t, p, "link-seam", "a=front.hem", "b=back.hem/left", "ratio=1.5")
	s := out.Project.Seam(out.Made)
	if s == nil || s.Name != "hem" || s.Fuller != SideA || s.Fullness != Gathers || s.From != 0 || s.To != 1 || !s.BothSides {
		t.Fatalf("%+v", s)
	}
	if out.Step != "Link a seam · hem" {
		t.Errorf("step %q", out.Step)
	}
	middle := mustDo(t, out.Project, "link-seam", "a=back.middle", "b=back.middle/left").Project.Seams[1]
	if middle.BothSides || middle.Fullness != Plain || middle.Ratio != 1 {
		t.Errorf("%+v", middle)
	}
	second := mustDo(t, out.Project, "link-seam", "a=front.side", "b=back.hem").Project.Seams[1]
	if second.Name != "side to hem" || second.Fuller != SideA {
		t.Errorf("%+v", second)
	}
	eased := mustDo(t, out.Project, "edit-seam", "seam=hem", "ratio=1.03", "fullness=ease", "name=waist").Project.Seams[0]
	if eased.Fullness != Ease || eased.Name != "waist" || math.Abs(eased.Ratio-1.03) > 1e-12 || s.Name != "hem" {
		t.Errorf("%+v; before %+v", eased, s)
	}
	if gone := mustDo(t, out.Project, "unlink-seam", "seams=hem").Project; len(gone.Seams) != 0 {
		t.Error("the seam is still there")
	}
}

func TestLinkSeamRefuses(t *testing.T) {
	p := mustDo(t, bodice(), "link-seam", "a=front.side", "b=back.side").Project
	mustRefuse(t, p, "which is a fold", "link-seam", "a=front.fold", "b=back.side")
	mustRefuse(t, p, "not cut in pairs", "link-seam", "a=front.hem/left", "b=back.hem")
	mustRefuse(t, p, "not cut on the fold", "link-seam", "a=front.hem", "b=back.hem/far")
	mustRefuse(t, p, "no such copy", "link-seam", "a=front.hem/2", "b=back.hem")
	mustRefuse(t, p, "there twice", "link-seam", "a=front.hem", "b=front.hem/reversed")
	mustRefuse(t, p, "called side already", "link-seam", "a=front.hem", "b=back.hem", "name=side")
	mustRefuse(t, p, "between 1 and", "link-seam", "a=front.hem", "b=back.hem", "ratio=0.5")
	mustRefuse(t, p, "a plain seam", "link-seam", "a=front.hem", "b=back.hem", "ratio=1.2", "fullness=plain")
	mustRefuse(t, p, "cannot lie from", "link-seam", "a=front.hem", "b=back.hem", "from=0.6", "to=0.4")
	mustRefuse(t, p, "middle of the body", "link-seam", "a=back.middle", "b=back.middle/left", "both-sides=yes")
	// What a seam sews must stay cut.
	mustRefuse(t, mustDo(t, p, "link-seam", "a=back.middle", "b=back.middle/left").Project,
		"take the seam apart", "set-cut", "pieces=back", "way=single")
	mustRefuse(t, p, "is sewn in seam side", "set-kind", "edges=back.side", "kind=fold")
}
