package draft

import (
	"math"
	"strings"
	"testing"
)

func TestRatioAsItIs(t *testing.T) {
	start := sewnBodice(t)
	for _, tc := range []struct {
		name, args string
		prepare    []string
		want       Seam
	}{
		{"a little more is eased", "", nil, Seam{Ratio: 83. / 80, Fuller: SideA, Fullness: Ease, To: 1}},
		{"as gathers, where that is said", "fullness=gathers", nil, Seam{Ratio: 83. / 80, Fuller: SideA, Fullness: Gathers, To: 1}},
		{"much more is gathered", "", []string{"move-nodes", `nodes=front."front.n1"`, "by=0mm,-7mm"}, Seam{Ratio: 90. / 80, Fuller: SideA, Fullness: Gathers, To: 1}},
		{"what was gathered stays so", "", []string{"edit-seam", "seam=side", "ratio=1.5", "fuller=a", "fullness=pleats", "from=0.2", "to=0.7"}, Seam{Ratio: 83. / 80, Fuller: SideA, Fullness: Pleats, From: 0.2, To: 0.7}},
		{"the other side is the fuller one now", "", []string{"edit-seam", "seam=side", "ratio=1.5", "fuller=b", "fullness=gathers", "from=0.2", "to=0.7"}, Seam{Ratio: 83. / 80, Fuller: SideA, Fullness: Gathers, To: 1}},
		{"sides of one length are plain", "", []string{"match-seam", "seam=side"}, Seam{Ratio: 1, Fuller: SideA, Fullness: Plain, To: 1}},
	} {
		p := start
		if tc.prepare != nil {
			p = mustDo(t, p, tc.prepare[0], tc.prepare[1:]...).Project
		}
		args := []string{"seam=side"}
		if tc.args != "" {
			args = append(args, tc.args)
		}
		out := mustDo(t, p, "ratio-as-it-is", args...)
		got := out.Project.Seam(out.Made)
		if math.Abs(got.Ratio-tc.want.Ratio) > 1e-7 || got.Fuller != tc.want.Fuller || got.Fullness != tc.want.Fullness || got.From != tc.want.From || got.To != tc.want.To {
			t.Errorf("%s: %+v, want %+v", tc.name, got, tc.want)
		}
		if st, err := NewSlots().SeamState(out.Project, got); err != nil || math.Abs(st.Diff) > 1e-6 {
			t.Errorf("%s: off by %g, %v", tc.name, st.Diff, err)
		}
		for i := range p.Pieces {
			if p.Pieces[i] != out.Project.Pieces[i] {
				t.Errorf("%s: %s changed", tc.name, p.Pieces[i].Name)
			}
		}
	}
}

func TestTakeUpAsEaseOrGathers(t *testing.T) {
	p := sewnBodice(t)
	for _, tc := range []struct {
		as   string
		kind Fullness
	}{{"ease", Ease}, {"gathers", Gathers}} {
		out := mustDo(t, p, "take-up", "seam=side", "as="+tc.as, "from=0.25", "to=0.5")
		s := out.Project.Seam(out.Made)
		if s.Fullness != tc.kind || s.Fuller != SideA || math.Abs(s.Ratio-83./80) > 1e-9 || s.From != 0.25 || s.To != 0.5 {
			t.Errorf("%s: %+v", tc.as, s)
		}
	}
}

// What is taken up as a dart is exactly what the side was too long, on curves as well, and
// the seam means what it meant.
func TestTakeUpAsDart(t *testing.T) {
	for _, tc := range []struct {
		name       string
		prepare    [][]string
		args       []string
		edge       string
		fullerSide string
	}{
		{"in a straight side", nil, nil, "front.side", ""},
		{"far down, at a length", nil, []string{"at=20mm from end", "length=18mm"}, "front.side", ""},
		{"in a curved side", [][]string{{"bend-edge", "edge=front.side", "at=50%", "to=66mm,40mm"}}, []string{"at=40%"}, "front.side", ""},
		{"in the fuller side", [][]string{{"edit-seam", "seam=side", "ratio=1.02", "fuller=a", "fullness=ease"}}, nil, "front.side", ""},
		{"in the other side, which is too long for the fuller one", [][]string{{"edit-seam", "seam=side", "ratio=1.03", "fuller=b", "fullness=ease"}}, nil, "front.side", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := sewnBodice(t)
			for _, act := range tc.prepare {
				p = mustDo(t, p, act[0], act[1:]...).Project
			}
			was := p.Seams[0]
			out := mustDo(t, p, "take-up", append([]string{"seam=side", "as=dart"}, tc.args...)...)
			q := out.Project
			s := q.Seam(was.ID)
			if s.Ratio != was.Ratio || s.Fuller != was.Fuller || s.Fullness != was.Fullness {
				t.Errorf("the seam means %+v, meant %+v", s, was)
			}
			full, other := chords(t, q, "back.side"), chords(t, q, "front.side")
			if s.Fuller == SideA {
				full, other = other, full
			}
			wantNear(t, "the fuller side", full, s.Ratio*other, 1e-4)
			front := q.Piece("front")
			if len(front.Darts) != 1 {
				t.Fatalf("%d darts", len(front.Darts))
			}
			m, _ := front.mouthAt(&front.Darts[0])
			wantNear(t, "its second leg", m.to.Dist(front.Darts[0].Apex), m.from.Dist(front.Darts[0].Apex), 1e-5)
			if q.Piece("back") != p.Piece("back") {
				t.Error("the back changed")
			}
		})
	}
}

// A dart in an edge that is sewn on both halves takes up twice.
func TestTakeUpAsDartCountsCopies(t *testing.T) {
	p := bodice()
	p = mustDo(t, p, "set-kind", "edges=front.hem", "kind=seam").Project
	band := square("band", 110, 5)
	q := *p
	q.Pieces = append(q.Pieces, band)
	p = mustDo(t, &q, "link-seam", "a=front.hem + front.hem/far", "b=band.e0", "ends=as-given", "name=waist").Project
	out := mustDo(t, p, "take-up", "seam=waist", "as=dart", "at=30%")
	wantNear(t, "half the waist", chords(t, out.Project, "front.hem"), 55, 1e-5)
	if n := len(out.Project.Piece("front").Darts); n != 1 {
		t.Errorf("%d darts", n)
	}
}

func TestTakeUpRefuses(t *testing.T) {
	p := sewnBodice(t)
	matched := mustDo(t, p, "match-seam", "seam=side").Project
	for _, tc := range []struct {
		p    *Project
		args []string
		says string
	}{
		{matched, []string{"seam=side", "as=dart"}, "match already"},
		{matched, []string{"seam=side", "as=ease"}, "match already"},
		{p, []string{"seam=side", "as=dart", "at=90mm"}, "no place at 90 mm"},
		{p, []string{"seam=side", "as=plain"}, "plain"},
		{p, []string{"seam=side", "as=gathers", "from=0.9", "to=0.1"}, "from 0.9 to 0.1"},
		{mustDo(t, p, "lock-pieces", "pieces=front").Project, []string{"seam=side", "as=dart"}, "locked"},
	} {
		a, _ := ActNamed("take-up")
		if _, err := a.DoText(tc.p, pairs(tc.args)); err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%v: %v, want %q", tc.args, err, tc.says)
		}
	}
	a, _ := ActNamed("ratio-as-it-is")
	if _, err := a.DoText(p, pairs([]string{"seam=side", "fullness=plain"})); err == nil {
		t.Error("sides of two lengths are plain")
	}
}
