package station

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/draft"
)

// nameless is the smock as it comes of a tracing in which nothing was named: without names,
// seams and spans.
func nameless(t testing.TB) *draft.Project {
	p := *smockFor(t)
	p.Seams, p.Pieces = nil, nil
	for i, q := range smockFor(t).Pieces {
		piece := *q
		piece.Name, piece.Spans, piece.Edges = fmt.Sprintf("Piece %d", i+1), nil, nil
		for k, e := range q.Edges {
			e.Name = fmt.Sprintf("edge %d", k+1)
			piece.Edges = append(piece.Edges, e)
		}
		p.Pieces = append(p.Pieces, &piece)
	}
	return &p
}

// Where a name would tell more, the suggestions say so and lead to its field.
func TestNamesAreAskedForWhereTheyTellMore(t *testing.T) {
	p := nameless(t)
	untold := draft.NewSlots().Untold(p)
	if len(untold) == 0 {
		t.Fatal("the shape of every piece tells what it is")
	}
	f, _ := fittingOf(t, p)
	var named draft.ID
	f.ways.Name = func(id draft.ID) { named = id }
	s := f.made.spans
	if !s.hint.Visible() || !strings.Contains(s.hint.Text(), untold[0].Name) || !strings.Contains(s.hint.Text(), "more is found") {
		t.Errorf("at Fit it says %q", s.hint.Text())
	}
	s.name.OnTap()
	if named != untold[0].ID {
		t.Errorf("it leads to the name of %q", named)
	}

	tr, _ := truing(t)
	tr.desk.Open(p, "")
	named = ""
	tr.ways.Name = func(id draft.ID) { named = id }
	tr.unsewn.update()
	l := tr.unsewn.suggested
	if !l.hinting.Visible() || !strings.Contains(l.hint.Text(), untold[0].Name) {
		t.Errorf("at True it says %q", l.hint.Text())
	}
	if len(l.shown) == 0 {
		t.Fatal("nothing is suggested under which it could be out of sight")
	}
	l.scroll.Resize(fyne.NewSize(470, 150))
	if under := l.hinting.Position().Y + l.hinting.Size().Height; under > l.rows.Position().Y || under > 110 {
		t.Errorf("it ends at %v, the suggestions begin at %v", under, l.rows.Position().Y)
	}
	l.name.OnTap()
	if named != untold[0].ID {
		t.Errorf("from True it leads to the name of %q", named)
	}

	q, _ := fitting(t)
	if q.made.spans.hint.Visible() {
		t.Errorf("of named pieces it says %q", q.made.spans.hint.Text())
	}
}
