package draft_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/store"
)

// do does an act by its name, with arguments as text.
func do(t *testing.T, p *draft.Project, name, args string) draft.Outcome {
	t.Helper()
	act, err := draft.ActNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	texts := make(map[string]string)
	for _, a := range strings.Split(args, "|") {
		k, v, _ := strings.Cut(a, "=")
		texts[k] = v
	}
	out, err := act.DoText(p, texts)
	if err != nil {
		t.Fatalf("%s %s: %v", name, args, err)
	}
	return out
}

// The skirt of the published ring, worked by hand: round 60 in at 2 to 1, on 44 in of
// cloth with joins of half an inch: three strips, cut 41 in, 40 in of each seen.
func TestRuffleOfARing(t *testing.T) {
	p := draft.New("skirt")
	for _, side := range []string{"Front", "Back"} {
		p = do(t, p, "draw-shape", "shape=rectangle|from=0mm,0mm|to=15in,15in|name="+side).Project
		p = do(t, p, "name-edge", "edge="+side+".edge 1|name=hem").Project
		p = do(t, p, "name-edge", "edge="+side+".edge 2|name=side").Project
		p = do(t, p, "set-kind", "edges="+side+".edge 4|kind=fold").Project
		p = do(t, p, "set-kind", "edges="+side+".hem|kind=hem").Project
	}
	p = do(t, p, "link-seam", "a=Front.side|b=Back.side").Project
	out := do(t, p, "make-ruffle", "edges=Front.hem + Back.hem|depth=3in|ratio=2|cloth-width=44in|allowance=1/2in")
	q := out.Project
	if n := len(q.Pieces); n != 3 {
		t.Fatalf("%d pieces; the strips are alike and drawn once", n)
	}
	strip := q.Pieces[2]
	if strip.Cut.Copies() != 3 {
		t.Errorf("%d strips, want 3", strip.Cut.Copies())
	}
	flat, err := draft.NewSlots().Flat(strip)
	if err != nil {
		t.Fatal(err)
	}
	if w := flat.Cut.Bounds().W(); math.Abs(w-41*25.4) > 1e-6 {
		t.Errorf("a strip is cut %g mm long, worked by hand 41 in", w)
	}
	if w := flat.Stitch.Bounds().W(); math.Abs(w-40*25.4) > 1e-6 {
		t.Errorf("%g mm of a strip are seen, worked by hand 40 in", w)
	}
	joins, gathered := 0, 0
	report := draft.NewSlots().Check(q)
	for _, st := range report.Seams {
		switch {
		case strings.HasPrefix(st.Seam.Name, "Ruffle join"):
			joins++
		case st.Seam.Fullness == draft.Gathers:
			gathered++
			if math.Abs(st.A-60*25.4) > 1e-6 || math.Abs(st.B-120*25.4) > 1e-6 {
				t.Errorf("the ruffle of %g mm is sewn to %g", st.B, st.A)
			}
		}
		if !st.Holds {
			t.Errorf("seam %s does not hold", st.Seam.Name)
		}
	}
	if joins != 3 || gathered != 1 {
		t.Errorf("%d joins and %d gathered seams, a ring of three has 3 and 1", joins, gathered)
	}
	for _, f := range report.Findings {
		if f.Level == draft.Problem {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
	checkRounds(t, q, 120*25.4)
}

// checkRounds holds the joins of a ring against the garment sewn up: the strips' lower
// edges go round once, as one line.
func checkRounds(t *testing.T, p *draft.Project, flat float64) {
	t.Helper()
	n := 0
	for _, o := range draft.NewSlots().Openings(p, p.Pieces[0].Garment) {
		if math.Abs(o.Length-flat) < 1e-3 {
			n++
		}
	}
	if n != 1 {
		t.Errorf("sewn up, %d lines of %g mm go round", n, flat)
	}
}

// What stands at the ends of the ruffle's upper edge meets what stands at the ends of
// the edge that it is sewn to, and each end of a strip the next strip.
func TestRuffleOfAnOpenEdge(t *testing.T) {
	for _, c := range []struct {
		args                  string
		pieces, strips, joins int
	}{
		{"edges=Front.hem|depth=20mm|ratio=1.5", 1, 1, 0},
		{"edges=Front.hem|depth=20mm|ratio=1.5|cloth-width=100mm|hem=4mm", 2, 2, 1},
		{"edges=Front.hem|depth=20mm|ratio=3|cloth-width=100mm|hem=4mm", 3, 4, 3},
		{"edges=Front.hem/reversed|depth=20mm|ratio=3|cloth-width=100mm|into=pleats", 3, 4, 3},
	} {
		p := draft.New("apron")
		p = do(t, p, "draw-shape", "shape=rectangle|from=0mm,0mm|to=100mm,100mm|name=Front").Project
		p = do(t, p, "name-edge", "edge=Front.edge 1|name=hem").Project
		q := do(t, p, "make-ruffle", c.args).Project
		made, strips := q.Pieces[1:], 0
		for _, piece := range made {
			strips += piece.Cut.Copies()
			flat, err := draft.NewSlots().Flat(piece)
			if err != nil {
				t.Fatal(err)
			}
			if w := flat.Cut.Bounds().W(); strings.Contains(c.args, "cloth-width") && w > 100+1e-6 {
				t.Errorf("%s: a strip of %g mm on cloth of 100", c.args, w)
			}
		}
		if len(made) != c.pieces || strips != c.strips || len(q.Seams) != c.joins+1 {
			t.Errorf("%s: %d pieces, %d strips, %d seams", c.args, len(made), strips, len(q.Seams))
		}
		hemmed := 0
		for _, piece := range made {
			for _, e := range piece.Edges {
				if strings.HasSuffix(e.Name, "end") && e.Kind == draft.HemEdge {
					hemmed++
				}
			}
		}
		if hemmed != 2 {
			t.Errorf("%s: %d ends are hemmed", c.args, hemmed)
		}
		for _, f := range draft.NewSlots().Check(q).Findings {
			if f.Level == draft.Problem || strings.Contains(f.Key, "partners") && f.Piece != q.Pieces[0].ID {
				t.Errorf("%s: %s: %s", c.args, f.About, f.Says)
			}
		}
	}
}

// On the sample: a ruffle for the hem goes round the whole hem, one for the wrists is
// made twice.
func TestRuffleOfTheSample(t *testing.T) {
	p, err := store.Decode(assets.Sample())
	if err != nil {
		t.Fatal(err)
	}
	var wrist draft.ID
	for _, s := range p.Seams {
		if s.Name == "cuff" {
			wrist = s.ID
		}
	}
	out := do(t, p, "make-ruffle", "edges=Front.hem + Back.hem|depth=18mm")
	q := out.Project
	made := q.Pieces[len(q.Pieces)-1]
	seam := q.Seams[len(q.Seams)-1]
	if made.Cut != (draft.CutRule{Way: draft.CutSingle, Count: 1}) || len(seam.A) != 4 || seam.Ratio != 1.5 || seam.BothSides {
		t.Errorf("the hem: %s, sewn to %s at %g", made.Cut, q.RunText(seam.A), seam.Ratio)
	}
	if st, err := draft.NewSlots().SeamState(q, seam); err != nil || !st.Holds {
		t.Errorf("the hem's seam: %+v, %v", st, err)
	}
	if e, _ := q.Piece(seam.A[0].Piece).Edge(seam.A[0].Edge); e.Kind != draft.SeamEdge {
		t.Errorf("the edge is a %s still", e.Kind)
	}
	q = do(t, p, "unlink-seam", "seams="+string(wrist)).Project
	q = do(t, q, "make-ruffle", "edges=Sleeve.wrist|depth=12mm|name=Frill").Project
	made, seam = q.Pieces[len(q.Pieces)-1], q.Seams[len(q.Seams)-1]
	if made.Name != "Frill" || made.Cut != (draft.CutRule{Way: draft.CutPairs, Count: 1}) || !seam.BothSides {
		t.Errorf("the wrists: %s is %s, both sides %t", made.Name, made.Cut, seam.BothSides)
	}
	for _, f := range draft.NewSlots().Check(q).Findings {
		if f.Piece == made.ID && f.Level == draft.Problem || strings.Contains(f.Key, "/twice/") {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
}

// Whatever the cloth and the ratio, and from whichever edge of the ring it is begun: the
// strips fit the cloth, the ruffle fits the edge, and sewn up it goes round once.
func TestRufflesGoRound(t *testing.T) {
	p, err := store.Decode(assets.Sample())
	if err != nil {
		t.Fatal(err)
	}
	p = do(t, p, "edit-seam", "seam=centre back|opens=no").Project
	rapid.Check(t, func(r *rapid.T) {
		ratio := rapid.Float64Range(1.1, 3).Draw(r, "ratio")
		width := rapid.Float64Range(80, 900).Draw(r, "width")
		edges := rapid.SampledFrom([]string{"Front.hem + Back.hem", "Back.hem + Front.hem", "Back.hem/left + Front.hem", "Front.hem/reversed + Back.hem", "Front.hem/far + Back.hem"}).Draw(r, "edges")
		act, _ := draft.ActNamed("make-ruffle")
		out, err := act.DoText(p, map[string]string{
			"edges": edges, "depth": "20mm", "ratio": strconv.FormatFloat(ratio, 'f', -1, 64), "cloth-width": strconv.FormatFloat(width, 'f', -1, 64) + "mm",
		})
		if err != nil {
			r.Fatal(err)
		}
		q := out.Project
		seam := q.Seams[len(q.Seams)-1]
		slots := draft.NewSlots()
		for _, s := range q.Seams[len(p.Seams):] {
			if st, err := slots.SeamState(q, s); err != nil || !st.Holds {
				r.Fatalf("seam %s: %+v, %v", s.Name, st, err)
			}
		}
		st, _ := slots.SeamState(q, seam)
		if math.Abs(st.B-ratio*st.A) > 1e-3 {
			r.Fatalf("%g mm for %g at %g", st.B, st.A, ratio)
		}
		for _, piece := range q.Pieces[len(p.Pieces):] {
			flat, err := slots.Flat(piece)
			if err != nil || flat.Cut.Bounds().W() > width+1e-3 {
				r.Fatalf("a strip does not fit %g mm: %v", width, err)
			}
		}
		n := 0
		for _, o := range slots.Openings(q, "Smock") {
			if math.Abs(o.Length-st.B) < 1e-3 {
				n++
			}
		}
		if n != 1 {
			r.Fatalf("sewn up, %d lines of %g mm go round", n, st.B)
		}
	})
}

func TestRuffleRefused(t *testing.T) {
	p, err := store.Decode(assets.Sample())
	if err != nil {
		t.Fatal(err)
	}
	act, _ := draft.ActNamed("make-ruffle")
	for _, c := range []struct{ args, says string }{
		{"edges=Front.side|depth=10mm", "sewn in seam side already"},
		{"edges=Front.hem|depth=0mm", "deeper than nothing"},
		{"edges=Front.hem|depth=10mm|ratio=0.5", "ratio"},
		{"edges=Front.hem|depth=10mm|into=ease", "gathered or pleated"},
		{"edges=Front.hem + Sleeve.front seam|depth=10mm", "does not go on"},
		{"edges=Front.hem + Front.hem|depth=10mm", "twice"},
		{"edges=Front.hem|depth=10mm|cloth-width=8mm|allowance=4mm", "not wider"},
		{"edges=Front.hem|depth=10mm|cloth-width=9mm|allowance=4mm|ratio=3", "strips"},
		{"edges=Front.hem|depth=10mm|name= ", "name"},
	} {
		texts := make(map[string]string)
		for _, a := range strings.Split(c.args, "|") {
			k, v, _ := strings.Cut(a, "=")
			texts[k] = v
		}
		if _, err := act.DoText(p, texts); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.args, err)
		}
	}
}

// A ruffle whose edge has become shorter is told, and its first mend cuts the strips
// shorter: rectangles still, as long below as above.
func TestRuffleOfTheWrongLengthIsMended(t *testing.T) {
	p := draft.New("apron")
	p = do(t, p, "draw-shape", "shape=rectangle|from=0mm,0mm|to=100mm,100mm|name=Front").Project
	p = do(t, p, "name-edge", "edge=Front.edge 1|name=hem").Project
	p = do(t, p, "make-ruffle", "edges=Front.hem|depth=20mm|ratio=1.5|cloth-width=90mm|name=Frill").Project
	seam := p.Seams[len(p.Seams)-1]
	p = do(t, p, "set-edge-length", "edge=Front.hem|length=84mm").Project
	var found []draft.Finding
	for _, f := range draft.NewSlots().Check(p).Findings {
		if f.Seam == seam.ID && f.Level == draft.Problem {
			found = append(found, f)
		}
	}
	if len(found) != 1 || len(found[0].Mends) == 0 {
		t.Fatalf("found %+v", found)
	}
	out, err := p.Do(found[0].Mends[0])
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, piece := range out.Project.Pieces[1:] {
		if d := piece.EdgeLength(0) - piece.EdgeLength(2); math.Abs(d) > 1e-5 {
			t.Errorf("%s is %g mm longer below than above", piece.Name, d)
		}
		sum += piece.EdgeLength(2) * float64(piece.Cut.Copies())
	}
	if math.Abs(sum-1.5*84) > 1e-4 {
		t.Errorf("the ruffle is %g mm long, want 126", sum)
	}
}
