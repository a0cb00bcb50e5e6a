package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
)

// knownLength, knownFrame and madeFor are arguments of the acts on a command line.
type (
	knownLength draft.KnownLength
	knownFrame  draft.KnownFrame
	madeFor     draft.OriginMeasure
)

// UnmarshalText reads two places in a picture and their distance.
func (k *knownLength) UnmarshalText(text []byte) error {
	known, err := draft.ParseKnownLength(string(text))
	*k = knownLength(known)
	return err
}

// UnmarshalText reads the corners of a rectangle and its sides.
func (k *knownFrame) UnmarshalText(text []byte) error {
	known, err := draft.ParseKnownFrame(string(text))
	*k = knownFrame(known)
	return err
}

// UnmarshalText reads a measure and its length.
func (m *madeFor) UnmarshalText(text []byte) error {
	measure, err := draft.ParseOriginMeasure(string(text))
	*m = madeFor(measure)
	return err
}

// fromFile is what --dpi says where the word of the file is taken.
const fromFile = "file"

// followLook is what --follow says where the picture is to be looked at.
const followLook = "look"

// sizeGiven returns in how many ways it is said how large the pictures truly are.
func (v *traceVerb) sizeGiven() int {
	ways := 0
	for _, given := range []bool{v.DPI != "", len(v.Scale) > 0, v.Frame != nil, v.Grid != 0} {
		if given {
			ways++
		}
	}
	return ways
}

// oneWay refuses more than one way to make the pictures true, and one that makes no sense.
func (v *traceVerb) oneWay() error {
	if v.sizeGiven() > 1 {
		return errors.New("the pictures are made true in one way: give --dpi, --scale, --frame or --grid, not several of them")
	}
	if v.Grid < 0 || v.Grid > draft.MaxCoordinate {
		return fmt.Errorf("a square cannot be %g mm wide", float64(v.Grid))
	}
	if v.DPI != "" && v.DPI != fromFile {
		if dpi, err := strconv.ParseFloat(v.DPI, 64); err != nil || !(dpi > 0) {
			return fmt.Errorf("--dpi %q: write how many pixels cover an inch, such as 300, or file to take the file's word for it", v.DPI)
		}
	}
	return nil
}

// truing returns by what a picture is made true. Of squared paper and of a frame whose
// edges show it tells how far they are off, and it returns the squared paper.
func (v *traceVerb) truing(ctx context.Context, in tracedPicture, grey *scan.Raster) (a draft.TruePictureArgs, paper *scan.Grid, err error) {
	switch {
	case v.DPI != "":
		dpi := in.file.DPI
		if v.DPI != fromFile {
			dpi, _ = strconv.ParseFloat(v.DPI, 64) // oneWay has read it
		}
		if dpi == 0 {
			return a, nil, errors.New("the file does not say how many pixels cover an inch, or it cannot be meant; give --dpi N, --scale, --frame or --grid")
		}
		a.DPI = &dpi
	case len(v.Scale) > 0:
		for _, k := range v.Scale {
			if outside(grey, k.From) || outside(grey, k.To) {
				return a, nil, fmt.Errorf("--scale: a place lies outside the picture, which is %d by %d pixels", grey.W, grey.H)
			}
			a.Lengths = append(a.Lengths, draft.KnownLength(k))
		}
	case v.Frame != nil:
		frame := draft.KnownFrame(*v.Frame)
		rms := refineFrame(grey, &frame)
		a.Frame, a.Error = &frame, &rms
	case v.Grid > 0:
		grid, err := scan.FindGrid(ctx, grey)
		if err != nil {
			return a, nil, err
		}
		m, rms, err := grid.True(float64(v.Grid), geom.Pt(float64(grey.W)/2, float64(grey.H)/2), geom.Point{})
		if err != nil {
			return a, nil, err
		}
		found, off := draft.PixelMap(m), draft.Length(rms)
		a.Map, a.Error, paper = &found, &off, &grid
	default:
		return a, nil, errSizeUnknown(in)
	}
	return a, paper, nil
}

// errSizeUnknown asks for what makes a picture true, and tells what the file says of it.
func errSizeUnknown(in tracedPicture) error {
	const ways = "--scale X,Y:X,Y=LENGTH, --frame X,Y:X,Y:X,Y:X,Y=WxH or --grid LENGTH"
	if in.file.DPI == 0 {
		return errors.New("how large it truly is has to be said: give --dpi N, " + ways)
	}
	wide, high := float64(in.file.Wide)/in.file.DPI*draft.MMPerInch, float64(in.file.High)/in.file.DPI*draft.MMPerInch
	return fmt.Errorf("how large it truly is has to be said. The file says %g pixels an inch, so %.0f by %.0f mm: if that is so give --dpi file, else --dpi N, %s",
		in.file.DPI, wide, high, ways)
}

func outside(r *scan.Raster, at geom.Point) bool {
	return !(at.X >= 0 && at.Y >= 0 && at.X <= float64(r.W) && at.Y <= float64(r.H))
}

// refineFrame moves the corners of a frame to where its edges meet, if they show near by:
// places that were read off a screen are a pixel or two off. It returns by how many mm the
// edges are off, 0 where none show.
func refineFrame(grey *scan.Raster, f *draft.KnownFrame) draft.Length {
	fitted, err := scan.FitFrame(grey, f.Corners)
	if err != nil {
		return 0
	}
	const (
		pixels = 3     // that a corner may move
		share  = 0.002 // or this much of the side of the frame, in large pictures
	)
	for i, c := range fitted.Corners {
		if side := f.Corners[i].Dist(f.Corners[(i+1)%4]); !(c.Dist(f.Corners[i]) <= max(pixels, share*side)) {
			return 0
		}
	}
	_, rms, err := fitted.True(f.Width, f.Height, geom.Point{})
	if err != nil {
		return 0
	}
	f.Corners = fitted.Corners
	return draft.Length(rms)
}

// manner returns what of the ink is followed in a picture.
func (w *tracer) manner(ctx context.Context, grey *scan.Raster, pic *draft.Picture) (trace.Manner, error) {
	switch w.verb.Follow {
	case "edges":
		return trace.Filled, nil
	case "strokes":
		return trace.Drawn, nil
	}
	place, crop := pic.As(grey.W, grey.H)
	middle := geom.Pt(float64(grey.W)/2, float64(grey.H)/2)
	drawn, err := scan.LooksDrawn(ctx, grey, 1/place.ScaleAt(middle), crop, w.verb.Dark)
	if drawn {
		return trace.Drawn, err
	}
	return trace.Filled, err
}
