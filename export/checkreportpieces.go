package export

import (
	"fmt"
	"math"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// The drawings of the pieces, in mm: how many stand beside each other, how high each
// is at most, how far they stand apart, and what letters and numbers need round each.
const (
	drawingsAcross = 3
	drawingHigh    = 50
	drawingGap     = 6
	drawingRim     = 6
)

// The lines of the drawings.
var (
	drawnCut    = stroke{0.3, "#000000", nil}
	drawnStitch = stroke{0.2, "#000000", []float64{1.2, 0.8}}
	drawnFold   = stroke{0.2, "#000000", []float64{2.4, 0.8, 0.6, 0.8}}
	drawnNotch  = stroke{0.4, "#000000", nil}
)

// pieces draws every piece small, with the letters of its seams and the numbers of the
// findings that have a place on it.
func (c *reporting) pieces() {
	if len(c.project.Pieces) == 0 {
		return
	}
	f := c.flow
	wide := (f.width - (drawingsAcross-1)*drawingGap) / drawingsAcross
	for i := 0; i < len(c.project.Pieces); i += drawingsAcross {
		row := c.project.Pieces[i:min(i+drawingsAcross, len(c.project.Pieces))]
		drawn := make([]*pieceDrawing, len(row))
		words, most, tall := make([][]string, len(row)), 0, 0.0
		for k, piece := range row {
			drawn[k], words[k] = c.drawn(piece, wide), c.caption(piece, wide)
			most, tall = max(most, len(words[k])), max(tall, drawn[k].high)
		}
		high := tall + float64(most)*reportNote*lineStep + 4
		if i == 0 {
			f.chapterFor("Pieces", "Letters tell which edges are sewn together; numbers in circles are those of the findings. Each is drawn to a scale of its own.", high)
		}
		f.need(high)
		for k := range row {
			x := f.left + float64(k)*(wide+drawingGap)
			c.drawing(drawn[k], geom.Rect{Min: geom.Pt(x, f.y-tall), Max: geom.Pt(x+wide, f.y)})
			c.captionAt(words[k], x, f.y-tall-1)
		}
		f.skip(high)
	}
}

// pieceDrawing is a piece as it is going to be drawn: flat, the line round it, and how
// many mm on paper stand for one of it; high is what it takes with its rim.
type pieceDrawing struct {
	piece *draft.Piece
	flat  *draft.Flat // nil where it cannot be laid flat
	cut   geom.Path
	k     float64
	high  float64
}

// drawn fits a piece into a width and the height of a drawing.
func (c *reporting) drawn(piece *draft.Piece, wide float64) *pieceDrawing {
	d := &pieceDrawing{piece: piece, high: 2 * drawingRim}
	d.flat, d.cut = c.flatOf(piece)
	size := d.cut.Bounds()
	if len(d.cut) == 0 || !(size.W() > 0 || size.H() > 0) {
		d.cut = nil
		return d
	}
	const least = 1e-9 // mm: a line has no height
	d.k = min((wide-2*drawingRim)/max(size.W(), least), (drawingHigh-2*drawingRim)/max(size.H(), least))
	d.high = d.k*size.H() + 2*drawingRim
	return d
}

// mostCaption bounds the lines below a drawing: names may be as long as a page.
const mostCaption = 12

// caption is what stands below a piece: its name first.
func (c *reporting) caption(piece *draft.Piece, width float64) []string {
	name := piece.Name
	if name == "" {
		name = string(piece.ID)
	}
	lines := setLinesIn(strings.Fields(name), width, reportNote, true)
	rest := fmt.Sprintf("%s, revision %s", piece.Cut, draft.Revision(piece))
	if cloth := c.project.Cloth(piece.Cloth); cloth != nil && cloth.Name != "" {
		rest += ", " + cloth.Name
	}
	lines = append(lines[:min(len(lines), mostCaption/2)], setLines(strings.Fields(rest), width, reportNote)...)
	if numbers := c.numbersOf(piece.ID); len(numbers) > 0 {
		what := "finding "
		if len(numbers) > 1 {
			what = "findings "
		}
		lines = append(lines, setLines(strings.Fields(what+strings.Join(numbers, ", ")), width, reportNote)...)
	}
	return lines[:min(len(lines), mostCaption)]
}

// captionAt writes the lines of a caption below a place, the first one strong.
func (c *reporting) captionAt(lines []string, x, y float64) {
	c.flow.draw(func(to *form) {
		for i, line := range lines {
			to.say(geom.Pt(x, y-textHeight*reportNote-float64(i)*reportNote*lineStep), reportNote, i == 0, line)
		}
	})
}

// numbersOf lists the numbers of the findings about a piece and about the seams that sew
// it.
func (c *reporting) numbersOf(id draft.ID) []string {
	var list []string
	for i, found := range c.open {
		if found.Piece == id || c.sews(found.Seam, id) {
			list = append(list, fmt.Sprint(i+1))
		}
	}
	return list
}

func (c *reporting) sews(seam, piece draft.ID) bool {
	s := c.project.Seam(seam)
	if s == nil {
		return false
	}
	for _, run := range []draft.Run{s.A, s.B} {
		for _, use := range run {
			if use.Piece == piece {
				return true
			}
		}
	}
	return false
}

// drawing draws one piece in the middle of a box.
func (c *reporting) drawing(d *pieceDrawing, box geom.Rect) {
	if d.cut == nil {
		return
	}
	piece, flat, cut := d.piece, d.flat, d.cut
	at := geom.Translation(cut.Bounds().Center().Mul(-1)).Then(geom.Scaling(d.k, d.k)).Then(geom.Translation(box.Center()))
	var letters []Text
	var marks []geom.Path
	if flat != nil {
		letters, marks = c.lettersOn(flat, at, d.k), c.notchesOn(flat, at)
	}
	discs := c.discsOn(piece, flat, at)
	c.flow.draw(func(to *form) {
		to.trace(cut, at, drawnCut)
		if flat != nil {
			to.trace(flat.Stitch, at, drawnStitch)
			if flat.Fold != nil {
				to.trace(geom.Path{*flat.Fold}, at, drawnFold)
			}
		}
		for _, m := range marks {
			to.trace(m, geom.Identity, drawnNotch)
		}
		for _, t := range letters {
			to.write(t)
		}
		to.discs(discs, box.Grow(-2.2))
	})
}

// flatOf returns the piece as it lies when cut and the line round it; of a piece that
// cannot be laid flat the line as it is drawn, and no flat piece.
func (c *reporting) flatOf(piece *draft.Piece) (*draft.Flat, geom.Path) {
	flat, err := c.slots.Flat(piece)
	if err != nil || flat == nil {
		if flat, err = draft.Unfold(piece); err != nil {
			return nil, piece.DrawnPath()
		}
	}
	if len(flat.Cut) == 0 {
		return flat, flat.Stitch
	}
	return flat, flat.Cut
}

// The letters on a drawing, in mm: their size, how far their middle stands inside the
// stitching, and how much of an edge each needs.
const (
	drawnLetter    = 2.3
	drawnLetterOff = 2.2
	drawnLetterGap = 5
)

// lettersOn returns the letters of the seams on the edges of a piece, inside the
// stitching: spread along the edge, or in one row where it is too short for that.
func (c *reporting) lettersOn(flat *draft.Flat, at geom.Affine, k float64) []Text {
	var out []Text
	put := func(e draft.FlatEdge, share float64, words string) {
		foot, ok := stand(e, share*e.Length())
		if !ok {
			return
		}
		off := drawnLetterOff + math.Abs(foot.out.X)*(textWidth(words, drawnLetter, true)-drawnLetter)/2
		place := at.Apply(foot.at).Sub(foot.out.Mul(max(off, drawnLetterOff)))
		place.Y -= (textHeight - textDepth) / 2 * drawnLetter
		out = append(out, Text{At: place, Size: drawnLetter, Anchor: Middle, Strong: true, Words: words})
	}
	for _, e := range flat.Edges {
		var words []string
		for _, seam := range c.project.Seams {
			if uses(seam.A, seam.BothSides, flat.Piece.ID, e) || uses(seam.B, seam.BothSides, flat.Piece.ID, e) {
				words = append(words, c.letter[seam.ID])
			}
		}
		n := len(words)
		if float64(n+1)*drawnLetterGap > k*e.Length() && n > 1 {
			const most = 4
			row := strings.Join(words[:min(n, most)], " ")
			if n > most {
				row += " …"
			}
			put(e, 0.5, row)
			continue
		}
		for i, w := range words {
			put(e, float64(i+1)/float64(n+1), w)
		}
	}
	return out
}

// notchesOn returns the notches as short ticks out of the stitching line.
func (c *reporting) notchesOn(flat *draft.Flat, at geom.Affine) []geom.Path {
	const tickLong, apart = 1.4, 0.9
	var out []geom.Path
	for _, e := range flat.Edges {
		length := e.Length()
		for _, n := range flat.Piece.Notches {
			if n.Edge != e.Edge.ID {
				continue
			}
			d := n.Along(length)
			if e.Half == draft.Far {
				d = length - d
			}
			foot, ok := stand(e, d)
			if !ok {
				continue
			}
			from, beside := at.Apply(foot.at), foot.out.Left().Mul(apart/2)
			ticks := []geom.Point{from}
			if n.Double {
				ticks = []geom.Point{from.Add(beside), from.Sub(beside)}
			}
			for _, p := range ticks {
				out = append(out, geom.Path{geom.Line(p, p.Add(foot.out.Mul(tickLong)))})
			}
		}
	}
	return out
}

// discsOn returns the numbers of the findings that have a place on a piece: a point, or
// the middle of an edge. One that is about a seam stands on the first edge of both sides.
func (c *reporting) discsOn(piece *draft.Piece, flat *draft.Flat, at geom.Affine) []discAt {
	const off = 3.6
	var out []discAt
	for i, found := range c.open {
		if found.Piece == piece.ID && found.At != nil {
			to := at.Apply(*found.At)
			out = append(out, discAt{n: i + 1, to: to, at: to.Add(geom.Pt(off, off))})
			continue
		}
		for _, edge := range c.edgesOf(found, piece.ID) {
			if foot, ok := middleOf(flat, edge); ok {
				to := at.Apply(foot.at)
				out = append(out, discAt{n: i + 1, to: to, at: to.Add(foot.out.Mul(off))})
			}
		}
	}
	return out
}

// edgesOf returns the edges of a piece that a finding is about.
func (c *reporting) edgesOf(found draft.Finding, piece draft.ID) []draft.ID {
	var edges []draft.ID
	if found.Piece == piece && found.Edge != "" {
		edges = append(edges, found.Edge)
	}
	if s := c.project.Seam(found.Seam); s != nil {
		for _, run := range []draft.Run{s.A, s.B} {
			if len(run) > 0 && run[0].Piece == piece && (len(edges) == 0 || edges[0] != run[0].Edge) {
				edges = append(edges, run[0].Edge)
			}
		}
	}
	return edges
}

// middleOf returns the middle of an edge on the near half of a flat piece.
func middleOf(flat *draft.Flat, edge draft.ID) (footing, bool) {
	if flat == nil {
		return footing{}, false
	}
	for _, e := range flat.Edges {
		if e.Edge.ID == edge && e.Half == draft.Near {
			if length := e.Length(); length > 0 && !math.IsInf(length, 0) {
				return stand(e, 0.42*length)
			}
		}
	}
	return footing{}, false
}
