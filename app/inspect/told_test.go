package inspect

import (
	"testing"

	"hemlet/draft"
)

// After a piece was renamed the checks are told anew, by its new name.
func TestFindingsOfARenamedPieceAreTold(t *testing.T) {
	old := []draft.Finding{{Key: "k", About: "Front", Says: "s"}}
	if sameFindings(old, []draft.Finding{{Key: "k", About: "Yoke", Says: "s"}}) {
		t.Error("a finding about another name counts as the same")
	}
	if !sameFindings(old, append([]draft.Finding(nil), old...)) {
		t.Error("the same finding does not")
	}
}
