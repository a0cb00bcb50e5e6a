package paint

import (
	"image"
	"testing"

	"hemlet/geom"
)

func benchFull(b *testing.B, v View) {
	p := newPainter(b)
	s := hundred()
	img := image.NewRGBA(v.bounds())
	p.Paint(img, v, &light, s)
	b.ReportAllocs()
	for b.Loop() {
		p.Paint(img, v, &light, s)
	}
}

// The bar is 12 ms for 1600 by 1000.
func BenchmarkFullRepaint100(b *testing.B) {
	b.Run("1600x1000", func(b *testing.B) { benchFull(b, NewView(1600, 1000, 1).Fit(extent, 20)) })
	b.Run("1920x1080", func(b *testing.B) { benchFull(b, NewView(1920, 1080, 1).Fit(extent, 20)) })
	near := geom.Rect{Min: geom.Pt(300, 300), Max: geom.Pt(500, 425)}
	b.Run("zoomed", func(b *testing.B) { benchFull(b, NewView(1600, 1000, 1).Fit(near, 0)) })
	b.Run("close", func(b *testing.B) {
		benchFull(b, NewView(1600, 1000, 1).Fit(near, 0).ZoomAt(geom.Pt(800, 500), 8))
	})
}

// BenchmarkFrameFull is a whole frame of both layers after a change of view.
func BenchmarkFrameFull(b *testing.B) {
	l := NewLayers(newPainter(b))
	v := NewView(1600, 1000, 1).Fit(extent, 20)
	s := hundred()
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		l.Frame(v.Pan(float64(i&1), 0), &light, s, nil)
	}
}

// BenchmarkZoomStep makes every chord anew, as a step into the next zoom bucket
// does.
func BenchmarkZoomStep(b *testing.B) {
	p := newPainter(b)
	s := hundred()
	v := NewView(1600, 1000, 1).Fit(extent, 20)
	img := image.NewRGBA(v.bounds())
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		w := v
		if i&1 == 1 {
			w = v.ZoomAt(geom.Pt(800, 500), 2)
		}
		p.Paint(img, w, &light, s)
	}
}

// The bar is 4 ms: a piece whose outline is new in every step, with its handles,
// over 99 others.
func BenchmarkDragStep(b *testing.B) {
	l := NewLayers(newPainter(b))
	v := NewView(1600, 1000, 1).Fit(extent, 20)
	s := hundred()
	still := &Scene{Grid: Metric, Items: s.Items[1:]}
	var steps []*Scene
	for i := range 64 {
		p := piece(geom.Pt(400+float64(i), 300), 42, 12, uint64(i))
		steps = append(steps, &Scene{Items: []*Item{p, handles(p)}})
	}
	l.Frame(v, &light, still, steps[0])
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		l.Frame(v, &light, still, steps[i%len(steps)])
	}
}

// BenchmarkReplaceOne repaints the still layer where one piece of it is another.
func BenchmarkReplaceOne(b *testing.B) {
	l := NewLayers(newPainter(b))
	v := NewView(1600, 1000, 1).Fit(extent, 20)
	a := hundred()
	c := &Scene{Grid: Metric, Items: append([]*Item(nil), a.Items...)}
	c.Items[50] = piece(geom.Pt(400, 300), 42, 12, 1)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		l.Frame(v, &light, []*Scene{a, c}[i&1], nil)
	}
}

// handles returns the dots of a chosen piece.
func handles(p *Item) *Item {
	h := &Item{Place: p.Place}
	for _, m := range p.Marks {
		s, ok := m.(Shape)
		if !ok {
			continue
		}
		for _, seg := range s.Path {
			h.Marks = append(h.Marks, Dot{At: seg.P0, Colour: Of(Ink), Fill: Of(Node)},
				Dot{At: seg.P1, Kind: HandleEnd, Colour: Of(Chalk)})
		}
	}
	return h
}
