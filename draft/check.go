package draft

import (
	"fmt"
	"sort"
)

// Report is everything that the checks of a project say.
type Report struct {
	Seams    []SeamState
	Spans    []SpanState
	Girths   []Girth
	Findings []Finding
}

// Check runs every check of the project's pattern; see Project.Pattern. Findings come problems first, then in
// the order of the pieces and seams. Only what changed since the last call with
// the same Slots is worked out anew.
func (s *Slots) Check(p *Project) Report { return s.CheckBesides(p, s.CheckMadeUp(p)) }

// CheckMadeUp runs the checks of the garments put together from all their copies: joints,
// notches that meet, what is proven on the wearer, and what a fit brought out of scale. They
// read the whole of a garment whatever part of it has changed.
func (s *Slots) CheckMadeUp(p *Project) []Finding {
	p = s.patternOf(p)
	found := s.checkJoints(p)
	found = append(found, s.checkNotchPairs(p, s.seamStates(p))...)
	found = append(found, s.checkProofs(p)...)
	found = append(found, s.checkOpens(p)...)
	return append(found, s.checkScale(p)...)
}

// seamStates returns the states of the seams that can be told.
func (s *Slots) seamStates(p *Project) []SeamState {
	list := make([]SeamState, 0, len(p.Seams))
	for _, seam := range p.Seams {
		if state, err := s.SeamState(p, seam); err == nil {
			list = append(list, state)
		}
	}
	return list
}

// CheckBesides is Check with what CheckMadeUp found, which may be of the project as it was
// a moment ago: at every step of a drag there is no time to put garments together.
func (s *Slots) CheckBesides(p *Project, madeUp []Finding) Report {
	var r Report
	p = s.patternOf(p)
	for _, piece := range p.Pieces {
		r.Findings = append(r.Findings, s.checkPiece(p, piece)...)
	}
	for _, seam := range p.Seams {
		state, err := s.SeamState(p, seam)
		if err != nil {
			r.Findings = append(r.Findings, Finding{
				Key: "seam/" + string(seam.ID) + "/gone", Level: Problem, Seam: seam.ID,
				About: "seam " + seam.label(), Says: fmt.Sprintf("It sews what is no longer there: %v. Take the seam apart or sew it anew.", err),
				Mends: []Mend{{Title: "Take the seam apart", Act: "unlink-seam", Args: map[string]string{"seams": idText(seam.ID)}}},
			})
			continue
		}
		r.Seams = append(r.Seams, state)
		r.Findings = append(r.Findings, checkSeam(p, state)...)
		r.Findings = append(r.Findings, s.checkFullness(p, state)...)
	}
	r.Findings = append(r.Findings, s.checkUses(p)...)
	r.Findings = append(r.Findings, s.checkHanded(p)...)
	r.Findings = append(r.Findings, s.checkCourses(p)...)
	r.Spans = s.SpanStates(p)
	r.Findings = append(r.Findings, s.checkSpans(p, r.Spans)...)
	r.Girths = girthsOf(p, r.Spans)
	r.Findings = append(r.Findings, s.checkBlocks(p)...)
	r.Findings = append(r.Findings, s.checkFits(p)...)
	r.Findings = append(r.Findings, s.checkWearers(p)...)
	r.Findings = append(r.Findings, madeUp...)
	s.offerOfProject(p, r.Findings)
	waive(r.Findings, p.Waivers)
	sort.SliceStable(r.Findings, func(i, j int) bool { return r.Findings[i].Level < r.Findings[j].Level })
	return r
}

func waive(findings []Finding, waivers []Waiver) {
	for i := range findings {
		for _, w := range waivers {
			if w.Finding == findings[i].Key {
				findings[i].Waived = w.Reason
			}
		}
	}
}

// checkPiece keeps what the checks say of one piece for as long as the piece, its
// cloth and the unit of the texts are the same.
func (s *Slots) checkPiece(p *Project, piece *Piece) []Finding {
	cloth := p.Cloth(piece.Cloth)
	find := s.lookupIn(p)
	inputs := slotInputs{piece, cloth, p.Unit, find.sewnMarks(piece)}
	return slotOf(s, "checks", piece.ID, inputs, func() []Finding {
		c := pieceCheck{lookup: find, piece: piece, unit: p.Unit}
		flat, err := s.Flat(piece)
		c.checkDeclared(cloth)
		c.checkFold()
		c.checkOutline(flat, err)
		c.checkDarts()
		c.checkSmall()
		c.checkNotches(s.EdgeLengths(piece))
		if flat != nil {
			c.checkAllowances(flat)
		}
		c.checkPartners()
		return c.findings
	})
}

// pieceCheck gathers the findings of one piece.
type pieceCheck struct {
	lookup   *lookup
	piece    *Piece
	unit     Unit
	findings []Finding
}

// add appends a finding about the piece, or about one of its edges.
func (c *pieceCheck) add(level Gravity, edge *Edge, what, says string, args ...any) *Finding {
	f := Finding{
		Key:   "piece/" + string(c.piece.ID) + "/" + what,
		Level: level, Piece: c.piece.ID,
		About: c.piece.label(),
		Says:  fmt.Sprintf(says, args...),
	}
	if edge != nil {
		f.Key = "piece/" + string(c.piece.ID) + "/" + string(edge.ID) + "/" + what
		f.Edge = edge.ID
		f.About = c.piece.label() + ", edge " + edge.label()
	}
	c.findings = append(c.findings, f)
	return &c.findings[len(c.findings)-1]
}

// checkDeclared finds a piece that does not say what it is cut from.
func (c *pieceCheck) checkDeclared(cloth *Cloth) {
	if cloth == nil {
		c.add(Remark, nil, "cloth", "No cloth is chosen yet, so it can be neither laid out nor counted. Choose its cloth.")
	}
	if c.piece.Cut.Count < 1 || c.piece.Cut.Count > MaxCount {
		f := c.add(Problem, nil, "count", "It is cut %d times; set how often it is cut, from 1 to %d.", c.piece.Cut.Count, MaxCount)
		f.mend("Cut it once", "set-cut", "pieces", idText(c.piece.ID), "way", c.piece.Cut.Way.String(), "count", "1")
	}
}
