package draft_test

import (
	"math"
	"strings"
	"testing"

	"hemlet/draft"
)

func TestStraightenEdge(t *testing.T) {
	p := doAll(t, sampleProject(t), [2]string{"insert-node", "edge=Front.neck|at=40%"}, [2]string{"straighten-edge", "edges=Front.neck"})
	was, now := sampleProject(t).Pieces[0], p.Pieces[0]
	for i := range now.Edges {
		e := now.Edges[i]
		path := now.EdgePath(i)
		if e.Name != "neck" {
			if got, want := path.Length(), was.EdgePath(i).Length(); math.Abs(got-want) > 1e-9 {
				t.Errorf("edge %s is %g mm long, was %g", e.Name, got, want)
			}
			continue
		}
		if chord := path.Start().Dist(path.End()); math.Abs(path.Length()-chord) > 1e-5 || len(path) != 2 {
			t.Errorf("the neck of %d stretches is %g mm long and its chord %g", len(path), path.Length(), chord)
		}
		for _, s := range path {
			if !s.Straight {
				t.Errorf("a stretch of the neck is still a curve: %v", s)
			}
		}
	}
	dart := doAll(t, sampleProject(t), [2]string{"add-dart", "edge=Front.hem|intake=6mm"})
	if _, err := dart.Do(draft.Mend{Act: "straighten-edge", Args: map[string]string{"edges": "Front.hem"}}); err == nil || !strings.Contains(err.Error(), "dart") {
		t.Errorf("an edge with a dart: %v", err)
	}
}
