package export

import (
	"bytes"
	"context"
	"image"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

// kept returns the project with a version of what it is.
func kept(t testing.TB, p *draft.Project, name, follows string) *draft.Project {
	t.Helper()
	args := draft.KeepVersionArgs{Name: name}
	if follows != "" {
		id, err := p.FindVersion(follows)
		if err != nil {
			t.Fatal(err)
		}
		args.Follows = draft.VersionRef(id)
	}
	out, err := draft.KeepVersion.Do(p, args)
	if err != nil {
		t.Fatal(err)
	}
	return out.Project
}

// nudge moves the first point of an edge.
func nudge(t testing.TB, p *draft.Project, piece, edge draft.ID, by geom.Point) *draft.Project {
	t.Helper()
	e, _ := p.Piece(piece).Edge(edge)
	out, err := draft.MoveNodes.Do(p, draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: piece, Node: e.Nodes[0].ID}}, By: draft.Vector(by)})
	if err != nil {
		t.Fatal(err)
	}
	return out.Project
}

func since(t testing.TB, p *draft.Project, name string, o Options) *Plan {
	t.Helper()
	id, err := p.FindVersion(name)
	if err != nil {
		t.Fatal(err)
	}
	o.Since, o.Clock = id, clock
	plan, err := LayPages(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func afresh(t testing.TB, p *draft.Project, o Options) *Plan {
	t.Helper()
	o.Clock = clock
	plan, err := LayPages(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// tileOf returns the picture of what a page shows of the outlines and marks, without dashes,
// which begin elsewhere where an edge before has become longer, and without words.
func tileOf(t testing.TB, plan *Plan, number int, dpi float64) *image.RGBA {
	t.Helper()
	i := slices.IndexFunc(plan.Pages, func(p Page) bool { return p.Number == number })
	if i < 0 {
		return nil
	}
	page := plan.Pages[i]
	img, to, err := surface(page.Width, page.Height, dpi)
	if err != nil {
		t.Fatal(err)
	}
	m := plan.Paper.Margin
	to.place = geom.Affine{A: 1, D: 1, E: m - page.Window.Min.X, F: m - page.Window.Min.Y}
	for _, l := range page.Pieces {
		for _, mark := range l.Strokes() {
			if mark.Role == Leader {
				continue
			}
			for _, c := range mark.Chains {
				for _, part := range clip(c, page.Window) {
					to.strokePath(part.path, stroke{0.3, "#000000", nil}, 0)
				}
			}
		}
	}
	return img
}

// differ returns by how much, of 255, any pixel of two pictures differs at most.
func differ(a, b *image.RGBA) int {
	if a == nil || b == nil || a.Bounds() != b.Bounds() {
		return 255
	}
	most := 0
	for i := range a.Pix {
		d := int(a.Pix[i]) - int(b.Pix[i])
		most = max(most, d, -d)
	}
	return most
}

// A line of 0.3 mm that lies a tenth of a millimetre off covers another 0.1 mm of a pixel,
// 16 % of one at 40 to the inch; rounding and a line that runs along a pixel's diagonal add
// to that. Half as much again is allowed.
const (
	lookDPI    = 40
	stayDiffer = 255 / 4
)

// checkStays holds each page that stays to its picture.
func checkStays(t testing.TB, was, now *Plan) {
	t.Helper()
	for _, page := range now.Pages {
		if d := differ(tileOf(t, was, page.Number, lookDPI), tileOf(t, now, page.Number, lookDPI)); page.Stays && d > stayDiffer {
			t.Errorf("page %d is said to stay and looks different by %d of 255", page.Number, d)
		}
	}
}

// checkApart: pieces lie clear of one another and of the facts, and on their pages.
func checkApart(t reporter, plan *Plan) {
	t.Helper()
	const tolerance = 0.06 // mm, of the chords
	for n, g := range plan.Groups {
		for i, l := range g.Pieces {
			box := l.Bounds()
			if box.Min.X < 0 || box.Min.Y < 0 || box.Max.X > g.W || box.Max.Y > g.H {
				t.Errorf("%s lies at %v, beyond its pages of %g by %g", l.Piece.Name, box, g.W, g.H)
			}
			if n == 0 && meetsBox(l, plan.info.Grow(-keptGap)) {
				t.Errorf("%s lies on the facts", l.Piece.Name)
			}
			for _, other := range g.Pieces[:i] {
				if d := clearance(chordsOf(other), chordsOf(l), other.Cut, l.Cut); d < keptGap-tolerance {
					t.Errorf("%s lies %g mm from %s", l.Piece.Name, d, other.Piece.Name)
				}
			}
		}
	}
}

func TestNothingIsPrintedAnewWhereNothingHasChanged(t *testing.T) {
	p := kept(t, wardrobe(), "toile", "")
	plan := since(t, p, "toile", Options{})
	if n := plan.Printed(); len(n) != 0 {
		t.Errorf("pages %v are printed again", n)
	}
	var b bytes.Buffer
	_, err := Encode(context.Background(), &b, p, Options{Format: PDF, Since: p.Versions[0].ID})
	if err == nil || !strings.Contains(err.Error(), "nothing that is printed has changed since “toile”") || b.Len() > 0 {
		t.Errorf("%v, %d bytes", err, b.Len())
	}
}

// A cloak over many pages whose hem has a new corner: pages on which that is not seen stay.
func TestOnlyPagesThatShowAChangeArePrinted(t *testing.T) {
	p := kept(t, wardrobe(), "toile", "")
	was := afresh(t, p, Options{})
	q := nudge(t, p, "p5", "cloak.hem", geom.Pt(-4, 0))
	plan := since(t, q, "toile", Options{})
	checkStays(t, was, plan)
	stay, gone := plan.Kept()
	if len(stay) < 2 || len(gone) > 0 || len(stay)+len(plan.Printed()) != len(was.Pages) {
		t.Errorf("%v stay, %v are gone, %v are printed", stay, gone, plan.Printed())
	}
	var b bytes.Buffer
	report, err := Encode(context.Background(), &b, q, Options{Format: PDF, Since: p.Versions[0].ID, Clock: clock})
	if err != nil {
		t.Fatal(err)
	}
	if report.Pages != len(plan.Printed()) || !slices.Equal(report.Stay, stay) || len(report.Pieces) >= len(q.Pieces) {
		t.Errorf("the report tells %+v", report)
	}
	if says := strings.Join(report.Kept, " "); !strings.Contains(says, "as printed with “toile”") || !strings.Contains(says, "former marks of Cloak") {
		t.Errorf("it says %q", says)
	}
}

// What nobody can cut is no reason to print a page.
func TestAHairsBreadthIsNotPrintedAnew(t *testing.T) {
	p := kept(t, wardrobe(), "toile", "")
	q := nudge(t, p, "p5", "cloak.hem", geom.Pt(-0.05, 0))
	for _, page := range since(t, q, "toile", Options{}).Pages {
		if page.Stays {
			continue
		}
		// Only the label, which bears the mark of the piece.
		if !slices.ContainsFunc(laidOf(page.Group, "p5").Words(), func(w Text) bool {
			return strings.HasPrefix(w.Words, "rev ") && w.Bounds().Overlaps(page.Window)
		}) {
			t.Errorf("page %d is printed again", page.Number)
		}
	}
}

// A piece that has outgrown its place goes where there is room; the others stay.
func TestAPieceThatOutgrowsItsPlaceLeavesTheOthersAlone(t *testing.T) {
	p := kept(t, wardrobe(), "toile", "")
	was := afresh(t, p, Options{})
	q := nudge(t, p, "p3", "sleeve.front", geom.Pt(90, 0))
	q = nudge(t, q, "p3", "sleeve.cap", geom.Pt(90, 0))
	plan := since(t, q, "toile", Options{})
	checkApart(t, plan)
	checkStays(t, was, plan)
	if n := len(plan.Printed()); n == 0 || n == len(plan.Pages) {
		t.Errorf("%d of %d pages are printed", n, len(plan.Pages))
	}
	for _, g := range was.Groups {
		for _, l := range g.Pieces {
			if l.Piece.ID == "p3" {
				continue
			}
			i := slices.Index(was.Groups, g)
			if now := laidOf(plan.Groups[i], l.Piece.ID); now == nil || now.origin != l.origin {
				t.Errorf("%s has moved", l.Piece.Name)
			}
		}
	}
}

func TestPiecesThatComeAndGo(t *testing.T) {
	all := wardrobe()
	few := *all
	few.Pieces, few.Seams = all.Pieces[:3], nil
	p := kept(t, &few, "first", "")
	was := afresh(t, p, Options{})
	whole := *all
	whole.NextID, whole.Versions = p.NextID, p.Versions
	plan := since(t, &whole, "first", Options{})
	checkApart(t, plan)
	for _, page := range plan.Pages {
		if page.Number > len(was.Pages) && page.Stays {
			t.Errorf("page %d was never printed", page.Number)
		}
	}
	if len(plan.Pages) <= len(was.Pages) {
		t.Errorf("%d pages, there were %d", len(plan.Pages), len(was.Pages))
	}
	second := kept(t, &whole, "second", "first")
	without := *second
	without.Pieces, without.Seams = second.Pieces[:4], nil
	less := since(t, &without, "second", Options{})
	_, gone := less.Kept()
	if len(gone) == 0 {
		t.Error("the pages of the cloak are still needed")
	}
	if says := strings.Join(less.KeptWords(), " "); !strings.Contains(says, "not needed any more") {
		t.Errorf("it says %q", says)
	}
	// A third version does not give out the numbers of pages that are gone.
	third := kept(t, &without, "third", "second")
	again := *third
	again.Pieces = all.Pieces
	for _, page := range since(t, &again, "third", Options{}).Pages {
		if slices.Contains(gone, page.Number) {
			t.Errorf("page %d is another one now", page.Number)
		}
	}
}

// Of pages that were printed in the arrangement of an earlier version, those that stay again
// look as they did at first.
func TestVersionsFollowOneAnother(t *testing.T) {
	p := kept(t, wardrobe(), "first", "")
	first := afresh(t, p, Options{})
	q := nudge(t, p, "p3", "sleeve.front", geom.Pt(2, 0))
	second := since(t, q, "first", Options{})
	q = kept(t, q, "second", "first")
	r := nudge(t, q, "p5", "cloak.hem", geom.Pt(-6, 0))
	third := since(t, r, "second", Options{})
	checkStays(t, second, third)
	both := 0
	for _, page := range third.Pages {
		if before := second.samePage(slices.Index(third.Groups, page.Group), page.Row, page.Col); page.Stays && before != nil && before.Stays {
			both++
			if differ(tileOf(t, first, page.Number, lookDPI), tileOf(t, third, page.Number, lookDPI)) > stayDiffer {
				t.Errorf("page %d has stayed twice and looks different", page.Number)
			}
		}
	}
	if both == 0 {
		t.Error("no page has stayed twice")
	}
	if _, err := draft.DeleteVersion.Do(r, draft.DeleteVersionArgs{Version: draft.VersionRef(r.Versions[0].ID)}); err == nil {
		t.Error("a version was deleted that another one follows")
	}
}

// A cloak that outgrows its pages downward gets a row of pages more; those above stay.
func TestJoinedPagesGrowByARow(t *testing.T) {
	p := kept(t, wardrobe(), "toile", "")
	was := afresh(t, p, Options{})
	large := func(plan *Plan) *Group {
		for _, g := range plan.Groups {
			if laidOf(g, "p5") != nil {
				return g
			}
		}
		return nil
	}
	before := large(was)
	q := nudge(t, p, "p5", "cloak.hem", geom.Pt(300, -40))
	plan := since(t, q, "toile", Options{})
	after := large(plan)
	if after.Cols <= before.Cols && after.Rows <= before.Rows {
		t.Fatalf("%d by %d pages, there were %d by %d", after.Cols, after.Rows, before.Cols, before.Rows)
	}
	checkApart(t, plan)
	for _, page := range plan.Pages {
		old := slices.ContainsFunc(was.Pages, func(o Page) bool { return o.Number == page.Number })
		if page.Stays && !old {
			t.Errorf("page %d was never printed", page.Number)
		}
		if page.Stays && differ(tileOf(t, was, page.Number, lookDPI), tileOf(t, plan, page.Number, lookDPI)) > stayDiffer {
			t.Errorf("page %d is said to stay and looks different", page.Number)
		}
	}
}

// Whatever points move, pages that stay look as they did.
func TestPagesThatStayLookTheSame(t *testing.T) {
	p := kept(t, wardrobe(), "toile", "")
	was := afresh(t, p, Options{})
	random := rand.New(rand.NewPCG(7, 1))
	few := 0
	for range 15 {
		q := p
		for range 1 + random.IntN(2) {
			piece := p.Pieces[random.IntN(len(p.Pieces))]
			e := piece.Edges[random.IntN(len(piece.Edges))]
			out, err := draft.MoveNodes.Do(q, draft.MoveNodesArgs{
				Nodes: []draft.NodeRef{{Piece: piece.ID, Node: e.Nodes[0].ID}},
				By:    draft.Vector(geom.Pt(12*random.Float64()-6, 12*random.Float64()-6)),
			})
			if err == nil {
				q = out.Project
			}
		}
		plan, err := LayPages(context.Background(), q, Options{Since: p.Versions[0].ID, Clock: clock})
		if err != nil {
			continue // a cut line that crosses itself has no pages
		}
		checkApart(t, plan)
		checkStays(t, was, plan)
		if n := len(plan.Printed()); n < len(plan.Pages) {
			few++
		}
	}
	if few < 8 {
		t.Errorf("some pages stay in %d of 15 cases", few)
	}
}

// Of the pieces on pages to be printed anew it is told which are as they were.
func TestWhatIsAsItWasOnPagesToPrintAnewIsTold(t *testing.T) {
	p := kept(t, wardrobe(), "first", "")
	o := Options{Paper: paper(t, "A3")}
	was := afresh(t, p, o)
	for _, page := range was.Pages {
		k := slices.IndexFunc(page.Pieces, func(l *Laid) bool { return l.Piece.ID == "p1" })
		if k < 0 || len(page.Pieces) < 2 {
			continue
		}
		piece := page.Pieces[k].Piece
		plan := since(t, nudge(t, p, piece.ID, piece.Edges[1].ID, geom.Pt(0.4, 0.3)), "first", o)
		said := strings.Join(plan.KeptWords(), " ")
		for _, l := range page.Pieces {
			if told := slices.Contains(plan.asWere, l.Piece.Name); told != (l.Piece.Name != piece.Name) {
				t.Errorf("with %s changed, that %s is as it was is told: %t (%q)", piece.Name, l.Piece.Name, told, said)
			}
		}
		if !strings.Contains(said, "still holds") {
			t.Errorf("it says %q", said)
		}
		// Of two that bear one name neither is told as what still holds.
		other := page.Pieces[(k+1)%len(page.Pieces)].Piece
		out, err := draft.RenamePiece.Do(p, draft.RenamePieceArgs{Piece: draft.PieceRef(other.ID), Name: piece.Name})
		if err != nil {
			t.Fatal(err)
		}
		twice := kept(t, out.Project, "second", "")
		plan = since(t, nudge(t, twice, piece.ID, piece.Edges[1].ID, geom.Pt(0.4, 0.3)), "second", o)
		if slices.Contains(plan.asWere, piece.Name) {
			t.Errorf("%s is told as it was, and one of two of that name has changed", piece.Name)
		}
		return
	}
	t.Fatal("the back lies alone")
}
