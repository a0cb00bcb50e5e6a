package tracetest

import "hemlet/geom"

// SmockScale is how many times as large as on its page the smock is: books print patterns
// reduced, with a line that says how long it truly is.
const SmockScale = 5

// SmockLine is the true length, in mm, of the line on the page that says the scale.
const SmockLine = 200.0

// SmockMeasures are those of the body for which the smock is drawn, in mm, as the page
// states them.
var SmockMeasures = []struct {
	Name string
	MM   float64
}{
	{"stature", 1680}, {"bust_girth", 940}, {"waist_girth", 760}, {"hip_girth", 1000}, {"neck_base_girth", 370},
	{"shoulder_length", 125}, {"back_width", 350}, {"back_waist_length", 410}, {"upper_arm_girth", 290},
	{"wrist_girth", 165}, {"arm_length", 590}, {"head_girth", 560},
}

// Smock returns the stitching lines of a smock for a grown person, at true size, each
// piece with its hem, wrist or lower edge at the height 0: half of the front, the fold at
// its left; half of the back, which opens along its left; the sleeve, whose cap is gathered
// to the armhole and whose wrist is gathered to the cuff; the band to which the neck is
// gathered; and the cuff. All gathers are one and a half to one, within a thousandth of a
// millimetre.
func Smock() []Piece {
	return []Piece{
		{Name: "Front", Outline: geom.Path{
			geom.Cubic(geom.Pt(0, 0), geom.Pt(120, 0), geom.Pt(230, 9.2), geom.Pt(330, 14)),          // hem
			geom.Line(geom.Pt(330, 14), geom.Pt(300, 640)),                                           // side
			geom.Cubic(geom.Pt(300, 640), geom.Pt(262, 638.2), geom.Pt(212, 765), geom.Pt(245, 855)), // armhole
			geom.Line(geom.Pt(245, 855), geom.Pt(122, 900)),                                          // shoulder
			geom.Cubic(geom.Pt(122, 900), geom.Pt(114, 858), geom.Pt(62, 815), geom.Pt(0, 815)),      // neck
			geom.Line(geom.Pt(0, 815), geom.Pt(0, 0)),                                                // fold
		}, Inner: upright(150, 250, 550)},
		{Name: "Back", Outline: geom.Path{
			geom.Cubic(geom.Pt(0, 0), geom.Pt(115, 0), geom.Pt(220, 9.2), geom.Pt(320, 14)),          // hem
			geom.Line(geom.Pt(320, 14), geom.Pt(290, 640)),                                           // side
			geom.Cubic(geom.Pt(290, 640), geom.Pt(255, 638.3), geom.Pt(213, 777), geom.Pt(244, 862)), // armhole
			geom.Line(geom.Pt(244, 862), geom.Pt(121, 907)),                                          // shoulder
			geom.Cubic(geom.Pt(121, 907), geom.Pt(108, 885), geom.Pt(60, 875), geom.Pt(0, 875)),      // neck
			geom.Line(geom.Pt(0, 875), geom.Pt(0, 0)),                                                // centre back
		}, Inner: upright(150, 250, 550)},
		{Name: "Sleeve", Outline: geom.Path{
			geom.Line(geom.Pt(-161.25, 0), geom.Pt(161.25, 0)), // wrist
			geom.Line(geom.Pt(161.25, 0), geom.Pt(260, 390)),   // front seam
			geom.Cubic(geom.Pt(260, 390), geom.Pt(200, 398), geom.Pt(150, 617.702), geom.Pt(0, 617.702)),
			geom.Cubic(geom.Pt(0, 617.702), geom.Pt(-160, 617.702), geom.Pt(-190, 404), geom.Pt(-260, 390)),
			geom.Line(geom.Pt(-260, 390), geom.Pt(-161.25, 0)), // back seam
		}, Inner: upright(0, 80, 320)},
		{Name: "Neck band", Outline: rectangle(385.093, 60)},
		{Name: "Cuff", Outline: rectangle(215, 100)},
	}
}

// upright is a grain line.
func upright(x, from, to float64) []geom.Path {
	return []geom.Path{{geom.Line(geom.Pt(x, from), geom.Pt(x, to))}}
}

func rectangle(w, h float64) geom.Path {
	a, b, c, d := geom.Pt(0, 0), geom.Pt(w, 0), geom.Pt(w, h), geom.Pt(0, h)
	return geom.Path{geom.Line(a, b), geom.Line(b, c), geom.Line(c, d), geom.Line(d, a)}
}

// What lies where on the page, in mm of the page.
var (
	smockPlaces = []geom.Point{{X: 14, Y: 16}, {X: 90, Y: 16}, {X: 224, Y: 62}, {X: 166, Y: 40}, {X: 166, Y: 12}}
	smockName   = []float64{60, 60, 54, 1, 1} // below the middle of its piece: clear of the grain line
	smockRule   = geom.Pt(232, 18)
)

// Size of the page, in mm: A4 across, ISO 216.
const smockPageW, smockPageH = 297.0, 210.0

// SmockPage returns the page of a book on which the smock is drawn with a pen, smaller by
// SmockScale, with the names of its pieces and a line of SmockLine that says the scale. The
// truth comes along in mm of the page; rule is the line, from its left end to its right one.
func SmockPage() (page Sheet, rule [2]geom.Point, err error) {
	page = Sheet{W: smockPageW, H: smockPageH, Paper: White}
	letters := Layer{Tone: Black}
	write := func(at geom.Point, high float64, says string) {
		var shapes []geom.Path
		if shapes, err = Text(at, high, says); err == nil {
			letters.Fills = append(letters.Fills, shapes...)
		}
	}
	for i, p := range Smock() {
		at := smockPlaces[i]
		page = page.Draw(Black, 0.5, p.Transform(geom.Scaling(1./SmockScale, 1./SmockScale).Then(geom.Translation(at))))
		middle := page.Pieces[i].Outline.Bounds().Center()
		write(geom.Pt(middle.X-0.75*float64(len(p.Name)), middle.Y-smockName[i]), 2.5, p.Name)
		if err != nil {
			return page, rule, err
		}
	}
	rule = [2]geom.Point{smockRule, smockRule.Add(geom.Pt(SmockLine/SmockScale, 0))}
	const tick = 2.0 // mm, half the height of the ends of the line
	line := Layer{Tone: Black, Pen: 0.3, Lines: []geom.Path{{geom.Line(rule[0], rule[1])}}}
	for _, end := range rule {
		line.Lines = append(line.Lines, geom.Path{geom.Line(end.Sub(geom.Pt(0, tick)), end.Add(geom.Pt(0, tick)))})
	}
	write(smockRule.Add(geom.Pt(14, 3)), 2.5, "20 cm")
	if err != nil {
		return page, rule, err
	}
	write(geom.Pt(14, 202), 3, "Lamplighter's smock, for a bust of 94 cm")
	return page.Cover(line).Cover(letters), rule, err
}
