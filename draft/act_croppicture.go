package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// CropPictureArgs are the arguments of CropPicture.
type CropPictureArgs struct {
	Pictures []PictureRef `arg:"pictures" says:"the pictures"`
	Corners  []Pixel      `arg:"corners,optional" says:"the corners of what counts, in pixels, three or more; without them all counts"`
}

// CropPicture says which part of a picture counts when it is followed, such as the sheet
// on a table. The picture itself is not changed.
var CropPicture = register(Info{
	Name: "crop-picture", Title: "Say which part of a picture counts", Group: groupPictures,
	Says: "Says which part of a picture counts when it is followed, such as the sheet on a table.",
}, func(p *Project, a CropPictureArgs) (Outcome, error) {
	if n := len(a.Corners); n > 0 && n < 3 || n > maxCrop {
		return Outcome{}, fmt.Errorf("a part of a picture has 3 to %d corners, not %d", maxCrop, n)
	}
	var crop []geom.Point
	for _, c := range a.Corners {
		crop = append(crop, geom.Point(c))
	}
	if len(crop) > 0 && geom.Polygon(crop...).Area() == 0 {
		return Outcome{}, errors.New("the corners enclose nothing")
	}
	return eachPicture(p, a.Pictures, func(q *Picture) error {
		q.Crop = crop
		return nil
	})
})
