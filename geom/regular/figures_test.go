package regular

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"hemlet/geom"
)

// garmentFigures are 100 garment-like outlines of 6 to 9 cubics; a clone does not have
// them.
const garmentFigures = "../../../shared/data/outlines.json"

func garments(t *testing.T) []Outline {
	t.Helper()
	data, err := os.ReadFile(garmentFigures)
	if err != nil {
		t.Skip("the outlines of the workshop are not here: ", err)
	}
	var list []struct {
		Name  string
		Edges [][4][2]float64
	}
	if err := json.Unmarshal(data, &list); err != nil {
		t.Fatal(err)
	}
	var out []Outline
	for _, g := range list {
		var p geom.Path
		for _, e := range g.Edges {
			p = append(p, geom.Cubic(pt(e[0][0], e[0][1]), pt(e[1][0], e[1][1]), pt(e[2][0], e[2][1]), pt(e[3][0], e[3][1])))
		}
		for i := range p {
			p[i].P0 = p[(i+len(p)-1)%len(p)].P3
			if straightCubic(p[i]) {
				p[i] = geom.Line(p[i].P0, p[i].P3)
			}
		}
		o := Outline{Path: p, Corner: make([]bool, len(p))}
		for i, s := range p {
			in, out := p[(i+len(p)-1)%len(p)].Tangent(1), s.Tangent(0)
			o.Corner[i] = math.Abs(math.Atan2(in.Cross(out), in.Dot(out))) > 0.02
		}
		for !o.Corner[0] { // so that corners and edges count from the start of the path
			o.Path, o.Corner = append(o.Path[1:], o.Path[0]), append(o.Corner[1:], o.Corner[0])
		}
		out = append(out, o)
	}
	return out
}

func straightCubic(s geom.Segment) bool {
	d := s.P3.Sub(s.P0).Unit()
	return math.Abs(d.Cross(s.P1.Sub(s.P0))) < 1e-6 && math.Abs(d.Cross(s.P2.Sub(s.P0))) < 1e-6
}

// nearlyTrue is how far in mm a suggestion that is true of a garment moves it at most: the
// seams of these garments are equally long to within a quarter of a millimetre.
const nearlyTrue = 0.1

// TestGarmentsDisturbed measures how many suggestions for garments that were disturbed by
// up to 0.2 mm are true of what was disturbed, and holds every one to its word: it moves
// nothing farther than it says, and no more than is allowed.
func TestGarmentsDisturbed(t *testing.T) {
	all, meant := map[Kind]int{}, map[Kind]int{}
	for i, truth := range garments(t) {
		o := disturbed(truth, 0.2, uint64(i))
		for _, s := range Suggest(o, Options{}) {
			all[s.Kind]++
			if holdsIn(truth, s, nearlyTrue) {
				meant[s.Kind]++
			}
			if s.Off > DefaultTol {
				t.Errorf("garment %d: %v moves by %.3f mm", i, s.Kind, s.Off)
			}
			r, moved, err := Apply(o, []Suggestion{s})
			if err != nil || math.Abs(moved-s.Off) > 1e-6 {
				t.Errorf("garment %d: %v %v %v says %.4f mm and moves %.4f: %v", i, s.Kind, s.Edges, s.Corners, s.Off, moved, err)
				continue
			}
			if miss := missing(r, o.Corner, s); miss > 1e-6 {
				t.Errorf("garment %d: %v %v %v misses by %g mm", i, s.Kind, s.Edges, s.Corners, miss)
			}
		}
	}
	sum, right := 0, 0
	for k := Straight; k <= OnFold; k++ {
		t.Logf("%-10v %3d suggested, %3d true", k, all[k], meant[k])
		sum, right = sum+all[k], right+meant[k]
	}
	t.Logf("%d suggested for 100 garments, %d true", sum, right)
	if 2*right < sum {
		t.Errorf("%d of %d suggestions are by accident", sum-right, sum)
	}
}
