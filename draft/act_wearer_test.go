package draft

import (
	"reflect"
	"testing"

	"hemlet/draft/body"
	"hemlet/draft/figure"
)

// quill returns a project with a wearer of whom a few things are known.
func quill(t *testing.T) *Project {
	p := mustDo(t, New("winter show"), "add-wearer", "name=Quill", "build=wide").Project
	for _, m := range [][2]string{{"Bust girth", "23cm + 1mm"}, {"waist-girth", "9 3/8in"}, {"belly_arc_front", "15cm"}, {"hat", "2*(4cm + 3mm)"}} {
		p = mustDo(t, p, "set-measure", "wearer=Quill", "name="+m[0], "value="+m[1]).Project
	}
	return p
}

func TestMeasuresTakeSumsAndFindTheirLevel(t *testing.T) {
	p := quill(t)
	w := p.Wearers[0]
	want := &Wearer{
		ID: w.ID, Name: "Quill", Build: figure.Wide,
		Measures: []Measure{{Name: "bust_girth", Value: 231}, {Name: "waist_girth", Value: 238.125}, {Name: "hat", Value: 86}},
		Levels:   []Level{{Name: "belly", FrontArc: 150}},
	}
	if !reflect.DeepEqual(w, want) {
		t.Fatalf("got %+v\nwant %+v", w, want)
	}
	p = mustDo(t, p, "set-level", "wearer=Quill", "name=chest strap", "height=12cm", "back=80mm").Project
	given := p.Wearers[0].Given()
	if want := (body.Given{"bust_girth": 231, "waist_girth": 238.125, "hat": 86, "belly_arc_front": 150, "chest_strap_height": 120, "chest_strap_arc_back": 80}); !reflect.DeepEqual(given, want) {
		t.Errorf("given %v, want %v", given, want)
	}
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=chest_strap_arc_front", "value=70mm").Project
	if l := p.Wearers[0].Level("chest_strap"); l == nil || l.FrontArc != 70 {
		t.Errorf("level %+v", l)
	}
	p = mustDo(t, p, "clear-measure", "wearer=Quill", "name=belly_arc_front").Project
	if p.Wearers[0].Level("belly") != nil {
		t.Error("a level of which nothing is known is still there")
	}
}

func TestMeasuresThatAreNone(t *testing.T) {
	p := quill(t)
	for _, c := range [][3]string{
		{"hip_girth", "230", "has no unit"},
		{"hip_girth", "0mm", "more than 0"},
		{"hip_girth", "-3cm", "more than 0"},
		{"hip_girth", "0.0000001mm", "more than 0"},
		{"hip_girth", "101m", "not known"},
		{"hip_girth", "10001cm", "100 m"},
		{"hip_girth", "3mm*2mm", "is no length"},
		{"1st", "3mm", "begins with a letter"},
		{"größe", "3mm", "begins with a letter"},
		{"", "3mm", "empty"},
		{"worn_under", "3mm", "worn under"},
	} {
		mustRefuse(t, p, c[2], "set-measure", "wearer=Quill", "name="+c[0], "value="+c[1])
	}
	mustRefuse(t, p, "no wearer", "set-measure", "wearer=Tansy", "name=hat", "value=3mm")
	mustRefuse(t, p, "has no measure", "clear-measure", "wearer=Quill", "name=ear_height")
	mustRefuse(t, p, "called Quill already", "add-wearer", "name=Quill")
}

func TestScaledAndCopiedWearers(t *testing.T) {
	p := mustDo(t, quill(t), "set-worn", "wearer=Quill", "name=shirt", "thickness=0.4mm").Project
	p = mustDo(t, p, "set-part", "wearer=Quill", "name=head", "girth=18cm", "comes-off=yes").Project
	out := mustDo(t, p, "copy-wearer", "wearer=Quill")
	out = mustDo(t, out.Project, "scale-wearer", "wearer="+string(out.Made), "ratio=1/6")
	first, second := out.Project.Wearers[0], out.Project.Wearers[1]
	if !reflect.DeepEqual(first, p.Wearers[0]) || second.Name != "Quill 2" {
		t.Errorf("the first became %+v, the second is %s", first, second.Name)
	}
	if second.Measures[0].Value != 38.5 || second.Levels[0].FrontArc != 25 || second.Parts[0].Girth != 30 || second.Under[0].Thickness != 0.4 {
		t.Errorf("scaled to %+v", second)
	}
	mustRefuse(t, out.Project, "between 1/1000 and 1000", "scale-wearer", "wearer=Quill", "ratio=0")
	mustRefuse(t, out.Project, "above 0", "scale-wearer", "wearer=Quill", "ratio=1000")
}

// A wearer that is made small and large again has the figures that it had.
func TestScaledThereAndBack(t *testing.T) {
	for _, ratio := range []float64{1. / 12, 1. / 6, 0.3, 1. / 7, 1. / 100, 1. / 999, 2.54} {
		p := vestFor(t, "231mm", "237.97mm", "84.5mm")
		var err error
		q := p
		for _, r := range []float64{ratio, 1 / ratio} {
			var out Outcome
			if out, err = ScaleWearer.Do(q, ScaleWearerArgs{WearerRef(q.Wearers[0].ID), r}); err != nil {
				t.Fatal(err)
			}
			q = out.Project
		}
		if !reflect.DeepEqual(p.Wearers[0], q.Wearers[0]) {
			t.Errorf("by %g and back: %+v", ratio, q.Wearers[0].Measures)
		}
	}
}

func TestRemovedWearerFreesItsPieces(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	out := mustDo(t, p, "remove-wearer", "wearer=Quill")
	if len(out.Project.Wearers) != 0 || len(out.Project.Derivations) != 0 || len(out.Project.Pieces) != 2 || out.Project.Pieces[0].Derived != nil {
		t.Errorf("left are %+v", out.Project)
	}
	if len(out.Says) != 2 {
		t.Errorf("says %q", out.Says)
	}
	if err := Validate(out.Project); err != nil {
		t.Error(err)
	}
}
