package geom

import "testing"

// benchCubics are curves as garments have them and a few harder ones.
func benchCubics() []Segment {
	return []Segment{
		Cubic(Pt(0, 0), Pt(40, 0), Pt(70, 30), Pt(75, 80)),
		Cubic(Pt(0, 0), Pt(91.3249, 0), Pt(182.6498, -1.442154), Pt(304.416333, 0.201698)),
		Cubic(Pt(10, 0), Pt(10, 20), Pt(0, 40), Pt(-25, 60)),
		Cubic(Pt(0, 0), Pt(20, 0), Pt(20, 60), Pt(40, 60)),
		Cubic(Pt(0, 0), Pt(33, 1), Pt(66, -2), Pt(100, 0)),
		Cubic(Pt(0, 0), Pt(120, 90), Pt(-20, 90), Pt(100, 0)),
		Cubic(Pt(0, 0), Pt(0, 0), Pt(50, 40), Pt(50, 40)),
	}
}

func BenchmarkArcLength(b *testing.B) {
	all := benchCubics()
	sum := 0.0
	for b.Loop() {
		for i := range all {
			sum += all[i].Length()
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(all)), "ns/cubic")
	_ = sum
}

func BenchmarkNearest(b *testing.B) {
	all := benchCubics()
	b.Run("segment", func(b *testing.B) {
		for b.Loop() {
			for i := range all {
				all[i].Nearest(Pt(30, 20))
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(all)), "ns/cubic")
	})
	b.Run("outline", func(b *testing.B) {
		p := benchOutline()
		for b.Loop() {
			p.Nearest(Pt(61, 44))
		}
	})
}

// benchOutline is an outline of 12 cubics, as the bench shows them.
func benchOutline() Path {
	var p Path
	for _, s := range circle(Pt(40, 30), 25) {
		p = append(p, s.Between(0, 0.3), s.Between(0.3, 0.7), s.Between(0.7, 1))
	}
	return p
}

func BenchmarkFlatten(b *testing.B) {
	p := benchOutline()
	buf := make([]Point, 0, 4096)
	n := 0
	b.ReportAllocs()
	for b.Loop() {
		n = len(p.AppendFlat(buf, 0.02))
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/point")
}

func BenchmarkIntersections(b *testing.B) {
	arch := Cubic(Pt(0, 0), Pt(0, 40), Pt(60, 40), Pt(60, 0))
	for _, c := range []struct {
		name string
		o    Segment
	}{
		{"line", Line(Pt(30, -10), Pt(30, 50))},
		{"cubic", Cubic(Pt(-10, 20), Pt(20, -10), Pt(40, 60), Pt(70, 10))},
		{"touching", Cubic(Pt(0, 60), Pt(0, 20), Pt(60, 20), Pt(60, 60))},
		{"overlap", arch.Between(0.2, 0.8)},
		{"apart", Cubic(Pt(0, 70), Pt(0, 40), Pt(60, 40), Pt(60, 70))},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				arch.Intersections(c.o)
			}
		})
	}
}

func BenchmarkSimple(b *testing.B) {
	p := benchOutline()
	b.ReportAllocs()
	for b.Loop() {
		if err := p.Simple(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWinding(b *testing.B) {
	p := benchOutline()
	for b.Loop() {
		p.Winding(Pt(30, 20))
	}
}
