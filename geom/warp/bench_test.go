package warp

import (
	"context"
	"fmt"
	"testing"
)

// wardrobe makes up a garment of many pieces: bodices, each with the spans and seams of one
// and joined to the next along the waist and the neck, in the ratio that they have.
func wardrobe(bodices int) *Problem {
	w := &Problem{Scale: true}
	_, e := halfBodice(0)
	factors := []float64{chest: 1.1, waist: 1.15, frontLength: 0.97, backLength: 0.95, shoulderLength: 1.02, armholeRound: 1.06, neckRound: 1.04}
	for i := range bodices {
		p := newBodice()
		p.Spans = p.Spans[:len(factors)]
		at := len(w.Shapes)
		for j := range p.Spans {
			p.Spans[j].Want *= 1 + (factors[j]-1)*(1+0.3*float64(i%3))
		}
		p.Seams = append(p.Seams, Seam{Terms: []Term{
			{Stretch: e[side], To: 0.4, Factor: 1}, {Shape: 1, Stretch: e[side], To: 0.4, Factor: -1},
		}})
		if i > 0 {
			p.Seams = append(p.Seams,
				Seam{Terms: append(terms(0, 0, 1, 1), terms(-2, 0, 1, -1)...)},
				Seam{Terms: append(terms(0, e[neck], e[neck]+1, 1), terms(-2, e[neck], e[neck]+1, -1)...)})
		}
		w.join(p, at)
	}
	return w
}

// join adds the shapes of q, whose numbers count from at, and its rules.
func (p *Problem) join(q *Problem, at int) {
	p.Shapes = append(p.Shapes, q.Shapes...)
	for _, r := range q.Rails {
		r.Shape += at
		p.Rails = append(p.Rails, r)
	}
	for _, d := range q.Darts {
		d.Shape += at
		p.Darts = append(p.Darts, d)
	}
	for _, j := range q.Joints {
		for i := range j {
			j[i].Shape += at
		}
		p.Joints = append(p.Joints, j)
	}
	for _, s := range q.Seams {
		for i := range s.Terms {
			s.Terms[i].Shape += at
		}
		p.Seams = append(p.Seams, s)
	}
	for _, s := range q.Spans {
		for i := range s.Terms {
			s.Terms[i].Shape += at
		}
		for i := range s.Chords {
			for _, on := range []*Place{s.Chords[i].A.On, s.Chords[i].B.On} {
				on.Shape += at
			}
		}
		p.Spans = append(p.Spans, s)
	}
}

// BenchmarkGarments solves garments of many pieces from the start.
func BenchmarkGarments(b *testing.B) {
	for _, bodices := range []int{1, 6, 50} {
		p := wardrobe(bodices)
		name := fmt.Sprintf("%d pieces, %d spans, %d seams", len(p.Shapes), len(p.Spans), len(p.Seams))
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				r, err := Solve(context.Background(), *p, nil)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(r.Steps), "steps")
			}
		})
	}
}
