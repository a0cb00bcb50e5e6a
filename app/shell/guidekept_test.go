package shell

import (
	"path/filepath"
	"testing"

	"hemlet/draft"
)

// A file that is opened again is led through from where it was left; one that was not, or
// whose guide was put away, is not.
func TestGuideIsKeptWithItsFile(t *testing.T) {
	s := bare(t)
	led, other := filepath.Join(t.TempDir(), "led.hemlet"), filepath.Join(t.TempDir(), "other.hemlet")
	s.desk.Open(draft.New("Led"), led)
	s.guide.begin()
	s.guide.passed[1] = true
	s.guide.passed[3] = true
	s.guide.keep()
	s.desk.Open(draft.New("Other"), other)
	if s.guide.on || s.guide.bar.object.Visible() {
		t.Error("another file is led through")
	}
	s.desk.Open(draft.New("Led"), led)
	if !s.guide.on || !s.guide.bar.object.Visible() || !s.guide.passed[1] || !s.guide.passed[3] || s.guide.passed[0] {
		t.Errorf("opened again it leads: %v, and has put %v behind", s.guide.on, s.guide.passed)
	}
	s.guide.end()
	s.desk.Open(draft.New("Other"), other)
	s.desk.Open(draft.New("Led"), led)
	if s.guide.on {
		t.Error("it leads on though it was put away")
	}
}

func TestOnlyTheLatestFilesAreNoted(t *testing.T) {
	s := bare(t)
	dir := t.TempDir()
	for i := range mostGuided + 5 {
		s.desk.Open(draft.New("Led"), filepath.Join(dir, string(rune('a'+i))+".hemlet"))
		s.guide.begin()
	}
	list := s.app.Preferences().StringList(prefGuided)
	if len(list) != mostGuided || guidedPath(list[0]) != s.desk.Path() {
		t.Errorf("%d files are noted, first %q", len(list), list[0])
	}
}
