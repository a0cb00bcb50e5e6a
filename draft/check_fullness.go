package draft

import (
	"fmt"
	"math"
	"strconv"
)

// Ratios up to easeTo are eased in unseen; gathers below gathersFrom read as a pucker,
// and pleats that touch take touchingPleats times their length. (The first two common
// practice, no source; the third O. C. Hapgood, School Needlework, 1893, "Plaiting":
// folds every 1 1/2 in make pleats of half an inch.)
const (
	easeTo         = 1.04
	gathersFrom    = 1.3
	touchingPleats = 3.0
)

// Crisp cloth shrinks in less the smaller the cap is: for wearers up to smallStature mm,
// about a quarter of a person, smallEase is what it takes. (Common practice, no source.)
const (
	smallStature = 425 // mm
	smallEase    = 1.02
	goodEase     = 1.03
)

// ratioSlack is by how much a ratio may go beyond a rule of thumb and still keep it:
// the second decimal, to which ratios are told.
const ratioSlack = 0.005

// bulkShare is the share of the allowance that the gathered layers in it may be thick,
// so that it can still be pressed to one side. (Common practice, no source.)
const bulkShare = 0.5

// gatherAllowance is the allowance in mm that two rows of gathering stitches need, and
// gatherTrim what is left of it after. (Common practice, no source.)
const (
	gatherAllowance = 5
	gatherTrim      = 3
)

// fullnessCheck gathers what is to be said of one seam that is not plain.
type fullnessCheck struct {
	p        *Project
	state    FullnessState
	stature  float64 // mm, 0 where not known
	findings []Finding
}

// checkFullness holds the fullness of a seam against its cloth and its allowance.
func (s *Slots) checkFullness(p *Project, st SeamState) []Finding {
	if st.Seam.Fullness == Plain {
		return nil
	}
	c := &fullnessCheck{p: p, state: fullnessState(p, st)}
	if math.IsInf(c.state.Want, 1) {
		c.noRoom()
		return c.findings
	}
	switch st.Seam.Fullness {
	case Ease:
		c.stature = s.statureFor(p, c.run())
		c.ease()
	case Gathers:
		c.gathers()
		c.gatheredEdge()
	case Pleats:
		c.pleats()
	}
	if st.Seam.Fullness != Ease && len(c.findings) == 0 {
		c.bulk()
	}
	return c.findings
}

// statureFor returns the stature in mm of the wearer of a run's first piece, 0 where
// nothing is known of it.
func (s *Slots) statureFor(p *Project, run Run) float64 {
	if len(run) == 0 {
		return 0
	}
	piece := p.Piece(run[0].Piece)
	if piece == nil {
		return 0
	}
	_, measure := s.measuresFor(p, piece)
	known, ok := measure("stature")
	if !ok {
		return 0
	}
	return known.Value
}

func (c *fullnessCheck) run() Run {
	if c.state.Seam.Fuller == SideA {
		return c.state.Seam.A
	}
	return c.state.Seam.B
}

func (c *fullnessCheck) add(level Gravity, what, says string, args ...any) *Finding {
	seam := c.state.Seam
	f := Finding{
		Key: "seam/" + string(seam.ID) + "/" + what, Level: level, Seam: seam.ID,
		About: "seam " + seam.label(), Says: fmt.Sprintf(says, args...),
	}
	if run := c.run(); len(run) > 0 {
		f.Piece, f.Edge = run[0].Piece, run[0].Edge
	}
	c.findings = append(c.findings, f)
	return &c.findings[len(c.findings)-1]
}

// noRoom tells of a stretch that is too short for what is to go into it.
func (c *fullnessCheck) noRoom() {
	seam := c.state.Seam
	flat := seam.Ratio * c.state.Other * (seam.To - seam.From)
	rest := seam.Ratio*c.state.Other - flat
	f := c.add(Problem, "no room", "All the fullness is to lie in %s of the %s, but the rest of it, %s, is already as long as the whole %s. Let the fullness lie in a longer stretch, or have less of it.",
		c.p.Unit.Format(flat), c.p.runLabel(c.run()), c.p.Unit.Format(rest), c.p.runLabel(c.otherRun()))
	f.Value, f.Limit = rest, c.state.Other
	f.Mends = []Mend{{Title: "Let the fullness lie along the whole edge", Act: "edit-seam", Args: map[string]string{"seam": c.id(), "from": "0", "to": "1"}}}
}

func (c *fullnessCheck) otherRun() Run {
	if c.state.Seam.Fuller == SideA {
		return c.state.Seam.B
	}
	return c.state.Seam.A
}

func (c *fullnessCheck) id() string { return string(c.state.Seam.ID) }

// refill is the mend that makes the seam as full as a ratio where its fullness lies.
func (c *fullnessCheck) refill(title string, local float64) Mend {
	seam := c.state.Seam
	// Of the fuller side a share lies in the stretch and the rest lies flat.
	share := seam.To - seam.From
	ratio := local / (share + local*(1-share))
	return Mend{Title: title, Act: "set-fullness", Args: map[string]string{"seam": c.id(), "ratio": strconv.FormatFloat(ratio, 'f', 4, 64)}}
}

// pleat is the mend that pleats what is gathered.
func (c *fullnessCheck) pleat() Mend {
	return Mend{Title: "Pleat it instead", Act: "edit-seam", Args: map[string]string{"seam": c.id(), "fullness": Pleats.String()}}
}

// where says in which stretch the ratio lies, nothing where it is the whole.
func (c *fullnessCheck) where() string {
	if c.state.Seam.From == 0 && c.state.Seam.To == 1 {
		return ""
	}
	return fmt.Sprintf(" where the fullness lies (%s drawn up to %s)", c.p.Unit.Format(c.state.Flat), c.p.Unit.Format(c.state.Drawn))
}

// cloth names the cloth and says by what its weight was told.
func (c *fullnessCheck) cloth() string {
	switch {
	case c.state.Cloth == nil:
		return "the cloth, of which none is chosen and which is taken for quilting cotton,"
	case c.state.KnownBy == ByNothing:
		return c.state.Cloth.Name + ", whose thickness is not known and which is taken for quilting cotton,"
	case c.state.KnownBy == ByThickness:
		return fmt.Sprintf("%s, which at %s is a %s cloth,", c.state.Cloth.Name, c.p.Unit.Format(c.state.Cloth.Thickness), c.state.Weight)
	default:
		return c.state.Cloth.Name
	}
}

// sure returns the level, or that of a remark where the cloth is only assumed.
func (c *fullnessCheck) sure(level Gravity) Gravity {
	if c.state.KnownBy == ByNothing {
		return Remark
	}
	return level
}

// ease tells of more ease than cloth takes up unseen.
func (c *fullnessCheck) ease() {
	percent := func(ratio float64) float64 { return 100 * (ratio - 1) }
	w := c.state.Want
	switch {
	case w > easeTo+ratioSlack:
		f := c.add(LookAgain, "ease", "It eases %.1f %%%s; above about %.0f %% the extra shows as small gathers. Make the longer side shorter, take some of it up in a dart, or call it gathers.", percent(w), c.where(), percent(easeTo))
		f.Mends = []Mend{c.refill("Ease in less", goodEase)}
		if w >= gathersFrom {
			f.Mends = append(f.Mends, Mend{Title: "Call it gathers", Act: "edit-seam", Args: map[string]string{"seam": c.id(), "fullness": Gathers.String()}})
		}
	case w > smallEase+ratioSlack && c.stature > 0 && c.stature <= smallStature && c.state.Weight >= Medium:
		f := c.add(Remark, "ease", "It eases %.1f %%%s; at this size a firm cloth takes up about %.0f %% unseen. Try it on a scrap.", percent(w), c.where(), percent(smallEase))
		f.Mends = []Mend{c.refill("Ease in less", smallEase)}
	}
}

// gathers holds the ratio against what the cloth takes.
func (c *fullnessCheck) gathers() {
	w, st := c.state.Want, c.state
	if st.Weight == Heavy {
		f := c.add(c.sure(LookAgain), "stiff", "It gathers %s, and %s does not gather: it stands in a roll. Pleat it, cut it flared, or take a thinner cloth.", ratioText(w), c.cloth())
		f.Mends = []Mend{c.pleat()}
		return
	}
	switch {
	case w < gathersFrom-ratioSlack && w > easeTo:
		f := c.add(LookAgain, "pucker", "It gathers at %.2f%s; below %.1f gathers read as a pucker. Ease it, pleat it, or make it fuller.", w, c.where(), gathersFrom)
		f.Mends = []Mend{c.refill("Make it fuller", st.Least), c.pleat()}
	case w > st.Most+ratioSlack:
		f := c.add(c.sure(LookAgain), "too full", "It gathers %s%s, and %s gathers well up to %.1f: more stands stiff and thick. Make it less full, or take a thinner cloth.", ratioText(w), c.where(), c.cloth(), st.Most)
		f.Mends = []Mend{c.refill("Make it less full", st.Most)}
		if w <= touchingPleats {
			f.Mends = append(f.Mends, c.pleat())
		}
	case w >= gathersFrom-ratioSlack && w < st.Least-ratioSlack:
		f := c.add(Remark, "skimpy", "It gathers %s%s; %s looks full from %.1f to %.1f.", ratioText(w), c.where(), c.cloth(), st.Least, st.Most)
		f.Mends = []Mend{c.refill("Make it fuller", st.Least)}
	}
}

func ratioText(ratio float64) string { return fmt.Sprintf("%.2f to 1", ratio) }

// gatheredEdge tells of an allowance that has no room for two rows of stitches.
func (c *fullnessCheck) gatheredEdge() {
	u := c.p.Unit
	for _, use := range c.run() {
		e := c.p.edgeOf(use)
		if e == nil || e.Allowance.Widest() >= gatherAllowance {
			continue
		}
		f := c.add(Remark, "rows", "The %s has an allowance of %s; two rows of gathering stitches need %s. Cut it wider and trim it to %s once it is sewn.",
			c.p.runLabel(Run{use}), u.Format(e.Allowance.Widest()), u.Format(gatherAllowance), u.Format(gatherTrim))
		f.Piece, f.Edge, f.Value, f.Limit = use.Piece, use.Edge, e.Allowance.Widest(), gatherAllowance
		f.Mends = []Mend{{Title: "Cut it wider, and trim it after", Act: "set-allowance", Args: map[string]string{
			"edges": partText(use.Piece, use.Edge), "width": fmt.Sprintf("%dmm", gatherAllowance), "trim": fmt.Sprintf("%dmm", gatherTrim),
		}}}
		return
	}
}

// pleats tells of pleats that lie over one another.
func (c *fullnessCheck) pleats() {
	if w := c.state.Want; w > touchingPleats+ratioSlack {
		f := c.add(LookAgain, "deep pleats", "It pleats %s%s; pleats that touch take %.0f to 1, so that these lie over each other and the seam gets thick. Make them fewer or shallower.", ratioText(w), c.where(), touchingPleats)
		f.Mends = []Mend{c.refill("Make the pleats shallower", touchingPleats)}
	}
}

// bulk tells of gathered layers that are too thick for their allowance.
func (c *fullnessCheck) bulk() {
	st := c.state
	limit := bulkShare * st.Allowance
	if st.Bulk <= 0 || st.Allowance <= 0 || st.Bulk <= limit {
		return
	}
	u := c.p.Unit
	f := c.add(LookAgain, "bulk", "Gathered %s, the %s lies %s thick in a seam whose allowance is left at %s: it will not press to one side. Make it less full, or take a thinner cloth, or leave a wider allowance.",
		ratioText(st.Want), c.p.runLabel(c.run()), u.Format(st.Bulk), u.Format(st.Allowance))
	f.Value, f.Limit = st.Bulk, limit
	if less := st.Want * limit / st.Bulk; less >= gathersFrom {
		f.Mends = []Mend{c.refill("Make it less full", math.Floor(100*less)/100)}
	}
}
