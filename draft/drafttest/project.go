package drafttest

import (
	"fmt"
	"math"
	"strconv"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/figure"
	"hemlet/geom"
)

// maker makes the parts of one project.
type maker struct {
	t *rapid.T
	p *draft.Project
}

// Project draws a sound project. Coordinates lie on draft.Grid, and lists without
// members are nil, as they are in a project that was loaded.
func Project(t *rapid.T) *draft.Project {
	m := &maker{t, draft.New("")}
	m.p.Name = m.text("name")
	m.p.Unit = rapid.SampledFrom(draft.Units()).Draw(t, "unit")
	for range m.few("wearers", 2) {
		m.p.Wearers = append(m.p.Wearers, m.wearer())
	}
	for range m.few("cloths", 3) {
		m.p.Cloths = append(m.p.Cloths, m.cloth())
	}
	for range m.few("origins", 2) {
		m.p.Origins = append(m.p.Origins, m.origin())
	}
	for range m.few("pieces", 5) {
		m.p.Pieces = append(m.p.Pieces, m.piece())
	}
	if len(m.p.Pieces) > 0 {
		for range m.few("seams", 4) {
			s := m.seam()
			m.p.Seams = append(m.p.Seams, s)
			m.marks(s)
		}
	}
	for range m.few("pictures", 2) {
		m.p.Pictures = append(m.p.Pictures, m.picture())
	}
	if len(m.p.Pictures) == 2 && m.chance("joined") {
		m.p.Pictures[0].Joined = &draft.Joint{To: m.p.Pictures[1].ID, Error: m.length("error")}
	}
	m.derivations()
	m.toile()
	for range m.few("waivers", 2) {
		m.p.Waivers = append(m.p.Waivers, draft.Waiver{Finding: m.name("finding"), Reason: m.text("reason")})
	}
	return m.p
}

// few draws how many there are of something.
func (m *maker) few(what string, most int) int {
	return rapid.IntRange(0, most).Draw(m.t, what)
}

func (m *maker) chance(what string) bool { return rapid.Bool().Draw(m.t, what) }

// id makes an id as the counter gives it or, sometimes, as a block names things.
func (m *maker) id(kind byte) draft.ID {
	n := m.p.NextID
	m.p.NextID++
	if rapid.IntRange(0, 9).Draw(m.t, "named") == 0 {
		return draft.ID(fmt.Sprintf("front-%c.%d", kind, n))
	}
	return draft.ID(string(kind) + strconv.Itoa(n))
}

// text draws any text, the awkward ones included.
func (m *maker) text(what string) string {
	return rapid.OneOf(
		rapid.SampledFrom([]string{
			"", "Front", "Größe ½", `quote " and \ and '`, "two\nlines\n", "tab\tend", "\r\n", `"""`, "'''", "[[pieces]]",
			"# no comment", "\x00\x01\x1f\x7f", "a = 1\n[b]", "\u2028\ufeff\u00a0", " leading and trailing ", "line\\\n  next", "{[,]}=",
		}),
		rapid.String(),
	).Draw(m.t, what)
}

// name draws text that is not empty.
func (m *maker) name(what string) string {
	return m.text(what) + strconv.Itoa(rapid.IntRange(0, 99).Draw(m.t, what+" number"))
}

// mm draws a coordinate on the grid, within the bounds.
func (m *maker) mm(what string) float64 {
	const perMM = 1e6
	steps := rapid.OneOf(
		rapid.Int64Range(-300*perMM, 300*perMM),
		rapid.Int64Range(-draft.MaxCoordinate*perMM, draft.MaxCoordinate*perMM),
		rapid.Map(rapid.Int64Range(-300, 300), func(n int64) int64 { return n * perMM }),
	).Draw(m.t, what)
	return float64(steps) / perMM
}

// length draws a length of at least 0.
func (m *maker) length(what string) float64 { return math.Abs(m.mm(what)) }

func (m *maker) share(what string) float64 { return rapid.Float64Range(0, 1).Draw(m.t, what) }

func (m *maker) point(what string) geom.Point { return geom.Pt(m.mm(what+" x"), m.mm(what+" y")) }

// pick draws one of a list that is not empty.
func pick[T any](m *maker, what string, list []T) T { return rapid.SampledFrom(list).Draw(m.t, what) }

func (m *maker) nodes(least, most int) []draft.Node {
	n := rapid.IntRange(least, most).Draw(m.t, "nodes")
	var nodes []draft.Node
	for range n {
		node := draft.Node{ID: m.id('n'), At: m.point("at"), Smooth: m.chance("smooth")}
		if m.chance("in") {
			node.In = m.point("in")
		}
		if m.chance("out") {
			node.Out = m.point("out")
		}
		nodes = append(nodes, node)
	}
	return nodes
}

func (m *maker) wearer() *draft.Wearer {
	w := &draft.Wearer{ID: m.id('w'), Name: m.text("wearer"), Build: pick(m, "build", figure.Builds())}
	for i := range m.few("measures", 3) {
		name := m.text("measure") + strconv.Itoa(i)
		w.Measures = append(w.Measures, draft.Measure{Name: name, Value: m.length("value"), Estimated: m.chance("estimated")})
	}
	for i := range m.few("levels", 2) {
		w.Levels = append(w.Levels, draft.Level{
			Name: m.text("level") + strconv.Itoa(i), Height: m.length("height"), FrontArc: m.length("front"), BackArc: m.length("back"),
		})
	}
	for range m.few("parts", 2) {
		w.Parts = append(w.Parts, draft.BodyPart{Name: m.text("part"), Girth: m.length("girth"), ComesOff: m.chance("off")})
	}
	for range m.few("under", 2) {
		w.Under = append(w.Under, draft.Worn{Name: m.text("worn"), Thickness: m.length("thickness")})
	}
	return w
}

func (m *maker) cloth() *draft.Cloth {
	c := &draft.Cloth{
		ID: m.id('c'), Name: m.text("cloth"), Thickness: m.length("thickness"), Width: m.length("width"),
		Nap: m.chance("nap"), Printed: m.chance("printed"),
	}
	if m.chance("coloured") {
		c.Colour = fmt.Sprintf("#%06x", rapid.IntRange(0, 0xffffff).Draw(m.t, "colour"))
	}
	if m.chance("scrap") {
		c.Scrap = m.nodes(2, 4)
	}
	return c
}

func (m *maker) origin() *draft.Origin {
	o := &draft.Origin{ID: m.id('o'), Name: m.text("origin"), Size: m.text("size"), Line: pick(m, "line", []draft.DrawnLine{draft.StitchDrawn, draft.CutDrawn}), Allowance: m.share("allowance")}
	for i := range m.few("measures", 3) {
		o.Measures = append(o.Measures, draft.OriginMeasure{Name: m.text("measure") + strconv.Itoa(i), Value: m.length("value")})
	}
	for range m.few("layers", 2) {
		o.Under = append(o.Under, draft.Worn{Name: m.text("worn"), Thickness: m.length("thickness")})
	}
	for i := range m.few("estimates", 2) {
		measure := []string{"front_waist_length", "armscye_depth"}[i]
		o.Estimates = append(o.Estimates, draft.OriginEstimate{Measure: measure, Formula: "back_waist_length + " + strconv.Itoa(m.few("more", 40)) + "*mm"})
	}
	return o
}

func (m *maker) pixel(what string) geom.Point {
	at := func(axis string) float64 { return float64(rapid.IntRange(-10, 48_000).Draw(m.t, what+axis)) / 4 }
	return geom.Pt(at(" x"), at(" y"))
}

func (m *maker) picture() *draft.Picture {
	const hex = "0123456789abcdef"
	hash := rapid.StringOfN(rapid.RuneFrom([]rune(hex)), 64, 64, 64).Draw(m.t, "hash")
	pic := &draft.Picture{
		ID: m.id('i'), Name: m.text("picture"), Hash: hash, Ext: pick(m, "ext", []string{"png", "jpg", "tiff"}),
		Wide: m.few("wide", draft.MaxPixels), High: m.few("high", draft.MaxPixels),
		Place: geom.Homography{
			A: 1 + m.share("a"), B: m.share("b") / 2, C: -m.share("c"), D: -1 - m.share("d"), E: m.mm("e"), F: m.mm("f"),
			G: m.share("lean") * 1e-5, H: m.share("lean down") * 1e-5,
		},
		Opacity: m.share("opacity"), Locked: m.chance("locked"),
	}
	if m.chance("crop") {
		pic.Crop = []geom.Point{m.pixel("a"), m.pixel("b"), m.pixel("c")}
	}
	if m.chance("true") {
		pic.True = &draft.Trueness{By: pick(m, "by", []draft.Truing{draft.ByLength, draft.ByResolution, draft.ByFrame, draft.ByGrid}), Error: m.length("error")}
	}
	return pic
}
