package draft

import (
	"math"
	"strings"
	"testing"
)

func TestChangesAreTold(t *testing.T) {
	p := mustDo(t, bodice(), "add-dart", "edge=back.hem", "at=25mm", "intake=8mm", "length=30mm").Project
	p = mustDo(t, p, "add-notch", "edge=front.shoulder", "at=20mm").Project
	if c := Changes(p, p); len(c) != 0 {
		t.Errorf("nothing has changed, and it tells %+v", c)
	}
	moved := mustDo(t, p, "move-piece", "pieces=front", "by=20mm,3mm").Project
	if c := Changes(p, moved); len(c) != 0 {
		t.Errorf("it only lies elsewhere, and it tells %+v", c)
	}
	for _, c := range []struct {
		says string
		acts [][]string
	}{
		{"front: hem 8 mm in; side 72 mm long, was 80 mm; fold 72 mm long, was 80 mm", [][]string{
			{"add-toile-note", "edge=front.hem", "amount=8mm", "reach=whole"}, {"do-notes"}}},
		{"front: side up to 3 mm in, 80.3 mm long, was 80 mm", [][]string{{"add-toile-note", "edge=front.side", "amount=3mm"}, {"do-notes"}}},
		{"front: hem 58 mm long, was 60 mm; side 2 mm in; shoulder 58 mm long, was 60 mm", [][]string{{"move-nodes", "nodes=front.hem/end;front.side/end", "by=-2mm,0mm"}}},
		{"dart takes in 10 mm, was 8 mm", [][]string{{"move-dart", "dart=back.dart", "intake=10mm"}}},
		{"front: allowance of hem 9 mm, was 6 mm", [][]string{{"set-allowance", "edges=front.hem", "width=9mm"}}},
		{"front: notches lie elsewhere", [][]string{{"move-notch", "notch=front.shoulder#1", "at=30mm"}}},
		{"front: 2 notches, were 1", [][]string{{"add-notch", "edge=front.hem", "at=30mm"}}},
		{"back: cut 2, was cut 2, mirrored", [][]string{{"set-cut", "pieces=back", "way=single", "count=2"}}},
		{"back: is gone", [][]string{{"delete-piece", "pieces=back"}}},
		{"Tab: is new", [][]string{{"draw-shape", "shape=rectangle", "from=200mm,0mm", "to=220mm,60mm", "name=Tab"}}},
	} {
		q := p
		for _, a := range c.acts {
			q = mustDo(t, q, a[0], a[1:]...).Project
		}
		var says []string
		for _, x := range Changes(p, q) {
			says = append(says, x.Name+": "+x.Words())
		}
		if got := strings.Join(says, "\n"); !strings.Contains(got, c.says) {
			t.Errorf("%v: it says\n%s\nand is to say\n%s", c.acts, got, c.says)
		}
	}
}

// How far an edge moved is as far as the whole outline did, where it alone moved.
func TestChangesMeasureTheMovement(t *testing.T) {
	p := bodice()
	for _, by := range []string{"-2.5mm", "4mm", "11mm"} {
		q := mustDo(t, p, "move-nodes", "nodes=back.shoulder/start;back.shoulder/end", "by=0mm,"+by).Project
		c := Changes(p, q)
		if len(c) != 1 {
			t.Fatalf("%d pieces have changed", len(c))
		}
		for _, e := range c[0].Edges {
			if e.Name == "shoulder" {
				wantNear(t, "moved", math.Max(e.In, e.Out), Movement(p, q), 1e-6)
				if !e.Evenly || e.In > 0 && by[0] != '-' {
					t.Errorf("by %s: %+v", by, e)
				}
			}
		}
	}
}
