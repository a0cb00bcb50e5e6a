package intake

import (
	"fmt"
	"strings"
)

// styled names the properties that matter for the shape of an outline; all else
// in a style sheet concerns colour and line.
var styled = []string{"display", "visibility", "transform", "transform-origin"}

// styleSheet holds, by selector (an element's name, .class or #id) and property,
// what a file's style elements declare last. Selectors of several parts are not
// followed.
type styleSheet map[[2]string]string

// maxSelectors bounds the selectors that a file's style elements hold, counted
// once for each property that matters: some hundred times what drawings have.
const maxSelectors = 100_000

// addSheet reads the text of a style element.
func (s styleSheet) addSheet(css string) error {
	css = withoutComments(css)
	for len(css) > 0 {
		open := strings.IndexByte(css, '{')
		if open < 0 {
			return nil
		}
		end := strings.IndexByte(css[open:], '}')
		if end < 0 {
			return nil
		}
		if s.addRule(css[:open], css[open+1:open+end]); len(s) > maxSelectors {
			return fmt.Errorf("the styles have more than %d selectors", maxSelectors)
		}
		css = css[open+end+1:]
	}
	return nil
}

// addRule notes what a rule declares. One rule is at most maxHeldText long.
func (s styleSheet) addRule(selectors, body string) {
	for _, property := range styled {
		v := declared(body, property)
		if v == "" {
			continue
		}
		for _, sel := range strings.Split(selectors, ",") {
			s[[2]string{strings.TrimSpace(sel), property}] = v
		}
	}
}

func withoutComments(css string) string {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(css, "/*")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		_, css, found = strings.Cut(rest, "*/")
		if !found {
			return b.String()
		}
	}
}

// property returns the value of a presentation property: the style attribute
// before the style sheet (#id before .class before the element's name) before
// the attribute of that name.
func (s styleSheet) property(e *element, name string) string {
	if v := declared(e.attr("style"), name); v != "" {
		return v
	}
	if v := s.lookUp(e, name); v != "" {
		return v
	}
	return strings.TrimSpace(e.attr(name))
}

func (s styleSheet) lookUp(e *element, name string) string {
	if len(s) == 0 {
		return ""
	}
	if v := s[[2]string{"#" + e.attr("id"), name}]; v != "" {
		return v
	}
	for _, c := range strings.Fields(e.attr("class")) {
		if v := s[[2]string{"." + c, name}]; v != "" {
			return v
		}
	}
	if v := s[[2]string{e.name, name}]; v != "" {
		return v
	}
	return s[[2]string{"*", name}]
}

// declared returns the last value that a list of declarations gives a property.
func declared(css, name string) (value string) {
	if !strings.Contains(css, name) {
		return ""
	}
	for len(css) > 0 {
		var d string
		d, css, _ = strings.Cut(css, ";")
		k, v, ok := strings.Cut(d, ":")
		if ok && strings.EqualFold(strings.TrimSpace(k), name) {
			v, _, _ = strings.Cut(v, "!")
			value = strings.TrimSpace(v)
		}
	}
	return value
}
