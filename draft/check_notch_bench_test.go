package draft

import (
	"fmt"
	"testing"
)

// manyNotches is a side seam with n notches on each of its sides, none of which match.
func manyNotches(t fataler, n int) *Project {
	t.Helper()
	p := projectOf(wornPanel("Front", 300, 300, "hem", "side", "neck", "other"), wornPanel("Back", 300, 300, "hem", "other", "neck", "side"))
	p = sewnUp(t, p, [3]string{"side", "Front.side", "Back.side"})
	for k, q := range p.Pieces {
		q = q.clone()
		for i := range n {
			for _, e := range q.Edges {
				if e.Name == "side" {
					at := 300 * (float64(i) + 0.5 + 0.2*float64(k)) / float64(n)
					q.Notches = append(q.Notches, Notch{ID: ID(fmt.Sprintf("n%d.%d", k, i)), Edge: e.ID, At: at})
				}
			}
		}
		p.Pieces[k] = q
	}
	return p
}

// BenchmarkCheckManyNotches checks a seam with 800 notches on each of its sides.
func BenchmarkCheckManyNotches(b *testing.B) {
	p := manyNotches(b, 800)
	for b.Loop() {
		NewSlots().Check(p)
	}
}

// A file with more notches along a seam than anybody cuts is not held up by pairing them.
func TestNotchesBeyondCountingAreLeft(t *testing.T) {
	if found := aboutNotches(manyNotches(t, mostPaired)); len(found) != 0 {
		t.Errorf("of %d notches is told %s", 2*mostPaired, found[0].Says)
	}
	if found := aboutNotches(manyNotches(t, 3)); len(found) == 0 {
		t.Error("nothing is told of 6 notches that do not match")
	}
}

// A seam has no more marks than are counted, in a file and by acts.
func TestSeamMarksAreBounded(t *testing.T) {
	p := notched(t, nil, nil)
	s := *p.Seams[0]
	for i := range MaxSeamMarks + 1 {
		s.Marks = append(s.Marks, SeamMark{ID: ID(fmt.Sprintf("k%d", i)), At: float64(i) / (MaxSeamMarks + 1)})
	}
	if err := Validate(p.withSeam(&s)); err == nil {
		t.Errorf("%d marks of one seam are sound", len(s.Marks))
	}
	s.Marks = s.Marks[:mostMarks]
	if _, err := AddSeamMark.Do(p.withSeam(&s), AddSeamMarkArgs{Seam: SeamRef(s.ID), At: EdgePlace{At: 0.99, Share: true}}); err == nil {
		t.Errorf("a mark is added to %d", mostMarks)
	}
}
