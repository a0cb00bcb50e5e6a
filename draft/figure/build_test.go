package figure

import "testing"

func TestBuildIsKeptByItsWord(t *testing.T) {
	for _, b := range Builds() {
		text, err := b.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		got := Build(-1)
		if err := got.UnmarshalText(text); err != nil || got != b {
			t.Errorf("%q is read as %v, %v", text, got, err)
		}
	}
	if _, err := Build(7).MarshalText(); err == nil {
		t.Error("a build that does not exist is written")
	}
	var b Build
	if err := b.UnmarshalText([]byte("tall")); err == nil {
		t.Error("a build that does not exist is read")
	}
}
