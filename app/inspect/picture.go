package inspect

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// pictureGroup speaks of the picture that was picked last.
type pictureGroup struct {
	i              *Inspector
	all            *fyne.Container
	name, width    *control.Field
	turned, strong *control.Field
	locked         *control.Check
	scale, trace   *control.Button
}

func newPictureGroup(i *Inspector) *pictureGroup {
	g := &pictureGroup{i: i}
	g.name = i.field("What the picture is called", func(text string) error {
		return g.set(draft.SetPictureArgs{Name: &text})
	})
	g.strong = i.field("How strongly the picture is seen, in percent", func(text string) error {
		share, err := draft.ParseNumber(text)
		if err != nil {
			return err
		}
		if share > 1 { // a bare figure is meant in percent
			share /= 100
		}
		return g.set(draft.SetPictureArgs{Opacity: &share})
	})
	g.width = i.lengthField("How wide the picture truly is; its middle stays", func(mm draft.Length) error {
		pic := g.picture()
		if pic == nil {
			return nil
		}
		factor := float64(mm) / g.wide(pic)
		return desk.Run(i.desk, draft.ScalePicture, draft.ScalePictureArgs{Picture: draft.PictureRef(pic.ID), Factor: &factor})
	})
	g.turned = i.field("How far the picture is turned, in degrees counter-clockwise", func(text string) error {
		pic := g.picture()
		deg, err := draft.ParseAngle(text)
		if err != nil || pic == nil {
			return err
		}
		by := deg*math.Pi/180 - turnOf(pic)
		return desk.Run(i.desk, draft.TurnPicture, draft.TurnPictureArgs{Pictures: []draft.PictureRef{draft.PictureRef(pic.ID)}, By: draft.Angle(by)})
	})
	g.locked = control.NewCheck("Locked, to be drawn over", func(on bool) {
		i.report(g.set(draft.SetPictureArgs{Locked: &on}))
	})
	g.scale = control.NewButton(control.QuietShape, "tape", "Scale by two places…", "Click two places in the picture whose distance you know, and type that distance", func() { i.ScalePicture() })
	g.trace = control.NewButton(control.QuietShape, "trace", "Trace this picture…", "Make it true to size and have its lines become pieces", func() { i.TracePicture() })
	g.all = rows("Picture",
		control.Labelled("Name", g.name.Object()),
		control.Labelled("Width", g.width.Object()),
		control.Labelled("Turned", g.turned.Object()),
		control.Labelled("Seen", g.strong.Object()),
		g.locked, control.Row(0, g.scale), control.Row(0, g.trace),
	)
	return g
}

func (g *pictureGroup) object() fyne.CanvasObject { return g.all }

// picture returns the picture that was picked last, or nil.
func (g *pictureGroup) picture() *draft.Picture {
	last := g.i.desk.Picked().Last()
	if last.Kind != desk.Picture {
		return nil
	}
	return g.i.desk.Project().Picture(last.Thing)
}

// wide returns how wide the picture is, in mm.
func (g *pictureGroup) wide(pic *draft.Picture) float64 {
	c := pic.Corners()
	return c[0].Dist(c[1])
}

// turnOf returns how far a picture is turned, in radians.
func turnOf(pic *draft.Picture) float64 {
	near := pic.Near()
	return math.Atan2(near.B, near.A)
}

func (g *pictureGroup) set(args draft.SetPictureArgs) error {
	pic := g.picture()
	if pic == nil {
		return nil
	}
	args.Pictures = []draft.PictureRef{draft.PictureRef(pic.ID)}
	return desk.Run(g.i.desk, draft.SetPicture, args)
}

func (g *pictureGroup) update() bool {
	pic := g.picture()
	if pic == nil {
		return false
	}
	g.name.Put(pic.Name)
	g.width.Put(g.i.unit().Format(g.wide(pic)))
	g.turned.Put(shortly(turnOf(pic)*180/math.Pi) + "°")
	g.strong.Put(shortly(pic.Opacity*100) + "%")
	g.locked.Put(pic.Locked)
	return true
}

// shortly writes a figure with at most two places.
func shortly(x float64) string {
	return strconv.FormatFloat(math.Round(x*100)/100+0, 'f', -1, 64)
}
