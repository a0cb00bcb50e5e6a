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
