package draft_test

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
)

// atLower reports whether a dart opens at the lower edge of a piece: of a bodice that ends
// there, the waist.
func atLower(q *draft.Piece, d draft.Dart) bool {
	e, _ := q.Edge(d.Edge)
	return e != nil && e.Name == "hem"
}

// waistDart returns a dart at the waist of a pattern, as acts name it, and its piece and id.
func waistDart(t *testing.T, p *draft.Project) (string, draft.ID, draft.ID) {
	t.Helper()
	for _, q := range p.Pieces {
		for _, d := range q.Darts {
			if atLower(q, d) {
				return `"` + string(q.ID) + `"."` + string(d.ID) + `"`, q.ID, d.ID
			}
		}
	}
	t.Fatal("there is no dart at the waist")
	return "", "", ""
}

// shortBodice returns the bodice that ends at the waist, with its darts there, drafted for
// Wick and fitted to a body that is like Wick but for some measures.
func shortBodice(t *testing.T, other ...draft.Measure) *draft.Project {
	t.Helper()
	p := bodyOf(t, draft.New("winter show"), "Wick", 1, grown...)
	p = done(t, p, "draft-block", "block", "bodice", "wearer", "Wick", "set", "below_waist=0mm")
	p = bodyOf(t, p, "Other", 1, grown...)
	for _, m := range other {
		p = done(t, p, "set-measure", "wearer", "Other", "name", m.Name, "value", mm(m.Value))
	}
	return done(t, p, "fit-pattern", "wearer", "Other", "free", "yes")
}

// What a dart is to take in can be given, follows the scale of the whole where that is
// asked for, and goes back to its rule; seams and spans hold whatever it is.
func TestSetFitIntake(t *testing.T) {
	p := shortBodice(t, draft.Measure{Name: "waist_girth", Value: 700})
	dart, piece, id := waistDart(t, p)
	takes := func(p *draft.Project) float64 {
		d, _ := p.Piece(piece).Dart(id)
		return p.Piece(piece).TakeUp(*d)
	}
	sound := func(p *draft.Project, what string) {
		t.Helper()
		r := draft.NewSlots().Check(p)
		for _, s := range r.Seams {
			if math.Abs(s.Diff) > 1e-4 {
				t.Errorf("%s: seam %s is off by %g", what, s.Seam.Name, s.Diff)
			}
		}
		for _, x := range fitOf(t, p).Targets {
			if x.Known && math.Abs(x.Off) > draft.TargetReached {
				t.Errorf("%s: %s of %s is off by %g", what, x.Span.Name, x.Piece.Name, x.Off)
			}
		}
		for _, q := range p.Pieces {
			if err := q.DrawnPath().Simple(); err != nil {
				t.Errorf("%s: %s: %v", what, q.Name, err)
			}
		}
	}
	rule := takes(p)
	for _, width := range []float64{3, 12, 31, 0.1} {
		given := done(t, p, "set-fit-intake", "dart", dart, "width", mm(width))
		if got := takes(given); math.Abs(got-width) > draft.TargetReached {
			t.Errorf("it is to take in %g mm and takes in %g", width, got)
		}
		sound(given, mm(width))
		// A changed measure does not change what was given.
		wider := done(t, given, "set-measure", "wearer", "Other", "name", "waist_girth", "value", "720mm")
		if got := takes(wider); math.Abs(got-width) > draft.TargetReached {
			t.Errorf("with another waist it takes in %g mm, and %g were given", got, width)
		}
		if got := takes(done(t, given, "set-fit-intake", "dart", dart)); math.Abs(got-rule) > 1e-3 {
			t.Errorf("by its rule it takes in %g mm, and took in %g", got, rule)
		}
	}
	source := fitOf(t, p).Derivation.Source.Piece(piece)
	d, _ := source.Dart(id)
	was := source.TakeUp(*d)
	if math.Abs(rule-was) < 1 {
		t.Fatalf("by its rule it takes in %g mm of %g: nothing is to be seen", rule, was)
	}
	scaled := done(t, p, "set-fit-intake", "dart", dart, "scaled", "yes")
	if got, want := takes(scaled), was*fitOf(t, scaled).Scale; math.Abs(got-want) > 0.5 {
		t.Errorf("with the scale of the whole it takes in %g mm, want about %g", got, want)
	}
	sound(scaled, "scaled")
	for _, c := range []struct {
		args map[string]string
		want string
	}{
		{map[string]string{"dart": dart, "width": "8mm", "scaled": "yes"}, "not both"},
		{map[string]string{"dart": dart, "width": "0.01mm"}, "at least 0.1"},
		{map[string]string{"dart": dart, "width": "-3mm"}, "at least 0.1"},
		{map[string]string{"dart": dart}, "so already"},
		{map[string]string{"dart": "Front.nothing"}, "dart"},
	} {
		act, err := draft.ActNamed("set-fit-intake")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := act.DoText(p, c.args); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v", c.args, err)
		}
	}
}

// Darts at the waist follow what the waist is smaller than the bust: they open on a body
// with a smaller waist, close on one with a larger, and never below what can be sewn; on the
// same body they stay as they were. (Common practice, no source.)
func TestWaistDartsFollowTheWaist(t *testing.T) {
	takes := func(waist float64) (sum, least float64, n int) {
		p := shortBodice(t, draft.Measure{Name: "waist_girth", Value: waist})
		least = math.Inf(1)
		for _, q := range p.Pieces {
			for _, d := range q.Darts {
				if atLower(q, d) {
					sum, least, n = sum+q.TakeUp(d), min(least, q.TakeUp(d)), n+1
				}
			}
		}
		return sum, least, n
	}
	same, _, n := takes(740)
	source := shortBodice(t, draft.Measure{Name: "waist_girth", Value: 741})
	was := 0.0
	for _, q := range fitOf(t, source).Derivation.Source.Pieces {
		for _, d := range q.Darts {
			if atLower(q, d) {
				was += q.TakeUp(d)
			}
		}
	}
	if n < 2 || math.Abs(same-was) > 0.01 {
		t.Fatalf("%d darts take in %g mm on the body of which they were drafted to take in %g", n, same, was)
	}
	last := same
	for _, waist := range []float64{720, 700, 660} {
		now, _, _ := takes(waist)
		// Front and back are halves, so that the darts are half of those of the body, and
		// each takes a quarter of the difference at most.
		if now <= last+1 || now-same > (740-waist)/2+0.1 {
			t.Errorf("with a waist of %g mm the darts take in %g; with a larger one %g, drafted %g", waist, now, last, same)
		}
		last = now
	}
	last = same
	for _, waist := range []float64{760, 800, 900, 980} {
		now, least, _ := takes(waist)
		if now > last+1e-6 || least < 0.1-draft.TargetReached {
			t.Errorf("with a waist of %g mm the darts take in %g, the narrowest %g; with a smaller one %g", waist, now, least, last)
		}
		last = now
	}
}

// alongRun returns where along a side of a seam its notches lie, as shares of its length.
func alongRun(p *draft.Project, run draft.Run) (shares []float64, length float64) {
	for _, u := range run {
		q := p.Piece(u.Piece)
		_, i := q.Edge(u.Edge)
		long := q.EdgeLength(i)
		for _, n := range q.Notches {
			if n.Edge != u.Edge {
				continue
			}
			at := n.Along(long)
			if u.Reversed {
				at = long - at
			}
			shares = append(shares, length+at)
		}
		length += long
	}
	for i := range shares {
		shares[i] /= length
	}
	return shares, length
}

// apartNotches returns by how much in mm the notches of both sides of a seam are apart at
// most, along the shorter side, each held against the nearest of the other, and how many met.
func apartNotches(p *draft.Project, s *draft.Seam) (worst float64, met int) {
	a, longA := alongRun(p, s.A)
	b, longB := alongRun(p, s.B)
	for _, x := range a {
		least := math.Inf(1)
		for _, y := range b {
			least = min(least, math.Abs(x-y)*min(longA, longB))
		}
		worst, met = max(worst, least), met+1
	}
	return worst, met
}

// Notches that meet over a seam still do on another body, to a tenth of a millimetre: over
// plain seams, over gathers of 1.5, on edges of several pieces and on mirrored copies.
func TestNotchesMeetAfterAFit(t *testing.T) {
	p := done(t, loadSmock(t), "take-spans")
	seams := []string{"side", "shoulder", "armhole", "sleeve", "cuff", "neck"}
	for _, name := range seams {
		p = done(t, p, "notch-seam", "seam", name, "even", "3")
	}
	check := func(p *draft.Project, who string, limit float64) {
		t.Helper()
		for _, s := range p.Seams {
			worst, met := apartNotches(p, s)
			if met >= 2 && worst > limit {
				t.Errorf("%s: notches of seam %s are %.3f mm apart", who, s.Name, worst)
			}
		}
	}
	notched := 0
	for _, s := range p.Seams {
		if _, met := apartNotches(p, s); met >= 2 {
			notched++
		}
	}
	if notched < len(seams) {
		t.Fatalf("only %d seams are notched", notched)
	}
	check(p, "as it came", 0.01)
	for name, body := range map[string][]draft.Measure{"Quill": hedgehog, "Wick": grown} {
		fitted := done(t, bodyOf(t, p, name, 1, body...), "fit-pattern", "wearer", name)
		check(fitted, name, 0.1)
		fitted = done(t, fitted, "set-measure", "wearer", name, "name", "neck_base_girth", "value", mm(body[0].Value*0.45))
		check(fitted, name+" with another neck", 0.1)
	}
}

// A fit is one step of the history: undone, the pattern is the one before, to the pointer;
// done again it follows measures as it did, and fitted once more it comes out the same.
func TestFitIsOneStep(t *testing.T) {
	before := bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...)
	h := draft.NewHistory(before, "open")
	out := doneSaying(t, before, "fit-pattern", "wearer", "Quill")
	h = h.Do("fit", out.Project, "")
	fitted := h.Project()
	h = h.Undo()
	if h.Project() != before || len(h.Project().Derivations) != 0 {
		t.Fatal("undone, it is another pattern than before")
	}
	if name, ok := h.CanRedo(); !ok || name != "fit" {
		t.Fatalf("it cannot be done again: %q", name)
	}
	// Undone, a measure changes nothing; it is another branch.
	still := done(t, h.Project(), "set-measure", "wearer", "Quill", "name", "bust_girth", "value", "240mm")
	if off := draft.Movement(before, still); off != 0 {
		t.Errorf("before the fit a measure moves the pattern by %g mm", off)
	}
	h = h.Redo()
	if h.Project() != fitted {
		t.Fatal("done again, it is another pattern")
	}
	larger := done(t, h.Project(), "set-measure", "wearer", "Quill", "name", "bust_girth", "value", "240mm")
	for _, x := range fitOf(t, larger).Targets {
		if math.Abs(x.Off) > draft.TargetReached || x.Span.Measure == "bust_girth" && x.New != 240 {
			t.Errorf("%s of %s stands for %g and is off by %g", x.Span.Name, x.Piece.Name, x.New, x.Off)
		}
	}
	h = h.Do("measure", larger, "").Undo()
	if h.Project() != fitted {
		t.Fatal("the measure taken back, it is another pattern")
	}
	h = h.Undo()
	again := done(t, h.Project(), "fit-pattern", "wearer", "Quill")
	if off := draft.Movement(fitted, again); off != 0 {
		t.Errorf("fitted once more it is %g mm off", off)
	}
	once := done(t, still, "fit-pattern", "wearer", "Quill")
	if off := draft.Movement(larger, once); off > 1e-4 {
		t.Errorf("fitted after the measure, and before it, the pattern differs by %g mm", off)
	}
}

// An act that makes something else of a fitted piece says that the piece leaves its fit, and
// for whom it no longer changes; the others follow on, and undone it follows as before.
func TestActsThatLeaveAFitSaySo(t *testing.T) {
	fitted := done(t, bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...), "fit-pattern", "wearer", "Quill")
	for _, c := range []struct {
		act  string
		args []string
	}{
		{"split-piece", []string{"from", "Front.side@50%", "to", `Front."centre front"@50%`}},
		{"scale-piece", []string{"pieces", "Front", "factor", "1.1"}},
	} {
		h := draft.NewHistory(fitted, "fit")
		out := doneSaying(t, fitted, c.act, c.args...)
		says := strings.Join(out.Says, " ")
		for _, want := range []string{"Front no longer follows its fit", "measure of Quill", "Undo"} {
			if !strings.Contains(says, want) {
				t.Errorf("%s says %q, without %q", c.act, says, want)
			}
		}
		for _, want := range []string{"takes Front out of its fit", "measure of Quill passes it by", "as it came"} {
			if !strings.Contains(out.Leaves, want) {
				t.Errorf("%s says %q before, without %q", c.act, out.Leaves, want)
			}
		}
		if strings.Contains(out.Leaves, "Undo") || !slices.Contains(out.Says, out.Left) {
			t.Errorf("%s says %q before and %q after, of %q", c.act, out.Leaves, out.Left, out.Says)
		}
		h = h.Do(c.act, out.Project, "")
		larger := done(t, h.Project(), "set-measure", "wearer", "Quill", "name", "bust_girth", "value", "250mm")
		front, back := pieceNamed(t, fitted, "Front").ID, pieceNamed(t, fitted, "Back").ID
		if larger.Piece(front) != h.Project().Piece(front) {
			t.Errorf("%s: the piece that is free still changes", c.act)
		}
		if larger.Piece(back) == h.Project().Piece(back) {
			t.Errorf("%s: the other pieces follow no more", c.act)
		}
		h = h.Undo()
		if h.Project() != fitted {
			t.Fatalf("%s: undone it is another pattern", c.act)
		}
		follows := done(t, h.Project(), "set-measure", "wearer", "Quill", "name", "bust_girth", "value", "250mm")
		if follows.Piece(front) == fitted.Piece(front) {
			t.Errorf("%s: undone the piece does not follow", c.act)
		}
	}
}

// Several pieces that leave their fit are told of in one sentence.
func TestSeveralPiecesLeaveAFit(t *testing.T) {
	fitted := done(t, bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...), "fit-pattern", "wearer", "Quill")
	out := doneSaying(t, fitted, "scale-piece", "pieces", "Front;Back;Cuff", "factor", "1.1")
	if want := "This takes Front, Back and Cuff out of their fit: from then on a changed measure of Quill passes them by."; !strings.HasPrefix(out.Leaves, want) {
		t.Errorf("before it says %q", out.Leaves)
	}
	if want := "Front, Back and Cuff no longer follow their fit"; !strings.HasPrefix(out.Left, want) {
		t.Errorf("after it says %q", out.Left)
	}
	out = doneSaying(t, fitted, "scale-piece", "pieces", pieceNamesOf(fitted), "factor", "1.1")
	if want := "This takes 5 pieces out of their fit"; !strings.HasPrefix(out.Leaves, want) {
		t.Errorf("of all it says %q", out.Leaves)
	}
	free := doneSaying(t, done(t, fitted, "end-fit"), "scale-piece", "pieces", "Front", "factor", "1.1")
	if free.Leaves != "" || free.Left != "" {
		t.Errorf("of a piece that follows nothing it says %q and %q", free.Leaves, free.Left)
	}
}

// Whatever act ends the hold of a fit over a piece says so before it is done, and none that
// leaves all pieces in their fit does. Those that are asked for just that need not.
func TestEveryActThatLeavesAFitSaysSo(t *testing.T) {
	fitted := done(t, bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...), "fit-pattern", "wearer", "Quill")
	asked := []string{"end-fit", "keep-piece", "remove-wearer"}
	slow := []string{"set-measure", "scale-wearer", "fit-pattern", "set-fit", "set-fit-target", "follow-belly"} // they fit anew
	left := make(map[string]bool)
	const tries = 6 // of each act
	for _, act := range draft.Acts() {
		name := act.Info().Name
		if slices.Contains(asked, name) || slices.Contains(slow, name) {
			continue
		}
		args := rapid.Custom(func(rt *rapid.T) map[string]string {
			rapid.Bool().Draw(rt, "one draw at least, for acts that need nothing")
			texts, ok := drawArgs(rt, fitted, act)
			if !ok {
				return nil
			}
			return texts
		})
		for seed := range tries {
			texts := args.Example(seed)
			out, err := act.DoText(fitted, texts)
			if err != nil {
				continue
			}
			leaves := slices.ContainsFunc(fitted.Pieces, func(q *draft.Piece) bool {
				now := out.Project.Piece(q.ID)
				return now != nil && out.Project.FitOf(now) == nil
			})
			if leaves != (out.Leaves != "") || leaves != (out.Left != "") {
				t.Errorf("%s %v: a piece leaves its fit: %v; it says %q and %q", name, texts, leaves, out.Leaves, out.Left)
			}
			if leaves {
				left[name] = true
			}
		}
	}
	if !left["mirror-piece"] || len(left) < 3 {
		t.Errorf("only %v leave a fit", slices.Sorted(maps.Keys(left)))
	}
}
