package export

import (
	"bufio"
	"context"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// The drawing library's SVG renderer knows neither groups with a class and a name
// nor data of lines, H, V and cubics only, and it merges lines that continue each
// other. Scripts rely on all of that, so that the file is written here.

// stroke is how lines of a role are drawn: width in mm, colour, dashes in mm.
type stroke struct {
	width  float64
	colour string
	dashes []float64
}

// stitching is how all is drawn that is sewn along: the stitching line and darts.
var stitching = stroke{0.25, "#000000", []float64{3, 1.5}}

// strokes are the lines of a printed pattern: cut solid, what is sewn dashed, the fold
// in dashes and dots, and thinner so what only marks a level or a place.
var strokes = map[Role]stroke{
	CutLine:       {0.4, "#000000", nil},
	StitchLine:    stitching,
	FoldMark:      {0.25, "#000000", []float64{6, 1.2, 1, 1.2}},
	GrainMark:     {0.25, "#000000", nil},
	NotchMark:     {0.35, "#000000", nil},
	InternalLine:  {0.25, "#000000", []float64{1.5, 1}},
	DartLegs:      stitching,
	PlacementMark: {0.15, "#000000", []float64{2.4, 0.8, 0.6, 0.8}},
	Cutout:        {0.35, "#000000", nil},
	Slit:          {0.35, "#000000", nil},
	Leader:        {0.15, "#555555", nil},
	ScaleSquare:   {0.2, "#555555", nil},
}

// lookOf returns how a mark is drawn: the cross on a point and other signs are solid
// whatever the lines of their role are.
func lookOf(m Mark) stroke {
	look := strokes[m.Role]
	if m.Turned {
		look.dashes = strokes[FoldMark].dashes
	}
	if m.Drill || m.Solid {
		look.dashes = nil
	}
	return look
}

// machineStroke is the width in mm of lines that a machine follows: thin enough
// that it takes them for one line and not for a shape.
const machineStroke = 0.02

type svgWriter struct {
	*bufio.Writer
	sheet   *Sheet
	purpose Purpose
	// down turns the sheet over: SVG counts y downward.
	down geom.Affine
}

func writeSVG(ctx context.Context, w io.Writer, p *draft.Project, o Options, report *Report) error {
	sheet, err := laySheet(ctx, p, o)
	if err != nil {
		return err
	}
	report.ofSheet(sheet)
	s := svgWriter{
		Writer: bufio.NewWriter(w), sheet: sheet, purpose: o.Purpose,
		down: geom.Affine{A: 1, D: -1, F: sheet.Box.H()},
	}
	width, height := number(sheet.Box.W()), number(sheet.Box.H())
	fmt.Fprintf(s, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n", width, height, width, height)
	fmt.Fprintf(s, "<title>%s</title>\n", escape(p.Name))
	says := append([]string{"One unit is one millimetre. The square named scale is 50 mm wide; it is measured, not cut."}, o.Purpose.Notices()...)
	fmt.Fprintf(s, "<desc>%s</desc>\n", escape(strings.Join(says, "\n")))
	s.scale()
	for _, l := range sheet.Pieces {
		if err := ctx.Err(); err != nil {
			return err
		}
		s.piece(p, l)
	}
	fmt.Fprint(s, "</svg>\n")
	report.leftOut(sheet.Pieces)
	return s.Flush()
}

// scale writes the square that the size is checked by.
func (s svgWriter) scale() {
	fmt.Fprint(s, "<g class=\"scale\">\n<title>50 mm square to check the size; not cut</title>\n")
	m := mark(ScaleSquare, squareAt(s.sheet.Scale, ScaleMM))
	s.path(m, "scale-square")
	if !s.purpose.Cuts() {
		s.text(Text{At: s.sheet.Scale.Add(geom.Pt(ScaleMM/2, -4)), Size: 3, Anchor: Middle, Words: "50 mm square"})
	}
	fmt.Fprint(s, "</g>\n")
}

func (s svgWriter) piece(p *draft.Project, l *Laid) {
	fmt.Fprintf(s, "<g class=\"piece\" data-name=\"%s\" data-id=\"%s\" data-revision=\"%s\" data-rule=\"%s\"", escape(l.Piece.Name), escape(string(l.Piece.ID)), l.Revision, l.Piece.Cut)
	if c := p.Cloth(l.Piece.Cloth); c != nil {
		fmt.Fprintf(s, " data-cloth=\"%s\"", escape(c.Name))
	}
	if l.Wearer != "" {
		fmt.Fprintf(s, " data-wearer=\"%s\"", escape(l.Wearer))
	}
	if s.purpose.Cuts() {
		fmt.Fprintf(s, " data-copy=\"%d\" data-mirrored=\"%t\"", l.Copy.Ref.Number, l.Copy.Mirror)
	}
	fmt.Fprintf(s, ">\n<title>%s</title>\n", escape(l.Piece.Name))
	for _, m := range l.Strokes() {
		class := m.Role.Class()
		if !s.purpose.Cuts() && (m.Role == Cutout || m.Role == Slit) {
			// In a drawing only the outline is of class cut; see data-kind.
			class = InternalLine.Class()
		}
		s.path(m, class)
	}
	for _, t := range l.Words() {
		s.text(t)
	}
	fmt.Fprint(s, "</g>\n")
}

func (s svgWriter) path(m Mark, class string) {
	look := lookOf(m)
	if s.purpose.Cuts() {
		look.width, look.dashes = machineStroke, nil
	}
	fmt.Fprintf(s, "<path class=\"%s\"", class)
	if kind := m.kind(); kind != "" && kind != class {
		fmt.Fprintf(s, " data-kind=\"%s\"", kind)
	}
	if m.Name != "" && m.Role != NotchMark {
		fmt.Fprintf(s, " data-name=\"%s\"", escape(m.Name))
	}
	fmt.Fprintf(s, " fill=\"none\" stroke=\"%s\" stroke-width=\"%s\"", look.colour, number(look.width))
	if look.dashes != nil {
		words := make([]string, len(look.dashes))
		for i, d := range look.dashes {
			words[i] = number(d)
		}
		fmt.Fprintf(s, " stroke-dasharray=\"%s\"", strings.Join(words, " "))
		if m.DashFrom != 0 {
			fmt.Fprintf(s, " stroke-dashoffset=\"%s\"", number(m.DashFrom))
		}
	}
	var d strings.Builder
	for _, c := range m.Chains {
		pathData(&d, c.Transform(s.down))
	}
	fmt.Fprintf(s, " d=\"%s\"/>\n", d.String())
}

// pathData appends the path as absolute M L H V C Z.
func pathData(d *strings.Builder, p geom.Path) {
	x, y := number(p.Start().X), number(p.Start().Y)
	fmt.Fprintf(d, "M%s %s", x, y)
	for i, seg := range p {
		px, py := x, y
		x, y = number(seg.P3.X), number(seg.P3.Y)
		last := p.Closed() && i == len(p)-1
		switch {
		case !seg.Straight:
			fmt.Fprintf(d, "C%s %s %s %s %s %s", number(seg.P1.X), number(seg.P1.Y), number(seg.P2.X), number(seg.P2.Y), x, y)
		case last: // Z draws it
		case y == py:
			fmt.Fprintf(d, "H%s", x)
		case x == px:
			fmt.Fprintf(d, "V%s", y)
		default:
			fmt.Fprintf(d, "L%s %s", x, y)
		}
	}
	if p.Closed() {
		d.WriteByte('Z')
	}
}

func (s svgWriter) text(t Text) {
	at := s.down.Apply(t.At)
	x, y := decimals(at.X, 3), decimals(at.Y, 3)
	fmt.Fprintf(s, "<text x=\"%s\" y=\"%s\" font-family=\"'Noto Sans', sans-serif\" font-size=\"%s\"", x, y, decimals(t.Size, 3))
	if t.Strong {
		fmt.Fprint(s, " font-weight=\"600\"")
	}
	if t.Anchor == Middle {
		fmt.Fprint(s, " text-anchor=\"middle\"")
	}
	if t.Turn != 0 {
		fmt.Fprintf(s, " transform=\"rotate(%s %s %s)\"", decimals(-t.Turn*180/math.Pi, 4), x, y)
	}
	fmt.Fprintf(s, ">%s</text>\n", escape(t.Words))
}

// escape returns words as they may stand in XML text and attributes; what XML
// cannot hold becomes a replacement character.
func escape(words string) string {
	var b strings.Builder
	// Writing to a Builder does not fail.
	_ = xml.EscapeText(&b, []byte(words))
	return b.String()
}
