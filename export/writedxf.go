package export

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"

	"hemlet/draft"
	"hemlet/export/dxf"
	"hemlet/geom"
)

// dxfLayers names the layer of each role.
type dxfLayers struct {
	role        map[Role]string
	text, scale string
}

var plainLayers = dxfLayers{
	role: map[Role]string{
		CutLine: "CUT", StitchLine: "STITCH", NotchMark: "NOTCH", GrainMark: "GRAIN",
		FoldMark: "INTERNAL", InternalLine: "INTERNAL", DartLegs: "INTERNAL", PlacementMark: "INTERNAL", Cutout: "INTERNAL", Slit: "INTERNAL", Leader: "TEXT",
	},
	text: "TEXT", scale: "SCALE",
}

var machineLayers = dxfLayers{
	role: map[Role]string{CutLine: "CUT", Cutout: "CUT", Slit: "CUT"},
	text: "TEXT", scale: "SCALE",
}

// The layers of ASTM D6673, by number; the numbers are as its users quote them.
const (
	layerBoundary = "1"
	layerTurn     = "2"
	layerCurve    = "3"
	layerNotch    = "4"
	layerMirror   = "6"
	layerGrain    = "7"
	layerInternal = "8"
	layerCutout   = "11"
	layerDrill    = "13"
	layerSew      = "14"
	layerNote     = "15"
)

var numberedLayers = dxfLayers{
	role: map[Role]string{
		CutLine: layerBoundary, StitchLine: layerSew, NotchMark: layerNotch, GrainMark: layerGrain,
		FoldMark: layerMirror, InternalLine: layerInternal, DartLegs: layerInternal, PlacementMark: layerInternal, Cutout: layerCutout, Slit: layerCutout, Leader: layerNote,
	},
	text: layerNote, scale: layerNote,
}

type dxfWriter struct {
	file    *dxf.File
	layers  dxfLayers
	options Options
	project *draft.Project
}

func writeDXF(ctx context.Context, w io.Writer, p *draft.Project, o Options, report *Report) error {
	sheet, err := laySheet(ctx, p, o)
	if err != nil {
		return err
	}
	report.ofSheet(sheet)
	d := dxfWriter{options: o, project: p, layers: plainLayers}
	switch {
	case o.DXF == D6673:
		d.layers = numberedLayers
		d.file = dxf.New(layerTable("1", "2", "3", "4", "6", "7", "8", "11", "13", "14", "15")...)
	case o.Purpose.Cuts():
		d.layers = machineLayers
		d.file = dxf.New(layerTable("CUT", "TEXT", "SCALE")...)
	default:
		d.file = dxf.New(layerTable("CUT", "STITCH", "NOTCH", "GRAIN", "INTERNAL", "TEXT", "SCALE")...)
	}
	d.file.Comments = append([]string{
		p.Name,
		"Units: millimetres. The square of 50 mm is measured, not cut.",
		"Written " + o.now().UTC().Format("2006-01-02 15:04:05"),
	}, o.Purpose.Notices()...)
	d.scale(sheet.Scale)
	for _, l := range sheet.Pieces {
		if err := ctx.Err(); err != nil {
			return err
		}
		if o.DXF == D6673 {
			d.block(l)
		} else {
			d.plain(l)
		}
	}
	if o.DXF == D6673 {
		d.style(sheet)
	} else { // in blocks notes stand as data besides
		report.leftOut(sheet.Pieces)
	}
	_, err = d.file.WriteTo(w)
	return err
}

func layerTable(names ...string) []dxf.Layer {
	out := make([]dxf.Layer, len(names))
	for i, n := range names {
		// Any number tells layers apart on a screen; none has a meaning here.
		out[i] = dxf.Layer{Name: n, Colour: i%7 + 1}
	}
	return out
}

// scale writes the square to check the size by, and the unit as text.
func (d dxfWriter) scale(corner geom.Point) {
	d.file.Model.Polyline(d.layers.scale, true, corners(squareAt(corner, ScaleMM))...)
	d.file.Model.Text(d.layers.text, at(corner.Add(geom.Pt(0, -4))), 2.5, 0, "Units: mm. This square is 50 mm wide.")
}

// plain writes a copy into the model, layer by layer.
func (d dxfWriter) plain(l *Laid) {
	for _, m := range l.Strokes() {
		d.mark(&d.file.Model, m)
	}
	named := d.options.Purpose.Cuts()
	for _, t := range l.Words() {
		for _, t := range apartName(t, l.Piece.Name) {
			d.text(&d.file.Model, d.layers.text, t)
			named = named || t.Words == l.Piece.Name && l.Cut.Contains(baseline(t))
		}
	}
	if named {
		return
	}
	name := nameInside(l)
	d.text(&d.file.Model, d.layers.text, name)
	if l.Wearer != "" {
		// In smaller letters: of several texts in an outline readers take the largest.
		wearer := name
		wearer.Size *= aboutShare
		wearer.At, wearer.Words = name.At.Sub(geom.Pt(0, leading*name.Size)), forWearer+l.Wearer
		d.text(&d.file.Model, d.layers.text, wearer)
	}
}

// apartName returns a line of text that begins with the name of the piece as the name
// and the rest, so that a reader finds the name by itself.
func apartName(t Text, name string) []Text {
	rest, ok := strings.CutPrefix(t.Words, name+", ")
	if !ok {
		return []Text{t}
	}
	first, second := t, t
	first.At, first.Anchor, first.Words = baseline(t), Start, name
	second.At = first.At.Add(geom.Rotation(t.Turn, geom.Point{}).ApplyVector(geom.Pt(textWidth(name+", ", t.Size, t.Strong), 0)))
	second.Anchor, second.Words = Start, rest
	return []Text{first, second}
}

// nameInside returns the name of a piece in small letters that begin within its cut
// line: readers of plain files tell by that which outline a name belongs to, and the
// label of a small piece stands beside it.
func nameInside(l *Laid) Text {
	const size = 1.6
	middle := roomIn(l, nil).middle(l.Cut.Bounds().Center())
	t := Text{At: middle, Size: size, Anchor: Middle, Words: l.Piece.Name}
	if !l.Cut.Contains(baseline(t)) {
		t.Anchor = Start
	}
	return t
}

func (d dxfWriter) mark(to *dxf.Entities, m Mark) {
	layer := d.layers.role[m.Role]
	if d.options.DXF == D6673 && m.Role == NotchMark && m.DrawOnly {
		// A cutter takes layer 4 for a cut.
		layer = layerInternal
	}
	for _, c := range m.Chains {
		d.chain(to, layer, c)
	}
}

func (d dxfWriter) chain(to *dxf.Entities, layer string, c geom.Path) {
	pts := corners(c)
	switch {
	case c.Closed() && len(pts) > 2:
		to.Polyline(layer, true, pts...)
	case len(pts) == 2:
		to.Line(layer, pts[0], pts[1])
	case len(pts) > 2:
		to.Polyline(layer, false, pts...)
	}
}

// text writes a line of text at the start of its baseline.
func (d dxfWriter) text(to *dxf.Entities, layer string, t Text) {
	// DXF gives the height of capitals, not the em.
	to.Text(layer, at(baseline(t)), t.Size*capHeight, t.Turn*180/math.Pi, t.Words)
}

// baseline returns where the baseline of a line of text starts.
func baseline(t Text) geom.Point {
	if t.Anchor == Start {
		return t.At
	}
	return t.At.Sub(geom.Pt(math.Cos(t.Turn), math.Sin(t.Turn)).Mul(textWidth(t.Words, t.Size, t.Strong) / 2))
}

// capHeight is the height of capitals of the embedded font as a share of the em.
const capHeight = 0.714

func at(p geom.Point) dxf.Point { return dxf.Point{X: onGrid(p.X), Y: onGrid(p.Y)} }

// block writes a copy as a block with numbered layers, and its insert.
func (d dxfWriter) block(l *Laid) {
	name := l.Piece.Name
	if l.Copy.Mirror {
		name += "-mirrored"
	}
	b := d.file.Block(name)
	d.boundary(b, l)
	for _, m := range l.Strokes()[1:] {
		switch {
		case m.Drill:
			b.Point(layerDrill, at(m.Bounds().Center()))
		case m.Role == GrainMark:
			d.chain(b, layerGrain, m.Chains[0])
		default:
			d.mark(b, m)
		}
	}
	d.pieceText(b, l)
	for _, t := range l.Words() {
		d.text(b, layerNote, t)
	}
	d.file.Model.Insert("0", b)
}

// boundary writes the cut line with a point at each of its vertices: corners on the
// layer of turn points, all others on that of curve points.
func (d dxfWriter) boundary(b *dxf.Entities, l *Laid) {
	pts := corners(l.Cut)
	b.Polyline(layerBoundary, true, pts...)
	turn := make(map[dxf.Point]bool)
	for i, s := range l.Cut {
		if i < len(l.Turns) && l.Turns[i] {
			turn[at(s.P0)] = true
		}
	}
	for _, p := range pts {
		if turn[p] {
			b.Point(layerTurn, p)
		} else {
			b.Point(layerCurve, p)
		}
	}
}

// pieceText writes what a reader wants to know of a piece into its block.
func (d dxfWriter) pieceText(b *dxf.Entities, l *Laid) {
	p := l.Piece
	quantity := fmt.Sprint(max(p.Cut.Count, 1))
	switch {
	case d.options.Purpose.Cuts():
		quantity = "1"
	case p.Cut.Way == draft.CutPairs:
		quantity = fmt.Sprintf("%d,%d", max(p.Cut.Count, 1), max(p.Cut.Count, 1))
	}
	lines := []string{"Piece Name: " + p.Name, "Size: one", "Quantity: " + quantity}
	if cloth := (ruler{project: d.project}).clothWords(p); cloth != "" {
		lines = append(lines, "Material: "+cloth)
	}
	if l.Wearer != "" {
		lines = append(lines, "Annotation: "+forWearer+l.Wearer)
	}
	note := "Revision " + l.Revision
	if p.Note != "" {
		note += "; " + strings.Join(strings.Fields(p.Note), " ")
	}
	lines = append(lines, "Annotation: "+note)
	if p.Cut.Way == draft.CutOnFold {
		lines = append(lines, "Annotation: drawn unfolded; layer 6 is the centre fold")
	}
	box := l.Cut.Bounds()
	d.lines(b, layerBoundary, geom.Pt(box.Min.X, box.Min.Y-3), lines)
}

// lines writes lines of text downward from a place.
func (d dxfWriter) lines(to *dxf.Entities, layer string, from geom.Point, lines []string) {
	const height, step = 1, 1.6
	for i, line := range lines {
		to.Text(layer, at(from.Sub(geom.Pt(0, float64(i)*step))), height, 0, line)
	}
}

// style writes what a reader wants to know of the whole file.
func (d dxfWriter) style(s *Sheet) {
	now := d.options.now().UTC()
	d.lines(&d.file.Model, layerBoundary, geom.Pt(0, -3), []string{
		"ASTM/D6673", "Creation Date: " + now.Format("02-01-2006"), "Creation Time: " + now.Format("15:04"),
		"Author: Hemlet", "Style Name: " + d.project.Name, "Sample Size: one", "Units: METRIC",
	})
}
