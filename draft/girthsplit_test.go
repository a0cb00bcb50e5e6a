package draft

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// A bodice whose front and back are both split above the bust is still told its ease at
// bust, waist and belly, as much as before; that the head is larger than the neck is said
// as long as there is a neck.
func TestEaseIsToldAfterASplitAboveTheBust(t *testing.T) {
	p := mustDo(t, bodiceFor(t), "set-measure", "wearer=Quill", "name=head_girth", "value=150mm").Project
	before := NewSlots().Check(p)
	if len(before.Girths) < 3 {
		t.Fatalf("girths %+v", before.Girths)
	}
	about := func(r Report) (heads int) {
		for _, f := range r.Findings {
			if strings.Contains(f.Says, "head") {
				heads++
			}
		}
		return heads
	}
	for _, role := range []string{"front", "back"} {
		q := roleOf(p, role)
		_, armhole := edgeCalled(t, q, "armhole")
		_, middle := edgeCalled(t, q, "centre")
		path, at := q.EdgePath(middle), q.EdgePath(armhole)
		level := at.At(at.AtLength(at.Length() / 2)).Y
		from := math.Abs(path.Start().Y-level) / path.Length()
		p = mustDo(t, p, "split-piece", fmt.Sprintf("from=%s.%s@%.1f%%", q.Name, q.Edges[middle].Name, 100*from), "to="+q.Name+".armhole@50%").Project
	}
	after := NewSlots().Check(p)
	for _, g := range before.Girths {
		i := slices.IndexFunc(after.Girths, func(h Girth) bool { return h.Level == g.Level })
		if i < 0 {
			t.Errorf("the ease at %s is no longer told", g.Level)
			continue
		}
		if h := after.Girths[i]; math.Abs(h.Ease-g.Ease) > 1e-4 {
			t.Errorf("the ease at %s is %g, it was %g", g.Level, h.Ease, g.Ease)
		}
	}
	if about(before) == 0 || about(before) != about(after) {
		t.Errorf("the note on the head is given %d times, it was %d", about(after), about(before))
	}
}

func edgeCalled(t *testing.T, p *Piece, name string) (*Edge, int) {
	t.Helper()
	for i := range p.Edges {
		if p.Edges[i].Name == name {
			return &p.Edges[i], i
		}
	}
	var names []string
	for i := range p.Edges {
		names = append(names, p.Edges[i].Name)
	}
	t.Fatalf("%s has no edge %s, but %v", p.label(), name, names)
	return nil, -1
}
