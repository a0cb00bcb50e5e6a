package draft

import (
	"math"
	"strings"
	"testing"
)

// gatheredTo returns a project in which the second square, of a cloth, is sewn to the
// first of 100 mm.
func gatheredTo(ratio float64, kind Fullness, cloth *Cloth) *Project {
	a, b := square("a", 100, 6), square("b", 100*ratio, 6)
	p := projectOf(a, b)
	if cloth != nil {
		cloth.ID = "c1"
		p.Cloths = []*Cloth{cloth}
		a.Cloth, b.Cloth = "c1", "c1"
	}
	seam := seamBetween(a, b, 0, ratio)
	seam.Fullness = kind
	p.Seams = []*Seam{seam}
	return p
}

// seamFindings returns the last words of the keys of what is found about seams.
func seamFindings(p *Project) []string {
	var out []string
	for _, f := range NewSlots().Check(p).Findings {
		if rest, ok := strings.CutPrefix(f.Key, "seam/s1/"); ok {
			out = append(out, rest+" "+f.Level.String())
		}
	}
	return out
}

// The rules of scale (common practice, no source): quilting cotton up to 1.5, lawn 1.5
// to 2, sheers 2 to 3, under 1.3 a pucker; ease above 4 % reads as gathers. Pleats that
// touch take three times their length (Hapgood, School Needlework, 1893). Crisp silk
// gathers at 2 and limp chiffon at 3 (The New Dressmaker, 1921, chapter 28).
func TestFullnessAgainstCloth(t *testing.T) {
	named := func(name string) *Cloth { return &Cloth{Name: name} }
	thick := func(mm float64) *Cloth { return &Cloth{Name: "bolt 3", Thickness: mm} }
	for _, c := range []struct {
		name  string
		ratio float64
		kind  Fullness
		cloth *Cloth
		want  string
	}{
		{"cotton as the rule has it", 1.5, Gathers, named("quilting cotton"), ""},
		{"cotton too full", 2, Gathers, named("quilting cotton"), "too full look again"},
		{"a pucker", 1.2, Gathers, named("quilting cotton"), "pucker look again"},
		{"lawn", 1.8, Gathers, named("white lawn"), ""},
		{"lawn too little", 1.4, Gathers, named("white lawn"), "skimpy note"},
		{"taffeta at 2", 2, Gathers, named("Taffeta, plum"), ""},
		{"chiffon at 3", 3, Gathers, named("silk chiffon"), ""},
		{"chiffon at 3.5", 3.5, Gathers, named("silk chiffon"), "too full look again"},
		{"felt", 1.5, Gathers, named("wool felt"), "stiff look again"},
		{"felt pleated", 2, Pleats, named("wool felt"), ""},
		{"no cloth, too full", 2, Gathers, nil, "too full note"},
		{"no cloth", 1.5, Gathers, nil, ""},
		{"thin without a name", 2, Gathers, thick(0.2), ""},
		{"thick without a name", 1.5, Gathers, thick(1.4), "stiff look again"},
		{"pleats that touch", 3, Pleats, named("linen"), ""},
		{"pleats that lie over each other", 4, Pleats, named("linen"), "deep pleats look again"},
		{"ease", 1.04, Ease, named("linen"), ""},
		{"too much ease", 1.06, Ease, named("linen"), "ease look again"},
		// 0.9 x 1.5 x 2 layers are 2.7 mm, in an allowance of 6.
		{"bulk that goes", 1.5, Gathers, &Cloth{Name: "linen", Thickness: 0.9}, ""},
		{"bulk", 1.9, Gathers, &Cloth{Name: "lawn", Thickness: 0.9}, "bulk look again"},
	} {
		if got := strings.Join(seamFindings(gatheredTo(c.ratio, c.kind, c.cloth)), ", "); got != c.want {
			t.Errorf("%s: found %q, want %q", c.name, got, c.want)
		}
	}
}

// Each mend of what is found about fullness puts it right, and what remains is no graver.
func TestFullnessMends(t *testing.T) {
	cotton, lawn, felt := &Cloth{Name: "quilting cotton"}, &Cloth{Name: "lawn", Thickness: 0.9}, &Cloth{Name: "felt"}
	for _, c := range []struct {
		name  string
		make  func() *Project
		mends int
	}{
		{"too full", func() *Project { return gatheredTo(2.2, Gathers, cotton) }, 2},
		{"far too full", func() *Project { return gatheredTo(4, Gathers, cotton) }, 1},
		{"pucker", func() *Project { return gatheredTo(1.2, Gathers, cotton) }, 2},
		{"skimpy", func() *Project { return gatheredTo(1.4, Gathers, &Cloth{Name: "lawn"}) }, 1},
		{"stiff", func() *Project { return gatheredTo(1.5, Gathers, felt) }, 1},
		{"ease", func() *Project { return gatheredTo(1.07, Ease, cotton) }, 1},
		{"much ease", func() *Project { return gatheredTo(1.35, Ease, cotton) }, 2},
		{"deep pleats", func() *Project { return gatheredTo(4, Pleats, cotton) }, 1},
		{"bulk", func() *Project { return gatheredTo(1.9, Gathers, lawn) }, 1},
		{"no room", func() *Project {
			p := gatheredTo(1.3, Gathers, cotton)
			s := *p.Seams[0]
			s.To = 0.1
			p.Seams = []*Seam{&s}
			return p
		}, 1},
		{"in a stretch", func() *Project {
			p := gatheredTo(1.5, Gathers, cotton)
			s := *p.Seams[0]
			s.From, s.To = 0.2, 0.8
			p.Seams = []*Seam{&s}
			return p
		}, 2},
		{"rows", func() *Project {
			p := gatheredTo(1.5, Gathers, cotton)
			q := p.Pieces[1].clone()
			q.Edges[0].Allowance = Even(3)
			p.Pieces[1] = q
			return p
		}, 1},
	} {
		p := c.make()
		var found []Finding
		for _, f := range NewSlots().Check(p).Findings {
			if strings.HasPrefix(f.Key, "seam/") {
				found = append(found, f)
			}
		}
		if len(found) != 1 || len(found[0].Mends) != c.mends {
			t.Errorf("%s: %d found, first %+v", c.name, len(found), found)
			continue
		}
		for _, m := range found[0].Mends {
			out, err := p.Do(m)
			if err != nil {
				t.Errorf("%s: %s: %v", c.name, m.Title, err)
				continue
			}
			for _, f := range NewSlots().Check(out.Project).Findings {
				if f.Key == found[0].Key || strings.HasPrefix(f.Key, "seam/") && f.Level <= found[0].Level && f.Level != Remark {
					t.Errorf("%s: %s leaves: %s: %s", c.name, m.Title, f.Level, f.Says)
				}
			}
		}
	}
}

// Straight strips get longer or shorter as strips: their ends stay square and the other
// long edge gets as long.
func TestSetFullnessOfStrips(t *testing.T) {
	p := gatheredTo(1.4, Gathers, &Cloth{Name: "calico", Width: 1000})
	for _, ratio := range []string{"1.5", "1.3", "2"} {
		out := mustDo(t, p, "set-fullness", "seam=s1", "ratio="+ratio)
		q := out.Project.Pieces[1]
		if out.Project.Pieces[0] != p.Pieces[0] {
			t.Error("the other side has changed")
		}
		want, _ := ParseNumber(ratio)
		if a, b := q.EdgeLength(0), q.EdgeLength(2); math.Abs(a-100*want) > 1e-5 || math.Abs(a-b) > 1e-5 || math.Abs(q.EdgeLength(1)-140) > 1e-6 {
			t.Errorf("to %s: %g and %g long, %g wide", ratio, a, b, q.EdgeLength(1))
		}
		if s := out.Project.Seams[0]; s.Ratio != want {
			t.Errorf("the seam means %g", s.Ratio)
		}
	}
	mustRefuse(t, p, "match already", "set-fullness", "seam=s1")
	mustRefuse(t, p, "ratio", "set-fullness", "seam=s1", "ratio=0.5")
	plain := mustDo(t, p, "set-fullness", "seam=s1", "ratio=1").Project
	if s := plain.Seams[0]; s.Fullness != Plain || math.Abs(plain.Pieces[1].EdgeLength(0)-100) > 1e-5 {
		t.Errorf("plain: %s, %g", s.Fullness, plain.Pieces[1].EdgeLength(0))
	}
}

// A piece that is no strip is spread, and what it was meant to be short of is put right.
func TestSetFullnessOfAnotherShape(t *testing.T) {
	p := gatheredTo(1.4, Gathers, &Cloth{Name: "calico"})
	q := p.Pieces[1].clone()
	q.Edges[2].Nodes[0].At.X += 12
	p.Pieces[1] = q
	out := mustDo(t, p, "set-fullness", "seam=s1", "ratio=1.5")
	st, err := NewSlots().SeamState(out.Project, out.Project.Seams[0])
	if err != nil || math.Abs(st.Diff) > MatchedTo || st.Want != 1.5 {
		t.Errorf("%+v, %v", st, err)
	}
	if math.Abs(out.Project.Pieces[1].EdgeLength(2)-q.EdgeLength(2)) > 0.01 {
		t.Error("the edge across has changed its length")
	}
}

// Fullness that lies in a stretch is denser there than over the whole.
func TestFullnessInAStretch(t *testing.T) {
	p := gatheredTo(1.25, Gathers, &Cloth{Name: "calico"})
	seam := *p.Seams[0]
	p.Seams = []*Seam{&seam}
	// 125 mm flat to 100; the middle 75 of them to 50.
	seam.From, seam.To = 0.2, 0.8
	list := NewSlots().Fullnesses(p)
	if len(list) != 1 {
		t.Fatalf("%d states", len(list))
	}
	f := list[0]
	for _, v := range [][2]float64{{f.Flat, 75}, {f.Drawn, 50}, {f.Ratio, 1.5}, {f.Want, 1.5}, {f.From, 25}, {f.To, 100}, {f.Fuller, 125}, {f.Other, 100}} {
		if math.Abs(v[0]-v[1]) > 1e-9 {
			t.Errorf("%g, worked by hand %g", v[0], v[1])
		}
	}
	if got := seamFindings(p); len(got) != 0 {
		t.Errorf("found %v: at 1.5 calico gathers well", got)
	}
	seam.From, seam.To = 0, 0.15
	if got := strings.Join(seamFindings(p), ", "); got != "no room problem" {
		t.Errorf("found %q: 106 mm of 125 lie flat on 100", got)
	}
	if f := NewSlots().Fullnesses(p)[0]; f.Drawn != 0 || !math.IsInf(f.Want, 1) {
		t.Errorf("drawn to %g at %g", f.Drawn, f.Want)
	}
}

func TestEaseAtASmallScale(t *testing.T) {
	p := gatheredTo(1.035, Ease, &Cloth{Name: "poplin"})
	if got := seamFindings(p); len(got) != 0 {
		t.Errorf("found %v for nobody", got)
	}
	p.Wearers = []*Wearer{{ID: "w1", Name: "doll", Measures: []Measure{{Name: "stature", Value: 290}}}}
	if got := strings.Join(seamFindings(p), ", "); got != "ease note" {
		t.Errorf("found %q", got)
	}
	p.Wearers = []*Wearer{{ID: "w1", Name: "tall", Measures: []Measure{{Name: "stature", Value: 1700}}}}
	if got := seamFindings(p); len(got) != 0 {
		t.Errorf("found %v for a person", got)
	}
}

func TestGatheredEdgeNeedsRoomForStitches(t *testing.T) {
	p := gatheredTo(1.5, Gathers, &Cloth{Name: "calico"})
	piece := p.Pieces[1].clone()
	piece.Edges[0].Allowance = Even(3)
	p.Pieces[1] = piece
	if got := strings.Join(seamFindings(p), ", "); got != "rows note" {
		t.Errorf("found %q", got)
	}
	piece.Edges[0].Allowance = Allowance{Start: 6, End: 6, TrimTo: 3}
	if got := seamFindings(p); len(got) != 0 {
		t.Errorf("found %v", got)
	}
}

func TestWeightOfCloth(t *testing.T) {
	for _, c := range []struct {
		cloth Cloth
		want  ClothWeight
		by    KnownBy
	}{
		{Cloth{Name: "Silk velvet"}, Heavy, ByName},
		{Cloth{Name: "silk organza"}, Sheer, ByName},
		{Cloth{Name: "cotton lawn"}, Light, ByName},
		{Cloth{Name: "washed linen", Thickness: 0.4}, Medium, ByName},
		{Cloth{Name: "linen, doubled", Thickness: 1.2}, Heavy, ByThickness},
		{Cloth{Name: "from the attic", Thickness: 0.1}, Sheer, ByThickness},
		{Cloth{Name: "from the attic", Thickness: 0.3}, Medium, ByThickness},
		{Cloth{Name: "netsuke print"}, Medium, ByNothing},
		{Cloth{}, Medium, ByNothing},
	} {
		if w, by := WeightOf(&c.cloth); w != c.want || by != c.by {
			t.Errorf("%q of %g mm: %s by %d", c.cloth.Name, c.cloth.Thickness, w, by)
		}
	}
}
