package station

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/app/bench"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/draft/store"
	"hemlet/geom"
)

// shownOver notes what a station has drawn and picked on the bench.
type shownOver struct {
	over   *bench.Over
	picked desk.Picked
	place  draft.ID
	said   []string
	before *draft.Project
	// fitted is how often all pieces were brought into sight.
	fitted int
}

// fitting makes the station over the smock for a grown person, with Quill as the wearer.
func fitting(t testing.TB) (*Fitting, *shownOver) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light))
	return fittingOf(t, smockFor(t))
}

func fittingOf(t testing.TB, p *draft.Project) (*Fitting, *shownOver) {
	t.Helper()
	d := desk.New(p)
	shown := &shownOver{}
	f := NewFit(d, FitWays{
		Bench: control.NewPlane(look.Bench, "", 0), Say: func(text string) { shown.said = append(shown.said, text) },
		Turned: func() {}, Away: func() {}, Focus: func(fyne.Focusable) {}, Fit: func() { shown.fitted++ }, True: func() {}, Trace: func() {}, NewWearer: func() {},
		Wearer: func(draft.ID) {}, Before: func(p *draft.Project) { shown.before = p },
		Pick:  func(refs ...desk.Ref) { shown.picked = refs; d.Pick(refs...) },
		Place: func(piece draft.ID, _ geom.Point) { shown.place = piece },
		Over:  func(o *bench.Over) { shown.over = o },
		Aside: func(work func() func()) { work()() },
	})
	d.Listen(f.Changed)
	w := test.NewTempWindow(t, control.Stack(0))
	w.SetPadded(false)
	w.SetContent(newStack(f.Left()))
	w.Resize(fyne.NewSize(fitWide, 700))
	table := test.NewTempWindow(t, newStack(f.table.object))
	table.SetPadded(false)
	table.Resize(fyne.NewSize(900, 300))
	f.Shown()
	return f, shown
}

// smockFor returns the smock that a book prints, with the sample's wearer beside it.
func smockFor(t testing.TB) *draft.Project {
	t.Helper()
	text, err := os.ReadFile("../../testdata/fit/smock.hemlet")
	if err != nil {
		t.Fatal(err)
	}
	p, err := store.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	sample, err := store.Decode(assets.Sample())
	if err != nil {
		t.Fatal(err)
	}
	out, err := draft.AddWearer.Do(p, draft.AddWearerArgs{Name: "Quill"})
	if err != nil {
		t.Fatal(err)
	}
	quill := out.Made
	for _, m := range sample.Wearers[0].Measures {
		if out, err = draft.SetMeasure.Do(out.Project, draft.SetMeasureArgs{Wearer: draft.WearerRef(quill), Name: m.Name, Value: draft.Length(m.Value)}); err != nil {
			t.Fatal(err)
		}
	}
	return out.Project
}

// say says of edges of the smock what they stand for.
func say(t testing.TB, f *Fitting, measure string, share float64, piece string, edges ...string) {
	t.Helper()
	a := draft.AddSpanArgs{Measure: draft.MeasureRef(measure), Share: share}
	for _, p := range f.desk.Project().Pieces {
		for _, e := range p.Edges {
			if p.Name == piece && slices.Contains(edges, e.Name) {
				a.Edges = append(a.Edges, draft.EdgeRef{Piece: p.ID, Edge: e.ID})
			}
		}
	}
	if err := desk.Run(f.desk, draft.AddSpan, a); err != nil {
		t.Fatal(err)
	}
}

// fitted has the smock fitted by a few stretches that all can be had.
func fitted(t testing.TB) (*Fitting, *shownOver) {
	t.Helper()
	f, shown := fitting(t)
	say(t, f, "back_waist_length", 1, "Front", "side")
	say(t, f, "arm_length", 1, "Sleeve", "front seam")
	say(t, f, "wrist_girth", 1, "Cuff", "edge")
	f.Open(stepWhom)
	f.whom.doIt()
	if f.fit() == nil {
		t.Fatalf("it is not fitted: %v", shown.said)
	}
	return f, shown
}

func TestStepsOfFitFollowOneAnother(t *testing.T) {
	f, _ := fitting(t)
	if f.step != stepMade {
		t.Errorf("a pattern of which nothing is said begins at step %d", f.step+1)
	}
	if says, done := f.made.stands(); done || !strings.Contains(says, "no stretches yet") {
		t.Errorf("of it is told %q", says)
	}
	say(t, f, "back_waist_length", 1, "Front", "side")
	if says, done := f.made.stands(); !done || !strings.Contains(says, "1 stretch") {
		t.Errorf("with one stretch on sewn pieces it is told %q, %v", says, done)
	}
	f.made.next.Tapped(nil)
	if f.step != stepWhom {
		t.Fatal("it does not go on")
	}
	f.whom.doIt()
	if f.step != stepSee || f.fit() == nil {
		t.Fatal("Fit it does not lead to what became of it")
	}
	f.Hidden()
	f.Shown()
	if f.step != stepSee {
		t.Error("a pattern that is fitted is not shown")
	}
	f.see.back.Tapped(nil)
	if f.fit() != nil || f.step != stepWhom {
		t.Error("the fit is not taken back")
	}
}

func TestWhatThePatternWasMadeForIsSaid(t *testing.T) {
	f, _ := fitting(t)
	field := f.made.fields["bust_girth"]
	if field == nil || field.Text != "940 mm" {
		t.Fatal("the measures that the pattern states are not listed")
	}
	if err := field.Take("96cm"); err != nil {
		t.Fatal(err)
	}
	o, _ := f.origin()
	if v, _ := o.Measure("bust_girth"); v != 960 || o.Name != "Lamplighter's smock" || len(o.Measures) != 12 {
		t.Errorf("it is made for %v", o)
	}
	if err := field.Take("0"); err == nil {
		t.Error("a body without a bust girth is taken")
	}
	f.made.begin("belly_girth")
	if f.made.fields["belly_girth"] == nil {
		t.Fatal("a measure cannot be added")
	}
	if err := f.made.fields["belly_girth"].Take("900"); err != nil {
		t.Fatal(err)
	}
	if err := f.made.without("bust_girth"); err != nil {
		t.Fatal(err)
	}
	o, _ = f.origin()
	_, bust := o.Measure("bust_girth")
	belly, _ := o.Measure("belly_girth")
	if bust || belly != 900 {
		t.Errorf("after that it is made for %v", o.Measures)
	}
}

// What the old body wore is said layer by layer, or all of it in one figure without a name,
// before the fit and after it; what is fitted follows, and a fit taken back leaves it.
func TestWhatTheOldBodyWoreIsSaid(t *testing.T) {
	f, _ := fitted(t)
	f.Open(stepMade)
	wants := func() float64 {
		for _, x := range f.fit().Targets {
			if x.Span.Measure == "wrist_girth" {
				return x.Wants
			}
		}
		t.Fatal("nothing goes round the wrist")
		return 0
	}
	bare := wants()
	worn := func() []draft.Worn {
		o, _ := f.origin()
		return o.Under
	}
	u := f.made.under
	u.name.SetText("jumper")
	if err := u.thick.Take("2mm"); err != nil {
		t.Fatal(err)
	}
	if err := u.thick.Take("0.5"); err != nil {
		t.Fatal(err)
	}
	if got, want := worn(), []draft.Worn{{Name: "jumper", Thickness: 2}, {Thickness: 0.5}}; !slices.Equal(got, want) {
		t.Fatalf("it wore %v, want %v", got, want)
	}
	if clad := wants(); clad >= bare {
		t.Errorf("over 2.5 mm the wrist wants %g mm, over nothing %g", clad, bare)
	}
	if says := f.made.thick.Text(); !strings.Contains(says, "2.5 mm") || len(u.thicks) != 2 {
		t.Errorf("of %d layers it says %q", len(u.thicks), says)
	}
	show := func() bool { f.Update(); return f.made.worn.Visible() }
	if show() {
		t.Error("it is shown before it was asked for")
	}
	f.made.wornButton.OnTap()
	if !show() {
		t.Error("it is not shown")
	}
	if err := u.thicks[0].Take("3mm"); err != nil {
		t.Fatal(err)
	}
	if err := u.thicks[0].Take("-3mm"); err == nil {
		t.Error("less than nothing is worn")
	}
	u.ways.forget(1)
	o, _ := f.origin()
	if got, want := worn(), []draft.Worn{{Name: "jumper", Thickness: 3}}; !slices.Equal(got, want) || len(o.Measures) != 12 {
		t.Errorf("it wore %v, want %v; %d measures are left", got, want, len(o.Measures))
	}
	if says := f.made.inBrief(o); !strings.Contains(says, "Worn over 3 mm") {
		t.Errorf("in brief it is %q", says)
	}
	f.Open(stepSee)
	f.see.back.Tapped(nil)
	if got := worn(); f.fit() != nil || len(got) != 1 {
		t.Errorf("with the fit taken back it wore %v", got)
	}
}

func TestStretchIsSaidByChips(t *testing.T) {
	f, _ := fitting(t)
	front := f.desk.Project().Pieces[0]
	var side draft.ID
	for _, e := range front.Edges {
		if e.Name == "side" {
			side = e.ID
		}
	}
	f.desk.Pick(desk.EdgeRef(front.ID, side))
	chips := f.made.spans.chips
	if !chips.Visible() || len(chips.Objects) == 0 || len(chips.Objects) > mostChips {
		t.Fatalf("%d measures are offered", len(chips.Objects))
	}
	x, _ := f.made.spans.picked()
	first, _ := f.guess(x.piece, x.span, x.length).offered()
	for _, g := range first {
		if m, ok := body.Find(g.measure); !ok || m.Kind == body.Girth || m.Group == oddGroup {
			t.Errorf("a side seam may stand for %s", g.measure)
		}
	}
	f.made.spans.add(guess{measure: "back_waist_length", share: 1, ease: 12})
	if len(f.table.rows) != 1 || f.table.chosen != f.table.rows[0].key {
		t.Fatal("the stretch is not in hand")
	}
	cells := f.table.rows[0].cells(draft.Millimetre, stepMade)
	want := map[fitColumn]string{fitPiece: "Front", fitMeasure: "back waist length", fitShare: "all", fitThen: "410", fitEase: "+12", fitWas: draft.Millimetre.FormatBare(f.table.rows[0].was)}
	for c, text := range want {
		if cells[c] != text {
			t.Errorf("column %q says %q, not %q", fitColumnWords[c], cells[c], text)
		}
	}
	f.table.dropSpan(f.table.rows[0])
	if len(f.table.rows) != 0 {
		t.Error("it cannot be dropped")
	}
}

func TestTwoPointsStandForAMeasure(t *testing.T) {
	f, _ := fitting(t)
	front := f.desk.Project().Pieces[0]
	a, b := front.Edges[0].Nodes[0].ID, front.Edges[2].Nodes[0].ID
	f.desk.Pick(desk.NodeRef(front.ID, a), desk.NodeRef(front.ID, b))
	f.made.spans.add(guess{measure: "bust_girth", share: 0.25})
	if len(f.table.rows) != 1 {
		t.Fatal("two points stand for nothing")
	}
	span := f.table.rows[0].span
	if span.From != a || span.To != b || f.table.rows[0].was != f.desk.Slots().SpanLength(front, span) {
		t.Errorf("the stretch is %v", span)
	}
}

// At Made for all figures are of the pattern as it came and of the body that it was made for,
// before the fit and after it; what is changed there leaves what is wanted of a stretch alone.
func TestMadeForTellsThePatternAsItCame(t *testing.T) {
	f, _ := fitting(t)
	if err := f.made.spans.run(""); err != nil {
		t.Fatal(err)
	}
	tell := func() (out []string) {
		f.Open(stepMade)
		for _, r := range f.table.rows {
			c := r.cells(draft.Millimetre, stepMade)
			out = append(out, strings.Join([]string{c[fitPiece], c[fitName], c[fitMeasure], c[fitShare], c[fitWas], c[fitThen], c[fitEase]}, " "))
		}
		return out
	}
	before := tell()
	f.Open(stepWhom)
	f.whom.doIt()
	if f.fit() == nil {
		t.Fatal("it is not fitted")
	}
	if after := tell(); !slices.Equal(before, after) {
		t.Errorf("before the fit it says\n%s\nafter it\n%s", strings.Join(before, "\n"), strings.Join(after, "\n"))
	}
	if says := f.table.says.Text(); !strings.Contains(says, "as it came") {
		t.Errorf("over the table it says %q", says)
	}
	r := f.table.rows[0]
	if err := f.table.setShare(r, r.span.Share*0.9); err != nil {
		t.Fatal(err)
	}
	for _, x := range f.fit().Targets {
		if x.Span.ID == r.key.span && x.Piece.ID == r.key.piece && (x.Given || math.Abs(x.Span.Share-r.span.Share*0.9) > 1e-9) {
			t.Errorf("after another share of %s its rule is %s, its share %g", x.Span.Name, x.Rule, x.Span.Share)
		}
	}
	if err := f.table.setSpan(r, "measure", "hip_girth"); err != nil {
		t.Fatal(err)
	}
	for _, x := range f.fit().Targets {
		if x.Span.ID == r.key.span && x.Piece.ID == r.key.piece && (x.Given || x.Span.Measure != "hip_girth") {
			t.Errorf("after another measure of %s its rule is %s, its measure %s", x.Span.Name, x.Rule, x.Span.Measure)
		}
	}
}

func TestTargetsOfTheFitAreListed(t *testing.T) {
	f, shown := fitted(t)
	if len(f.table.rows) != 3 {
		t.Fatalf("%d targets are listed", len(f.table.rows))
	}
	for _, r := range f.table.rows {
		// A stretch with the body is as much longer as the measure is, whatever its share.
		want := r.was * r.now / r.then
		cells := r.cells(draft.Millimetre, stepSee)
		holds := math.Abs(r.target.Reached-want) <= holdsWithin
		if holds != (r.level == control.Holds) || math.Abs(r.target.Wants-want) > 1e-9 || cells[fitWants] != draft.Millimetre.FormatBare(want) || cells[fitReached] != draft.Millimetre.FormatBare(r.target.Reached) || cells[fitRule] != "with the body" {
			t.Errorf("%s: %v, of %g wanted", r.span.Name, cells, want)
		}
	}
	if len(shown.over.Spans) != 3 {
		t.Errorf("%d stretches are drawn", len(shown.over.Spans))
	}
	f.table.choose(f.table.rows[0].key, true)
	if len(shown.picked) != 1 || shown.picked[0].Kind != desk.Edge {
		t.Errorf("the row picks %v", shown.picked)
	}
	if s := shown.over.Spans[0]; !s.Strong || !strings.Contains(s.Text, "→") {
		t.Errorf("the stretch in hand is drawn as %v", s)
	}
}

func TestFigureIsDraggedAndLetGo(t *testing.T) {
	f, _ := fitted(t)
	before := f.desk.Project()
	r := f.table.rows[1]
	f.trial.drag(r, 40) // a hundred units are a quarter
	if !f.trial.live() || !f.desk.Trying() {
		t.Fatal("what is dragged is not tried")
	}
	want := math.Round(r.target.Wants*1.1*10) / 10
	now, _ := f.table.row(r.key)
	if math.Abs(now.target.Wants-want) > 1e-6 || now.target.Reached < r.target.Reached+leastTold*want {
		t.Errorf("dragged to %g, %g is wanted of it and it measures %g, before %g", want, now.target.Wants, now.target.Reached, r.target.Reached)
	}
	f.trial.take()
	if f.trial.live() || f.desk.Trying() || f.desk.Project() == before {
		t.Fatal("it is not taken")
	}
	if now, _ = f.table.row(r.key); now.target.By != draft.TargetLength || math.Abs(now.target.Value-want) > 1e-6 {
		t.Errorf("the target is %v %g", now.target.By, now.target.Value)
	}
	f.desk.Undo()
	if f.desk.Project() != before {
		t.Error("a drag is not one step to undo")
	}
}

func TestDraggedFigureIsDroppedWithTheStation(t *testing.T) {
	f, _ := fitted(t)
	before := f.desk.Project()
	f.trial.drag(f.table.rows[0], -30)
	f.Hidden()
	if f.desk.Project() != before || f.trial.live() {
		t.Error("what was only tried stays")
	}
}

func TestRuleAndWeightOfATarget(t *testing.T) {
	f, _ := fitted(t)
	r := f.table.rows[2]
	if err := f.table.setTarget(r, "by", draft.TargetEase.String(), "value", "3mm", "weight", "10"); err != nil {
		t.Fatal(err)
	}
	now, _ := f.table.row(r.key)
	want := r.span.Share*r.now + 3
	if cells := now.cells(draft.Millimetre, stepSee); math.Abs(now.target.Wants-want) > 1e-9 || cells[fitRule] != "ease 3 mm" || cells[fitWeight] != "much" {
		t.Errorf("it is %v, of %g wanted", cells, want)
	}
	if err := f.table.setTarget(r, "by", draft.TargetFree.String()); err != nil {
		t.Fatal(err)
	}
	if now, _ = f.table.row(r.key); now.level != control.Note || now.cells(draft.Millimetre, stepSee)[fitRule] != "goes along" {
		t.Errorf("a stretch of which nothing is wanted is told as %v", now.cells(draft.Millimetre, stepSee))
	}
}

func TestEaseOfAFitIsSet(t *testing.T) {
	f, _ := fitted(t)
	f.Open(stepWhom)
	f.whom.setKeep(draft.KeepWidths)
	f.whom.setEase(draft.EaseKept)
	if fit := f.fit(); fit.Ease != draft.EaseKept || fit.Keep != draft.KeepWidths {
		t.Errorf("it is %v, %v", fit.Ease, fit.Keep)
	}
}

func TestBeforeIsLaidOver(t *testing.T) {
	f, shown := fitted(t)
	if len(shown.over.Outlines) != 0 {
		t.Fatal("the pattern as it was is drawn unasked")
	}
	fit := f.fit()
	now := fit.Pieces[0].DrawnPath().Bounds()
	for as, scale := range map[besideAs]float64{besideThisSize: fit.Scale, besideItsSize: 1} {
		f.see.beside = as
		f.drawOver()
		if len(shown.over.Outlines) != len(fit.Pieces) {
			t.Fatalf("%d outlines of %d pieces", len(shown.over.Outlines), len(fit.Pieces))
		}
		was := fit.Source[0].DrawnPath().Bounds()
		got := shown.over.Outlines[0].Path.Bounds()
		if math.Abs(got.W()-scale*was.W()) > 1e-6 || got.Center().Sub(now.Center()).Len() > 1e-6 {
			t.Errorf("as %d it is %g wide", as, got.W())
		}
	}
	f.see.beside, f.see.share = besideNot, 0.5
	f.drawOver()
	was := likeness(fit.Source[0].DrawnPath(), fit.Pieces[0].DrawnPath(), fit.Scale)
	half := shown.over.Outlines[0].Path
	if d := half[0].P0.Sub(was[0].P0.Lerp(fit.Pieces[0].DrawnPath()[0].P0, 0.5)).Len(); d > 1e-9 {
		t.Errorf("half way it is %g off", d)
	}
}

// The picture covers with its classes no more than the piece, and where nothing but the
// size has changed nothing of it.
func TestPictureOfStretch(t *testing.T) {
	f, shown := fitted(t)
	fit := f.fit()
	f.see.picture = strainAcross
	f.drawOver()
	area := map[draft.ID]float64{}
	for _, p := range shown.over.Patches {
		a := p.Path.Area()
		if area[p.Piece] += a; a <= 0 {
			t.Errorf("a patch of %s has an area of %g", p.Piece, a)
		}
	}
	for _, p := range fit.Pieces {
		if most := math.Abs(p.DrawnPath().Area()); area[p.ID] > most*1.001 {
			t.Errorf("%s is covered by %g of %g", p.Name, area[p.ID], most)
		}
	}
	if f.see.mostWords(fit) == "" {
		t.Fatal("where it has changed most is not told")
	}
	f.see.showLargest()
	if shown.place != fit.Largest.Piece {
		t.Errorf("it leads to %q", shown.place)
	}
}

// A picture that comes when its document has gone is not shown in the next one, not even
// where that has a fit with the same ids: it is worked out anew.
// What is told to have changed most bears the same figure at its place in the picture.
func TestMostChangedIsToldOnce(t *testing.T) {
	f, shown := fitted(t)
	fit := f.fit()
	f.see.showLargest()
	k, _ := mostStrain(fit.Largest)
	at, _ := fit.Map(fit.Largest.Piece, fit.Largest.At)
	if !strings.Contains(f.see.mostWords(fit), strainWords(k)) {
		t.Fatalf("told is %q, not %q", f.see.mostWords(fit), strainWords(k))
	}
	for _, n := range shown.over.Notes {
		if n.Piece == fit.Largest.Piece {
			if n.Text != strainWords(k) || n.At != at {
				t.Errorf("the picture says %q at %v, not %q at %v", n.Text, n.At, strainWords(k), at)
			}
			return
		}
	}
	t.Error("the picture says nothing of the piece")
}

func TestPictureOfAnotherDocumentIsDropped(t *testing.T) {
	f, shown := fitted(t)
	var waits []func()
	f.ways.Aside = func(work func() func()) { waits = append(waits, func() { work()() }) }
	f.see.picture = strainAcross
	f.drawOver()
	f.see.forget()
	f.see.picture = strainAcross
	f.drawOver()
	for i := 0; len(waits) > 0; i++ {
		do := waits[0]
		waits = waits[1:]
		do()
		if got := len(shown.over.Patches) > 0; got != (i > 0) {
			t.Errorf("after work %d there are %d patches", i+1, len(shown.over.Patches))
		}
	}
	if len(shown.over.Patches) == 0 {
		t.Error("the picture of this document is never shown")
	}
}

// The picture is worked out aside: once for a fit, whatever the slider does, and where fits
// follow one another quicker than it comes, for the last one.
func TestPictureIsWorkedOutAside(t *testing.T) {
	f, shown := fitted(t)
	var waits []func()
	f.ways.Aside = func(work func() func()) { waits = append(waits, func() { work()() }) }
	f.see.picture = strainAcross
	f.drawOver()
	if len(waits) != 1 || len(shown.over.Patches) != 0 {
		t.Fatalf("%d are worked out, %d patches drawn at once", len(waits), len(shown.over.Patches))
	}
	f.see.picture = strainAlong // meanwhile
	for share := range 5 {
		f.see.share = float64(share) / 5
		f.drawOver()
	}
	for len(waits) > 0 {
		do := waits[0]
		waits = waits[1:]
		do()
	}
	if got := f.see.strains.shown.of; got != strainAlong || len(shown.over.Patches) == 0 {
		t.Errorf("the picture is of %v with %d patches", got, len(shown.over.Patches))
	}
	f.see.share = 0.3
	if f.drawOver(); len(waits) != 0 {
		t.Error("a step of the slider works it out anew")
	}
}

func TestContradictionsAreTold(t *testing.T) {
	f, _ := fitted(t)
	say(t, f, "bust_girth", 0.25, "Front", "side") // which stands for the length of the back already
	if len(f.table.rows) != 4 {
		t.Fatal("a stretch that is said after the fit is no target")
	}
	if says, _, level := f.see.sumOf(f.fit()); level != control.Problem || !strings.Contains(says, "not reached") {
		t.Errorf("it is told as %q", says)
	}
	f.Update()
	if !f.see.against.Visible() || len(f.see.against.Objects) == 0 {
		t.Error("what contradicts is not told")
	}
}

// Beside what is told to contradict stand buttons for each stretch that is named: pressed, one
// has it count more, the other sets it free, whereupon nothing contradicts.
func TestContradictionIsSettledByAPress(t *testing.T) {
	f, shown := fitted(t)
	say(t, f, "bust_girth", 0.25, "Front", "side")
	f.Update()
	press := func(word string) {
		t.Helper()
		cards := cardsSaying(f.see.against, word)
		if len(cards) != 2 {
			t.Fatalf("%d buttons say %q", len(cards), word)
		}
		f.mends.took = time.Time{}
		cards[0].Tapped(nil)
	}
	if len(cardsSaying(f.see.against, "Set free")) != 2 || len(cardsSaying(f.see.against, "More weight")) != 2 {
		t.Fatalf("offered are %v", f.fit().Contradicts)
	}
	press("More weight")
	first := f.fit().Contradicts
	if counted := slices.ContainsFunc(f.fit().Targets, func(x draft.FitTarget) bool { return x.Weight == 10 }); !counted || len(first) != 1 {
		t.Fatalf("nothing counts more, and %d contradictions are told", len(first))
	}
	press("Set free")
	if left := f.fit().Contradicts; len(left) > 0 || f.see.against.Visible() {
		t.Errorf("with a stretch set free it still tells %v; said was %q", left, shown.said)
	}
}

// cardsSaying returns the cards in an object that begin with the words.
func cardsSaying(o fyne.CanvasObject, words string) []*control.Card {
	switch x := o.(type) {
	case *control.Card:
		if firstText(x.Content()) == words {
			return []*control.Card{x}
		}
		return cardsSaying(x.Content(), words)
	case *fyne.Container:
		var out []*control.Card
		for _, part := range x.Objects {
			out = append(out, cardsSaying(part, words)...)
		}
		return out
	}
	return nil
}

func TestSectionsOfOthersAreListed(t *testing.T) {
	f, _ := fitted(t)
	pressed := 0
	f.AddSection(FitSection{Title: "Scale", Cards: func(p *draft.Project, _ *draft.Slots, fit *draft.FitState) []FitCard {
		if fit == nil {
			return nil
		}
		return []FitCard{{Key: "a", Level: control.LookAgain, Title: "Allowances", Says: "wide for this size", Show: func() { pressed++ }}}
	}})
	f.AddSection(FitSection{Title: "Nothing", Cards: func(*draft.Project, *draft.Slots, *draft.FitState) []FitCard { return nil }})
	f.Update()
	v := f.see.sections[len(f.see.sections)-2:]
	v[0].head.card.Tapped(nil)
	if !v[0].object.Visible() || v[1].object.Visible() {
		t.Error("a section is there without cards, or away with some")
	}
	card := v[0].cards.Objects[0].(*control.Card)
	if card.Tapped(nil); pressed != 1 {
		t.Error("a card does not show its place")
	}
}

func TestScopeOffersGarments(t *testing.T) {
	f, _ := fitting(t)
	first := f.desk.Project().Pieces[0]
	if err := desk.Run(f.desk, draft.SetGarment, draft.SetGarmentArgs{Pieces: []draft.PieceRef{draft.PieceRef(first.ID)}, Garment: "Cape"}); err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(f.scope.offered, func(o scopeOption) bool { return o.garment == "Cape" })
	if at < 0 {
		t.Fatalf("offered are %v", f.scope.offered)
	}
	f.scope.chosen(at)
	if ids := f.scope.ids(); len(ids) != 1 || ids[0] != first.ID {
		t.Errorf("of the cape there are %v", ids)
	}
	f.desk.Pick(desk.PieceRef(f.desk.Project().Pieces[1].ID))
	f.scope.chosen(len(f.scope.offered) - 1)
	if ids := f.scope.ids(); len(ids) != 1 || ids[0] != f.desk.Project().Pieces[1].ID {
		t.Errorf("picked are %v", ids)
	}
}

func TestAlterationsOfTheGarmentAreListed(t *testing.T) {
	f, _ := fitted(t)
	var taken draft.Alteration
	var garment draft.ID
	f.AddSection(Alterations(func(what draft.Alteration, piece draft.ID) { taken, garment = what, piece }))
	f.Update()
	v := f.see.sections[len(f.see.sections)-1]
	v.head.card.Tapped(nil)
	able := f.desk.Slots().Alterable(f.desk.Project())
	if len(able) == 0 || len(v.cards.Objects) != len(able) || !v.object.Visible() {
		t.Fatalf("%d alterations are listed of %d that the smock has what it takes for", len(v.cards.Objects), len(able))
	}
	last := len(able) - 1
	v.cards.Objects[last].(*control.Card).Tapped(nil)
	if taken != able[last] || f.desk.Project().Piece(garment) == nil {
		t.Errorf("a pressed card takes %v of %q, not %v", taken, garment, able[last])
	}
}

func TestWhatIsMissingToFitByIsTold(t *testing.T) {
	f, _ := fitting(t)
	f.Open(stepWhom)
	if !strings.Contains(f.whom.told.Text(), "Nothing is said yet") {
		t.Errorf("without stretches it says %q", f.whom.told.Text())
	}
	say(t, f, "neck_height", 0.5, "Front", "side")
	say(t, f, "bust_girth", 0.5, "Front", "hem")
	if says := f.whom.body.Text(); !strings.HasPrefix(says, "Round the bust") || f.whom.told.Visible() {
		t.Errorf("it compares %q, and misses %q", says, f.whom.told.Text())
	}
	p := f.desk.Project()
	out, err := draft.RemoveWearer.Do(p, draft.RemoveWearerArgs{Wearer: draft.WearerRef(p.Wearers[0].ID)})
	if err != nil {
		t.Fatal(err)
	}
	f.desk.Take(out, "")
	if !f.whom.none.Visible() || f.whom.measures.Visible() || f.whom.told.Visible() {
		t.Errorf("without a wearer it says %q and offers its measures: %v", f.whom.told.Text(), f.whom.measures.Visible())
	}
}

// atThisSize returns the section of advice on scale.
func atThisSize(f *Fitting) *sectionView {
	i := slices.IndexFunc(f.see.sections, func(v *sectionView) bool { return v.s.Title == "At this size" })
	return f.see.sections[i]
}

func TestOpenedSectionComesIntoSight(t *testing.T) {
	f, _ := fitted(t)
	v := atThisSize(f)
	v.head.card.Tapped(nil)
	if !v.cards.Visible() || len(v.cards.Objects) == 0 {
		t.Fatal("an opened section shows nothing")
	}
	driver := fyne.CurrentApp().Driver()
	top := driver.AbsolutePositionForObject(f.scroll).Y
	first := driver.AbsolutePositionForObject(v.cards.Objects[0]).Y
	if room := f.scroll.Size().Height; first < top || first > top+room/2 {
		t.Errorf("its first card begins %g units down of %g that are in sight", first-top, room)
	}
	if v.head.card.Tapped(nil); v.cards.Visible() {
		t.Error("folded, it still shows its cards")
	}
}

// Which groups are open is kept for the next start.
func TestOpenGroupsAreKept(t *testing.T) {
	f, _ := fitted(t)
	if !f.see.compare.open || atThisSize(f).head.open {
		t.Fatal("at first before and after is to be seen and nothing else")
	}
	f.see.compare.card.Tapped(nil)
	atThisSize(f).head.card.Tapped(nil)
	if f.see.compared.Visible() {
		t.Error("folded, before and after is still there")
	}
	again := NewFit(f.desk, f.ways)
	if again.see.compare.open || again.see.compared.Visible() || !atThisSize(again).head.open {
		t.Error("the next station has forgotten what was open")
	}
}

// Whom all advice is for is said once, above it.
func TestSizeIsSaidOnce(t *testing.T) {
	f, _ := fitted(t)
	v := atThisSize(f)
	v.head.card.Tapped(nil)
	if lead := v.lead.Text(); !strings.Contains(lead, "360 mm") {
		t.Errorf("it leads with %q", lead)
	}
	for _, c := range v.s.Cards(f.desk.Project(), f.desk.Slots(), f.fit()) {
		if strings.Contains(c.Title+c.Says, "For a wearer of") || strings.Contains(c.Says, c.Hint) {
			t.Errorf("a card says again: %s %s", c.Title, c.Says)
		}
	}
}

func TestSizeAsksForOtherFigures(t *testing.T) {
	f, _ := fitted(t)
	v := atThisSize(f)
	cards := v.s.Cards(f.desk.Project(), f.desk.Slots(), f.fit())
	if len(cards) == 0 {
		t.Fatal("a smock for a hedgehog keeps the allowances of a grown person")
	}
	if p := f.desk.Project(); len(v.s.Cards(p, f.desk.Slots(), nil)) != 0 {
		t.Error("a pattern that is not fitted is advised")
	}
	for _, c := range cards {
		if c.Title == "" || c.Says == "" {
			t.Errorf("a card says nothing: %v", c)
		}
	}
}

func TestFitIsStopped(t *testing.T) {
	f, _ := fitting(t)
	say(t, f, "back_waist_length", 1, "Front", "side")
	f.Open(stepWhom)
	var work func() func()
	f.ways.Aside = func(w func() func()) { work = w }
	before := f.desk.Project()
	f.whom.doIt()
	if !f.whom.working || !strings.Contains(f.whom.button.Word, "stop") {
		t.Fatalf("while it is worked out the button says %q", f.whom.button.Word)
	}
	f.whom.doIt() // stops
	work()()
	if f.whom.working || f.desk.Project() != before {
		t.Error("what was stopped is done")
	}
	f.whom.doIt()
	work()()
	if f.fit() == nil {
		t.Error("after that it cannot be fitted")
	}
}

// The pieces are brought into sight when the station is entered first, and not again.
func TestFitShowsThePiecesFirst(t *testing.T) {
	f, shown := fitting(t)
	if shown.fitted != 1 {
		t.Fatalf("the pieces were shown %d times", shown.fitted)
	}
	f.Hidden()
	if f.Shown(); shown.fitted != 1 {
		t.Error("what was looked at is lost when the station is entered again")
	}
	f.desk.Open(f.desk.Project(), "")
	if f.Shown(); shown.fitted != 2 {
		t.Error("the pieces of another document are not shown")
	}
}

// BenchmarkSliderOfFit takes the slider a step on while the picture of the stretch is shown.
func BenchmarkSliderOfFit(b *testing.B) {
	f, _ := fitted(b)
	f.see.picture = strainAlong
	f.drawOver()
	b.ResetTimer()
	for i := range b.N {
		f.see.share = float64(i%sliderSteps) / sliderSteps
		f.drawOver()
	}
}

// No step asks for more width than the panel has, with wearers and without.
func TestStepsFitIntoThePanel(t *testing.T) {
	f, _ := fitted(t)
	f.ways.Samples = []SampleWearer{{"Quill", func() {}}, {"Tansy", func() {}}}
	bare := *smockFor(t)
	bare.Wearers = nil
	without := NewFit(desk.New(&bare), f.ways)
	for _, of := range []*Fitting{f, without} {
		for step := range stepCount {
			of.Open(step)
			of.Update()
			if got := of.scroll.Content.MinSize().Width; got > fitWide {
				t.Errorf("%s asks for %g of %d", stepTitles[step], got, fitWide)
			}
		}
	}
}

// How each step stands is read whole in its head, with many stretches too.
func TestHeadsAreWhole(t *testing.T) {
	f, _ := fitted(t)
	for _, says := range []string{"116 reached, 13 by hand", "16 reached, 3 not known", "13 of 119 not reached"} {
		h := f.heads[stepSee]
		h.put(says, true)
		if h.says.Cut() {
			t.Errorf("%q is cut in %v", says, h.says.Size().Width)
		}
	}
}

// What is told on the bench of a row in hand goes with the row.
func TestAStretchIsPutDown(t *testing.T) {
	f, shown := fitted(t)
	strong := func() bool {
		return slices.ContainsFunc(shown.over.Spans, func(m bench.SpanMark) bool { return m.Strong })
	}
	f.desk.Undo()
	f.desk.Redo()
	for _, c := range []struct {
		name string
		down func()
	}{
		{"Escape", func() { f.table.key(fyne.KeyEscape) }},
		{"the bare bench", func() { f.desk.Pick() }},
		{"another section", func() { f.see.sections[0].turned() }},
		{"another step", func() { f.Open(stepWhom); f.Open(stepSee) }},
		{"undo", f.desk.Undo},
	} {
		f.table.choose(f.table.rows[0].key, true)
		if !strong() {
			t.Fatalf("before %s nothing is in hand", c.name)
		}
		if c.down(); strong() {
			t.Errorf("%s leaves the stretch in hand", c.name)
		}
	}
}

// A press anywhere in a row takes it in hand, also where nothing is changed by pressing.
func TestAnyCellTakesItsRowInHand(t *testing.T) {
	f, _ := fitted(t)
	line := f.table.newLine()
	f.table.fill(1, line)
	cell := line.(*fyne.Container).Objects[fitPiece].(*control.Cell)
	if cell.OnTap != nil {
		t.Fatal("the piece can be changed where it stands")
	}
	if cell.Tapped(nil); f.table.chosen != f.table.rows[1].key {
		t.Errorf("in hand is %v", f.table.chosen)
	}
}

// Who goes on with nothing said takes what suggests itself first.
func TestGoingOnTakesWhatIsSuggested(t *testing.T) {
	f, shown := fitting(t)
	f.Open(stepMade)
	f.Update()
	if n := len(f.made.spans.list); n == 0 || !strings.HasPrefix(f.made.next.Word, "Take ") {
		t.Fatalf("with %d suggestions the button says %q", n, f.made.next.Word)
	}
	test.Tap(f.made.next)
	if f.step != stepMade || f.made.spans.count().spans == 0 || f.made.next.Word != "Go on: for whom" {
		t.Fatalf("the press takes %d, and the button says %q: %v", f.made.spans.count().spans, f.made.next.Word, shown.said)
	}
	if test.Tap(f.made.next); f.step != stepWhom {
		t.Error("the next press does not go on")
	}
}
