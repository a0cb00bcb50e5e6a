package export

import (
	"math"

	"hemlet/draft/body"
	"hemlet/draft/figure"
	"hemlet/geom"
)

// figures draws the figure from the front and from the side in a box, with the places
// of some measures and their numbers.
func (f *form) figures(box geom.Rect, measures []*body.Measure) {
	const between = 12 // mm
	front, side := f.boxOf(f.front, measures), f.boxOf(f.side, measures)
	top, low := max(front.Max.Y, side.Max.Y), min(front.Min.Y, side.Min.Y)
	k := min(box.H()/(top-low), (box.W()-between)/(front.W()+side.W()))
	left := box.Center().X - (k*(front.W()+side.W())+between)/2
	y := box.Min.Y - k*low + (box.H()-k*(top-low))/2
	atFront := geom.Scaling(k, k).Then(geom.Translation(geom.Pt(left-k*front.Min.X, y)))
	atSide := geom.Scaling(k, k).Then(geom.Translation(geom.Pt(left+k*front.W()+between-k*side.Min.X, y)))
	f.figure(f.front, atFront)
	f.figure(f.side, atSide)
	var discs []discAt
	for _, m := range measures {
		// The number stands once, from the front where the measure is seen there.
		numbered := false
		for _, v := range []struct {
			d  *figure.Drawing
			at geom.Affine
		}{{f.front, atFront}, {f.side, atSide}} {
			mark, ok := v.d.Mark(m.Name)
			if !ok || numbered && m.Kind != body.Girth {
				continue
			}
			for _, p := range mark.Near {
				f.trace(p, v.at, formMark)
			}
			for _, p := range mark.Far {
				f.trace(p, v.at, formFar)
			}
			if !numbered {
				to := v.at.Apply(mark.At)
				discs = append(discs, discAt{n: f.number[m.Name], to: to, at: to.Add(geom.Pt(float64(mark.Beside)*4.5, 0))})
			}
			numbered = true
		}
	}
	f.discs(discs, box)
}

// boxOf returns the box of a figure with the places of some measures.
func (f *form) boxOf(d *figure.Drawing, measures []*body.Measure) geom.Rect {
	box := geom.EmptyRect()
	for _, p := range d.Parts {
		box = box.Union(p.Outline.Bounds())
	}
	for _, m := range measures {
		if mark, ok := d.Mark(m.Name); ok {
			for _, p := range append(append([]geom.Path{}, mark.Near...), mark.Far...) {
				box = box.Union(p.Bounds())
			}
		}
	}
	return box
}

// figure draws the silhouette: the parts of a layer are lined first and then filled,
// so that they run into one another.
func (f *form) figure(d *figure.Drawing, at geom.Affine) {
	last := 0
	for _, p := range d.Parts {
		last = max(last, p.Layer)
	}
	for layer := 0; layer <= last; layer++ {
		for _, p := range d.Parts {
			if p.Layer == layer {
				f.trace(p.Outline, at, formRim)
			}
		}
		for _, p := range d.Parts {
			if p.Layer == layer {
				f.fillPath(p.Outline.Transform(at), formCloth)
			}
		}
	}
	for _, p := range d.Details {
		f.trace(p, at, formDetail)
	}
}

// discAt is the number of a measure beside its place.
type discAt struct {
	n      int
	at, to geom.Point
}

// discs draws numbers beside their places, moved apart where they would lie on one
// another, with a thin line from each that went far.
func (f *form) discs(list []discAt, box geom.Rect) {
	const apart = 5.0
	for range 200 {
		moved := false
		for i := range list {
			for j := range i {
				d := list[i].at.Sub(list[j].at)
				gap := apart - d.Len()
				if gap <= 1e-3 {
					continue
				}
				way := d.Unit()
				if way == (geom.Point{}) {
					way = geom.Pt(0, 1)
				}
				// Up and down rather than to the side, where the figure is.
				way = geom.Pt(0.5*way.X, way.Y+math.Copysign(0.2, way.Y)).Unit().Mul(gap / 2)
				list[i].at, list[j].at = list[i].at.Add(way), list[j].at.Sub(way)
				moved = true
			}
		}
		for i := range list {
			at := &list[i].at
			at.X = max(min(at.X, box.Max.X), box.Min.X)
			at.Y = max(min(at.Y, box.Max.Y), box.Min.Y)
		}
		if !moved {
			break
		}
	}
	for _, d := range list {
		f.line(d.at, d.to, formLeader)
	}
	for _, d := range list {
		f.disc(d.at, d.n)
	}
}
