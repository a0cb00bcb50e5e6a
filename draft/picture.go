package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// Picture is a scan or photograph laid under the pieces. The image itself lies
// beside the project, named by the hash of its content, and is never changed.
type Picture struct {
	ID   ID
	Name string
	// Hash is the SHA-256 of the file's bytes in lower-case hex, Ext its ending.
	Hash, Ext string
	// Wide and High are its size in pixels, 0 where that was not noted. A picture that
	// was taken with the camera turned is upright in them.
	Wide, High int
	// Place maps the picture's pixels (y down, origin at the top left) to mm: by turning,
	// scaling and, for a photograph, taking its perspective away.
	Place geom.Homography
	// Crop is the polygon, in its pixels, of what counts of the picture: a sheet on a
	// table. Nil is all of it.
	Crop []geom.Point
	// Opacity runs from 0 to 1.
	Opacity float64
	Locked  bool
	// True says how the picture was made true to size, nil where it was not yet.
	True *Trueness
	// Joined says to which other picture it was joined by marks on both, nil where it
	// was not.
	Joined *Joint
}

// Truing is a way to make a picture true to size.
type Truing int

const (
	ByLength     Truing = iota // two places in it and their true distance
	ByResolution               // how many pixels cover an inch
	ByFrame                    // the corners of a rectangle whose sides are known
	ByGrid                     // squared paper whose squares are known
)

var truingNames = names[Truing]{"length", "resolution", "frame", "grid"}

func (t Truing) String() string               { return truingNames.text(t) }
func (t Truing) MarshalText() ([]byte, error) { return truingNames.marshal(t) }

// UnmarshalText reads length, resolution, frame or grid.
func (t *Truing) UnmarshalText(b []byte) error {
	return truingNames.unmarshal(t, b, "way to true a picture")
}

// Trueness says how a picture was made true to size.
type Trueness struct {
	By Truing
	// Error is by how many mm, as the root of the mean square, what the picture was made
	// true by is off in it; 0 where that cannot be told.
	Error float64
}

// Joint says how a picture was joined to another by marks that both show.
type Joint struct {
	To ID
	// Error is by how many mm, as the root of the mean square, the marks are off each
	// other.
	Error float64
}

func (pic *Picture) label() string { return labelOf(pic.Name, pic.ID) }

// Middle returns the middle of the picture on the bench.
func (pic *Picture) Middle() geom.Point { return pic.Place.Apply(pic.half()) }

// half returns the middle of the picture in its pixels.
func (pic *Picture) half() geom.Point {
	return geom.Pt(float64(pic.Wide)/2, float64(pic.High)/2)
}

// Corners returns the outline of the picture on the bench, from its top left.
func (pic *Picture) Corners() [4]geom.Point {
	var at [4]geom.Point
	for i, c := range pic.pixelCorners() {
		at[i] = pic.Place.Apply(c)
	}
	return at
}

// Outline returns the outline, on the bench, of what counts of the picture.
func (pic *Picture) Outline() []geom.Point {
	if len(pic.Crop) == 0 {
		c := pic.Corners()
		return c[:]
	}
	at := make([]geom.Point, len(pic.Crop))
	for i, c := range pic.Crop {
		at[i] = pic.Place.Apply(c)
	}
	return at
}

// Box returns the box, on the bench, round what counts of the picture.
func (pic *Picture) Box() geom.Rect { return geom.RectOf(pic.Outline()...) }

// As returns the place, and what counts, of the picture where its file turns out to have
// w by h pixels, which are not always as many as were noted.
func (pic *Picture) As(w, h int) (place geom.Homography, crop []geom.Point) {
	if w == pic.Wide && h == pic.High || w < 1 || h < 1 || pic.Wide < 1 || pic.High < 1 {
		return pic.Place, pic.Crop
	}
	across, down := float64(w)/float64(pic.Wide), float64(h)/float64(pic.High)
	place, _ = pic.Place.After(geom.Scaling(1/across, 1/down)) // which leaves the origin
	for _, c := range pic.Crop {
		crop = append(crop, geom.Pt(c.X*across, c.Y*down))
	}
	return place, crop
}

// pixelCorners returns the corners of the picture in its pixels, from its top left.
func (pic *Picture) pixelCorners() [4]geom.Point {
	w, h := float64(pic.Wide), float64(pic.High)
	return [4]geom.Point{geom.Pt(0, 0), geom.Pt(w, 0), geom.Pt(w, h), geom.Pt(0, h)}
}

// Scale returns how many mm a pixel covers in the middle of the picture.
func (pic *Picture) Scale() float64 { return pic.Place.ScaleAt(pic.half()) }

// Near returns the affine map that is closest to the picture's place in its middle.
func (pic *Picture) Near() geom.Affine { return pic.Place.Near(pic.half()) }

// PixelAt returns the place in the picture, in its pixels, that lies at a place of the
// bench, or false where there is none: beyond the horizon of a photograph.
func (pic *Picture) PixelAt(at geom.Point) (geom.Point, bool) {
	back, ok := pic.Place.Invert()
	if !ok {
		return geom.Point{}, false
	}
	return pic.Place.Source(back, at)
}

// shallowDepth is the least depth of a corner of a picture, as a share of that of its
// middle: nearer to the horizon a pixel covers more than a hundred times as much as there.
const shallowDepth = 0.1

// leastPixel is the least that a pixel covers, in mm: beyond any scanner.
const leastPixel = 1e-5

// check reports what no project can hold.
func (pic *Picture) check() error {
	m := pic.Place
	if !m.Finite() {
		return errors.New("the picture would have no place")
	}
	middle := m.Depth(pic.half())
	for i, c := range pic.pixelCorners() {
		if d := m.Depth(c); !(d > shallowDepth*middle) || !(middle > 0) {
			return errors.New("the picture is seen too flatly: a corner of it lies near the horizon or beyond. Take it more from above, or cut what is farthest off the photograph first")
		}
		if at := pic.Corners()[i]; !(math.Abs(at.X) <= MaxCoordinate && math.Abs(at.Y) <= MaxCoordinate) {
			return errors.New("the picture would lie outside the 100 m that a project holds")
		}
	}
	if s := pic.Scale(); !(s >= leastPixel) {
		return errors.New("the picture would be too small to be seen")
	}
	if !(pic.Opacity > 0 && pic.Opacity <= 1) {
		return fmt.Errorf("a picture is seen between 0 and 100 %%, not %g %%", 100*pic.Opacity)
	}
	return nil
}
