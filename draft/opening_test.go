package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// wornPanel returns a rectangle of a garment, w mm wide at the bottom and the top, h high, with
// its edges named bottom, right, top, left.
func wornPanel(name string, w, h float64, edges ...string) *Piece {
	p := polygonPiece(name, 5, geom.Pt(0, 0), geom.Pt(w, 0), geom.Pt(w, h), geom.Pt(0, h))
	for i, e := range edges {
		p.Edges[i].Name = e
	}
	p.Garment = "G"
	return p
}

// sewnUp sews edges of pieces, given as texts.
func sewnUp(t fataler, p *Project, seams ...[3]string) *Project {
	t.Helper()
	for _, s := range seams {
		out, err := LinkSeam.DoText(p, map[string]string{"name": s[0], "a": s[1], "b": s[2]})
		if err != nil {
			t.Fatal(err)
		}
		p = out.Project
	}
	return p
}

// onBody gives the project a wearer with the measures.
func onBody(t fataler, p *Project, measures map[string]float64) *Project {
	t.Helper()
	w := &Wearer{ID: "w", Name: "Quill"}
	for name, mm := range measures {
		w.Measures = append(w.Measures, Measure{Name: name, Value: mm})
	}
	q := p.shallow()
	q.Wearers = []*Wearer{w}
	return q
}

func openingAt(t fataler, list []Opening, at OpenPlace) Opening {
	t.Helper()
	for _, o := range list {
		if o.Place == at {
			return o
		}
	}
	t.Fatalf("no opening at the %s among %d", at, len(list))
	return Opening{}
}

// do does an act by its name.
func doAct(t fataler, p *Project, name string, args map[string]string) *Project {
	t.Helper()
	out, err := p.Do(Mend{Act: name, Args: args})
	if err != nil {
		t.Fatal(err)
	}
	return out.Project
}

// wornTube returns a garment of two panels that is a tube: a neck above, a hem below.
func wornTube(t fataler, neck float64) *Project {
	front, back := wornPanel("Front", neck/2, 300, "hem", "side", "neck", "other side"), wornPanel("Back", neck/2, 300, "hem", "side", "neck", "other side")
	front.Edges[0].Kind, back.Edges[0].Kind = HemEdge, HemEdge
	p := projectOf(front, back)
	return sewnUp(t, p, [3]string{"side", "Front.side", "Back.other side"}, [3]string{"centre back", "Front.other side", "Back.side"})
}

// A placket is at least half of what the neck is short of the head: (head - neck) / 2
// (a question bank for schools of dressmaking, zollege). Held against the mean bodies of the
// ANSUR II survey of 2012 (public domain): head 561.1 and neck base 371.2 mm of women, 574.4
// and 434.6 of men.
func TestPlacketOfTheSurvey(t *testing.T) {
	for _, b := range []struct{ head, neck float64 }{{561.1, 371.2}, {574.4, 434.6}} {
		p := onBody(t, wornTube(t, b.neck), map[string]float64{"head_girth": b.head, "stature": 1700})
		s := NewSlots()
		o := openingAt(t, s.Openings(p, "G"), OpenNeck)
		if o.Holds || math.Abs(o.Length-b.neck) > 1e-6 || o.Passes != "head_girth" || o.Estimated {
			t.Errorf("neck %g: %+v", b.neck, o)
		}
		// The rule, and half of an ease of 2 %.
		if want := (b.head-b.neck)/2 + b.head/100; math.Abs(o.MissingSlit()-want) > 1e-9 {
			t.Errorf("a slit of %g is missing, want %g", o.MissingSlit(), want)
		}
		// Its first mend lets the head pass, by no more than it takes.
		f := problemAbout(t, s.Check(p), "opening/")
		q, err := p.Do(f.Mends[0])
		if err != nil {
			t.Fatal(err)
		}
		o = openingAt(t, s.Openings(q.Project, "G"), OpenNeck)
		if !o.Holds || o.Ease < o.Wants || o.Ease > o.Wants+2*slitStep || len(o.Closures) != 1 {
			t.Errorf("after %q: %+v", f.Mends[0].Title, o)
		}
		if math.Abs(o.Closed-b.neck) > 1e-6 {
			t.Errorf("closed it measures %g, not %g", o.Closed, b.neck)
		}
	}
}

func problemAbout(t fataler, r Report, prefix string) Finding {
	t.Helper()
	var found []Finding
	for _, f := range r.Findings {
		if f.Level == Problem && len(f.Key) >= len(prefix) && f.Key[:len(prefix)] == prefix {
			found = append(found, f)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d findings %s, want one: %+v", len(found), prefix, found)
	}
	return found[0]
}

// A coat that opens from the neck to the hem opens all the way; what lies over is taken off
// when it is closed.
func TestCoatOpensAllTheWay(t *testing.T) {
	p := onBody(t, wornTube(t, 300), map[string]float64{"head_girth": 560, "stature": 1700})
	p = doAct(t, p, "edit-seam", map[string]string{"seam": "centre back", "opens": "yes", "lap": "30mm"})
	o := openingAt(t, NewSlots().Openings(p, "G"), OpenNeck)
	if !o.Full || !o.Holds || math.Abs(o.Length-(600+600)) > 1e-6 || math.Abs(o.Closed-270) > 1e-6 {
		t.Errorf("%+v", o)
	}
	hem := openingAt(t, NewSlots().Openings(p, "G"), OpenHem)
	if math.Abs(hem.Closed-270) > 1e-6 {
		t.Errorf("the hem closes at %g", hem.Closed)
	}
}

// A slit counts on both sides, by its own geometry.
func TestSlitCountsTwice(t *testing.T) {
	p := onBody(t, wornTube(t, 300), map[string]float64{"head_girth": 400, "stature": 1700})
	before := openingAt(t, NewSlots().Openings(p, "G"), OpenNeck)
	p = doAct(t, p, "cut-slit", map[string]string{"at": "Front.neck@50%", "depth": "60mm", "allowance": "4mm"})
	o := openingAt(t, NewSlots().Openings(p, "G"), OpenNeck)
	// The two sides slant from the mouth to the point; the mouth itself is taken off.
	q := p.Piece("Front")
	want := before.Length
	for i := range q.Edges {
		if q.SlitSide(i) {
			want += q.EdgeLength(i)
		}
	}
	var up, down *Edge
	for i := range q.Edges {
		if q.SlitSide(i) && up == nil {
			up = &q.Edges[i]
		} else if q.SlitSide(i) {
			down = &q.Edges[(i+1)%len(q.Edges)]
		}
	}
	want -= up.Nodes[0].At.Dist(down.Nodes[0].At)
	if math.Abs(o.Length-want) > 1e-6 || o.Length < before.Length+110 || !o.Holds {
		t.Errorf("with a slit of 60 it opens to %g, want %g", o.Length, want)
	}
	if math.Abs(o.Closed-before.Length) > 10 {
		t.Errorf("closed the slit still counts: %g", o.Closed)
	}
	for _, f := range NewSlots().Check(p).Findings {
		if f.Level == Problem {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
}

// An apron, a cloak and pieces by themselves have no openings; a bag has one.
func TestFlatPiecesHaveNoOpenings(t *testing.T) {
	flat := sewnUp(t, projectOf(wornPanel("Left", 100, 200, "hem", "side", "top", "edge"), wornPanel("Right", 100, 200, "hem", "side", "top", "edge")),
		[3]string{"seam", "Left.side", "Right.edge"})
	if list := NewSlots().Openings(flat, "G"); len(list) != 0 {
		t.Errorf("a cloak of two panels has %d openings: %+v", len(list), list)
	}
	alone := projectOf(wornPanel("Neck", 100, 20, "neck", "end", "fold", "end 2"))
	if list := NewSlots().Openings(alone, "G"); len(list) != 0 {
		t.Errorf("a piece by itself has %d openings", len(list))
	}
	bag := sewnUp(t, projectOf(wornPanel("Front", 100, 200, "bottom", "side", "top", "edge"), wornPanel("Back", 100, 200, "bottom", "side", "top", "edge")),
		[3]string{"a", "Front.side", "Back.edge"}, [3]string{"b", "Front.edge", "Back.side"}, [3]string{"c", "Front.bottom", "Back.bottom"})
	list := NewSlots().Openings(bag, "G")
	if len(list) != 1 || math.Abs(list[0].Length-200) > 1e-9 {
		t.Errorf("a bag has the openings %+v", list)
	}
}

// A waist seam of several seams goes round as one; its shorter side is the opening.
func TestWaistSeamGoesRound(t *testing.T) {
	bodice := [2]*Piece{wornPanel("Front", 100, 100, "waist", "side", "neck", "other"), wornPanel("Back", 100, 100, "waist", "side", "neck", "other")}
	skirt := [2]*Piece{wornPanel("Skirt front", 150, 200, "hem", "side", "waist", "other"), wornPanel("Skirt back", 150, 200, "hem", "side", "waist", "other")}
	for _, q := range skirt {
		q.Edges[0].Kind = HemEdge
	}
	p := sewnUp(t, projectOf(bodice[0], bodice[1], skirt[0], skirt[1]),
		[3]string{"left", "Front.side", "Back.other"}, [3]string{"right", "Front.other", "Back.side"},
		[3]string{"skirt left", "Skirt front.side", "Skirt back.other"}, [3]string{"skirt right", "Skirt front.other", "Skirt back.side"})
	for _, s := range [][2]string{{"Front.waist", "Skirt front.waist"}, {"Back.waist", "Skirt back.waist"}} {
		p = doAct(t, p, "link-seam", map[string]string{"a": s[0], "b": s[1], "ratio": "1.5"})
	}
	p = onBody(t, p, map[string]float64{"bust_girth": 190, "hip_girth": 260, "waist_girth": 180, "stature": 1700})
	s := NewSlots()
	o := openingAt(t, s.Openings(p, "G"), OpenWaist)
	if len(o.Seams) != 2 || math.Abs(o.Length-200) > 1e-9 || !o.Holds || o.Passes != "bust_girth" {
		t.Errorf("%+v", o)
	}
	for _, l := range s.Openings(p, "G") {
		if l.Place == OpenHem && math.Abs(l.Length-300) > 1e-9 {
			t.Errorf("the hem opens to %g", l.Length)
		}
	}
	// Opened at the left side, from the neck down, it is still sewn to the skirt, which is shut.
	p = doAct(t, p, "edit-seam", map[string]string{"seam": "left", "opens": "yes"})
	o = openingAt(t, NewSlots().Openings(p, "G"), OpenWaist)
	if math.Abs(o.Length-200) > 1e-9 {
		t.Errorf("with the side of the bodice open and the skirt shut the waist opens to %g", o.Length)
	}
	// Opened below as well, it opens as far as that goes, on both sides.
	p = doAct(t, p, "open-seam", map[string]string{"seam": "skirt left", "from": "end", "length": "60mm"})
	o = openingAt(t, NewSlots().Openings(p, "G"), OpenWaist)
	if want := 200 + 2*60.; math.Abs(o.Length-want) > 1e-9 {
		t.Errorf("with 60 mm of the skirt open the waist opens to %g, want %g", o.Length, want)
	}
}

// What passes may be said on an edge, comes from the parts of the wearer, and is nothing for
// what comes off.
func TestWhatPasses(t *testing.T) {
	p := onBody(t, wornTube(t, 300), map[string]float64{"head_girth": 280, "neck_base_girth": 120, "stature": 360})
	neck := func(p *Project) Opening { return openingAt(t, NewSlots().Openings(p, "G"), OpenNeck) }
	with := func(parts ...BodyPart) *Project {
		q := p.shallow()
		w := *p.Wearers[0]
		w.Parts = parts
		q.Wearers = []*Wearer{&w}
		return q
	}
	if o := neck(p); !o.Holds || o.Needs != 280 {
		t.Errorf("by the measure: %+v", o)
	}
	if o := neck(with(BodyPart{Name: "head", Girth: 310})); o.Holds || o.Needs != 310 || o.NeedsFrom != "head, noted for dressing" {
		t.Errorf("by the part: %+v", o)
	}
	if o := neck(with(BodyPart{Name: "ears", Girth: 330})); o.Holds || o.Passes != "ears" {
		t.Errorf("ears stand off the head: %+v", o)
	}
	if o := neck(with(BodyPart{Name: "head", Girth: 310, ComesOff: true})); !o.Holds || o.Needs != 120 {
		t.Errorf("a head that comes off: %+v", o)
	}
	q := doAct(t, p, "set-passes", map[string]string{"edges": "Front.neck", "what": "nothing"})
	if o := neck(q); !o.Holds || o.Passes != PassesNothing || o.Needs != 0 {
		t.Errorf("said to be nothing: %+v", o)
	}
	q = p.shallow()
	q.Wearers = nil
	if o := neck(q); !o.Holds || o.Known || len(NewSlots().Proofs(q)) != 0 {
		t.Errorf("without a wearer: %+v, %+v", o, NewSlots().Proofs(q))
	}
}

// Panels sewn to a tube, whichever side of a seam comes first and whichever way it is run,
// end in two openings as long as the sums of their edges; one seam that opens makes one
// line of both.
func TestTubesOfManyPanels(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(rt, "panels")
		var pieces []*Piece
		var top, bottom float64
		for i := range n {
			w, v := rapid.Float64Range(20, 80).Draw(rt, "bottom"), rapid.Float64Range(20, 80).Draw(rt, "top")
			q := polygonPiece(string(rune('A'+i)), 5, geom.Pt(0, 0), geom.Pt(w, 0), geom.Pt(w/2+v/2, 150), geom.Pt(w/2-v/2, 150))
			q.Garment = "G"
			q.Edges[0].Name, q.Edges[0].Kind, q.Edges[2].Name = "hem", HemEdge, "waist"
			q.Edges[1].Name, q.Edges[3].Name = "right", "left"
			bottom, top = bottom+w, top+v
			pieces = append(pieces, q)
		}
		p := projectOf(pieces...)
		opens := rapid.IntRange(-1, n-1).Draw(rt, "opens")
		side := 0.0
		for i := range n {
			a, b := pieces[i], pieces[(i+1)%n]
			s := &Seam{ID: ID("s" + string(rune('A'+i))), Ratio: 1, To: 1, Opens: i == opens,
				A: Run{{Piece: a.ID, Copy: CopyRef{Number: 1}, Edge: a.Edges[1].ID}},
				B: Run{{Piece: b.ID, Copy: CopyRef{Number: 1}, Edge: b.Edges[3].ID, Reversed: true}}}
			if rapid.Bool().Draw(rt, "other way") {
				s.A, s.B = s.B.reversed(), s.A.reversed()
			}
			p.Seams = append(p.Seams, s)
			if i == opens {
				side = a.EdgeLength(1) + b.EdgeLength(3)
			}
		}
		list := NewSlots().Openings(p, "G")
		if len(list) != 2 {
			rt.Fatalf("%d openings", len(list))
		}
		hem, waist := openingAt(rt, list, OpenHem), openingAt(rt, list, OpenWaist)
		if math.Abs(hem.Closed-bottom)+math.Abs(waist.Closed-top) > 1e-6 {
			rt.Fatalf("closed %g and %g, want %g and %g", hem.Closed, waist.Closed, bottom, top)
		}
		if want := waist.Closed; opens < 0 && waist.Length != want {
			rt.Fatalf("opened %g, want %g", waist.Length, want)
		}
		if opens >= 0 && (math.Abs(waist.Length-(top+bottom+side)) > 1e-6 || !waist.Full) {
			rt.Fatalf("opened %g, want %g", waist.Length, top+bottom+side)
		}
	})
}

// A seam that opens by so little that nothing of its shorter side lies there does not open:
// a side without an edge is no seam.
func TestOpenSeamOfLittleToMuch(t *testing.T) {
	p := projectOf(wornPanel("Front", 60, 300, "hem", "side", "neck", "other side"), wornPanel("Tab", 3, 20, "hem", "side", "neck", "other side"))
	p = doAct(t, p, "link-seam", map[string]string{"a": "Front.neck", "b": "Tab.neck", "ratio": "20", "name": "gathers"})
	act, err := ActNamed("open-seam")
	if err != nil {
		t.Fatal(err)
	}
	for _, from := range []string{"start", "end"} {
		out, err := act.DoText(p, map[string]string{"seam": "gathers", "from": from, "length": "1.7mm"})
		if err == nil {
			err = Validate(out.Project)
			t.Errorf("from the %s it opened, with %v", from, err)
		} else if !strings.Contains(err.Error(), "one side of the seam") && !strings.Contains(err.Error(), "ends before") {
			t.Error(err)
		}
		if out, err = act.DoText(p, map[string]string{"seam": "gathers", "from": from, "length": "2.5mm"}); err != nil {
			t.Error(err)
		} else if err = Validate(out.Project); err != nil {
			t.Error(err)
		}
	}
}
