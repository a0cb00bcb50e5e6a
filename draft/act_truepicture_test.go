package draft_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
)

// scanned returns a project with two pictures, 600 by 300 pixels.
func scanned(t *testing.T) *draft.Project {
	t.Helper()
	p := acted(t, draft.New("x"), "add-picture", "file="+someHash+".png 600x300@300 one.png", "at=10mm,20mm").Project
	return acted(t, p, "add-picture", "file="+strings.Repeat("0b", 32)+".png 600x300@300 two.png", "at=300mm,0mm").Project
}

func TestTrueByLength(t *testing.T) {
	p := scanned(t)
	p = acted(t, p, "turn-picture", "pictures=one.png", "by=30").Project
	out := acted(t, p, "true-picture", "picture=one.png", "lengths=100,100:400,100=120mm")
	pic := out.Project.Pictures[0]
	if d := pic.Place.Apply(geom.Pt(100, 100)).Dist(pic.Place.Apply(geom.Pt(400, 100))); math.Abs(d-120) > 1e-9 {
		t.Errorf("the known length comes out as %v", d)
	}
	if pic.Middle().Dist(p.Pictures[0].Middle()) > 1e-9 {
		t.Errorf("its middle went from %v to %v", p.Pictures[0].Middle(), pic.Middle())
	}
	near := pic.Near()
	if turn := math.Atan2(near.B, near.A) * 180 / math.Pi; math.Abs(turn-30) > 1e-9 {
		t.Errorf("it is turned by %v degrees", turn)
	}
	if pic.True == nil || pic.True.By != draft.ByLength || pic.True.Error != 0 {
		t.Errorf("trueness %+v", pic.True)
	}
	// Two lengths that disagree by 2 %: the error is told. 300 px are 100 and 102 mm: the
	// scale of least squares is 101/300 mm a pixel, each is 1 mm off.
	out = acted(t, p, "true-picture", "picture=one.png", "lengths=0,0:300,0=100mm;0,0:0,300=102mm")
	if got := out.Project.Pictures[0].True.Error; math.Abs(got-1) > 1e-6 {
		t.Errorf("error %v mm", got)
	}
}

func TestTrueByResolution(t *testing.T) {
	p := acted(t, scanned(t), "true-picture", "picture=one.png", "dpi=150").Project
	c := p.Pictures[0].Corners()
	// 600 pixels at 150 an inch are 4 in.
	if w := c[0].Dist(c[1]); math.Abs(w-4*25.4) > 1e-9 || p.Pictures[0].True.By != draft.ByResolution {
		t.Errorf("%v mm wide, %+v", w, p.Pictures[0].True)
	}
}

// A camera is put over a sheet; the four corners of the sheet in the picture undo what it
// does, for any place on the table.
func TestTrueByFrameUndoesTheCamera(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		w, h := num(100, 400, "wide"), num(100, 300, "high")
		// From mm, y up, to pixels, y down.
		m := geom.Scaling(1, -1).Then(geom.Rotation(num(-0.3, 0.3, "turn"), geom.Point{})).
			Then(geom.Scaling(1.2, num(1, 1.3, "squeeze"))).Then(geom.Translation(geom.Pt(60, 280)))
		camera := m.Projective()
		camera.G, camera.H = num(-2e-4, 2e-4, "g"), num(-2e-4, 2e-4, "h")
		f := draft.KnownFrame{Width: w, Height: h}
		for i, c := range [...]geom.Point{geom.Pt(0, h), geom.Pt(w, h), geom.Pt(w, 0), {}} {
			f.Corners[i] = camera.Apply(c)
		}
		if again, err := draft.ParseKnownFrame(f.String()); err != nil || again != f {
			t.Fatalf("%v is read back as %v, %v", f, again, err)
		}
		p, err := tried(draft.New("x"), "add-picture", "file="+someHash+".png 600x300@300 one.png")
		if err != nil {
			t.Fatal(err)
		}
		out, err := draft.TruePicture.DoText(p.Project, map[string]string{"picture": "one.png", "frame": f.String(), "error": "0.1mm"})
		if err != nil {
			t.Fatal(err)
		}
		pic := out.Project.Pictures[0]
		a, b := geom.Pt(num(-50, 300, "ax"), num(-50, 250, "ay")), geom.Pt(num(-50, 300, "bx"), num(-50, 250, "by"))
		got := pic.Place.Apply(camera.Apply(b)).Sub(pic.Place.Apply(camera.Apply(a)))
		if got.Dist(b.Sub(a)) > 1e-6 {
			t.Fatalf("from %v to %v comes out as %v", a, b, got)
		}
		// What counts is the rectangle without its rim.
		for i, c := range [...]geom.Point{geom.Pt(1.5, h-1.5), geom.Pt(w-1.5, h-1.5), geom.Pt(w-1.5, 1.5), geom.Pt(1.5, 1.5)} {
			if camera.Apply(c).Dist(pic.Crop[i]) > 1e-3 {
				t.Fatalf("corner %d of what counts is %v", i, pic.Crop[i])
			}
		}
		if pic.True.By != draft.ByFrame || pic.True.Error != 0.1 {
			t.Fatalf("%+v", pic.True)
		}
	})
}

func TestTruePictureRefuses(t *testing.T) {
	p := scanned(t)
	for _, bad := range []string{
		"", "dpi=0", "dpi=-3", "dpi=nan", "dpi=1e9",
		"lengths=0,0:0,0=10mm", "lengths=0,0:10,0=0mm", "lengths=0,0:10,0", "lengths=0:10=5mm", "lengths=0,0:10,0=5",
		"frame=0,0:100,0:100,100=10mmx10mm", "frame=0,0:100,0:100,100:0,100=10mm",
		"frame=0,0:100,100:100,0:0,100=10mmx10mm", // crossed
		"frame=0,0:100,0:200,0:300,0=10mmx10mm",   // in a line
		"frame=100,0:0,0:0,100:100,100=10mmx10mm", // the wrong way round
		"frame=0,0:100,0:100,100:0,100=0mmx10mm",
		"frame=290,0:310,0:600,300:0,300=100mmx3m", // up to the horizon
		"map=1 0 0 1 0 0 0 0",                      // mirrored: y up stays y up
		"map=1 0 0 -1 0 0", "map=nan 0 0 -1 0 0 0 0", "map=0 0 0 0 0 0 0 0",
		"dpi=300|lengths=0,0:10,0=5mm", "dpi=300|error=-1mm",
	} {
		args := append([]string{"picture=one.png"}, strings.Split(bad, "|")...)
		if bad == "" {
			args = args[:1]
		}
		if out, err := tried(p, "true-picture", args...); err == nil {
			t.Errorf("%s is taken: %+v", bad, out.Project.Pictures[0].Place)
		} else if strings.Contains(err.Error(), "%!") {
			t.Errorf("%s: %v", bad, err)
		}
	}
}

func TestCropPicture(t *testing.T) {
	p := acted(t, scanned(t), "crop-picture", "pictures=one.png", "corners=1,2;30,4;20,50.5").Project
	if c := p.Pictures[0].Crop; len(c) != 3 || c[2] != geom.Pt(20, 50.5) {
		t.Errorf("%v counts", c)
	}
	if p = acted(t, p, "crop-picture", "pictures=one.png").Project; p.Pictures[0].Crop != nil {
		t.Error("not all counts again")
	}
	for _, bad := range []string{"corners=1,2;3,4", "corners=1,2;2,4;3,6", "corners=a,b;1,1;2,2"} {
		if _, err := tried(p, "crop-picture", "pictures=one.png", bad); err == nil {
			t.Errorf("%s is taken", bad)
		}
	}
}

// Two scans of one drawing that overlap: laid by marks on both, a place that both show
// lies in one place, and what is moved afterwards moves as one.
func TestJoinPictures(t *testing.T) {
	p := scanned(t)
	p = acted(t, p, "turn-picture", "pictures=two.png", "by=20").Project
	out := acted(t, p, "join-pictures", "picture=two.png", "to=one.png", "marks=10,10=510,10;10,290=510,290;60,150=560,151")
	p = out.Project
	one, two := p.Pictures[0], p.Pictures[1]
	if two.Joined == nil || two.Joined.To != one.ID || !(two.Joined.Error > 0 && two.Joined.Error < 0.05) {
		t.Fatalf("joined %+v", two.Joined)
	}
	if d := two.Place.Apply(geom.Pt(30, 100)).Dist(one.Place.Apply(geom.Pt(530, 100))); d > 0.1 {
		t.Errorf("what both show lies %v mm apart", d)
	}
	apart := func(p *draft.Project) geom.Point {
		return p.Pictures[0].Place.Apply(geom.Pt(510, 10)).Sub(p.Pictures[1].Place.Apply(geom.Pt(10, 10)))
	}
	moved := acted(t, p, "place-picture", "pictures=one.png", "by=5mm,7mm").Project
	if apart(moved).Dist(apart(p)) > 1e-9 || moved.Pictures[1].Middle().Dist(two.Middle().Add(geom.Pt(5, 7))) > 1e-9 {
		t.Error("the joined picture did not come along")
	}
	turned := acted(t, moved, "turn-picture", "pictures=two.png", "by=90").Project
	if got := apart(turned); math.Abs(got.Len()-apart(p).Len()) > 1e-9 {
		t.Errorf("after turning the marks lie %v apart", got)
	}
	again, err := store.Decode(store.Encode(turned))
	if err != nil || *again.Pictures[1].Joined != *turned.Pictures[1].Joined || again.Pictures[1].Place != turned.Pictures[1].Place {
		t.Errorf("saved and loaded: %+v, %v", again.Pictures[1], err)
	}
	trued := acted(t, turned, "true-picture", "picture=one.png", "dpi=100")
	if trued.Project.Pictures[1].Joined != nil || len(trued.Says) != 1 {
		t.Errorf("a picture that was made true anew stays joined; %q", trued.Says)
	}
	if gone := acted(t, turned, "delete-picture", "pictures=one.png").Project; len(gone.Pictures) != 1 || gone.Pictures[0].Joined != nil {
		t.Error("joined to a picture that is gone")
	}
	if both := acted(t, turned, "delete-picture", "pictures=one.png;two.png"); len(both.Says) != 0 {
		t.Errorf("of pictures that are both gone it is told %q", both.Says)
	}
	if alone := acted(t, turned, "true-picture", "picture=two.png", "dpi=100"); alone.Project.Pictures[1].Joined != nil || len(alone.Says) != 1 {
		t.Errorf("of a joint that is taken apart it is told %q", alone.Says)
	}
	for _, bad := range []string{
		"picture=two.png|to=two.png|marks=0,0=1,1;9,9=1,9", "picture=one.png|to=two.png|marks=0,0=1,1;9,9=1,9",
		"picture=two.png|to=one.png|marks=0,0=1,1", "picture=two.png|to=one.png|marks=0,0=1,1;0,0=1,1", "picture=two.png|to=one.png|marks=0,0;9,9",
	} {
		if _, err := tried(p, "join-pictures", strings.Split(bad, "|")...); err == nil {
			t.Errorf("%s is taken", bad)
		}
	}
	// Marks that say that one sheet is 5 % larger: it is not scaled, but told.
	out = acted(t, scanned(t), "join-pictures", "picture=two.png", "to=one.png", "marks=0,0=0,0;400,0=420,0")
	if len(out.Says) != 1 || !strings.Contains(out.Says[0], "5.0 %") || math.Abs(out.Project.Pictures[1].Scale()-25.4/300) > 1e-9 {
		t.Errorf("%q, scale %v", out.Says, out.Project.Pictures[1].Scale())
	}
}
