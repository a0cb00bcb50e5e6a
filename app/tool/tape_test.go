package tool

import (
	"math"
	"strings"
	"testing"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// taped returns a tape over a piece of 300 by 400 mm that lies at 100, 50, turned by a
// quarter, and what lays it from place to place of the piece.
func taped(t *testing.T) (*Tape, func(geom.Point) Pointer) {
	t.Helper()
	path := geom.Polygon(geom.Pt(0, 0), geom.Pt(300, 0), geom.Pt(300, 400), geom.Pt(0, 400))
	out, err := draft.ImportOutlines.Do(draft.New("test"), draft.ImportOutlinesArgs{
		Outlines: []draft.Outline{{Path: path, Corner: []bool{true, true, true, true}}},
	})
	if err != nil {
		t.Fatal(err)
	}
	d := desk.New(out.Project)
	if err := desk.Run(d, draft.MovePiece, draft.MovePieceArgs{Pieces: []draft.PieceRef{draft.PieceRef(d.Project().Pieces[0].ID)}, By: draft.Vector(geom.Pt(100, 50))}); err != nil {
		t.Fatal(err)
	}
	quarter := draft.Angle(math.Pi / 2)
	if err := desk.Run(d, draft.TurnPiece, draft.TurnPieceArgs{Pieces: []draft.PieceRef{draft.PieceRef(d.Project().Pieces[0].ID)}, By: &quarter}); err != nil {
		t.Fatal(err)
	}
	h := &Hand{Desk: d}
	piece := d.Project().Pieces[0]
	h.Catches = func(r Reach) Catch {
		return Catch{Kind: CaughtPoint, At: r.At, On: desk.PieceRef(piece.ID), Word: "point"}
	}
	return NewTape(h), func(p geom.Point) Pointer {
		at := piece.Place.Affine().Apply(p)
		return Pointer{At: at, MM: 1, Clicks: 1, Caught: h.Catches(Reach{At: at})}
	}
}

func click(t Tool, p Pointer) {
	t.Hover(p)
	t.Press(p)
	t.Release(p)
}

// From the middle of one edge round two corners to the middle of the opposite one it is
// 400 mm along the edges either way of a piece 300 by 400 mm, and 500 mm from corner to
// corner (3, 4, 5).
func TestTapeAddsUpAlongEdges(t *testing.T) {
	tape, at := taped(t)
	click(tape, at(geom.Pt(0, 0)))
	click(tape, at(geom.Pt(300, 0)))
	if got := tape.Marks().Plate; !strings.HasPrefix(got, "300 mm straight  ·  300 mm along the edge") {
		t.Errorf("one edge: %q", got)
	}
	click(tape, at(geom.Pt(300, 400)))
	if got := tape.Marks().Plate; !strings.Contains(got, "700 mm in all") || !strings.HasSuffix(got, "angle 90°") {
		t.Errorf("two edges: %q", got)
	}
	end := at(geom.Pt(0, 400))
	end.Clicks = 2
	tape.Press(end)
	tape.Release(end)
	tape.Hover(at(geom.Pt(150, 200)))
	if got := len(tape.Marks().Tape); got != 3 {
		t.Errorf("after a double click the tape has %d places", got)
	}
	if !tape.Cancel() || tape.Marks().Plate != "" {
		t.Error("Escape leaves the tape")
	}
}

func TestTapeGoesRoundCorners(t *testing.T) {
	tape, at := taped(t)
	drag := func(a, b geom.Point, alt bool) string {
		tape.Press(at(a))
		p := at(b)
		p.Keys.Alt = alt
		tape.Drag(p)
		tape.Release(p)
		return tape.Marks().Plate
	}
	if got := drag(geom.Pt(0, 0), geom.Pt(300, 400), false); !strings.HasPrefix(got, "500 mm straight  ·  700 mm along") {
		t.Errorf("corner to corner: %q", got)
	}
	if got := drag(geom.Pt(100, 0), geom.Pt(300, 100), false); !strings.Contains(got, "300 mm along") {
		t.Errorf("round a corner: %q", got)
	}
	if got := drag(geom.Pt(100, 0), geom.Pt(300, 100), true); !strings.Contains(got, "1,100 mm along") && !strings.Contains(got, "1100 mm along") {
		t.Errorf("the long way round: %q", got)
	}
	if got := drag(geom.Pt(100, 100), geom.Pt(130, 140), false); !strings.HasPrefix(got, "50 mm  ·") || strings.Contains(got, "along") {
		t.Errorf("inside the piece: %q", got)
	}
	way := 0.0
	drag(geom.Pt(100, 0), geom.Pt(300, 100), false)
	for _, l := range tape.Marks().Lines {
		way += l.Path.Length()
	}
	if math.Abs(way-300) > 1e-6 {
		t.Errorf("the way that is shown is %v mm long", way)
	}
}
