package draft

import (
	"math"
	"slices"

	"hemlet/geom"
)

// edgeShape is the shape of one edge of an outline wherever it lies: the same for the
// piece moved or turned, another one for its mirror image.
type edgeShape struct {
	id ID
	// length is along the edge and chord straight across, in mm.
	length, chord float64
	// starts and ends are the angles in radians within the piece at the two corners.
	starts, ends float64
	// via are places along the edge in the frame of its chord: along it, and out of the
	// piece.
	via [edgeShapePlaces]geom.Point
}

// edgeShapePlaces is in how many places edges are held against each other.
const edgeShapePlaces = 7

// shapeOf returns the shapes of the edges of a piece in order.
func shapeOf(p *Piece) []edgeShape {
	out := make([]edgeShape, len(p.Edges))
	for i := range p.Edges {
		e := edgeShape{id: p.Edges[i].ID, starts: p.cornerAngle(i), ends: p.cornerAngle((i + 1) % len(p.Edges))}
		run := geom.NewRun(p.EdgePath(i))
		e.length = run.Length()
		path := p.EdgePath(i)
		a := path.Start()
		along := path.End().Sub(a).Unit()
		e.chord = path.End().Dist(a)
		for k := range e.via {
			place, ok := run.At(e.length * float64(k+1) / (edgeShapePlaces + 1))
			if !ok {
				continue
			}
			v := run.Point(place).Sub(a)
			e.via[k] = geom.Pt(v.Dot(along), -along.Cross(v))
		}
		out[i] = e
	}
	return out
}

// mirroredShape returns the shape of the mirror image.
func mirroredShape(shape []edgeShape) []edgeShape {
	out := make([]edgeShape, len(shape))
	for i, e := range shape {
		m := edgeShape{id: e.id, length: e.length, chord: e.chord, starts: e.ends, ends: e.starts}
		for k, v := range e.via {
			m.via[edgeShapePlaces-1-k] = geom.Pt(e.chord-v.X, v.Y)
		}
		out[len(shape)-1-i] = m
	}
	return out
}

// shapeAngle is by how much, in radians, two corners may differ and be alike: 2 degrees,
// as a set square draws them. (Common practice, no source.)
const shapeAngle = 2 * math.Pi / 180

// alikeWithin reports whether two edges have the same shape, to within limit mm.
func (e edgeShape) alikeWithin(o edgeShape, limit float64) bool {
	if math.Abs(e.length-o.length) > limit || math.Abs(e.starts-o.starts) > shapeAngle || math.Abs(e.ends-o.ends) > shapeAngle {
		return false
	}
	for k := range e.via {
		if e.via[k].Dist(o.via[k]) > limit {
			return false
		}
	}
	return true
}

// drawnAlike reports whether one outline lies on the other, whichever edge it begins with.
func drawnAlike(a, b []edgeShape) bool {
	if len(a) != len(b) {
		return false
	}
	for shift := range b {
		if liesOn(a, b, shift) {
			return true
		}
	}
	return false
}

func liesOn(a, b []edgeShape, shift int) bool {
	for i := range a {
		if !a[i].alikeWithin(b[(i+shift)%len(b)], seamLimit(a[i].length)) {
			return false
		}
	}
	return true
}

// ownMirrorImage reports whether the piece is its own mirror image, its notches included:
// turned over it serves as well.
func (p *Piece) ownMirrorImage() bool {
	shape := shapeOf(p)
	mirror := mirroredShape(shape)
	for shift := range mirror {
		if liesOn(shape, mirror, shift) && p.notchesMirrored(shape, mirror, shift) {
			return true
		}
	}
	return false
}

// notchesMirrored reports whether each notch has one that is alike at its mirror image.
func (p *Piece) notchesMirrored(shape, mirror []edgeShape, shift int) bool {
	twin := make(map[ID]ID, len(shape))
	for i := range shape {
		twin[shape[i].id] = mirror[(i+shift)%len(mirror)].id
	}
	at := func(n Notch) float64 {
		_, i := p.Edge(n.Edge)
		if i < 0 {
			return 0
		}
		return n.Along(p.EdgeLength(i))
	}
	for _, n := range p.Notches {
		_, i := p.Edge(n.Edge)
		if i < 0 {
			continue
		}
		length := p.EdgeLength(i)
		met := slices.ContainsFunc(p.Notches, func(o Notch) bool {
			return o.Edge == twin[n.Edge] && o.Double == n.Double && math.Abs(length-at(n)-at(o)) <= seamLimit(length)
		})
		if !met {
			return false
		}
	}
	return true
}
