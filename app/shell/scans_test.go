package shell

import (
	"testing"

	"hemlet/draft"
)

// Scans are hinted at where they no longer count, and gone once the pattern is fitted, unless the maker wants them.
func TestScansStepBack(t *testing.T) {
	s := bare(t)
	s.files.opened(grown(t), "")
	s.enter(stationShape)
	if s.scans.faint() {
		t.Error("at Shape they are faint before the fit")
	}
	s.enter(stationTrue)
	if !s.scans.faint() {
		t.Error("at True they are plain")
	}
	s.scans.toggle()
	if s.scans.faint() {
		t.Error("they do not come back")
	}
	s.scans.toggle()
	if s.scans.away() {
		t.Error("they are put away before the fit")
	}
	for _, m := range []draft.Mend{
		{Act: "add-wearer", Args: map[string]string{"name": "Quill"}},
		{Act: "set-measure", Args: map[string]string{"wearer": "Quill", "name": "bust_girth", "value": "231mm"}},
		{Act: "set-measure", Args: map[string]string{"wearer": "Quill", "name": "stature", "value": "360mm"}},
		{Act: "take-spans"}, {Act: "fit-pattern", Args: map[string]string{"wearer": "Quill"}},
	} {
		out, err := s.desk.Project().Do(m)
		if err != nil {
			t.Fatal(err)
		}
		s.desk.Commit(out.Step, out.Project, "")
	}
	s.enter(stationShape)
	if !s.scans.faint() {
		t.Error("once the pattern is fitted they are plain")
	}
	for _, station := range []string{stationShape, stationFit, stationTrue} {
		s.enter(station)
		if !s.scans.away() {
			t.Errorf("at %s the scan of the old size lies under the fitted pieces", station)
		}
		s.scans.toggle()
		if s.scans.away() || s.scans.faint() != (station == stationFit) {
			t.Errorf("at %s it does not come back when asked for", station)
		}
		s.scans.toggle()
	}
	s.enter(stationShape)
	if !s.scans.apart() {
		t.Error("Show all frames the scan of the old size")
	}
	s.scans.want()
	if s.scans.faint() || s.scans.away() {
		t.Error("one that was just laid under is faint")
	}
	s.files.opened(grown(t), "")
	if s.scans.plain {
		t.Error("what was wanted of one document holds for another")
	}
}
