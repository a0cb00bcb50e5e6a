package draft

import "testing"

// A piece is changed by hand from the first change to its shape or its words on, also
// after it has followed its wearer, and until it is drawn anew.
func TestByHand(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	none := func(p *Project, when string) {
		t.Helper()
		for _, piece := range p.Pieces {
			if piece.ByHand() {
				t.Errorf("%s %s counts as changed by hand", piece.Name, when)
			}
		}
	}
	follow := func(p *Project) *Project {
		t.Helper()
		return mustDo(t, p, "set-measure", "wearer=Quill", "name=waist_girth", "value=196mm").Project
	}
	none(p, "as drafted")
	none(follow(p), "that has followed")
	p = mustDo(t, p, "add-cloth", "name=felt").Project
	none(mustDo(t, mustDo(t, p, "set-cloth", "pieces=front", "cloth=felt").Project, "move-piece", "pieces=front", "by=9mm,4mm").Project, "on another cloth and place")
	for _, act := range [][]string{
		{"move-nodes", "nodes=front.neck/end", "by=0mm,-4mm"},
		{"move-notch", "notch=front.side#1", "at=11mm"},
		{"set-grain", "pieces=front", "angle=80"},
		{"rename-piece", "piece=front", "name=Fore part"},
		{"set-allowance", "edges=front.neck", "width=3mm"},
	} {
		q := mustDo(t, p, act[0], act[1:]...).Project
		for _, when := range []*Project{q, follow(q)} {
			if !when.Piece("front").ByHand() || when.Piece("back").ByHand() {
				t.Errorf("after %s: front %v, back %v", act[0], when.Piece("front").ByHand(), when.Piece("back").ByHand())
			}
		}
		none(mustDo(t, q, "redraw-piece", "pieces=front").Project, "drawn anew after "+act[0])
	}
}
