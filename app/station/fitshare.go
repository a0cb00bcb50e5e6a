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
}

// guesses lists what a stretch of the length, which runs along the grain, across it or
// round a bend, may stand for, the likeliest first: patterns are made with a little ease.
func guesses(known *body.Body, length float64, runs course) []guess {
	best := map[string]guess{}
	var names []string
	for _, m := range append(body.Asked(), body.Catalogue()...) {
		if _, twice := best[m.Name]; twice || m.Kind == body.Height {
			continue
		}
		g := guess{measure: m.Name, share: sharesOf(m.Kind)[0], apart: math.Inf(1)}
		if known != nil {
			if k, ok := known.Get(m.Name); ok {
				g = closest(g, m, k.Value, length, runs)
			}
		}
		best[m.Name] = g
		names = append(names, m.Name)
	}
	out := make([]guess, len(names))
	for i, n := range names {
		out[i] = best[n]
	}
	slices.SortStableFunc(out, func(a, b guess) int { return cmp.Compare(a.apart, b.apart) })
	return out
}

// What speaks against a guess, as a share of the length: that a piece is a little smaller
// than the body, and that a length is found across the grain or a girth along it.
const (
	againstTight = 1.6
	againstWay   = 0.45
)

// closest returns the share of a measure that is nearest to the length.
func closest(g guess, m *body.Measure, mm, length float64, runs course) guess {
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
