package paint

import (
	"image"
	"math/rand/v2"
	"slices"
	"testing"

	"hemlet/geom"
)

// randomItem is a piece, or a selection's marks, anywhere near the view.
func randomItem(rnd *rand.Rand) *Item {
	c := geom.Pt(rnd.Float64()*120-60, rnd.Float64()*100-50)
	it := piece(c, 4+20*rnd.Float64(), 3+rnd.IntN(10), rnd.Uint64())
	switch rnd.IntN(4) {
	case 0:
		it = handles(it)
	case 1:
		it.Place = geom.Rotation(rnd.Float64()*6, c)
	case 2:
		it.Place = geom.Scaling(-1, 1)
		it.Marks = append(it.Marks, Bracket{A: c, B: c.Add(geom.Pt(3, 20)), Line: fineLine},
			Badge{At: c, Kind: BadgeKind(rnd.IntN(4)), Colour: Of(Pin), Fill: Of(Node)},
			Text{At: c, Text: "neck 61.4 mm", Size: 12, Colour: Of(PlateText), Plate: Of(Plate), Rim: Of(Pin)},
			Text{At: c, DY: 30, Text: "über", Size: 13, Colour: Of(Ink), Halo: Of(Bench), Anchor: End},
			Shape{Path: it.Marks[0].(Shape).Path, Fill: Faded(Chalk, 0.3), Line: Line{Colour: Faded(Pin, 0.5), Width: 7, Join: Round}})
	}
	return it
}

func randomScene(rnd *rand.Rand, n int) *Scene {
	s := &Scene{Grid: Grid(rnd.IntN(3))}
	for range n {
		s.Items = append(s.Items, randomItem(rnd))
	}
	return s
}

func randomView(rnd *rand.Rand) View {
	v := NewView(200+rnd.IntN(60), 150+rnd.IntN(60), 1+float64(rnd.IntN(3))/2)
	v = v.ZoomAt(geom.Pt(rnd.Float64()*200, rnd.Float64()*150), []float64{0.1, 0.5, 1, 3, 20}[rnd.IntN(5)])
	return v.Pan(rnd.Float64()*40-20, rnd.Float64()*40-20)
}

// A repainted rectangle equals the same part of a full repaint, pixel for pixel,
// and nothing outside it changes.
func TestDirtyRectEqualsFull(t *testing.T) {
	for seed := range uint64(60) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		p, v, s := newPainter(t), randomView(rnd), randomScene(rnd, 8)
		full, part := image.NewRGBA(v.bounds()), image.NewRGBA(v.bounds())
		p.Paint(full, v, &light, s)
		x, y := rnd.IntN(v.W-1), rnd.IntN(v.H-1)
		box := image.Rect(x, y, x+1+rnd.IntN(v.W-x), y+1+rnd.IntN(v.H-y)).Intersect(v.bounds())
		p.paint(part, nil, v, &light, s, nil, box)
		if !sameBox(t, part, full, box) {
			t.Fatalf("seed %d, box %v, view %+v", seed, box, v)
		}
		for _, outside := range []image.Point{{X: box.Min.X - 1, Y: y}, {X: box.Max.X, Y: y}, {X: x, Y: box.Min.Y - 1}, {X: x, Y: box.Max.Y}} {
			if outside.In(v.bounds()) && part.RGBAAt(outside.X, outside.Y).A != 0 {
				t.Fatalf("seed %d: %v outside %v was painted", seed, outside, box)
			}
		}
	}
}

// Whatever is culled on the way, a small window shows what a large one shows at
// that place.
func TestCullingChangesNothing(t *testing.T) {
	for seed := range uint64(40) {
		rnd := rand.New(rand.NewPCG(seed, 2))
		p, v, s := newPainter(t), randomView(rnd), randomScene(rnd, 8)
		s.Grid = NoGrid
		dx, dy := 150+rnd.IntN(200), 150+rnd.IntN(200)
		large := v.Pan(float64(dx), float64(dy))
		large.W, large.H = v.W+2*dx, v.H+2*dy
		// Whole pixels, lest rounding of places differ between the two.
		small := v
		a, b := image.NewRGBA(small.bounds()), image.NewRGBA(large.bounds())
		p.Paint(a, small, &light, s)
		p.Paint(b, large, &light, s)
		cut := image.NewRGBA(small.bounds())
		for y := range small.H {
			copy(cut.Pix[cut.PixOffset(0, y):cut.PixOffset(0, y)+4*small.W], b.Pix[b.PixOffset(dx, y+dy):])
		}
		// Adding whole pixels to a place rounds it anew, in the last bits: here and
		// there a sub-pixel flips. No more than a shade may come of it.
		for i := range a.Pix {
			if d := int(a.Pix[i]) - int(cut.Pix[i]); d < -4 || d > 4 {
				t.Fatalf("seed %d: byte %d differs by %d", seed, i, d)
			}
		}
	}
}

// Many items, which several workers make ready, look as they do laid one after the other.
func TestWorkersKeepTheOrder(t *testing.T) {
	for seed := range uint64(6) {
		rnd := rand.New(rand.NewPCG(seed, 4))
		p, v, s := newPainter(t), randomView(rnd), randomScene(rnd, 5*fewItems)
		got, want := image.NewRGBA(v.bounds()), image.NewRGBA(v.bounds())
		p.Paint(got, v, &light, s)
		one := newPainter(t)
		one.Paint(want, v, &light, &Scene{Grid: s.Grid})
		var boxes []image.Rectangle
		for _, it := range s.Items {
			boxes = one.over(want, v, &light, []*Item{it}, boxes)
		}
		if !sameBox(t, got, want, v.bounds()) {
			t.Fatalf("seed %d", seed)
		}
		if all := p.over(got, v, &light, s.Items, nil); !slices.Equal(all, boxes) {
			t.Fatalf("seed %d: not the same boxes", seed)
		}
	}
}

// After any series of frames the picture is what painting everything anew gives.
func TestLayersEqualFullPaint(t *testing.T) {
	for seed := range uint64(25) {
		rnd := rand.New(rand.NewPCG(seed, 3))
		l, fresh := NewLayers(newPainter(t)), newPainter(t)
		v, still := randomView(rnd), randomScene(rnd, 6)
		var moving *Scene
		for step := range 12 {
			switch rnd.IntN(6) {
			case 0:
				v = randomView(rnd)
			case 1: // one item is another
				still = &Scene{Grid: still.Grid, Items: append([]*Item(nil), still.Items...)}
				still.Items[rnd.IntN(len(still.Items))] = randomItem(rnd)
			case 2: // one goes
				i := rnd.IntN(len(still.Items))
				still = &Scene{Grid: still.Grid, Items: append(append([]*Item(nil), still.Items[:i]...), still.Items[i+1:]...)}
			case 3: // one comes, somewhere between
				i := rnd.IntN(len(still.Items) + 1)
				items := append([]*Item(nil), still.Items[:i]...)
				still = &Scene{Grid: still.Grid, Items: append(append(items, randomItem(rnd)), still.Items[i:]...)}
			case 4: // they change places
				items := append([]*Item(nil), still.Items...)
				rnd.Shuffle(len(items), func(i, j int) { items[i], items[j] = items[j], items[i] })
				still = &Scene{Grid: still.Grid, Items: items}
			}
			if len(still.Items) == 0 {
				still = randomScene(rnd, 6)
			}
			switch rnd.IntN(4) {
			case 0:
				moving = nil
			case 1, 2:
				moving = randomScene(rnd, 1+rnd.IntN(3))
			}
			before := image.NewRGBA(v.bounds())
			if l.out != nil && l.out.Rect == v.bounds() {
				copy(before.Pix, l.out.Pix)
			}
			got, changed := l.Frame(v, &light, still, moving)
			want := image.NewRGBA(v.bounds())
			fresh.Paint(want, v, &light, still)
			if moving != nil {
				fresh.over(want, v, &light, moving.Items, nil)
			}
			if !sameBox(t, got, want, v.bounds()) {
				t.Fatalf("seed %d, step %d", seed, step)
			}
			told := func(x, y int) bool {
				for _, r := range changed {
					if image.Pt(x, y).In(r) {
						return true
					}
				}
				return false
			}
			for y := range v.H {
				for x := range v.W {
					if got.RGBAAt(x, y) != before.RGBAAt(x, y) && !told(x, y) {
						t.Fatalf("seed %d, step %d: (%d, %d) changed and was not told", seed, step, x, y)
					}
				}
			}
		}
	}
}

func TestFrameWithoutChange(t *testing.T) {
	l := NewLayers(newPainter(t))
	v, s := yokeView(1), yokeScene()
	if _, changed := l.Frame(v, &light, s, nil); len(changed) != 1 || changed[0] != v.bounds() {
		t.Errorf("first frame: %v", changed)
	}
	if _, changed := l.Frame(v, &light, s, nil); changed != nil {
		t.Errorf("same frame: %v", changed)
	}
	if img, changed := l.Frame(v, &dark, s, nil); len(changed) != 1 || nrgbaAt(img, 3, 3) != dark[Bench] {
		t.Errorf("other palette: %v", changed)
	}
}

// A frame in which nothing was made anew takes no memory to speak of.
func TestPaintReusesItsBuffers(t *testing.T) {
	p := newPainter(t)
	v, s := NewView(400, 300, 1).Fit(extent, 5), hundred()
	img := image.NewRGBA(v.bounds())
	p.Paint(img, v, &light, s)
	if n := testing.AllocsPerRun(5, func() { p.Paint(img, v, &light, s) }); n > 50 {
		t.Errorf("%v allocations a frame", n)
	}
}

// A picture that is moved by whole pixels, with only its new strips painted, is the one
// that is painted from nothing.
func TestMovedFramesAreWhole(t *testing.T) {
	v := NewView(500, 300, 1).Fit(extent, 20)
	s := hundred()
	l := NewLayers(newPainter(t))
	l.Frame(v, &light, s, nil)
	fresh := newPainter(t)
	want := image.NewRGBA(v.bounds())
	for _, by := range []image.Point{{3, 0}, {0, -7}, {-12, 5}, {40, 90}, {-249, -149}, {1, 1}} {
		v = v.Pan(float64(by.X), float64(by.Y))
		if _, ok := l.moved(v); !ok {
			t.Fatalf("a move by %v is not told", by)
		}
		got, _ := l.Frame(v, &light, s, nil)
		fresh.Paint(want, v, &light, s)
		for i := range want.Pix {
			if d := int(got.Pix[i]) - int(want.Pix[i]); d > 1 || d < -1 {
				t.Fatalf("moved by %v: pixel %d, %d is off by %d", by, i/4%v.W, i/4/v.W, d)
			}
		}
	}
}
