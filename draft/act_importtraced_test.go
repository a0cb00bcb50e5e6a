package draft_test

import (
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
)

// traced returns the arguments for a card of 100 by 60 mm with a line across it, far from
// the origin.
func traced(line draft.DrawnLine, allowance float64) draft.ImportTracedArgs {
	at := geom.Pt(1000, 500)
	return draft.ImportTracedArgs{
		Outlines: []draft.TracedOutline{{
			Outline: draft.Outline{
				Path:   geom.Polygon(at, at.Add(geom.Pt(100, 0)), at.Add(geom.Pt(100, 60)), at.Add(geom.Pt(0, 60))),
				Corner: []bool{true, true, true, true}, Name: "Cape",
			},
			Lines: []draft.TracedLine{
				{Path: geom.Path{geom.Line(at.Add(geom.Pt(20, 30)), at.Add(geom.Pt(80, 30)))}},
				{Path: geom.Polygon(at.Add(geom.Pt(40, 40)), at.Add(geom.Pt(50, 40)), at.Add(geom.Pt(50, 50))), Kind: draft.CutoutLine},
			},
		}},
		Line: line, Allowance: allowance,
		Name: "Book of 1912", Size: "14 in doll", Measures: []draft.OriginMeasure{{Name: "bust_girth", Value: 180}},
	}
}

func TestImportTraced(t *testing.T) {
	for _, c := range []struct {
		line draft.DrawnLine
		w, h float64 // of the stitching line
		held float64 // allowance that lay inside the drawn line
	}{{draft.StitchDrawn, 100, 60, 0}, {draft.CutDrawn, 88, 48, 6}} {
		out, err := draft.ImportTraced.Do(draft.New("x"), traced(c.line, 6))
		if err != nil {
			t.Fatal(err)
		}
		p := out.Project
		piece, origin := p.Pieces[0], p.Origins[0]
		box := piece.DrawnPath().Transform(piece.Place.Affine()).Bounds()
		if d := box.W() - c.w; d > 1e-6 || d < -1e-6 {
			t.Errorf("%v: %v by %v", c.line, box.W(), box.H())
		}
		if box.Center().Dist(geom.Pt(1050, 530)) > 1e-6 {
			t.Errorf("%v: it does not lie over its ink but round %v", c.line, box.Center())
		}
		if len(piece.Lines) != 2 || piece.Lines[0].Kind != draft.PlacementLine || !piece.Lines[1].Closed || piece.Lines[1].Kind != draft.CutoutLine {
			t.Errorf("%v: lines %+v", c.line, piece.Lines)
		}
		if piece.Origin != origin.ID || origin.Size != "14 in doll" || origin.Line != c.line || origin.Allowance != c.held {
			t.Errorf("%v: origin %+v", c.line, origin)
		}
		if err := draft.Validate(p); err != nil {
			t.Error(err)
		}
		again, err := store.Decode(store.Encode(p))
		if err != nil || again.Origins[0].Measures[0] != origin.Measures[0] {
			t.Errorf("saved and loaded: %v", err)
		}
		// Pasted elsewhere it still knows for whom it was made, and once only.
		for range 2 {
			pasted, err := draft.PastePieces.Do(again, draft.PastePiecesArgs{From: draft.PatternFile{Project: p}})
			if err != nil {
				t.Fatal(err)
			}
			again = pasted.Project
		}
		if len(again.Origins) != 1 || again.Pieces[2].Origin != again.Origins[0].ID {
			t.Errorf("%d origins after pasting twice", len(again.Origins))
		}
		gone, err := draft.DeletePiece.Do(p, draft.DeletePieceArgs{Pieces: []draft.PieceRef{draft.PieceRef(piece.ID)}})
		if err != nil || len(gone.Project.Origins) != 0 {
			t.Errorf("an origin is left from which nothing comes, %v", err)
		}
	}
}

// A notch of a traced outline lies on the edge over which it was drawn: on the drawn line
// itself where that is sewn, square inside it where it is cut.
func TestImportTracedNotches(t *testing.T) {
	for _, c := range []struct {
		line draft.DrawnLine
		want geom.Point
	}{{draft.StitchDrawn, geom.Pt(1030, 500)}, {draft.CutDrawn, geom.Pt(1030, 506)}} {
		a := traced(c.line, 6)
		grain := draft.Grain{From: geom.Pt(1020, 510), To: geom.Pt(1080, 550)}
		a.Outlines[0].Grain = &grain
		a.Outlines[0].Notches = []geom.Point{geom.Pt(1030, 500), geom.Pt(1100, 540)}
		out, err := draft.ImportTraced.Do(draft.New("x"), a)
		if err != nil {
			t.Fatal(err)
		}
		p := out.Project.Pieces[0]
		if err := draft.Validate(out.Project); err != nil || len(p.Notches) != 2 {
			t.Fatalf("%v: %d notches, %v", c.line, len(p.Notches), err)
		}
		if *p.Grain != grain {
			t.Errorf("%v: the grain is %v, not as drawn", c.line, *p.Grain)
		}
		n := p.Notches[0]
		_, i := p.Edge(n.Edge)
		path := p.EdgePath(i)
		if got := p.Place.Affine().Apply(path.At(path.AtLength(n.At))); got.Dist(c.want) > 1e-5 {
			t.Errorf("%v: the notch lies at %v, not %v", c.line, got, c.want)
		}
		if p.Notches[1].Edge == n.Edge {
			t.Errorf("%v: both notches lie on one edge", c.line)
		}
	}
}

func TestImportTracedRefuses(t *testing.T) {
	for name, spoil := range map[string]func(*draft.ImportTracedArgs){
		"nothing": func(a *draft.ImportTracedArgs) { a.Outlines = nil },
		"open": func(a *draft.ImportTracedArgs) {
			a.Outlines[0].Path = a.Outlines[0].Path[:3]
			a.Outlines[0].Corner = a.Outlines[0].Corner[:3]
		},
		"too wide":      func(a *draft.ImportTracedArgs) { a.Line, a.Allowance = draft.CutDrawn, 40 },
		"below 0":       func(a *draft.ImportTracedArgs) { a.Allowance = -1 },
		"measure of 0":  func(a *draft.ImportTracedArgs) { a.Measures[0].Value = 0 },
		"no such name":  func(a *draft.ImportTracedArgs) { a.Measures[0].Name = " " },
		"twice":         func(a *draft.ImportTracedArgs) { a.Measures = append(a.Measures, a.Measures[0]) },
		"two-line name": func(a *draft.ImportTracedArgs) { a.Name = "a\nb" },
		"two-line size": func(a *draft.ImportTracedArgs) { a.Size = "a\nb" },
		"two-line mark": func(a *draft.ImportTracedArgs) { a.Outlines[0].Lines[0].Name = "a\nb" },
		"open cut-out":  func(a *draft.ImportTracedArgs) { a.Outlines[0].Lines[0].Kind = draft.CutoutLine },
	} {
		a := traced(draft.StitchDrawn, 6)
		spoil(&a)
		if _, err := draft.ImportTraced.Do(draft.New("x"), a); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
}

func TestSetOrigin(t *testing.T) {
	p := card(t, [4]float64{0, 0, 40, 20}, [4]float64{100, 0, 40, 20})
	p = acted(t, p, "set-origin", "pieces=*", "name=Envelope", "size=small", "line=cut", "allowance=1/4in", "measures=bust_girth=18cm;Waist girth=170mm").Project
	o := p.Origin(p.Pieces[1].Origin)
	if o == nil || o.Allowance != 6.35 || len(o.Measures) != 2 {
		t.Fatalf("origin %+v", o)
	}
	if v, ok := o.Measure("waist_girth"); !ok || v != 170 {
		t.Errorf("waist %v", v)
	}
	p = acted(t, p, "set-origin", "pieces="+string(p.Pieces[0].ID), "name=Other", "line=stitch").Project
	if len(p.Origins) != 2 {
		t.Errorf("%d origins", len(p.Origins))
	}
	p = acted(t, p, "set-origin", "pieces=*", "name=Third", "line=cut").Project
	if len(p.Origins) != 1 || p.Origins[0].Name != "Third" {
		t.Errorf("origins %+v", p.Origins)
	}
	for _, bad := range []string{"measures=bust_girth", "measures=bust_girth=0mm", "measures=bust_girth=5", "measures=a=1mm;a=2mm", "allowance=-1mm", "line=dotted", "line=", "line=stitch|allowance=6mm"} {
		if _, err := tried(p, "set-origin", append([]string{"pieces=*", "line=cut"}, strings.Split(bad, "|")...)...); err == nil {
			t.Errorf("%s is taken", bad)
		}
	}
}

func TestAddSpan(t *testing.T) {
	p := card(t, [4]float64{0, 0, 40, 20})
	p = acted(t, p, "add-wearer", "name=Quill").Project
	p = acted(t, p, "set-measure", "wearer=Quill", "name=bust_girth", "value=200mm").Project
	edge := "edges=" + p.Pieces[0].Name + "." + p.Pieces[0].Edges[0].Name
	p = acted(t, p, "add-span", "measure=Bust girth", "share=25%", edge).Project
	s := p.Pieces[0].Spans[0]
	if s.Measure != "bust_girth" || s.Share != 0.25 || len(s.Edges) != 1 || s.Name == "" {
		t.Fatalf("span %+v", s)
	}
	st := draft.NewSlots().SpanStates(p)
	if len(st) != 1 || st[0].Wants != 50 || st[0].Length != 40 {
		t.Errorf("states %+v", st)
	}
	for _, bad := range []string{"measure=bust_girth|share=25%|" + edge, "measure=|" + edge, "measure=1st|" + edge, "measure=bust_girth", "measure=bust_girth|share=0|" + edge, "measure=bust_girth|share=-1|" + edge} {
		if _, err := tried(p, "add-span", strings.Split(bad, "|")...); err == nil {
			t.Errorf("%s is taken", bad)
		}
	}
}

// What a pattern was made for stays with its pieces through what is done to them: cut
// apart, sewn into one, traced off, let in, and made anew by what they follow.
func TestOriginStaysWithPieces(t *testing.T) {
	start := func(t *testing.T) *draft.Project {
		out, err := draft.ImportTraced.Do(draft.New("x"), traced(draft.StitchDrawn, 6))
		if err != nil {
			t.Fatal(err)
		}
		return out.Project
	}
	for name, acts := range map[string][][]string{
		"sewn into one": {{"draw-shape", "shape=rectangle", "from=900mm,500mm", "to=960mm,560mm", "name=Strip"}, {"join-pieces", "a=Strip.edge 2", "b=Cape.edge 4"}},
		"split":         {{"split-piece", "from=Cape.edge 1@50%", "to=Cape.edge 3@50%"}},
		"traced off":    {{"trace-copy", "piece=Cape", "linked=no"}},
		"linked":        {{"trace-copy", "piece=Cape", "linked=yes"}},
		"followed":      {{"trace-copy", "piece=Cape", "linked=yes", "name=Twin"}, {"scale-piece", "pieces=Cape", "factor=1.1"}},
		"drawn anew":    {{"trace-copy", "piece=Cape", "linked=yes", "name=Twin"}, {"redraw-piece", "pieces=Twin"}},
		"lined":         {{"line-piece", "piece=Cape"}},
		"turned over":   {{"mirror-piece", "pieces=Cape"}},
		"gusset let in": {{"insert-gusset", "at=Cape.edge 1@50%", "depth=20mm", "width=10mm"}},
	} {
		t.Run(name, func(t *testing.T) {
			p := start(t)
			for _, act := range acts {
				p = acted(t, p, act[0], act[1:]...).Project
			}
			for _, piece := range p.Pieces {
				if len(p.Origins) != 1 || piece.Origin != p.Origins[0].ID {
					t.Errorf("%s comes from %q", piece.Name, piece.Origin)
				}
			}
		})
	}
}
