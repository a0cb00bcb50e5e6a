package draft

import (
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"hemlet/draft/body"
	"hemlet/draft/body/bodytest"
)

// The bars of fitting: what every fit has to hold, whatever the bodies.
const (
	spanBar  = 0.02 // mm by which a target may be missed
	seamBar  = 1e-4 // mm by which a seam or the form may be off
	notchBar = 0.1  // mm by which notches may be apart that met
)

// fitSet is a block for pairs of bodies, and what it has to come to.
type fitSet struct {
	name, block string
	set         Choices
	// kept keeps the ease: the books add the same inches to every size.
	kept    bool
	puppets bool // from people to puppets, else from one person to another
	// p90 in mm is the largest distance from the block drafted at once within which nine
	// of ten pairs keep, and share the root of the mean square of all distances over that
	// of plain scaling.
	p90, share float64
}

// The sets. What we hold ourselves to is 12 mm between people and 5 mm from people to
// puppets, and a fifth of plain scaling.
var fitSets = []fitSet{
	{name: "bodice to the hip", block: "bodice", p90: 12, share: 0.2},
	{name: "bodice to the waist", block: "bodice", set: Choices{{"below_waist", "0mm"}}, p90: 12, share: 0.2},
	{name: "shirt of 1916", block: "shirt-1916", kept: true, p90: 12, share: 0.2},
	{name: "foundation of 1918", block: "foundation-1918", kept: true, p90: 12, share: 0.2},
	{name: "bodice to the hip, for puppets", block: "bodice", puppets: true, p90: 5, share: 0.2},
	{name: "bodice to the waist, for puppets", block: "bodice", set: Choices{{"below_waist", "0mm"}}, puppets: true, p90: 5, share: 0.2},
}

// How many pairs are tried in a test run, and by .dev/fit.
const (
	sampledPairs = 5
	wholePairs   = 500
	// mostTries is how many pairs are looked at for one of which both bodies take the same
	// darts.
	mostTries = 12
	// fewPercent is how many fits of a hundred may turn a curve as it did not where the
	// pattern drafted at once turns so, too.
	fewPercent = 1
)

func wholeFit() bool { return os.Getenv("HEMLET_WHOLE") != "" }

// surveyed returns the bodies of the survey: all of them, or those that are kept with the
// project. The front length is left out: the survey took it sitting, and by it the bodice
// dips in front as no length on the pattern shows.
func surveyed(t testing.TB) []body.Given {
	var list []body.Given
	if wholeFit() {
		list = bodytest.Ansur(t)
	} else {
		list = bodytest.Sample(t)
	}
	for _, g := range list {
		delete(g, "front_waist_length")
	}
	return list
}

// puppetBodies are the two of the sample garments, whose measures are made up.
var puppetBodies = []body.Given{
	{
		"stature": 360, "bust_girth": 231, "waist_girth": 238, "belly_girth": 258, "hip_girth": 228, "back_waist_length": 84,
		"neck_base_girth": 118, "shoulder_length": 24, "back_width": 78, "head_girth": 281, "upper_arm_girth": 62,
		"waist_to_belly": 18, "waist_to_hip": 40,
	},
	{
		"stature": 290, "bust_girth": 132, "waist_girth": 112, "belly_girth": 130, "hip_girth": 146, "back_waist_length": 68,
		"neck_base_girth": 66, "shoulder_length": 17, "back_width": 44, "head_girth": 168,
	},
}

// puppetLike returns a puppet like one of the two, each of its measures up to a tenth more
// or less.
func puppetLike(r *rand.Rand) body.Given {
	like := puppetBodies[r.IntN(len(puppetBodies))]
	g := body.Given{}
	for _, m := range body.Catalogue() { // in this order, so that a seed gives one body
		if v, ok := like[m.Name]; ok {
			g[m.Name] = v * (0.9 + 0.2*r.Float64())
		}
	}
	return g
}

func (s fitSet) ease() FitEase {
	if s.kept {
		return EaseKept
	}
	return EaseScaled
}

// pair returns two bodies of the set.
func (s fitSet) pair(people []body.Given, r *rand.Rand) (from, to body.Given) {
	from = people[r.IntN(len(people))]
	if s.puppets {
		return from, puppetLike(r)
	}
	return from, people[r.IntN(len(people))]
}

// fitTally is what came of a set.
type fitTally struct {
	pairs, apart, undrafted int
	large, plain            []float64
	fit, scaled             laidGap
	span, seam, form, notch float64
	// held are the fits that were held to the bars, asked those with a curve that turns as it
	// did not, but does on the pattern drafted at once, too.
	held, asked int
	kinks       []float64 // of the hems, in degrees
}

func (y *fitTally) add(x *fitTrial) {
	f, p := x.gaps()
	y.pairs++
	y.large, y.plain = append(y.large, f.largest), append(y.plain, p.largest)
	y.fit, y.scaled = y.fit.with(f), y.scaled.with(p)
}

// centile returns the value below which that share of the list lies.
func centile(list []float64, share float64) float64 {
	sorted := slices.Sorted(slices.Values(list))
	return sorted[min(int(share*float64(len(sorted))), len(sorted)-1)]
}

// holds notes what every fit is held to, and tells what does not hold.
func (y *fitTally) holds(t *testing.T, x *fitTrial) {
	t.Helper()
	span, seam, notch := x.worstSpan(), x.worstSeam(), x.notchesMet()
	form, what := x.structure()
	y.held++
	y.seam, y.form, y.notch = max(y.seam, seam), max(y.form, form), max(y.notch, notch)
	y.span = max(y.span, span)
	if !(span <= spanBar) {
		t.Errorf("a target is missed by %.3g mm: %v", span, x.state.Contradicts)
	}
	if !(seam <= seamBar) {
		t.Errorf("a seam is off by %.3g mm", seam)
	}
	if form > seamBar {
		t.Errorf("%s, by %.3g mm", what, form)
	}
	if notch > notchBar {
		t.Errorf("notches that met are %.3g mm apart", notch)
	}
	if c := x.crossed(); c != "" {
		t.Errorf("the outline of %s crosses itself", c)
	}
	y.kinks = append(y.kinks, x.kinks()...)
	list, asked := x.newTurns()
	if len(list) > 0 {
		t.Errorf("%v turn to the other side where they did not", list)
	}
	if len(asked) > 0 {
		y.asked++
		t.Logf("%v turn to the other side as on the pattern drafted at once", asked)
	}
}

// A block that was drafted for one body and fitted to another comes near the same block
// drafted for that body at once. The bodies are those of ANSUR II (see bodytest.Columns)
// and made-up puppets.
func TestFitBlockAgainstBlock(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for i, set := range fitSets {
		t.Run(set.name, func(t *testing.T) {
			people := surveyed(t)
			r := rand.New(rand.NewPCG(uint64(i), 1941))
			n := sampledPairs
			if wholeFit() {
				n = wholePairs
			}
			var y fitTally
			for tries := 0; y.pairs < n && tries < n*mostTries; tries++ {
				from, to := set.pair(people, r)
				b, err := draftPair(set.block, set.set, from, to)
				if err != nil {
					y.undrafted++
					continue
				}
				same := b.sameMake()
				if !same {
					y.apart++
				}
				if !same && tries >= n {
					continue
				}
				x, err := b.fit(set.ease())
				if err != nil {
					t.Errorf("pair %d: %v", tries, err)
					continue
				}
				if tries < n {
					y.holds(t, x)
				}
				if same {
					y.add(x)
				}
			}
			if y.pairs < n/2 {
				t.Fatalf("only %d pairs of %d could be compared", y.pairs, n)
			}
			p90, share := centile(y.large, 0.9), y.fit.rms()/y.scaled.rms()
			t.Logf("%d pairs (%d more with other darts): largest distance median %.1f, p90 %.1f, worst %.1f mm; plain scaling %.1f, %.1f, %.1f; RMS %.2f mm, %.3f of plain scaling; of %d fits %d have a new turn that the draft has, too; worst span %.2g, seam %.2g, form %.2g, notch %.2g mm",
				y.pairs, y.apart, centile(y.large, 0.5), p90, slices.Max(y.large), centile(y.plain, 0.5), centile(y.plain, 0.9), slices.Max(y.plain),
				y.fit.rms(), share, y.held, y.asked, y.span, y.seam, y.form, y.notch)
			if len(y.kinks) > 0 {
				kink := centile(y.kinks, 0.5)
				t.Logf("hems kink at a seam by %.1f°, nine of ten by less than %.1f°", kink, centile(y.kinks, 0.9))
				if kink > 2*kinkSeen { // half of what they came to before their ends were turned
					t.Errorf("half of the hems have come to kink by more than %.1f°", kink)
				}
			}
			if y.asked > max(1, n*fewPercent/100) {
				t.Errorf("%d fits of %d have a new turn", y.asked, y.held)
			}
			if wholeFit() && p90 > set.p90 || !wholeFit() && slices.Max(y.large) > 3*set.p90 {
				t.Errorf("the largest distance to the block drafted at once is %.1f mm at p90, more than %.0f", p90, set.p90)
			}
			// A sample of a few pairs is kept from the survey's most unlike bodies.
			if limit := set.share; share > limit && wholeFit() || share > 1.5*limit {
				t.Errorf("distances are %.3f of those of plain scaling, more than %.2f", share, limit)
			}
		})
	}
}
