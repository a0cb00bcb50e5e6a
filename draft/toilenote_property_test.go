package draft_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"hemlet/draft"
)

// On a bodice as it is drafted, with its darts, any edge may be noted: what is done leaves
// sound outlines whose seams hold, or says which does not, and passes the noted place at the
// noted amount.
func TestNotesOnADraftedBodice(t *testing.T) {
	p, err := theCostume()
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(3, 8))
	refused, off, tried := 0, 0, 0
	slots := draft.NewSlots()
	for _, piece := range p.Pieces {
		for i := range piece.Edges {
			e := &piece.Edges[i]
			if e.Kind == draft.FoldEdge {
				continue
			}
			for _, reach := range []string{"whole", "tapers"} {
				for _, kind := range []string{"take in", "let out"} {
					tried++
					amount := piece.EdgeLength(i) * (0.02 + 0.05*random.Float64())
					share := 0.2 + 0.6*random.Float64()
					args := map[string]string{
						"edge": `"` + string(piece.ID) + `"."` + string(e.ID) + `"`, "kind": kind, "reach": reach,
						"amount": strconv.FormatFloat(amount, 'f', 3, 64) + "mm", "at": strconv.FormatFloat(100*share, 'f', 3, 64) + "%",
					}
					noted, err := act(t, "add-toile-note").DoText(p, args)
					if err != nil {
						t.Fatalf("%v: %v", args, err)
					}
					out, err := act(t, "do-notes").DoText(noted.Project, nil)
					if err != nil {
						refused++
						t.Logf("%s %s %s %.1f: %v", piece.Name, e.Name, reach, amount, err)
						continue
					}
					if err := draft.Validate(out.Project); err != nil {
						t.Errorf("%v: %v", args, err)
					}
					for _, s := range out.Project.Seams {
						st, err := slots.SeamState(out.Project, s)
						if err != nil {
							t.Fatal(err)
						}
						if !st.Holds {
							off++
							if says := strings.Join(out.Says, " "); !strings.Contains(says, "Seam "+s.Name+" is off") {
								t.Errorf("%v: seam %s does not hold, and it says %q", args, s.Name, says)
							}
						}
					}
					if kind == "take in" && reach == "tapers" {
						now := out.Project.Piece(piece.ID)
						_, k := now.Edge(e.ID)
						if _, far := nearestTo(now, k, piece, i, share, -toFixed(amount)); far > 0.05 && len(piece.Darts) == 0 {
							t.Errorf("%v: the edge passes %g mm from where it is to", args, far)
						}
					}
				}
			}
		}
	}
	t.Logf("of %d notes %d were refused, and %d seams do not hold after", tried, refused, off)
	if refused > tried/8 || off > tried/8 {
		t.Errorf("of %d notes %d were refused, and %d seams do not hold after", tried, refused, off)
	}
}

func toFixed(x float64) float64 { return math.Round(x*1000) / 1000 }

// nearestTo returns how far the edge of a piece passes from the place that lies so many mm
// out of another outline at a share of an edge.
func nearestTo(now *draft.Piece, k int, was *draft.Piece, i int, share, out float64) (int, float64) {
	path := was.EdgePath(i)
	along := share * path.Length()
	for _, s := range path {
		if l := s.Length(); along > l {
			along -= l
			continue
		}
		u := s.AtLength(along)
		at := s.At(u).Add(s.Tangent(u).Left().Mul(-out))
		_, d := now.EdgePath(k).Nearest(at)
		return k, d
	}
	return k, 0
}

func act(t *testing.T, name string) draft.Named {
	t.Helper()
	a, err := draft.ActNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return a
}
