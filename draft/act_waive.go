package draft

import (
	"errors"
	"fmt"
	"strings"
)

// WaiveArgs are the arguments of Waive.
type WaiveArgs struct {
	Finding string `arg:"finding" says:"the key of the finding"`
	Reason  string `arg:"reason" says:"why it may stay"`
}

// Waive says that a finding may stay, and why.
var Waive = register(Info{
	Name: "waive", Title: "Live with a finding", Group: groupProject,
	Says: "Says that a finding may stay as it is, and why.",
}, func(p *Project, a WaiveArgs) (Outcome, error) {
	key, reason := strings.TrimSpace(a.Finding), strings.TrimSpace(a.Reason)
	switch {
	case key == "":
		return Outcome{}, errors.New("no finding is named")
	case reason == "":
		return Outcome{}, errors.New("it needs a reason, for whoever meets the finding next")
	case len(key) > MaxName || len(reason) > MaxName:
		return Outcome{}, fmt.Errorf("a reason may have at most %d bytes", MaxName)
	}
	about, found := p.findingAbout(key)
	if !found {
		return Outcome{}, fmt.Errorf("the checks find nothing by the key %q; name the key of a finding that they tell", key)
	}
	next := p.shallow()
	next.Waivers = append(p.waiversBut(key), Waiver{key, strings.ToValidUTF8(reason, "")})
	return Outcome{Project: next, subject: about}, nil
})

// findingAbout returns what the finding with the key is about, or false if the
// checks have no such finding: a waiver that a slip of the pen points nowhere would
// leave its finding open and nobody the wiser.
func (p *Project) findingAbout(key string) (string, bool) {
	for _, f := range NewSlots().Check(p).Findings {
		if f.Key == key {
			return f.About, true
		}
	}
	return "", false
}

// UnwaiveArgs are the arguments of Unwaive.
type UnwaiveArgs struct {
	Finding string `arg:"finding" says:"the key of the finding"`
}

// Unwaive tells a finding again that was to stay.
var Unwaive = register(Info{
	Name: "unwaive", Title: "Tell a finding again", Group: groupProject,
	Says: "Tells a finding again that was to stay as it is.",
}, func(p *Project, a UnwaiveArgs) (Outcome, error) {
	key := strings.TrimSpace(a.Finding)
	next := p.shallow()
	next.Waivers = p.waiversBut(key)
	if len(next.Waivers) == len(p.Waivers) {
		return Outcome{}, fmt.Errorf("no finding %q was to stay", key)
	}
	return Outcome{Project: next}, nil
})

// waiversBut returns a copy of the waivers without those of the finding.
func (p *Project) waiversBut(key string) []Waiver {
	var list []Waiver
	for _, w := range p.Waivers {
		if w.Finding != key {
			list = append(list, w)
		}
	}
	return list
}
