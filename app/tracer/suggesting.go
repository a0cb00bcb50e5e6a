package tracer

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/regular"
	"hemlet/geom/trace"
)

// fitted returns the outline as it was fitted, for what makes it more regular.
func (l *line) fitted() regular.Outline {
	return regular.Outline{Path: l.as.Path, Corner: l.as.Corner}
}

// leastMove is how far in mm an offer has to move the line: a seventh of the width of a sharp
// pencil's line is seen by nobody, and cut by no hand.
const leastMove = 0.03

// offer takes up what is nearly regular about the line.
func (l *line) offer(found []regular.Suggestion) {
	l.offers, l.keeps, l.offered = nil, nil, true
	for _, s := range found {
		if s.Off < leastMove {
			l.keeps = append(l.keeps, s)
		} else {
			l.offers = append(l.offers, s)
		}
	}
}

// with returns the line as it would be with so many of its offers taken, and what does not
// go together with the rest.
func (l *line) with(took []int) (regular.Outline, *regular.ConflictError, error) {
	var take []regular.Suggestion
	for _, i := range took {
		take = append(take, l.offers[i])
	}
	if len(take) > 0 {
		take = append(take, l.keeps...)
	}
	out, _, err := regular.Apply(l.fitted(), take)
	var conflict *regular.ConflictError
	if errors.As(err, &conflict) {
		return out, conflict, nil
	}
	return out, nil, err
}

// settle takes offers and no others; it returns in plain words what could not be taken
// with the rest.
func (l *line) settle(took []int) (refused string, err error) {
	out, conflict, err := l.with(took)
	if err != nil {
		return "", err
	}
	if conflict != nil {
		var names []string
		took = slices.DeleteFunc(slices.Clone(took), func(i int) bool {
			is := slices.ContainsFunc(conflict.Refused, func(s regular.Suggestion) bool { return sameOffer(s, l.offers[i]) })
			if is {
				names = append(names, offerTitle(l.offers[i].Kind))
			}
			return is
		})
		if len(names) > 0 { // else it was only something that held before
			refused = "Left out: " + wording.List(names) + ", " + conflict.Why + "."
		}
	}
	l.took, l.Path, l.Corner = took, out.Path, out.Corner
	l.Off = trace.Review(l.Path, l.Ink)
	return refused, nil
}

func sameOffer(a, b regular.Suggestion) bool {
	return a.Kind == b.Kind && slices.Equal(a.Edges, b.Edges) && slices.Equal(a.Corners, b.Corners) && a.Off == b.Off
}

// offerTitle says in plain words what taking a suggestion does.
func offerTitle(k regular.Kind) string {
	switch k {
	case regular.Straight:
		return "straight edge"
	case regular.Square:
		return "square corner"
	case regular.Smooth:
		return "smooth corner"
	case regular.Upright:
		return "upright edge"
	case regular.Level:
		return "level edge"
	case regular.Parallel:
		return "parallel edges"
	case regular.Equal:
		return "equally long edges"
	case regular.Abreast:
		return "corners at one height"
	case regular.InLine:
		return "corners above one another"
	case regular.Symmetric:
		return "both halves alike"
	case regular.OnFold:
		return "edge for the fold"
	}
	return k.String()
}

// offerSays says by how much it is missed and what it costs.
func offerSays(s regular.Suggestion, u draft.Unit) string {
	missed := fineLength(s.Misses, u)
	switch s.Kind {
	case regular.Square, regular.Smooth, regular.Upright, regular.Level, regular.Parallel, regular.OnFold:
		digits, degrees := 1, s.Misses*180/math.Pi
		if degrees < 0.1 { // which moves the end of a long edge yet
			digits = 2
		}
		missed = fmt.Sprintf("%.*f°", digits, degrees)
	}
	return strings.ReplaceAll("now off by "+missed+" · moves it by "+fineLength(s.Off, u), "less than ", "<")
}

// edgesOf returns the edges of a path between its corners, in the order in which
// suggestions count them, and the corners at which they begin.
func edgesOf(p geom.Path, corner []bool) (edges []geom.Path, corners []geom.Point) {
	var at []int
	closed := p.Closed()
	for i := range p {
		if i < len(corner) && corner[i] || i == 0 && !closed {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		for i := range p {
			at = append(at, i)
		}
	}
	for k, from := range at {
		corners = append(corners, p[from].P0)
		to := len(p)
		if k+1 < len(at) {
			to = at[k+1]
		}
		edge := slices.Clone(p[from:to])
		if k == len(at)-1 && closed {
			edge = append(edge, p[:at[0]]...)
		}
		edges = append(edges, edge)
	}
	if !closed && len(p) > 0 {
		corners = append(corners, p.End())
	}
	return edges, corners
}
