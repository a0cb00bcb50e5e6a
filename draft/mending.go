package draft

import (
	"math"
	"strings"

	"hemlet/geom"
)

// mend offers an act that puts the finding right; args are names of arguments, each with
// its value after it.
func (f *Finding) mend(title, act string, args ...string) {
	f.Mends = append(f.Mends, newMend(title, act, args...))
}

// newMend returns an act as a mend; args are names of arguments, each with its value after it.
func newMend(title, act string, args ...string) Mend {
	m := Mend{Title: title, Act: act, Args: make(map[string]string, len(args)/2)}
	for i := 0; i+1 < len(args); i += 2 {
		m.Args[args[i]] = args[i+1]
	}
	return m
}

// edgeText names an edge of a piece in the arguments of a mend.
func (p *Piece) edgeText(e *Edge) string { return partText(p.ID, e.ID) }

// edgesText names several edges of a piece.
func (p *Piece) edgesText(edges []*Edge) string {
	words := make([]string, len(edges))
	for i, e := range edges {
		words[i] = p.edgeText(e)
	}
	return strings.Join(words, " + ")
}

// onBench writes a place of the piece as it lies on the bench.
func (p *Piece) onBench(at geom.Point) string {
	q := p.Place.Affine().Apply(at)
	return exactFigure(toGrid(q.X)) + "mm," + exactFigure(toGrid(q.Y)) + "mm"
}

// roundDown returns a width in mm that a ruler shows and that is not above the one given:
// a half millimetre, or below one a tenth.
func roundDown(mm float64) float64 {
	step := 0.5
	if mm < 1 {
		step = 0.1
	}
	return toGrid(math.Floor(mm/step+Grid) * step)
}

// offerSeamMends offers what brings the sides of a seam to the lengths that are meant,
// the least surprising first: a side that can change at a hem comes before one that changes
// another edge with it.
func (f *Finding) offerSeamMends(p *Project, st SeamState) {
	seam := idText(st.Seam.ID)
	long, short := SideB, SideA
	if (st.Seam.Fuller == SideA) == (st.Diff > 0) {
		long, short = SideA, SideB
	}
	canLong, canShort := p.runMoves(st.Seam.run(long)), p.runMoves(st.Seam.run(short))
	first := func() {
		if canLong {
			f.mendSide(p, st.Seam, long, "shorter")
		}
	}
	second := func() {
		if canShort {
			f.mendSide(p, st.Seam, short, "longer")
		}
	}
	if canLong && canShort && p.sidesCost(st.Seam, short) < p.sidesCost(st.Seam, long) {
		first, second = second, first
	}
	first()
	second()
	if canLong && canShort {
		f.mend("Let both meet between", "match-seam", "seam", seam)
	}
	switch _, ratio := st.AsItIs(); {
	case ratio <= 1 || ratio > MaxRatio:
	case ratio <= easeTo:
		f.mend("Ease the longer side in", "take-up", "seam", seam, "as", Ease.String())
	case ratio >= gathersFrom && st.Seam.Fullness == Gathers:
		f.mend("Keep the gathers as full as they are", "take-up", "seam", seam, "as", Gathers.String())
	case ratio >= gathersFrom:
		f.mend("Gather the longer side", "take-up", "seam", seam, "as", Gathers.String())
	default:
		f.mend("Keep both lengths as they are", "ratio-as-it-is", "seam", seam)
	}
}

// mendSide offers to make one side longer or shorter. Strips that are gathered stay
// strips: moved by an end of the seam alone, their ends would slant.
func (f *Finding) mendSide(p *Project, s *Seam, side Side, what string) {
	title := "Make the " + p.runLabel(s.run(side)) + " " + what
	if s.Fullness != Plain && side == s.Fuller {
		if _, strips := p.stripsOf(s.run(side)); strips {
			f.mend(title, "set-fullness", "seam", idText(s.ID))
			return
		}
	}
	f.mend(title, "match-seam", "seam", idText(s.ID), "gives", side.String())
}

// runMoves reports whether the pieces of a run may be changed.
func (p *Project) runMoves(run Run) bool {
	for _, u := range run {
		if piece := p.Piece(u.Piece); piece == nil || mayGive(piece) != nil {
			return false
		}
	}
	return len(run) > 0
}

// offerOfProject offers what only the project as a whole can: its cloths, and partners for
// edges that have none.
func (s *Slots) offerOfProject(p *Project, findings []Finding) {
	look := s.lookupIn(p)
	few := s.freeEdges(p) <= mostFree
	for i := range findings {
		f := &findings[i]
		piece := look.pieces[f.Piece]
		if piece == nil {
			continue
		}
		switch f.Key {
		case "piece/" + string(piece.ID) + "/cloth":
			f.Mends = p.clothMends(piece)
		case "piece/" + string(piece.ID) + "/partners":
			if few {
				f.Mends = append(s.partnerMends(p, piece), f.Mends...)
			}
		}
	}
}

// mostOffered is how many of one kind of mend a finding offers.
const mostOffered = 3

func (p *Project) clothMends(piece *Piece) []Mend {
	var f Finding
	for i, c := range p.Cloths {
		if i == mostOffered {
			break
		}
		f.mend("Cut it from "+labelOf(c.Name, c.ID), "set-cloth", "pieces", idText(piece.ID), "cloth", string(c.ID))
	}
	return f.Mends
}

// mostFree is up to how many edges without a partner suggestions are offered with each
// step of a drag; a heap of pieces just brought in asks for them all at once instead.
const mostFree = 60

func (s *Slots) partnerMends(p *Project, piece *Piece) []Mend {
	var list []Mend
	for _, sg := range s.SuggestSeams(p) {
		onA, _ := sg.A.on(piece.ID)
		onB, _ := sg.B.on(piece.ID)
		if (onA || onB) && len(list) < mostOffered {
			list = append(list, sg.Mend(p))
		}
	}
	return list
}

// freeEdges counts the edges that are sewn to nothing.
func (s *Slots) freeEdges(p *Project) int {
	bare := s.bareOf(p)
	return slotOf(s, "free edges", "", slotInputs{bare}, func() int { return bare.freeEdges(s.bareLookup(bare)) })
}

// freeEdges counts the edges without a partner of a project, which may be bare.
func (p *Project) freeEdges(look *lookup) int {
	n := 0
	for _, piece := range p.Pieces {
		for i := range piece.Edges {
			if e := &piece.Edges[i]; e.Kind == SeamEdge && !look.sewn[edgeKey{piece.ID, e.ID}] {
				n++
			}
		}
	}
	return n
}

// Mend returns what records the seam.
func (sg SeamSuggestion) Mend(p *Project) Mend {
	var f Finding
	args := []string{"a", p.RunText(sg.A), "b", p.RunText(sg.B), "ends", EndsAsGiven.String(), "both-sides", "no"}
	if sg.BothSides {
		args[len(args)-1] = "yes"
	}
	if sg.Ratio != 1 {
		args = append(args, "ratio", exactFigure(toGrid(sg.Ratio)), "fuller", sg.Fuller.String(), "fullness", sg.Fullness.String())
	}
	f.mend("Sew the "+p.runLabel(sg.A)+" to the "+p.runLabel(sg.B), "link-seam", args...)
	return f.Mends[0]
}
