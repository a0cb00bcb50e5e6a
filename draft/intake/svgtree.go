package intake

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/text/encoding/charmap"
	"hemlet/draft"
)

const (
	svgSpace   = "http://www.w3.org/2000/svg"
	xlinkSpace = "http://www.w3.org/1999/xlink"
)

const (
	// maxElements bounds the elements of an SVG file: one that is drawn makes a
	// node or more, and those are bounded as well.
	maxElements = draft.MaxNodes
	// maxAttributes bounds the equals signs in one tag or stretch of text, since
	// the decoder gathers a tag's attributes, each far larger than its five
	// characters, before it hands over the tag. Text that holds more is no text.
	maxAttributes = 100_000
	// maxEntityBytes bounds what the entities of a file can grow to.
	maxEntityBytes = 4 << 20
)

// element is one element of the SVG name space; others are dropped with all
// that they hold.
type element struct {
	name  string
	line  int
	attrs []attr
	kids  []*element
	text  []byte // of title, text, tspan and style
	// cost is what reading the element's attributes and looking through its
	// children costs, in bytes of reading.
	cost int
}

type attr struct{ name, value string }

// lookCost is what looking past an attribute or a child costs, in bytes of reading.
const lookCost = 16

// attr returns the value of an attribute, "" if it is absent.
func (e *element) attr(name string) string {
	for _, a := range e.attrs {
		if a.name == name {
			return a.value
		}
	}
	return ""
}

func (e *element) source() Source {
	if id := e.attr("id"); id != "" {
		return Source{e.line, fmt.Sprintf("<%s id=%.60q>", e.name, id)}
	}
	return Source{e.line, "<" + e.name + ">"}
}

// title returns the text of the first title child.
func (e *element) title() string {
	for _, k := range e.kids {
		if k.name == "title" {
			return tidy(string(k.text))
		}
	}
	return ""
}

// tidy folds white space and cuts a name to what fits a label.
func tidy(s string) string {
	s = s[:min(len(s), maxRawName)]
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > maxName {
		s = string(r[:maxName])
	}
	return strings.ToValidUTF8(s, "")
}

// maxName is how many characters of a foreign name are kept: more fit no label.
const maxName = 120

// maxRawName is how many bytes of a name are looked at: enough for maxName
// characters with their escapes and some white space.
const maxRawName = 4096

// guard hands bytes to the XML decoder and stops where one token would grow
// without bound.
type guard struct {
	data   []byte
	pos    int
	equals int
}

var errTooManyAttributes = fmt.Errorf("a tag has more than %d attributes", maxAttributes)

func (g *guard) ReadByte() (byte, error) {
	if g.pos >= len(g.data) {
		return 0, io.EOF
	}
	b := g.data[g.pos]
	g.pos++
	if b == '=' {
		if g.equals++; g.equals > maxAttributes {
			return 0, errTooManyAttributes
		}
	}
	return b, nil
}

func (g *guard) Read(p []byte) (int, error) {
	if g.pos >= len(g.data) {
		return 0, io.EOF
	}
	n := copy(p, g.data[g.pos:])
	g.pos += n
	if g.equals += bytes.Count(p[:n], []byte("=")); g.equals > maxAttributes {
		return 0, errTooManyAttributes
	}
	return n, nil
}

// svgTree decodes XML into elements.
type svgTree struct {
	dec   *xml.Decoder
	guard *guard
	file  string
	amps  int
	stack []*element // nil for foreign elements
	count int
	root  *element
}

func parseTree(ctx context.Context, file string, data []byte) (*element, error) {
	t := &svgTree{guard: &guard{data: data}, file: file, amps: bytes.Count(data, []byte("&"))}
	t.dec = xml.NewDecoder(t.guard)
	t.dec.CharsetReader = charset
	for n := 0; ; n++ {
		if n%1024 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		line, _ := t.dec.InputPos()
		t.guard.equals = 0
		tok, err := t.dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			line, _ = t.dec.InputPos()
			return nil, &Error{file, Source{Line: line}, xmlReason(err)}
		}
		if err := t.token(tok, line); err != nil {
			return nil, placed(file, Source{Line: line}, err)
		}
	}
	if t.root == nil {
		return nil, &Error{File: file, Err: errors.New("there is no <svg> element in it")}
	}
	return t.root, nil
}

// xmlReason takes the decoder's own prefix and line off its message.
func xmlReason(err error) error {
	var syntax *xml.SyntaxError
	if !errors.As(err, &syntax) {
		return err
	}
	if strings.HasPrefix(syntax.Msg, "unexpected EOF") {
		return errors.New("the file ends in the middle; it is not complete")
	}
	return fmt.Errorf("not well-formed XML: %s", syntax.Msg)
}

func (t *svgTree) token(tok xml.Token, line int) error {
	switch tok := tok.(type) {
	case xml.StartElement:
		return t.open(tok, line)
	case xml.EndElement:
		t.stack = t.stack[:len(t.stack)-1]
	case xml.CharData:
		if e := t.top(); e != nil && holdsText(e.name) {
			e.text = append(e.text, tok[:min(len(tok), maxHeldText-len(e.text))]...)
		}
	case xml.Directive:
		return t.doctype(string(tok))
	}
	return nil
}

// maxHeldText bounds the text of an element that is kept, in bytes. Style sheets
// are the longest that is read.
const maxHeldText = 1 << 20

func holdsText(name string) bool {
	return name == "title" || name == "text" || name == "tspan" || name == "style"
}

func (t *svgTree) top() *element {
	if len(t.stack) == 0 {
		return nil
	}
	return t.stack[len(t.stack)-1]
}

func (t *svgTree) open(tok xml.StartElement, line int) error {
	if len(t.stack) >= draft.MaxDepth {
		return fmt.Errorf("elements are nested more than %d deep", draft.MaxDepth)
	}
	if t.count++; t.count > maxElements {
		return fmt.Errorf("the file has more than %d elements", maxElements)
	}
	parent := t.top()
	own := tok.Name.Space == svgSpace || tok.Name.Space == ""
	if !own || (t.root != nil && parent == nil) {
		t.stack = append(t.stack, nil)
		return nil
	}
	e := &element{name: tok.Name.Local, line: line, attrs: kept(tok.Attr)}
	for _, a := range e.attrs {
		e.cost += lookCost + len(a.value)
	}
	if t.root == nil {
		if e.name != "svg" {
			return fmt.Errorf("the outermost element is <%.40s>, not <svg>", e.name)
		}
		t.root = e
	} else {
		parent.kids = append(parent.kids, e)
		parent.cost += lookCost
	}
	t.stack = append(t.stack, e)
	return nil
}

// kept copies the attributes that are read, each once.
func kept(attrs []xml.Attr) []attr {
	var out []attr
	for _, a := range attrs {
		name := a.Name.Local
		switch a.Name.Space {
		case "":
		case xlinkSpace, "xlink":
			name = "xlink:" + name
		default:
			continue
		}
		if readAttributes[name] && !slices.ContainsFunc(out, func(b attr) bool { return b.name == name }) {
			out = append(out, attr{name, a.Value})
		}
	}
	return out
}

// readAttributes are the attributes that matter for an outline, its place and its
// name. A drawing program writes many more of its own.
var readAttributes = func() map[string]bool {
	names := map[string]bool{}
	for _, name := range strings.Fields(`id class style display visibility transform transform-origin
		viewBox preserveAspectRatio x y width height x1 y1 x2 y2 cx cy r rx ry d points
		href xlink:href aria-label data-name systemLanguage requiredExtensions`) {
		names[name] = true
	}
	return names
}()

var entityDecl = regexp.MustCompile(`<!ENTITY\s+(%?)\s*([^\s"'<>]+)\s+(?:"([^"]*)"|'([^']*)'|([^"'>]*))`)

// doctype takes in entities that stand for plain text, as some programs write
// for name spaces. Entities made of entities, and those that name another file,
// are refused.
func (t *svgTree) doctype(s string) error {
	longest := 0
	for _, m := range entityDecl.FindAllStringSubmatch(s, maxAttributes) {
		value := m[3] + m[4]
		switch {
		case m[1] != "" || strings.TrimSpace(m[5]) != "":
			return fmt.Errorf("the entity %.40q refers to something outside the file; such files are refused", m[2])
		case strings.ContainsAny(value, "&<%"):
			return fmt.Errorf("the entity %.40q is made of other entities; such files are refused", m[2])
		}
		if t.dec.Entity == nil {
			t.dec.Entity = map[string]string{}
		}
		t.dec.Entity[m[2]] = value
		longest = max(longest, len(value))
	}
	if longest*t.amps > maxEntityBytes {
		return fmt.Errorf("its entities would grow to more than %d MiB", maxEntityBytes>>20)
	}
	return nil
}

// charset reads the encodings in which drawings are found beside UTF-8. UTF-16
// has been turned into UTF-8 before.
func charset(label string, r io.Reader) (io.Reader, error) {
	switch strings.ToLower(label) {
	case "utf-16", "utf-16le", "utf-16be", "utf8", "us-ascii", "ascii":
		return r, nil
	case "iso-8859-1", "latin1", "windows-1252", "cp1252":
		return charmap.Windows1252.NewDecoder().Reader(r), nil
	case "iso-8859-15":
		return charmap.ISO8859_15.NewDecoder().Reader(r), nil
	case "windows-1251":
		return charmap.Windows1251.NewDecoder().Reader(r), nil
	}
	return nil, fmt.Errorf("the encoding %.40q is not read; save the file as UTF-8", label)
}
