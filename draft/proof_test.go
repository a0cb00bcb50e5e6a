package draft

import (
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

func proofOf(t *testing.T, p *Project, kind ProofKind, name string) Proof {
	t.Helper()
	for _, pr := range NewSlots().Proofs(p) {
		if pr.Kind == kind && strings.Contains(pr.Name, name) {
			return pr
		}
	}
	t.Fatalf("no proof of a %s about %q among %+v", kind, name, NewSlots().Proofs(p))
	return Proof{}
}

// What is worn underneath adds 2 pi times its thickness to what a closed girth needs (rule of
// scale), and what lies over is taken off.
func TestClosedGirthOverLayers(t *testing.T) {
	p := onBody(t, wornTube(t, 400), map[string]float64{"head_girth": 300, "neck_base_girth": 371.2, "stature": 1700})
	neck := func(p *Project) Proof { return proofOf(t, p, ProofGirth, "neck") }
	if pr := neck(p); !pr.Holds || math.Abs(pr.Diff-28.8) > 1e-9 {
		t.Errorf("bare: %+v", pr)
	}
	p = doAct(t, p, "set-worn", map[string]string{"wearer": "Quill", "name": "waistcoat", "thickness": "3mm"})
	p = doAct(t, p, "set-worn", map[string]string{"wearer": "Quill", "name": "shirt", "thickness": "1mm"})
	if pr := neck(p); math.Abs(pr.Need-(371.2+8*math.Pi)) > 1e-9 || !pr.Holds {
		t.Errorf("over two layers: %+v", pr)
	}
	p = doAct(t, p, "edit-seam", map[string]string{"seam": "centre back", "opens": "yes", "lap": "15mm"})
	pr := neck(p)
	if pr.Holds || math.Abs(pr.Have-385) > 1e-9 {
		t.Errorf("with a lap: %+v", pr)
	}
	found := false
	for _, f := range NewSlots().Check(p).Findings {
		found = found || f.Key == pr.Key && f.Level == LookAgain && math.Abs(f.Value+pr.Diff) < 1e-9
	}
	if !found {
		t.Error("no finding tells that it does not close")
	}
}

// A level round which spans stand for the whole girth loses what lies over in a seam that
// opens up to which they run.
func TestLapNarrowsALevel(t *testing.T) {
	p := onBody(t, wornTube(t, 400), map[string]float64{"bust_girth": 390, "head_girth": 300, "stature": 1700})
	for _, name := range []string{"Front", "Back"} {
		q := p.Piece(ID(name)).clone()
		q.Lines = append(q.Lines, Line{ID: ID(name + " bust"), Name: "bust", Kind: StyleLine, Nodes: []Node{
			{ID: ID(name + " l"), At: geom.Pt(0, 150)}, {ID: ID(name + " r"), At: geom.Pt(200, 150)},
		}})
		q.Spans = append(q.Spans, Span{ID: ID(name + " m"), Name: "bust", Measure: "bust_girth", Share: 0.5, Lines: []ID{ID(name + " bust")}})
		p = p.withPiece(q)
	}
	if pr := proofOf(t, p, ProofGirth, "bust"); !pr.Holds || math.Abs(pr.Have-400) > 1e-9 || math.Abs(pr.Diff-10) > 1e-9 {
		t.Errorf("%+v", pr)
	}
	p = doAct(t, p, "edit-seam", map[string]string{"seam": "side", "opens": "yes", "lap": "14mm"})
	if pr := proofOf(t, p, ProofGirth, "bust"); pr.Holds || math.Abs(pr.Have-386) > 1e-9 {
		t.Errorf("with a lap: %+v", pr)
	}
}

// A gown of known length hangs from a nape of known height.
func TestHemAgainstTheGround(t *testing.T) {
	gown := func(napeHeight float64) *Project {
		return onBody(t, wornTube(t, 400), map[string]float64{"neck_height": napeHeight, "stature": 360, "foot_length": 80, "head_girth": 281, "neck_base_girth": 118})
	}
	for _, c := range []struct {
		nape  float64
		holds bool
		level Gravity
		says  string
	}{
		{290, false, LookAgain, "trails"},
		{302, false, LookAgain, "catches the feet"},
		{315, false, Remark, "hides the feet"},
		{340, true, Remark, "40 mm above the ground"},
	} {
		pr := proofOf(t, gown(c.nape), ProofLength, "hem")
		if pr.Holds != c.holds || !c.holds && pr.Level != c.level || !strings.Contains(pr.Says, c.says) {
			t.Errorf("nape at %g: %v %v %s", c.nape, pr.Holds, pr.Level, pr.Says)
		}
	}
}

// A sleeve ends where its length along the grain says, from the top of the cap on; the cuff
// counts with it.
func TestSleeveAgainstTheArm(t *testing.T) {
	smock := func(arm float64) *Project {
		body := [2]*Piece{wornPanel("Front", 200, 300, "hem", "side", "shoulder", "armhole"), wornPanel("Back", 200, 300, "hem", "armhole", "shoulder", "side")}
		sleeve, cuff := wornPanel("Sleeve", 300, 180, "wrist", "seam", "cap", "other seam"), wornPanel("Cuff", 300, 40, "edge", "end", "wrist", "other end")
		p := sewnUp(t, projectOf(body[0], body[1], sleeve, cuff),
			[3]string{"shoulder", "Front.shoulder", "Back.shoulder"}, [3]string{"sleeve", "Sleeve.seam", "Sleeve.other seam"}, [3]string{"cuff ends", "Cuff.end", "Cuff.other end"})
		p = doAct(t, p, "link-seam", map[string]string{"name": "armhole", "a": "Front.armhole + Back.armhole", "b": "Sleeve.cap", "ratio": "2", "fuller": "a"})
		p = doAct(t, p, "link-seam", map[string]string{"name": "cuff", "a": "Sleeve.wrist", "b": "Cuff.wrist"})
		return onBody(t, p, map[string]float64{"arm_length": arm, "hand_girth": 100, "stature": 1700, "shoulder_length": 200})
	}
	for _, c := range []struct {
		arm   float64
		holds bool
		level Gravity
		says  string
	}{
		{220, true, Remark, "ends at the wrist"},
		{300, true, Remark, "80 mm above the wrist"},
		{180, false, Remark, "40 mm beyond"},
		{100, false, LookAgain, "hides the whole hand"},
	} {
		pr := proofOf(t, smock(c.arm), ProofLength, "Cuff")
		if math.Abs(pr.Have-220) > 1e-9 || pr.Holds != c.holds || !c.holds && pr.Level != c.level || !strings.Contains(pr.Says, c.says) {
			t.Errorf("arm of %g: %+v", c.arm, pr)
		}
	}
}

// Tubes below the rules of scale: 4 to 5 mm flat to turn, a radius of 8 to 10 mm to sew in the
// round.
func TestNarrowTubes(t *testing.T) {
	kinds := func(round float64) (turn, machine bool) {
		for _, pr := range NewSlots().Proofs(wornTube(t, round)) {
			if pr.Kind == ProofTube && !pr.Holds {
				turn = turn || pr.Level == LookAgain
				machine = machine || pr.Level == Remark
			}
		}
		return turn, machine
	}
	for _, c := range []struct {
		round         float64
		turn, machine bool
	}{{8, true, false}, {10, false, true}, {56, false, true}, {57, false, false}} {
		if turn, machine := kinds(c.round); turn != c.turn || machine != c.machine {
			t.Errorf("a tube of %g: %v %v", c.round, turn, machine)
		}
	}
}

// neckline returns a piece with a hollow of a radius, a quarter of a circle, and its allowance.
func neckline(radius, width float64) *Piece {
	const kappa = 0.5522847498 // of a cubic that is a quarter of a circle to 0.03 %
	p := polygonPiece("Front", width, geom.Pt(0, 0), geom.Pt(200, 0), geom.Pt(200, 200), geom.Pt(radius, 200), geom.Pt(0, 200-radius))
	p.Edges[3].Name = "neck"
	p.Edges[3].Nodes[0].Out = geom.Pt(0, -kappa*radius)
	p.Edges[4].Nodes[0].In = geom.Pt(kappa*radius, 0)
	return p
}

// The cut edge of a hollow of radius r with the allowance w has to reach from r - w round
// r + w when it is turned: closed form on a quarter of a circle.
func TestHollowsAreClipped(t *testing.T) {
	for _, c := range []struct {
		radius, width float64
		found, told   bool
	}{{60, 4, false, false}, {60, 5, true, false}, {60, 8, true, false}, {60, 9, true, true}, {30, 10, true, true}} {
		p := projectOf(neckline(c.radius, c.width))
		flat, err := Unfold(p.Pieces[0])
		if err != nil {
			t.Fatal(err)
		}
		var list []hollowRun
		for _, fe := range flat.Edges {
			list = append(list, hollows(fe)...)
		}
		strain := 2 * c.width / (c.radius - c.width)
		if got := len(list) > 0; got != c.found || got != (strain > turnStrain) {
			t.Errorf("r %g, w %g: %+v", c.radius, c.width, list)
			continue
		}
		if !c.found {
			continue
		}
		if h := list[0]; math.Abs(h.radius-c.radius) > 0.02*c.radius || math.Abs(h.turn-math.Pi/2) > 0.01 || h.from > 0.01 || h.to < 0.99 {
			t.Errorf("r %g, w %g: %+v", c.radius, c.width, h)
		}
		told := func(p *Project) *Finding {
			for _, f := range NewSlots().Check(p).Findings {
				if strings.HasSuffix(f.Key, "/clip") {
					return &f
				}
			}
			return nil
		}
		f := told(p)
		if (f != nil) != c.told {
			t.Errorf("r %g, w %g: told %v", c.radius, c.width, f)
		}
		if f == nil {
			continue
		}
		out, err := p.Do(f.Mends[0])
		if err != nil {
			t.Fatal(err)
		}
		if told(out.Project) != nil {
			t.Errorf("r %g, w %g: told after its mend", c.radius, c.width)
		}
	}
}

// Clips lie every 1/4 to 1/2 in on an allowance of 5/8 in, to within 1/8 in of the stitching
// (Apparel: Design, Textiles & Construction, Goodheart-Willcox 2012, pp. 451-452), square to
// the curve, and go nowhere near it on a doll's.
func TestClipMarks(t *testing.T) {
	const inch = 25.4
	for _, c := range []struct{ radius, width float64 }{{100, 3}, {100, 6}, {100, 10}, {100, 15.875}, {50, 15.875}, {35, 15.875}} {
		width := c.width
		p := neckline(c.radius, width)
		flat, err := Unfold(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, fe := range flat.Edges {
			if fe.Edge.Name != "neck" {
				continue
			}
			marks := ClipMarks(fe, Stretch{Edge: fe.Edge.ID, Kind: ClipStretch, To: 1})
			apart := fe.Length() / float64(len(marks))
			clear := math.Inf(1)
			for _, m := range marks {
				_, near := fe.Line.Nearest(m.P3)
				_, far := fe.Line.Nearest(m.P0)
				clear = min(clear, near)
				if math.Abs(far-width) > 1e-6 || near < clipClearLeast-1e-6 || near >= far {
					t.Fatalf("an allowance of %g is clipped from %g to %g", width, far, near)
				}
				// Outside the piece, which lies on the other side of the curve.
				if geom.Pt(0, 200).Dist(m.P0) > geom.Pt(0, 200).Dist(m.P3) {
					t.Fatalf("clipped on the wrong side at %v", m.P0)
				}
			}
			if width == 15.875 && (apart < inch/4 || apart > inch/2 || clear > inch/8+1e-6) {
				t.Errorf("5/8 in is clipped every %g, to %g", apart, clear)
			}
			if n := len(marks); n == 0 {
				t.Errorf("an allowance of %g has no clips", width)
			}
			if ClipMarks(fe, Stretch{Edge: fe.Edge.ID, Kind: EaseStretch, To: 1}) != nil {
				t.Error("what is eased is clipped")
			}
		}
	}
}

// The tighter the curve, the closer the clips: between two of them the chord leaves a circle
// by no more than a quarter of a millimetre (sagitta, r - sqrt(r² - s²/4)).
func TestClipsLieCloserInTighterCurves(t *testing.T) {
	was := 0.0
	for _, r := range []float64{3, 5.9, 10, 21.3, 40, 80} {
		s := clipSpacing(r)
		if s <= was {
			t.Errorf("r %g is clipped every %g, a tighter one every %g", r, s, was)
		}
		if sagitta := r - math.Sqrt(r*r-s*s/4); sagitta > 1.05*clipSagitta || sagitta < 0.8*clipSagitta {
			t.Errorf("r %g is clipped every %g and is off by %g", r, s, sagitta)
		}
		was = s
	}
	for _, r := range []float64{1e3, math.Inf(1)} {
		if s := clipSpacing(r); s != clipMost {
			t.Errorf("r %g is clipped every %g", r, s)
		}
	}
}

// The end of a slit without a mark is told, and its mend marks it.
func TestSlitEndWantsReinforcing(t *testing.T) {
	q := polygonPiece("Front", 3, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 100), geom.Pt(52, 100), geom.Pt(50, 40), geom.Pt(48, 100), geom.Pt(0, 100))
	q.Place = Placement{At: geom.Pt(30, -20), Turn: 0.7}
	p := projectOf(q)
	ends := func(p *Project) (n int, f Finding) {
		for _, g := range NewSlots().Check(p).Findings {
			if strings.HasPrefix(g.Key, "slit/") {
				n, f = n+1, g
			}
		}
		return n, f
	}
	n, f := ends(p)
	if n != 1 || f.At == nil || *f.At != geom.Pt(50, 40) {
		t.Fatalf("%d ends: %+v", n, f)
	}
	out, err := p.Do(f.Mends[0])
	if err != nil {
		t.Fatal(err)
	}
	if n, f := ends(out.Project); n != 0 {
		t.Errorf("after its mend: %+v", f)
	}
}

// A measure that is not known is asked for in a note, once, and nothing else is said: here the
// head for the neck and the bust for the hem.
func TestUnknownMeasureIsAskedFor(t *testing.T) {
	p := onBody(t, wornTube(t, 300), nil)
	var notes int
	for _, f := range NewSlots().Check(p).Findings {
		if strings.HasPrefix(f.Key, "wanted/") {
			notes++
			if f.Level != Remark || len(f.Measures) != 1 {
				t.Errorf("%+v", f)
			}
		}
		if f.Level == Problem {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
	if notes != 2 {
		t.Errorf("%d notes", notes)
	}
}

// Hands and heels of the ANSUR II survey of 2012 (public domain; means of women and men:
// hand 186.6 and 212.3, heel and ankle 310.3 and 343.5) pass wrists and ankles that are
// larger, and no smaller ones.
func TestHandsAndHeelsOfTheSurvey(t *testing.T) {
	for _, c := range []struct {
		piece   string
		place   OpenPlace
		measure string
		girth   float64
	}{
		{"Sleeve", OpenWrist, "hand_girth", 186.6}, {"Sleeve", OpenWrist, "hand_girth", 212.3},
		{"Leg", OpenAnkle, "heel_girth", 310.3}, {"Leg", OpenAnkle, "heel_girth", 343.5},
	} {
		for _, by := range []float64{-20, 20} {
			q := wornPanel(c.piece, c.girth+by, 400, "hem", "seam", "top", "other seam")
			q.Edges[0].Kind = HemEdge
			p := sewnUp(t, projectOf(q), [3]string{"seam", c.piece + ".seam", c.piece + ".other seam"})
			p = onBody(t, p, map[string]float64{c.measure: c.girth, "stature": 1700})
			o := openingAt(t, NewSlots().Openings(p, "G"), c.place)
			if o.Passes != c.measure || o.Holds != (by > 0) || math.Abs(o.Ease-by) > 1e-9 || by < 0 && math.Abs(o.MissingSlit()-(c.girth/50-by)/2) > 1e-9 {
				t.Errorf("%s of %g: %+v", c.piece, c.girth+by, o)
			}
		}
	}
}

// A tail that was measured wants an opening in what has legs.
func TestTailWantsAnOpening(t *testing.T) {
	q := wornPanel("Leg", 300, 400, "hem", "seam", "waist", "other seam")
	q.Edges[0].Kind = HemEdge
	p := sewnUp(t, projectOf(q), [3]string{"seam", "Leg.seam", "Leg.other seam"})
	p = onBody(t, p, map[string]float64{"tail_girth": 60, "heel_girth": 100, "stature": 360})
	if pr := proofOf(t, p, ProofOpening, "tail"); pr.Holds || pr.Need != 60 {
		t.Errorf("%+v", pr)
	}
	before := p
	for _, facing := range []string{"0mm", "12mm"} { // what is turned in onto a facing counts for nothing
		p = doAct(t, before, "cut-out", map[string]string{"piece": "Leg", "at": "150mm,300mm", "name": "tail", "width": "30mm", "height": "30mm", "facing": facing})
		o := openingAt(t, NewSlots().Openings(p, "G"), OpenTail)
		if !o.Holds || o.Passes != "tail_girth" || math.Abs(o.Length-30*math.Pi) > 0.1 {
			t.Errorf("facing %s: %+v", facing, o)
		}
	}
	for _, pr := range NewSlots().Proofs(p) {
		if strings.HasPrefix(pr.Key, "opening/tail") {
			t.Errorf("%+v", pr)
		}
	}
}
