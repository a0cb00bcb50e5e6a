package export

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
)

// bodice is the block of that name for one of the wearers that come with the
// program.
func bodice(t *testing.T, wearer string) *draft.Project {
	t.Helper()
	w, unit, err := store.LoadWearer(filepath.Join("..", "assets", "samples", wearer+".toml"))
	if err != nil {
		t.Fatal(err)
	}
	p := draft.New(wearer)
	p.Unit = unit
	added, err := draft.AddWearerFrom.Do(p, draft.AddWearerFromArgs{Wearer: w})
	if err != nil {
		t.Fatal(err)
	}
	made, err := draft.DraftBlock.Do(added.Project, draft.DraftBlockArgs{Block: "bodice", Wearer: draft.WearerRef(added.Made)})
	if err != nil {
		t.Fatal(err)
	}
	return made.Project
}

func lamplighter(t *testing.T) *draft.Project {
	t.Helper()
	p, _, err := store.Load(filepath.Join("..", "assets", "samples", "lamplighter.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// chordsOf returns all that is drawn of a copy as chords, words as boxes.
func chordsOf(l *Laid) [][2]geom.Point {
	var out [][2]geom.Point
	add := func(p geom.Path) {
		pts := p.AppendFlat(nil, 0.02)
		for i := 1; i < len(pts); i++ {
			out = append(out, [2]geom.Point{pts[i-1], pts[i]})
		}
	}
	for _, m := range l.Strokes() {
		for _, c := range m.Chains {
			add(c)
		}
	}
	for _, w := range l.Words() {
		add(rectPath(w.Bounds()))
	}
	return out
}

// apart returns the distance of two chords that do not cross, else 0.
func apart(a, b [2]geom.Point) float64 {
	u, v, w := a[1].Sub(a[0]), b[1].Sub(b[0]), b[0].Sub(a[0])
	if d := u.Cross(v); d != 0 {
		if s, t := w.Cross(v)/d, w.Cross(u)/d; s >= 0 && s <= 1 && t >= 0 && t <= 1 {
			return 0
		}
	}
	to := func(p geom.Point, c [2]geom.Point) float64 {
		along := c[1].Sub(c[0])
		t := 0.0
		if n := along.Dot(along); n > 0 {
			t = min(max(p.Sub(c[0]).Dot(along)/n, 0), 1)
		}
		return p.Dist(c[0].Lerp(c[1], t))
	}
	return min(to(a[0], b), to(a[1], b), to(b[0], a), to(b[1], a))
}

// clearance returns the least distance of the chords, 0 where one set lies in the
// other's outline.
func clearance(a, b [][2]geom.Point, one, other geom.Path) float64 {
	if one.Contains(b[0][0]) || other.Contains(a[0][0]) {
		return 0
	}
	least := math.Inf(1)
	for _, c := range a {
		for _, d := range b {
			// Chords whose boxes lie farther apart need no closer look.
			if math.Max(math.Abs(c[0].X-d[0].X), math.Abs(c[0].Y-d[0].Y))-c[0].Dist(c[1])-d[0].Dist(d[1]) < least {
				least = min(least, apart(c, d))
			}
		}
	}
	return least
}

type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

// checkRoom: no line or word of a copy lies nearer to those of another, or to the
// facts, than the gap, and what fits on one page lies whole on it.
func checkRoom(t reporter, plan *Plan) {
	t.Helper()
	const tolerance = 0.05 // mm, of the chords
	info := rectPath(plan.info)
	var facts [][2]geom.Point
	for i := range info {
		facts = append(facts, [2]geom.Point{info[i].P0, info[i].P3})
	}
	w, h := plan.tile()
	if tile := (geom.Rect{Max: geom.Pt(w+slack, h+slack)}); !tile.Contains(plan.info.Min) || !tile.Contains(plan.info.Max) {
		t.Errorf("the facts at %v reach beyond the page of %g x %g", plan.info, w, h)
	}
	for n, g := range plan.Groups {
		chords := make([][][2]geom.Point, len(g.Pieces))
		for i, l := range g.Pieces {
			chords[i] = chordsOf(l)
			box := l.Bounds()
			whole := 0
			for _, page := range plan.Pages {
				inner := page.Window.Grow(slack)
				if page.Group == g && inner.Contains(box.Min) && inner.Contains(box.Max) {
					whole++
				}
			}
			if cols, rows := plan.needs(box.W(), box.H()); cols*rows == 1 && whole != 1 {
				t.Errorf("%s lies whole on %d pages", l.Piece.Name, whole)
			}
			if n == 0 {
				if d := clearance(facts, chords[i], info, l.Cut); d < nestGap-tolerance {
					t.Errorf("%s lies %g mm from the facts", l.Piece.Name, d)
				}
			}
			for j := range i {
				if d := clearance(chords[j], chords[i], g.Pieces[j].Cut, l.Cut); d < nestGap-tolerance {
					t.Errorf("%s lies %g mm from %s", l.Piece.Name, d, g.Pieces[j].Piece.Name)
				}
			}
		}
	}
}

// TestSmallGarmentsOnFewSheets: a doll's bodice takes one sheet, or two of the shorter
// letter paper, the sample's wardrobe two.
func TestSmallGarmentsOnFewSheets(t *testing.T) {
	for _, c := range []struct {
		name       string
		p          *draft.Project
		a4, letter int
	}{
		{"Quill", bodice(t, "quill"), 1, 2}, {"Tansy", bodice(t, "tansy"), 1, 1}, {"lamplighter", lamplighter(t), 2, 2},
	} {
		for name, pages := range map[string]int{"a4": c.a4, "letter": c.letter} {
			t.Run(c.name+" "+name, func(t *testing.T) {
				o := Options{Paper: paper(t, name), Format: PDF, Clock: clock}
				plan, err := LayPages(context.Background(), c.p, o)
				if err != nil {
					t.Fatal(err)
				}
				if len(plan.Pages) != pages {
					t.Errorf("%d pages, want %d", len(plan.Pages), pages)
				}
				total := 0
				for _, g := range plan.Groups {
					total += len(g.Pieces)
				}
				if total != len(c.p.Pieces) {
					t.Errorf("%d pieces laid, want %d", total, len(c.p.Pieces))
				}
				checkRoom(t, plan)
				if !bytes.Equal(inflatePages(t, encode(t, c.p, o)), inflatePages(t, encode(t, c.p, o))) {
					t.Error("the pages of two exports differ")
				}
			})
		}
	}
}

// TestFewestPagesWin holds the plan against every single arrangement.
func TestFewestPagesWin(t *testing.T) {
	for name, p := range map[string]*draft.Project{"wardrobe": wardrobe(), "Quill": bodice(t, "quill"), "lamplighter": lamplighter(t)} {
		o := Options{Clock: clock}
		plan, err := LayPages(context.Background(), p, o)
		if err != nil {
			t.Fatal(err)
		}
		s, err := newStock(context.Background(), p, o)
		if err != nil {
			t.Fatal(err)
		}
		most := 0
		for _, a := range arrangements(false) {
			try := &Plan{Project: p, Paper: plan.Paper, options: o, ruler: s.ruler, strip: plan.strip, across: 1, up: 1}
			smalls, larges, _, err := try.sort(context.Background(), s)
			if err != nil {
				t.Fatal(err)
			}
			if err := try.arrange(s, smalls, larges, a); err != nil {
				t.Fatal(err)
			}
			checkRoom(t, try)
			if len(try.Pages) < len(plan.Pages) {
				t.Errorf("%s: %+v takes %d pages, the plan %d", name, a, len(try.Pages), len(plan.Pages))
			}
			most = max(most, len(try.Pages))
		}
		if name != "wardrobe" && most == len(plan.Pages) {
			t.Errorf("%s: every arrangement takes %d pages: this shows nothing", name, most)
		}
	}
}

// TestAnyProjectHasRoom: whatever is laid on whatever paper keeps its distance.
func TestAnyProjectHasRoom(t *testing.T) {
	papers := []Paper{paper(t, "a4"), paper(t, "letter").Landscape(), paper(t, "a3"), Roll(600), CustomPaper(minTileWidth+20, minTileHeight+20+headBand)}
	nested := 0
	rapid.Check(t, func(t *rapid.T) {
		p := draft.New("any")
		for i := range rapid.IntRange(1, 5).Draw(t, "pieces") {
			piece := anyPiece(t, i)
			if _, err := draft.LayFlat(piece); err == nil {
				p.Pieces = append(p.Pieces, piece)
			}
		}
		if len(p.Pieces) == 0 {
			return
		}
		o := Options{Paper: rapid.SampledFrom(papers).Draw(t, "paper"), Clock: clock}
		plan, err := LayPages(context.Background(), p, o)
		if err != nil {
			t.Fatal(err)
		}
		total := 0
		for _, g := range plan.Groups {
			total += len(g.Pieces)
			for i, l := range g.Pieces {
				for _, other := range g.Pieces[:i] {
					if l.Bounds().Overlaps(other.Bounds()) {
						nested++
					}
				}
			}
		}
		if total != len(p.Pieces) {
			t.Errorf("%d pieces laid, want %d", total, len(p.Pieces))
		}
		checkRoom(t, plan)
	})
	t.Logf("%d pairs reach into each other's boxes", nested)
}

// covers reports whether the footprint covers a place in mm from its upper left
// corner, y downward.
func (f footprint) covers(x, y float64) bool {
	row := int(math.Floor(y/f.row)) + f.above
	if row < 0 || row >= len(f.rows) {
		return false
	}
	for _, s := range f.rows[row] {
		if x >= s.lo && x <= s.hi {
			return true
		}
	}
	return false
}

// TestFootprints: the outline of a copy, what it encloses, and what lies nearer than
// the gap are covered; the corners of its box, where nothing lies, are not.
func TestFootprints(t *testing.T) {
	all, err := layAll(context.Background(), wardrobe(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range all {
		box := l.Bounds()
		bare := outlineFootprint(l, leastRow)
		grown := bare.grown(nestGap)
		place := func(p geom.Point) (x, y float64) { return p.X - box.Min.X, box.Max.Y - p.Y }
		for i, c := range chordsOf(l) {
			for k := range 5 {
				p := c[0].Lerp(c[1], float64(k)/4)
				if x, y := place(p); y < box.H() && !bare.covers(x, y) {
					t.Fatalf("%s: the line at %v is not covered", l.Piece.Name, p)
				}
				turn := float64(7*i + k)
				near := p.Add(geom.Pt(math.Cos(turn), math.Sin(turn)).Mul(nestGap - 0.1))
				if x, y := place(near); !grown.covers(x, y) {
					t.Fatalf("%s: %v is not covered, %g mm from a line", l.Piece.Name, near, nestGap-0.1)
				}
			}
		}
		inside, free := 0, 0
		words := chordsOf(l)
		for i := range 40 {
			for j := range 40 {
				p := geom.Pt(box.Min.X+box.W()*(float64(i)+0.5)/40, box.Min.Y+box.H()*(float64(j)+0.5)/40)
				x, y := place(p)
				if l.Cut.Contains(p) {
					inside++
					if !bare.covers(x, y) {
						t.Fatalf("%s: %v inside is not covered", l.Piece.Name, p)
					}
					continue
				}
				away := math.Inf(1)
				for _, c := range words {
					away = min(away, apart(c, [2]geom.Point{p, p}))
				}
				// Beside a slanting line a row covers what the line crosses in it.
				const near = 3
				if away > near && bare.covers(x, y) && !inWords(l, p) {
					t.Errorf("%s: %v is covered, %g mm from any line", l.Piece.Name, p, away)
				}
				free++
			}
		}
		if inside == 0 || free == 0 {
			t.Errorf("%s: %d places inside and %d outside: this shows nothing", l.Piece.Name, inside, free)
		}
	}
}

func inWords(l *Laid, p geom.Point) bool {
	for _, w := range l.Words() {
		if w.Bounds().Contains(p) {
			return true
		}
	}
	return false
}

// TestFactsHaveRoom: squares, words and map lie in the block beside each other, on
// the narrowest page and with the largest correction.
func TestFactsHaveRoom(t *testing.T) {
	cloak := draft.New("A cloak for the lamplighter's great-uncle, second version")
	cloak.Pieces = []*draft.Piece{cloakPiece()}
	for _, p := range []*draft.Project{cloak, bodice(t, "quill")} {
		for _, pp := range []Paper{paper(t, "a4"), paper(t, "letter"), CustomPaper(135, 210), CustomPaper(minTileWidth+20, minTileHeight+20+headBand), CustomPaper(192, 200)} {
			for _, c := range []Correction{{}, {X: 1.0425, Y: 0.9875}, {X: 1.1, Y: 1.1}} {
				plan, err := LayPages(context.Background(), p, Options{Paper: pp, Correction: c, Clock: clock})
				if err != nil {
					t.Fatal(err)
				}
				w, h := plan.tile()
				for _, below := range []bool{false, true} {
					f := plan.factsFor(w, below)
					if f.w > w || f.h > h {
						t.Errorf("%s: the page shows %g x %g mm and bears %g x %g", pp.Name, w, h, f.w, f.h)
					}
					side := func(i int, mm float64) geom.Rect {
						return geom.Rect{Min: f.squares[i], Max: f.squares[i].Add(geom.Pt(mm, mm))}
					}
					parts := []geom.Rect{side(0, ScaleMM), side(1, twoInches), f.words, f.chart}
					block := geom.Rect{Min: geom.Pt(0, -f.h), Max: geom.Pt(f.w, 0)}.Grow(slack)
					for i, r := range parts {
						if !block.Contains(r.Min) || !block.Contains(r.Max) {
							t.Errorf("%s: part %d at %v reaches out of the block of %g x %g", pp.Name, i, r, f.w, f.h)
						}
						for j := range i {
							if parts[j].Overlaps(r) {
								t.Errorf("%s: parts %d and %d meet", pp.Name, i, j)
							}
						}
					}
					for _, line := range f.lines {
						if width := textWidth(line, factsLetters, false); width > f.words.W() {
							t.Errorf("%s: %q takes %g mm of %g", pp.Name, line, width, f.words.W())
						}
					}
					if need := titleLine + float64(len(f.lines))*factsLine; need > f.words.H()+slack {
						t.Errorf("%s: the words take %g mm of %g", pp.Name, need, f.words.H())
					}
					if _, corners := plan.mapPlaces(f.chart); len(corners) != len(plan.Groups) {
						t.Errorf("%s: the map shows %d of %d sheets", pp.Name, len(corners), len(plan.Groups))
					}
				}
			}
		}
	}
}

// TestMapShowsPieces looks for each piece on the printed map: grey inside, and white
// where its page has neither a piece nor the facts.
func TestMapShowsPieces(t *testing.T) {
	for name, p := range map[string]*draft.Project{"Quill": bodice(t, "quill"), "lamplighter": lamplighter(t)} {
		plan, err := LayPages(context.Background(), p, Options{Clock: clock})
		if err != nil {
			t.Fatal(err)
		}
		r := rasterPage(t, pdfFile(t, p, Options{}), 1, 300, plan.Paper.Height)
		corner := geom.Pt(plan.info.Min.X, plan.info.Max.Y)
		box := geom.Rect{Min: plan.facts.chart.Min.Add(corner), Max: plan.facts.chart.Max.Add(corner)}
		scale, corners := plan.mapPlaces(box)
		if scale < clearMap {
			t.Errorf("%s: the map is drawn at %g", name, scale)
		}
		margin := geom.Pt(plan.Paper.Margin, plan.Paper.Margin)
		seen, blank := 0, 0
		for i, g := range plan.Groups {
			for _, q := range gridOver(g.W, g.H) {
				at := corners[i].Add(q.Mul(scale)).Add(margin)
				if math.Min(q.X, g.W-q.X) < 20 || math.Min(q.Y, g.H-q.Y) < 20 || i == 0 && plan.info.Grow(5).Contains(q) {
					continue
				}
				in, near := false, false
				for _, l := range g.Pieces {
					_, away := l.Cut.Nearest(q)
					in, near = in || l.Cut.Contains(q), near || away < 0.5/scale
				}
				if near || q.Y > g.H-5/scale && q.X < 5/scale { // lines, and the number of the page
					continue
				}
				ink := r.ink(at, 0)
				if in {
					seen++
				} else {
					blank++
				}
				if in != (ink > 0.05 && ink < 0.5) {
					t.Errorf("%s: %v of sheet %d, inside a piece %v, is printed with ink %.2f", name, q, i, in, ink)
				}
			}
		}
		if seen < 20 || blank < 5 {
			t.Errorf("%s: looked at %d places in pieces and %d beside them: too few to prove anything", name, seen, blank)
		}
	}
}

func gridOver(w, h float64) []geom.Point {
	var out []geom.Point
	for i := range 12 {
		for j := range 12 {
			out = append(out, geom.Pt(w*(float64(i)+0.5)/12, h*(float64(j)+0.5)/12))
		}
	}
	return out
}

// BenchmarkLayPages lays many pieces, which takes several pages.
func BenchmarkLayPages(b *testing.B) {
	p := draft.New("wardrobe")
	for i := range 40 {
		for _, piece := range []*draft.Piece{backPiece(), frontPiece(), sleevePiece(), tabPiece()} {
			piece.ID = draft.ID(fmt.Sprint(piece.ID, i))
			p.Pieces = append(p.Pieces, piece)
		}
	}
	for _, pp := range []Paper{Papers()[0], Papers()[5], Roll(900)} {
		b.Run(pp.Name, func(b *testing.B) {
			for b.Loop() {
				if _, err := LayPages(context.Background(), p, Options{Paper: pp, Clock: clock}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
