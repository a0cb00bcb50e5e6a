package draft_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"hemlet/draft"
	"hemlet/draft/store"
)

// A smock that was fitted to Quill can be altered, keeps that when a measure changes and it
// is fitted anew, and is as sound as before.
func TestAlterFitted(t *testing.T) {
	p, _, err := store.Load(filepath.Join("..", "testdata", "fit", "smock.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	p = mustRun(t, p, "take-spans")
	p = mustRun(t, p, "add-wearer", "name=Quill", "build=wide")
	for _, m := range [][2]string{{"bust_girth", "231mm"}, {"waist_girth", "238mm"}, {"belly_girth", "262mm"}, {"back_waist_length", "84mm"}} {
		p = mustRun(t, p, "set-measure", "wearer=Quill", "name="+m[0], "value="+m[1])
	}
	p = mustRun(t, p, "fit-pattern", "wearer=Quill")
	done := 0
	for _, what := range draft.NewSlots().Alterable(p) {
		out, err := draft.Alter.Do(p, draft.AlterArgs{What: what, By: 3})
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		done++
		soundlyAltered(t, p, out.Project)
		larger := mustRun(t, out.Project, "set-measure", "wearer=Quill", "name=belly_girth", "value=266mm")
		plain := mustRun(t, p, "set-measure", "wearer=Quill", "name=belly_girth", "value=266mm")
		was, now := draft.Movement(p, out.Project), draft.Movement(plain, larger)
		if now < was/2 || now > was*2 {
			t.Errorf("%s moves outlines by %.2f mm, and by %.2f once a measure has changed", what, was, now)
		}
	}
	if done < 5 {
		t.Errorf("only %d alterations were done", done)
	}
}

// A smock whose edges nobody has named, as a traced one, is altered all the same.
func TestAlterUnnamed(t *testing.T) {
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
