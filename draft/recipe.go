package draft

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
)

// The settings of a link, by name. A length is in mm with its unit, as a person
// writes it; edges, lines and places are named by the ids of the parent.
const (
	settingMake     = "make"     // what is made: copy, lining, facing, stiffener
	settingName     = "name"     // the name of the piece, without it one after the parent's
	settingMirrored = "mirrored" // yes for the mirror image
	settingLine     = "line"     // the line inside the parent at which a part is cut off
	settingFrom     = "from"     // the place at which a straight cut starts: EDGE@SHARE
	settingTo       = "to"       // and at which it ends
	settingSide     = "side"     // left or right of that line
	settingEdges    = "edges"    // edges, with blanks between
	settingMarks    = "marks"    // lines and points that go with it, with blanks between
	settingWidth    = "width"    // of a facing
	settingInside   = "inside "  // with an edge after it: how far a lining lies inside it
	settingNet      = "net"      // how far a stiffener lies inside the stitching line
)

// readRecipe reads the settings of a link.
func readRecipe(list []Setting) (recipe, error) {
	s := &settingReader{values: make(map[string]string, len(list))}
	for _, set := range list {
		s.values[set.Name] = set.Value
	}
	var how recipe
	switch what := s.text(settingMake); what {
	case roleCopy:
		how = s.tracing()
	case roleStiffener:
		how = s.stiffening()
	case roleLining:
		how = s.lining()
	case roleFacing:
		how = s.facing()
	case roleOpening:
		how = s.holeFacing()
	default:
		return nil, fmt.Errorf("it does not say what is made of the piece, or says %q, which is not known", what)
	}
	if s.err != nil {
		return nil, s.err
	}
	for name := range s.values {
		return nil, fmt.Errorf("the setting %s of a %s is not known", name, how.role())
	}
	return how, nil
}

// settingReader takes settings out one by one and keeps the first trouble.
type settingReader struct {
	values map[string]string
	err    error
}

func (s *settingReader) fail(name string, err error) {
	if s.err == nil {
		s.err = fmt.Errorf("the setting %s: %w", name, err)
	}
}

func (s *settingReader) text(name string) string {
	v := s.values[name]
	delete(s.values, name)
	return v
}

func (s *settingReader) yes(name string) bool {
	text := s.text(name)
	if text == "" {
		return false
	}
	yes, err := parseYesNo(text)
	if err != nil {
		s.fail(name, err)
	}
	return yes
}

// length reads a length of 0 or more in mm, or returns the given one where there is
// none.
func (s *settingReader) length(name string, without float64) float64 {
	text := s.text(name)
	if text == "" {
		return without
	}
	mm, err := ParseLength(text)
	switch {
	case err != nil:
		s.fail(name, err)
	case !(mm >= 0 && mm <= MaxCoordinate):
		s.fail(name, fmt.Errorf("%s is no width", text))
	}
	return mm
}

func (s *settingReader) id(name string) ID { return ID(s.text(name)) }

func (s *settingReader) ids(name string) []ID {
	var list []ID
	for _, f := range strings.Fields(s.text(name)) {
		list = append(list, ID(f))
	}
	return list
}

// place reads EDGE@SHARE; its edge is empty where there is none.
func (s *settingReader) place(name string) edgeShare {
	text := s.text(name)
	if text == "" {
		return edgeShare{}
	}
	at := strings.LastIndexByte(text, '@')
	if at < 0 {
		s.fail(name, fmt.Errorf("%q is no place on an edge", text))
		return edgeShare{}
	}
	share, err := strconv.ParseFloat(text[at+1:], 64)
	if err != nil || !(share >= 0 && share <= 1) {
		s.fail(name, fmt.Errorf("%q has no share from 0 to 1 after the edge", text))
	}
	return edgeShare{ID(text[:at]), share}
}

// widths reads all settings that are called by the stem and an edge.
func (s *settingReader) widths(stem string) map[ID]float64 {
	out := make(map[ID]float64)
	for name := range s.values {
		if edge, ok := strings.CutPrefix(name, stem); ok && edge != "" {
			out[ID(edge)] = s.length(name, 0)
		}
	}
	return out
}

// edgeShare is a place on an edge of the parent, as a share of its length.
type edgeShare struct {
	edge  ID
	share float64
}

func (e edgeShare) text() string {
	return string(e.edge) + "@" + strconv.FormatFloat(e.share, 'f', -1, 64)
}

// follow returns the place where its edge has become others.
func (e edgeShare) follow(lin Lineage) (edgeShare, bool) {
	heirs, gone := lin[e.edge]
	if !gone {
		return e, false
	}
	for _, h := range heirs {
		if h.Old1 > h.Old0 && e.share >= h.Old0-shareSlack && e.share <= h.Old1+shareSlack {
			share := between(min(max(e.share, h.Old0), h.Old1), h.Old0, h.Old1, h.New0, h.New1)
			return edgeShare{h.Edge, min(max(share, 0), 1)}, true
		}
	}
	return e, false // its edge is gone: told when the piece cannot be made
}

// followEdges returns a list of edges after they have become others.
func followEdges(list []ID, lin Lineage) ([]ID, bool) {
	var out []ID
	changed := false
	add := func(id ID) {
		for _, known := range out {
			if known == id {
				return
			}
		}
		out = append(out, id)
	}
	for _, id := range list {
		heirs, gone := lin[id]
		if !gone || len(heirs) == 0 {
			add(id)
			continue
		}
		changed = true
		for _, h := range heirs {
			add(h.Edge)
		}
	}
	return out, changed
}

// followWidths returns widths by edges after the edges have become others.
func followWidths(widths map[ID]float64, lin Lineage) (map[ID]float64, bool) {
	out := make(map[ID]float64, len(widths))
	changed := false
	for id, w := range widths {
		heirs, gone := lin[id]
		if !gone {
			out[id] = max(w, out[id])
			continue
		}
		changed = true
		for _, h := range heirs {
			out[h.Edge] = max(w, out[h.Edge])
		}
	}
	return out, changed
}

// settingList builds the settings of a recipe, in an order that never changes.
type settingList []Setting

func (l *settingList) text(name, value string) {
	if value != "" {
		*l = append(*l, Setting{name, value})
	}
}

func (l *settingList) yes(name string, yes bool) {
	if yes {
		l.text(name, "yes")
	}
}

func (l *settingList) length(name string, mm float64) { l.text(name, lengthText(mm)) }

func (l *settingList) ids(name string, list []ID) {
	words := make([]string, len(list))
	for i, id := range list {
		words[i] = string(id)
	}
	l.text(name, strings.Join(words, " "))
}

func (l *settingList) widths(stem string, widths map[ID]float64) {
	edges := make([]string, 0, len(widths))
	for id := range widths {
		edges = append(edges, string(id))
	}
	sort.Strings(edges)
	for _, e := range edges {
		l.length(stem+e, widths[ID(e)])
	}
}

// lengthText writes a length of mm so that it is read back the same.
func lengthText(mm float64) string {
	return strconv.FormatFloat(toGrid(math.Abs(mm)), 'f', -1, 64) + "mm"
}
