package draft

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// gore is a panel that is wider below: hem e0, one side e1 up, waist e2, the other side e3
// down.
func gore(name string, way CutWay, count int) *Piece {
	p := polygonPiece(name, 8, geom.Pt(-40, 0), geom.Pt(40, 0), geom.Pt(25, 150), geom.Pt(-25, 150))
	p.Edges[0].Kind, p.Edges[0].Allowance = HemEdge, Even(12)
	p.Cut = CutRule{Way: way, Count: count}
	return p
}

// godetChecked lets a godet in and proves what always holds: all seams hold, outlines stay
// where they were, the point is marked on both sides.
func godetChecked(t fataler, p *Project, args ...string) Outcome {
	t.Helper()
	out := do(t, p, InsertGodet, args...)
	if err := Validate(out.Project); err != nil {
		t.Fatal(err)
	}
	r := NewSlots().Check(withCloth(out.Project))
	if len(r.Seams) != len(out.Project.Seams) {
		t.Fatalf("%d of %d seams stand", len(r.Seams), len(out.Project.Seams))
	}
	for _, s := range r.Seams {
		if !s.Holds {
			t.Fatalf("seam %s: %v to %v at %v", s.Seam.Name, s.A, s.B, s.Want)
		}
	}
	for _, old := range p.Pieces {
		now := out.Project.Piece(old.ID)
		if d := math.Abs(now.DrawnPath().Area() - old.DrawnPath().Area()); d > 1e-3 {
			t.Fatalf("%s has %v mm² more or less", old.Name, d)
		}
	}
	return out
}

// points returns the reinforcement points of a piece.
func points(p *Piece) []geom.Point {
	var list []geom.Point
	for _, l := range p.Lines {
		if l.Kind == ReinforcePoint {
			list = append(list, l.Nodes[0].At)
		}
	}
	return list
}

// The side of a gore is sqrt(15² + 150²) long; a godet to a depth has sides of just that
// depth, and the seam is shorter by it.
func TestGodetInTheSeamBetweenTwoPieces(t *testing.T) {
	long := math.Hypot(15, 150)
	rapid.Check(t, func(t *rapid.T) {
		ways := []CutWay{CutSingle, CutPairs}
		a, b := gore("front", rapid.SampledFrom(ways).Draw(t, "front"), 1), gore("back", rapid.SampledFrom(ways).Draw(t, "back"), 1)
		use := rapid.SampledFrom([]string{"e3", "e1"}).Draw(t, "edge")
		if a.Cut.Way == CutSingle && b.Cut.Way == CutSingle {
			use = "e3" // hem is sewn to hem
		}
		p := do(t, projectOf(a, b), LinkSeam, "a=front.e1", "b=back."+use, "name=side").Project
		depth := rapid.Float64Range(20, 120).Draw(t, "depth")
		at := rapid.SampledFrom([]string{
			fmt.Sprintf("at=front.e1@%.6fmm", depth), "at=front.e0@2mm from end|depth", "at=back." + use + "@30%|depth",
		}).Draw(t, "at")
		if strings.HasSuffix(at, "back.e3@30%|depth") {
			at = "at=back.e3@70%|depth" // runs down to the hem
		}
		at, byDepth := strings.CutSuffix(at, "|depth")
		args := []string{at, "width=60mm"}
		if byDepth {
			args = append(args, fmt.Sprintf("depth=%.6fmm", depth))
		}
		out := godetChecked(t, p, args...)
		godet := out.Project.Piece(out.Made)
		for i := 1; i < 3; i++ {
			if got := godet.EdgeLength(i); math.Abs(got-depth) > 1e-4 {
				t.Fatalf("a side of %v, want %v", got, depth)
			}
		}
		if got := out.Project.runLength(out.Project.Seams[0].A); math.Abs(got-(long-depth)) > 1e-4 {
			t.Fatalf("the seam is %v long, want %v", got, long-depth)
		}
		both := p.Seams[0].BothSides
		if (godet.Cut.Way == CutPairs) != both {
			t.Fatalf("the godet is cut %v and the seam stands for both sides: %v", godet.Cut, both)
		}
		for _, s := range out.Project.Seams {
			if s.BothSides != both {
				t.Fatalf("seam %s stands for both sides: %v", s.Name, s.BothSides)
			}
		}
		for _, id := range []ID{"front", "back"} {
			if got := points(out.Project.Piece(id)); len(got) != 1 {
				t.Fatalf("%s has the points %v", id, got)
			}
		}
		if got, want := points(out.Project.Piece("front"))[0], geom.Pt(40, 0).Lerp(geom.Pt(25, 150), depth/long); got.Dist(want) > 1e-4 {
			t.Fatalf("the point is at %v, want %v", got, want)
		}
	})
}

// A skirt of six like gores: each of its six seams gets a godet, or the one that is named.
func TestGodetsBetweenSixGores(t *testing.T) {
	p := projectOf(gore("gore", CutSingle, 6))
	for n := 1; n <= 6; n++ {
		p = do(t, p, LinkSeam, fmt.Sprintf("a=gore.e1/%d", n), fmt.Sprintf("b=gore.e3/%d", n%6+1), fmt.Sprintf("name=seam %d", n)).Project
	}
	out := godetChecked(t, p, "at=gore.e1@60mm")
	godet := out.Project.Piece(out.Made)
	if godet.Cut != (CutRule{Way: CutSingle, Count: 6}) || len(out.Project.Seams) != 18 {
		t.Errorf("cut %v, %d seams", godet.Cut, len(out.Project.Seams))
	}
	sewn := map[EdgeUse]bool{}
	for _, s := range out.Project.Seams {
		for _, u := range slices.Concat(s.A, s.B) {
			u.Reversed = false
			if sewn[u] {
				t.Errorf("%v is sewn twice", u)
			}
			sewn[u] = true
		}
	}
	one := godetChecked(t, p, "at=gore.e1@60mm", "seam=seam 3")
	if got := one.Project.Piece(one.Made).Cut.Count; got != 1 || len(one.Project.Seams) != 8 {
		t.Errorf("%d godets, %d seams", got, len(one.Project.Seams))
	}
	// The next goes up to the corners that the first has made, and leaves the project that
	// it is done on as it was.
	pieces, seams := len(one.Project.Pieces), len(one.Project.Seams)
	two := godetChecked(t, one.Project, "at=gore.e1@1mm", "depth=60mm", "seam=seam 4")
	if len(one.Project.Pieces) != pieces || len(one.Project.Seams) != seams {
		t.Error("the project before was changed")
	}
	if got := len(points(two.Project.Piece("gore"))); got != 2 {
		t.Errorf("%d points are marked, want one on each side", got)
	}
}

// At the centre back a piece is sewn to its own mirror image, or to its own other half:
// one godet, and one mark, which its mirror image has as well.
func TestGodetAtTheCentreBack(t *testing.T) {
	for _, c := range []struct {
		name  string
		way   CutWay
		b     string
		edges int
	}{{"a pair", CutPairs, "back.e1/left", 5}, {"on the fold", CutOnFold, "back.e1/far", 5}} {
		a := gore("back", c.way, 1)
		if c.way == CutOnFold {
			a.Edges[3].Kind, a.Edges[3].Allowance = FoldEdge, Allowance{}
		}
		p := do(t, projectOf(a), LinkSeam, "a=back.e1", "b="+c.b, "name=centre back").Project
		out := godetChecked(t, p, "at=back.e1@70mm", "shape=wedge", "width=50mm")
		godet := out.Project.Piece(out.Made)
		back := out.Project.Piece("back")
		if godet.Cut != (CutRule{Way: CutSingle, Count: 1}) || len(back.Edges) != c.edges || len(points(back)) != 1 {
			t.Errorf("%s: cut %v, %d edges, %d points", c.name, godet.Cut, len(back.Edges), len(points(back)))
		}
		var texts []string
		for _, s := range out.Project.Seams {
			texts = append(texts, s.Name+": "+out.Project.RunText(s.A)+" = "+out.Project.RunText(s.B))
			if s.BothSides {
				t.Errorf("%s: seam %s stands for both sides", c.name, s.Name)
			}
		}
		other := strings.TrimPrefix(c.b, "back.e1")
		want := []string{
			"centre back: back.e1 2 = back.e1 2" + other,
			"Godet, left: back.e1/reversed = Godet.left", "Godet, right: back.e1" + other + "/reversed = Godet.right/reversed",
		}
		if !slices.Equal(texts, want) {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, strings.Join(texts, "\n"), strings.Join(want, "\n"))
		}
	}
}

// The fuller side of an eased seam has a longer side of the godet where the fullness lies
// below its point, and the seam above holds with what is left of it.
func TestGodetInAnEasedSeam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := gore("front", CutPairs, 1), gore("back", CutPairs, 1)
		b.Edges[2].Nodes[0].At.Y += rapid.Float64Range(2, 8).Draw(t, "extra")
		b.Edges[3].Nodes[0].At.Y = b.Edges[2].Nodes[0].At.Y
		la, lb := a.EdgeLength(1), b.EdgeLength(3)
		from := rapid.Float64Range(0, 0.6).Draw(t, "from")
		to := from + rapid.Float64Range(0.2, 1-from).Draw(t, "length")
		p := do(t, projectOf(a, b), LinkSeam, "a=front.e1", "b=back.e3", fmt.Sprintf("ratio=%.9f", lb/la),
			"fullness=ease", fmt.Sprintf("from=%.6f", from), fmt.Sprintf("to=%.6f", to)).Project
		out := godetChecked(t, p, fmt.Sprintf("at=front.e1@%.6fmm", rapid.Float64Range(20, 120).Draw(t, "depth")))
		godet := out.Project.Piece(out.Made)
		s := out.Project.Seams[0]
		sides := godet.EdgeLength(1) + godet.EdgeLength(2)
		if got := out.Project.runLength(s.A) + out.Project.runLength(s.B) + sides; math.Abs(got-la-lb) > 1e-3 {
			t.Fatalf("seam and sides are %v long, want %v", got, la+lb)
		}
		if s.Ratio < 1 || s.Ratio > lb/la*4 {
			t.Fatalf("the seam above has the ratio %v, it had %v", s.Ratio, lb/la)
		}
	})
}

func TestGodetInASeamRefusesWhatCannotBe(t *testing.T) {
	a, b, c := gore("front", CutSingle, 1), gore("back", CutSingle, 1), gore("yoke", CutSingle, 1)
	p := do(t, projectOf(a, b, c), LinkSeam, "a=front.e1", "b=back.e3", "name=side").Project
	p = do(t, p, LinkSeam, "a=front.e0", "b=yoke.e2", "ratio=1.2", "fullness=gathers").Project
	p = do(t, p, LinkSeam, "a=front.e2", "b=yoke.e0", "ratio=1.2", "fullness=gathers").Project
	for _, c := range []struct{ args, says string }{
		{"at=front.e1@60mm", "ends nowhere at an edge that hangs free"}, {"at=back.e3@60mm|depth=300mm", "ends nowhere"},
		{"at=yoke.e2@20mm|depth=70mm|seam=side", "not sewn in the seam"},
	} {
		_, err := InsertGodet.DoText(p, argsOf(strings.Split(c.args, "|")))
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.args, err, c.says)
		}
	}
}
