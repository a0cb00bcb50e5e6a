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
