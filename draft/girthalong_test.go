package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft/body"
)

// bellied returns a wearer with a girth and two arcs; 0 leaves one out. Invented.
func bellied(t *testing.T, girth, front, back string) *Project {
	t.Helper()
	p := mustDo(t, New("winter show"), "add-wearer", "name=Quill").Project
	for _, m := range [][2]string{{"belly_arc_front", front}, {"belly_arc_back", back}, {"belly_girth", girth}} {
		if m[1] != "" {
			p = mustDo(t, p, "set-measure", "wearer=Quill", "name="+m[0], "value="+m[1]).Project
		}
	}
	return p
}

func TestAGirthAndItsArcsGoAlong(t *testing.T) {
	type figures struct{ girth, front, back float64 }
	for _, c := range []struct {
		name               string
		girth, front, back string
		act                []string
		want               figures
		says               string
	}{
		{"a new girth is shared", "258mm", "140mm", "118mm", []string{"set-measure", "name=belly_girth", "value=268mm"}, figures{268, 145.4, 122.6}, "Front and back share it as before: 145.4 mm and 122.6 mm."},
		{"a new arc changes the girth", "258mm", "140mm", "118mm", []string{"set-level", "name=belly", "front=150mm"}, figures{268, 150, 118}, "“round the belly” goes along: 268 mm"},
		{"so it does as a measure", "258mm", "140mm", "118mm", []string{"set-measure", "name=belly_arc_back", "value=108mm"}, figures{248, 140, 108}, "goes along: 248 mm"},
		{"arcs that come to the same leave it", "258mm", "140mm", "118mm", []string{"set-level", "name=belly", "front=150mm", "back=108mm"}, figures{258, 150, 108}, ""},
		{"a wobble of the tape is kept", "260mm", "140mm", "118mm", []string{"set-level", "name=belly", "front=150mm"}, figures{270, 150, 118}, "270 mm"},
		{"a girth that the arcs come to is put right", "260mm", "140mm", "118mm", []string{"set-measure", "name=belly_girth", "value=258mm"}, figures{258, 140, 118}, ""},
		{"what did not agree is left", "300mm", "140mm", "118mm", []string{"set-measure", "name=belly_girth", "value=310mm"}, figures{310, 140, 118}, ""},
		{"the first girth changes nothing", "", "140mm", "118mm", []string{"set-measure", "name=belly_girth", "value=300mm"}, figures{300, 140, 118}, ""},
		{"one arc alone is left", "258mm", "140mm", "", []string{"set-measure", "name=belly_girth", "value=268mm"}, figures{268, 140, 0}, ""},
		{"a height changes nothing", "258mm", "140mm", "118mm", []string{"set-level", "name=belly", "height=90mm"}, figures{258, 140, 118}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := bellied(t, c.girth, c.front, c.back)
			out := mustDo(t, p, c.act[0], append([]string{"wearer=Quill"}, c.act[1:]...)...)
			g := out.Project.Wearers[0].Given()
			if got := (figures{g["belly_girth"], g["belly_arc_front"], g["belly_arc_back"]}); got != c.want {
				t.Errorf("got %+v, want %+v", got, c.want)
			}
			says := strings.Join(out.Says, " ")
			if c.says == "" && says != "" || !strings.Contains(says, c.says) {
				t.Errorf("says %q, want %q", says, c.says)
			}
		})
	}
}

// Whatever is shared comes to the girth, in the proportion that it had.
func TestSharedArcsComeToTheGirth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(0.5, 5000)
		front, back, round := length.Draw(t, "front"), length.Draw(t, "back"), length.Draw(t, "round")
		unit := Units()[rapid.IntRange(0, len(Units())-1).Draw(t, "unit")]
		f, b := sharedArcs(front, back, round, unit)
		if math.Abs(f+b-round) > 2e-6 || !(f > 0) {
			t.Fatalf("%g and %g come to %g, want %g", f, b, f+b, round)
		}
		if want := round * front / (front + back); math.Abs(f-want) > unit.Step()/2+1e-6 {
			t.Fatalf("the front has %g, its share is %g", f, want)
		}
	})
}

// Of a girth to which the arcs do not come, both ways out mend it.
func TestBothWaysOutOfArcsAndGirth(t *testing.T) {
	p := bellied(t, "268mm", "140mm", "118mm")
	find := func(p *Project) *Finding {
		for _, f := range NewSlots().Check(p).Findings {
			if strings.Contains(f.Key, "arcs and girth") {
				return &f
			}
		}
		return nil
	}
	f := find(p)
	if f == nil {
		t.Fatal("it is not told")
	}
	var titles []string
	for _, m := range f.Mends {
		titles = append(titles, m.Title)
		out, err := p.Do(m)
		if err != nil {
			t.Fatalf("%s: %v", m.Title, err)
		}
		if find(out.Project) != nil {
			t.Errorf("%s leaves it", m.Title)
		}
	}
	if all := strings.Join(titles, "; "); !strings.Contains(all, "share 268 mm") || !strings.Contains(all, "Put 258 mm for: round the belly") {
		t.Errorf("offered are %s", all)
	}
	for _, s := range body.Slips(p.Wearers[0].Given(), nil) {
		if sum := s.Or["belly_arc_front"] + s.Or["belly_arc_back"]; len(s.Or) > 0 && math.Abs(sum-268) > 1e-9 {
			t.Errorf("the arcs that are suggested come to %g", sum)
		}
	}
}
