package bench

import (
	"image"
	"testing"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
)

// joinedStage is a bench on which the pieces of a seam are laid together at its first end
// with a joint.
func joinedStage(t *testing.T) (*stage, *tool.Joined) {
	t.Helper()
	p := workroom(t)
	cut := *p
	cut.Pieces, cut.Seams = p.Pieces[:4], p.Seams[:3]
	s := newStage(t, &cut, 1200, 800)
	s.Fit()
	joints := s.desk.Slots().Joints(&cut)
	if len(joints) == 0 {
		t.Fatal("no seam of the bench has a joint")
	}
	j := tool.NewJoined(s.hand, joints[0].Seam, joints[0].End)
	s.SetTool(j)
	s.ShowBox(j.Marks().Joint.Box(), 0)
	s.Frame(1200, 800)
	return s, j
}

// The laid pieces lie in the place of the bench's own, which fade and are not touched.
func TestJoinedLiesInThePlaceOfThePieces(t *testing.T) {
	s, j := joinedStage(t)
	laid := j.Marks().Joint.Laid
	if got := len(s.stillScene().Items); got != 4+len(laid) {
		t.Errorf("%d things lie still, want 4 faded pieces and %d that are laid", got, len(laid))
	}
	if before := s.stillScene(); s.stillScene() != before {
		t.Error("what lies still is made anew though nothing changed")
	}
	project := s.desk.Project()
	s.hover(s.inside(1))
	s.drag(s.inside(1), s.inside(2), 0)
	if s.scene.hover.Kind != desk.Nothing || s.desk.Project() != project || len(s.desk.Picked()) > 0 {
		t.Error("a piece under the joint is touched")
	}
	s.SetTool(tool.NewSelect(s.hand))
	if got := len(s.stillScene().Items); got != 4 {
		t.Errorf("afterwards %d pieces lie on the bench", got)
	}
}

// While a mend of the joint is tried the line is drawn as it becomes, and as it was dashed.
func TestMendAtAJointIsDrawnOverWhatWas(t *testing.T) {
	s, j := joinedStage(t)
	if got := s.dashedBefore(j); got != 0 {
		t.Fatalf("%d lines of before are drawn though nothing is tried", got)
	}
	before := s.desk.Project()
	was := j.Marks().Joint.Lines[0]
	piece := j.Marks().Joint.Laid[0].Piece
	n := piece.Edges[0].Nodes[0]
	out, err := draft.MoveNodes.Do(before, draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: piece.ID, Node: n.ID}}, By: draft.Vector{X: 1, Y: 3}})
	if err != nil {
		t.Fatal(err)
	}
	s.desk.Try().Show(out.Step, out.Project)
	s.ShowBefore(before)
	if s.dashedBefore(j) == 0 {
		t.Error("how it was is not drawn")
	}
	if now := j.Marks().Joint.Lines[0]; now[0] == was[0] && now[len(now)-1] == was[len(was)-1] {
		t.Error("the line is not drawn as it becomes")
	}
	s.desk.DropTrial()
	s.ShowBefore(nil)
	if s.dashedBefore(j) != 0 {
		t.Error("how it was is still drawn")
	}
}

func (s *stage) dashedBefore(j *tool.Joined) int {
	n := 0
	for _, item := range s.beforeLaid(j.Marks().Joint.Laid) {
		n += len(item.Marks)
	}
	return n
}

// A kink is marked in its colour outside the cloth, a smooth line in another.
func TestJointIsColouredByItsAngle(t *testing.T) {
	s, j := joinedStage(t)
	m := j.Marks().Joint
	for stands, colours := range jointColours {
		m.Stands = tool.JointStands(stands)
		item := &paint.Item{Marks: angleMarks(m, s.view.DPR/s.view.Scale)}
		img := image.NewRGBA(image.Rect(0, 0, 1200, 800))
		s.painter.Paint(img, s.view, &s.palette, &paint.Scene{Items: []*paint.Item{item}})
		want, n := s.palette[colours[0]], 0
		for i := 0; i < len(img.Pix); i += 4 {
			if img.Pix[i] == want.R && img.Pix[i+1] == want.G && img.Pix[i+2] == want.B {
				n++
			}
		}
		if n == 0 {
			t.Errorf("of %d nothing is drawn in %v", stands, want)
		}
	}
}
