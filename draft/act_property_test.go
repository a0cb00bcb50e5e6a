package draft_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/drafttest"
	"hemlet/geom"
)

// deepCopy returns a copy that shares no memory with v.
func deepCopy(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(deepCopy(v.Elem()))
		}
	case reflect.Slice:
		if !v.IsNil() {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
			for i := range v.Len() {
				out.Index(i).Set(deepCopy(v.Index(i)))
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			out.Field(i).Set(deepCopy(v.Field(i)))
		}
	default:
		out.Set(v)
	}
	return out
}

func frozen(p *draft.Project) *draft.Project {
	return deepCopy(reflect.ValueOf(p)).Interface().(*draft.Project)
}

// workshop is a project that is also a pattern: on it most acts can be done. It is
// made once, as nothing changes it.
func workshop(t *rapid.T) *draft.Project {
	p, err := theWorkshop()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

var theWorkshop = sync.OnceValues(func() (*draft.Project, error) {
	outline := func(name string, x float64) draft.Outline {
		path := geom.Path{
			geom.Line(geom.Pt(x, 0), geom.Pt(x+60, 0)),
			geom.Line(geom.Pt(x+60, 0), geom.Pt(x+64, 50)),
			geom.Cubic(geom.Pt(x+64, 50), geom.Pt(x+48, 52), geom.Pt(x+46, 66), geom.Pt(x+48, 80)),
			geom.Cubic(geom.Pt(x+48, 80), geom.Pt(x+50, 86), geom.Pt(x+50, 90), geom.Pt(x+46, 95)),
			geom.Line(geom.Pt(x+46, 95), geom.Pt(x+24, 102)),
			geom.Cubic(geom.Pt(x+24, 102), geom.Pt(x+20, 88), geom.Pt(x+10, 84), geom.Pt(x, 84)),
			geom.Line(geom.Pt(x, 84), geom.Pt(x, 0)),
		}
		return draft.Outline{
			Path: path, Corner: []bool{true, true, true, false, true, true, true}, Name: name,
			EdgeNames: []string{"hem", "side", "armhole", "shoulder", "neck", "middle"},
		}
	}
	out, err := draft.ImportOutlines.Do(draft.New("workshop"), draft.ImportOutlinesArgs{
		Outlines: []draft.Outline{outline("Front", 0), outline("Back", 100), outline("Lining", 200)}, Allowance: 6,
	})
	if err != nil {
		return nil, err
	}
	p := out.Project
	for _, step := range []struct{ act, args string }{
		{"set-kind", "edges=Front.middle|kind=fold"},
		{"set-cut", "pieces=Back|way=pairs"},
		{"link-seam", "a=Front.side|b=Back.side/left"},
		{"link-seam", "a=Back.middle|b=Back.middle/left"},
		{"link-seam", "a=Front.shoulder + Front.armhole|b=Back.shoulder/left + Back.armhole/left|ratio=1.02|name=yoke"},
		{"link-seam", "a=Lining.hem/reversed|b=Front.hem|name=bag"},
		{"add-notch", "edge=Back.armhole|at=40%"},
		{"add-dart", "edge=Lining.hem|at=30%|intake=8mm"},
		{"add-dart", "edge=Lining.hem|at=70%|intake=6mm"},
		{"add-notch", "edge=Front.armhole|at=20mm from end"},
		{"draw-shape", "shape=rectangle|from=400mm,0mm|to=440mm,60mm|name=Pocket"},
		{"add-cloth", "name=felt"},
		{"add-picture", "file=" + strings.Repeat("0a", 32) + ".png 1200x800@300 scan.png"},
		{"add-picture", "file=" + strings.Repeat("0b", 32) + ".png 900x700@300 second.png"},
		{"join-pictures", "picture=second.png|to=scan.png|marks=0,0=800,10;0,600=800,610"},
		{"set-origin", "pieces=Pocket|line=cut|name=Envelope|size=14|measures=bust_girth=180mm"},
		{"add-wearer", "name=Quill|build=wide"},
		{"set-measure", "wearer=Quill|name=bust_girth|value=231mm"},
		{"set-level", "wearer=Quill|name=belly|front=15cm"},
		{"set-part", "wearer=Quill|name=head|girth=180mm|comes-off=no"},
		{"set-worn", "wearer=Quill|name=shirt|thickness=0.4mm"},
		{"set-measure", "wearer=Quill|name=waist_girth|value=200mm"},
		{"set-measure", "wearer=Quill|name=back_waist_length|value=84mm"},
		{"notch-seam", "seam=yoke|even=2"},
		{"notch-seam", "seam=side"},
		{"line-piece", "piece=Back|sew=no"},
		{"trace-copy", "piece=Back lining|name=toile"},
		{"keep-version", "name=first toile"},
		{"add-toile-note", "edge=Back.shoulder|amount=2mm"},
		{"add-toile-note", "edge=Front.hem|kind=let out|amount=3mm|reach=whole|words=too short"},
	} {
		texts := make(map[string]string)
		for _, a := range strings.Split(step.args, "|") {
			k, v, _ := strings.Cut(a, "=")
			texts[k] = v
		}
		act, err := draft.ActNamed(step.act)
		if err != nil {
			return nil, err
		}
		if out, err = act.DoText(p, texts); err != nil {
			return nil, err
		}
		p = out.Project
	}
	out, err = draft.DraftBlock.Do(p, draft.DraftBlockArgs{Block: "vest.toml", Wearer: draft.WearerRef(p.Wearers[0].ID), Text: draft.Vest, Set: draft.Choices{{Name: "ease", Value: "8mm"}, {Name: "depth", Value: "0.3"}}})
	if err != nil {
		return nil, err
	}
	return older(out.Project), nil
})

// startOn draws a project to begin with: the workshop, or the costume of a built-in block.
func startOn(t *rapid.T) *draft.Project {
	if rapid.IntRange(0, 2).Draw(t, "costume") > 0 {
		return workshop(t)
	}
	p, err := theCostume()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// theCostume is a bodice with its sleeve, as they are drafted: pieces with names of a
// block for ids, cut on the fold and in pairs, measured along edges and lines.
var theCostume = sync.OnceValues(func() (*draft.Project, error) {
	p, err := theWorkshop()
	if err != nil {
		return nil, err
	}
	q := draft.New("costume")
	q.Wearers, q.NextID = p.Wearers, p.NextID
	out, err := draft.DraftBlock.Do(q, draft.DraftBlockArgs{Block: "bodice", Wearer: draft.WearerRef(q.Wearers[0].ID)})
	return out.Project, err
})

// older returns the project as it is when the block was drafted by an older version of
// the program, which gave other figures: here, for a waist that was another then.
func older(p *draft.Project) *draft.Project {
	w := *p.Wearers[0]
	w.Measures = slices.Clone(w.Measures)
	for i := range w.Measures {
		if w.Measures[i].Name == "waist_girth" {
			w.Measures[i].Value += 1
		}
	}
	q := *p
	q.Wearers = slices.Clone(p.Wearers)
	q.Wearers[0] = &w
	return &q
}

// anyOf draws one of a list, each as likely as any other. rapid's own choice prefers the
// first ones by far, and of a hundred acts would hardly try the last.
func anyOf[T any](t *rapid.T, list []T, label string) T {
	return rapid.Custom(func(t *rapid.T) T {
		const bits = 14
		n := 0
		for range bits {
			n *= 2
			if rapid.Bool().Draw(t, "bit") {
				n++
			}
		}
		return list[n*len(list)>>bits]
	}).Draw(t, label)
}

// drawText draws a value for an argument, mostly one that makes sense.
func drawText(t *rapid.T, p *draft.Project, param draft.Param) (string, bool) {
	one := func() (string, bool) { return drawOne(t, p, param) }
	if !param.Many {
		return one()
	}
	var items []string
	for range rapid.IntRange(1, 3).Draw(t, "how many") {
		item, ok := one()
		if !ok {
			return "", false
		}
		items = append(items, item)
	}
	return strings.Join(items, ";"), true
}

func drawOne(t *rapid.T, p *draft.Project, param draft.Param) (string, bool) {
	from := func(list []string) (string, bool) {
		if len(list) == 0 {
			return "", false
		}
		return anyOf(t, list, param.Name), true
	}
	mm := func(label string) string { return fmt.Sprintf("%.3fmm", rapid.Float64Range(-30, 30).Draw(t, label)) }
	var pieces, edges, points, corners, handles, notches, darts, seams, seamMarks, cloths, wearers, drafts, settings, lines []string
	var stretches, marks, spans, fits []string
	for _, piece := range p.Pieces {
		id := `"` + string(piece.ID) + `"`
		pieces = append(pieces, id)
		for _, e := range piece.Edges {
			edges = append(edges, id+`."`+string(e.ID)+`"`)
			for k, n := range e.Nodes {
				at := id + `."` + string(n.ID) + `"`
				points = append(points, at)
				handles = append(handles, at+"/in", at+"/out")
				if k == 0 {
					corners = append(corners, at)
				}
			}
		}
		for _, l := range piece.Lines {
			lines = append(lines, id+`."`+string(l.ID)+`"`)
			for _, n := range l.Nodes {
				at := id + `."` + string(n.ID) + `"`
				points = append(points, at)
				handles = append(handles, at+"/in", at+"/out")
			}
		}
		for _, n := range piece.Notches {
			notches = append(notches, id+`."`+string(n.ID)+`"`)
		}
		for _, d := range piece.Darts {
			darts = append(darts, id+`."`+string(d.ID)+`"`)
		}
		for _, s := range piece.Stretches {
			stretches = append(stretches, id+`."`+string(s.ID)+`"`)
		}
		for _, l := range piece.Lines {
			marks = append(marks, id+`."`+string(l.ID)+`"`)
		}
		for _, s := range piece.Spans {
			marks = append(marks, id+`."`+string(s.ID)+`"`)
			spans = append(spans, id+`."`+string(s.ID)+`"`)
		}
	}
	for _, s := range p.Seams {
		seams = append(seams, string(s.ID))
		for _, m := range s.Marks {
			seamMarks = append(seamMarks, string(m.ID))
		}
	}
	for _, d := range p.Derivations {
		drafts = append(drafts, string(d.ID))
		if d.Kind == "fit" {
			fits = append(fits, string(d.ID))
		}
		for _, s := range d.Settings {
			settings = append(settings, s.Name, s.Name, s.Name, s.Name)
		}
	}
	names := append(settings, "ease", "depth", "allowance", "hem", "side", "gore 2", "Quill's cape", "", "piece/x")
	// What a name may mean, by what is said of it: most are of something that is there.
	known := make(map[string][]string)
	for _, w := range p.Wearers {
		wearers = append(wearers, string(w.ID))
		for _, m := range w.Measures {
			known["the name of the measure"] = append(known["the name of the measure"], m.Name)
			names = append(names, m.Name)
		}
		for _, l := range w.Levels {
			known["the level"] = append(known["the level"], l.Name)
			names = append(names, l.Name)
		}
		for _, b := range w.Parts {
			known["the part"] = append(known["the part"], b.Name)
			names = append(names, b.Name)
		}
		for _, u := range w.Under {
			known["what is worn under the garment"] = append(known["what is worn under the garment"], u.Name)
			names = append(names, u.Name)
		}
	}
	for _, c := range p.Cloths {
		cloths = append(cloths, string(c.ID))
	}
	if len(param.Allowed) > 0 {
		return from(param.Allowed)
	}
	switch kind := param.Kind; {
	case kind == "piece":
		return from(pieces)
	case kind == "edge":
		return from(edges)
	case kind == "point":
		return from(points)
	case kind == "corner":
		return from(corners)
	case kind == "point with /in or /out":
		return from(handles)
	case kind == "notch":
		return from(notches)
	case kind == "stretch":
		return from(stretches)
	case kind == "mark":
		return from(slices.Concat(notches, stretches, marks))
	case kind == "seam":
		return from(seams)
	case kind == "mark of a seam":
		return from(seamMarks)
	case kind == "line":
		return from(lines)
	case kind == "drawn line":
		return drawnText(t, p), true
	case kind == "dart":
		return from(darts)
	case kind == "cloth":
		return from(cloths)
	case kind == "note of the toile":
		var notes []string
		for _, n := range p.Notes {
			notes = append(notes, string(n.ID))
		}
		return from(notes)
	case kind == "version":
		var versions []string
		for _, v := range p.Versions {
			versions = append(versions, string(v.ID))
		}
		return from(versions)
	case kind == "measured stretch":
		return from(spans)
	case kind == "fitted pattern":
		return from(fits)
	case kind == "drafted block":
		return from(drafts)
	case param.Name == "block":
		return rapid.SampledFrom(block.Builtin()).Draw(t, param.Name).Name, true
	case param.Name == "set" || param.Name == "value" && kind == "text":
		value := rapid.SampledFrom([]string{"10mm", "1/2in", "0.25", "3", "-5mm", "x"}).Draw(t, param.Name)
		if param.Name == "set" {
			value = rapid.SampledFrom([]string{"ease", "depth", "allowance"}).Draw(t, "choice") + "=" + value
		}
		return value, true
	case kind == "wearer":
		return from(wearers)
	case kind == "picture":
		var pictures []string
		for _, pic := range p.Pictures {
			pictures = append(pictures, string(pic.ID))
		}
		return from(pictures)
	case kind == "what goes through":
		return rapid.SampledFrom([]string{"", "nothing", "head_girth", "hand_girth", "head"}).Draw(t, param.Name), true
	case kind == "known length":
		return fmt.Sprintf("0,0:%d,40=%.2fmm", rapid.IntRange(0, 900).Draw(t, "px"), rapid.Float64Range(0, 90).Draw(t, "known")), true
	case kind == "known rectangle":
		return fmt.Sprintf("10,10:900,%d:880,700:20,690=%.2fmmx70mm", rapid.IntRange(0, 300).Draw(t, "px"), rapid.Float64Range(0, 90).Draw(t, "known")), true
	case kind == "eight numbers":
		return fmt.Sprintf("%g 0 0 -0.1 0 0 %g 0", rapid.Float64Range(0, 0.2).Draw(t, "scale"), rapid.Float64Range(-1e-3, 1e-3).Draw(t, "lean")), true
	case kind == "place in a picture":
		return fmt.Sprintf("0,0;%d,10;40,90", rapid.IntRange(-10, 900).Draw(t, "px")), true
	case kind == "mark in two pictures":
		return fmt.Sprintf("0,0=%d,10;300,20=400,%d", rapid.IntRange(0, 900).Draw(t, "px"), rapid.IntRange(0, 900).Draw(t, "py")), true
	case kind == "what goes through":
		return rapid.SampledFrom([]string{"", "nothing", "head_girth", "hip_girth"}).Draw(t, "goes through"), true
	case kind == "measure":
		return "bust_girth", true
	case kind == "measure=length":
		return "bust_girth=180mm", true
	case strings.HasPrefix(kind, "what is worn=length"):
		return rapid.SampledFrom([]string{"3mm", "shirt=0.5mm"}).Draw(t, param.Name), true
	case kind == "picture file":
		return strings.Repeat("0a", 32) + ".png 1200x800@300 scan.png", true
	case kind == "project file":
		return drawPattern(t, p)
	case kind == "length":
		return fmt.Sprintf("%.3fmm", rapid.Float64Range(0, 20).Draw(t, param.Name)), true
	case kind == "two lengths, across and up":
		return mm("across") + "," + mm("up"), true
	case kind == "angle in degrees":
		return fmt.Sprint(rapid.IntRange(-360, 360).Draw(t, param.Name)), true
	case kind == "number":
		return fmt.Sprint(rapid.SampledFrom([]float64{0, 0.25, 0.5, 1, 1.03, 1.5, 2}).Draw(t, param.Name)), true
	case kind == "whole number":
		return fmt.Sprint(rapid.IntRange(0, 3).Draw(t, param.Name)), true
	case param.Name == "finding" && len(p.Waivers) > 0 && rapid.IntRange(0, 3).Draw(t, "waived") > 0:
		return p.Waivers[0].Finding, true
	case param.Name == "finding":
		return from(findingKeys(p))
	case kind == "text":
		if list := known[param.Says]; len(list) > 0 && rapid.IntRange(0, 3).Draw(t, "known") > 0 {
			return from(list)
		}
		return from(names)
	case kind == "place on an edge":
		edge, ok := from(edges)
		return fmt.Sprintf("%s@%d%%", edge, rapid.IntRange(0, 100).Draw(t, "share")), ok
	case strings.HasPrefix(kind, "length or percentage"):
		place := fmt.Sprintf("%d%%", rapid.IntRange(0, 100).Draw(t, param.Name))
		return place + rapid.SampledFrom([]string{"", " from end"}).Draw(t, "from"), true
	case strings.HasPrefix(kind, "edges in the order"):
		edge, ok := from(edges)
		return edge + rapid.SampledFrom([]string{"", "", "/left", "/far", "/reversed"}).Draw(t, "use"), ok
	}
	t.Fatalf("no value can be drawn for a %q", param.Kind)
	return "", false
}

// drawnText draws a line on the bench, mostly one that lies on a piece.
func drawnText(t *rapid.T, p *draft.Project) string {
	at := geom.Point{}
	if len(p.Pieces) > 0 {
		piece := anyOf(t, p.Pieces, "piece under")
		if c, ok := piece.DrawnPath().Centroid(); ok {
			at = piece.Place.Affine().Apply(c)
		}
	}
	point := func() geom.Point {
		return at.Add(geom.Pt(rapid.Float64Range(-20, 20).Draw(t, "across"), rapid.Float64Range(-20, 20).Draw(t, "up")))
	}
	if rapid.Bool().Draw(t, "closed") {
		var corners []geom.Point
		n := rapid.IntRange(3, 6).Draw(t, "corners")
		for i := range n {
			far := geom.Pt(rapid.Float64Range(5, 25).Draw(t, "far"), 0)
			corners = append(corners, geom.Rotation(2*math.Pi*float64(i)/float64(n), at).Apply(at.Add(far)))
		}
		return draft.FormatDrawn(geom.Polygon(corners...))
	}
	var path geom.Path
	pen := point()
	for range rapid.IntRange(1, 4).Draw(t, "stretches") {
		to := point()
		if rapid.Bool().Draw(t, "curve") {
			path = append(path, geom.Cubic(pen, point(), point(), to))
		} else {
			path = append(path, geom.Line(pen, to))
		}
		pen = to
	}
	return draft.FormatDrawn(path)
}

// findingKeys returns the keys that can be waived, and one that cannot.
func findingKeys(p *draft.Project) []string {
	keys := []string{"piece/none/cloth"}
	for _, f := range draft.NewSlots().Check(p).Findings {
		keys = append(keys, f.Key)
	}
	return keys
}

func drawArgs(t *rapid.T, p *draft.Project, act draft.Named) (map[string]string, bool) {
	texts := make(map[string]string)
	home := athome(t, p)
	for _, param := range act.Params() {
		_, isSecond := texts["from"]
		isSecond = isSecond && param.Name == "to" && param.Kind == "place on an edge"
		if !param.Needed && !isSecond && rapid.IntRange(0, 2).Draw(t, "leave out") > 0 {
			continue
		}
		text, ok := drawText(t, home(param), param)
		if !ok {
			if param.Needed {
				return nil, false
			}
			continue
		}
		texts[param.Name] = text
	}
	return texts, true
}

// athome returns where an argument is drawn from: what lies on a piece mostly from one
// piece for all arguments of an act, as few acts can be done across pieces.
func athome(t *rapid.T, p *draft.Project) func(draft.Param) *draft.Project {
	q := *p
	if len(p.Pieces) > 0 && rapid.IntRange(0, 4).Draw(t, "at home") > 0 {
		q.Pieces = []*draft.Piece{anyOf(t, p.Pieces, "home")}
	}
	return func(param draft.Param) *draft.Project {
		switch param.Kind {
		case "edge", "point", "corner", "notch", "stretch", "mark", "line", "dart", "place on an edge", "drawn line":
			return &q
		}
		return p
	}
}

func actNames() []string {
	var list []string
	for _, act := range draft.Acts() {
		list = append(list, act.Info().Name)
		switch name := act.Info().Name; {
		case act.Info().Group == "Points" || act.Info().Group == "Drawing" || act.Info().Group == "Seams":
			list = append(list, name, name) // where most can go wrong
		case strings.HasPrefix(name, "insert-g") || strings.HasPrefix(name, "grow-"):
			list = append(list, name, name, name) // done on few edges
		case name == "waive" || name == "unwaive" || name == "set-lining" || name == "set-link":
			list = append(list, name) // one is done only after the other
		case strings.HasPrefix(name, "scale-"):
			list = append(list, name, name, name) // few of the ways to say how large go together
		case strings.HasPrefix(name, "remove-") || strings.HasPrefix(name, "clear-"):
			list = append(list, name) // done only where something of the name is there
		}
	}
	return list
}

// laysFlat are the acts that need cut lines. They are left out on odd projects, where
// an allowance of 60 m about an edge of a micrometre takes many seconds.
var laysFlat = map[string]bool{
	"trace-copy": true, "line-piece": true, "stiffener": true, "face-edge": true,
	"waive": true, "unwaive": true, "duplicate-piece": true, "paste-pieces": true, "align-pieces": true, "distribute-pieces": true, "make-ruffle": true,
}

const (
	// mostSeen is how many projects are kept for acts that were never done. Without a
	// bound, making a failure smaller, which tries many thousand more acts, keeps them all.
	mostSeen = 200
	// moreTries is how often such an act is tried in each check.
	moreTries = 30
)

// After any acts every earlier project is as it was, every project is sound, and
// undo leads back to the very same projects.
func TestActsNeverTouchEarlierProjects(t *testing.T) {
	done, refused, names := make(map[string]int), make(map[string]int), actNames()
	var seen []*draft.Project
	most := 220
	if testing.Short() {
		most = 60
	}
	rapid.Check(t, func(t *rapid.T) {
		odd := rapid.IntRange(0, 3).Draw(t, "odd project") == 0
		p := startOn(t)
		if odd {
			p = drafttest.Project(t)
		}
		history := draft.NewHistory(p, "open")
		projects, copies := []*draft.Project{p}, []*draft.Project{frozen(p)}
		for range rapid.IntRange(40, most).Draw(t, "acts") {
			act, err := draft.ActNamed(anyOf(t, names, "act"))
			if err != nil {
				t.Fatal(err)
			}
			name := act.Info().Name
			if odd && laysFlat[name] {
				continue
			}
			texts, ok := drawArgs(t, p, act)
			if !ok {
				continue
			}
			out, err := act.DoText(p, texts)
			if err != nil {
				refused[name]++
				if out.Project != nil {
					t.Fatalf("%s %v: refused (%v) and yet made a project", name, texts, err)
				}
				if !strings.HasPrefix(err.Error(), strings.ToLower(act.Info().Title)+": ") {
					t.Fatalf("%s: error %q does not read well", name, err)
				}
				continue
			}
			done[name]++
			if err := draft.Validate(out.Project); err != nil {
				t.Fatalf("%s %v made an unsound project: %v", name, texts, err)
			}
			// Odd projects may sew from the start what is not cut.
			if err := draft.UsesExist(out.Project); err != nil && !odd {
				t.Fatalf("%s %v: %v", name, texts, err)
			}
			if !strings.HasPrefix(out.Step, act.Info().Title) {
				t.Fatalf("%s: step %q", name, out.Step)
			}
			checkLineage(t, p, out)
			p = out.Project
			history = history.Do(out.Step, p, "")
			projects, copies = append(projects, p), append(copies, frozen(p))
		}
		if !odd && len(seen) < mostSeen {
			seen = append(seen, projects[len(projects)/2], p)
		}
		for i := range projects {
			if !reflect.DeepEqual(projects[i], copies[i]) {
				t.Fatalf("project %d was changed by a later act", i)
			}
		}
		for i := len(projects) - 1; i >= 0; i-- {
			if history.Project() != projects[i] {
				t.Fatalf("undo leads to another project than the one before step %d", i+1)
			}
			history = history.Undo()
		}
	})
	t.Logf("done %v, refused %v", done, refused)
	if testing.Short() {
		return // too few for each act to come up
	}
	// A fit asks for more at once than random acts come to: a pattern, whom it was made for,
	// a wearer.
	fitted := fittedBodice(t)
	for range len(seen)/3 + 1 {
		seen = append(seen, fitted)
	}
	var never []string
	for _, act := range draft.Acts() {
		// There are many acts by now: one that was never done has more tries to itself,
		// on what the others have made.
		if name := act.Info().Name; done[name] == 0 {
			rapid.Check(t, func(t *rapid.T) {
				for range moreTries {
					p := anyOf(t, seen, "project")
					texts, ok := drawArgs(t, p, act)
					if !ok || done[name] > 0 {
						continue
					}
					if out, err := act.DoText(p, texts); err == nil {
						done[name]++
						if err := draft.Validate(out.Project); err != nil {
							t.Fatalf("%s %v made an unsound project: %v", name, texts, err)
						}
					}
				}
			})
		}
		if name := act.Info().Name; done[name] == 0 {
			if _, ok := doDirected(t, name); ok {
				continue
			}
			never = append(never, fmt.Sprintf("%s was never done, only refused %d times", name, refused[name]))
		}
	}
	for _, says := range never {
		t.Error(says)
	}
}

// checkLineage: every edge of before is still there or named by the lineage, and
// heirs cover the old edge without gaps, except where all of it is gone.
func checkLineage(t *rapid.T, before *draft.Project, out draft.Outcome) {
	edges := func(p *draft.Project) map[draft.ID]bool {
		set := make(map[draft.ID]bool)
		for _, piece := range p.Pieces {
			for _, e := range piece.Edges {
				set[e.ID] = true
			}
		}
		return set
	}
	now := edges(out.Project)
	for id := range edges(before) {
		heirs, moved := out.Lineage[id]
		if !moved && !now[id] {
			t.Fatalf("edge %s is gone and the lineage does not say where", id)
		}
		at := 0.0
		for _, h := range heirs {
			if !now[h.Edge] {
				t.Fatalf("edge %s lives on in %s, which is not there", id, h.Edge)
			}
			if h.Old0-at > 1e-6 || at-h.Old0 > 1e-6 || h.Old1 < h.Old0 {
				t.Fatalf("heirs of %s leave a gap or overlap: %v", id, heirs)
			}
			at = h.Old1
		}
		if len(heirs) > 0 && (at < 1-1e-6 || at > 1+1e-6) {
			t.Fatalf("heirs of %s end at %g", id, at)
		}
	}
}
