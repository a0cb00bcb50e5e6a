package tracing_test

import (
	"context"
	"errors"
	"image"
	"math"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/tracetest"
)

const someHash = "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08"

// project returns a project with the pictures in it, 150 dots an inch, beside one another.
func project(t *testing.T, images ...image.Image) *draft.Project {
	t.Helper()
	p := draft.New("x")
	for i, img := range images {
		at := draft.Vector(geom.Pt(400*float64(i), 0))
		out, err := draft.AddPicture.Do(p, draft.AddPictureArgs{At: &at, Opacity: 0.6, File: draft.PictureFile{
			Name: "sheet.png", Hash: someHash, Ext: "png", Wide: img.Bounds().Dx(), High: img.Bounds().Dy(), DPI: 150,
		}})
		if err != nil {
			t.Fatal(err)
		}
		p = out.Project
	}
	return p
}

func source(pic *draft.Picture, img image.Image) tracing.Source {
	return tracing.Source{Picture: pic, Load: func() (image.Image, error) { return img, nil }}
}

// A drawn piece with a line inside goes from its picture to a piece that lies over its ink.
func TestFromPictureToPiece(t *testing.T) {
	outline := geom.Polygon(geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(70, 50), geom.Pt(5, 50))
	grain := geom.Path{geom.Line(geom.Pt(30, 12), geom.Pt(30, 40))}
	pic, err := tracetest.Plain(150, 3).See(tracetest.Drawn(0.6, tracetest.Piece{Name: "Flap", Outline: outline, Inner: []geom.Path{grain}}))
	if err != nil {
		t.Fatal(err)
	}
	p := project(t, pic.Image)
	var last float64
	traced, err := tracing.Run(context.Background(), []tracing.Source{source(p.Pictures[0], pic.Image)}, tracing.Settings{Options: trace.Options{Manner: trace.Drawn}}, func(share float64, says string) {
		if share < last || share > 1 || says == "" {
			t.Errorf("progress goes from %v to %v, %q", last, share, says)
		}
		last = share
	})
	if err != nil {
		t.Fatal(err)
	}
	if last != 1 || len(traced.Outlines) != 1 {
		t.Fatalf("progress ends at %v; %d outlines", last, len(traced.Outlines))
	}
	args := traced.Args(tracing.MadeFor{Line: draft.CutDrawn, Allowance: 5, Size: "14"}, traced.All())
	if args.Outlines[0].Name != "sheet" {
		t.Errorf("the only piece of a picture is called %q", args.Outlines[0].Name)
	}
	out, err := draft.ImportTraced.Do(p, args)
	if err != nil {
		t.Fatal(err)
	}
	piece := out.Project.Pieces[0]
	flat, err := draft.LayFlat(piece)
	if err != nil {
		t.Fatal(err)
	}
	// What was drawn is the cut line; it lies over the ink: the true one brought to the bench.
	m := pic.Back
	place := p.Pictures[0].Place
	for i, at := range []geom.Point{pic.Pieces[0].Outline.At(geom.Place{Seg: 0, T: 0.3}), pic.Pieces[0].Outline.At(geom.Place{Seg: 2, T: 0.7})} {
		if _, d := flat.Cut.Transform(piece.Place.Affine()).Nearest(place.Apply(m.Apply(at))); d > 0.05 {
			t.Errorf("place %d: the cut line lies %.3f mm off the ink", i, d)
		}
	}
	if len(piece.Lines) != 0 || math.Abs(piece.Grain.From.Dist(piece.Grain.To)-28) > 1 || len(piece.Edges) != 4 {
		t.Errorf("%d edges, lines %+v, grain %v", len(piece.Edges), piece.Lines, piece.Grain)
	}
}

// What counts of a picture is what its crop says, and a picture of another size than was
// noted lies where it was noted to lie.
func TestCropAndOtherSizes(t *testing.T) {
	square := func(x float64) tracetest.Piece {
		return tracetest.Piece{Outline: geom.Polygon(geom.Pt(x, 0), geom.Pt(x+30, 0), geom.Pt(x+30, 30), geom.Pt(x, 30))}
	}
	pic, err := tracetest.Plain(150, 4).See(tracetest.Filled(square(0), square(50)))
	if err != nil {
		t.Fatal(err)
	}
	p := project(t, pic.Image)
	w, h := float64(p.Pictures[0].Wide), float64(p.Pictures[0].High)
	find := func(q *draft.Picture) []trace.Outline {
		t.Helper()
		traced, err := tracing.Run(context.Background(), []tracing.Source{source(q, pic.Image)}, tracing.Settings{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return traced.Outlines
	}
	if n := len(find(p.Pictures[0])); n != 2 {
		t.Fatalf("%d outlines", n)
	}
	half := *p.Pictures[0]
	half.Crop = []geom.Point{{}, geom.Pt(w/2, 0), geom.Pt(w/2, h), geom.Pt(0, h)}
	if n := len(find(&half)); n != 1 {
		t.Errorf("%d outlines in half of it", n)
	}
	small := *p.Pictures[0]
	small.Wide, small.High = small.Wide/2, small.High/2
	if side := find(&small)[0].Path.Length() / 4; math.Abs(side-15) > 0.05 {
		t.Errorf("in a picture that was noted at half the size, a square of 30 mm has sides of %.2f", side)
	}
}

// On squared paper a square is found as it is without, once the squares are taken out.
func TestSquaresAreTakenOut(t *testing.T) {
	piece := tracetest.Piece{Outline: geom.Polygon(geom.Pt(3, 4), geom.Pt(63, 4), geom.Pt(63, 64), geom.Pt(3, 64))}
	sheet := tracetest.Drawn(0.6, piece)
	sheet = sheet.Under(sheet.Squared(tracetest.Pencil, 5, 0.25))
	pic, err := tracetest.Plain(300, 5).See(sheet)
	if err != nil {
		t.Fatal(err)
	}
	p := project(t, pic.Image)
	p.Pictures[0].Place = pic.Map // true as the generator knows it
	traced, err := tracing.Run(context.Background(), []tracing.Source{source(p.Pictures[0], pic.Image)}, tracing.Settings{Options: trace.Options{Manner: trace.Drawn}, Squares: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(traced.Outlines) != 1 {
		t.Fatalf("%d outlines", len(traced.Outlines))
	}
	if o := tracetest.Measure(traced.Outlines[0].Path, pic.Pieces[0].Outline); len(traced.Outlines[0].Path) != 4 || o.Largest > 0.25 {
		t.Errorf("%d segments, %.3f mm off", len(traced.Outlines[0].Path), o.Largest)
	}
}

func TestRunRefuses(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 40, 30))
	p := project(t, img)
	gone := errors.New("gone")
	for name, c := range map[string]struct {
		sources []tracing.Source
		set     tracing.Settings
		says    string
	}{
		"none":       {nil, tracing.Settings{}, "no picture"},
		"unreadable": {[]tracing.Source{{Picture: p.Pictures[0], Load: func() (image.Image, error) { return nil, gone }}}, tracing.Settings{}, "gone"},
		"no squares": {[]tracing.Source{source(p.Pictures[0], img)}, tracing.Settings{Squares: true}, "squares"},
		"no pixels":  {[]tracing.Source{source(p.Pictures[0], image.NewGray(image.Rectangle{}))}, tracing.Settings{}, "no pixels"},
	} {
		if _, err := tracing.Run(context.Background(), c.sources, c.set, nil); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := tracing.Run(ctx, []tracing.Source{source(p.Pictures[0], img)}, tracing.Settings{}, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// A cape that runs on from one sheet to another, each photographed on a table: only the
// sheets count, and of both the cape becomes one outline.
func TestJoinedPhotographs(t *testing.T) {
	sheets, truth, shift := tracetest.Cape()
	var sources []tracing.Source
	for i, s := range sheets {
		camera := tracetest.Phone(uint64(31 + i))
		camera.W, camera.H = 2000, 1500
		photo, err := camera.See(s)
		if err != nil {
			t.Fatal(err)
		}
		pic := project(t, photo.Image).Pictures[0]
		pic.Place = photo.Map.Then(geom.Translation(geom.Pt(shift*float64(i), 0)))
		const rim = 1.5 // mm
		for _, c := range []geom.Point{geom.Pt(rim, rim), geom.Pt(s.W-rim, rim), geom.Pt(s.W-rim, s.H-rim), geom.Pt(rim, s.H-rim)} {
			pic.Crop = append(pic.Crop, photo.Back.Apply(c))
		}
		sources = append(sources, source(pic, photo.Image))
	}
	traced, err := tracing.Run(context.Background(), sources, tracing.Settings{Options: trace.Options{Manner: trace.Drawn}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(traced.Outlines) != len(truth) {
		t.Fatalf("%d outlines; %q", len(traced.Outlines), traced.LeftOut())
	}
	for i, o := range traced.Outlines {
		// At 6 pixels a mm, with marks that are known: the bar of joining is 0.2 mm.
		if off := tracetest.Measure(o.Path, truth[i].Outline); off.Largest > 0.2 || len(o.Path) > len(truth[i].Outline)+1 {
			t.Errorf("%s: %.3f mm off, %d segments for %d", truth[i].Name, off.Largest, len(o.Path), len(truth[i].Outline))
		}
	}
}
