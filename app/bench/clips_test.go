package bench

import (
	"path/filepath"
	"testing"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/draft/store"
)

// Clips are drawn where they are snipped: from the cut edge to clear of the stitching, and
// nowhere inside it.
func TestClipsLieInTheAllowance(t *testing.T) {
	p, _, err := store.Load(filepath.Join("..", "..", "testdata", "true", "sound.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	front := p.Pieces[0]
	out, err := p.Do(draft.Mend{Act: "clip-curves", Args: map[string]string{"pieces": string(front.ID)}})
	if err != nil {
		t.Fatal(err)
	}
	front = out.Project.Piece(front.ID)
	b := newBody(draft.NewSlots(), front)
	count := 0
	for _, s := range front.Stretches {
		x := b.part(desk.ThingRef(desk.Stretch, front.ID, s.ID))
		if s.Kind != draft.ClipStretch || x == nil {
			t.Fatalf("stretch %s of kind %s is not drawn", s.ID, s.Kind)
		}
		for _, clip := range x.paths {
			count++
			if _, d := b.cut.Nearest(clip.Start()); d > 0.05 {
				t.Errorf("a clip begins %g mm from the cut edge", d)
			}
			if _, d := b.stitch.Nearest(clip.End()); d < 0.95 {
				t.Errorf("a clip ends %g mm from the stitching", d)
			}
			if b.stitch.Contains(clip.End()) || b.stitch.Contains(clip.Start()) {
				t.Error("a clip lies inside the stitching")
			}
		}
	}
	if count < 4 {
		t.Errorf("the hollows of a front have %d clips", count)
	}
}
