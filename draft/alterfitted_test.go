package draft_test

import (
	"cmp"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/store"
)

// A smock that was fitted to Quill can be altered, keeps that when a measure changes and it
// is fitted anew, and is as sound as before.
func TestAlterFitted(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	p, _, err := store.Load(filepath.Join("..", "testdata", "fit", "smock.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	p = fittedToQuill(t, p)
	done := 0
	for _, what := range draft.NewSlots().Alterable(p) {
		for _, by := range []draft.Length{-4, 4, 6} {
			alteredAndFittedAnew(t, p, what, by)
		}
		done++
	}
	if done < 5 {
		t.Errorf("only %d alterations were done", done)
	}
}

// fittedToQuill fits a pattern to a puppet with a wide belly.
func fittedToQuill(t *testing.T, p *draft.Project) *draft.Project {
	t.Helper()
	p = mustRun(t, p, "take-spans")
	p = mustRun(t, p, "add-wearer", "name=Quill", "build=wide")
	for _, m := range [][2]string{{"bust_girth", "231mm"}, {"waist_girth", "238mm"}, {"belly_girth", "262mm"}, {"back_waist_length", "84mm"}} {
		p = mustRun(t, p, "set-measure", "wearer=Quill", "name="+m[0], "value="+m[1])
	}
	return mustRun(t, p, "fit-pattern", "wearer=Quill")
}

// alteredAndFittedAnew alters a fitted smock, changes a measure, and checks that both hold.
func alteredAndFittedAnew(t *testing.T, p *draft.Project, what draft.Alteration, by draft.Length) {
	t.Helper()
	out, err := draft.Alter.Do(p, draft.AlterArgs{What: what, By: by})
	if err != nil {
		t.Errorf("%s by %g mm: %v", what, by, err)
		return
	}
	soundlyAltered(t, p, out.Project)
	larger := mustRun(t, out.Project, "set-measure", "wearer=Quill", "name=belly_girth", "value=266mm")
	plain := mustRun(t, p, "set-measure", "wearer=Quill", "name=belly_girth", "value=266mm")
	was, now := draft.Movement(p, out.Project), draft.Movement(plain, larger)
	if now < was/2 || now > was*2 {
		t.Errorf("%s by %g mm moves outlines by %.2f mm, and by %.2f once a measure has changed", what, by, was, now)
	}
}

// A smock whose edges nobody has named, as a traced one, is altered all the same.
func TestAlterUnnamed(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	p := smock(t, "sound.hemlet")
	able := draft.NewSlots().Alterable(p)
	for _, q := range p.Pieces {
		for i, e := range q.Edges {
			p = mustRun(t, p, "name-edge", fmt.Sprintf("edge=%q.%q", q.ID, e.ID), fmt.Sprintf("name=edge %d", i+1))
		}
	}
	now := draft.NewSlots().Alterable(p)
	if len(now) != len(able) {
		t.Fatalf("with names it can be altered in %v, without in %v", able, now)
	}
	for _, what := range now {
		alteredTo(t, p, what, 3)
	}
}

// What the sample garment and the bodices of its wearers can be altered in they are, by as
// much and as little as a puppet's body is built otherwise.
func TestAlterSamples(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	garments := map[string]*draft.Project{"the sample": sampleProject(t)}
	amounts := make(map[string]draft.Length) // where the wearer is smaller than Quill
	for _, w := range assets.SampleWearers() {
		read, _, err := store.DecodeWearer(w.Text)
		if err != nil {
			t.Fatal(err)
		}
		out, err := draft.AddWearerFrom.Do(draft.New("winter show"), draft.AddWearerFromArgs{Wearer: read})
		if err != nil {
			t.Fatal(err)
		}
		for _, below := range []string{"0mm", "20mm"} {
			p := done(t, out.Project, "draft-block", "block", "bodice", "wearer", read.Name, "set", "below_waist="+below)
			name := read.Name + "'s bodice, " + below + " below the waist"
			garments[name] = p
			if bust, _ := read.Measure("bust_girth"); bust.Value < 200 {
				amounts[name] = 2
			}
		}
	}
	for name, p := range garments {
		able := draft.NewSlots().Alterable(p)
		for _, what := range []draft.Alteration{draft.AlterBelly, draft.AlterTail, draft.AlterBust} {
			if !slices.Contains(able, what) {
				t.Errorf("%s: no %s", name, what)
			}
		}
		for _, what := range able {
			most := cmp.Or(amounts[name], 4)
			for _, by := range []draft.Length{-most, most} {
				out, err := draft.Alter.Do(p, draft.AlterArgs{What: what, By: by})
				if err != nil {
					t.Errorf("%s, %s by %g mm: %v", name, what, by, err)
					continue
				}
				soundlyAltered(t, p, out.Project)
			}
		}
	}
}

// A seam that is open part of the way is altered as a whole one is, and the place where it
// opens stays: the two edges of the straight line run the same way but for rounding, since the
// piece lies a little askew as a scan did.
func TestAlterWithAnOpenedSeam(t *testing.T) {
	p, _, err := store.Load(filepath.Join("..", "testdata", "fit", "smock.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	p = mustRun(t, fittedToQuill(t, p), "turn-piece", "pieces=Back", "by=0.4223°")
	p = mustRun(t, p, "edit-seam", "seam=centre back", "opens=no")
	p = mustRun(t, p, "open-seam", "seam=centre back", "from=end", "length=45.3mm")
	back := pieceNamed(t, p, "Back")
	const by = 3
	for _, what := range []draft.Alteration{draft.AlterTorso, draft.AlterSwayBack, draft.AlterForwardNeck, draft.AlterTail} {
		out, err := draft.Alter.Do(p, draft.AlterArgs{What: what, By: by})
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		altered := pieceNamed(t, out.Project, "Back")
		for e := range back.Edges {
			if was, now := back.EdgeLength(e), altered.EdgeLength(e); strings.HasPrefix(back.Edges[e].Name, "centre back") && math.Abs(now-was) > by+0.01 {
				t.Errorf("%s by %d mm: %s of %.1f mm is %.1f mm long", what, by, back.Edges[e].Name, was, now)
			}
		}
		soundlyAltered(t, p, out.Project)
	}
}
