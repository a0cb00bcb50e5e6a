package draft_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
)

const someHash = "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08"

func TestPictureFileText(t *testing.T) {
	for _, f := range []draft.PictureFile{
		{Name: "a scan.png", Hash: someHash, Ext: "png", Wide: 1200, High: 800, DPI: 300},
		{Hash: someHash, Ext: "jpg", Wide: 1, High: draft.MaxPixels},
		{Name: "x", Hash: someHash, Ext: "tiff", Wide: 30, High: 20, DPI: 118.11},
	} {
		got, err := draft.ParsePictureFile(f.String())
		if err != nil || got != f {
			t.Errorf("%q is read back as %+v, %v", f, got, err)
		}
	}
	for _, text := range []string{
		"", "scan.png", someHash + ".png", someHash + ".png 12", someHash + ".png 0x7", someHash + ".png 12001x7", someHash + ".png 7x7@-1",
		someHash + ".png 7x7@NaN", someHash + ".../x 7x7", strings.ToUpper(someHash) + ".png 7x7", someHash + ".png 7x7 a\nb",
	} {
		if f, err := draft.ParsePictureFile(text); err == nil {
			t.Errorf("%q is read as %+v", text, f)
		}
	}
}

// 600 pixels at 300 an inch are 2 in, which is 50.8 mm; the picture's first row is its
// top, and its middle lies where it was put.
func TestAddPicture(t *testing.T) {
	p := card(t, [4]float64{100, 50, 40, 20})
	out := acted(t, p, "add-picture", "file="+someHash+".png 600x300@300 scan.png")
	pic := out.Project.Pictures[0]
	if at := pic.Middle(); at.Dist(geom.Pt(120, 60)) > 1e-9 {
		t.Errorf("its middle lies at %v", at)
	}
	c := pic.Corners()
	if w, h := c[0].Dist(c[1]), c[0].Dist(c[3]); math.Abs(w-50.8) > 1e-9 || math.Abs(h-25.4) > 1e-9 || c[0].Y <= c[3].Y {
		t.Errorf("it is %v by %v mm, its top left %v", w, h, c[0])
	}
	out = acted(t, p, "add-picture", "file="+someHash+".png 600x300 scan.png", "width=12cm", "at=1mm,2mm")
	pic = out.Project.Pictures[0]
	if c := pic.Corners(); math.Abs(c[0].Dist(c[1])-120) > 1e-9 || pic.Middle().Dist(geom.Pt(1, 2)) > 1e-9 {
		t.Errorf("corners %v", c)
	}
	for _, bad := range []string{"width=0mm", "width=-1mm", "width=999m", "opacity=0", "opacity=2"} {
		if _, err := tried(p, "add-picture", "file="+someHash+".png 600x300 scan.png", bad); err == nil {
			t.Errorf("%s is taken", bad)
		}
	}
	text := store.Encode(out.Project)
	again, err := store.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(again.Pictures[0], pic) {
		t.Errorf("loaded %+v, saved %+v", *again.Pictures[0], *pic)
	}
}

// Two places that were measured lie as far apart as they truly are after scaling, the
// first where it was; turning keeps every distance and the middle.
func TestScaleAndTurnPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := draft.New("x")
		f := draft.PictureFile{Hash: someHash, Ext: "png", Wide: 1000, High: 700}
		out, err := draft.AddPicture.Do(p, draft.AddPictureArgs{File: f, Opacity: 0.5})
		if err != nil {
			t.Fatal(err)
		}
		name := draft.PictureRef(out.Made)
		by := draft.Angle(rapid.Float64Range(-7, 7).Draw(t, "turn"))
		turned, err := draft.TurnPicture.Do(out.Project, draft.TurnPictureArgs{Pictures: []draft.PictureRef{name}, By: by})
		if err != nil {
			t.Fatal(err)
		}
		a, b := out.Project.Pictures[0], turned.Project.Pictures[0]
		if a.Middle().Dist(b.Middle()) > 1e-9 || math.Abs(a.Scale()-b.Scale()) > 1e-9 {
			t.Fatalf("turned about %v by scale %v", b.Middle(), b.Scale()/a.Scale())
		}
		pixel := func(label string) geom.Point {
			return geom.Pt(rapid.Float64Range(0, 1000).Draw(t, label+" x"), rapid.Float64Range(0, 700).Draw(t, label+" y"))
		}
		u, v := pixel("from"), pixel("to")
		if u.Dist(v) < 20 {
			return
		}
		want := draft.Length(rapid.Float64Range(1, 900).Draw(t, "distance"))
		from, to := draft.Vector(b.Place.Apply(u)), draft.Vector(b.Place.Apply(v))
		scaled, err := draft.ScalePicture.Do(turned.Project, draft.ScalePictureArgs{Picture: name, From: &from, To: &to, Distance: &want})
		if err != nil {
			t.Fatal(err)
		}
		c := scaled.Project.Pictures[0].Place
		if got := c.Apply(u).Dist(c.Apply(v)); math.Abs(got-float64(want)) > 1e-7 {
			t.Fatalf("the places lie %v apart, want %v", got, want)
		}
		if c.Apply(u).Dist(geom.Point(from)) > 1e-7 {
			t.Fatal("the first place has moved")
		}
		if err := draft.Validate(scaled.Project); err != nil {
			t.Fatal(err)
		}
	})
}

func TestLockedPictureStays(t *testing.T) {
	p := acted(t, draft.New("x"), "add-picture", "file="+someHash+".png 60x30 scan").Project
	p = acted(t, p, "set-picture", "pictures=scan", "locked=yes", "opacity=25%").Project
	for _, c := range [][]string{{"place-picture", "by=1mm,0mm"}, {"turn-picture", "by=5"}, {"delete-picture"}} {
		if _, err := tried(p, c[0], append(c[1:], "pictures=scan")...); err == nil || !strings.Contains(err.Error(), "scan is locked") {
			t.Errorf("%s: %v", c[0], err)
		}
	}
	if _, err := tried(p, "scale-picture", "picture=scan", "factor=2"); err == nil {
		t.Error("a locked picture is scaled")
	}
	p = acted(t, p, "set-picture", "pictures=scan", "locked=no", "name=front").Project
	if got := p.Pictures[0]; got.Opacity != 0.25 || got.Name != "front" {
		t.Errorf("%+v", got)
	}
	if p = acted(t, p, "delete-picture", "pictures=front").Project; len(p.Pictures) != 0 {
		t.Error("the picture is there still")
	}
}
