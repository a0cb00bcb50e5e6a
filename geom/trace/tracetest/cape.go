package tracetest

import "hemlet/geom"

// The sheets of the cape lie side by side and overlap, as pages of a large pattern do.
const (
	capeSheetW, capeSheetH = 297.0, 210.0 // mm: A4 across, ISO 216
	capeOverlap            = 20.0         // mm
)

// Cape returns the pattern of a lamplighter's cape and its collar, drawn with a pen on two
// sheets of A4 across that overlap: the cape runs on from one to the other, and both show
// three matching marks. The truth, in mm of the first sheet, comes along; the second sheet
// lies shift to the right of the first.
func Cape() (sheets [2]Sheet, truth []Piece, shift float64) {
	shift = capeSheetW - capeOverlap
	truth = []Piece{capePiece(), collarPiece()}
	marks := []geom.Point{geom.Pt(287, 10), geom.Pt(287, 200), geom.Pt(291, 182)}
	words := writing()
	for i := range sheets {
		move := geom.Translation(geom.Pt(-shift*float64(i), 0))
		s := Sheet{W: capeSheetW, H: capeSheetH, Paper: Cream}
		for _, p := range truth {
			s = s.Draw(Black, 0.6, p.Transform(move))
		}
		var at []geom.Point
		for _, m := range marks {
			at = append(at, move.Apply(m))
		}
		letters := Layer{Tone: Pencil}
		for _, w := range words {
			letters.Fills = append(letters.Fills, w.Transform(move))
		}
		sheets[i] = s.Mark(6, at...).Cover(letters)
	}
	return sheets, truth, shift
}

func capePiece() Piece {
	outline := geom.Path{
		geom.Cubic(geom.Pt(35, 45), geom.Pt(140, 22), geom.Pt(295, 22), geom.Pt(400, 45)),
		geom.Line(geom.Pt(400, 45), geom.Pt(368, 152)),
		geom.Line(geom.Pt(368, 152), geom.Pt(285, 170)),
		geom.Cubic(geom.Pt(285, 170), geom.Pt(270, 118), geom.Pt(165, 118), geom.Pt(150, 170)),
		geom.Line(geom.Pt(150, 170), geom.Pt(67, 152)),
		geom.Line(geom.Pt(67, 152), geom.Pt(35, 45)),
	}
	return Piece{Name: "Cape", Outline: outline, Inner: []geom.Path{
		{geom.Line(geom.Pt(110, 60), geom.Pt(110, 120))}, // the grain
		Tick(outline, 0.5, 5),
	}}
}

func collarPiece() Piece {
	return Piece{Name: "Collar", Outline: geom.Path{
		geom.Cubic(geom.Pt(430, 45), geom.Pt(470, 32), geom.Pt(510, 32), geom.Pt(550, 45)),
		geom.Line(geom.Pt(550, 45), geom.Pt(556, 90)),
		geom.Cubic(geom.Pt(556, 90), geom.Pt(515, 74), geom.Pt(465, 74), geom.Pt(424, 90)),
		geom.Line(geom.Pt(424, 90), geom.Pt(430, 45)),
	}}
}

// writing is what is written on the pattern.
func writing() []geom.Path {
	var all []geom.Path
	for _, w := range []struct {
		at   geom.Point
		says string
	}{{geom.Pt(150, 75), "Cape, cut 1"}, {geom.Pt(470, 52), "Collar, cut 2"}} {
		letters, err := Text(w.at, 5, w.says)
		if err != nil {
			return nil // the letters are built in; the test sees that they are there
		}
		all = append(all, letters...)
	}
	return all
}
