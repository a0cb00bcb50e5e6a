package tool

import (
	"strings"

	"hemlet/draft"
)

// Asked says how an act is done by hand: which of its arguments come from the pointer,
// in which order, and what is asked.
type Asked struct {
	Act draft.Named
	// Icon, Key and Word are for strip and menus; Word is what the trade calls the act,
	// Also by what other words it is found.
	Icon, Key, Word, Also string
	// First are words by which it is found before acts that are called so.
	First string
	// Under is the part of a menu in which the act stands with others like it, empty
	// where it stands alone; Gap leaves some room above it.
	Under string
	Gap   bool
	// Says is up to two lines about the act.
	Says string
	// Steps are asked one by one.
	Steps []Step
	// Fields are the parameters shown on the card, in order; the rest keep their
	// default.
	Fields []string
	// Labels are what the card calls parameters whose names do not say enough.
	Labels map[string]string
	// Unset are what a choice that is left open is called, and Hints what the card says of
	// a parameter, where the act's own words are for scripts.
	Unset, Hints map[string]string
	// Calls returns by parameter what its choices are called for what was given, where the
	// act's own words fit that less; parameters that it leaves out keep them.
	Calls func(Given) map[string][]string
	// Shares are numbers from 0 to 1 that the card shows as percentages.
	Shares []string
	// Begin returns what the fields hold at first, as the act reads it; fields that it
	// leaves out begin with what the act takes by itself.
	Begin func(Given) map[string]string
	// Instead says which fields are emptied when one is set, for they say the same in
	// another way.
	Instead map[string][]string
	// Always are parameters that the act has in any case, where it is one of several that
	// are done by hand with the same act.
	Always map[string]string
	// Paired says that of two things that are picked each goes to a step of its own.
	Paired bool
	// Again says that the act is ready for the next one once it is done.
	Again bool
}

// Step is one thing that is asked of the pointer.
type Step struct {
	// Param is the parameter that it fills; "from,to" for a stroke across a piece that
	// fills two places, "edge,at" for an edge and a place on it.
	Param string
	Take  Take
	// Many gathers until Enter.
	Many bool
	// Says is what to do: "Click the edge that gets fuller."
	Says string
	// Optional steps are passed over with Enter.
	Optional bool
}

// Take says what the pointer takes in a step.
type Take int

// What can be taken.
const (
	TakePiece Take = iota
	TakeEdge
	// TakePlace takes a place on an edge.
	TakePlace
	// TakeStroke takes two places on the outline of one piece.
	TakeStroke
	TakeLine
	TakeDart
	// TakePoint takes a place anywhere on the bench.
	TakePoint
	// TakeSpot takes the piece under the pointer and the place there.
	TakeSpot
	TakeSeam
	// TakeNode takes a point of an outline or a line.
	TakeNode
	TakeNotch
	TakeStretch
	// TakeRun takes edges in the order of sewing.
	TakeRun
	// TakeMark takes a notch, a stretch of an edge, a dimension or a line inside a piece.
	TakeMark
	// TakeLinePlace takes a line inside a piece and a place on it.
	TakeLinePlace
	// TakePicture takes a picture that lies under the pieces.
	TakePicture
	// TakeDrawn takes a line that is drawn from click to click.
	TakeDrawn
)

// params returns the names of the parameters that the step fills.
func (s Step) params() []string { return strings.Split(s.Param, ",") }

// ByKinds returns how an act is done by hand that nobody has said it of: what it needs
// is asked for by the kinds of its parameters.
func ByKinds(act draft.Named) *Asked {
	info := act.Info()
	a := &Asked{Act: act, Icon: iconOf(info.Group), Word: info.Title, Says: info.Says}
	params := act.Params()
	for i := 0; i < len(params); i++ {
		p := params[i]
		step, pointed := stepFor(p)
		if pointed && i+1 < len(params) {
			if both, ok := pairOf(p, params[i+1]); ok {
				step, i = both, i+1
			}
		}
		// What may be left out is left out, unless nothing says what else is meant.
		if pointed && p.Needed {
			a.Steps = append(a.Steps, step)
		}
		if !pointed {
			a.Fields = append(a.Fields, p.Name)
		}
	}
	return a
}

// pairOf returns the step that fills two parameters at once.
func pairOf(p, q draft.Param) (Step, bool) {
	switch {
	case p.Kind == kindEdge && !p.Many && q.Kind == kindAlong && q.Needed:
		return Step{Param: p.Name + "," + q.Name, Take: TakePlace, Says: "Click the place on the edge."}, true
	case p.Kind == kindLine && !p.Many && q.Kind == kindAlong && q.Needed:
		return Step{Param: p.Name + "," + q.Name, Take: TakeLinePlace, Says: "Click the place on the line."}, true
	case p.Kind == kindPlace && q.Kind == kindPlace && !p.Many && !q.Many && q.Needed:
		return Step{Param: p.Name + "," + q.Name, Take: TakeStroke, Says: "Draw across the piece, from edge to edge."}, true
	}
	return Step{}, false
}

// The kinds of parameters that the pointer can give, as draft tells them.
const (
	kindPiece   = "piece"
	kindEdge    = "edge"
	kindAlong   = `length or percentage along the edge, "from end" after it to measure from there`
	kindPlace   = "place on an edge"
	kindDart    = "dart"
	kindLine    = "line"
	kindSeam    = "seam"
	kindPoint   = "point"
	kindCorner  = "corner"
	kindNotch   = "notch"
	kindVector  = "two lengths, across and up"
	kindRun     = "edges in the order of sewing, each with /left, /far, /2 or /reversed where it needs one"
	kindDrawn   = "drawn line"
	kindStretch = "stretch"
	kindMark    = "mark"
	kindPicture = "picture"
)

// The kinds of parameters that are typed or chosen.
const (
	kindLength = "length"
	kindNumber = "number"
	kindWhole  = "whole number"
	kindAngle  = "angle in degrees"
)

// stepFor returns the step that asks for a parameter, and whether the pointer can give
// it.
func stepFor(p draft.Param) (Step, bool) {
	ask := func(t Take, says string) (Step, bool) {
		return Step{Param: p.Name, Take: t, Many: p.Many || t == TakeRun || t == TakeDrawn, Says: says, Optional: !p.Needed}, true
	}
	// Of what has several of a kind, what it says tells them apart.
	of := func(thing string) string { return "Click the " + thing + ": " + p.Says + "." }
	switch p.Kind {
	case kindPiece:
		return ask(TakePiece, of("piece"))
	case kindEdge:
		return ask(TakeEdge, of("edge"))
	case kindPlace:
		return ask(TakePlace, of("place on an edge"))
	case kindDart:
		return ask(TakeDart, of("dart"))
	case kindLine:
		return ask(TakeLine, of("line"))
	case kindSeam:
		return ask(TakeSeam, of("seam, on one of its edges"))
	case kindPoint, kindCorner:
		return ask(TakeNode, of("point"))
	case kindNotch:
		return ask(TakeNotch, of("notch"))
	case kindStretch:
		return ask(TakeStretch, of("stretch"))
	case kindMark:
		return ask(TakeMark, of("mark"))
	case kindPicture:
		return ask(TakePicture, of("picture"))
	case kindRun:
		return ask(TakeRun, "Click the edges in the order of sewing: "+p.Says+".")
	case kindDrawn:
		return ask(TakeDrawn, "Click from point to point: "+p.Says+".")
	case kindVector:
		if p.Name != "by" {
			return ask(TakePoint, of("place"))
		}
	}
	return Step{}, false
}

// iconOf returns the icon of acts under a heading that have none of their own.
func iconOf(group string) string {
	switch group {
	case "Points":
		return "node"
	case "Edges":
		return "edge"
	case "Seams":
		return "seam"
	case "Wearers":
		return "measure"
	case "Blocks":
		return "draft"
	}
	return "shape"
}
