package scan_test

import (
	"context"
	"fmt"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
	"hemlet/geom/trace/tracetest"
)

// Line drawings and filled shapes are told apart, whatever pen, paper and resolution.
func TestLooksDrawn(t *testing.T) {
	pieces := []tracetest.Piece{
		{Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 40), geom.Pt(0, 40))},
		{Outline: geom.Polygon(geom.Pt(70, 0), geom.Pt(76, 0), geom.Pt(73, 50))}, // a sliver
	}
	frame := []geom.Path{geom.Polygon(geom.Pt(-5, -5), geom.Pt(95, -5), geom.Pt(95, 4), geom.Pt(-5, 4))}
	for _, dpi := range []float64{100, 200} {
		for name, c := range map[string]struct {
			sheet tracetest.Sheet
			dark  bool
			drawn bool
		}{
			"filled":                       {tracetest.Filled(pieces...), false, false},
			"pen of 0.4":                   {tracetest.Drawn(0.4, pieces...), false, true},
			"pen of 0.8":                   {tracetest.Drawn(0.8, pieces...), false, true},
			"pen of 1.2":                   {tracetest.Drawn(1.2, pieces...), false, true},
			"filled on squared paper":      {onSquares(tracetest.Filled(pieces...)), false, false},
			"drawn on squared paper":       {onSquares(tracetest.Drawn(0.6, pieces...)), false, true},
			"drawn, and the lid was open":  {tracetest.Drawn(0.6, pieces...).Cover(tracetest.Layer{Tone: tracetest.Black, Fills: frame}), false, true},
			"nothing":                      {emptySheet(pieces...), false, true},
			"cut out, light on dark":       {negative(pieces...), true, false},
			"drawn with chalk, on a table": {chalk(pieces...), true, true},
		} {
			s := tracetest.Plain(dpi, 3)
			pic, err := s.See(c.sheet)
			if err != nil {
				t.Fatal(err)
			}
			grey, err := scan.Grey(context.Background(), pic.Image, nil)
			if err != nil {
				t.Fatal(err)
			}
			drawn, err := scan.LooksDrawn(context.Background(), grey, dpi/25.4, nil, c.dark)
			if err != nil || drawn != c.drawn {
				t.Errorf("%s at %g: drawn %v, %v", name, dpi, drawn, err)
			}
		}
	}
}

// A pattern that is printed at a fifth of its size looks drawn, though its pen would be
// 2.5 mm wide at true size; a filled one does not.
func TestLooksDrawnReduced(t *testing.T) {
	piece := tracetest.Piece{Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 40), geom.Pt(0, 40))}
	for _, c := range []struct {
		sheet tracetest.Sheet
		drawn bool
	}{{tracetest.Drawn(0.5, piece), true}, {tracetest.Filled(piece), false}} {
		pic, err := tracetest.Plain(300, 3).See(c.sheet)
		if err != nil {
			t.Fatal(err)
		}
		grey, err := scan.Grey(context.Background(), pic.Image, nil)
		if err != nil {
			t.Fatal(err)
		}
		if drawn, err := scan.LooksDrawn(context.Background(), grey, 300/25.4/5, nil, false); err != nil || drawn != c.drawn {
			t.Errorf("drawn %v, wanted %v, %v", drawn, c.drawn, err)
		}
	}
}

func onSquares(s tracetest.Sheet) tracetest.Sheet {
	return s.Under(s.Squared(tracetest.Tone{.8, .8, .8}, 5, 0.25))
}

func emptySheet(pieces ...tracetest.Piece) tracetest.Sheet {
	s, _ := tracetest.Lay(pieces...)
	return s
}

// ground returns a sheet that is dark all over.
func ground(pieces ...tracetest.Piece) (tracetest.Sheet, []tracetest.Piece) {
	s, moved := tracetest.Lay(pieces...)
	all := geom.Polygon(geom.Pt(-50, -50), geom.Pt(s.W+50, -50), geom.Pt(s.W+50, s.H+50), geom.Pt(-50, s.H+50))
	return s.Cover(tracetest.Layer{Tone: tracetest.Tone{.2, .2, .2}, Fills: []geom.Path{all}}), moved
}

func negative(pieces ...tracetest.Piece) tracetest.Sheet {
	s, moved := ground(pieces...)
	return s.Fill(tracetest.White, moved...)
}

func chalk(pieces ...tracetest.Piece) tracetest.Sheet {
	s, moved := ground(pieces...)
	return s.Draw(tracetest.White, 1, moved...)
}

// Only what lies inside the region counts.
func TestLooksDrawnWithin(t *testing.T) {
	filled := tracetest.Piece{Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(40, 40), geom.Pt(0, 40))}
	drawn := tracetest.Piece{Outline: filled.Outline.Transform(geom.Translation(geom.Pt(60, 0)))}
	sheet, moved := tracetest.Lay(filled, drawn)
	sheet = sheet.Fill(tracetest.Black, moved[0]).Draw(tracetest.Black, 0.6, moved[1])
	pic, err := tracetest.Plain(150, 3).See(sheet)
	if err != nil {
		t.Fatal(err)
	}
	grey, err := scan.Grey(context.Background(), pic.Image, nil)
	if err != nil {
		t.Fatal(err)
	}
	w, h := float64(grey.W), float64(grey.H)
	for i, region := range [][]geom.Point{
		{geom.Pt(0, 0), geom.Pt(w/2, 0), geom.Pt(w/2, h), geom.Pt(0, h)}, {geom.Pt(w/2, 0), geom.Pt(w, 0), geom.Pt(w, h), geom.Pt(w/2, h)},
	} {
		got, err := scan.LooksDrawn(context.Background(), grey, 150/25.4, region, false)
		if err != nil || got != (i == 1) {
			t.Error(fmt.Sprint("half ", i, ": drawn ", got, ", ", err))
		}
	}
	if _, err := scan.LooksDrawn(context.Background(), &scan.Raster{}, 1, nil, false); err == nil {
		t.Error("no picture looks like something")
	}
}
