package block

import (
	"slices"
	"testing"
)

func TestChapters(t *testing.T) {
	for _, b := range Builtin() {
		steps := b.stepNames()
		last := -1
		for _, c := range b.Chapters() {
			at := slices.Index(steps, c.Step)
			if at <= last || c.Title == "" {
				t.Errorf("%s: chapter %q begins with %q, step %d after %d", b.Name, c.Title, c.Step, at, last)
			}
			last = at
		}
	}
	bodice, err := Named("bodice")
	if err != nil {
		t.Fatal(err)
	}
	list := bodice.Chapters()
	if len(list) < 5 || list[0].Step != bodice.stepNames()[0] {
		t.Errorf("the bodice has the chapters %v", list)
	}
	text := `
# --- What it reads ---
[[measures]]
name = "waist_girth"
[[steps]]
name = "a"
# --- Sleeve ----
# more about it
[[steps]]
# of the cap
name = 'b'
[[steps]]
name = "c"
# -- Pieces --
[[pieces]]
name = "d"
`
	if got := (&Block{text: text}).Chapters(); !slices.Equal(got, []Chapter{{"Sleeve", "b"}}) {
		t.Errorf("chapters %v", got)
	}
}

func (b *Block) stepNames() []string {
	names := make([]string, len(b.steps))
	for i, s := range b.steps {
		names[i] = s.name
	}
	return names
}
