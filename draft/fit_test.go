package draft_test

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
)

// done does acts one after the other, each with its arguments as NAME, VALUE after its name.
func done(t testing.TB, p *draft.Project, act string, args ...string) *draft.Project {
	t.Helper()
	out := doneSaying(t, p, act, args...)
	return out.Project
}

func doneSaying(t testing.TB, p *draft.Project, act string, args ...string) draft.Outcome {
	t.Helper()
	a, err := draft.ActNamed(act)
	if err != nil {
		t.Fatal(err)
	}
	texts := make(map[string]string)
	for i := 0; i < len(args); i += 2 {
		texts[args[i]] = args[i+1]
	}
	out, err := a.DoText(p, texts)
	if err != nil {
		t.Fatal(act, args, err)
	}
	return out
}

// bodyOf adds a wearer with measures in mm.
func bodyOf(t testing.TB, p *draft.Project, name string, by float64, measures ...draft.Measure) *draft.Project {
	t.Helper()
	p = done(t, p, "add-wearer", "name", name)
	for _, m := range measures {
		p = done(t, p, "set-measure", "wearer", name, "name", m.Name, "value", mm(m.Value*by))
	}
	return p
}

func mm(v float64) string { return strconv.FormatFloat(v, 'f', 6, 64) + "mm" }

// Invented bodies: a grown person, and Quill the hedgehog puppet.
var (
	grown = []draft.Measure{
		{Name: "bust_girth", Value: 920}, {Name: "waist_girth", Value: 740}, {Name: "hip_girth", Value: 980},
		{Name: "neck_base_girth", Value: 365}, {Name: "back_waist_length", Value: 410}, {Name: "shoulder_length", Value: 124},
		{Name: "arm_length", Value: 590}, {Name: "upper_arm_girth", Value: 285}, {Name: "wrist_girth", Value: 160}, {Name: "stature", Value: 1680},
	}
	hedgehog = []draft.Measure{
		{Name: "bust_girth", Value: 231}, {Name: "waist_girth", Value: 238}, {Name: "neck_base_girth", Value: 118},
		{Name: "back_waist_length", Value: 84}, {Name: "stature", Value: 360},
	}
)

// loadSmock returns the smock for a grown person as it comes.
func loadSmock(t testing.TB) *draft.Project {
	t.Helper()
	p, _, err := store.Load(filepath.Join("..", "testdata", "fit", "smock.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// smockToFit returns the smock with measured lengths on it.
func smockToFit(t testing.TB) *draft.Project {
	t.Helper()
	p := loadSmock(t)
	for _, s := range [][4]string{
		{"Front.shoulder", "shoulder_length", "100%", "shoulder"}, {"Back.shoulder", "shoulder_length", "100%", "shoulder"},
		{"Front.hem", "bust_girth", "25%", "width"}, {"Back.hem", "bust_girth", "25%", "width"},
		{`Back."centre back"`, "back_waist_length", "100%", "length"}, {`Sleeve."front seam"`, "arm_length", "100%", "arm"},
		{`"Neck band".neck`, "neck_base_girth", "100%", "neck"}, {"Cuff.wrist", "wrist_girth", "100%", "wrist"},
	} {
		p = done(t, p, "add-span", "edges", s[0], "measure", s[1], "share", s[2], "name", s[3])
	}
	return p
}

func fitOf(t testing.TB, p *draft.Project) *draft.FitState {
	t.Helper()
	list := draft.NewSlots().Fits(p)
	if len(list) != 1 {
		t.Fatalf("%d fits", len(list))
	}
	if list[0].Err != nil {
		t.Fatal(list[0].Err)
	}
	return list[0]
}

func pieceNamed(t testing.TB, p *draft.Project, name string) *draft.Piece {
	t.Helper()
	for _, q := range p.Pieces {
		if q.Name == name {
			return q
		}
	}
	t.Fatal("no piece", name)
	return nil
}

// apartFrom returns how far the points of a piece lie at most from those of another, that
// scaled by a factor, when their middles lie on each other.
func apartFrom(p, was *draft.Piece, by float64) float64 {
	a, b := p.DrawnPath().Bounds().Center(), was.DrawnPath().Bounds().Center()
	most := 0.0
	for i := range p.Edges {
		for k, n := range p.Edges[i].Nodes {
			o := was.Edges[i].Nodes[k]
			most = math.Max(most, n.At.Sub(a).Dist(o.At.Sub(b).Mul(by)))
			most = math.Max(most, math.Max(n.In.Dist(o.In.Mul(by)), n.Out.Dist(o.Out.Mul(by))))
		}
	}
	for i, l := range p.Lines {
		for k, n := range l.Nodes {
			most = math.Max(most, n.At.Sub(a).Dist(was.Lines[i].Nodes[k].At.Sub(b).Mul(by)))
		}
	}
	for i, d := range p.Darts {
		most = math.Max(most, d.Apex.Sub(a).Dist(was.Darts[i].Apex.Sub(b).Mul(by)))
	}
	return most
}

// Fitted to the body that it was made for a pattern stays as it is, and fitted to one that
// is so many times as large it becomes that many times as large, whatever is measured.
func TestFitToSimilarBodies(t *testing.T) {
	source := smockToFit(t)
	origin := source.Origin(source.Pieces[0].Origin)
	torn := 0.0 // by how much seams are off before, which a fit mends
	for _, s := range draft.NewSlots().Check(source).Seams {
		torn = max(torn, math.Abs(s.Diff))
	}
	if torn > 1e-3 {
		t.Fatalf("the pattern has a seam that is off by %g mm", torn)
	}
	for _, by := range []float64{1, 0.2, 0.9, 1.7} {
		var body []draft.Measure
		for _, m := range origin.Measures {
			body = append(body, draft.Measure{Name: m.Name, Value: m.Value})
		}
		p := bodyOf(t, source, "Twin", by, body...)
		p = done(t, p, "fit-pattern", "wearer", "Twin")
		st := fitOf(t, p)
		if math.Abs(st.Scale-by) > 1e-6 || len(st.Contradicts) > 0 {
			t.Errorf("by %g: scaled by %g, %v", by, st.Scale, st.Contradicts)
		}
		if off := st.Largest.Most(); off > 1e-4 {
			t.Errorf("by %g: distorted by %g", by, off)
		}
		limit := 0.01
		if by == 1 {
			limit = 1e-6 + torn
		}
		for _, q := range p.Pieces {
			if off := apartFrom(q, st.Derivation.Source.Piece(q.ID), by); off > limit {
				t.Errorf("by %g: %s is %g mm off", by, q.Name, off)
			}
		}
	}
}

// The smock of a grown person on a puppet: what is wanted is reached, what is sewn meets,
// what lies on a fold and is straight stays so, and allowances stay as wide as they were.
func TestFitSmockToPuppet(t *testing.T) {
	p := bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...)
	before := p
	p = done(t, p, "fit-pattern", "wearer", "Quill")
	st := fitOf(t, p)
	for _, x := range st.Targets {
		if !x.Known || math.Abs(x.Off) > draft.TargetReached {
			t.Errorf("%s of %s: wants %.3f, reaches %.3f (%s)", x.Span.Name, x.Piece.Name, x.Wants, x.Reached, x.Why)
		}
		if want := x.Was * x.New / x.Old; math.Abs(x.Wants-want) > 1e-9 {
			t.Errorf("%s of %s: wants %g, by its measure %g", x.Span.Name, x.Piece.Name, x.Wants, want)
		}
	}
	r := draft.NewSlots().Check(p)
	for _, s := range r.Seams {
		if math.Abs(s.Diff) > 1e-4 {
			t.Errorf("seam %s is off by %g", s.Seam.Name, s.Diff)
		}
	}
	for _, f := range r.Findings {
		if f.Level == draft.Problem {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
	for _, q := range p.Pieces {
		was := before.Piece(q.ID)
		for i, e := range q.Edges {
			if e.Allowance != was.Edges[i].Allowance || e.Kind != was.Edges[i].Kind || e.Name != was.Edges[i].Name {
				t.Errorf("%s, edge %s: %+v was %+v", q.Name, e.Name, e.Allowance, was.Edges[i].Allowance)
			}
		}
		if fold := q.FoldEdge(); fold >= 0 {
			straightFold(t, q, was, fold)
		}
		if q.Grain.To.Sub(q.Grain.From).Unit().Dist(was.Grain.To.Sub(was.Grain.From).Unit()) > 1e-6 {
			t.Errorf("%s: the grain turns", q.Name)
		}
		if err := q.DrawnPath().Simple(); err != nil {
			t.Errorf("%s: %v", q.Name, err)
		}
	}
	for i, q := range p.Pieces {
		for _, o := range p.Pieces[:i] {
			if overlap(q, o) {
				t.Errorf("%s lies on %s on the bench", q.Name, o.Name)
			}
		}
	}
}

// straightFold tells whether the fold lies on the line that it lay on, and what met it at a
// right angle still does.
func straightFold(t *testing.T, q, was *draft.Piece, fold int) {
	t.Helper()
	line, old := q.EdgePath(fold), was.EdgePath(fold)
	u := old.End().Sub(old.Start()).Unit()
	for _, at := range []geom.Point{line.Start(), line.End()} {
		if off := math.Abs(at.Sub(old.Start()).Cross(u)); off > 1e-5 {
			t.Errorf("%s: the fold leaves its line by %g", q.Name, off)
		}
	}
	n := len(q.Edges)
	for k, beside := range []int{(fold + n - 1) % n, (fold + 1) % n} {
		at := func(p *draft.Piece) float64 {
			s := p.EdgePath(beside)
			way := s[0].P0.Sub(s[0].At(1e-3))
			if k == 0 {
				way = s[len(s)-1].At(1 - 1e-3).Sub(s.End())
			}
			return way.Unit().Dot(u)
		}
		if math.Abs(at(was)) < 1e-3 && math.Abs(at(q)) > 2e-3 {
			t.Errorf("%s: at the end of the fold the angle is off by %g", q.Name, at(q))
		}
	}
}

func overlap(a, b *draft.Piece) bool {
	box := func(p *draft.Piece) geom.Rect { return p.DrawnPath().Transform(p.Place.Affine()).Bounds() }
	return box(a).Overlaps(box(b))
}

// A changed measure fits the pattern anew, and what was changed by hand since is carried
// over; the fit of a project that is saved and read again is up to date.
func TestFitFollowsMeasuresAndKeepsHandEdits(t *testing.T) {
	p := bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...)
	p = done(t, p, "fit-pattern", "wearer", "Quill")
	hem := pieceNamed(t, p, "Front")
	e, i := hem.Edge(edgeNamed(hem, "hem"))
	at := e.Nodes[0]
	p = done(t, p, "move-nodes", "nodes", `"`+string(hem.ID)+`"."`+string(at.ID)+`"`, "by", "0mm,-5mm")
	moved, _, _ := p.Piece(hem.ID).Node(at.ID)
	by := moved.At.Sub(at.At)
	if by.Len() < 4 {
		t.Fatal("the point did not move")
	}
	q := done(t, p, "set-measure", "wearer", "Quill", "name", "back_waist_length", "value", "100mm")
	st := fitOf(t, q)
	made, _ := st.Map(hem.ID, st.Derivation.Source.Piece(hem.ID).Edges[i].Nodes[0].At)
	now, _, _ := q.Piece(hem.ID).Node(at.ID)
	if d := now.At.Sub(made).Dist(by); d > 0.5 {
		t.Errorf("the point was moved by %v; now it is %v off what the fit makes", by, now.At.Sub(made))
	}
	for _, x := range st.Targets {
		if x.Span.Name == "length" && (math.Abs(x.New-100) > 1e-9 || math.Abs(x.Off) > draft.TargetReached) {
			t.Errorf("the length wants %g and is off by %g", x.Wants, x.Off)
		}
	}
	text := store.Encode(q)
	read, err := store.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range draft.NewSlots().Check(read).Findings {
		if strings.HasSuffix(f.Key, "/older") || strings.HasSuffix(f.Key, "/behind") {
			t.Errorf("read again: %s: %s", f.About, f.Says)
		}
	}
	if string(store.Encode(read)) != string(text) {
		t.Error("it is another once it is read again")
	}
	// Back to the first measure, all is as it was.
	back := done(t, q, "set-measure", "wearer", "Quill", "name", "back_waist_length", "value", "84mm")
	for _, piece := range p.Pieces {
		if off := draft.Movement(&draft.Project{Pieces: []*draft.Piece{piece}}, back); off > 2e-3 {
			t.Errorf("%s is off by %g once the measure is as it was", piece.Name, off)
		}
	}
}

func edgeNamed(p *draft.Piece, name string) draft.ID {
	k := slices.IndexFunc(p.Edges, func(e draft.Edge) bool { return e.Name == name })
	return p.Edges[k].ID
}

// A length that is measured on a fitted piece becomes a target at once; taken away it is
// none, and an ease that is set on it is what is wanted there.
func TestSpansOfFittedPiecesAreTargets(t *testing.T) {
	p := bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...)
	p = done(t, p, "fit-pattern", "wearer", "Quill")
	p = done(t, p, "add-span", "edges", "Front.side", "measure", "back_waist_length", "name", "height")
	find := func(p *draft.Project) *draft.FitTarget {
		st := fitOf(t, p)
		for i := range st.Targets {
			if st.Targets[i].Span.Name == "height" {
				return &st.Targets[i]
			}
		}
		return nil
	}
	x := find(p)
	if x == nil || !x.Known || math.Abs(x.Off) > draft.TargetReached {
		t.Fatalf("added later: %+v", x)
	}
	q := done(t, p, "set-fit-target", "span", "Front.height", "by", "length", "value", "150mm")
	if x = find(q); !x.Given || x.Wants != 150 || math.Abs(x.Off) > draft.TargetReached {
		t.Errorf("by length: %+v", x)
	}
	if side := find(q); math.Abs(side.Reached-150) > draft.TargetReached {
		t.Errorf("the side is %g long", side.Reached)
	}
	q = done(t, q, "set-fit-target", "span", "Front.height", "by", "ease", "value", "60mm")
	if x = find(q); math.Abs(x.Wants-(84+60)) > 1e-9 || math.Abs(x.Off) > draft.TargetReached {
		t.Errorf("by ease: %+v", x)
	}
	if s := pieceNamed(t, q, "Front").Span(x.Span.ID); math.Abs(s.Ease-60) > 1e-6 {
		t.Errorf("the fitted piece says an ease of %g", s.Ease)
	}
	q = done(t, q, "set-fit-target", "span", "Front.height", "by", "kept")
	if x = find(q); math.Abs(x.Wants-(x.Was+x.New-x.Old)) > 1e-9 {
		t.Errorf("kept: %+v", x)
	}
	q = done(t, p, "set-fit-target", "span", "Front.height", "by", "free")
	if x = find(q); x.Known || x.Wants != 0 {
		t.Errorf("free: %+v", x)
	}
	q = done(t, p, "delete-mark", "marks", "Front.height")
	if x = find(q); x != nil {
		t.Errorf("taken away it is still there: %+v", x)
	}
}

// Two lengths of one edge that cannot both be had are told, meet between, and the one that
// counts more gets nearer.
func TestFitTellsContradictions(t *testing.T) {
	p := bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...)
	p = done(t, p, "add-span", "edges", "Front.side", "measure", "back_waist_length", "name", "one")
	p = done(t, p, "add-span", "edges", "Back.side", "measure", "back_waist_length", "name", "other")
	p = done(t, p, "fit-pattern", "wearer", "Quill")
	p = done(t, p, "set-fit-target", "span", "Front.one", "by", "length", "value", "120mm")
	p = done(t, p, "set-fit-target", "span", "Back.other", "by", "length", "value", "126mm")
	st := fitOf(t, p)
	off := func(st *draft.FitState, name string) float64 {
		for _, x := range st.Targets {
			if x.Span.Name == name {
				return x.Off
			}
		}
		return math.NaN()
	}
	if a, b := off(st, "one"), off(st, "other"); math.Abs(a-3) > 0.3 || math.Abs(b+3) > 0.3 || len(st.Contradicts) != 1 {
		t.Errorf("off by %g and %g: %v", a, b, st.Contradicts)
	}
	heavy := fitOf(t, done(t, p, "set-fit-target", "span", "Front.one", "by", "length", "value", "120mm", "weight", "100"))
	if a := off(heavy, "one"); math.Abs(a) > 0.3 {
		t.Errorf("with a hundred times the weight it is off by %g", a)
	}
	told := 0
	for _, f := range draft.NewSlots().Check(p).Findings {
		if f.Derivation != st.Derivation.ID || len(f.Mends) == 0 || f.Value <= draft.TargetReached || f.Piece == "" || f.At != nil {
			continue
		}
		for _, m := range f.Mends {
			if _, err := p.Do(m); err != nil {
				t.Errorf("%s: %s: %v", f.About, m.Title, err)
			}
		}
		told++
	}
	if told < 2 {
		t.Errorf("%d findings", told)
	}
}

// A drafted block is drafted for the new wearer; fitted free it leaves the block, and was
// made for the wearer for whom it had been drafted. What follows it goes along.
func TestFitPiecesOfABlock(t *testing.T) {
	p := bodyOf(t, draft.New("costume"), "Anna", 1, grown...)
	p = bodyOf(t, p, "Bea", 1, grown...)
	p = done(t, p, "set-measure", "wearer", "Bea", "name", "bust_girth", "value", "1000mm")
	p = done(t, p, "draft-block", "block", "bodice", "wearer", "Anna")
	p = done(t, p, "line-piece", "piece", "Front")
	drafted := done(t, p, "fit-pattern", "wearer", "Bea")
	if len(draft.NewSlots().Fits(drafted)) != 0 || drafted.WearerOf(drafted.Derivations[0]).Name != "Bea" {
		t.Error("the block is not drafted for the wearer")
	}
	free := done(t, p, "fit-pattern", "wearer", "Bea", "free", "yes")
	st := fitOf(t, free)
	for _, d := range free.Derivations {
		if d.Kind == "block" {
			t.Error("the block is still there")
		}
	}
	o := free.Origin(pieceNamed(t, free, "Front").Origin)
	if v, ok := o.Measure("bust_girth"); !ok || v != 920 {
		t.Errorf("it was made for %+v", o)
	}
	for _, x := range st.Targets {
		if math.Abs(x.Off) > draft.TargetReached {
			t.Errorf("%s of %s is off by %g", x.Span.Name, x.Piece.Name, x.Off)
		}
	}
	lining, was := pieceNamed(t, free, "Front lining"), pieceNamed(t, p, "Front lining")
	if draft.Movement(&draft.Project{Pieces: []*draft.Piece{was}}, &draft.Project{Pieces: []*draft.Piece{lining}}) < 5 {
		t.Error("the lining has not followed")
	}
	for _, f := range draft.NewSlots().Check(free).Findings {
		if f.Level == draft.Problem {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
}

// Taken back, a fit leaves the pattern as it came.
func TestEndFit(t *testing.T) {
	before := bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...)
	p := done(t, before, "fit-pattern", "wearer", "Quill")
	p = done(t, p, "end-fit")
	if len(p.Derivations) != 0 {
		t.Error("the fit is still there")
	}
	for i, q := range p.Pieces {
		if off := apartFrom(q, before.Pieces[i], 1); off != 0 || q.Derived != nil || len(q.Spans) != len(before.Pieces[i].Spans) {
			t.Errorf("%s is %g off what it was", q.Name, off)
		}
		for k, s := range q.Spans {
			if s.Ease != before.Pieces[i].Spans[k].Ease {
				t.Errorf("%s, %s: the ease is %g", q.Name, s.Name, s.Ease)
			}
		}
	}
}

// What is refused is refused with what to do about it, and nothing changes.
func TestFitRefuses(t *testing.T) {
	bare, _, err := store.Load(filepath.Join("..", "testdata", "fit", "smock.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	bare = bodyOf(t, bare, "Quill", 1, hedgehog...)
	fitted := done(t, bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...), "fit-pattern", "wearer", "Quill")
	for _, c := range []struct {
		p    *draft.Project
		act  string
		args map[string]string
		want string
	}{
		{bare, "fit-pattern", map[string]string{"wearer": "Quill"}, "say which ones do"},
		{bare, "set-fit", map[string]string{"ease": "kept"}, "no pattern is fitted yet"},
		{bare, "end-fit", nil, "no pattern is fitted yet"},
		{fitted, "fit-pattern", map[string]string{"wearer": "Quill"}, "so already"},
		{fitted, "set-fit", map[string]string{"ease": "scaled"}, "so already"},
		{fitted, "set-fit-target", map[string]string{"span": "Front.shoulder", "by": "length"}, "needs a value"},
		{fitted, "set-fit-target", map[string]string{"span": "Front.shoulder", "by": "scaled", "value": "3mm"}, "takes no value"},
		{fitted, "set-fit-target", map[string]string{"span": "Front.shoulder", "weight": "0"}, "a weight lies from"},
		{fitted, "set-fit-target", map[string]string{"span": "Front.nothing"}, "measured stretch"},
	} {
		act, err := draft.ActNamed(c.act)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := act.DoText(c.p, c.args); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %v: %v", c.act, c.args, err)
		}
	}
}

// A long fit can be broken off, tells how far it is, and is not solved twice.
func TestFitTrial(t *testing.T) {
	p := bodyOf(t, smockToFit(t), "Trial", 1.01, hedgehog...)
	act, err := draft.ActNamed("fit-pattern")
	if err != nil {
		t.Fatal(err)
	}
	args := map[string]string{"wearer": "Trial"}
	gone, stop := context.WithCancel(context.Background())
	stop()
	if _, err := draft.FitTrial(gone, p, act, args, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("broken off: %v", err)
	}
	last, calls := 0.0, 0
	out, err := draft.FitTrial(context.Background(), p, act, args, func(share float64) {
		if share < last || share > 1 {
			t.Errorf("the share goes from %g to %g", last, share)
		}
		last = share
		calls++
	})
	if err != nil || calls == 0 {
		t.Fatalf("%v after %d calls", err, calls)
	}
	fitOf(t, out.Project)
	calls = 0
	if _, err := draft.FitTrial(context.Background(), p, act, args, func(float64) { calls++ }); err != nil || calls > 0 {
		t.Errorf("solved once more: %v, %d calls", err, calls)
	}
}

// Whatever the body, seams stay true and the outlines simple; what cannot be reached is told.
func TestFitProperties(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	source := smockToFit(t)
	rapid.Check(t, func(rt *rapid.T) {
		p := done(t, source, "add-wearer", "name", "Any")
		by := rapid.Float64Range(0.15, 1.5).Draw(rt, "by")
		for _, m := range grown {
			v := m.Value * by * rapid.Float64Range(0.8, 1.25).Draw(rt, m.Name)
			p = done(t, p, "set-measure", "wearer", "Any", "name", m.Name, "value", mm(v))
		}
		ease := rapid.SampledFrom([]string{"scaled", "kept"}).Draw(rt, "ease")
		keep := rapid.SampledFrom([]string{"style", "widths", "lengths"}).Draw(rt, "keep")
		act, _ := draft.ActNamed("fit-pattern")
		out, err := act.DoText(p, map[string]string{"wearer": "Any", "ease": ease, "keep": keep})
		if err != nil {
			rt.Skip(err)
		}
		st := draft.NewSlots().Fits(out.Project)[0]
		for _, s := range draft.NewSlots().Check(out.Project).Seams {
			if math.Abs(s.Diff) > 1e-4 {
				rt.Errorf("seam %s is off by %g", s.Seam.Name, s.Diff)
			}
		}
		missed := 0
		for _, x := range st.Targets {
			if x.Known && math.Abs(x.Off) > draft.TargetReached {
				missed++
			}
		}
		if (missed > 0) != (len(st.Contradicts) > 0) {
			rt.Errorf("%d missed, and told: %v", missed, st.Contradicts)
		}
		for _, q := range out.Project.Pieces {
			if err := q.DrawnPath().Simple(); err != nil {
				rt.Errorf("%s: %v", q.Name, err)
			}
		}
	})
}

// fittedBodice returns a bodice with its darts, which open at the waist, that was drafted for
// a grown person and fitted to a doll of the same build: whose waist is wider than the chest
// has no darts there.
func fittedBodice(t testing.TB) *draft.Project {
	t.Helper()
	p := bodyOf(t, draft.New("winter show"), "Wick", 1, grown...)
	p = done(t, p, "draft-block", "block", "bodice", "wearer", "Wick", "set", "below_waist=0mm")
	p = bodyOf(t, p, "Doll", 0.3, grown...)
	return done(t, p, "fit-pattern", "wearer", "Doll", "free", "yes")
}
