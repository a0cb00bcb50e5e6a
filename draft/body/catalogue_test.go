package body

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"hemlet/draft/formula"
)

// Every entry of the catalogue keeps the rules that stand at its head.
func TestCatalogueKeepsItsRules(t *testing.T) {
	groups := []string{}
	for i, m := range Catalogue() {
		if err := formula.CheckName(m.Name); err != nil || m.Name != strings.ToLower(m.Name) {
			t.Errorf("%s: %v", m.Name, err)
		}
		if m.Words == "" || unicode.IsUpper([]rune(m.Words)[0]) || strings.HasSuffix(m.Words, ".") {
			t.Errorf("%s: words are %q", m.Name, m.Words)
		}
		if !regexp.MustCompile(`^[A-Z].*\.$`).MatchString(m.How) {
			t.Errorf("%s: how is no sentence: %q", m.Name, m.How)
		}
		if !slices.Contains([]Kind{Girth, Length, Width, Height, Arc}, m.Kind) {
			t.Errorf("%s: the kind %q is not known", m.Name, m.Kind)
		}
		if !slices.Contains([]string{"front", "back", "side"}, m.View) {
			t.Errorf("%s: the view %q is not known", m.Name, m.View)
		}
		if want := map[Kind]int{Girth: 1, Arc: 1, Length: 2, Width: 2, Height: 2}[m.Kind]; len(m.At) != want || slices.Contains(m.At, "") {
			t.Errorf("%s: a %s is taken at %v", m.Name, m.Kind, m.At)
		}
		if !slices.Contains([]string{"ansur", "practice", "guess"}, m.Source) {
			t.Errorf("%s: the source %q is not known", m.Name, m.Source)
		}
		if !(0 < m.Least && m.Least < m.Share && m.Share < m.Most) || m.Kind == Height && m.Name != "stature" && m.Most > 1 {
			t.Errorf("%s: shares %g, %g, %g", m.Name, m.Least, m.Share, m.Most)
		}
		if len(m.Estimates) == 0 {
			t.Errorf("%s: no estimate", m.Name)
		}
		if last := len(groups) - 1; last < 0 || groups[last] != m.Group {
			if slices.Contains(groups, m.Group) {
				t.Errorf("%s: the group %s is torn apart at entry %d", m.Name, m.Group, i+1)
			}
			groups = append(groups, m.Group)
		}
	}
}

// An entry of the group of a level names the level, and its girth stands at it.
func TestLevelsAreInTheCatalogue(t *testing.T) {
	for _, level := range Levels {
		for _, name := range []string{GirthOf(level), ArcFrontOf(level), ArcBackOf(level)} {
			if m, ok := Find(name); !ok || m.At[0] != level {
				t.Errorf("%s: %v", name, m)
			}
		}
		if m, ok := Find(HeightOf(level)); !ok || m.Kind != Height || m.At[1] != level {
			t.Errorf("%s: %v", HeightOf(level), m)
		}
	}
}

// Every estimate can be read, gives a length, does not read itself, and scales.
func TestEstimatesAreLengths(t *testing.T) {
	e := plain()
	for _, m := range Catalogue() {
		for _, source := range append(slices.Clone(m.FromTaken), m.Estimates...) {
			f, err := formula.Compile(source, e.scope)
			if err != nil {
				t.Errorf("%s: %v", m.Name, err)
				continue
			}
			if f.Kind() != formula.LengthKind || slices.Contains(f.Reads(), m.Name) || len(f.Reads()) == 0 {
				t.Errorf("%s: %q has the kind %s and reads %v", m.Name, source, f.Kind(), f.Reads())
			}
			if regexp.MustCompile(`[1-9][0-9.]*\*?(mm|cm|inch)\b`).MatchString(source) {
				t.Errorf("%s: %q has a part that does not scale", m.Name, source)
			}
		}
	}
}

func TestAskedFirst(t *testing.T) {
	want := []string{"stature", "bust_girth", "waist_girth", "belly_girth", "hip_girth", "back_waist_length", "front_waist_length", "neck_base_girth", "shoulder_length", "back_width"}
	var got []string
	for _, m := range Asked() {
		got = append(got, m.Name)
	}
	if !slices.Equal(got, want) {
		t.Errorf("asked first are %v", got)
	}
}

// What the blocks and the wearer's files rely on is there.
func TestNamesThatOthersRelyOn(t *testing.T) {
	for _, name := range strings.Fields(`stature head_girth neck_base_girth shoulder_length shoulder_drop back_width front_width
		bust_girth waist_girth belly_girth hip_girth back_waist_length front_waist_length armscye_depth waist_to_belly waist_to_hip
		bust_point_distance upper_arm_girth elbow_girth wrist_girth hand_girth arm_length
		bust_arc_front bust_arc_back waist_arc_front waist_arc_back belly_arc_front belly_arc_back hip_arc_front hip_arc_back
		bust_height waist_height belly_height hip_height neck_height thigh_girth knee_girth ankle_girth heel_girth inside_leg foot_length
		muzzle_girth muzzle_length ear_height ear_girth tail_girth tail_length`) {
		if _, ok := Find(name); !ok {
			t.Errorf("%s is not in the catalogue", name)
		}
	}
}

func TestWords(t *testing.T) {
	for name, want := range map[string]string{
		"belly_girth":      "round the belly",
		"crop_girth":       "round the crop",
		"low_hip_height":   "height of the low hip",
		"crop_arc_front":   "across the front at the crop",
		"crop_arc_back":    "across the back at the crop",
		"wing_length":      "wing length",
		"antlers":          "antlers",
		"_girth":           " girth",
		"back_arm_sleeves": "back arm sleeves",
	} {
		if got := Words(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// A catalogue with a slip is refused and not half read.
func TestCatalogueWithMistakes(t *testing.T) {
	for text, says := range map[string]string{
		"[[measures]]\nname = \"a\"\n[[measures]]\nname = \"a\"": "there twice",
		"[[measures]]\nname = \"a\"\nshrae = 0.3":                "not known",
		"[[measures]\n": "expected",
	} {
		if _, err := readCatalogue([]byte(text)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", text, err)
		}
	}
}
