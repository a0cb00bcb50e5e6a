package intake

import (
	"errors"
	"fmt"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// children draws what an element holds, in order.
func (r *svgReader) children(e *element, s svgState) error {
	for _, k := range e.kids {
		if err := r.draw(k, s); err != nil {
			return placed(r.file, k.source(), err)
		}
	}
	return nil
}

// draw draws one element with what it inherits.
func (r *svgReader) draw(e *element, s svgState) error {
	if err := r.spend(e); err != nil {
		return err
	}
	if s.depth++; s.depth > draft.MaxDepth {
		return fmt.Errorf("groups and references are nested more than %d deep", draft.MaxDepth)
	}
	if r.styles.property(e, "display") == "none" {
		return nil
	}
	switch r.styles.property(e, "visibility") {
	case "hidden", "collapse":
		s.hidden = true
	case "visible":
		s.hidden = false
	}
	if !isDrawn(e.name) {
		return r.leaveOut(e, s)
	}
	m, err := r.transform(e, s)
	if err != nil {
		return fmt.Errorf("transform: %w", err)
	}
	if s.toMM = m.Then(s.toMM); !finite(s.toMM) {
		return errors.New("transform: the number is out of range")
	}
	switch e.name {
	case "g", "a":
		return r.children(e, r.enter(e, s))
	case "switch":
		return r.choose(e, r.enter(e, s))
	case "svg":
		return r.viewport(e, s, e)
	case "use":
		return r.use(e, s)
	case "text":
		r.text(e, s)
		return nil
	}
	return r.shape(e, s)
}

// spend takes the cost of drawing e off the budget.
func (r *svgReader) spend(e *element) error {
	if r.visits++; r.visits > maxVisits {
		return fmt.Errorf("its references would draw more than %d elements", maxVisits)
	}
	if r.work += e.cost; r.work > maxWork {
		return fmt.Errorf("its references would read more than %d MiB", maxWork>>20)
	}
	return r.ctx.Err()
}

func isDrawn(name string) bool {
	switch name {
	case "g", "a", "switch", "svg", "use", "text",
		"path", "rect", "circle", "ellipse", "line", "polyline", "polygon":
		return true
	}
	return false
}

// leaveOut passes over what is not drawn where it stands, and says so where a
// person may miss it.
func (r *svgReader) leaveOut(e *element, s svgState) error {
	switch {
	case s.hidden:
	case e.name == "image":
		r.out.warn(e.source(), "a picture is no outline; trace it instead")
	case e.name == "foreignObject":
		r.out.warn(e.source(), "what is embedded here in another language is left out")
	}
	return nil
}

// transform returns the element's own map, about its transform-origin.
func (r *svgReader) transform(e *element, s svgState) (geom.Affine, error) {
	v := r.styles.property(e, "transform")
	if v == "" || v == "none" {
		return geom.Identity, nil
	}
	m, err := parseTransform(v)
	if err != nil {
		return m, err
	}
	origin := strings.Fields(r.styles.property(e, "transform-origin"))
	if len(origin) == 0 {
		return m, nil
	}
	if len(origin) != 2 {
		return m, errors.New("transform-origin needs two lengths")
	}
	var at [2]float64
	for i, whole := range [2]float64{s.view.X, s.view.Y} {
		l, err := parseLength(origin[i])
		if err != nil {
			return m, fmt.Errorf("transform-origin: %w", err)
		}
		at[i] = l.of(whole)
	}
	o := geom.Pt(at[0], at[1])
	return geom.Translation(o.Mul(-1)).Then(m).Then(geom.Translation(o)), nil
}

// enter returns what the children of a group inherit beside its transform.
func (r *svgReader) enter(e *element, s svgState) svgState {
	s.given = ""
	if name := e.title(); name != "" {
		s.name = name
	} else if name := firstOf(handmade(e), tidy(e.attr("aria-label"))); name != "" {
		s.name = name
	}
	for _, class := range strings.Fields(e.attr("class")) {
		switch class {
		case "piece":
			r.pieces++
			s.pieceNo, s.piece = r.pieces, tidy(e.attr("data-name"))
			if s.piece != "" {
				s.name = s.piece
			}
		case "scale":
			s.role = AnnotateRole
		}
	}
	return s
}

// choose draws the first child of a switch that asks for nothing that is not
// here: no extensions, and English or no language.
func (r *svgReader) choose(e *element, s svgState) error {
	for _, k := range e.kids {
		lang := strings.ToLower(k.attr("systemLanguage"))
		if k.attr("requiredExtensions") != "" || k.name == "title" || k.name == "desc" {
			continue
		}
		if lang != "" && !strings.HasPrefix(lang, "en") && !strings.Contains(lang, ",en") && !strings.Contains(lang, ", en") {
			continue
		}
		return placed(r.file, k.source(), r.draw(k, s))
	}
	return nil
}

// viewport draws a nested svg, or a symbol through a reference that may give it
// its size. What lies outside the viewport is drawn as well: a cropped outline
// would be a wrong one.
func (r *svgReader) viewport(e *element, s svgState, sized *element) error {
	at, err := r.lengths(e, s, "x", "y")
	if err != nil {
		return err
	}
	if e.name == "symbol" {
		at = [4]float64{}
	}
	size := s.view
	for i, name := range [2]string{"width", "height"} {
		v := firstOf(sized.attr(name), e.attr(name))
		if v == "" || v == "auto" {
			continue
		}
		l, err := parseLength(v)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if i == 0 {
			size.X = l.of(s.view.X)
		} else {
			size.Y = l.of(s.view.Y)
		}
	}
	if size.X <= 0 || size.Y <= 0 {
		return nil
	}
	box, err := elementBox(e)
	if err != nil {
		return err
	}
	fit := geom.Identity
	s.view = size
	if box != nil {
		if fit, err = box.fit(size.X, size.Y, e.attr("preserveAspectRatio")); err != nil {
			return fmt.Errorf("preserveAspectRatio: %w", err)
		}
		s.view = geom.Pt(box.w, box.h)
	}
	s.toMM = fit.Then(geom.Translation(geom.Pt(at[0], at[1]))).Then(s.toMM)
	return r.children(e, r.enter(e, s))
}

// use draws the element that a reference names, moved by x and y.
func (r *svgReader) use(e *element, s svgState) error {
	href := strings.TrimSpace(firstOf(e.attr("href"), e.attr("xlink:href")))
	if href == "" {
		return nil
	}
	id, ok := strings.CutPrefix(href, "#")
	if !ok {
		r.out.warn(e.source(), fmt.Sprintf("left out: the reference %.60q leads out of the file; nothing is fetched", href))
		return nil
	}
	target := r.ids[id]
	if target == nil {
		r.out.warn(e.source(), fmt.Sprintf("left out: the reference %.60q leads nowhere", href))
		return nil
	}
	for _, u := range r.using {
		if u == target {
			return fmt.Errorf("the reference %.60q leads back to itself", href)
		}
	}
	at, err := r.lengths(e, s, "x", "y")
	if err != nil {
		return err
	}
	s.toMM = geom.Translation(geom.Pt(at[0], at[1])).Then(s.toMM)
	s = r.enter(e, s)
	s.given = firstOf(e.title(), handmade(e))
	r.using = append(r.using, target)
	defer func() { r.using = r.using[:len(r.using)-1] }()
	if target.name == "symbol" || target.name == "svg" {
		return r.referenced(target, e, s)
	}
	return placed(r.file, target.source(), r.draw(target, s))
}

// referenced draws a symbol or svg element that is named by the reference e.
func (r *svgReader) referenced(target, e *element, s svgState) error {
	if err := r.spend(target); err != nil {
		return err
	}
	if s.depth++; s.depth > draft.MaxDepth {
		return fmt.Errorf("groups and references are nested more than %d deep", draft.MaxDepth)
	}
	if r.styles.property(target, "display") == "none" && target.name == "svg" {
		return nil
	}
	m, err := r.transform(target, s)
	if err != nil {
		return placed(r.file, target.source(), fmt.Errorf("transform: %w", err))
	}
	s.toMM = m.Then(s.toMM)
	return placed(r.file, target.source(), r.viewport(target, s, e))
}

// text notes lettering at its first place; it is no outline.
func (r *svgReader) text(e *element, s svgState) {
	var b strings.Builder
	b.Write(e.text)
	for _, k := range e.kids {
		if b.Len() > maxRawName {
			break
		}
		if k.name == "tspan" {
			b.WriteByte(' ')
			b.Write(k.text)
		}
	}
	says := tidy(b.String())
	if says == "" || s.hidden {
		return
	}
	at, err := r.lengths(e, s, "x", "y")
	if err != nil {
		return // a list of places for single letters
	}
	p := s.toMM.Apply(geom.Pt(at[0], at[1]))
	r.out.Texts = append(r.out.Texts, Text{At: p, Says: says, PieceNo: s.pieceNo, Where: e.source()})
}

func firstOf(words ...string) string {
	for _, w := range words {
		if w != "" {
			return w
		}
	}
	return ""
}
