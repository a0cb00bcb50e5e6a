package draft

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// vest is a small block with what blocks have: a dart that is there only for some
// bodies, a fold, a pair, seams that are plain and eased, notches, lines and spans.
const vest = `format = 1
name = "vest"
title = "Vest"
garment = "Vest"
says = "A front and a back."

[[measures]]
name = "bust_girth"
needed = true
[[measures]]
name = "waist_girth"
needed = true
[[measures]]
name = "back_waist_length"
needed = true

[[choices]]
name = "ease"
default = "0.06*bust_girth"
[[choices]]
name = "allowance"
default = "6*mm"
least = "0*mm"
[[choices]]
name = "depth"
default = "0.25"

[[steps]]
name = "w"
is = "(bust_girth + ease)/4"
[[steps]]
name = "h"
is = "back_waist_length"
[[steps]]
name = "spare"
is = "max(0*mm, (bust_girth - waist_girth)/4)"
[[steps]]
name = "cf_hem"
is = "at(0*mm, 0*mm)"
[[steps]]
name = "dart_a"
is = "right(cf_hem, 0.4*w)"
[[steps]]
name = "dart_b"
is = "right(dart_a, spare)"
[[steps]]
name = "side_hem"
is = "right(cf_hem, w)"
[[steps]]
name = "side_top"
is = "above(right(cf_hem, w*1.02), 0.55*h)"
[[steps]]
name = "tip"
is = "above(right(cf_hem, 0.7*w), h)"
[[steps]]
name = "neck_side"
is = "above(right(cf_hem, 0.35*w), 1.05*h)"
[[steps]]
name = "cf_neck"
is = "above(cf_hem, (1 - depth)*h)"
[[steps]]
name = "armhole"
is = "hook(side_top, at(across(tip), height(side_top)), tip, 0.6)"
[[steps]]
name = "neck"
is = "hook(neck_side, at(across(neck_side)*0.6, height(cf_neck)), cf_neck, 0.5)"

[[checks]]
name = "long_enough"
holds = "back_waist_length > 0.2*bust_girth"
level = "look again"
says = "The back is short for this bust."
measures = ["back_waist_length"]

[[pieces]]
role = "front"
title = "Front"
cut = "on fold"
note = "Press the dart to the side."
grain = ["right(cf_hem, 0.15*w)", "above(right(cf_hem, 0.15*w), 0.5*h)"]
label = "above(right(cf_hem, 0.5*w), 0.6*h)"
  [[pieces.edges]]
  name = "hem"
  kind = "hem"
  path = ["cf_hem", "dart_a", "dart_b", "side_hem"]
  allowance = "12*mm"
  [[pieces.edges]]
  name = "side"
  path = ["side_hem", "side_top"]
  [[pieces.edges]]
  name = "armhole"
  path = ["armhole"]
  [[pieces.edges]]
  name = "shoulder"
  corner = "square"
  path = ["tip", "neck_side"]
  [[pieces.edges]]
  name = "neck"
  path = ["neck"]
  [[pieces.edges]]
  name = "fold"
  kind = "fold"
  path = ["cf_neck", "cf_hem"]
  [[pieces.darts]]
  name = "waist dart"
  edge = "hem"
  from = "dart_a"
  to = "dart_b"
  apex = "above(between(dart_a, dart_b, 0.5), 0.5*h)"
  press = "to end"
  [[pieces.notches]]
  name = "side notch"
  edge = "side"
  at = "0.2*h"
  [[pieces.notches]]
  name = "arm notch"
  edge = "armhole"
  at = "0.3*length(armhole)"
  [[pieces.lines]]
  name = "bust line"
  path = ["above(cf_hem, 0.5*h)", "above(right(cf_hem, 0.9*w), 0.5*h)"]
  [[pieces.spans]]
  name = "waist quarter"
  measure = "waist_girth"
  share = "0.25"
  ease = "w - spare - waist_girth/4"
  edges = ["hem"]
  [[pieces.spans]]
  name = "bust quarter"
  measure = "bust_girth"
  share = "0.25"
  lines = ["bust line"]

[[pieces]]
role = "back"
title = "Back"
cut = "pairs"
  [[pieces.edges]]
  name = "hem"
  kind = "hem"
  path = ["cf_hem", "right(cf_hem, w - spare)"]
  [[pieces.edges]]
  name = "side"
  path = ["right(cf_hem, w - spare)", "side_top"]
  [[pieces.edges]]
  name = "armhole"
  path = ["armhole"]
  [[pieces.edges]]
  name = "shoulder"
  path = ["tip", "neck_side"]
  [[pieces.edges]]
  name = "neck"
  path = ["neck"]
  [[pieces.edges]]
  name = "centre"
  path = ["cf_neck", "cf_hem"]
  [[pieces.notches]]
  name = "side notch"
  edge = "side"
  at = "0.2*h"
  double = true
  [[pieces.spans]]
  name = "back waist quarter"
  measure = "waist_girth"
  share = "0.25"
  ease = "w - spare - waist_girth/4"
  edges = ["hem"]

[[seams]]
name = "side"
a = ["front.side"]
b = ["-back.side:left"]
both_sides = true
[[seams]]
name = "shoulder"
a = ["back.shoulder"]
b = ["-front.shoulder"]
ratio = "1.02"
fullness = "ease"
[[seams]]
name = "centre back"
a = ["back.centre"]
b = ["back.centre:left"]
`

// vestFor returns a project with the vest drafted for a wearer called Quill.
func vestFor(t fataler, bust, waist, length string) *Project {
	t.Helper()
	p := mustDo(t, New("winter show"), "add-wearer", "name=Quill", "build=wide").Project
	for _, m := range [][2]string{{"bust_girth", bust}, {"waist_girth", waist}, {"back_waist_length", length}} {
		p = mustDo(t, p, "set-measure", "wearer=Quill", "name="+m[0], "value="+m[1]).Project
	}
	out, err := DraftBlock.Do(p, DraftBlockArgs{Block: "vest.toml", Wearer: WearerRef(p.Wearers[0].ID), Text: vest})
	if err != nil {
		t.Fatal(err)
	}
	if err := Validate(out.Project); err != nil {
		t.Fatal(err)
	}
	return out.Project
}

func TestDraftBlock(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	if len(p.Pieces) != 2 || len(p.Seams) != 3 || len(p.Derivations) != 1 {
		t.Fatalf("%d pieces, %d seams, %d derivations", len(p.Pieces), len(p.Seams), len(p.Derivations))
	}
	front := p.Piece("front")
	if front == nil || front.Name != "Front" || front.Garment != "Vest" || front.Cut != (CutRule{CutOnFold, 1}) || len(front.Darts) != 1 {
		t.Fatalf("front %+v", front)
	}
	if e, _ := front.Edge("front.armhole"); e == nil || e.Allowance != Even(6) {
		t.Errorf("armhole %+v", e)
	}
	for _, f := range NewSlots().Check(p).Findings {
		if f.Level == Problem && !strings.Contains(f.Key, "seam/") {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
	// A second draft gets ids of its own.
	out, err := DraftBlock.Do(p, DraftBlockArgs{Block: "vest.toml", Wearer: WearerRef(p.Wearers[0].ID), Text: vest})
	if err != nil {
		t.Fatal(err)
	}
	if err := Validate(out.Project); err != nil || len(out.Project.Pieces) != 4 || !strings.HasSuffix(string(out.Project.Pieces[2].ID), ".front") {
		t.Errorf("second draft: %v, %d pieces, %s", err, len(out.Project.Pieces), out.Project.Pieces[2].ID)
	}
}

// The same block drafted twice makes two garments, each with girths of its own, told
// apart by name; and they stay two when the body changes or a piece is drawn anew.
func TestTwoDraftsAreTwoGarments(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	out, err := DraftBlock.Do(p, DraftBlockArgs{Block: "vest.toml", Wearer: WearerRef(p.Wearers[0].ID), Text: vest, Set: Choices{{"ease", "40mm"}}})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasSuffix(out.Step, "Vest 2 for Quill") {
		t.Errorf("step %q", out.Step)
	}
	p = mustDo(t, out.Project, "set-measure", "wearer=Quill", "name=bust_girth", "value=240mm").Project
	if p.Pieces[2].ByHand() {
		t.Error("the garment counts as changed by hand")
	}
	p = mustDo(t, p, "redraw-piece", "pieces="+string(p.Pieces[3].ID)).Project
	girths := NewSlots().Check(p).Girths
	if len(girths) != 2 || girths[0].Garment != "Vest" || girths[1].Garment != "Vest 2" {
		t.Fatalf("girths %+v", girths)
	}
	if by := girths[1].Ease - girths[0].Ease; by < 25 || by > 26 {
		t.Errorf("the second has %g mm more ease, want 40 mm less 6 %% of 240", by)
	}
	// A piece that the block makes only later joins its garment.
	text := strings.Replace(vest, "[[seams]]", "[[pieces]]\nrole = \"tab\"\n  [[pieces.edges]]\n  name = \"rim\"\n  path = [\"cf_hem\", \"side_hem\", \"tip\"]\n[[seams]]", 1)
	out, err = RenewBlock.Do(p, RenewBlockArgs{DerivationRef(p.Derivations[1].ID), text})
	if err != nil {
		t.Fatal(err)
	}
	if tab := out.Project.Pieces[4]; tab.Derived.Role != "tab" || tab.Garment != "Vest 2" {
		t.Errorf("the new piece is %s of %s", tab.Derived.Role, tab.Garment)
	}
}

func TestMeasureRedrawsUntouchedPieces(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	wide := mustDo(t, p, "set-measure", "wearer=Quill", "name=bust_girth", "value=260mm").Project
	fresh := vestFor(t, "260mm", "200mm", "84mm")
	for i := range wide.Pieces {
		if !equalEdges(wide.Pieces[i].Edges, fresh.Pieces[i].Edges) {
			t.Errorf("%s is not as drafted for the new measure", wide.Pieces[i].Name)
		}
	}
	back := mustDo(t, wide, "set-measure", "wearer=Quill", "name=bust_girth", "value=231mm").Project
	for i := range back.Pieces {
		if !equalEdges(back.Pieces[i].Edges, p.Pieces[i].Edges) || !equalRest(restOf(back.Pieces[i]), restOf(p.Pieces[i])) {
			t.Errorf("%s did not come back", back.Pieces[i].Name)
		}
	}
	// The dart goes where the waist is as wide as the bust.
	straight := mustDo(t, p, "set-measure", "wearer=Quill", "name=waist_girth", "value=240mm").Project
	if front := straight.Piece("front"); len(front.Darts) != 0 || len(front.Edges[0].Nodes) != 2 {
		t.Errorf("a dart of no width: %+v", front.Darts)
	}
}

func TestNecklineStaysLowered(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	low := mustDo(t, p, "move-nodes", "nodes=front.neck/end", "by=0mm,-5mm").Project
	for _, name := range []string{"bust_girth=260mm", "waist_girth=190mm", "back_waist_length=100mm"} {
		m, v, _ := strings.Cut(name, "=")
		low = mustDo(t, low, "set-measure", "wearer=Quill", "name="+m, "value="+v).Project
		next := low.Piece("front")
		made := next.Derived.piece("front")
		a, _, _ := next.Node("front.fold.cf_neck")
		b, _, _ := made.Node("front.fold.cf_neck")
		if a == nil || b == nil {
			t.Fatalf("no such point")
		}
		if d := a.At.Sub(b.At).Len(); d < 5-1e-5 || d > 5+1e-5 {
			t.Errorf("%s: lowered by %v", name, a.At.Sub(b.At))
		}
	}
}

// pair draws two squares beside each other: the second moves on the sheet when the
// first grows.
const pair = `format = 1
name = "pair"
title = "Pair"
says = "Two squares."
[[measures]]
name = "waist_girth"
needed = true
[[steps]]
name = "corner"
is = "at(waist_girth, 0*mm)"
[[pieces]]
role = "one"
  [[pieces.edges]]
  name = "rim"
  path = ["at(0*mm, 0*mm)", "corner", "above(corner, 50*mm)"]
[[pieces]]
role = "two"
  [[pieces.edges]]
  name = "rim"
  path = ["right(corner, 10*mm)", "right(corner, 60*mm)", "above(right(corner, 60*mm), 50*mm)"]
[[pieces]]
role = "folded"
cut = "on fold"
  [[pieces.edges]]
  name = "fold"
  kind = "fold"
  path = ["above(right(corner, 100*mm), 50*mm)", "right(corner, 100*mm)"]
  [[pieces.edges]]
  name = "rim"
  path = ["right(corner, 100*mm)", "right(corner, 160*mm)"]
`

// A piece that has only moved on the sheet of the block stays on the bench, and one
// on the fold is not even changed.
func TestWhatOnlyMovedOnTheSheetStaysPut(t *testing.T) {
	p := mustDo(t, New("x"), "add-wearer", "name=Quill").Project
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=waist_girth", "value=200mm").Project
	out, err := DraftBlock.Do(p, DraftBlockArgs{Block: "pair.toml", Wearer: WearerRef(p.Wearers[0].ID), Text: pair})
	if err != nil {
		t.Fatal(err)
	}
	p = mustDo(t, out.Project, "turn-piece", "pieces=two", "by=90").Project
	q := mustDo(t, p, "set-measure", "wearer=Quill", "name=waist_girth", "value=230mm").Project
	corners := func(p *Project) (list []string) {
		two := p.Piece("two")
		for _, n := range two.Edges[0].Nodes {
			at := two.Place.Affine().Apply(n.At)
			list = append(list, fmt.Sprintf("%.6f %.6f", at.X, at.Y))
		}
		return list
	}
	if a, b := corners(p), corners(q); !slices.Equal(a, b) {
		t.Errorf("the second square lay at %v and lies at %v", a, b)
	}
	if p.Piece("one") == q.Piece("one") || p.Piece("folded") != q.Piece("folded") {
		t.Error("the first should change and the folded one not")
	}
	if at := p.Piece("folded").Edges[0].Nodes[0].At.X; at != 0 {
		t.Errorf("the fold lies at %g", at)
	}
}

// Ids that a hand has written, or a piece that was kept, are never given twice.
func TestBlocksGiveNoIDTwice(t *testing.T) {
	p := mustDo(t, New("x"), "add-wearer", "name=Quill").Project
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=waist_girth", "value=200mm").Project
	for _, id := range []ID{"one.rim", "one", "one:span.x", "p7.two.rim.0"} {
		q := square("a", 80, 5)
		q.Edges[0].ID = id
		with := *p
		with.Pieces = []*Piece{q}
		out, err := DraftBlock.Do(&with, DraftBlockArgs{Block: "pair.toml", Wearer: WearerRef(p.Wearers[0].ID), Text: pair})
		if err != nil {
			t.Fatal(err)
		}
		if err := Validate(out.Project); err != nil {
			t.Errorf("beside an edge %s: %v", id, err)
		}
	}
}
