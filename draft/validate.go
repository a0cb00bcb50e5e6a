package draft

import "regexp"

// Bounds of what a sound project may hold, beyond those in limits.go.
const (
	// maxNextID keeps the counter exact in every format that holds it as a number.
	maxNextID = 1 << 53
	// maxTurn bounds the turn of a piece on the bench, in radians: beyond it
	// float64 no longer tells directions well apart.
	maxTurn = 1e6
	// maxRatio bounds the ratio of a seam: far beyond any gathers.
	maxRatio = 1000
	// maxShare bounds the multiple of a measure that a span stands for.
	maxShare = 1000
	// maxScale bounds the mm that one pixel of a picture covers.
	maxScale = MaxCoordinate
	// maxCrop bounds the corners of what counts of a picture.
	maxCrop = 1000
	// maxLean bounds the lean of a picture a pixel: its depth at most doubles on it.
	maxLean = 1
)

// Validate reports the first thing that makes a project unsound, as an
// *InvalidError, or nil: ids that are doubled or run ahead of the counter,
// references that point at nothing, figures that are no number or out of bounds,
// pieces without an outline, darts whose mouths are no neighbours. A sound
// project may still be a bad pattern; that is for the checks to say.
func Validate(p *Project) error {
	v := &inspector{project: p, ids: make(map[ID]bearer), roles: make(map[rolePlayed]bool)}
	v.head()
	v.wearers()
	v.cloths()
	v.derivationIDs()
	v.origins()
	v.pieces()
	v.seams()
	v.pictures()
	v.derivations()
	v.waivers()
	v.toile()
	v.versions()
	if v.err != nil {
		return v.err
	}
	return nil
}

func (v *inspector) head() {
	p := v.project
	v.text("name", p.Name)
	v.word("unit", p.Unit.MarshalText)
	if p.NextID < 1 || p.NextID > maxNextID {
		v.failf("next_id is %d; it must be at least 1 and above every number in an id", p.NextID)
	}
	if n := p.nodeCount(); n > MaxNodes {
		v.failf("the project has %d nodes; at most %d fit", n, MaxNodes)
	}
}

func (v *inspector) wearers() {
	for i, w := range v.project.Wearers {
		v.enter("wearers", i, "wearer", w.Name)
		v.bear(w.ID, "wearer")
		v.wearer(w)
		v.leave()
	}
}

func (v *inspector) wearer(w *Wearer) {
	v.text("name", w.Name)
	v.word("build", w.Build.MarshalText)
	seen := make(map[string]bool, len(w.Measures))
	for i, m := range w.Measures {
		v.enter("measures", i, "measure", m.Name)
		v.text("name", m.Name)
		if m.Name == "" {
			v.failf("the name is missing")
		}
		if seen[m.Name] {
			v.failf("there are two measures of this name; keep one")
		}
		seen[m.Name] = true
		v.length("measure", m.Value)
		v.leave()
	}
	heights := make(map[string]bool, len(w.Levels))
	for i, l := range w.Levels {
		v.enter("levels", i, "level", l.Name)
		v.text("name", l.Name)
		if heights[l.Name] {
			v.failf("there are two levels of this name; keep one")
		}
		heights[l.Name] = true
		v.length("height", l.Height)
		v.length("front arc", l.FrontArc)
		v.length("back arc", l.BackArc)
		v.leave()
	}
	for i, b := range w.Parts {
		v.enter("parts", i, "part", b.Name)
		v.text("name", b.Name)
		v.length("girth", b.Girth)
		v.leave()
	}
	v.worn(w.Under)
}

// worn inspects what is worn under a garment.
func (v *inspector) worn(layers []Worn) {
	for i, u := range layers {
		v.enter("under", i, "layer underneath", u.Name)
		v.text("name", u.Name)
		v.length("thickness", u.Thickness)
		v.leave()
	}
}

var colourForm = regexp.MustCompile(`^#[0-9a-f]{6}$`)

func (v *inspector) cloths() {
	nodes := 0
	for i, c := range v.project.Cloths {
		v.enter("cloths", i, "cloth", c.Name)
		v.bear(c.ID, "cloth")
		v.text("name", c.Name)
		v.length("thickness", c.Thickness)
		v.length("width", c.Width)
		if c.Colour != "" && !colourForm.MatchString(c.Colour) {
			v.failf("the colour %q is not of the form #1a2b3c", c.Colour)
		}
		v.nodes("scrap", c.Scrap, v.bear)
		if len(c.Scrap) == 1 {
			v.failf("the outline of the scrap has one node; it needs at least two")
		}
		if nodes += len(c.Scrap); nodes > MaxNodes {
			v.failf("the scraps have more than %d nodes together", MaxNodes)
		}
		v.leave()
	}
}

// nodes inspects a list of nodes; bear takes their ids.
func (v *inspector) nodes(key string, nodes []Node, bear func(ID, string)) {
	for i := range nodes {
		n := &nodes[i]
		v.enter(key, i, "node", string(n.ID))
		bear(n.ID, "node")
		v.point("node", n.At)
		v.point("handle that comes in", n.In)
		v.point("handle that goes out", n.Out)
		v.leave()
	}
}

func (v *inspector) seams() {
	for i, s := range v.project.Seams {
		v.enter("seams", i, "seam", s.Name)
		v.seamItself(s, v.bear)
		v.run("a", s.A)
		v.run("b", s.B)
		v.leave()
	}
}

// seamItself inspects what a seam says without what it points at.
func (v *inspector) seamItself(s *Seam, bear func(ID, string)) {
	bear(s.ID, "seam")
	v.text("name", s.Name)
	v.positive("ratio", s.Ratio, maxRatio)
	v.word("fuller side", s.Fuller.MarshalText)
	v.word("fullness", s.Fullness.MarshalText)
	v.number("start of the fullness", s.From, 0, 1)
	v.number("end of the fullness", s.To, 0, 1)
	if !(s.From < s.To) {
		v.failf("the fullness starts at share %v and ends at %v; it must end after it starts", s.From, s.To)
	}
	v.length("lap", s.Lap)
	if s.Lap != 0 && !s.Opens {
		v.failf("only a seam that opens has a lap")
	}
	if n := len(s.Marks); n > MaxSeamMarks {
		v.failf("it has %d marks; at most %d fit", n, MaxSeamMarks)
		return
	}
	for i, m := range s.Marks {
		v.enter("marks", i, "mark", string(m.ID))
		bear(m.ID, "mark")
		v.number("place along side a", m.At, 0, 1)
		v.word("shape", m.Shape.MarshalText)
		v.leave()
	}
}

func (v *inspector) run(key string, run Run) {
	if len(run) == 0 {
		v.failf("side %s holds no edge; take the seam out or say what it joins", key)
	}
	for i, u := range run {
		v.enter(key, i, "side "+key+", edge", string(u.Edge))
		v.use(u)
		v.leave()
	}
}

func (v *inspector) use(u EdgeUse) {
	piece := v.ids[u.Piece]
	if piece.kind != "piece" {
		v.failf("there is no piece %q", u.Piece)
		return
	}
	if !v.has(u.Edge, "edge", piece.piece) {
		v.failf("piece %s has no edge %q", piece.piece.Name, u.Edge)
	}
	v.copyOf(u)
}

func (v *inspector) copyOf(u EdgeUse) {
	v.word("half", u.Half.MarshalText)
	if u.Copy.Number < 1 || u.Copy.Number > MaxCount {
		v.failf("the copy is number %d; copies count from 1 to %d", u.Copy.Number, MaxCount)
	}
}

var (
	hashForm = regexp.MustCompile(`^[0-9a-f]{64}$`)
	extForm  = regexp.MustCompile(`^[a-z0-9]{1,8}$`)
)

func (v *inspector) pictures() {
	rings := v.project.joinedInRings()
	for i, pic := range v.project.Pictures {
		v.enter("pictures", i, "picture", pic.Name)
		v.bear(pic.ID, "picture")
		v.text("name", pic.Name)
		if !hashForm.MatchString(pic.Hash) {
			v.failf("the hash %q is no SHA-256 in lower-case hex", pic.Hash)
		}
		if !extForm.MatchString(pic.Ext) {
			v.failf("the file ending %q is not one to eight small letters and digits without a dot", pic.Ext)
		}
		v.number("width in pixels", float64(pic.Wide), 0, MaxPixels)
		v.number("height in pixels", float64(pic.High), 0, MaxPixels)
		m := pic.Place
		for _, x := range []float64{m.A, m.B, m.C, m.D} {
			v.number("scale of the picture", x, -maxScale, maxScale)
		}
		for _, x := range []float64{m.E, m.F} {
			v.number("place of the picture", x, -MaxCoordinate, MaxCoordinate)
		}
		for _, x := range []float64{m.G, m.H} {
			v.number("lean of the picture", x, -maxLean, maxLean)
		}
		for _, c := range pic.pixelCorners() {
			if !(m.Depth(c) > 0) {
				v.failf("a corner of the picture lies beyond its horizon")
			}
		}
		if m.Near(pic.half()).Det() == 0 {
			v.failf("the placement squeezes the picture to nothing")
		}
		if n := len(pic.Crop); n > 0 && n < 3 || n > maxCrop {
			v.failf("what counts of it has %d corners; 3 to %d are wanted", n, maxCrop)
		}
		for _, at := range pic.Crop {
			v.number("corner of what counts", at.X, -2*MaxPixels, 2*MaxPixels)
			v.number("corner of what counts", at.Y, -2*MaxPixels, 2*MaxPixels)
		}
		if t := pic.True; t != nil {
			v.word("way to true it", t.By.MarshalText)
			v.number("error in mm", t.Error, 0, MaxCoordinate)
		}
		if j := pic.Joined; j != nil {
			v.number("error in mm", j.Error, 0, MaxCoordinate)
			if j.To == pic.ID || v.project.Picture(j.To) == nil {
				v.failf("it is joined to the picture %s, which is not there", j.To)
			}
			if rings[pic.ID] {
				v.failf("it is joined, by way of others, to itself")
			}
		}
		v.number("opacity", pic.Opacity, 0, 1)
		v.leave()
	}
}

func (v *inspector) origins() {
	for i, o := range v.project.Origins {
		v.enter("origins", i, "origin", o.Name)
		v.bear(o.ID, "origin")
		v.text("name", o.Name)
		v.text("size", o.Size)
		v.word("line", o.Line.MarshalText)
		v.number("allowance", o.Allowance, 0, MaxAllowance)
		seen := make(map[string]bool, len(o.Measures))
		for i, m := range o.Measures {
			v.enter("measures", i, "measure", m.Name)
			v.text("name", m.Name)
			if m.Name == "" || seen[m.Name] {
				v.failf("its measures need names, each another")
			}
			seen[m.Name] = true
			v.length("measure", m.Value)
			v.leave()
		}
		v.worn(o.Under)
		v.estimates(o.Estimates)
		v.leave()
	}
}

// estimates inspects the formulas of an origin as text: those that cannot be read are told
// by what is fitted with them.
func (v *inspector) estimates(list []OriginEstimate) {
	seen := make(map[string]bool, len(list))
	for i, e := range list {
		v.enter("estimates", i, "estimate", e.Measure)
		v.text("measure", e.Measure)
		v.text("formula", e.Formula)
		if e.Measure == "" || e.Formula == "" || seen[e.Measure] {
			v.failf("its estimates need a formula each, of a measure each, each another")
		}
		seen[e.Measure] = true
		v.leave()
	}
}

func (v *inspector) waivers() {
	for i, w := range v.project.Waivers {
		v.enter("waivers", i, "waiver", w.Finding)
		v.text("finding", w.Finding)
		v.text("reason", w.Reason)
		if w.Finding == "" {
			v.failf("it does not say which finding is waived")
		}
		v.leave()
	}
}
