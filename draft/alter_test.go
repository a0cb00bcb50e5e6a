package draft_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/draft/body/bodytest"
	"hemlet/geom"
)

// bodiceOf returns the bodice drafted for a body.
func bodiceOf(t *testing.T, g body.Given) *draft.Project {
	t.Helper()
	w := &draft.Wearer{Name: "Wick"}
	for _, m := range body.Catalogue() {
		if mm, ok := g[m.Name]; ok {
			w.Measures = append(w.Measures, draft.Measure{Name: m.Name, Value: mm})
		}
	}
	out, err := draft.AddWearerFrom.Do(draft.New("winter show"), draft.AddWearerFromArgs{Wearer: w})
	if err != nil {
		t.Fatal(err)
	}
	p := out.Project
	out, err = draft.DraftBlock.Do(p, draft.DraftBlockArgs{Block: "bodice", Wearer: draft.WearerRef(p.Wearers[0].ID)})
	if err != nil {
		t.Fatal(err)
	}
	return out.Project
}

// alteredTo alters a garment and checks what holds for every alteration.
func alteredTo(t *testing.T, p *draft.Project, what draft.Alteration, by float64) *draft.Project {
	t.Helper()
	out, err := draft.Alter.Do(p, draft.AlterArgs{What: what, By: draft.Length(by)})
	if err != nil {
		t.Fatalf("%s by %g mm: %v", what, by, err)
	}
	soundlyAltered(t, p, out.Project)
	return out.Project
}

// reporter is a test, or one drawn example of a property.
type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

// seamBar is by how much in mm the sides of a seam may come to differ more or less than
// they did.
const seamBar = 1e-3

// soundlyAltered fails unless the project is valid, outlines are simple, seams are as true
// as they were, and folds still lie on their line.
func soundlyAltered(t reporter, before, after *draft.Project) {
	t.Helper()
	if err := draft.Validate(after); err != nil {
		t.Errorf("the project is unsound: %v", err)
	}
	for _, q := range after.Pieces {
		if err := q.DrawnPath().Simple(); err != nil {
			t.Errorf("%s: %v", q.Name, err)
		}
		if q.Place != before.Piece(q.ID).Place {
			t.Errorf("%s lies elsewhere", q.Name)
		}
		for i, e := range q.Edges {
			if e.Kind != draft.FoldEdge {
				continue
			}
			was, now := before.Piece(q.ID).EdgePath(i), q.EdgePath(i)
			line := was.End().Sub(was.Start()).Unit()
			for _, at := range [...]geom.Point{now.Start(), now.End()} {
				if off := math.Abs(at.Sub(was.Start()).Cross(line)); off > 1e-4 {
					t.Errorf("the fold of %s left its line by %g mm", q.Name, off)
				}
			}
		}
	}
	old := diffs(before)
	for id, off := range diffs(after) {
		if math.Abs(off-old[id]) > seamBar {
			t.Errorf("seam %s was off by %.5f mm and is by %.5f", after.Seam(id).Name, old[id], off)
		}
	}
}

// alteredBy is one piece before and after, measured by chords: nothing of it is shared with
// the lengths that the alteration kept.
type alteredBy struct {
	t        *testing.T
	was, now *draft.Piece
	what     string
	edges    map[string]int
}

func pieceAltered(t *testing.T, before, after *draft.Project, name string) *alteredBy {
	t.Helper()
	for i, p := range before.Pieces {
		if p.Name != name {
			continue
		}
		a := &alteredBy{t: t, was: p, now: after.Pieces[i], what: name, edges: make(map[string]int)}
		for k, e := range p.Edges {
			a.edges[e.Name] = k
		}
		return a
	}
	t.Fatalf("there is no piece %s", name)
	return nil
}

// chordSteps is in how many chords a stretch is measured.
const chordSteps = 400

// dots returns places of an edge, close to each other, without the mouths of darts; each
// at the same parameter before and after.
func dots(p *draft.Piece, i int) []geom.Point {
	nodes := p.EdgeNodes(i)
	var out []geom.Point
	for k := 1; k < len(nodes); k++ {
		a, b := nodes[k-1], nodes[k]
		if mouthBetween(p, a.ID, b.ID) {
			continue
		}
		p1, p2 := a.At.Add(a.Out), b.At.Add(b.In)
		for s := 0; s <= chordSteps; s++ {
			u := float64(s) / chordSteps
			v := 1 - u
			if a.Out == (geom.Point{}) && b.In == (geom.Point{}) {
				out = append(out, a.At.Mul(v).Add(b.At.Mul(u)))
				continue
			}
			out = append(out, a.At.Mul(v*v*v).Add(p1.Mul(3*v*v*u)).Add(p2.Mul(3*v*u*u)).Add(b.At.Mul(u*u*u)))
		}
	}
	return out
}

func mouthBetween(p *draft.Piece, a, b draft.ID) bool {
	for _, d := range p.Darts {
		if d.From == a && d.To == b {
			return true
		}
	}
	return false
}

// chords returns the length of an edge by its chords. The gap of a mouth between two
// stretches is left out.
func chords(p *draft.Piece, i int) float64 {
	list := dots(p, i)
	sum := 0.0
	for k := 1; k < len(list); k++ {
		if k%(chordSteps+1) != 0 {
			sum += list[k].Dist(list[k-1])
		}
	}
	return sum
}

// edge returns the index of an edge by its name.
func (a *alteredBy) edge(name string) int {
	a.t.Helper()
	i, ok := a.edges[name]
	if !ok {
		a.t.Fatalf("%s has no edge %s", a.what, name)
	}
	return i
}

// grew returns by how much an edge is longer.
func (a *alteredBy) grew(name string) float64 {
	i := a.edge(name)
	return chords(a.now, i) - chords(a.was, i)
}

// moved returns the largest distance by which places of an edge moved, between two shares
// of its places.
func (a *alteredBy) moved(name string, from, to float64) float64 {
	was, now := dots(a.was, a.edge(name)), dots(a.now, a.edge(name))
	most := 0.0
	for k := range was {
		if share := float64(k) / float64(len(was)-1); share >= from && share <= to {
			most = max(most, was[k].Dist(now[k]))
		}
	}
	return most
}

// stayBar is how far in mm what must not move may: an alteration of a fiftieth of the body
// on paper that is folded no more exactly.
const stayBar = 0.1

// stays fails if edges moved.
func (a *alteredBy) stays(names ...string) {
	a.t.Helper()
	for _, name := range names {
		if m := a.moved(name, 0, 1); m > stayBar {
			a.t.Errorf("%s: %s moved by %.3f mm and has to stay", a.what, name, m)
		}
	}
}

// keeps fails if edges got longer or shorter.
func (a *alteredBy) keeps(names ...string) {
	a.t.Helper()
	for _, name := range names {
		if g := a.grew(name); math.Abs(g) > 0.05 {
			a.t.Errorf("%s: %s got %.3f mm longer and has to keep its length", a.what, name, g)
		}
	}
}

// about fails unless a measure is what it is to be, within a fiftieth and 0.1 mm.
func (a *alteredBy) about(what string, got, want float64) {
	a.t.Helper()
	if math.Abs(got-want) > 0.1+math.Abs(want)/50 {
		a.t.Errorf("%s: %s is %.3f mm, wanted %.3f", a.what, what, got, want)
	}
}

// step returns how the corner moved at which two edges meet.
func (a *alteredBy) step(one, other string) geom.Point {
	a.t.Helper()
	i, k := a.edge(one), a.edge(other)
	if (i+1)%len(a.was.Edges) != k {
		i, k = k, i
	}
	if (i+1)%len(a.was.Edges) != k {
		a.t.Fatalf("%s: %s and %s do not meet", a.what, one, other)
	}
	return a.now.Edges[k].Nodes[0].At.Sub(a.was.Edges[k].Nodes[0].At)
}

// humans are bodies of the survey whose bodice has a bust dart.
func humans(t *testing.T) []*draft.Project {
	t.Helper()
	var list []*draft.Project
	for _, g := range bodytest.Sample(t)[:4] {
		list = append(list, bodiceOf(t, g))
	}
	return list
}

// The front of the bodice is drawn with its side to the left: out is to the left there,
// and to the right on the back.

func TestAlterBelly(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, p := range humans(t) {
		for _, by := range [...]float64{30, -20} {
			after := alteredTo(t, p, draft.AlterBelly, by)
			front := pieceAltered(t, p, after, "Front")
			front.stays("neck", "shoulder", "armhole")
			front.keeps("side")
			front.about("the hem's corner at the side goes out", -front.step("side", "hem").X, by/2)
			front.about("the centre gets longer", front.grew("centre"), by/2)
			if after.Pieces[1] != p.Pieces[1] {
				t.Error("the back is another one")
			}
		}
	}
}

func TestAlterSwayBack(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, p := range humans(t) {
		for _, by := range [...]float64{15, -10} {
			after := alteredTo(t, p, draft.AlterSwayBack, by)
			back := pieceAltered(t, p, after, "Back")
			back.stays("neck", "shoulder", "armhole", "side")
			back.about("the centre gets longer", back.grew("centre"), -by)
			if x := back.step("hem", "centre").X; math.Abs(x) > stayBar {
				t.Errorf("the centre goes aside by %.3f mm at the hem", x)
			}
			if after.Pieces[0] != p.Pieces[0] {
				t.Error("the front is another one")
			}
		}
	}
}

func TestAlterTorso(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, p := range humans(t) {
		for _, by := range [...]float64{40, -25} {
			after := alteredTo(t, p, draft.AlterTorso, by)
			for _, name := range [...]string{"Front", "Back"} {
				a := pieceAltered(t, p, after, name)
				a.stays("neck", "shoulder", "armhole")
				a.about("the centre gets longer", a.grew("centre"), by)
				a.about("the hem comes down at the centre", -a.step("centre", "hem").Y, by)
				// Front and back slant unlike at the side, and share what that makes.
				if got := -a.step("side", "hem").Y; math.Abs(got-by) > math.Abs(by)/30 {
					t.Errorf("%s: the hem comes down by %.3f mm at the side, wanted %g", name, got, by)
				}
				a.about("the hem gets longer", a.grew("hem"), 0)
			}
		}
	}
}

func TestAlterShoulderWidth(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, p := range humans(t) {
		for _, by := range [...]float64{15, -8} {
			after := alteredTo(t, p, draft.AlterShoulderWidth, by)
			for _, name := range [...]string{"Front", "Back"} {
				a := pieceAltered(t, p, after, name)
				a.stays("neck", "centre", "hem", "side")
				a.keeps("armhole")
				a.about("the shoulder gets longer", a.grew("shoulder"), by)
			}
			front := pieceAltered(t, p, after, "Front") // its armhole runs down
			// A curve whose upper part swings cannot stay in its lower part to the bit.
			if m := front.moved("armhole", 0.75, 1); m > math.Abs(by)/20 {
				t.Errorf("the lower quarter of the armhole moved by %.3f mm", m)
			}
		}
	}
}

func TestAlterShoulderSlope(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, p := range humans(t) {
		for _, by := range [...]float64{15, -10} {
			after := alteredTo(t, p, draft.AlterShoulderSlope, by)
			for _, name := range [...]string{"Front", "Back"} {
				a := pieceAltered(t, p, after, name)
				a.stays("neck", "centre", "hem")
				a.keeps("shoulder", "armhole")
				a.about("the tip comes down", -a.step("shoulder", "armhole").Y, by)
				a.about("the armpit comes down", -a.step("armhole", "side").Y, by)
				if got := -a.grew("side"); math.Abs(got-by) > math.Abs(by)/20 {
					t.Errorf("%s: the side gets shorter by %.3f mm, wanted %g", name, got, by)
				}
			}
		}
	}
}

func TestAlterForwardNeck(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, p := range humans(t) {
		for _, by := range [...]float64{12, -8} {
			after := alteredTo(t, p, draft.AlterForwardNeck, by)
			front, back := pieceAltered(t, p, after, "Front"), pieceAltered(t, p, after, "Back")
			front.about("the pit of the neck comes down", -front.step("neck", "centre").Y, by)
			back.about("the nape goes up", back.step("neck", "centre").Y, by)
			front.about("all of the neck gets longer", front.grew("neck")+back.grew("neck"), 0)
			for _, a := range [...]*alteredBy{front, back} {
				a.stays("armhole", "side", "hem")
				a.about("the neck's end of the shoulder moves", a.step("neck", "shoulder").Len(), math.Abs(by))
			}
		}
	}
}

func TestAlterTail(t *testing.T) {
	for _, p := range humans(t) {
		after := alteredTo(t, p, draft.AlterTail, 30)
		back := pieceAltered(t, p, after, "Back")
		back.stays("neck", "shoulder", "armhole")
		back.keeps("side")
		back.about("the hem's corner at the side goes out", back.step("side", "hem").X, 15)
		back.about("the centre gets longer", back.grew("centre"), 15)
	}
}

// The sleeve of the smock: its seams and its cap, which is sewn into the armhole, keep
// their lengths.
func TestAlterArm(t *testing.T) {
	p := smock(t, "sound.hemlet")
	for _, by := range [...]float64{10, -6} {
		after := alteredTo(t, p, draft.AlterArm, by)
		a := pieceAltered(t, p, after, "Sleeve")
		a.stays("wrist")
		a.keeps("cap", "back seam", "front seam")
		one, other := a.step("cap", "back seam"), a.step("cap", "front seam")
		a.about("the sleeve gets wider under the arm", math.Abs(one.X-other.X), math.Abs(by))
		cap := a.edge("cap")
		wide := func(q *draft.Piece) float64 { return math.Abs(q.EdgePath(cap).Start().X - q.EdgePath(cap).End().X) }
		a.about("from corner to corner it is wider", wide(a.now)-wide(a.was), by)
		for _, q := range after.Pieces {
			if q.Name != "Sleeve" && q != p.Piece(q.ID) {
				t.Errorf("%s changed", q.Name)
			}
		}
	}
}

// A sole of a foot gets wider across its ball, as much as is wanted, and keeps its heel and
// its length.
func TestAlterFoot(t *testing.T) {
	p := mustRun(t, draft.New("winter show"), "draw-piece", "line=M 0 0 C 18 -2 26 14 27 35 C 28 55 38 70 38 95 C 38 118 22 128 6 126 C -12 124 -24 112 -22 92 C -20 70 -14 55 -15 35 C -16 14 -14 2 0 0 Z", "name=Sole")
	for _, by := range [...]float64{8, -5} {
		after := alteredTo(t, p, draft.AlterFoot, by)
		was, now := p.Pieces[0].DrawnPath(), after.Pieces[0].DrawnPath()
		wide := func(path geom.Path) float64 { return path.Bounds().W() }
		if got := wide(now) - wide(was); math.Abs(got-by) > 0.15 {
			t.Errorf("it is %.3f mm wider, wanted %.1f", got, by)
		}
		if got := now.Bounds().H() - was.Bounds().H(); math.Abs(got) > stayBar {
			t.Errorf("it is %.3f mm longer", got)
		}
		for k := 0; k <= 100; k++ {
			s := float64(k) / 100
			for i := range was {
				if at := was[i].At(s); at.Y < 38 && at.Dist(now[i].At(s)) > 0.3 {
					t.Fatalf("the heel moved by %.3f mm at %v", at.Dist(now[i].At(s)), at)
				}
			}
		}
	}
}

// mustRun does an act by its name.
func mustRun(t *testing.T, p *draft.Project, name string, args ...string) *draft.Project {
	t.Helper()
	act, err := draft.ActNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	texts := make(map[string]string)
	for _, a := range args {
		key, value, _ := strings.Cut(a, "=")
		texts[key] = value
	}
	out, err := act.DoText(p, texts)
	if err != nil {
		t.Fatal(err)
	}
	return out.Project
}

// Done and taken back, an alteration leaves the garment nearly as it was: within a sixth
// of the amount: what is square to a shoulder is so to the one that was moved.
func TestAlterThereAndBack(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, c := range []struct {
		p      *draft.Project
		amount float64
	}{{bodiceOf(t, bodytest.Sample(t)[0]), 15}, {smock(t, "sound.hemlet"), 4}} {
		for _, info := range draft.Alterations() {
			out, err := draft.Alter.Do(c.p, draft.AlterArgs{What: info.What, By: draft.Length(c.amount)})
			if err != nil {
				continue // the garment has not what it needs; TestAlterRefuses
			}
			back, err := draft.Alter.Do(out.Project, draft.AlterArgs{What: info.What, By: draft.Length(-c.amount)})
			if err != nil {
				t.Errorf("%s: %v", info.What, err)
				continue
			}
			if off := draft.Movement(c.p, back.Project); off > c.amount/6 {
				t.Errorf("%s by %g mm and back leaves %.3f mm", info.What, c.amount, off)
			}
		}
	}
}

// What a garment lacks is said in words that name what to do about it.
func TestAlterRefuses(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	p := dartedFronts(t)[0]
	for _, c := range []struct {
		what draft.Alteration
		by   float64
		says string
	}{
		{draft.AlterArm, 5, "none is known as a sleeve"},
		{draft.AlterFoot, 5, "none is known as a sole"},
		{draft.AlterBust, 0, "by 0 nothing changes"},
		{draft.AlterBust, -400, "alter by less"},
		{draft.AlterShoulderWidth, -400, ""},
	} {
		_, err := draft.Alter.Do(p, draft.AlterArgs{What: c.what, By: draft.Length(c.by)})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s by %g: %v", c.what, c.by, err)
		}
	}
	locked := mustRun(t, p, "lock-pieces", "pieces=Front")
	if _, err := draft.Alter.Do(locked, draft.AlterArgs{What: draft.AlterBelly, By: 5}); err == nil || !strings.Contains(err.Error(), "locked") {
		t.Errorf("a locked front: %v", err)
	}
	two := mustRun(t, p, "draft-block", "block=bodice", "wearer=Wick")
	if _, err := draft.Alter.Do(two, draft.AlterArgs{What: draft.AlterBelly, By: 5}); err == nil || !strings.Contains(err.Error(), "several garments") {
		t.Errorf("two garments: %v", err)
	}
	named := draft.AlterArgs{What: draft.AlterBelly, By: 5, Pieces: []draft.PieceRef{draft.PieceRef(two.Pieces[0].ID)}}
	if _, err := draft.Alter.Do(two, named); err != nil {
		t.Errorf("one of two garments: %v", err)
	}
}

// Whatever the amount, an alteration refuses, or leaves the garment sound.
func TestAlterProperty(t *testing.T) {
	garments := append(humans(t), smock(t, "sound.hemlet"))
	done := 0
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(garments).Draw(t, "garment")
		info := rapid.SampledFrom(draft.Alterations()).Draw(t, "alteration")
		size := p.Pieces[0].DrawnPath().Bounds().H()
		by := size * rapid.Float64Range(-0.08, 0.08).Draw(t, "amount")
		out, err := draft.Alter.Do(p, draft.AlterArgs{What: info.What, By: draft.Length(by)})
		if err != nil {
			return
		}
		done++
		soundlyAltered(t, p, out.Project)
	})
	if done < 40 && !testing.Short() {
		t.Errorf("only %d were done", done)
	}
}
