package draft

import (
	"strings"
	"testing"

	"hemlet/geom"
)

// A length that is measured from a point goes on being measured where an act puts another
// point in the same place, and is told to be gone where it has none.
func TestLengthsFollowPointsThatAreReplaced(t *testing.T) {
	for _, c := range []struct {
		name  string
		moved float64
		kept  bool
	}{{"in the same place", 0, true}, {"elsewhere", 5, false}} {
		t.Run(c.name, func(t *testing.T) {
			before := bodice()
			was := before.Pieces[0].clone()
			from, to := was.Edges[0].Nodes[0].ID, was.Edges[1].Nodes[0].ID
			was.Spans = []Span{{ID: "m900", Name: "depth", From: from, To: to}}
			before = before.withPiece(was)
			now := was.clone()
			now.Edges[0].Nodes[0].ID = "n901"
			now.Edges[0].Nodes[0].At = now.Edges[0].Nodes[0].At.Add(geom.Pt(c.moved, 0))
			out := Outcome{Project: before.withPiece(now)}
			out.keepMeasured(before)
			got := out.Project.Piece(was.ID).Spans
			told := strings.Contains(strings.Join(out.Says, " "), "depth was measured from a point that is gone")
			if c.kept && (len(got) != 1 || got[0].From != "n901" || got[0].To != to || told) || !c.kept && (len(got) != 0 || !told) {
				t.Errorf("it is measured %+v, told: %v", got, out.Says)
			}
			if len(was.Spans) != 1 || was.Spans[0].From != from {
				t.Error("the piece as it was has changed")
			}
		})
	}
}
