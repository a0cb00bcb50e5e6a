package draft

import (
	"reflect"
	"testing"
)

// FuzzActText gives every act texts that nobody meant. Whatever they are, the act
// refuses or makes a sound project, and the project it was given stays as it was.
func FuzzActText(f *testing.F) {
	f.Add("set-allowance", "edges", "front.*", "width", "1/4in + 2mm")
	f.Add("link-seam", "a", "front.side/far", "b", "back.side/left/reversed")
	f.Add("move-nodes", "nodes", "front.hem/start;back.side/2", "by", "-5mm,1/8in")
	f.Add("insert-node", "edge", "\"front\".\"side\"", "at", "50% from end")
	f.Add("move-handle", "handle", "front.n1/out", "to", "1mm,2mm")
	f.Add("turn-piece", "pieces", "front+back", "by", "45")
	f.Fuzz(func(t *testing.T, act, name1, text1, name2, text2 string) {
		a, err := ActNamed(act)
		if err != nil {
			return
		}
		p, kept := bodice(), bodice()
		out, err := a.DoText(p, map[string]string{name1: text1, name2: text2})
		if !reflect.DeepEqual(p, kept) {
			t.Fatalf("%s changed the project it was given", act)
		}
		if err != nil {
			return
		}
		if err := Validate(out.Project); err != nil {
			t.Fatalf("%s %s=%q %s=%q made an unsound project: %v", act, name1, text1, name2, text2, err)
		}
	})
}

// FuzzParseChoices reads settings of a block that nobody meant. What is read is
// written back the same.
func FuzzParseChoices(f *testing.F) {
	f.Add("ease=12mm;neck_drop=5mm")
	f.Add(" ease = 1/2in + 2mm ; depth=0.25;")
	f.Add("ease=a=b;;=;x")
	f.Fuzz(func(t *testing.T, text string) {
		list, err := ParseChoices(text)
		if err != nil {
			return
		}
		again := ""
		for _, s := range list {
			if s.Name == "" || s.Value == "" {
				t.Fatalf("%q holds a choice without a name or a value", text)
			}
			again += s.Name + "=" + s.Value + ";"
		}
		if same, err := ParseChoices(again); err != nil || !reflect.DeepEqual(same, list) {
			t.Fatalf("%q: %v became %v (%v)", text, list, same, err)
		}
		// Whatever was read, a block takes it or says why not.
		b, err := blockOf(vest)
		if err != nil {
			t.Fatal(err)
		}
		var settings []Setting
		for _, s := range list {
			if next, err := withSetting(settings, b, s); err == nil {
				settings = next
			}
		}
		if _, err := readSettings(b, settings); err != nil {
			t.Fatalf("%q: taken one by one, and refused together: %v", text, err)
		}
	})
}
