package tracer

import (
	"image"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/tracetest"
)

// await does what waits for the window's goroutine until ok, and fails after a while.
func await(t testing.TB, what string, ok func() bool) {
	t.Helper()
	limit := time.After(20 * time.Second)
	for !ok() {
		select {
		case f := <-events:
			f()
		case <-limit:
			t.Fatalf("waited in vain: %s", what)
		}
	}
}

// bib and cuff are two small pieces that a puppet could wear, in mm: with a square corner,
// straight runs, and a line inside.
func bib() tracetest.Piece {
	return tracetest.Piece{Name: "bib", Outline: geom.Path{
		geom.Line(geom.Pt(0, 0), geom.Pt(48, 0)), geom.Line(geom.Pt(48, 0), geom.Pt(48, 30)),
		geom.Cubic(geom.Pt(48, 30), geom.Pt(48, 44), geom.Pt(36, 52), geom.Pt(24, 52)),
		geom.Cubic(geom.Pt(24, 52), geom.Pt(12, 52), geom.Pt(0, 44), geom.Pt(0, 30)),
		geom.Line(geom.Pt(0, 30), geom.Pt(0, 0)),
	}}
}

func cuff() tracetest.Piece {
	return tracetest.Piece{Name: "cuff", Outline: geom.Polygon(geom.Pt(62, 0), geom.Pt(92, 0), geom.Pt(92, 20), geom.Pt(62, 20))}
}

// tracing is the room with a scan in it that is true to size, and what it asked of the
// window.
type tracingRoom struct {
	*Room
	scan tracetest.Picture
	said []string
	left []draft.ID
	went int

	clean  *clean
	follow *ways
	origin *origin
	review *review
}

const testDPI = 150

// newTracing makes the room over a scan of a sheet.
func newTracing(t testing.TB, sheet tracetest.Sheet) *tracingRoom {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light))
	pic, err := tracetest.Scan{DPI: testDPI, Blur: 0.7, Noise: 3, Seed: 5}.See(sheet)
	if err != nil {
		t.Fatal(err)
	}
	b := pic.Image.Bounds()
	file := draft.PictureFile{Name: "sheet.png", Hash: strings.Repeat("a5", 32), Ext: "png", Wide: b.Dx(), High: b.Dy(), DPI: testDPI}
	d := desk.New(draft.New("winter show"))
	out, err := desk.RunFolded(d, draft.AddPicture, draft.AddPictureArgs{File: file, Opacity: 0.6}, "")
	if err != nil {
		t.Fatal(err)
	}
	dpi := float64(testDPI)
	if err := desk.Run(d, draft.TruePicture, draft.TruePictureArgs{Picture: draft.PictureRef(out.Made), DPI: &dpi}); err != nil {
		t.Fatal(err)
	}
	x := &tracingRoom{scan: pic}
	x.Room, err = New(d, *look.Palette(look.Light.Variant()), Host{
		Say: func(text string) { x.said = append(x.said, text) }, Status: func() {},
		Choose: func() {}, Load: func(*draft.Picture) func() (image.Image, float64, error) {
			return func() (image.Image, float64, error) { return pic.Image, testDPI, nil }
		},
		Focus: func(fyne.Focusable) {}, View: func() {}, Pointer: func(geom.Point, bool) {},
		Leave:     func(made []draft.ID) { x.left, x.went = made, x.went+1 },
		Aside:     func(work func() func()) { go func() { then := work(); events <- then }() },
		Modifiers: func() fyne.KeyModifier { return 0 },
	})
	if err != nil {
		t.Fatal(err)
	}
	d.Listen(x.Changed)
	for _, s := range x.steps {
		switch s := s.(type) {
		case *clean:
			x.clean = s
		case *ways:
			x.follow = s
		case *origin:
			x.origin = s
		case *review:
			x.review = s
		}
	}
	win := test.NewTempWindow(t, x.Centre())
	win.SetPadded(false)
	win.Resize(fyne.NewSize(900, 700))
	side := test.NewTempWindow(t, x.Side())
	side.Resize(fyne.NewSize(Width, 800))
	x.Shown()
	await(t, "the picture", func() bool { return x.read(x.chosen()).image != nil })
	x.sheet.Frame(900, 700)
	t.Cleanup(x.Hidden)
	return x
}

// at returns the place on the bench of a place of the scanned sheet, both in mm.
func (x *tracingRoom) at(sheet geom.Point) geom.Point {
	return x.chosen().Place.Apply(x.scan.Back.Apply(sheet))
}

// mouse returns an event of the pointer at a place in mm.
func (x *tracingRoom) mouse(at geom.Point) *desktop.MouseEvent {
	v := x.sheet.View()
	px := v.ToPx(at)
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(px.X/v.DPR), float32(px.Y/v.DPR))}, Button: desktop.MouseButtonPrimary}
}

func (x *tracingRoom) click(at geom.Point) {
	e := x.mouse(at)
	x.sheet.MouseMoved(e)
	x.sheet.MouseDown(e)
	x.sheet.MouseUp(e)
}

func (x *tracingRoom) dragTo(from, to geom.Point) {
	x.sheet.MouseDown(x.mouse(from))
	for _, p := range []geom.Point{from.Lerp(to, 0.5), to} {
		x.sheet.Dragged(&fyne.DragEvent{PointEvent: x.mouse(p).PointEvent})
	}
	x.sheet.DragEnd()
}

// followed goes to Follow and waits for the outlines.
func (x *tracingRoom) followed(t testing.TB) {
	t.Helper()
	x.goTo(stepFollow)
	await(t, "the outlines", func() bool { return x.follow.finds.last != nil && !x.working() })
}

// truth returns a piece as it lies on the bench.
func (x *tracingRoom) truth(i int) geom.Path {
	m := x.scan.Back
	var out geom.Path
	for _, s := range x.scan.Pieces[i].Outline {
		to := func(p geom.Point) geom.Point { return x.chosen().Place.Apply(m.Apply(p)) }
		out = append(out, geom.Segment{P0: to(s.P0), P1: to(s.P1), P2: to(s.P2), P3: to(s.P3), Straight: s.Straight})
	}
	return out
}

// offTruth returns how far a line lies off the true piece at its place at most.
func (x *tracingRoom) offTruth(l *line) float64 {
	for k := range x.scan.Pieces {
		if t := x.truth(k); t.Bounds().Center().Dist(l.Path.Bounds().Center()) < 2 {
			return tracetest.Measure(l.Path, t).Largest
		}
	}
	return math.Inf(1)
}

// twoPieces is a drawn sheet with a bib and a cuff.
func twoPieces() tracetest.Sheet { return tracetest.Drawn(0.5, bib(), cuff()) }

func TestFollowFindsTheOutlines(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	f := x.follow.finds
	if len(f.lines) != 2 {
		t.Fatalf("%d outlines, want 2: %v", len(f.lines), f.last.leftOut)
	}
	for i, l := range f.lines {
		best := x.offTruth(l)
		// 0.35 mm is the bar for a pen line at 150 dpi.
		if best > 0.35 {
			t.Errorf("outline %d lies %.3f mm off the truth", i, best)
		}
		if !l.taken || l.worst() > 0.35 {
			t.Errorf("outline %d: taken %v, off by %.3f", i, l.taken, l.worst())
		}
	}
	if says := f.verdict(); !strings.Contains(says, "2 outlines, off") {
		t.Error(says)
	}
	if st := x.follow.standing(); !st.done || st.says != "2 of 2" {
		t.Errorf("%+v", st)
	}
}

// What was named and left out stays so when a setting changes, the last result is shown
// greyed until the new one is there, and several changes in a row are one.
func TestASettingFollowsAnew(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	f := x.follow.finds
	first := f.last
	f.lines[0].name = "Bib"
	x.follow.tick(f.lines[1], false)
	for _, tol := range []string{"0.5mm", "0.4mm", "0.3mm"} {
		x.follow.panels.tol.SetText(tol)
		x.follow.panels.tol.OnSubmitted(tol)
	}
	if !x.follow.faint() || f.last != first || !x.follow.effort.under() || len(f.lines) != 2 {
		t.Fatal("the last result is not shown greyed while the ink is followed anew")
	}
	await(t, "the new result", func() bool { return f.last != first })
	if f.settings.Tol != 0.3 || f.stale() || x.follow.faint() {
		t.Errorf("followed with a tolerance of %v, stale %v", f.settings.Tol, f.stale())
	}
	if f.lines[0].name != "Bib" || !f.lines[0].taken || f.lines[1].taken {
		t.Errorf("names and ticks are lost: %q %v %v", f.lines[0].name, f.lines[0].taken, f.lines[1].taken)
	}
	x.follow.panels.tol.SetText("9mm")
	x.follow.panels.tol.OnSubmitted("9mm")
	if x.follow.panels.tol.Reason() == "" || f.settings.Tol != 0.3 {
		t.Error("a tolerance of 9 mm is taken")
	}
}

func TestFollowStops(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.goTo(stepFollow)
	if !x.follow.effort.under() {
		t.Fatal("nothing is under way")
	}
	x.stop()
	x.update()
	if x.working() || !x.follow.effort.stopped() || !x.follow.panels.again.Visible() {
		t.Fatal("it is not stopped, or begins again by itself")
	}
	test.Tap(x.follow.panels.again)
	await(t, "the outlines", func() bool { return x.follow.finds.last != nil })
}

// What was followed in a picture that has changed meanwhile is dropped, and it is followed
// anew.
func TestAResultOfAnOldPictureIsDropped(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.goTo(stepFollow)
	dpi := 100.0
	if err := desk.Run(x.desk, draft.TruePicture, draft.TruePictureArgs{Picture: draft.PictureRef(x.chosen().ID), DPI: &dpi}); err != nil {
		t.Fatal(err)
	}
	await(t, "the outlines", func() bool { return x.follow.finds.last != nil })
	if w := x.follow.finds.lines[0].Path.Bounds().W(); math.Abs(w-48*1.5) > 0.5 && math.Abs(w-30*1.5) > 0.5 {
		t.Errorf("the outline is %.1f mm wide", w)
	}
}

func TestWhatIsNotTrueIsNotFollowed(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.desk.Undo() // the resolution
	if x.chosen() == nil || x.chosen().True != nil {
		t.Fatal("the picture is still true")
	}
	x.goTo(stepFollow)
	if x.working() || !x.follow.panels.blocked.Visible() {
		t.Error("a picture of unknown size is followed")
	}
}

// Reading only a part leaves out what lies outside.
func TestAFrameReadsOnlyAPart(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	first := x.follow.finds.last
	x.follow.frame(true)
	m := tracetest.Margin
	x.dragTo(x.at(geom.Pt(m-6, m-6)), x.at(geom.Pt(m+54, m+58)))
	await(t, "the part", func() bool { return x.follow.finds.last != first })
	if n := len(x.follow.finds.lines); n != 1 {
		t.Fatalf("%d outlines in the frame", n)
	}
	x.follow.frame(false)
	await(t, "all of it", func() bool { return len(x.follow.finds.lines) == 2 })
}

func TestCleanShowsBeforeAndAfter(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.goTo(stepClean)
	await(t, "the cleaned picture", func() bool { return x.clean.after != nil })
	if b := x.scan.Image.Bounds(); x.clean.after.W != b.Dx() || x.clean.after.H != b.Dy() {
		t.Errorf("the cleaned picture has %d by %d pixels", x.clean.after.W, x.clean.after.H)
	}
	seen := x.sheet.View().Visible()
	x.dragTo(geom.Pt(x.clean.dividerX(), seen.Center().Y), geom.Pt(seen.Min.X+0.25*seen.W(), seen.Center().Y))
	if math.Abs(x.clean.at-0.25) > 0.01 {
		t.Errorf("the divider lies at %.3f", x.clean.at)
	}
	if now := x.sheet.View().Visible(); now != seen {
		t.Error("dragging the divider moved the picture")
	}
	shows := func() bool {
		x.sheet.Frame(900, 700)
		c := x.sheet.View().ToPx(x.chosen().Middle().Add(geom.Pt(-4, 4)))
		return x.sheet.Frame(900, 700).RGBAAt(int(c.X), int(c.Y)).R > 250 // the paper of the scan has noise
	}
	for s, want := range map[sight]bool{seeAfter: true, seeBefore: false} {
		x.clean.panels.sight.Put(int(s))
		x.clean.sight = s
		x.redraw()
		if n := len(x.clean.layers()); n > 0 != want {
			t.Errorf("%v lays %d layers over the picture", s, n)
		}
		if s == seeAfter && !shows() {
			t.Error("cleaned paper is not white")
		}
	}
}

// A printed colour that is clicked is taken for paper, so that its lines are not followed;
// kept again, they are.
func TestAPrintedColourIsTakenForPaper(t *testing.T) {
	blue := tracetest.Tone{0.35, 0.55, 0.85}
	sheet, moved := tracetest.Lay(bib(), cuff())
	sheet = sheet.Draw(blue, 0.5, moved[1]).Draw(tracetest.Black, 0.5, moved[0])
	x := newTracing(t, sheet)
	x.followed(t)
	if n := len(x.follow.finds.lines); n != 2 {
		t.Fatalf("%d outlines with the blue one", n)
	}
	x.goTo(stepClean)
	x.clean.pick(true)
	x.click(x.at(moved[1].Outline[0].At(0.5)))
	if x.clean.finds.settings.Tint == nil || x.clean.picking {
		t.Fatalf("no colour is picked: %v", x.said)
	}
	x.followed(t)
	await(t, "the black one alone", func() bool { return len(x.follow.finds.lines) == 1 })
	// Grey ink is no colour.
	x.goTo(stepClean)
	x.clean.pick(true)
	before := *x.clean.finds.settings.Tint
	x.click(x.at(moved[0].Outline[0].At(0.5)))
	if *x.clean.finds.settings.Tint != before || !x.clean.picking {
		t.Error("black ink is taken for a printed colour")
	}
	if !x.clean.key(fyne.KeyEscape, 0) || x.clean.picking {
		t.Error("Esc does not leave off picking")
	}
}

// By hand: a click at each corner, the way follows the ink between, a click on the first
// stop closes it.
func TestFollowByHand(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	f := x.follow.finds
	f.lines[0].name, f.lines[1].name = "Bib or cuff", "Bib or cuff"
	x.follow.byHand(true)
	await(t, "the guide", func() bool { return x.follow.guiding != nil })
	g := x.follow.guiding
	truth := x.truth(0)
	corners := []geom.Point{truth[0].P0, truth[1].P0, truth[2].P0, truth[4].P0}
	click := func(p geom.Point) {
		x.click(p)
		await(t, "the way", func() bool { return !g.asking })
	}
	click(corners[0].Add(geom.Pt(0.6, 0.5)))
	x.sheet.MouseMoved(x.mouse(corners[1]))
	await(t, "the live way", func() bool { return !g.asking })
	if len(g.live) < 10 || g.liveBare {
		t.Fatalf("the way to the pointer has %d points, bare %v", len(g.live), g.liveBare)
	}
	click(corners[1].Add(geom.Pt(-0.5, 0.4)))
	click(geom.Pt(corners[1].X+15, corners[1].Y+15)) // beside everything
	if n := len(g.stops); n != 3 {
		t.Fatalf("%d stops", n)
	}
	x.sheet.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	if n := len(g.stops); n != 2 {
		t.Fatalf("Backspace leaves %d stops", n)
	}
	click(corners[2])
	if !g.stops[1].corner {
		t.Error("the stop at a square corner is passed smoothly")
	}
	if g.stops[2].corner {
		t.Error("the last stop is a corner before anything comes after it")
	}
	click(truth[3].P0)
	click(corners[3])
	if len(f.lines) != 2 {
		t.Fatal("it was listed before it was closed")
	}
	x.click(corners[0])
	await(t, "the line", func() bool { return len(f.lines) == 3 })
	l := f.lines[2]
	off := tracetest.Measure(l.Path, truth)
	if !l.byHand || !l.taken || off.Largest > 0.35 || len(l.Path) > 8 {
		t.Errorf("by hand %v, taken %v, off by %.3f mm in %d segments", l.byHand, l.taken, off.Largest, len(l.Path))
	}
	t.Logf("followed by hand: median %.4f, largest %.3f mm, %d segments of %d", off.Median, off.Largest, len(l.Path), len(truth))
	// It takes the place of the outline that was found there.
	if n := len(f.taken()); n != 2 || l.name != "Bib or cuff" {
		t.Errorf("%d outlines are ticked, and it is called %q", n, l.name)
	}
	// It stays when the pictures are followed anew.
	first := f.last
	x.follow.panels.tol.OnSubmitted("0.3mm")
	x.follow.panels.tol.SetText("0.3mm")
	x.follow.panels.tol.OnSubmitted("0.3mm")
	await(t, "the new result", func() bool { return f.last != first })
	if len(f.lines) != 3 || f.lines[2] != l {
		t.Error("what was followed by hand is lost")
	}
}

// A line that is not closed becomes a line inside the outline round it, and nothing is
// listed of one that was left off.
func TestALineInsideByHand(t *testing.T) {
	sheet, moved := tracetest.Lay(bib())
	dart := tracetest.Piece{Outline: geom.Path{geom.Line(moved[0].Outline[0].At(0.4).Add(geom.Pt(0, 12)), moved[0].Outline[0].At(0.6).Add(geom.Pt(0, 34)))}}
	sheet = sheet.Draw(tracetest.Black, 0.5, moved[0])
	sheet.Layers = append(sheet.Layers, tracetest.Layer{Tone: tracetest.Black, Pen: 0.5, Lines: []geom.Path{dart.Outline}})
	x := newTracing(t, sheet)
	x.followed(t)
	f := x.follow.finds
	if len(f.lines) != 1 {
		t.Fatalf("%d outlines", len(f.lines))
	}
	had := len(f.lines[0].Inner)
	begin := func() *guiding {
		x.follow.byHand(true)
		await(t, "the guide", func() bool { return x.follow.guiding != nil })
		return x.follow.guiding
	}
	g := begin()
	for _, p := range []geom.Point{dart.Outline[0].P0, dart.Outline[0].P3} {
		x.click(x.at(p))
		await(t, "the way", func() bool { return !g.asking })
	}
	x.sheet.TypedKey(&fyne.KeyEvent{Name: fyne.KeyE})
	await(t, "the line inside", func() bool { return x.follow.guiding == nil })
	if n := len(f.lines[0].Inner); n != had+1 || len(f.lines) != 1 {
		t.Fatalf("%d lines inside, %d before", n, had)
	}
	begin()
	x.click(x.at(dart.Outline[0].P0))
	x.sheet.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if x.follow.guiding != nil || len(f.lines) != 1 {
		t.Error("Esc does not leave off")
	}
}

func TestPutOnTheBenchAsksFirst(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.goTo(stepReview)
	if word, lacks, _ := x.review.deed(); lacks == "" {
		t.Errorf("%q though there is nothing", word)
	}
	x.followed(t)
	x.goTo(stepReview)
	_, lacks, _ := x.review.deed()
	if !strings.Contains(lacks, "cut lines or stitching lines") || !x.side.next.Off() || !x.side.lacks.Visible() {
		t.Fatalf("what the lines are is not asked: %q", lacks)
	}
	m := &x.origin.finds.made
	if m.said {
		t.Fatal("what the lines are is preset")
	}
	x.goTo(stepMadeFor)
	test.Tap(x.origin.panels.lines[draft.CutDrawn].card)
	if !strings.Contains(m.lacks(), "how much allowance") || x.origin.standing().done {
		t.Errorf("the allowance inside is not asked: %q", m.lacks())
	}
	x.origin.panels.inside.SetText("4mm")
	x.origin.panels.inside.OnSubmitted("4mm")
	if m.lacks() != "" || m.allowance() != 4 || !x.origin.standing().done {
		t.Errorf("%q, %v", m.lacks(), m.allowance())
	}
	x.origin.panels.add("bust_girth")
	x.origin.panels.add("waist_girth")
	x.origin.panels.fields[0].SetText("31cm")
	x.origin.panels.fields[0].OnSubmitted("31cm")
	m.name, m.size = "Lamplighter's bib", "small"
	x.goTo(stepReview)
	pieces := len(x.desk.Project().Pieces)
	test.Tap(x.side.next)
	p := x.desk.Project()
	if len(p.Pieces) != pieces+2 || len(x.left) != 2 || len(p.Origins) != 1 {
		t.Fatalf("%d pieces, %d went to the bench, %d origins: %s", len(p.Pieces), len(x.left), len(p.Origins), x.review.refused)
	}
	o := p.Origins[0]
	if o.Line != draft.CutDrawn || o.Allowance != 4 || o.Size != "small" || len(o.Measures) != 1 || o.Measures[0].Value != 310 {
		t.Errorf("the origin is %+v", o)
	}
	// Its cut line lies on the ink.
	for i, l := range x.review.finds.onBench() {
		held := x.review.finds.toHold(l)
		if held.review(); held.fault != "" || held.off.Largest > 0.4 {
			t.Errorf("piece %d: its cut line of %d segments lies %.2f mm off the ink: %v", i, len(held.path), held.off.Largest, held.fault)
		}
	}
	if _, lacks, _ := x.review.deed(); lacks == "" {
		t.Error("it can be put on the bench twice")
	}
}

// After a piece was corrected on the bench it is held against the ink again, also when it
// was moved since.
func TestReviewOfACorrectedPiece(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	f := x.review.finds
	f.made = madeFor{said: true, line: draft.StitchDrawn, outside: 5}
	x.goTo(stepReview)
	x.review.put()
	if len(f.onBench()) != 2 {
		t.Fatalf("%d pieces: %s", len(f.onBench()), x.review.refused)
	}
	x.goTo(stepFollow)
	x.goTo(stepReview)
	if !x.review.bench {
		t.Fatal("the pieces on the bench are not reviewed")
	}
	held := func() {
		t.Helper()
		await(t, "the pieces to be held against the ink", func() bool { return len(x.review.all) == 2 && !x.working() })
	}
	held()
	before, _, _ := x.review.worst()
	if before > 0.35 {
		t.Errorf("untouched, it lies %.2f mm off", before)
	}
	id := f.laid[0].id
	if err := desk.Run(x.desk, draft.MovePiece, draft.MovePieceArgs{Pieces: []draft.PieceRef{draft.PieceRef(id)}, By: draft.Vector{X: 40, Y: -12}}); err != nil {
		t.Fatal(err)
	}
	held()
	if by, _, _ := x.review.worst(); math.Abs(by-before) > 1e-3 {
		t.Errorf("moved as a whole it lies %.3f off, %.3f before", by, before)
	}
	piece := x.desk.Project().Piece(id)
	node := piece.Edges[0].Nodes[0].ID
	if err := desk.Run(x.desk, draft.MoveNodes, draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: id, Node: node}}, By: draft.Vector{X: -2, Y: -1.5}}); err != nil {
		t.Fatal(err)
	}
	held()
	by, _, _ := x.review.worst()
	if by < 1 || by > 2.6 {
		t.Errorf("a corner moved by 2.5 mm lies %.2f mm off", by)
	}
	x.review.goToPlace(0)
	want := x.desk.Project().Piece(id).Place.Affine().Apply(x.desk.Project().Piece(id).Edges[0].Nodes[0].At)
	if got := x.review.places[0].at; got.Dist(want) > 3 {
		t.Errorf("the worst place is %v, want about %v", got, want)
	}
	if c := x.sheet.View().Visible().Center(); c.Dist(x.review.places[0].at) > 2 {
		t.Errorf("the view does not go there: %v", c)
	}
}

func TestNextWorstGoesOn(t *testing.T) {
	var offs []trace.Deviation
	for _, peaks := range [][]float64{{0.05, 0.3, 0.05}, {0.6, 0.02, 0.4}} {
		var d trace.Deviation
		for i, by := range peaks {
			at := geom.Pt(float64(i)*50, 0)
			for k := range 10 { // a slope on both sides belongs to the same fault
				d.Samples = append(d.Samples, trace.Sample{At: at.Add(geom.Pt(float64(k-5)*0.5, 0)), By: by * (1 - math.Abs(float64(k-5))/20)})
			}
			if by > d.Largest {
				d.Largest, d.At = by, at
			}
		}
		offs = append(offs, d)
	}
	var got []float64
	for _, p := range worstPlaces(offs, 0.2) {
		got = append(got, p.by)
	}
	if len(got) != 5 || got[0] != 0.6 || got[1] != 0.4 || got[2] != 0.3 {
		t.Errorf("%v", got)
	}
}

func TestGrades(t *testing.T) {
	for by, want := range map[float64]grade{0: 0, 0.05: 0, -0.06: 1, 0.1: 1, 0.2: 2, 0.39: 3, -0.5: 4} {
		if g := gradeOf(by, 0.2); g != want {
			t.Errorf("%.2f has grade %d, want %d", by, g, want)
		}
	}
	for g := grade(1); g < grades; g++ {
		if g.width() <= (g-1).width() || g.colour() == (g-1).colour() {
			t.Errorf("grade %d is not told from the one below", g)
		}
	}
}

// What is nearly square is made square when it is ticked, and is as it was when the tick
// is taken away.
func TestSuggestionsAreTakenAndTakenBack(t *testing.T) {
	skew := tracetest.Piece{Name: "cuff", Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(60, 0.3), geom.Pt(60.3, 30), geom.Pt(0.2, 30.2))}
	x := newTracing(t, tracetest.Drawn(0.5, skew))
	x.followed(t)
	x.goTo(stepReview)
	await(t, "the suggestions", func() bool { return x.review.effort.own == nil && x.review.suggested().offered })
	l := x.review.suggested()
	if len(l.offers) == 0 || len(x.review.panels.offers.ticks) == 0 {
		t.Fatal("nothing is suggested of a cuff that is nearly square")
	}
	for _, o := range l.offers {
		if o.Off < leastMove {
			t.Errorf("%v is offered and moves nothing", o)
		}
	}
	was := l.Path
	x.review.panels.offers.cards[0].MouseIn(&desktop.MouseEvent{})
	if x.review.shown != 0 || len(x.review.layers()) == 0 {
		t.Error("pointing at a suggestion does not show it")
	}
	x.review.panels.offers.cards[0].MouseOut()
	if x.review.shown != -1 {
		t.Error("it stays shown")
	}
	x.review.panels.offers.ticks[0].SetChecked(true)
	if len(l.took) != 1 {
		t.Fatal("a tick takes nothing")
	}
	same := true
	for i := range l.Path {
		same = same && i < len(was) && l.Path[i] == was[i]
	}
	if same {
		t.Error("nothing has changed")
	}
	x.review.acceptAll(l, true)
	if len(l.took) < 2 {
		t.Errorf("all take %d: %s", len(l.took), x.review.refused)
	}
	x.review.acceptAll(l, false)
	if len(l.took) != 0 || len(l.Path) != len(l.as.Path) {
		t.Error("they are not taken back")
	}
}

// What is not said is told by looking: filled shapes are followed along their edges. What
// the maker has said stays.
func TestTheMannerIsToldByLooking(t *testing.T) {
	x := newTracing(t, tracetest.Filled(bib(), cuff()))
	x.followed(t)
	f := x.follow.finds
	if f.settings.Manner != trace.Filled || f.manner != mannerLooked || f.stale() || len(f.lines) != 2 {
		t.Fatalf("filled shapes are followed as %v, stale %v, %d outlines", f.settings.Manner, f.stale(), len(f.lines))
	}
	if by := x.offTruth(f.lines[0]); by > 0.35 {
		t.Errorf("off by %.2f mm", by)
	}
	first := f.last
	x.follow.panels.manner.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	await(t, "the strokes", func() bool { return f.last != first })
	if f.settings.Manner != trace.Drawn || f.manner != mannerSaid {
		t.Error("what was said does not stay")
	}
}

// Pieces that are taken off the bench again can be put there again.
func TestUndoOfPuttingOnTheBench(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	f := x.review.finds
	f.made = madeFor{said: true, line: draft.StitchDrawn, outside: 5}
	x.goTo(stepReview)
	x.review.put()
	if len(f.taken()) != 0 || x.follow.standing().says != "on the bench" {
		t.Fatalf("%d are still ticked; %+v", len(f.taken()), x.follow.standing())
	}
	x.desk.Undo()
	if len(f.taken()) != 2 || len(f.onBench()) != 0 {
		t.Errorf("after undo %d are ticked and %d lie on the bench", len(f.taken()), len(f.onBench()))
	}
	x.desk.Redo()
	if len(f.onBench()) != 2 || len(f.taken()) != 0 {
		t.Errorf("after redo %d lie on the bench and %d are ticked", len(f.onBench()), len(f.taken()))
	}
}

// In a project that is opened again the outlines are known that lie on the bench, and what
// the pattern was made for.
func TestWhatLiesOnTheBenchIsRecognised(t *testing.T) {
	for _, kind := range []draft.DrawnLine{draft.StitchDrawn, draft.CutDrawn} {
		x := newTracing(t, twoPieces())
		x.followed(t)
		f := x.review.finds
		f.made = madeFor{said: true, line: kind, outside: 5, inside: 4, insideSaid: kind == draft.CutDrawn, name: "Bib", size: "S",
			measures: []draft.OriginMeasure{{Name: "bust_girth", Value: 310}}}
		if kind == draft.CutDrawn {
			f.made.outside = 0
		} else {
			f.made.inside = 0
		}
		said := f.made
		x.goTo(stepReview)
		x.review.put()
		// One piece is moved off: that one is not known again.
		p := x.desk.Project().Pieces
		id := p[len(p)-1].ID
		if err := desk.Run(x.desk, draft.MovePiece, draft.MovePieceArgs{Pieces: []draft.PieceRef{draft.PieceRef(id)}, By: draft.Vector{X: 200}}); err != nil {
			t.Fatal(err)
		}
		x.desk.Open(x.desk.Project(), "")
		x.followed(t)
		if n, lie := len(f.taken()), len(f.onBench()); n != 1 || lie != 1 {
			t.Fatalf("%v: %d are ticked, %d lie on the bench", kind, n, lie)
		}
		if !reflect.DeepEqual(f.made, said) {
			t.Errorf("made for %+v, want %+v", f.made, said)
		}
		held := f.toHold(f.onBench()[0])
		if held.review(); held.fault != "" || held.off.Largest > 0.5 {
			t.Errorf("the piece lies %.2f mm off the ink: %s", held.off.Largest, held.fault)
		}
		if last := x.said[len(x.said)-1]; !strings.Contains(last, "on the bench already") {
			t.Errorf("said %q", last)
		}
	}
}

// What is done in the room is taken back before the steps of the document: ticks, and the
// stops of a line that is followed by hand.
func TestUndoInTheRoom(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	f := x.follow.finds
	if what, back := x.Undoes(); back != nil {
		t.Fatalf("%s can be taken back", what)
	}
	x.follow.tick(f.lines[0], false)
	x.goTo(stepMadeFor)
	if what, back := x.Undoes(); back != nil {
		t.Errorf("%s is taken back out of sight", what)
	}
	x.goTo(stepFollow)
	_, back := x.Undoes()
	if back(); !f.lines[0].taken {
		t.Error("the tick is not back")
	}
	x.follow.byHand(true)
	await(t, "the guide", func() bool { return x.follow.guiding != nil })
	g := x.follow.guiding
	for _, s := range x.truth(0)[:2] {
		x.click(s.P0)
	}
	for n := 1; n >= 0; n-- {
		what, back := x.Undoes()
		if back == nil {
			t.Fatalf("no stop can be taken back of %d", len(g.stops))
		}
		if back(); len(g.stops) != n || x.follow.guiding != g {
			t.Fatalf("taking back %s leaves %d stops", what, len(g.stops))
		}
	}
	x.click(x.truth(0)[0].P0)
	x.follow.byHand(false)
	if what, back := x.Undoes(); back != nil {
		t.Errorf("%s can be taken back of a line that was dropped", what)
	}
	x.follow.tick(f.lines[0], false)
	x.desk.Undo()
	if what, back := x.Undoes(); back != nil {
		t.Errorf("%s is taken back of another document", what)
	}
}

// After a setting has changed nothing is put on the bench that was found by the old one.
func TestWhatIsOutdatedIsNotPutOnTheBench(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	f := x.review.finds
	f.made = madeFor{said: true, line: draft.StitchDrawn, outside: 5}
	x.goTo(stepClean)
	f.settings.Speck = 1
	x.goTo(stepReview)
	if _, lacks, _ := x.review.deed(); !strings.Contains(lacks, "Follow") {
		t.Errorf("%q", lacks)
	}
	x.followed(t)
	await(t, "the new result", func() bool { return !f.stale() })
	x.goTo(stepReview)
	if _, lacks, _ := x.review.deed(); lacks != "" {
		t.Errorf("%q", lacks)
	}
}

// A line that was followed by hand where nothing else was followed is not put on the bench
// at a place that its picture has left.
func TestALineByHandOfAMovedPictureIsNotPutOnTheBench(t *testing.T) {
	x := newTracing(t, twoPieces())
	f, pic := x.review.finds, x.chosen()
	f.made = madeFor{said: true, line: draft.StitchDrawn, outside: 5}
	f.lines = []*line{{Outline: trace.Outline{Path: x.truth(0)}, taken: true, byHand: true, of: []*draft.Picture{pic}}}
	f.number()
	x.goTo(stepReview)
	if _, lacks, _ := x.review.deed(); lacks != "" {
		t.Fatalf("%q", lacks)
	}
	dpi := 2.0 * testDPI
	if err := desk.Run(x.desk, draft.TruePicture, draft.TruePictureArgs{Picture: draft.PictureRef(pic.ID), DPI: &dpi}); err != nil {
		t.Fatal(err)
	}
	if _, lacks, _ := x.review.deed(); lacks == "" {
		t.Error("it would be put at the place that its picture had")
	}
}

// What was followed in one picture stays listed while another one is followed, and goes
// with its picture.
func TestLinesOfSeveralPictures(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	f := x.follow.finds
	first := x.chosen()
	f.lines[0].name = "Bib"
	file := draft.PictureFile{Name: "again.png", Hash: strings.Repeat("b6", 32), Ext: "png", Wide: first.Wide, High: first.High, DPI: testDPI}
	at := draft.Vector(geom.Pt(first.Middle().X+300, first.Middle().Y))
	out, err := desk.RunFolded(x.desk, draft.AddPicture, draft.AddPictureArgs{File: file, At: &at, Opacity: 0.6}, "")
	if err != nil {
		t.Fatal(err)
	}
	dpi := float64(testDPI)
	if err := desk.Run(x.desk, draft.TruePicture, draft.TruePictureArgs{Picture: draft.PictureRef(out.Made), DPI: &dpi}); err != nil {
		t.Fatal(err)
	}
	before := f.last
	x.choose(out.Made)
	await(t, "the second picture", func() bool { return f.last != before && !x.working() })
	if len(f.lines) != 4 {
		t.Fatalf("%d outlines of two pictures", len(f.lines))
	}
	if err := desk.Run(x.desk, draft.DeletePicture, draft.DeletePictureArgs{Pictures: []draft.PictureRef{draft.PictureRef(first.ID)}}); err != nil {
		t.Fatal(err)
	}
	if len(f.lines) != 2 {
		t.Errorf("%d outlines after the first picture is gone", len(f.lines))
	}
	for _, l := range f.lines {
		if l.Path.Bounds().Center().X < first.Middle().X+200 {
			t.Errorf("an outline of the picture that is gone stays: %v", l.Path.Bounds())
		}
	}
}

// A line that breaks off says how wide its gap is, and closes when such gaps are bridged.
func TestGapsAreToldAndBridged(t *testing.T) {
	sheet, moved := tracetest.Lay(cuff())
	sheet.Pieces = moved
	sheet.Layers = append(sheet.Layers, tracetest.Layer{Tone: tracetest.Black, Pen: 0.5, Lines: tracetest.Broken(moved[0].Outline, 4, 0.4)})
	x := newTracing(t, sheet)
	x.followed(t)
	f := x.follow.finds
	if len(f.lines) != 0 || len(f.last.leftOut) == 0 || !strings.Contains(f.last.leftOut[0], "bridge wider gaps") {
		t.Fatalf("%d outlines; %q", len(f.lines), f.last.leftOut)
	}
	x.follow.panels.gap.SetText("6mm")
	x.follow.panels.gap.OnSubmitted("6mm")
	await(t, "the bridged outline", func() bool { return len(f.lines) == 1 })
	if by := x.offTruth(f.lines[0]); by > 0.35 {
		t.Errorf("off by %.2f mm", by)
	}
}

// An outline that is chosen in the list is brought in sight, also by its name.
func TestWhatIsChosenIsBroughtInSight(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	for i, choose := range []func(r *lineRow){
		func(r *lineRow) { r.card.Tapped(nil) },
		func(r *lineRow) { r.name.OnFocus(true) },
	} {
		for _, r := range x.follow.panels.list.rows {
			x.sheet.LookAt(geom.Pt(-500, -500), 20)
			choose(r)
			seen, box := x.sheet.View().Visible(), r.of.Path.Bounds()
			if !seen.Contains(box.Min) || !seen.Contains(box.Max) || x.follow.picked != r.of.id {
				t.Errorf("way %d: %s lies at %v, seen is %v", i, r.of.called(), box, seen)
			}
			before := x.sheet.View()
			if choose(r); x.sheet.View() != before {
				t.Errorf("way %d: what is in sight is moved", i)
			}
		}
	}
}
