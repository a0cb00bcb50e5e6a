package block_test

import (
	"fmt"
	"math"
	"testing"

	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/formula"
	"hemlet/geom"
)

// tightLining returns the measures of the worked draft, and its depth and armhole in
// inches.
func tightLining(t testing.TB) (g body.Given, depth, armhole float64) {
	t.Helper()
	g = body.Given{}
	for _, row := range published(t, "tight-lining.csv") {
		switch v := number(t, row["inches"]); row["measure"] {
		case "depth":
			depth = v
		case "armhole":
			armhole = v
		default:
			g[row["measure"]] = v * inch
		}
	}
	return g, depth, armhole
}

// shirtBodies are figures to draft the shirt for: the formulas hold for all of them.
// The first is the worked draft's, the others are made up.
func shirtBodies(t testing.TB) []body.Given {
	first, _, _ := tightLining(t)
	return []body.Given{
		first,
		inchBody(map[string]float64{"neck_base_girth": 12, "bust_girth": 33, "front_width": 12.25, "back_width": 12.5, "back_waist_length": 14.25, "waist_girth": 24}),
		inchBody(map[string]float64{"neck_base_girth": 15.5, "bust_girth": 45, "front_width": 16, "back_width": 15.25, "back_waist_length": 17, "waist_girth": 40}),
	}
}

// TestShirtIsThePrintedOne holds the block to every line that the page gives a rule
// for, for several figures.
func TestShirtIsThePrintedOne(t *testing.T) { tell(t, shirtFaults(t, builtin(t, "shirt-1916"))) }

func shirtFaults(t testing.TB, b *block.Block) (faults []string) {
	for i, g := range shirtBodies(t) {
		for _, more := range []float64{0, 2.5, 4, 6} {
			set := block.Settings{"increased_bust": formula.Length{MM: g["bust_girth"] + more*inch}}
			for _, f := range shirtLineFaults(t, draftFor(t, b, g, set)) {
				faults = append(faults, fmt.Sprintf("figure %d, bust increased by %g in: %s", i+1, more, f))
			}
		}
	}
	return faults
}

func shirtLineFaults(t testing.TB, d drafted) (faults []string) {
	fault := func(format string, a ...any) { faults = append(faults, fmt.Sprintf(format, a...)) }
	ways := map[string]map[string]geom.Point{
		"back":  {"down": geom.Pt(0, -1), "up": geom.Pt(0, 1), "outward": geom.Pt(1, 0)},
		"front": {"down": geom.Pt(0, -1), "up": geom.Pt(0, 1), "outward": geom.Pt(-1, 0)},
	}
	drawn := map[string]float64{} // lines that later lines go by
	long := func(part, of string) float64 {
		if v, ok := drawn[part+of]; ok {
			return v
		}
		if v, ok := drawn["back"+of]; ok {
			return v
		}
		return d.mm(of)
	}
	for _, row := range published(t, "shirt-1916.csv") {
		want := number(t, row["plus_in"]) * inch
		if row["of"] != "" {
			want += number(t, row["share"]) * long(row["part"], row["of"])
		}
		from, to := d.point(row["from"]), d.point(row["to"])
		if way := row["way"]; way == "" {
			if got := from.Dist(to); math.Abs(got-want) > drawnSlack {
				fault("%s, %s is %.4f mm long, and should be %.4f", row["part"], row["line"], got, want)
			}
		} else if at := from.Add(ways[row["part"]][way].Mul(want)); at.Dist(to) > drawnSlack {
			fault("%s, %s ends at %v, and should at %v", row["part"], row["line"], to, at)
		}
		drawn[row["part"]+row["line"]] = want
	}
	if got, want := d.point("front_C").Dist(d.point("front_J")), d.mm("increased_bust")/2-drawn["backCJ"]; math.Abs(got-want) > drawnSlack {
		fault("front, CJ is %.4f mm long, and half the bust less the back's is %.4f", got, want)
	}
	j, k := d.point("J"), d.point("K")
	for _, p := range edgePath(pieceOf(d.Sheet, "back"), "side") {
		if line := j.Sub(k); math.Abs(p.P0.Sub(k).Cross(line))/line.Len() > drawnSlack || math.Abs(p.P3.Sub(k).Cross(line))/line.Len() > drawnSlack {
			fault("the back's side does not lie on the line from K through J")
		}
	}
	for part, corners := range map[string][][2]string{
		"back":  {{"shoulder", "I"}, {"neck", "F"}, {"centre", "A"}, {"hem", "N"}, {"armhole", "J"}},
		"front": {{"neck", "front_F1"}, {"shoulder", "front_F"}, {"armhole", "front_H"}, {"side", "front_J"}},
	} {
		for _, c := range corners {
			if got, want := edgePath(pieceOf(d.Sheet, part), c[0]).Start(), d.point(c[1]); got.Dist(want) > drawnSlack {
				fault("%s: the edge %s does not start at %s", part, c[0], c[1])
			}
		}
	}
	return faults
}

// TestShirtWorked holds the draft for the worked measures to figures worked out by
// hand from the page's rules, so that a slip in how the table is read shows. The bust
// is increased to 42. Slack: the figures are rounded to a thousandth of an inch.
func TestShirtWorked(t *testing.T) {
	g, _, _ := tightLining(t)
	d := draftFor(t, builtin(t, "shirt-1916"), g, block.Settings{"increased_bust": formula.Length{MM: 42 * inch}})
	for _, c := range []struct {
		from, to     string
		across, down float64
	}{
		{"A", "B", 0, 15}, {"A", "C", 0, 7.5}, {"A", "D", 0, 3.75},
		{"A", "E", 2.167, 0}, {"E", "F", 0, -0.75},
		{"D", "G", 7.5, 0}, {"G", "H", 0, -2.167}, {"H", "I", 0.75, 0},
		{"C", "J", 8.5, 0}, {"B", "K", 7.5, 0}, {"B", "N", 0, 4},
		{"front_A", "front_E", -2.542, 0}, {"front_E", "front_F", 0, -0.25}, {"front_A", "front_F1", 0, 2.167},
		{"front_D", "front_G", -8.25, 0}, {"front_G", "front_H", 0, -2.5},
		{"front_C", "front_J", -12.5, 0}, {"front_K", "front_K1", 1, 0},
	} {
		way := d.point(c.to).Sub(d.point(c.from)).Mul(1 / inch)
		if math.Abs(way.X-c.across) > 0.0005+1e-9 || math.Abs(way.Y+c.down) > 0.0005+1e-9 {
			t.Errorf("%s to %s goes %.4f in across and %.4f down, and should %.4g and %.4g", c.from, c.to, way.X, -way.Y, c.across, c.down)
		}
	}
}
