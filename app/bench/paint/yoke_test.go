package paint

import (
	"image"
	"testing"

	"hemlet/geom"
)

// yokeScene is a half front on the fold with its neck edge chosen, and a sleeve
// whose cap is too long: everything that the bench can show. Its figures are
// invented. Places are given with y down and turned over.
func yokeScene() *Scene {
	at := func(x, y float64) geom.Point { return geom.Pt(x/3.1, -y/3.1) }
	curve := func(x0, y0, x1, y1, x2, y2, x3, y3 float64) geom.Segment {
		return geom.Cubic(at(x0, y0), at(x1, y1), at(x2, y2), at(x3, y3))
	}
	straight := func(x0, y0, x1, y1 float64) geom.Segment { return geom.Line(at(x0, y0), at(x1, y1)) }
	cut := geom.Path{
		straight(60, 560, 60, 196), curve(60, 196, 96, 214, 150, 186, 160, 92), straight(160, 92, 318, 132),
		curve(318, 132, 288, 180, 286, 236, 352, 268), straight(352, 268, 352, 560), straight(352, 560, 60, 560),
	}
	neck := curve(60, 214, 110, 226, 164, 196, 178, 118)
	sew := geom.Path{
		straight(60, 540, 60, 214), neck, straight(178, 118, 292, 146),
		curve(292, 146, 270, 190, 268, 250, 334, 288), straight(334, 288, 334, 540), straight(334, 540, 60, 540),
	}
	ink, chalk, node := Of(Ink), Of(Chalk), Of(Node)
	front := &Item{Marks: []Mark{
		Shape{Path: cut, Fill: Of(Cloth), Line: Line{Colour: chalk, Width: 2}},
		Shape{Path: sew, Line: sewLine},
		Bracket{A: at(60, 540), B: at(60, 214), Line: fineLine},
		Arrow{A: at(140, 330), B: at(140, 470), Both: true, Line: fineLine},
		Tick{At: at(334, 400), Dir: geom.Pt(1, 0), Length: 9, Count: 1, Line: Line{Colour: ink, Width: 1.6, Cap: RoundCap}},
		Text{At: at(160, 392), Text: "Front yoke", Size: 17, Weight: SemiBold, Colour: ink},
		Text{At: at(160, 412), Text: "Quill · linen · cut 1 on fold", Size: 12, Colour: Of(Faint)},
		Shape{Path: geom.Path{straight(8, 300, 380, 300)}, Line: Line{Colour: Of(Level), Width: 1.2, Dash: Dash{2, 5}, Cap: RoundCap}},
		Text{At: at(8, 294), Text: "bust", Size: 11, Colour: Of(Level)},
	}}
	hand := &Item{Marks: []Mark{
		Shape{Path: geom.Path{neck}, Line: Line{Colour: chalk, Width: 3.4, Cap: RoundCap}},
		Shape{Path: geom.Path{straight(60, 214, 110, 224)}, Line: Line{Colour: chalk, Width: 1.2}},
		Shape{Path: geom.Path{straight(178, 118, 170, 176)}, Line: Line{Colour: chalk, Width: 1.2}},
		Dot{At: at(292, 146), Colour: ink, Fill: node}, Dot{At: at(334, 288), Colour: ink, Fill: node},
		Dot{At: at(334, 540), Colour: ink, Fill: node}, Dot{At: at(60, 540), Colour: ink, Fill: node},
		Dot{At: at(279, 222), Kind: SmoothNode, Colour: ink, Fill: node},
		Dot{At: at(60, 214), Colour: chalk, Fill: node, Large: true},
		Dot{At: at(178, 118), Colour: chalk, Fill: node, Large: true},
		Dot{At: at(110, 224), Kind: HandleEnd, Colour: chalk}, Dot{At: at(170, 176), Kind: HandleEnd, Colour: chalk},
		Text{At: at(86, 164), Text: "neck 61.4 mm", Size: 12, Weight: SemiBold, Colour: Of(PlateText), Anchor: Middle, Plate: Of(Plate)},
	}}
	cap := geom.Path{curve(44, 204, 104, 190, 116, 78, 190, 78), curve(190, 78, 264, 78, 276, 190, 336, 204)}
	sleeve := &Item{Place: geom.Translation(at(400, 60)), Marks: []Mark{
		Shape{Fill: Of(Cloth), Line: cutLine, Path: geom.Path{
			curve(20, 190, 80, 182, 96, 60, 190, 60), curve(190, 60, 284, 60, 300, 182, 360, 190),
			straight(360, 190, 330, 430), straight(330, 430, 50, 430), straight(50, 430, 20, 190)}},
		Shape{Line: sewLine, Path: geom.Path{straight(336, 204, 312, 410), straight(312, 410, 68, 410), straight(68, 410, 44, 204)}},
		Shape{Line: Line{Colour: Of(Pin), Width: 2.6, Cap: RoundCap}, Path: cap},
		Tick{At: cap[0].At(0.5), Dir: cap[0].Deriv(0.5).Left(), Length: 9, Count: 1, Line: cutLine},
		Tick{At: cap[1].At(0.5), Dir: cap[1].Deriv(0.5).Left(), Length: 9, Count: 2, Line: cutLine},
		Arrow{A: at(190, 200), B: at(190, 350), Both: true, Line: fineLine},
		Text{At: at(191, 40), Text: "cap 128.0 · armhole 121.6 · × 1.05", Size: 12, Weight: SemiBold, Colour: Of(PinText), Anchor: Middle, Plate: Of(PinTint), Rim: Of(Pin)},
		Text{At: at(252, 300), Text: "Sleeve", Size: 17, Weight: SemiBold, Colour: ink, Anchor: Middle},
		Text{At: at(252, 320), Text: "linen · cut 2 · 3⅝ in", Size: 12, Colour: Of(Faint), Anchor: Middle},
		Text{At: at(190, 430), DY: 4, Text: "letters over a line", Size: 11, Colour: ink, Anchor: Middle, Halo: Of(Bench)},
		Badge{At: at(60, 470), Kind: Problem, Colour: Of(Pin), Fill: node},
		Badge{At: at(90, 470), Kind: LookAgain, Colour: Of(Ochre), Fill: Of(Bench)},
		Badge{At: at(120, 470), Kind: Note, Colour: Of(Faint), Fill: Of(Bench)},
		Badge{At: at(150, 470), Kind: Holds, Colour: Of(Moss)},
	}}
	return &Scene{Grid: Metric, Items: []*Item{front, hand, sleeve}}
}

// yokeView shows yokeScene at its own scale.
func yokeView(dpr float64) View {
	return NewView(int(860*dpr), int(640*dpr), dpr).scaleAt(geom.Point{}, 3.1*dpr).Centre(geom.Pt(400/3.1, -320/3.1))
}

// TestLook paints what the bench can show in both sizes and themes, for people to
// look at where PAINT_OUT names a folder, and checks that every colour that was
// asked for arrives.
func TestLook(t *testing.T) {
	for name, pal := range map[string]*Palette{"light": &light, "dark": &dark} {
		v := yokeView(1)
		img := image.NewRGBA(v.bounds())
		newPainter(t).Paint(img, v, pal, yokeScene())
		save(t, "yoke-"+name+".png", img)
		seen := map[uint32]int{}
		for y := range img.Rect.Dy() {
			for x := range img.Rect.Dx() {
				seen[packed(nrgbaAt(img, x, y))]++
			}
		}
		for tok := Bench; tok < own; tok++ {
			switch tok {
			case ChalkTint, MossTint, MossText, OchreTint, OchreText, PinText:
				continue // not in this scene, or in thin letters only
			}
			if seen[packed(pal[tok])] == 0 {
				t.Errorf("%s: no pixel has the colour of token %d", name, tok)
			}
		}
	}
	save(t, "yoke2.png", render(t, yokeView(2), yokeScene()))
	s := hundred()
	save(t, "hundred.png", render(t, NewView(1600, 1000, 1).Fit(extent, 20), s))
	save(t, "hundred-zoom.png", render(t, NewView(1600, 1000, 1).Fit(geom.Rect{Min: geom.Pt(300, 300), Max: geom.Pt(500, 425)}, 0), s))
}
