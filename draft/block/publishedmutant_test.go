package block_test

import (
	"strings"
	"testing"

	"hemlet/draft/block"
)

// TestPublishedTestsCanFail changes the blocks one figure at a time, and holds that
// the tests against the books and the bodice drawn another way find each.
func TestPublishedTestsCanFail(t *testing.T) {
	bodies := plainBodies(t)
	holders := map[string]func(*block.Block) []string{
		"foundation-1918": func(b *block.Block) []string { return foundationFaults(t, b) },
		"shirt-1916":      func(b *block.Block) []string { return shirtFaults(t, b) },
		"beside":          func(b *block.Block) []string { return besideFaults(t, b) },
		"plain": func(b *block.Block) (faults []string) {
			for i := 0; i < len(bodies) && len(faults) == 0; i++ {
				faults, _ = plainFaults(t, b, bodies[i:i+1])
			}
			return faults
		},
	}
	for _, c := range []struct{ holder, block, old, changed string }{
		{"foundation-1918", "foundation-1918", "bust_girth - 3*inch", "bust_girth - 2.99*inch"},
		{"foundation-1918", "foundation-1918", "right(G, size/24)", "right(G, size/25)"},
		{"foundation-1918", "foundation-1918", "above(J, 1*inch)", "below(J, 1*inch)"},
		{"foundation-1918", "foundation-1918", "toward(K, I, size/6)", "toward(K, E, size/6)"},
		{"foundation-1918", "foundation-1918", `path = ["L", "K"]`, `path = ["L", "J"]`},

		{"shirt-1916", "shirt-1916", "dist(A, C)/2)", "dist(A, C)/2.01)"},
		{"shirt-1916", "shirt-1916", "above(E, 0.75*inch)", "above(E, 0.7*inch)"},
		{"shirt-1916", "shirt-1916", "above(G, neck_base_girth/6)", "above(G, 2.1*inch)"},
		{"shirt-1916", "shirt-1916", "increased_bust/4 - 2*inch", "bust_girth/4 - 1*inch"},
		{"shirt-1916", "shirt-1916", "waist_girth/4 + 1.25*inch", "waist_girth/4 + 1*inch"},
		{"shirt-1916", "shirt-1916", "meet(J, K, N,", "meet(J, B, N,"},
		{"shirt-1916", "shirt-1916", "neck_base_girth/6 + 0.375*inch", "neck_base_girth/6 + 0.25*inch"},
		{"shirt-1916", "shirt-1916", "2/3*dist(front_D, front_A)", "0.66*dist(front_D, front_A)"},
		{"shirt-1916", "shirt-1916", "increased_bust/2 - dist(C, J)", "increased_bust/4"},
		{"shirt-1916", "shirt-1916", "right(front_K, 1*inch)", "right(front_K, 0.9*inch)"},

		{"beside", "bodice", `is = "neck_width/3"`, `is = "neck_width/2"`},
		{"beside", "bodice", "armscye_depth + armhole_lowered", "1.2*armscye_depth + armhole_lowered"},
		{"beside", "bodice", "back_width/2 + ease/16", "back_width/2 + ease/4"},
		{"beside", "bodice", "(bust_girth - bust_arc_front)/2 + ease/4", "(bust_girth - bust_arc_front)/2 + ease/2"},
		{"beside", "bodice", "below(nape, back_waist_length)", "below(nape, 0.99*back_waist_length)"},

		{"plain", "bodice", `is = "1.05*neck_width"`, `is = "1.0500001*neck_width"`},
		{"plain", "bodice", "neck_trial*(neck_base_girth/2/(", "neck_trial*(neck_base_girth/1.999999/("},
		{"plain", "bodice", "clamp(shoulder_drop/shoulder_length, -0.2, 0.8)", "clamp(shoulder_drop/shoulder_length, -0.2, 0.3)"},
		{"plain", "bodice", `is = "polar(back_neck, -tilt, shoulder_length)"`, `is = "polar(back_neck, -tilt, 1.00001*shoulder_length)"`},
		{"plain", "bodice", "at(half_back, -armhole_depth), back_underarm, 0.58", "at(half_back, -armhole_depth), back_underarm, 0.57"},
		{"plain", "bodice", "height(front_tip) - 0.6*(", "height(front_tip) - 0.59*("},
		{"plain", "bodice", "bust_back - waist_back - 0.18*to_waist", "bust_back - waist_back - 0.17*to_waist"},
		{"plain", "bodice", "(bust_front - waist_front)/(0.08*bust_front)", "(bust_front - waist_front)/(0.3*bust_front)"},
		{"plain", "bodice", "sweep(back_waist_cb, waist_back + back_dart, back_bust, side_to_waist)", "sweep(back_waist_cb, waist_back + 1.00001*back_dart, back_bust, side_to_waist)"},
		{"plain", "bodice", "sweep(front_waist_cf, waist_front + front_dart, front_bust, side_to_waist + bust_dart)", "sweep(front_waist_cf, waist_front + front_dart, front_bust, side_to_waist)"},
		{"plain", "bodice", "sweep_leaning(front_hip_cf, front_hip_long, side_length + bust_dart,", "sweep_leaning(front_hip_cf, front_hip_long, 1.0001*side_length + bust_dart,"},
		{"plain", "bodice", "front_hip_long, side_length + bust_dart, -hem_lean,", "front_hip_long, side_length + bust_dart, -0.9*hem_lean,"},
		{"plain", "bodice", "down_to_belly, share_of_belly*max(belly_back - waist_back,", "down_to_belly, share_of_belly*min(belly_back - waist_back,"},
	} {
		text := builtin(t, c.block).Text()
		if n := strings.Count(text, c.old); n == 0 {
			t.Errorf("%s has no %q: change this test with the block", c.block, c.old)
			continue
		}
		b, err := block.Parse(c.block+".toml", []byte(strings.Replace(text, c.old, c.changed, 1)))
		if err != nil {
			t.Errorf("%q: %v", c.changed, err)
			continue
		}
		if len(holders[c.holder](b)) == 0 {
			t.Errorf("%s with %q in place of %q holds, by %s", c.block, c.changed, c.old, c.holder)
		}
	}
}
