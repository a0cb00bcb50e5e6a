package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// distances returns the least and the largest distance of places along a path, its ends
// left out by a share, from another.
func distances(from, to geom.Path, leave float64) (least, most float64) {
	tape := from.Tape()
	least = math.Inf(1)
	const steps = 40
	for k := range steps + 1 {
		at := tape.Length() * (leave + (1-2*leave)*float64(k)/steps)
		_, d := to.Nearest(from.At(tape.At(at)))
		least, most = min(least, d), max(most, d)
	}
	return least, most
}

// checkLining holds a lining against its shell: every edge lies inside by its width, by
// distances sampled along it, and what is not moved is the very line.
func checkLining(t fataler, shell, made *Piece, inside func(e *Edge) float64) {
	t.Helper()
	whole := shell.DrawnPath()
	for i := range shell.Edges {
		e := &shell.Edges[i]
		mine, k := made.Edge(made.ID + "." + e.ID)
		if mine == nil {
			t.Fatalf("the lining has no edge %s", e.label())
		}
		want := inside(e)
		least, most := distances(made.EdgePath(k), shell.EdgePath(i), 0.02)
		if want == 0 && most > 1e-5 {
			t.Fatalf("edge %s should be equal and is off by %g", e.label(), most)
		}
		// Beyond the ends of a shell's edge the line is run on.
		if math.Abs(least-want) > geom.ParallelTolerance+1e-6 {
			t.Fatalf("edge %s lies %g to %g inside, want %g", e.label(), least, most, want)
		}
		for _, part := range made.EdgeParts(k) {
			for j := range 21 {
				q := part.At(part.AtLength(part.Length() * float64(j) / 20))
				if _, d := whole.Nearest(q); d > 1e-5 && !whole.Contains(q) {
					t.Fatalf("edge %s of the lining lies outside the shell by %g", e.label(), d)
				}
			}
		}
	}
}

func TestLiningOfTheVest(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	out := mustDo(t, p, "line-piece", "piece=Back")
	back := madeBy(t, out)
	out = mustDo(t, out.Project, "line-piece", "piece=Front")
	front, p := madeBy(t, out), out.Project
	if front.Layer != Lining || front.Name != "Front lining" || front.Cut.Way != CutOnFold || back.Cut.Way != CutPairs {
		t.Errorf("%+v", front)
	}
	inside := func(e *Edge) float64 {
		switch e.Name {
		case "neck", "armhole":
			return 0.75
		case "hem":
			return e.Allowance.Widest() / 2
		}
		return 0
	}
	checkLining(t, roleOf(p, "front"), front, inside)
	// The measures change: shell and lining go together.
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=bust_girth", "value=300mm").Project
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=waist_girth", "value=240mm").Project
	checkLining(t, roleOf(p, "front"), p.Piece(front.ID), inside)
	// And what is sewn is as long as it was meant, edge by edge.
	p = mustDo(t, p, "set-lining", "edges=Front lining.neck", "inside=2mm").Project
	checkLining(t, roleOf(p, "front"), p.Piece(front.ID), func(e *Edge) float64 {
		if e.Name == "neck" {
			return 2
		}
		return inside(e)
	})
}

// The seams that lining records hold without being touched, and so they do after the
// measures have changed.
func TestSeamsOfALinedBodiceHold(t *testing.T) {
	p := bodiceFor(t)
	for _, name := range []string{"Front", "Back"} {
		p = mustDo(t, p, "line-piece", "piece="+name).Project
	}
	hold := func(p *Project) {
		t.Helper()
		for _, s := range p.Seams {
			if st, err := NewSlots().SeamState(p, s); err != nil || !st.Holds {
				t.Errorf("seam %s: %+v %v", s.Name, st, err)
			}
		}
		for _, f := range NewSlots().Check(p).Findings {
			if f.Level == Problem || strings.Contains(f.Key, "twice") || strings.Contains(f.Key, "/behind") {
				t.Errorf("%s: %s", f.About, f.Says)
			}
		}
	}
	hold(p)
	var names []string
	for _, s := range p.Seams {
		names = append(names, s.Name)
	}
	t.Log(names)
	for _, want := range []string{"neck of Front to lining", "armhole of Back to lining", "side lining", "shoulder lining"} {
		if !strings.Contains(strings.Join(names, ","), want) {
			t.Errorf("no seam %s", want)
		}
	}
	for _, m := range [][2]string{{"bust_girth", "300mm"}, {"waist_girth", "260mm"}, {"belly_girth", "290mm"}, {"back_waist_length", "110mm"}} {
		p = mustDo(t, p, "set-measure", "wearer=Quill", "name="+m[0], "value="+m[1]).Project
	}
	hold(p)
}

// A neck that lies farther inside is longer, as any line beside a hollow one is: by its
// distance times the angle through which it turns, less what its ends are shortened by
// (geometry). Recording the seam says so, and says it where that is more than eases in.
func TestALiningThatIsLongerAtTheNeckIsToldToBeEased(t *testing.T) {
	p := bodiceFor(t)
	for inside, beyond := range map[string]bool{"0.75mm": false, "4mm": true} {
		out := mustDo(t, p, "line-piece", "piece=Front", "inside="+inside)
		s := out.Project.Seam(seamCalled(t, out.Project, "neck of Front to lining"))
		all := strings.Join(out.Says, " ")
		if s.Fullness != Ease || s.Fuller != SideB || (s.Ratio > easeTo) != beyond {
			t.Errorf("%s: seam %+v", inside, s)
		}
		if !strings.Contains(all, "Along neck of Front to lining Front lining is ") || strings.Contains(all, "more than eases in unseen") != beyond {
			t.Errorf("%s: it says %q", inside, all)
		}
	}
}

// From a sleeve at 1:12 to a cloak of 3 m: the lining lies inside by its widths.
func TestLiningAtAnyScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body := drawBody(t, "body")
		p := twoBodies(t, body, body)
		p.Seams = nil
		for _, role := range []string{"front", "back"} {
			shell := roleOf(p, role)
			size := body.length
			in := toGrid(rapid.Float64Range(0, size/60).Draw(t, "inside"))
			hem := toGrid(rapid.Float64Range(0, size/10).Draw(t, "hem"))
			how := lining{inside: make(map[ID]float64)}
			for _, e := range shell.Edges {
				switch e.Name {
				case "neck", "armhole":
					how.inside[e.ID] = in
				case "hem":
					how.inside[e.ID] = hem
				}
			}
			_, made, err := p.link(shell.ID, how)
			if err != nil {
				t.Fatal(err)
			}
			checkLining(t, shell, made, func(e *Edge) float64 {
				if how.inside[e.ID] < leastInset {
					return 0
				}
				return how.inside[e.ID]
			})
			for _, d := range made.Darts {
				from, _, _ := made.Node(d.From)
				leg := geom.Line(d.Apex, nodeOf(shell, strings.TrimPrefix(string(d.From), string(made.ID)+".")))
				if _, off := leg.Nearest(from.At); off > 1e-5 {
					t.Fatalf("the mouth of the dart is %g off its leg", off)
				}
			}
		}
	})
}

func nodeOf(p *Piece, id string) geom.Point {
	n, _, _ := p.Node(ID(id))
	return n.At
}

// Where two neighbours have moved past each other nothing is left of the line between them.
func TestNothingLeftBetweenNeighbours(t *testing.T) {
	line := geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(10, 0)), geom.Line(geom.Pt(10, 0), geom.Pt(20, 0))}
	if got := cutOff(line, geom.Path{geom.Line(geom.Pt(15, 0), geom.Pt(5, 0))}); len(got) > 0 {
		t.Errorf("%v is left", got)
	}
	if got := cutOff(line, geom.Path{geom.Line(geom.Pt(5, 0), geom.Pt(15, 0))}); math.Abs(got.Length()-10) > 1e-9 {
		t.Errorf("%v is left", got)
	}
}
