package draft

import (
	"strings"
	"testing"
)

// A measure that a block only asks about is not told as estimated: a wearer without a tail
// has none to measure.
func TestMeasuresOnlyAskedAboutAreNotTold(t *testing.T) {
	listed := strings.Replace(vest, "[[choices]]", "[[measures]]\nname = \"tail_girth\"\n\n[[choices]]", 1)
	for is, told := range map[string]bool{
		"given(tail_girth) ? tail_girth : 0*mm": false,
		"tail_girth":                            true,
	} {
		text := strings.Replace(listed, "[[pieces]]", "[[steps]]\nname = \"tail_slit\"\nis = \""+is+"\"\n\n[[pieces]]", 1)
		p := vestFor(t, "231mm", "200mm", "84mm")
		p = mustDo(t, p, "set-measure", "wearer=Quill", "name=stature", "value=360mm").Project
		out, err := DraftBlock.Do(p, DraftBlockArgs{Block: "tailed.toml", Wearer: WearerRef(p.Wearers[0].ID), Text: text})
		if err != nil {
			t.Fatal(err)
		}
		f := findingOf(out.Project, "block/"+string(out.Made)+"/estimated")
		if got := f != nil && strings.Contains(f.Says, "tail"); got != told {
			t.Errorf("%s: told %v: %+v", is, got, f)
		}
	}
}
