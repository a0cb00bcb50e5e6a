package intake

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"hemlet/draft"
	"hemlet/geom"
)

// maxGroups bounds the groups (pairs of a code and a value) that are kept: some
// thirty for each node that a project may have. entityCost is what an entity
// takes up beside its groups, in groups.
const (
	maxGroups  = 30 * draft.MaxNodes
	entityCost = 5
)

// group is one pair of lines of a DXF file.
type group struct {
	code, line int32
	value      string
}

// dxfEntity is an entity, as a stretch of the file's groups. Its words are decoded
// once, since inserts may draw it a hundred thousand times.
type dxfEntity struct {
	kind  string
	layer string
	// word is what a TEXT says, or the name of a LAYER, of a BLOCK, or of the
	// block that an INSERT places.
	word   string
	line   int
	groups []group
	verts  []dxfEntity // of a POLYLINE
}

// dxfBlock is a named set of entities that an INSERT places.
type dxfBlock struct {
	name     string
	base     geom.Point
	entities []dxfEntity
	piece    string // the name of the piece that it holds
}

// dxfFile is a file, cut into what matters here.
type dxfFile struct {
	name     string
	header   map[string]string
	hidden   map[string]bool // layers that are off or frozen
	blocks   map[string]*dxfBlock
	order    []string // the blocks in file order
	entities []dxfEntity
	notes    []string // comments and texts, for the unit
}

// dxfParser reads groups and sorts them into sections.
type dxfParser struct {
	ctx   context.Context
	text  string
	pos   int
	line  int
	kept  int
	count int
	back  group
	held  bool // back is to be returned once more
	room  []group
	words map[string]string // decoded names
	file  *dxfFile
}

func parseDXF(ctx context.Context, name, text string) (*dxfFile, error) {
	if !strings.Contains(text, "\n") {
		text = strings.ReplaceAll(text, "\r", "\n")
	}
	p := &dxfParser{ctx: ctx, text: text, words: map[string]string{}, file: &dxfFile{name: name,
		header: map[string]string{}, hidden: map[string]bool{}, blocks: map[string]*dxfBlock{}}}
	if err := p.sections(); err != nil {
		return nil, placed(name, Source{Line: p.line}, err)
	}
	return p.file, nil
}

var errCutShort = errors.New("the file ends in the middle; it is not complete")

// rawLine returns the next line without its end.
func (p *dxfParser) rawLine() (string, bool) {
	if p.pos >= len(p.text) {
		return "", false
	}
	p.line++
	rest := p.text[p.pos:]
	n := strings.IndexByte(rest, '\n')
	if n < 0 {
		p.pos = len(p.text)
		return rest, true
	}
	p.pos += n + 1
	return strings.TrimSuffix(rest[:n], "\r"), true
}

// next returns the next group; comments are noted and passed over. ok is false
// at the end of the file.
func (p *dxfParser) next() (g group, ok bool, err error) {
	if p.held {
		p.held = false
		return p.back, true, nil
	}
	for {
		if p.count++; p.count%4096 == 0 && p.ctx.Err() != nil {
			return g, false, p.ctx.Err()
		}
		codeLine, ok := p.rawLine()
		if !ok {
			return g, false, nil
		}
		at := p.line
		code, err := strconv.ParseInt(strings.TrimSpace(codeLine), 10, 16)
		if err != nil {
			if strings.TrimSpace(codeLine) == "" && strings.TrimSpace(p.text[p.pos:]) == "" {
				return g, false, nil
			}
			return g, false, fmt.Errorf("expected a group code, found %.40q", codeLine)
		}
		value, ok := p.rawLine()
		if !ok {
			return g, false, errCutShort
		}
		if code == 999 {
			p.note(value)
			continue
		}
		return group{int32(code), int32(at), value}, true, nil
	}
}

// maxNotes bounds the texts that are searched for the unit, maxNote the length
// of each in bytes: a file that states it does so early and briefly.
const (
	maxNotes = 1000
	maxNote  = 250
)

func (p *dxfParser) note(s string) {
	if len(p.file.notes) < maxNotes {
		p.file.notes = append(p.file.notes, s[:min(len(s), maxNote)])
	}
}

// sections reads the file to its end mark.
func (p *dxfParser) sections() error {
	for {
		g, ok, err := p.next()
		if err != nil {
			return err
		}
		if !ok {
			if len(p.file.entities) == 0 && len(p.file.blocks) == 0 {
				return errCutShort
			}
			return nil
		}
		word := strings.TrimSpace(g.value)
		if g.code != 0 {
			return fmt.Errorf("expected a section, found group %d", g.code)
		}
		switch word {
		case "EOF":
			return nil
		case "SECTION":
			if err := p.section(); err != nil {
				return err
			}
		default:
			return fmt.Errorf("expected a section, found %.40q", word)
		}
	}
}

func (p *dxfParser) section() error {
	g, ok, err := p.next()
	if err != nil {
		return err
	}
	if !ok || g.code != 2 {
		return errors.New("a section has no name")
	}
	switch strings.TrimSpace(g.value) {
	case "HEADER":
		return p.headerSection()
	case "TABLES":
		return p.records(p.layer)
	case "BLOCKS":
		return p.blocksSection()
	case "ENTITIES":
		list, _, err := p.entityList("ENDSEC")
		p.file.entities = append(p.file.entities, list...)
		return err
	}
	return p.skipSection()
}

func (p *dxfParser) skipSection() error {
	for {
		g, ok, err := p.next()
		if err != nil {
			return err
		}
		if !ok {
			return errCutShort
		}
		if g.code == 0 && strings.TrimSpace(g.value) == "ENDSEC" {
			return nil
		}
	}
}

// headerSection keeps the first value of the few variables that matter.
func (p *dxfParser) headerSection() error {
	name := ""
	for {
		g, ok, err := p.next()
		if err != nil {
			return err
		}
		switch {
		case !ok:
			return errCutShort
		case g.code == 0:
			return nil
		case g.code == 9:
			name = strings.TrimSpace(g.value)
		case name == "$INSUNITS" || name == "$MEASUREMENT":
			p.file.header[name] = g.value
		}
	}
}

// records hands each record of a section to keep, without storing the section.
func (p *dxfParser) records(keep func(dxfEntity)) error {
	for {
		e, ok, err := p.entity()
		if err != nil {
			return err
		}
		if !ok {
			return errCutShort
		}
		p.kept -= len(e.groups) + entityCost
		if e.kind == "ENDSEC" {
			return nil
		}
		keep(e)
	}
}

// layer notes a layer that is off or frozen.
func (p *dxfParser) layer(e dxfEntity) {
	if e.kind != "LAYER" {
		return
	}
	colour, _ := strconv.Atoi(strings.TrimSpace(e.first(62)))
	flags, _ := strconv.Atoi(strings.TrimSpace(e.first(70)))
	if colour < 0 || flags&1 != 0 {
		p.file.hidden[e.word] = true
	}
}

func (p *dxfParser) blocksSection() error {
	for {
		e, ok, err := p.entity()
		if err != nil {
			return err
		}
		if !ok {
			return errCutShort
		}
		switch e.kind {
		case "ENDSEC":
			return nil
		case "BLOCK":
			if err := p.block(e); err != nil {
				return err
			}
		}
	}
}

func (p *dxfParser) block(e dxfEntity) error {
	list, ended, err := p.entityList("ENDBLK")
	if err != nil {
		return err
	}
	if !ended {
		return errCutShort
	}
	base, err := e.point(10)
	if err != nil {
		return placed(p.file.name, e.source(), err)
	}
	name := e.word
	if p.file.blocks[name] == nil {
		p.file.order = append(p.file.order, name)
	}
	p.file.blocks[name] = &dxfBlock{name, base, list, blockPiece(name, list)}
	return nil
}

// entityList reads entities up to the one that ends the list.
func (p *dxfParser) entityList(end string) (list []dxfEntity, ended bool, err error) {
	for {
		e, ok, err := p.entity()
		if err != nil {
			return nil, false, err
		}
		if !ok {
			return nil, false, errCutShort
		}
		switch e.kind {
		case end:
			return list, true, nil
		case "ENDSEC", "SECTION", "EOF":
			return nil, false, errCutShort
		case "VERTEX":
			if n := len(list); n > 0 && list[n-1].kind == "POLYLINE" {
				list[n-1].verts = append(list[n-1].verts, e)
			}
			continue
		case "SEQEND":
			continue
		case "TEXT", "MTEXT":
			p.note(e.first(1))
		}
		list = append(list, e)
	}
}

// entity reads one record: from a group 0 to the next. Extended data is dropped.
func (p *dxfParser) entity() (dxfEntity, bool, error) {
	g, ok, err := p.next()
	if err != nil || !ok {
		return dxfEntity{}, false, err
	}
	if g.code != 0 {
		return dxfEntity{}, false, fmt.Errorf("expected an entity, found group %d", g.code)
	}
	e := dxfEntity{kind: strings.TrimSpace(g.value), line: int(g.line)}
	if p.kept += entityCost; p.kept > maxGroups {
		return e, false, errTooManyGroups
	}
	p.room = p.room[:0]
	for {
		g, ok, err := p.next()
		if err != nil {
			return e, false, err
		}
		if !ok || g.code == 0 {
			p.back, p.held = g, ok
			e.groups = slices.Clone(p.room)
			p.decode(&e)
			return e, true, nil
		}
		if g.code >= 1000 {
			continue
		}
		if p.kept++; p.kept > maxGroups {
			return e, false, errTooManyGroups
		}
		p.room = append(p.room, g)
	}
}

var errTooManyGroups = fmt.Errorf("the file has more than %d groups and entities", maxGroups)

// decode reads the words of an entity.
func (p *dxfParser) decode(e *dxfEntity) {
	if !knownKind(e.kind) {
		e.kind = plainWord(e.kind[:min(len(e.kind), maxKind)])
	}
	if e.layer = p.word(e.first(8)); e.layer == "" {
		e.layer = "0"
	}
	switch e.kind {
	case "INSERT", "BLOCK":
		e.word = p.word(e.first(2))
	case "LAYER":
		e.word = plainWord(e.first(2)) // each stands once
	case "TEXT", "MTEXT":
		e.word = lettering(e)
	}
}

// maxKind is how many bytes are kept of the name of a kind of entity that is not
// read, for the warning that says so.
const maxKind = 40

// word decodes a name; a file repeats the same few.
func (p *dxfParser) word(s string) string {
	plain, known := p.words[s]
	if !known {
		plain = plainWord(s)
		p.words[s] = plain
	}
	return plain
}

// first returns the first value of a code, "" if there is none.
func (e *dxfEntity) first(code int32) string {
	for i := range e.groups {
		if e.groups[i].code == code {
			return e.groups[i].value
		}
	}
	return ""
}

func (e *dxfEntity) source() Source {
	return Source{e.line, e.kind + " on layer " + e.layer}
}

// number reads a decimal number. Go's own reading takes more than that.
func (g group) number() (float64, error) {
	s := strings.TrimSpace(g.value)
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) || strings.ContainsAny(s, "xXpP_") {
		return 0, &lineError{int(g.line) + 1, fmt.Errorf("group %d is not a number: %.40q", g.code, s)}
	}
	return v, nil
}

// lineError says on which line of an entity the mistake is.
type lineError struct {
	line int
	err  error
}

func (e *lineError) Error() string { return fmt.Sprintf("line %d: %v", e.line, e.err) }

// num returns the first number of a code, or otherwise if there is none.
func (e *dxfEntity) num(code int32, otherwise float64) (float64, error) {
	for i := range e.groups {
		if e.groups[i].code == code {
			return e.groups[i].number()
		}
	}
	return otherwise, nil
}

// flags returns a set of bits.
func (e *dxfEntity) flags(code int32) int {
	n, _ := strconv.Atoi(strings.TrimSpace(e.first(code)))
	return n
}

// point returns the point whose x has the code and whose y has the code + 10;
// what is absent is 0, as the format says.
func (e *dxfEntity) point(code int32) (geom.Point, error) {
	x, err := e.num(code, 0)
	if err != nil {
		return geom.Point{}, err
	}
	y, err := e.num(code+10, 0)
	return geom.Pt(x, y), err
}

// points returns every point of a code, in order.
func (e *dxfEntity) points(code int32) ([]geom.Point, error) {
	var pts []geom.Point
	for _, g := range e.groups {
		if g.code != code && g.code != code+10 {
			continue
		}
		v, err := g.number()
		if err != nil {
			return nil, err
		}
		if g.code == code {
			pts = append(pts, geom.Pt(v, 0))
		} else if len(pts) > 0 {
			pts[len(pts)-1].Y = v
		}
	}
	return pts, nil
}

// numbers returns every number of a code, in order.
func (e *dxfEntity) numbers(code int32) ([]float64, error) {
	var vs []float64
	for _, g := range e.groups {
		if g.code != code {
			continue
		}
		v, err := g.number()
		if err != nil {
			return nil, err
		}
		vs = append(vs, v)
	}
	return vs, nil
}

// plainWord decodes a name or text: UTF-8 as files of later releases have it,
// else the Western code page of the earlier ones, and \U+ with four hex figures in both.
func plainWord(s string) string {
	s = s[:min(len(s), maxRawName)]
	if !utf8.ValidString(s) {
		if t, err := charmap.Windows1252.NewDecoder().String(s); err == nil {
			s = t
		}
	}
	var plain strings.Builder
	for {
		before, after, found := strings.Cut(s, `\U+`)
		plain.WriteString(before)
		if !found {
			return tidy(plain.String())
		}
		n, err := strconv.ParseUint(after[:min(len(after), 4)], 16, 32)
		if err != nil || len(after) < 4 {
			plain.WriteString(`\U+`)
			s = after
			continue
		}
		plain.WriteRune(rune(n))
		s = after[4:]
	}
}
