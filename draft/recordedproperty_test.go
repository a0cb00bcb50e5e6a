package draft_test

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/store"
)

// cuttingActs are acts that are recorded, and those that go with them.
var cuttingActs = []string{
	"split-piece", "split-piece", "split-piece", "join-pieces", "unfold-piece", "fold-piece", "mirror-piece", "dart-to-seam",
	"pivot-dart", "add-dart", "add-fullness", "slash-spread", "lengthen-piece", "insert-gusset", "insert-godet", "grow-edge", "add-pleats",
	"move-nodes", "insert-node", "corner-node", "delete-node", "link-seam", "unlink-seam", "edit-seam", "delete-piece", "keep-piece",
	"redraw-piece", "follow-block", "trace-copy", "line-piece", "draw-line", "name-edge", "draft-block",
}

// However a drafted bodice is cut up, a measure can always be changed, and what then comes
// out is sound and comes back from a file.
func TestCutUpBlocksAlwaysTakeMeasures(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	start := draft.New("show")
	for _, step := range [][2]string{
		{"add-wearer", "name=Quill|build=wide"}, {"set-measure", "wearer=Quill|name=bust_girth|value=231mm"},
		{"set-measure", "wearer=Quill|name=waist_girth|value=238mm"}, {"set-measure", "wearer=Quill|name=belly_girth|value=262mm"},
		{"set-measure", "wearer=Quill|name=back_waist_length|value=84mm"}, {"draft-block", "block=bodice|wearer=Quill"},
	} {
		act, err := draft.ActNamed(step[0])
		if err != nil {
			t.Fatal(err)
		}
		args := make(map[string]string)
		for _, arg := range strings.Split(step[1], "|") {
			name, value, _ := strings.Cut(arg, "=")
			args[name] = value
		}
		out, err := act.DoText(start, args)
		if err != nil {
			t.Fatal(err)
		}
		start = out.Project
	}
	recorded, measured, late := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := start
		for range rapid.IntRange(3, 20).Draw(t, "acts") {
			act, err := draft.ActNamed(rapid.SampledFrom(cuttingActs).Draw(t, "act"))
			if err != nil {
				t.Fatal(err)
			}
			texts, ok := drawArgs(t, p, act)
			if !ok {
				continue
			}
			out, err := act.DoText(p, texts)
			if err != nil {
				continue
			}
			p = out.Project
			isSound(t, act.Info().Name, p)
			if rapid.IntRange(0, 3).Draw(t, "measure") > 0 {
				continue
			}
			name := rapid.SampledFrom([]string{"bust_girth", "waist_girth", "belly_girth", "back_waist_length"}).Draw(t, "name")
			value := map[string]float64{"bust_girth": 231, "waist_girth": 238, "belly_girth": 262, "back_waist_length": 84}[name]
			set := func(p *draft.Project, mm float64) *draft.Project {
				a := draft.SetMeasureArgs{Wearer: draft.WearerRef(p.Wearers[0].ID), Name: name, Value: draft.Length(mm)}
				out, err := draft.SetMeasure.Do(p, a)
				if err != nil {
					t.Fatalf("%s of %g mm is refused: %v", name, mm, err)
				}
				isSound(t, name+" "+strconv.FormatFloat(mm, 'f', -1, 64), out.Project)
				return out.Project
			}
			wider := set(p, value*rapid.Float64Range(0.9, 1.25).Draw(t, "factor"))
			set(wider, value)
			p = wider
			measured++
			if behind(p) {
				late++
			}
			read, err := store.Decode(store.Encode(p))
			if err != nil {
				t.Fatal(err)
			}
			p = read
		}
		for _, d := range p.Derivations {
			recorded += len(d.Steps)
		}
	})
	if recorded == 0 {
		t.Error("no act was recorded")
	}
	t.Logf("%d acts were recorded; after %d of %d changed measures something was behind", recorded, late, measured)
}

func isSound(t *rapid.T, what string, p *draft.Project) {
	if err := draft.Validate(p); err != nil {
		t.Fatalf("%s made an unsound project: %v", what, err)
	}
	if err := draft.UsesExist(p); err != nil {
		t.Fatalf("%s: %v", what, err)
	}
}

// behind reports whether a piece is other than what it follows makes it.
func behind(p *draft.Project) bool {
	for _, f := range draft.NewSlots().Check(p).Findings {
		if strings.HasSuffix(f.Key, "/behind") || strings.HasSuffix(f.Key, "/older") || strings.HasSuffix(f.Key, "/draft") {
			return true
		}
	}
	return false
}
