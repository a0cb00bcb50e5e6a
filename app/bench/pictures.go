package bench

import (
	"image"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// pictures keeps what was read of the pictures that lie under the pieces.
type pictures struct {
	byHash map[string]*readPicture
	items  map[draft.ID]pictureItem
}

// readPicture is a picture that is being read, was, or could not be.
type readPicture struct {
	sizes *paint.Pyramid
	fault string
}

// pictureItem is a drawn picture and what it was drawn from.
type pictureItem struct {
	pic   *draft.Picture
	read  readPicture
	faint bool
	item  *paint.Item
}

// hinted is how strongly pictures are seen that are only hinted at, as a share of how
// strongly they lie there.
const hinted = 0.16

// SetApart says that the pieces stand apart from the pictures under them, as those of a fitted
// pattern do, which are a tenth as large: all there is to show is the pieces then.
func (b *Bench) SetApart(on bool) { b.apart = on }

// SetFaint says that pictures are only hinted at beside the pieces, cannot be seen through
// them and cannot be taken hold of, as where it is no longer about what was traced.
func (b *Bench) SetFaint(on bool) {
	if b.faint != on {
		b.faint, b.scene.opaque = on, on
		b.redraw()
	}
}

// SetPicturesAway has the pictures not drawn at all, as where the pieces have become much
// smaller than what was traced and only stray lines of it would lie under them.
func (b *Bench) SetPicturesAway(on bool) {
	if b.away != on {
		b.away = on
		b.redraw()
	}
}

// read returns what was read of the picture, and begins to read it where that was not
// done yet.
func (b *Bench) read(pic *draft.Picture) *readPicture {
	if r := b.pictures.byHash[pic.Hash]; r != nil {
		return r
	}
	r := &readPicture{}
	b.pictures.byHash[pic.Hash] = r
	if b.LoadPicture == nil {
		r.fault = pic.Name
		return r
	}
	load := b.LoadPicture(pic)
	take := func(img image.Image, err error) func() {
		var sizes *paint.Pyramid
		if err == nil {
			sizes = paint.NewPyramid(img)
		}
		return func() {
			if r.sizes = sizes; err != nil {
				r.fault = err.Error()
			}
			b.redraw()
		}
	}
	b.Aside(func() func() { return take(load()) })
	return r
}

// ForgetPictures lets what was read of pictures be read anew, as once they are there that
// were missing.
func (b *Bench) ForgetPictures() {
	clear(b.pictures.byHash)
	b.redraw()
}

// pictureItems returns the drawn pictures, bottom first.
func (b *Bench) pictureItems() []*paint.Item {
	project := b.desk.Project()
	if len(project.Pictures) == 0 || b.away {
		clear(b.pictures.items)
		return nil
	}
	var items []*paint.Item
	live := make(map[draft.ID]pictureItem, len(project.Pictures))
	for _, pic := range project.Pictures {
		read := *b.read(pic)
		x, ok := b.pictures.items[pic.ID]
		if !ok || x.pic != pic || x.read != read || x.faint != b.faint {
			strong := pic.Opacity
			if b.faint {
				strong *= hinted
			}
			x = pictureItem{pic, read, b.faint, &paint.Item{Marks: PictureMarks(pic, read.sizes, strong, false, read.fault)}}
		}
		live[pic.ID] = x
		items = append(items, x.item)
	}
	b.pictures.items = live
	return items
}

// PictureMarks draws what counts of a picture, or the whole of it, so strongly, 0 to 1. As
// long as nothing was read of it, it is its outline with a word: the fault, or that it is
// being read.
func PictureMarks(pic *draft.Picture, of *paint.Pyramid, strong float64, whole bool, fault string) []paint.Mark {
	if of != nil {
		place, crop := pic.As(of.W, of.H)
		if whole {
			crop = nil
		}
		return []paint.Mark{paint.Picture{Of: of, Place: &place, Opacity: strong, Ring: crop}}
	}
	says := "reading " + pic.Name + " …"
	if fault != "" {
		says = fault
	}
	c := pic.Corners()
	return []paint.Mark{
		paint.Shape{Path: geom.Polygon(c[:]...), Line: paint.Line{Colour: paint.Of(paint.Faint), Width: 1, Dash: paint.Dash{4, 4}}},
		paint.Text{At: pic.Middle(), Text: says, Size: 12, Colour: paint.Of(paint.Faint), Anchor: paint.Middle, Room: c[0].Dist(c[1]), Least: c[0].Dist(c[1])},
	}
}

// pictureFrames returns the outlines of the pictures that are picked, and of the one
// under the pointer.
func (b *Bench) pictureFrames() []*paint.Item {
	var items []*paint.Item
	for _, pic := range b.desk.Project().Pictures {
		ref := desk.PictureRef(pic.ID)
		line := paint.Line{Colour: paint.Of(paint.Chalk), Width: pickedWidth}
		switch {
		case b.away:
			continue
		case b.desk.Picked().Has(ref):
		case b.scene.hover == ref:
			line = paint.Line{Colour: paint.Faded(paint.Chalk, 0.45), Width: pickedWidth}
		default:
			continue
		}
		items = append(items, &paint.Item{Marks: []paint.Mark{paint.Shape{Path: geom.Polygon(pic.Outline()...), Line: line}}})
	}
	return items
}

// pictureAt returns the topmost picture at a place on the bench that is not locked.
func (b *Bench) pictureAt(at geom.Point, can takes) (desk.Ref, bool) {
	list := b.desk.Project().Pictures
	for i := len(list) - 1; i >= 0 && !b.faint && !b.away && can(desk.Picture); i-- {
		if !list[i].Locked && geom.Polygon(list[i].Outline()...).Contains(at) {
			return desk.PictureRef(list[i].ID), true
		}
	}
	return desk.Ref{}, false
}

// pictureBox returns the box round all pictures.
func (b *Bench) pictureBox() geom.Rect {
	box := geom.EmptyRect()
	for _, pic := range b.desk.Project().Pictures {
		box = box.Union(pic.Box())
	}
	return box
}

// throughCloth is how strongly the ground of pieces is seen that lie over pictures.
const throughCloth = 0.4

// seeThrough lets what lies under a drawn piece be seen.
func seeThrough(item *paint.Item) {
	for i, m := range item.Marks {
		if ground, ok := m.(paint.Shape); ok && ground.Fill == paint.Of(paint.Cloth) {
			ground.Fill = paint.Faded(paint.Cloth, throughCloth)
			item.Marks[i] = ground
		}
	}
}
