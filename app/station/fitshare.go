package station

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/geom"
)

// shareWords says a share as people say it: 1/4, 1/2, all, else as a figure.
func shareWords(share float64) string {
	const near = 1e-6
	if math.Abs(share-1) < near {
		return "all"
	}
	for _, n := range []float64{2, 3, 4, 6, 8, 12, 16} {
		if math.Abs(share*n-1) < near {
			return "1/" + strconv.Itoa(int(n))
		}
	}
	for _, n := range []float64{3, 4} {
		if k := share * n; math.Abs(k-math.Round(k)) < near && k > 1 && k < n {
			return fmt.Sprintf("%.0f/%.0f", k, n)
		}
	}
	return strconv.FormatFloat(math.Round(share*1e3)/1e3, 'f', -1, 64)
}

// measureShort names a measure in as few words as there can be.
func measureShort(name string) string { return strings.ReplaceAll(name, "_", " ") }

// measureEntry names a measure in a list to choose from: by the words that the table has for
// it, then as people say it where that is something else.
func measureEntry(name string) string {
	short, words := measureShort(name), body.Words(name)
	if short == words {
		return sentence(short)
	}
	return sentence(short) + ": " + words
}

// farTooSmallShare is from which part of what a stretch stands for on it is so much smaller
// than the body that it rather stands for something else: only cloth that stretches much is
// cut a tenth smaller. (Common practice, no source.)
const farTooSmallShare = 0.1

// farTooSmall reports whether an ease, in mm, is far below what cloth allows round that much of
// the body.
func farTooSmall(ease, round float64) bool { return ease < -farTooSmallShare*round }

// standsFor says which part of which measure a span stands for.
func standsFor(measure string, share float64) string {
	if share == 1 {
		return measureShort(measure)
	}
	return shareWords(share) + " of " + measureShort(measure)
}

// sharesOf returns the parts of a measure of the kind that a stretch of one piece stands
// for: of girths the halves and quarters that pieces and folds make.
func sharesOf(k body.Kind) []float64 {
	switch k {
	case body.Girth:
		return []float64{0.25, 0.5, 1}
	case body.Width, body.Arc:
		return []float64{0.5, 1}
	}
	return []float64{1}
}

// guess is what a stretch may stand for.
type guess struct {
	measure string
	share   float64
	ease    float64 // mm, 0 where nothing is known of the body
	apart   float64
	// suits says that such a stretch stands for such a measure.
	suits bool
}

// guessing is what is known of a stretch of which is guessed what it stands for.
type guessing struct {
	// known is the body that the pattern was made for, wearer the one that it is to fit; each
	// nil where nothing is known.
	known, wearer *body.Body
	length        float64
	runs          course
	// suits are the measures that such a stretch can stand for, none where nothing tells.
	suits []string
}

// guesses lists what a stretch may stand for, the likeliest first: what suits it, and of that
// what is nearest to its length, for patterns are made with a little ease. Of what not every
// body has, such as a tail, only what one of the bodies has is there.
func (x guessing) guesses() []guess {
	var out []guess
	for _, m := range body.Catalogue() {
		suits := slices.Contains(x.suits, m.Name)
		if m.Kind == body.Height && !suits || m.Group == oddGroup && !has(x.known, m.Name) && !has(x.wearer, m.Name) {
			continue
		}
		g := guess{measure: m.Name, share: sharesOf(m.Kind)[0], apart: math.Inf(1), suits: suits}
		if k, ok := x.get(m.Name); ok {
			g = closest(g, m, k.Value, x.length, x.runs)
		}
		out = append(out, g)
	}
	slices.SortStableFunc(out, func(a, b guess) int {
		if a.suits != b.suits {
			return cmp.Compare(x.rank(a), x.rank(b))
		}
		return cmp.Compare(a.apart, b.apart)
	})
	return out
}

// oddGroup is the group of the measures that not every body has.
const oddGroup = "Muzzle, ears and tail"

// has reports whether a measure of the body was taken.
func has(b *body.Body, name string) bool {
	if b == nil {
		return false
	}
	k, ok := b.Get(name)
	return ok && k.Taken()
}

func (x guessing) get(name string) (body.Known, bool) {
	if x.known == nil {
		return body.Known{}, false
	}
	return x.known.Get(name)
}

func (x guessing) rank(g guess) int {
	if g.suits {
		return 0
	}
	return 1
}

// offered returns the guesses that are offered first, and the others.
func (x guessing) offered() (first, others []guess) {
	list := x.guesses()
	n := mostChips
	if k := slices.IndexFunc(list, func(g guess) bool { return !g.suits }); k > 0 {
		n = min(n, k)
	}
	return list[:n], list[n:]
}

// What speaks against a guess, as a share of the length: that a piece is a little smaller
// than the body, that a length is found across the grain or a girth along it, and that only
// style says which part of a height it is.
const (
	againstTight = 1.6
	againstWay   = 0.45
	againstStyle = 0.6
)

// closest returns the share of a measure that is nearest to the length.
func closest(g guess, m *body.Measure, mm, length float64, runs course) guess {
	if m.Kind == body.Height {
		g.share, g.apart = math.Round(length/mm*styleShares)/styleShares, againstStyle
		g.ease = math.Round((length-g.share*mm)*10) / 10
		return g
	}
	for _, share := range sharesOf(m.Kind) {
		apart := math.Log(length / (share * mm))
		if apart < 0 {
			apart *= -againstTight
		}
		if along := m.Kind == body.Length; along && runs == runsAcross || !along && runs == runsAlong {
			apart += againstWay
		}
		if apart < g.apart {
			g.share, g.apart, g.ease = share, apart, math.Round((length-share*mm)*10)/10
		}
	}
	return g
}

// styleShares is by which figure a part of a height is rounded.
const styleShares = 1e3

// course is how a stretch runs in the cloth.
type course int

const (
	runsBent course = iota
	runsAlong
	runsAcross
)

// courseOf returns how a way from one point of a piece to another, of the length, runs.
func courseOf(p *draft.Piece, from, to geom.Point, length float64) course {
	d := to.Sub(from)
	const straight, steep = 0.93, 2.0
	if d.Len() < straight*length || d.Len() == 0 {
		return runsBent
	}
	up := p.GrainWay()
	along, across := math.Abs(d.Dot(up)), math.Abs(d.Cross(up))
	switch {
	case along > steep*across:
		return runsAlong
	case across > steep*along:
		return runsAcross
	}
	return runsBent
}
