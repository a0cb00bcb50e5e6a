package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// TruePictureArgs are the arguments of TruePicture.
type TruePictureArgs struct {
	Picture PictureRef    `arg:"picture" says:"the picture"`
	Lengths []KnownLength `arg:"lengths,optional" says:"true distances of places in it, such as 120,88:950,92=20cm"`
	DPI     *float64      `arg:"dpi" says:"or how many of its pixels cover an inch"`
	Frame   *KnownFrame   `arg:"frame" says:"or a rectangle in it whose sides are known: its corners from the top left to the right and round, and how wide and high it is"`
	Map     *PixelMap     `arg:"map" says:"or the map that was found from squared paper"`
	Error   *Length       `arg:"error" says:"by how much what a frame or squares show is off in the picture"`
}

// TruePicture makes a picture true to size: by known lengths, by its resolution, by the
// corners of a known rectangle, which takes the perspective of a photograph away, or by
// squared paper. Its middle stays where it is on the bench, and it keeps its turn unless a
// rectangle or squares show what is level. A known length leaves the perspective that was
// taken away before.
var TruePicture = register(Info{
	Name: "true-picture", Title: "Make a picture true to size", Group: groupPictures,
	Says: "Makes a picture true to size: by known lengths, its resolution, the corners of a known rectangle, or squared paper.",
}, func(p *Project, a TruePictureArgs) (Outcome, error) {
	ways := 0
	for _, given := range [...]bool{len(a.Lengths) > 0, a.DPI != nil, a.Frame != nil, a.Map != nil} {
		if given {
			ways++
		}
	}
	if ways != 1 {
		return Outcome{}, errors.New("it is made true by known lengths, a resolution, a known rectangle or a map; give one of the four")
	}
	out, err := eachPicture(p, []PictureRef{a.Picture}, func(q *Picture) error {
		middle := q.Middle()
		if err := q.makeTrue(a); err != nil {
			return err
		}
		q.Place = q.Place.Then(geom.Translation(middle.Sub(q.Middle())))
		q.Joined = nil
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	pic := p.Picture(ID(a.Picture))
	if pic.Joined != nil {
		out.say("%s is not joined to another picture any more; join it again.", pic.label())
	}
	out.partFrom(pic)
	return out, nil
})

// makeTrue sets the place and the trueness of the picture; where its middle lies is not
// cared for.
func (pic *Picture) makeTrue(a TruePictureArgs) error {
	t := &Trueness{}
	if a.Error != nil {
		if !(*a.Error >= 0 && *a.Error <= MaxCoordinate) {
			return errors.New("an error is 0 or more")
		}
		t.Error = toGrid(float64(*a.Error))
	}
	switch {
	case len(a.Lengths) > 0:
		factor, rms, err := lengthsFactor(pic.Place, a.Lengths)
		if err != nil {
			return err
		}
		t.By, t.Error = ByLength, toGrid(rms)
		pic.Place = pic.Place.Then(geom.Scaling(factor, factor))
	case a.DPI != nil:
		if !(*a.DPI > 0 && *a.DPI <= maxDPI) {
			return fmt.Errorf("a picture has no %g pixels an inch", *a.DPI)
		}
		mm := MMPerInch / *a.DPI
		near := pic.Near()
		t.By = ByResolution
		pic.Place = geom.Scaling(mm, -mm).Then(geom.Rotation(math.Atan2(near.B, near.A), geom.Point{})).Projective()
	case a.Frame != nil:
		m, err := a.Frame.Map()
		if err != nil {
			return err
		}
		t.By, pic.Place = ByFrame, m
		pic.Crop = a.Frame.within(m)
	default:
		t.By, pic.Place = ByGrid, geom.Homography(*a.Map)
		if !pic.Place.Finite() || !(pic.Place.Near(pic.half()).Det() < 0) {
			return errors.New("the map mirrors the picture or squeezes it to nothing")
		}
	}
	pic.True = t
	return nil
}

// lengthsFactor returns by which factor a map has to be enlarged so that distances come
// out as they are known, with the least squares, and the root of the mean square of what
// is left, in mm.
func lengthsFactor(m geom.Homography, known []KnownLength) (factor, rms float64, err error) {
	var mine, both float64
	for _, k := range known {
		if err := k.check(); err != nil {
			return 0, 0, err
		}
		d := m.Apply(k.From).Dist(m.Apply(k.To))
		mine, both = mine+d*d, both+d*k.Distance
	}
	if factor = both / mine; !(factor > 0) || math.IsInf(factor, 0) {
		return 0, 0, errors.New("the places do not lie in the picture as it is seen")
	}
	var sum float64
	for _, k := range known {
		off := factor*m.Apply(k.From).Dist(m.Apply(k.To)) - k.Distance
		sum += off * off
	}
	return factor, math.Sqrt(sum / float64(len(known))), nil
}

// partFrom takes apart the joints of other pictures to this one, and tells it.
func (o *Outcome) partFrom(from *Picture) {
	for i, pic := range o.Project.Pictures {
		if pic.Joined == nil || pic.Joined.To != from.ID {
			continue
		}
		q := *pic
		q.Joined = nil
		o.Project.Pictures[i] = &q
		o.say("%s is not joined to %s any more; join it again.", q.label(), from.label())
	}
}
