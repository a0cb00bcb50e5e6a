package intake

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// maxGroupWork bounds the groups that are read while drawing: those of the
// largest file once and as many again through inserts.
const maxGroupWork = 2 * maxGroups

// dxfReader draws the entities of a file into a Drawing.
type dxfReader struct {
	ctx     context.Context
	file    *dxfFile
	out     *Drawing
	visits  int
	work    int
	room    int
	pieces  int
	using   []string
	skipped map[string]int
	points  map[int]*markedPoints // by piece
}

// markedPoints are the corners and the points of curves that a file marks.
type markedPoints struct {
	turn   []geom.Point
	curves bool
	made   *cornerMarks
}

// marks returns the corners for finding them again; nil if there are none.
func (p *markedPoints) marks() *cornerMarks {
	if p.made == nil && len(p.turn) > 0 {
		p.made = newCornerMarks(p.turn, p.curves)
	}
	return p.made
}

// dxfState is what the entities of a block take from its insert.
type dxfState struct {
	toMM    geom.Affine
	layer   string // for entities on layer 0
	piece   string
	pieceNo int
	depth   int
}

// drawn is a line on its way to become a shape; order keeps the file's.
type drawn struct {
	Shape
	order int
}

// model returns what is to be drawn: the entities, or where they place nothing,
// the blocks as they are.
func (f *dxfFile) model(d *Drawing) []dxfEntity {
	for _, e := range f.entities {
		if knownKind(e.kind) {
			return f.entities
		}
	}
	list := f.entities
	for _, name := range f.order {
		if !strings.HasPrefix(name, "*") && len(f.blocks[name].entities) > 0 {
			list = append(list, dxfEntity{kind: "INSERT", layer: "0", word: name})
		}
	}
	if len(list) > len(f.entities) {
		d.warn(Source{}, "the file places none of its blocks; each is taken as it stands")
	}
	return list
}

// knownKind reports whether an entity of the kind is drawn.
func knownKind(kind string) bool { return kind == "INSERT" || isLine(kind) }

func isLine(kind string) bool {
	switch kind {
	case "LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "POLYLINE", "LWPOLYLINE":
		return true
	}
	return false
}

// container draws a list of entities, and chains what is left open in it. What
// comes of an insert keeps the insert's place in the order of the file.
func (r *dxfReader) container(list []dxfEntity, s dxfState) error {
	var shapes, loose []drawn
	before := len(r.out.Shapes)
	for i := range list {
		e := &list[i]
		if err := r.spend(e); err != nil {
			return placed(r.out.Name, e.source(), err)
		}
		if r.isHidden(e) {
			continue
		}
		if e.kind == "INSERT" {
			if err := r.insert(e, s); err != nil {
				return placed(r.out.Name, e.source(), err)
			}
			for _, sh := range r.out.Shapes[before:] {
				shapes = append(shapes, drawn{sh, i})
			}
			r.out.Shapes = r.out.Shapes[:before]
			continue
		}
		sh, ok, err := r.entity(e, s)
		if err != nil {
			return placed(r.out.Name, e.source(), err)
		}
		switch {
		case !ok:
		case sh.Closed:
			shapes = append(shapes, drawn{sh, i})
		default:
			loose = append(loose, drawn{sh, i})
		}
	}
	shapes = append(shapes, r.chained(loose)...)
	sort.SliceStable(shapes, func(i, j int) bool { return shapes[i].order < shapes[j].order })
	for _, d := range shapes {
		r.out.Shapes = append(r.out.Shapes, d.Shape)
	}
	return nil
}

// spend takes the cost of an entity off the budget.
func (r *dxfReader) spend(e *dxfEntity) error {
	if r.visits++; r.visits > maxVisits {
		return fmt.Errorf("it draws more than %d entities, counting those that its inserts repeat", maxVisits)
	}
	if r.work += len(e.groups); r.work > maxGroupWork {
		return fmt.Errorf("it draws more than %d groups, counting those that its inserts repeat", maxGroupWork)
	}
	return r.ctx.Err()
}

// isHidden reports whether an entity is invisible, on paper space, or on a layer
// that is switched off; the last is told.
func (r *dxfReader) isHidden(e *dxfEntity) bool {
	if e.flags(67) == 1 || e.flags(60) == 1 {
		return true
	}
	if !r.file.hidden[e.layer] {
		return false
	}
	if knownKind(e.kind) {
		r.skipped["entities on layer "+e.layer+", which is switched off,"]++
	}
	return true
}

// quiet are kinds that no one takes for an outline.
var quiet = map[string]bool{"TEXT": true, "MTEXT": true, "POINT": true, "ATTRIB": true, "ATTDEF": true,
	"DIMENSION": true, "LEADER": true, "MULTILEADER": true, "VIEWPORT": true, "SEQEND": true}

// entity turns one entity into a shape; ok is false where it is none.
func (r *dxfReader) entity(e *dxfEntity, s dxfState) (sh Shape, ok bool, err error) {
	layer := e.layer
	if layer == "0" && s.layer != "" {
		layer = s.layer
	}
	if !isLine(e.kind) {
		return sh, false, r.other(e, s, layer)
	}
	m, flat := e.plane()
	if e.kind == "LINE" || e.kind == "SPLINE" {
		flat = true // they have no plane of their own
	}
	if !flat {
		r.skipped[e.kind+" entities that do not lie flat"]++
		return sh, false, nil
	}
	if e.kind == "LINE" || e.kind == "SPLINE" || e.kind == "ELLIPSE" {
		m = geom.Identity // their points are in the world's coordinates
	}
	m = m.Then(s.toMM)
	path, closed, err := e.path(arcTolerance/max(stretch(m), 1e-12), splineTolerance/max(stretch(m), 1e-12), r.room)
	if err != nil || len(path) == 0 {
		if err == errNoOutline {
			r.skipped[e.kind+" entities that are meshes or surfaces"]++
			err = nil
		}
		return sh, false, err
	}
	if r.room -= len(path); r.room < 0 {
		return sh, false, errTooManyNodes
	}
	path = path.Transform(m)
	if err := inBounds(path); err != nil {
		return sh, false, err
	}
	if gap := path.Start().Dist(path.End()); gap <= closeTolerance && len(path) > 1 {
		closed = true
		path = sealed(path)
	}
	src := e.source()
	src.What = e.kind + " on layer " + layer
	return Shape{Path: path, Closed: closed, Layer: layer, Piece: s.piece, PieceNo: s.pieceNo, Where: src}, true, nil
}

// other notes texts and marked points, and counts the rest.
func (r *dxfReader) other(e *dxfEntity, s dxfState, layer string) error {
	switch e.kind {
	case "TEXT", "MTEXT":
		at, err := e.point(10)
		if err != nil {
			return err
		}
		m, _ := e.plane()
		if e.kind == "MTEXT" {
			m = geom.Identity
		}
		height, err := e.num(40, 0)
		if err != nil {
			return err
		}
		if says := pieceName(e.word); says != "" {
			m = m.Then(s.toMM)
			r.out.Texts = append(r.out.Texts, Text{m.Apply(at), says, height * stretch(m), layer, s.pieceNo, e.source()})
		}
	case "POINT":
		at, err := e.point(10)
		if err != nil {
			return err
		}
		p := r.points[s.pieceNo]
		if p == nil {
			p = &markedPoints{}
			r.points[s.pieceNo] = p
		}
		switch layer {
		case "2":
			p.turn = append(p.turn, s.toMM.Apply(at))
		case "3":
			p.curves = true
		}
	default:
		if !quiet[e.kind] {
			r.skipped[e.kind+" entities"]++
		}
	}
	return nil
}

// lettering returns the text of a TEXT or MTEXT in one line.
func lettering(e *dxfEntity) string {
	says := e.first(1)
	says = textCodes.Replace(says[:min(len(says), maxRawName)])
	if e.kind == "MTEXT" {
		says = textBraces.Replace(says)
	}
	return plainWord(says)
}

var (
	textCodes  = strings.NewReplacer(`\P`, " ", "%%c", "⌀", "%%d", "°")
	textBraces = strings.NewReplacer("{", "", "}", "")
)

// pieceName takes the words that introduce a piece's name off a text, and gives
// "" for the texts that say something else about it.
func pieceName(says string) string {
	key, value, ok := strings.Cut(says, ":")
	if !ok {
		return says
	}
	if strings.EqualFold(strings.TrimSpace(key), "piece name") {
		return strings.TrimSpace(value)
	}
	return ""
}

// plane returns the map from an entity's own coordinates to the world's; flat is
// false where its plane is not the drawing's.
func (e *dxfEntity) plane() (m geom.Affine, flat bool) {
	x, errX := e.num(210, 0)
	y, errY := e.num(220, 0)
	z, errZ := e.num(230, 1)
	const slope = 1e-6 // a plane tilted by less bends nothing by a micrometre
	if errX != nil || errY != nil || errZ != nil || math.Abs(x) > slope || math.Abs(y) > slope {
		return geom.Identity, false
	}
	if z < 0 {
		return geom.Scaling(-1, 1), true
	}
	return geom.Identity, z > 0
}

// insert draws a block, once for each place of its grid.
func (r *dxfReader) insert(e *dxfEntity, s dxfState) error {
	name := e.word
	b := r.file.blocks[name]
	if b == nil {
		r.out.warn(e.source(), fmt.Sprintf("left out: the block %q is not in the file", name))
		return nil
	}
	if slices.Contains(r.using, name) {
		return fmt.Errorf("the block %q holds itself", name)
	}
	if s.depth++; s.depth > draft.MaxDepth {
		return fmt.Errorf("blocks are nested more than %d deep", draft.MaxDepth)
	}
	places, err := e.places(b.base)
	if err != nil {
		return err
	}
	plane, flat := e.plane()
	if !flat {
		r.skipped["inserts that do not lie flat"]++
		return nil
	}
	if e.layer != "0" {
		s.layer = e.layer
	}
	// Further places cost even where the block is empty.
	r.visits += len(places) - 1
	outer := s
	r.using = append(r.using, name)
	defer func() { r.using = r.using[:len(r.using)-1] }()
	for _, m := range places {
		s := outer
		s.toMM = m.Then(plane).Then(outer.toMM)
		if s.pieceNo == 0 {
			r.pieces++
			s.pieceNo, s.piece = r.pieces, b.piece
		}
		if err := r.container(b.entities, s); err != nil {
			return err
		}
	}
	return nil
}

// maxGrid bounds the places of one insert's grid.
const maxGrid = 10_000

// places returns the map of each place at which an insert puts its block.
func (e *dxfEntity) places(base geom.Point) ([]geom.Affine, error) {
	var v [5]float64
	for i, f := range [5]struct {
		code      int32
		otherwise float64
	}{{41, 1}, {42, 1}, {50, 0}, {44, 0}, {45, 0}} {
		n, err := e.num(f.code, f.otherwise)
		if err != nil {
			return nil, err
		}
		v[i] = n
	}
	at, err := e.point(10)
	if err != nil {
		return nil, err
	}
	columns, rows := max(1, e.flags(70)), max(1, e.flags(71))
	if columns > maxGrid || rows > maxGrid || columns*rows > maxGrid {
		return nil, fmt.Errorf("an insert of %d × %d blocks is too much", columns, rows)
	}
	turn := turnDegrees(v[2], geom.Point{})
	m := geom.Translation(base.Mul(-1)).Then(geom.Scaling(v[0], v[1])).Then(turn)
	var out []geom.Affine
	for row := range rows {
		for col := range columns {
			shift := turn.ApplyVector(geom.Pt(float64(col)*v[3], float64(row)*v[4]))
			out = append(out, m.Then(geom.Translation(at.Add(shift))))
		}
	}
	return out, nil
}

// blockPiece returns the name of the piece that a block holds: what a text in it
// says, or the block's own name unless a program made that up.
func blockPiece(name string, entities []dxfEntity) string {
	for i := range entities {
		e := &entities[i]
		if e.kind != "TEXT" && e.kind != "MTEXT" {
			continue
		}
		if strings.Contains(e.word, ":") {
			if piece := pieceName(e.word); piece != "" {
				return piece
			}
		}
	}
	if strings.HasPrefix(name, "*") {
		return ""
	}
	return name
}

// tellSkipped warns once for each kind of thing that was left out.
func (r *dxfReader) tellSkipped() {
	kinds := make([]string, 0, len(r.skipped))
	for k := range r.skipped {
		kinds = append(kinds, k)
	}
	sort.Strings(kinds)
	for _, k := range kinds {
		r.out.warn(Source{}, fmt.Sprintf("%d %s left out", r.skipped[k], k))
	}
}

// namedRoles are the layers of our own plain export.
var namedRoles = map[string]Role{"CUT": CutRole, "STITCH": StitchRole, "INTERNAL": InsideRole,
	"NOTCH": AnnotateRole, "GRAIN": AnnotateRole, "FOLD": AnnotateRole, "TEXT": AnnotateRole, "SCALE": AnnotateRole}

// numberedRoles are the layers of ASTM D6673.
var numberedRoles = map[string]Role{"1": CutRole, "14": StitchRole, "8": InsideRole, "11": InsideRole}

func init() {
	for _, layer := range strings.Fields("2 3 4 5 6 7 9 10 12 13 15 80 81 82 83 84 85 86 87") {
		numberedRoles[layer] = AnnotateRole
	}
}

// giveRoles reads layers as roles where the file keeps to one of the two ways:
// blocks with nothing but the numbered layers, or a layer named CUT or STITCH.
func (r *dxfReader) giveRoles() {
	numbered, named, foreign := false, false, false
	for _, s := range r.out.Shapes {
		if s.PieceNo > 0 {
			_, known := numberedRoles[s.Layer]
			foreign = foreign || !known
			numbered = numbered || s.Layer == "1"
		}
		l := strings.ToUpper(s.Layer)
		named = named || l == "CUT" || l == "STITCH"
	}
	for i := range r.out.Shapes {
		s := &r.out.Shapes[i]
		switch {
		case named:
			s.Role = namedRoles[strings.ToUpper(s.Layer)]
		case numbered && !foreign:
			s.Role = numberedRoles[s.Layer]
		}
		if p := r.points[s.PieceNo]; p != nil && (s.Role == CutRole || s.Role == StitchRole) {
			s.marks = p.marks()
		}
	}
}
