package figure

import (
	"math"
	"slices"

	"hemlet/draft/body"
)

// source answers for every measure that the drawing needs: from the body where that
// knows it, else from the proportions of the build.
type source struct {
	build Build
	known func(name string) (body.Known, bool)
	// scale is the stature that the proportions are drawn at, in mm.
	scale float64
}

func newSource(known func(string) (body.Known, bool), build Build) *source {
	if _, ok := typical[build]; !ok {
		build = Upright
	}
	s := &source{build: build, known: known}
	s.scale = s.size()
	return s
}

// usualStature is that of a figure of which nothing is known, in mm: any would do.
const usualStature = 1000

// size returns the stature, or the one that fits the measures that are known best.
func (s *source) size() float64 {
	if mm, ok := s.given("stature"); ok {
		return mm
	}
	var all []float64
	for name, share := range typical[s.build] {
		if mm, ok := s.given(name); ok {
			all = append(all, mm/share)
		}
	}
	if len(all) > 0 {
		slices.Sort(all)
		return all[len(all)/2]
	}
	if k, ok := s.known("stature"); ok && usable(k.Value) {
		return k.Value
	}
	return usualStature
}

func usable(mm float64) bool { return mm > 0 && !math.IsInf(mm, 1) }

// given returns a measure that was taken.
func (s *source) given(name string) (float64, bool) {
	k, ok := s.known(name)
	return k.Value, ok && !k.Estimated && usable(k.Value)
}

// height returns a height that was taken or, as estimates are made for human bodies,
// estimated for an upright one.
func (s *source) height(name string) (float64, bool) {
	if mm, ok := s.given(name); ok {
		return mm, true
	}
	k, ok := s.known(name)
	return k.Value, ok && usable(k.Value) && s.build == Upright
}

// down returns a length down the trunk that was taken or, where the length of the
// back was, estimated from that: blocks are drafted with the same.
func (s *source) down(name string) (float64, bool) {
	if mm, ok := s.given(name); ok {
		return mm, true
	}
	k, ok := s.known(name)
	_, back := s.given("back_waist_length")
	return k.Value, ok && back && usable(k.Value)
}

// get returns a measure, estimated or of the build's proportions where it was not
// taken.
func (s *source) get(name string) float64 {
	k, ok := s.known(name)
	ok = ok && usable(k.Value)
	if ok && k.Estimated && s.build != Upright && ownShape[name] {
		ok = false
	}
	if ok {
		return k.Value
	}
	return typical[s.build][name] * s.scale
}

// ring returns the level of that name, with the arcs where they are known.
func (s *source) ring(level string, depthShare float64) ring {
	girth := s.get(level + "_girth")
	front, back := girth/2, girth/2
	if k, ok := s.known(level + "_arc_front"); ok && usable(k.Value) {
		front, back = k.Value, girth-k.Value
	}
	if k, ok := s.known(level + "_arc_back"); ok && usable(k.Value) {
		back = k.Value
	}
	return ringOf(girth, depthShare, front, back)
}
