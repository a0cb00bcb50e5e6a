package draft_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/draft/body"
)

// wearing returns the project with something so thick worn by a wearer underneath.
func wearing(t *testing.T, p *draft.Project, name string, thick ...float64) *draft.Project {
	t.Helper()
	q := *p
	q.Wearers = nil
	found := false
	for _, w := range p.Wearers {
		if w.Name == name {
			clad := *w
			clad.Under = nil
			for _, mm := range thick {
				clad.Under = append(clad.Under, draft.Worn{Name: "layer", Thickness: mm})
			}
			w, found = &clad, true
		}
		q.Wearers = append(q.Wearers, w)
	}
	if !found {
		t.Fatal("no wearer", name)
	}
	return &q
}

// Worn over other garments a fitted one goes round them as well: each girth gets 2 pi times
// the thickness of all layers more, by the share that the stretch has of it, and lengths get
// none. (Common practice, no source.) The fitted pieces say so by their ease, so that the
// proofs of how the garment closes find the room.
func TestFitOverWhatIsWornUnder(t *testing.T) {
	for _, ease := range []string{"scaled", "kept"} {
		bare := done(t, withBelly(t, loadSmock(t)), "take-spans")
		clad := wearing(t, bare, "Quill", 1.5, 0.5)
		a := fitOf(t, done(t, bare, "fit-pattern", "wearer", "Quill", "ease", ease))
		fitted := done(t, clad, "fit-pattern", "wearer", "Quill", "ease", ease)
		b := fitOf(t, fitted)
		rounds := 0
		for i, x := range b.Targets {
			more := 0.0
			switch m, _ := body.Find(x.Span.Measure); m.Kind {
			case body.Girth:
				more = x.Span.Share * 2 * math.Pi * 2
			case body.Arc:
				more = x.Span.Share * math.Pi * 2
			}
			if more > 0 {
				rounds++
			}
			if got := x.Wants - a.Targets[i].Wants; math.Abs(got-more) > 1e-9 {
				t.Errorf("%s, %s of %s: %g mm more, want %g", ease, x.Span.Name, x.Piece.Name, got, more)
			}
			if math.Abs(x.Off) > draft.TargetReached && ease == "scaled" {
				t.Errorf("%s, %s of %s is off by %g", ease, x.Span.Name, x.Piece.Name, x.Off)
			}
			s := fitted.Piece(x.Piece.ID).Span(x.Span.ID)
			if want := x.Wants - x.Span.Share*x.New; math.Abs(s.Ease-want) > 1e-6 {
				t.Errorf("%s, %s of %s says an ease of %g, want %g", ease, x.Span.Name, x.Piece.Name, s.Ease, want)
			}
		}
		if rounds < 8 {
			t.Errorf("only %d of the stretches go round", rounds)
		}
		if ease == "kept" {
			continue // a puppet has no room for the ease of a grown person everywhere
		}
		// Round the bust there is 2 pi times 2 mm more, which what is worn takes up.
		easeOf := func(p *draft.Project) float64 {
			for _, g := range draft.NewSlots().Check(p).Girths {
				if g.Level == "bust" {
					return g.Ease
				}
			}
			t.Fatal("no girth of the bust")
			return 0
		}
		if got := easeOf(fitted) - easeOf(done(t, bare, "fit-pattern", "wearer", "Quill", "ease", ease)); math.Abs(got-4*math.Pi) > 0.05 {
			t.Errorf("%s: round the bust there are %g mm more, want %g", ease, got, 4*math.Pi)
		}
	}
}

// An ease that is given is all of it, as that of a block, whatever is worn under.
func TestGivenEaseHoldsWhatIsWornUnder(t *testing.T) {
	p := done(t, bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...), "fit-pattern", "wearer", "Quill")
	p = done(t, wearing(t, p, "Quill", 2), "set-fit-target", "span", `"Neck band".neck`, "by", "ease", "value", "20mm")
	for _, x := range fitOf(t, p).Targets {
		if x.Span.Name == "neck" && math.Abs(x.Wants-(118+20)) > 1e-9 {
			t.Errorf("with an ease of 20 mm the neck wants %g", x.Wants)
		}
	}
}

// What was drafted for a body that wears something underneath, fitted free to the same body
// as thickly clad, stays as it is; with what it wore taken away it loses that room, and no
// more. Of a pattern that somebody else has made it is said.
func TestFitKnowsWhatTheOldBodyWore(t *testing.T) {
	p := bodyOf(t, draft.New("costume"), "Anna", 1, grown...)
	p = wearing(t, p, "Anna", 2)
	p = done(t, p, "draft-block", "block", "bodice", "wearer", "Anna")
	same := done(t, p, "fit-pattern", "wearer", "Anna", "free", "yes")
	for _, x := range fitOf(t, same).Targets {
		if x.Known && math.Abs(x.Wants-x.Was) > 1e-9 {
			t.Errorf("%s of %s was %g and wants %g on the same body", x.Span.Name, x.Piece.Name, x.Was, x.Wants)
		}
	}
	if off := draft.Movement(p, same); off > 1e-5 {
		t.Errorf("on the same body it moves by %g mm", off)
	}
	// Taken back and fitted again it knows that still, and how the block read what nobody took.
	again := done(t, done(t, same, "end-fit"), "fit-pattern", "wearer", "Anna")
	if off := draft.Movement(p, again); off > 1e-5 {
		t.Errorf("fitted again to the same body it moves by %g mm", off)
	}
	if o := again.Origin(again.Pieces[0].Origin); o.WornUnder() != 2 || len(o.Estimates) == 0 {
		t.Errorf("fitted again it comes from %+v", o)
	}
	// The wearer takes it off.
	off := done(t, wearing(t, same, "Anna"), "set-measure", "wearer", "Anna", "name", "bust_girth", "value", "920mm")
	off = done(t, off, "set-fit", "ease", "kept")
	for _, x := range fitOf(t, off).Targets {
		want := 0.0
		switch m, _ := body.Find(x.Span.Measure); m.Kind {
		case body.Girth:
			want = -x.Span.Share * 4 * math.Pi
		case body.Arc:
			want = -x.Span.Share * 2 * math.Pi
		}
		if x.Known && math.Abs(x.Wants-x.Was-want) > 1e-9 {
			t.Errorf("%s of %s wants %g more than it was, want %g", x.Span.Name, x.Piece.Name, x.Wants-x.Was, want)
		}
	}
	smock := done(t, bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...), "fit-pattern", "wearer", "Quill", "ease", "kept")
	told := done(t, smock, "set-fit", "under", "3mm")
	for i, x := range fitOf(t, told).Targets {
		less := fitOf(t, smock).Targets[i].Wants - x.Wants
		want := 0.0
		if strings.HasSuffix(x.Span.Measure, "_girth") {
			want = x.Span.Share * 6 * math.Pi
		}
		if math.Abs(less-want) > 1e-9 {
			t.Errorf("%s of %s wants %g less, want %g", x.Span.Name, x.Piece.Name, less, want)
		}
	}
	act, err := draft.ActNamed("set-fit")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := act.DoText(smock, map[string]string{"under": "-1mm"}); err == nil || !strings.Contains(err.Error(), "worn underneath") {
		t.Errorf("less than nothing is worn: %v", err)
	}
}

// What the old body wore belongs to the pattern: it is said of it before any fit as well, layer
// by layer, and neither a fit taken back nor another measure of the old body forgets how the
// block estimates.
func TestOriginHoldsWhatWasWorn(t *testing.T) {
	bare := bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...)
	all := pieceNamesOf(bare)
	o := bare.Origin(bare.Pieces[0].Origin)
	args := []string{"pieces", all, "line", o.Line.String(), "measures", measuresText(o)}
	said := done(t, bare, "set-origin", append(args, "under", `"shirt; long"=0.5mm;2.5mm`)...)
	if got, want := said.Origin(said.Pieces[0].Origin).Under, []draft.Worn{{Name: "shirt; long", Thickness: 0.5}, {Thickness: 2.5}}; !slices.Equal(got, want) {
		t.Fatalf("it wore %v, want %v", got, want)
	}
	before := done(t, said, "fit-pattern", "wearer", "Quill", "ease", "kept")
	after := done(t, done(t, bare, "fit-pattern", "wearer", "Quill", "ease", "kept"), "set-fit", "under", "3mm")
	for i, x := range fitOf(t, before).Targets {
		if y := fitOf(t, after).Targets[i]; math.Abs(x.Wants-y.Wants) > 1e-9 {
			t.Errorf("%s of %s wants %g said before the fit, %g said after", x.Span.Name, x.Piece.Name, x.Wants, y.Wants)
		}
	}
	if off := draft.Movement(before, after); off > 1e-5 {
		t.Errorf("said before or after the fit they lie %g mm apart", off)
	}

	p := bodyOf(t, draft.New("costume"), "Anna", 1, grown...)
	p = done(t, p, "draft-block", "block", "bodice", "wearer", "Anna")
	p = done(t, done(t, p, "fit-pattern", "wearer", "Anna", "free", "yes"), "end-fit")
	was := p.Origin(p.Pieces[0].Origin)
	p = done(t, p, "set-origin", "pieces", pieceNamesOf(p), "line", "stitch", "measures", "bust_girth=90cm")
	if now := p.Origin(p.Pieces[0].Origin); now.ID == was.ID || len(was.Estimates) == 0 || !slices.Equal(now.Estimates, was.Estimates) {
		t.Errorf("with another measure it estimates by %v, and did by %v", now.Estimates, was.Estimates)
	}
	if n := len(p.Origins); n != 1 {
		t.Errorf("there are %d origins", n)
	}
}

// pieceNamesOf lists all pieces as an act reads them.
func pieceNamesOf(p *draft.Project) string {
	var list []string
	for _, piece := range p.Pieces {
		list = append(list, `"`+string(piece.ID)+`"`)
	}
	return strings.Join(list, ";")
}

// measuresText writes the measures of an origin as an act reads them.
func measuresText(o *draft.Origin) string {
	var list []string
	for _, m := range o.Measures {
		list = append(list, m.String())
	}
	return strings.Join(list, ";")
}
