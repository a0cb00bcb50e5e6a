package station

import (
	"hemlet/app/bench"
	"hemlet/draft"
)

// strainPictures holds the pictures of how the cloth has changed. They are worked out aside,
// once for each fit and way; where fits follow one another quicker, the last one is.
type strainPictures struct {
	f *Fitting
	// asked is what is to be shown, shown what list shows.
	asked, shown strainFor
	list         []strainPicture
	working      bool
	// document counts what was opened: what was worked out of one is not shown in another,
	// whose fit and pieces may have the same ids.
	document int
}

// strainFor says of what pictures are.
type strainFor struct {
	fit *draft.FitState
	of  strainOf
}

// same reports whether both are of the same.
func (s strainFor) same(t strainFor) bool { return s.of == t.of && s.fit.Same(t.fit) }

// forget drops what was worked out.
func (x *strainPictures) forget() {
	x.asked, x.shown, x.list = strainFor{}, strainFor{}, nil
	x.document++
}

// over draws the pictures of a fit, or until they are there those of the fit before it.
func (x *strainPictures) over(o *bench.Over, fit *draft.FitState, of strainOf) {
	x.want(strainFor{fit, of})
	if x.shown.of != of || x.shown.fit == nil || x.shown.fit.Derivation.ID != fit.Derivation.ID {
		return
	}
	for _, pic := range x.list {
		o.Patches = append(o.Patches, pic.patches...)
		if pic.most != 0 && strainShows(pic.most) {
			o.Notes = append(o.Notes, bench.OverNote{Piece: pic.piece, At: pic.at, Text: strainWords(pic.most)})
		}
	}
}

// want has pictures worked out that are not there yet.
func (x *strainPictures) want(on strainFor) {
	if on.same(x.asked) {
		return
	}
	if x.asked = on; !x.working {
		x.work()
	}
}

func (x *strainPictures) work() {
	x.working = true
	on, document := x.asked, x.document
	x.f.ways.Aside(func() func() {
		list := picturesOf(on.fit, on.of)
		return func() {
			x.working = false
			stale := x.document != document
			if !stale {
				x.shown, x.list = on, list
			}
			if x.asked.fit == nil {
				return
			}
			if stale || !x.asked.same(on) {
				x.work()
			}
			x.f.drawOver()
		}
	})
}

// picturesOf returns the pictures of all pieces of a fit.
func picturesOf(fit *draft.FitState, of strainOf) []strainPicture {
	var list []strainPicture
	for _, now := range fit.Pieces {
		if was := sourceOf(fit, now.ID); was != nil {
			list = append(list, pictureOf(fit, was, now, of))
		}
	}
	return list
}
