package draft

import "testing"

// bodiceFor returns the built-in bodice drafted for a hedgehog of 36 cm.
func bodiceFor(t fataler) *Project {
	p := mustDo(t, New("winter show"), "add-wearer", "name=Quill", "build=wide").Project
	for _, m := range [][2]string{{"bust_girth", "231mm"}, {"waist_girth", "238mm"}, {"belly_girth", "262mm"}, {"back_waist_length", "84mm"}} {
		p = mustDo(t, p, "set-measure", "wearer=Quill", "name="+m[0], "value="+m[1]).Project
	}
	return mustDo(t, p, "draft-block", "block=bodice", "wearer=Quill").Project
}

// BenchmarkChangedMeasure sets the belly of a wearer for whom the bodice is drafted:
// both pieces are drafted anew, and what was changed by hand is carried over.
func BenchmarkChangedMeasure(b *testing.B) {
	p := bodiceFor(b)
	plain := p
	for _, piece := range p.Pieces {
		e := piece.Edges[len(piece.Edges)/2]
		out, err := InsertNode.Do(p, InsertNodeArgs{EdgeRef{piece.ID, e.ID}, EdgePlace{At: 0.4, Share: true}})
		if err != nil {
			b.Fatal(err)
		}
		out, err = MoveNodes.Do(out.Project, MoveNodesArgs{[]NodeRef{{piece.ID, out.Made}}, Vector{Y: -2}})
		if err != nil {
			b.Fatal(err)
		}
		p = out.Project
	}
	cut := doAll(b, plain, toYoke, acrossIt, done{"pivot-dart", "dart=Front.dart", "to=Front.yoke@50%"})
	for name, p := range map[string]*Project{"untouched": plain, "edited": p, "cut up": cut} {
		b.Run(name, func(b *testing.B) {
			n := 0
			for b.Loop() {
				n++
				// Never a girth that was drafted a moment ago.
				if _, err := SetMeasure.Do(p, SetMeasureArgs{WearerRef(p.Wearers[0].ID), "belly_girth", Length(262 + float64(n%4000)*0.001)}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkCheckChangedMeasure checks a project after each change of a measure, as
// the window does while a figure is typed.
func BenchmarkCheckChangedMeasure(b *testing.B) {
	p, s := bodiceFor(b), NewSlots()
	s.Check(p)
	n := 0
	for b.Loop() {
		n++
		out, err := SetMeasure.Do(p, SetMeasureArgs{WearerRef(p.Wearers[0].ID), "belly_girth", Length(262 + float64(n%4000)*0.001)})
		if err != nil {
			b.Fatal(err)
		}
		s.Check(out.Project)
	}
}

// BenchmarkDragUnderALining moves a point of a piece that has a lining and a facing, as at
// every step of a drag: both are made anew.
func BenchmarkDragUnderALining(b *testing.B) {
	p := bodiceFor(b)
	p = mustDo(b, p, "line-piece", "piece=Front").Project
	p = mustDo(b, p, "face-edge", "edges=Front.neck", "width=10mm").Project
	front := roleOf(p, "front")
	node := front.Edges[1].Nodes[0].ID
	n := 0
	for b.Loop() {
		n++
		if _, err := MoveNodes.Do(p, MoveNodesArgs{[]NodeRef{{front.ID, node}}, Vector{X: float64(n%100) * 0.01}}); err != nil {
			b.Fatal(err)
		}
	}
}
