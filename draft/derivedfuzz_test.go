package draft_test

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
)

// spoiler changes what a file says of how pieces were generated, as a hand or a
// hostile program may.
type spoiler struct {
	t *rapid.T
	// ids are all ids of the project, and some that it has not.
	ids []draft.ID
}

var idType = reflect.TypeFor[draft.ID]()

// spoil changes something somewhere in v, which may be written to.
func (s *spoiler) spoil(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return
		}
		if rapid.IntRange(0, 9).Draw(s.t, "drop") == 0 && v.CanSet() {
			v.SetZero()
			return
		}
		s.spoil(v.Elem())
	case reflect.Struct:
		s.spoil(v.Field(rapid.IntRange(0, v.NumField()-1).Draw(s.t, "field")))
	case reflect.Slice:
		s.spoilList(v)
	case reflect.String:
		if v.Type() == idType {
			v.SetString(string(rapid.SampledFrom(s.ids).Draw(s.t, "id")))
		} else {
			v.SetString(rapid.SampledFrom([]string{"", "front", "back", "block", "bust_girth", "1e5mm", "ease", "lining", "facing", "make", "front.hem", "front.hem front.side", "e2@0.5"}).Draw(s.t, "text"))
		}
	case reflect.Float64:
		v.SetFloat(rapid.SampledFrom([]float64{0, 1e-6, 0.5, 1, -3, 99_999, v.Float() + 1, -v.Float()}).Draw(s.t, "number"))
	case reflect.Int:
		v.SetInt(int64(rapid.IntRange(-1, 3).Draw(s.t, "whole")))
	case reflect.Bool:
		v.SetBool(!v.Bool())
	}
}

func (s *spoiler) spoilList(v reflect.Value) {
	n := v.Len()
	if n == 0 {
		return
	}
	i := rapid.IntRange(0, n-1).Draw(s.t, "which")
	switch rapid.IntRange(0, 6).Draw(s.t, "list") {
	case 0:
		v.Set(reflect.AppendSlice(v.Slice(0, i), v.Slice(i+1, n)))
	case 1:
		v.Set(reflect.Append(v, v.Index(i)))
	case 2:
		k := rapid.IntRange(0, n-1).Draw(s.t, "other")
		reflect.Swapper(v.Interface())(i, k)
	default:
		s.spoil(v.Index(i))
	}
}

// idsIn gathers all ids in v.
func idsIn(v reflect.Value, list []draft.ID) []draft.ID {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			list = idsIn(v.Elem(), list)
		}
	case reflect.Slice:
		for i := range v.Len() {
			list = idsIn(v.Index(i), list)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			list = idsIn(v.Field(i), list)
		}
	case reflect.String:
		if v.Type() == idType {
			list = append(list, draft.ID(v.String()))
		}
	}
	return list
}

// Whatever a file says of how pieces were generated: what is sound is followed or
// told, and never makes a project unsound or the program stop.
func TestSpoiltDerivationsDoNoHarm(t *testing.T) {
	sound, done := 0, make(map[string]int)
	rapid.Check(t, func(t *rapid.T) {
		q := workshop(t)
		var made []int
		for i, p := range q.Pieces {
			if p.Derived != nil {
				made = append(made, i)
			}
		}
		ids := append(idsIn(reflect.ValueOf(q), nil), "", "x", "r1", "n999")
		for range rapid.IntRange(1, 6).Draw(t, "spoilt") {
			spoilt := frozen(q)
			v := reflect.ValueOf(spoilt.Derivations[rapid.IntRange(0, len(spoilt.Derivations)-1).Draw(t, "derivation")])
			if rapid.IntRange(0, 3).Draw(t, "what") > 0 {
				v = reflect.ValueOf(spoilt.Pieces[rapid.SampledFrom(made).Draw(t, "piece")].Derived)
			}
			(&spoiler{t, ids}).spoil(v)
			if draft.Validate(spoilt) == nil {
				sound++
				q = spoilt
			}
		}
		draft.NewSlots().Check(q)
		id := ""
		for _, d := range q.Derivations {
			if d.Kind == "block" {
				id = string(d.ID)
			}
		}
		for range rapid.IntRange(1, 8).Draw(t, "acts") {
			name := rapid.SampledFrom([]string{"set-measure", "follow-block", "follow-piece", "set-lining", "line-piece", "set-choice", "use-wearer", "redraw-piece", "delete-piece", "add-wearer", "keep-piece", "corner-node", "insert-node", "move-nodes"}).Draw(t, "act")
			act, err := draft.ActNamed(name)
			if err != nil {
				t.Fatal(err)
			}
			texts, ok := map[string]string{"draft": id}, true
			switch name {
			case "follow-block":
			case "set-measure":
				texts = map[string]string{"wearer": "Quill", "name": "bust_girth", "value": rapid.SampledFrom([]string{"260mm", "190mm", "231mm"}).Draw(t, "bust")}
			case "set-choice":
				texts["name"], texts["value"] = "ease", rapid.SampledFrom([]string{"0mm", "20mm"}).Draw(t, "ease")
			default:
				texts, ok = drawArgs(t, q, act)
			}
			if !ok {
				continue
			}
			out, err := act.DoText(q, texts)
			if err != nil {
				continue
			}
			done[name]++
			q = out.Project
			if err := draft.Validate(q); err != nil {
				t.Fatalf("%s %v: %v", name, texts, err)
			}
			draft.NewSlots().Check(q)
		}
	})
	t.Logf("%d sound, done %v", sound, done)
	if (sound == 0 || len(done) == 0) && !testing.Short() {
		t.Error("nothing was spoilt, or nothing done after it")
	}
}
