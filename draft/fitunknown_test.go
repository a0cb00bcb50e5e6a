package draft_test

import (
	"strings"
	"testing"

	"hemlet/draft"
)

// fitFindings returns the findings about the fit of a project whose keys end in a word.
func fitFindings(p *draft.Project, last string) []draft.Finding {
	var out []draft.Finding
	for _, f := range draft.NewSlots().Check(p).Findings {
		if strings.HasPrefix(f.Key, "fit/") && strings.HasSuffix(f.Key, "/"+last) {
			out = append(out, f)
		}
	}
	return out
}

// A fit that knows nothing of the old body says so, and one that knows a measure does not.
func TestFitTellsThatTheOldBodyIsUnknown(t *testing.T) {
	known := bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...)
	unknown := *known
	unknown.Origins = nil
	unknown.Pieces = nil
	for _, piece := range known.Pieces {
		q := *piece
		q.Origin = ""
		unknown.Pieces = append(unknown.Pieces, &q)
	}
	fitted := done(t, known, "fit-pattern", "wearer", "Quill")
	if list := fitFindings(fitted, "made for"); len(list) != 0 {
		t.Errorf("of a body that is known: %v", list)
	}
	list := fitFindings(done(t, &unknown, "fit-pattern", "wearer", "Quill"), "made for")
	if len(list) != 1 || list[0].Level != draft.Problem || !strings.Contains(list[0].Says, "8 stretches") {
		t.Errorf("of a body of which nothing is known: %v", list)
	}
}

// What is distorted to more than twice its length or less than half is a problem; what a
// puppet of odd build asks for is to be looked at.
func TestWildDistortionIsAProblem(t *testing.T) {
	p := done(t, bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...), "fit-pattern", "wearer", "Quill")
	list := fitFindings(p, "distorted")
	if len(list) != 1 || list[0].Level != draft.LookAgain {
		t.Errorf("on the puppet: %v", list)
	}
	p = done(t, p, "set-fit-target", "span", "Cuff.wrist", "by", "length", "value", "200mm")
	if list = fitFindings(p, "distorted"); len(list) != 1 || list[0].Level != draft.Problem || list[0].Value <= 1 {
		t.Errorf("with a wrist of 200 mm: %v", list)
	}
}
