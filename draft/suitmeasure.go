package draft

import (
	"math"
	"slices"

	"hemlet/draft/body"
	"hemlet/geom"
)

// SuitingMeasures lists the measures of the catalogue that a stretch of a piece can sensibly
// stand for, by what its edges are on the garment or, where they are nothing of their own or
// the stretch goes between points, by what its piece covers and how it runs in the cloth: a
// side seam is no girth, and a hem no length of a back. It is empty where neither tells.
// Lengths are not looked at. (Which measure is found where is common practice, no source.)
func (s *Slots) SuitingMeasures(p *Project, piece *Piece, span Span) []string {
	pa := s.Anatomy(p).Of(piece.ID)
	if pa == nil || pa.Part == PartUnknown {
		return nil
	}
	if list := pa.suitEdge(pa.partOf(span)); list != nil {
		return list
	}
	return pa.suitWay(piece.wayOf(span, pa.Up))
}

// partOf returns what all edges of a stretch are, EdgeUnknown where they differ.
func (pa *PieceAnatomy) partOf(span Span) EdgePart {
	part := EdgeUnknown
	for k, id := range span.Edges {
		i := slices.IndexFunc(pa.Edges, func(e EdgeAnatomy) bool { return e.Edge == id })
		if i < 0 || k > 0 && pa.Edges[i].Part != part {
			return EdgeUnknown
		}
		part = pa.Edges[i].Part
	}
	return part
}

// suitEdge lists the measures for an edge, nil where such an edge stands for none of its own.
func (pa *PieceAnatomy) suitEdge(part EdgePart) []string {
	switch part {
	case AtNeck:
		return []string{"neck_base_girth", "head_girth"}
	case AtShoulder:
		return []string{"shoulder_length"}
	case AtArmhole, AtCap:
		return []string{"armscye_girth", "upper_arm_girth"}
	case AtUnderarm:
		return []string{"arm_length"}
	case AtWrist:
		return []string{"wrist_girth", "hand_girth", "elbow_girth", "upper_arm_girth"}
	case AtCrotch:
		return []string{"body_rise", "waist_to_hip"}
	case AtInsideLeg:
		return []string{"inside_leg"}
	case AtAnkle:
		return []string{"ankle_girth", "heel_girth", "knee_girth", "thigh_girth"}
	case AtWaist:
		return pa.levels("waist")
	case AtHem:
		return pa.levels("hip", "belly", "waist")
	case AtCentreFront:
		return pa.downTheMiddle(AspectFront)
	case AtCentreBack:
		return pa.downTheMiddle(AspectBack)
	case AtCentre:
		return pa.downTheMiddle(pa.Aspect)
	case AtSide:
		if pa.Part == PartTrunk {
			return []string{"back_waist_length", "front_waist_length", "waist_to_hip", "waist_to_belly", "neck_height"}
		}
		return []string{"waist_to_hip", "body_rise", "waist_height"}
	case AtOuter:
		return pa.roundBand()
	}
	return nil
}

// levels lists the measures round the body at levels, those of the side that the piece covers
// before those all round.
func (pa *PieceAnatomy) levels(levels ...string) []string {
	var out []string
	for _, level := range levels {
		switch pa.Aspect {
		case AspectFront:
			out = append(out, body.ArcFrontOf(level))
		case AspectBack:
			out = append(out, body.ArcBackOf(level))
		}
	}
	for _, level := range levels {
		out = append(out, body.GirthOf(level))
	}
	return out
}

// downTheMiddle lists the lengths down the middle of the body, in front or at the back.
func (pa *PieceAnatomy) downTheMiddle(aspect Aspect) []string {
	below := []string{"waist_to_hip", "waist_to_belly", "body_rise"}
	if pa.Part != PartTrunk {
		return append(below, "waist_height")
	}
	front, back := []string{"front_waist_length"}, []string{"back_waist_length", "armscye_depth"}
	switch aspect {
	case AspectFront:
		back = nil
	case AspectBack:
		front = nil
	}
	return append(slices.Concat(front, back, below), "neck_height")
}

// roundBand lists what a band goes round, nil for what is no band.
func (pa *PieceAnatomy) roundBand() []string {
	switch pa.Part {
	case PartNeckBand:
		return []string{"neck_base_girth", "head_girth"}
	case PartCuff:
		return []string{"wrist_girth", "hand_girth", "elbow_girth", "upper_arm_girth"}
	case PartWaistBand:
		return pa.levels("waist", "hip")
	}
	return nil
}

// stretchWay is how a stretch runs on the body.
type stretchWay int

const (
	wayBent stretchWay = iota
	wayDown
	wayAcross
)

// steepWay is how many times as far as the other way a stretch goes down, or across, to
// count as that, and straightWay how much of its length its ends lie apart at least.
const (
	steepWay    = 2.0
	straightWay = 0.93
)

// wayOf returns how a stretch runs on a body whose head lies in the direction up.
func (p *Piece) wayOf(span Span, up geom.Point) stretchWay {
	from, to := p.AnyNode(span.From), p.AnyNode(span.To)
	if len(span.Edges)+len(span.Lines) > 0 || from == nil || to == nil {
		return p.wayAlong(span, up)
	}
	switch {
	case span.Way == Straight:
		return wayBetween(from.At, to.At, up)
	case (span.Way == AlongGrain) == (math.Abs(p.GrainWay().Dot(up)) > 0.5):
		return wayDown
	}
	return wayAcross
}

// wayAlong returns how a stretch along one edge or line runs.
func (p *Piece) wayAlong(span Span, up geom.Point) stretchWay {
	var path geom.Path
	switch {
	case len(span.Edges) == 1 && len(span.Lines) == 0:
		if _, i := p.Edge(span.Edges[0]); i >= 0 {
			path = p.EdgePath(i)
		}
	case len(span.Lines) == 1 && len(span.Edges) == 0:
		if l := p.Line(span.Lines[0]); l != nil {
			path = l.Path()
		}
	}
	if len(path) == 0 || path.Start().Dist(path.End()) < straightWay*path.Length() {
		return wayBent
	}
	return wayBetween(path.Start(), path.End(), up)
}

func wayBetween(from, to, up geom.Point) stretchWay {
	d := to.Sub(from)
	down, across := math.Abs(d.Dot(up)), math.Abs(d.Cross(up))
	switch {
	case down > steepWay*across:
		return wayDown
	case across > steepWay*down:
		return wayAcross
	}
	return wayBent
}

// suitWay lists the measures for a stretch that runs so on the piece.
func (pa *PieceAnatomy) suitWay(way stretchWay) []string {
	switch pa.Part {
	case PartTrunk:
		return pa.suitTrunk(way)
	case PartSleeve:
		if way == wayDown {
			return []string{"arm_length"}
		}
		return []string{"upper_arm_girth", "elbow_girth", "wrist_girth", "hand_girth", "armscye_girth"}
	case PartSkirt:
		if way == wayDown {
			return pa.downTheMiddle(pa.Aspect)
		}
		return pa.levels("waist", "hip", "belly")
	case PartLeg:
		if way == wayDown {
			return append(pa.downTheMiddle(pa.Aspect), "inside_leg")
		}
		return append([]string{"thigh_girth", "knee_girth", "ankle_girth", "heel_girth"}, pa.levels("waist", "hip")...)
	}
	if way == wayDown {
		return nil // how wide a band is, style says
	}
	return pa.roundBand()
}

func (pa *PieceAnatomy) suitTrunk(way stretchWay) []string {
	round := pa.levels("bust", "waist", "belly", "hip")
	widths := []string{"front_width", "bust_point_distance", "back_width"}
	switch pa.Aspect {
	case AspectFront:
		widths = widths[:2]
	case AspectBack:
		widths = widths[2:]
	}
	switch way {
	case wayDown:
		return append(pa.downTheMiddle(pa.Aspect), "shoulder_drop")
	case wayAcross:
		return slices.Concat(widths, round, []string{"neck_base_girth"})
	}
	return slices.Concat([]string{"shoulder_length", "neck_base_girth", "armscye_girth"}, round)
}
