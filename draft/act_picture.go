package draft

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hemlet/geom"
)

// MaxPixels bounds each side of a picture.
const MaxPixels = 12_000

// PictureRef names a picture by its name or id.
type PictureRef ID

func (r *PictureRef) readArg(p *Project, text string) error {
	list := make([]candidate, len(p.Pictures))
	for i, pic := range p.Pictures {
		list[i] = candidate{pic.ID, pic.Name, shownAs(pic.Name, pic.ID), i}
	}
	c, err := pick("picture", text, list)
	*r = PictureRef(c.id)
	return err
}

func (*PictureRef) argKind() string { return "picture" }

// PictureFile describes the file of a picture: its bytes lie beside the project, where
// package store has put them. As text it is the hash and the ending, the size in pixels
// with the dots an inch where they are known, and the name: "9f86...a08.png
// 1200x800@300 scan.png".
type PictureFile struct {
	Name, Hash, Ext string
	// Wide and High are in pixels.
	Wide, High int
	// DPI is how many pixels cover an inch, 0 where the file does not say.
	DPI float64
}

// String returns the text that is read back the same.
func (f PictureFile) String() string {
	size := fmt.Sprintf("%dx%d", f.Wide, f.High)
	if f.DPI > 0 {
		size += "@" + strconv.FormatFloat(f.DPI, 'g', -1, 64)
	}
	return f.Hash + "." + f.Ext + " " + size + " " + f.Name
}

// ParsePictureFile reads what String writes.
func ParsePictureFile(text string) (PictureFile, error) {
	var f PictureFile
	file, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	size, name, _ := strings.Cut(strings.TrimSpace(rest), " ")
	f.Hash, f.Ext, _ = strings.Cut(file, ".")
	size, dots, dotted := strings.Cut(size, "@")
	wide, high, _ := strings.Cut(size, "x")
	var errs [3]error
	f.Wide, errs[0] = strconv.Atoi(wide)
	f.High, errs[1] = strconv.Atoi(high)
	if dotted {
		f.DPI, errs[2] = strconv.ParseFloat(dots, 64)
	}
	if err := errors.Join(errs[:]...); err != nil {
		return PictureFile{}, fmt.Errorf("%q is no picture; write hash.ending, the size in pixels such as 1200x800@300, and the name", text)
	}
	var err error
	if f.Name, err = cleanName(name); err != nil {
		return PictureFile{}, err
	}
	return f, f.check()
}

func (f PictureFile) check() error {
	switch {
	case !hashForm.MatchString(f.Hash):
		return fmt.Errorf("the hash %q is no SHA-256 in lower-case hex", f.Hash)
	case !extForm.MatchString(f.Ext):
		return fmt.Errorf("the file ending %q is not one to eight small letters and digits without a dot", f.Ext)
	case f.Wide < 1 || f.High < 1 || f.Wide > MaxPixels || f.High > MaxPixels:
		return fmt.Errorf("a picture of %d by %d pixels does not fit; it may have 1 to %d each way", f.Wide, f.High, MaxPixels)
	case !(f.DPI >= 0 && f.DPI <= maxDPI):
		return fmt.Errorf("a picture has no %g pixels an inch", f.DPI)
	}
	return nil
}

// maxDPI bounds the resolution that a file tells: finer than any scanner.
const maxDPI = 100_000

func (f *PictureFile) readArg(_ *Project, text string) (err error) {
	*f, err = ParsePictureFile(text)
	return err
}

func (*PictureFile) argKind() string { return "picture file" }

// usualDPI is what a picture is taken to have where its file does not say: what screens
// are taken to have.
const usualDPI = 96

// AddPictureArgs are the arguments of AddPicture.
type AddPictureArgs struct {
	File    PictureFile `arg:"file" says:"the picture"`
	At      *Vector     `arg:"at" says:"where its middle goes on the bench; without it in the middle of the pieces"`
	Width   *Length     `arg:"width" says:"how wide it truly is; without it by the resolution that the file tells"`
	Opacity float64     `arg:"opacity" says:"how strongly it is seen, from above 0 to 1" default:"60%"`
}

// AddPicture lays a scan or photograph under the pieces, to draw by.
var AddPicture = register(Info{
	Name: "add-picture", Title: "Lay a picture under", Group: groupPictures,
	Says: "Lays a scan or photograph under the pieces, to draw by.",
}, func(p *Project, a AddPictureArgs) (Outcome, error) {
	if err := a.File.check(); err != nil {
		return Outcome{}, err
	}
	mm := MMPerInch / usualDPI
	if a.File.DPI > 0 {
		mm = MMPerInch / a.File.DPI
	}
	if a.Width != nil {
		if !(*a.Width > 0) {
			return Outcome{}, fmt.Errorf("a picture cannot be %s wide", p.Unit.Format(float64(*a.Width)))
		}
		mm = float64(*a.Width) / float64(a.File.Wide)
	}
	middle := p.middle()
	if a.At != nil {
		middle = geom.Point(*a.At)
	}
	ids := p.newIDs()
	half := geom.Pt(float64(a.File.Wide)/2, float64(a.File.High)/2)
	pic := &Picture{
		ID: ids.make(kindPicture), Name: a.File.Name, Hash: a.File.Hash, Ext: a.File.Ext, Wide: a.File.Wide, High: a.File.High,
		Place:   geom.Scaling(mm, -mm).Then(geom.Translation(middle.Sub(geom.Pt(half.X*mm, -half.Y*mm)))).Projective(),
		Opacity: a.Opacity,
	}
	if err := pic.check(); err != nil {
		return Outcome{}, err
	}
	next := p.shallow()
	next.NextID = ids.next
	next.Pictures = append(slices.Clone(p.Pictures), pic)
	return Outcome{Project: next, Made: pic.ID, subject: pic.label()}, nil
})

// middle returns the middle of the box round all pieces, the origin where there is none.
func (p *Project) middle() geom.Point {
	box := geom.EmptyRect()
	for _, piece := range p.Pieces {
		box = box.Union(piece.DrawnPath().Transform(piece.Place.Affine()).Bounds())
	}
	if box.Empty() {
		return geom.Point{}
	}
	return box.Center()
}

// PlacePictureArgs are the arguments of PlacePicture.
type PlacePictureArgs struct {
	Pictures []PictureRef `arg:"pictures" says:"the pictures"`
	By       Vector       `arg:"by" says:"how far across and up"`
}

// PlacePicture moves pictures on the bench, and those that are joined to them.
var PlacePicture = register(Info{
	Name: "place-picture", Title: "Move pictures", Group: groupPictures,
	Says: "Moves pictures on the bench.",
}, func(p *Project, a PlacePictureArgs) (Outcome, error) {
	return eachPicture(p, p.joinedGroups(a.Pictures), func(q *Picture) error {
		q.Place = q.Place.Then(geom.Translation(geom.Point(a.By)))
		return nil
	})
})

// TurnPictureArgs are the arguments of TurnPicture.
type TurnPictureArgs struct {
	Pictures []PictureRef `arg:"pictures" says:"the pictures"`
	By       Angle        `arg:"by" says:"how far, counter-clockwise, each about its own middle"`
}

// TurnPicture turns pictures about their middles, and those that are joined to one
// another about the middle of them all.
var TurnPicture = register(Info{
	Name: "turn-picture", Title: "Turn pictures", Group: groupPictures,
	Says: "Turns pictures on the bench, each about its own middle.",
}, func(p *Project, a TurnPictureArgs) (Outcome, error) {
	return eachPicture(p, p.joinedGroups(a.Pictures), func(q *Picture) error {
		q.Place = q.Place.Then(geom.Rotation(float64(a.By), p.joinedMiddle(q)))
		return nil
	})
})

// ScalePictureArgs are the arguments of ScalePicture.
type ScalePictureArgs struct {
	Picture  PictureRef `arg:"picture" says:"the picture"`
	Factor   *float64   `arg:"factor" says:"how many times as large, about its own middle"`
	From     *Vector    `arg:"from" says:"a place on the bench, which stays where it is"`
	To       *Vector    `arg:"to" says:"a second place on the bench"`
	Distance *Length    `arg:"distance" says:"how far apart the two places truly are"`
}

// ScalePicture makes a picture larger or smaller: by a factor, or so that two places in
// it come to lie as far apart as they truly are.
var ScalePicture = register(Info{
	Name: "scale-picture", Title: "Scale a picture", Group: groupPictures,
	Says: "Makes a picture true to size, by two places in it and their true distance, or by a factor.",
}, func(p *Project, a ScalePictureArgs) (Outcome, error) {
	factor, about, err := scaleOf(p, a.Factor, a.From, a.To, a.Distance)
	if err != nil {
		return Outcome{}, err
	}
	return eachPicture(p, p.joinedGroups([]PictureRef{a.Picture}), func(q *Picture) error {
		middle := p.joinedMiddle(q)
		if about != nil {
			middle = *about
		}
		to := middle.Sub(middle.Mul(factor))
		q.Place = q.Place.Then(geom.Scaling(factor, factor)).Then(geom.Translation(to))
		if q.True = nil; about != nil {
			q.True = &Trueness{By: ByLength}
		}
		return nil
	})
})

// SetPictureArgs are the arguments of SetPicture. What is nil stays as it is.
type SetPictureArgs struct {
	Pictures []PictureRef `arg:"pictures" says:"the pictures"`
	Name     *string      `arg:"name" says:"what it is called"`
	Opacity  *float64     `arg:"opacity" says:"how strongly it is seen, from above 0 to 1"`
	Locked   *bool        `arg:"locked" says:"whether nothing on the bench touches it"`
}

// SetPicture says what pictures are called, how strongly they are seen, and whether they
// are locked.
var SetPicture = register(Info{
	Name: "set-picture", Title: "Set pictures", Group: groupPictures,
	Says: "Says what a picture is called, how strongly it is seen, and whether it is locked.",
}, func(p *Project, a SetPictureArgs) (Outcome, error) {
	if a.Name == nil && a.Opacity == nil && a.Locked == nil {
		return Outcome{}, errors.New("needs a name, an opacity, or whether it is locked")
	}
	return changePictures(p, a.Pictures, func(q *Picture) (err error) {
		if a.Name != nil {
			if q.Name, err = cleanName(*a.Name); err != nil {
				return err
			}
		}
		if a.Opacity != nil {
			q.Opacity = *a.Opacity
		}
		if a.Locked != nil {
			q.Locked = *a.Locked
		}
		return nil
	})
})

// DeletePictureArgs are the arguments of DeletePicture.
type DeletePictureArgs struct {
	Pictures []PictureRef `arg:"pictures" says:"the pictures"`
}

// DeletePicture takes pictures away. Their files stay beside the project, so that the
// step can be undone.
var DeletePicture = register(Info{
	Name: "delete-picture", Title: "Delete pictures", Group: groupPictures,
	Says: "Takes pictures away from under the pieces.",
}, func(p *Project, a DeletePictureArgs) (Outcome, error) {
	out, err := eachPicture(p, a.Pictures, func(*Picture) error { return nil })
	if err != nil {
		return Outcome{}, err
	}
	out.Project.Pictures = slices.DeleteFunc(out.Project.Pictures, func(pic *Picture) bool {
		return slices.Contains(a.Pictures, PictureRef(pic.ID))
	})
	for _, ref := range a.Pictures {
		out.partFrom(p.Picture(ID(ref)))
	}
	if len(out.Project.Pictures) == 0 {
		out.Project.Pictures = nil
	}
	return out, nil
})

// eachPicture applies f to a copy of each picture that is named; one that is locked is
// refused.
func eachPicture(p *Project, refs []PictureRef, f func(q *Picture) error) (Outcome, error) {
	return changePictures(p, refs, func(q *Picture) error {
		if q.Locked {
			return errLocked
		}
		return f(q)
	})
}

func changePictures(p *Project, refs []PictureRef, f func(q *Picture) error) (Outcome, error) {
	if len(refs) == 0 {
		return Outcome{}, errors.New("no picture is named")
	}
	out := Outcome{Project: p.shallow()}
	out.Project.Pictures = slices.Clone(p.Pictures)
	var names []string
	done := make(map[PictureRef]bool, len(refs))
	for _, ref := range refs {
		if done[ref] {
			continue
		}
		done[ref] = true
		i := slices.IndexFunc(p.Pictures, func(pic *Picture) bool { return pic.ID == ID(ref) })
		if i < 0 {
			return Outcome{}, fmt.Errorf("picture %s %w", ref, errGone)
		}
		q := *p.Pictures[i]
		err := f(&q)
		if err == nil {
			err = q.check()
		}
		switch {
		case errors.Is(err, errLocked):
			return Outcome{}, fmt.Errorf("%s %w", q.label(), err)
		case err != nil:
			return Outcome{}, fmt.Errorf("%s: %w", q.label(), err)
		}
		out.Project.Pictures[i] = &q
		names = append(names, q.label())
	}
	out.subject = subjectOf(names, "pictures")
	return out, nil
}
