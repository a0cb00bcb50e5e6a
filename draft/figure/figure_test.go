package figure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft/body"
	"hemlet/geom"
)

// taken answers for measures that were taken.
type taken map[string]float64

func (t taken) Get(name string) (body.Known, bool) {
	mm, ok := t[name]
	return body.Known{Value: mm}, ok
}

// anyBody draws measures that need not fit one another at all: each is missing, or
// between a fifth of and four times its share of the build.
func anyBody(t *rapid.T, build Build) taken {
	stature := rapid.Float64Range(80, 2300).Draw(t, "stature")
	b := taken{"stature": stature}
	for _, m := range body.Catalogue() {
		share, ok := typical[build][m.Name]
		if !ok {
			share = m.Share
		}
		if m.Name == "stature" || !rapid.Bool().Draw(t, m.Name+" taken") {
			continue
		}
		b[m.Name] = stature * share * rapid.Float64Range(0.2, 4).Draw(t, m.Name)
	}
	return b
}

func anyBuild(t *rapid.T) Build { return rapid.SampledFrom(Builds()).Draw(t, "build") }

// Whatever the measures are, every part is an outline that can be filled.
func TestPartsAreSimpleOutlines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		build := anyBuild(t)
		b := anyBody(t, build)
		for _, view := range []View{Front, Side} {
			for _, p := range Draw(b, build, view).Parts {
				if !p.Outline.Closed() || p.Outline.Area() <= 0 {
					t.Fatalf("%s from %d: closed %v, area %g", p.Name, view, p.Outline.Closed(), p.Outline.Area())
				}
				for i, s := range p.Outline {
					if !s.P0.Finite() || !s.P1.Finite() || !s.P2.Finite() || i > 0 && s.P0 != p.Outline[i-1].P3 {
						t.Fatalf("%s from %d is broken at segment %d", p.Name, view, i)
					}
				}
				if err := p.Outline.Simple(); err != nil {
					t.Fatalf("%s from %d: %v", p.Name, view, err)
				}
			}
		}
	})
}

// symmetryTolerance is for the rounding of coordinates, in mm.
const symmetryTolerance = 1e-6

func TestFrontIsSymmetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		build := anyBuild(t)
		d := Draw(anyBody(t, build), build, Front)
		for _, p := range d.Parts {
			box := p.Outline.Bounds()
			found := false
			for _, q := range d.Parts {
				m := mirrored(q.Outline).Bounds()
				if q.Name == p.Name && m.Min.Near(box.Min, symmetryTolerance) && m.Max.Near(box.Max, symmetryTolerance) {
					found = true
				}
			}
			if !found {
				t.Fatalf("%s has no mirror image", p.Name)
			}
		}
	})
}

// The feet stand on the ground, the crown is at the stature.
func TestFigureIsAsTallAsTheWearer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		build := anyBuild(t)
		b := anyBody(t, build)
		for _, view := range []View{Front, Side} {
			foot, top := math.Inf(1), math.Inf(-1)
			for _, p := range Draw(b, build, view).Parts {
				switch p.Name {
				case "foot":
					foot = min(foot, p.Outline.Bounds().Min.Y)
				case "head":
					top = max(top, p.Outline.Bounds().Max.Y)
				}
			}
			if math.Abs(foot) > symmetryTolerance || math.Abs(top-b["stature"]) > symmetryTolerance {
				t.Fatalf("from %g to %g, of %g", foot, top, b["stature"])
			}
		}
	})
}

// width returns how wide the body is drawn at a level.
func width(d *Drawing, level string) float64 {
	m, ok := d.Mark(level + "_girth")
	if !ok {
		return math.NaN()
	}
	return m.Near[0].Bounds().W()
}

// A body that measures more round a level is drawn wider there, and no narrower
// anywhere else.
func TestWidthFollowsGirth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		build := anyBuild(t)
		b := anyBody(t, build)
		level := rapid.SampledFrom(body.Levels[:]).Draw(t, "level")
		girth := b["stature"] * typical[build][level+"_girth"] * rapid.Float64Range(0.3, 2).Draw(t, "girth")
		b[level+"_girth"] = girth
		thin := Draw(b, build, Front)
		b[level+"_girth"] = girth * rapid.Float64Range(1.01, 2).Draw(t, "more")
		thick := Draw(b, build, Front)
		for _, l := range body.Levels {
			if a, z := width(thin, l), width(thick, l); l == level && !(z > a*1.009) || !(z > a*(1-1e-9)) {
				t.Fatalf("%s goes from %g to %g where %s grew", l, a, z, level)
			}
		}
	})
}

// The ellipse that a level is drawn as has the girth of the wearer. The perimeter is
// summed over chords here, which the drawing does not.
func TestLevelIsTrueToItsGirthAndArcs(t *testing.T) {
	arc := func(w, d float64) float64 {
		const chords = 20000
		sum, last := 0.0, geom.Pt(w, 0)
		for i := 1; i <= chords; i++ {
			sin, cos := math.Sincos(math.Pi * float64(i) / chords)
			p := geom.Pt(w*cos, d*sin)
			sum += p.Dist(last)
			last = p
		}
		return sum
	}
	for _, c := range []struct{ girth, share, front, back float64 }{
		{900, 0.75, 470, 430}, {262, 0.96, 150, 112}, {1300, 0.78, 700, 600}, {80, 0.7, 40, 40},
	} {
		r := ringOf(c.girth, c.share, c.front, c.back)
		if got := arc(r.w, r.w*c.share) * 2; math.Abs(got/c.girth-1) > 1e-3 {
			t.Errorf("girth %g is drawn as %g", c.girth, got)
		}
		if f, b := arc(r.w, r.front), arc(r.w, r.back); math.Abs(f/c.front-1) > 1e-3 || math.Abs(b/c.back-1) > 1e-3 {
			t.Errorf("arcs %g and %g are drawn as %g and %g", c.front, c.back, f, b)
		}
	}
}

// Every measure of the catalogue has its place on at least one side of a figure with
// a muzzle, ears and a tail.
func TestEveryMeasureHasItsPlace(t *testing.T) {
	front, side := Draw(nil, Muzzled, Front), Draw(nil, Muzzled, Side)
	for _, m := range body.Catalogue() {
		_, inFront := front.Mark(m.Name)
		_, inSide := side.Mark(m.Name)
		if !inFront && !inSide {
			t.Errorf("nothing shows where %s is taken", m.Name)
		}
	}
	for _, d := range []*Drawing{front, side} {
		for _, m := range d.Marks {
			if _, ok := body.Find(m.Measure); !ok {
				t.Errorf("%s is shown and in no catalogue", m.Measure)
			}
			if len(m.Near)+len(m.Far) == 0 || !m.At.Finite() {
				t.Errorf("the mark of %s is empty", m.Measure)
			}
		}
	}
}

// What a wearer measures straight up is as long on the figure.
func TestHeightsAreTrue(t *testing.T) {
	b := taken{"stature": 1640, "bust_height": 1190, "waist_height": 1010, "belly_height": 930, "hip_height": 830, "neck_height": 1410, "inside_leg": 740, "foot_length": 244}
	side, front := Draw(b, Upright, Side), Draw(b, Upright, Front)
	for name, mm := range b {
		m, ok := side.Mark(name)
		if !ok {
			m, ok = front.Mark(name)
		}
		if got := m.Near[0].Length(); !ok || math.Abs(got-mm) > 0.5 {
			t.Errorf("%s: %g, drawn %g", name, mm, got)
		}
	}
}

func TestOwnLevelIsDrawn(t *testing.T) {
	b := taken{"stature": 360, "spines_height": 190, "spines_arc_front": 120, "spines_arc_back": 190}
	d := Draw(b, Wide, Front, "spines", "nowhere")
	if _, ok := d.Mark("spines_girth"); !ok {
		t.Error("the level is not there")
	}
	if _, ok := d.Mark("nowhere_girth"); ok {
		t.Error("a level without a height is there")
	}
}

// No line of the silhouette runs through the inside of the figure.
func TestSilhouetteBoundsTheFigure(t *testing.T) {
	for _, build := range Builds() {
		d := Draw(nil, build, Side)
		lines := d.Silhouette()
		if len(lines) == 0 {
			t.Fatal("there is none")
		}
		box := geom.EmptyRect()
		for _, p := range lines {
			box = box.Union(p.Bounds())
			for _, s := range p {
				q := s.At(0.5)
				for _, part := range d.Parts {
					if part.Layer == bodyLayer && part.Outline.Side(q, 1e-3) == geom.Inside {
						t.Fatalf("%v: a line at %v lies inside the %s", build, q, part.Name)
					}
				}
			}
		}
		whole := geom.EmptyRect()
		for _, p := range d.Parts {
			whole = whole.Union(p.Outline.Bounds())
		}
		if !box.Min.Near(whole.Min, 2) || !box.Max.Near(whole.Max, 2) {
			t.Errorf("%v: the silhouette is %v, the figure %v", build, box, whole)
		}
	}
}
