package tray

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/store"
)

func sample(t *testing.T) (*Tray, *desk.Desk) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light))
	p, err := store.Decode(assets.Sample())
	if err != nil {
		t.Fatal(err)
	}
	d := desk.New(p)
	tr, err := New(d, *look.Palette(1))
	if err != nil {
		t.Fatal(err)
	}
	return tr, d
}

func TestPiecesAreListedByGarment(t *testing.T) {
	tr, d := sample(t)
	n := len(d.Project().Pieces)
	if got := len(tr.list.Objects); got != n+1 {
		t.Fatalf("%d rows for %d pieces of one garment", got, n)
	}
	last := d.Project().Pieces[n-1]
	if err := desk.Run(d, draft.SetGarment, draft.SetGarmentArgs{Pieces: []draft.PieceRef{draft.PieceRef(last.ID)}, Garment: "Cape"}); err != nil {
		t.Fatal(err)
	}
	if got := len(tr.list.Objects); got != n+2 {
		t.Errorf("%d rows for %d pieces of two garments", got, n)
	}
}

func TestFoldingAGarmentHidesItsPieces(t *testing.T) {
	tr, d := sample(t)
	head := tr.list.Objects[0].(*control.DragCard)
	head.Tapped(nil)
	for _, p := range d.Project().Pieces {
		if tr.cards[p.ID].card.Visible() {
			t.Errorf("%s is still there", p.Name)
		}
	}
}

// Only the picture of the piece that changed is painted again.
func TestPicturesFollowTheirPieces(t *testing.T) {
	tr, d := sample(t)
	// The last piece is not sewn to the first, so that no notch of it follows.
	first, second := d.Project().Pieces[0], d.Project().Pieces[len(d.Project().Pieces)-1]
	a, b := tr.cards[first.ID].thumb.Image, tr.cards[second.ID].thumb.Image
	args := draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: first.ID, Node: first.Edges[2].Nodes[0].ID}}, By: draft.Vector{X: 5}}
	if err := desk.Run(d, draft.MoveNodes, args); err != nil {
		t.Fatal(err)
	}
	if tr.cards[first.ID].thumb.Image == a {
		t.Error("the picture of the piece that changed is the old one")
	}
	if tr.cards[second.ID].thumb.Image != b {
		t.Error("the picture of a piece that did not change was painted again")
	}
}

func TestPickedPiecesAreMarked(t *testing.T) {
	tr, d := sample(t)
	p := d.Project().Pieces[2]
	d.Pick(desk.EdgeRef(p.ID, p.Edges[0].ID))
	for _, q := range d.Project().Pieces {
		if got := tr.cards[q.ID].card.Chosen(); got != (q.ID == p.ID) {
			t.Errorf("%s: marked is %v", q.Name, got)
		}
	}
}

func TestMarksFollowTheChecks(t *testing.T) {
	if levelOf(desk.Count{Problems: 1, LookAgain: 3}) != control.Problem ||
		levelOf(desk.Count{LookAgain: 1, Notes: 2}) != control.LookAgain ||
		levelOf(desk.Count{Notes: 2}) != control.Holds {
		t.Error("a card shows another mark than the gravest finding")
	}
}

// A document whose pieces bear the ids of those before has cards of its own.
func TestCardsOfAnotherDocument(t *testing.T) {
	tr, d := sample(t)
	p := d.Project()
	d.Pick(desk.PieceRef(p.Pieces[0].ID))
	d.Open(p, "")
	for i, piece := range p.Pieces {
		if c := tr.cards[piece.ID]; c == nil || c.card != tr.list.Objects[i+1] || c.card.Chosen() {
			t.Errorf("%s has no card of its own, or it is marked", piece.Name)
		}
	}
}

// Ctrl adds a piece or takes it out, Shift picks all from the one before it in the list.
func TestRangesAreEasilyPicked(t *testing.T) {
	tr, d := sample(t)
	tr.Pick = func(id draft.ID, more bool) {
		if more {
			d.PickMore(desk.PieceRef(id))
			return
		}
		d.Pick(desk.PieceRef(id))
	}
	tr.PickAll = func(ids []draft.ID) {
		var refs []desk.Ref
		for _, id := range ids {
			refs = append(refs, desk.PieceRef(id))
		}
		d.Pick(refs...)
	}
	list := tr.listedPieces()
	picked := func(want ...draft.ID) {
		t.Helper()
		if got := d.Picked().Pieces(); !slices.Equal(got, want) {
			t.Errorf("picked are %v, not %v", got, want)
		}
	}
	tr.cards[list[3]].card.OnTap()
	tr.cards[list[1]].card.OnRange()
	picked(list[3], list[2], list[1])
	tr.cards[list[4]].card.OnRange() // from the same one
	picked(list[3], list[4])
	tr.cards[list[3]].card.OnMore()
	picked(list[4])
	tr.cards[list[0]].card.OnMore()
	picked(list[4], list[0])
	tr.cards[list[1]].card.OnRange()
	picked(list[0], list[1])
}
