package draft

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"
)

// Limits on a typed sum: far more than anybody types, and little enough that the
// stack holds.
const (
	maxSumBytes = 400
	maxSumDepth = 32
)

// TextError says why a typed length, number or angle cannot be read.
type TextError struct {
	// Text is what was typed, At the place of the trouble in bytes from 0.
	Text string
	At   int
	// Says is the reason in plain words.
	Says string
}

// Error shows the text, the place where it is not the start, and the reason.
func (e *TextError) Error() string {
	shown := e.Text
	if len(shown) > maxSumBytes {
		shown = strings.ToValidUTF8(shown[:40], "") + "..."
	}
	if e.At <= 0 || e.At > len(e.Text) {
		return fmt.Sprintf("cannot read %q: %s", shown, e.Says)
	}
	place := utf8.RuneCountInString(e.Text[:e.At]) + 1
	return fmt.Sprintf("cannot read %q: at character %d, %s", shown, place, e.Says)
}

// sumKind tells what a part of a sum is.
type sumKind int

const (
	bareNumber sumKind = iota // a number that may still take the field's unit
	share                     // a percentage or a quotient of lengths: never a length
	measured                  // a length in mm, or an angle in degrees
)

// sumValue is the value of the part of the text from byte from to byte to.
type sumValue struct {
	x        float64
	kind     sumKind
	from, to int
}

func (v sumValue) source(text string) string { return strings.TrimSpace(text[v.from:v.to]) }

// sumWords are the units that a sum may use and the words that tell about them.
type sumWords struct {
	units map[string]float64
	// thing is what a value with a unit is called, choices how to write its unit.
	thing, choices string
}

var lengthWords = &sumWords{
	units: map[string]float64{
		"mm": 1, "cm": 10, "in": MMPerInch, "inch": MMPerInch, "inches": MMPerInch,
		`"`: MMPerInch, "″": MMPerInch, "”": MMPerInch,
	},
	thing:   "length",
	choices: "mm, cm or in",
}

var angleWords = &sumWords{
	units:   map[string]float64{"deg": 1, "degree": 1, "degrees": 1, "°": 1},
	thing:   "angle",
	choices: "deg or °",
}

// evaluate reads the whole text as one sum. The value is finite. Where bare is not
// 0 it is the size of the unit that a bare number takes when something with a
// unit is added to it.
func evaluate(text string, words *sumWords, bare float64) (sumValue, error) {
	p := &sumReader{text: text, words: words, bare: bare}
	switch {
	case len(text) > maxSumBytes:
		return sumValue{}, p.errorAt(0, fmt.Sprintf("it is longer than %d characters", maxSumBytes))
	case !utf8.ValidString(text):
		return sumValue{}, p.errorAt(0, "it is not text")
	case strings.TrimSpace(text) == "":
		return sumValue{}, p.errorAt(0, "nothing is written")
	}
	v, err := p.sum()
	if err != nil {
		return sumValue{}, err
	}
	if p.skipSpace(); p.at < len(text) {
		return sumValue{}, p.unexpected()
	}
	return v, nil
}

// sumReader reads a sum by recursive descent.
type sumReader struct {
	text  string
	words *sumWords
	bare  float64
	at    int
	depth int
	// divisor says that the next figure is divided by: then "/" goes on dividing
	// from the left, as in any sum, and makes no fraction.
	divisor bool
}

func (p *sumReader) errorAt(at int, says string) error { return &TextError{p.text, at, says} }

// unexpected tells about text after a complete value.
func (p *sumReader) unexpected() error {
	r, _ := utf8.DecodeRuneInString(p.text[p.at:])
	switch {
	case r == ')':
		return p.errorAt(p.at, "this parenthesis was never opened")
	case isDigit(r) || fractionOf(r) != 0 || r == '(':
		return p.errorAt(p.at, "+, -, * or / is missing before this")
	default:
		return p.errorAt(p.at, fmt.Sprintf("%q has no meaning here", r))
	}
}

func (p *sumReader) skipSpace() {
	for p.at < len(p.text) {
		switch r, size := utf8.DecodeRuneInString(p.text[p.at:]); r {
		case ' ', '\t', '\u00a0', '\u2009', '\u202f':
			p.at += size
		default:
			return
		}
	}
}

// operator takes the next rune if it is one of the pairs' keys, and returns what
// it stands for, else 0.
func (p *sumReader) operator(signs map[rune]byte) byte {
	p.skipSpace()
	r, size := utf8.DecodeRuneInString(p.text[p.at:])
	op := signs[r]
	if op != 0 {
		p.at += size
	}
	return op
}

var (
	addSigns      = map[rune]byte{'+': '+', '-': '-', '−': '-'}
	multiplySigns = map[rune]byte{'*': '*', '×': '*', '·': '*', '/': '/', '÷': '/', '⁄': '/', '∕': '/'}
)

func (p *sumReader) sum() (sumValue, error) {
	a, err := p.product()
	if err != nil {
		return a, err
	}
	for {
		op := p.operator(addSigns)
		if op == 0 {
			return a, nil
		}
		b, err := p.product()
		if err != nil {
			return b, err
		}
		if a, err = p.add(a, b, op == '-'); err != nil {
			return a, err
		}
	}
}

func (p *sumReader) product() (sumValue, error) {
	a, err := p.signed()
	if err != nil {
		return a, err
	}
	for {
		op := p.operator(multiplySigns)
		if op == 0 {
			return a, nil
		}
		p.divisor = op == '/'
		b, err := p.signed()
		p.divisor = false
		if err != nil {
			return b, err
		}
		if op == '*' {
			a, err = p.multiply(a, b)
		} else {
			a, err = p.divide(a, b)
		}
		if err != nil {
			return a, err
		}
	}
}

func (p *sumReader) signed() (sumValue, error) {
	p.skipSpace()
	from, minus := p.at, false
	for {
		op := p.operator(addSigns)
		if op == 0 {
			break
		}
		minus = minus != (op == '-')
	}
	v, err := p.group()
	v.from = from
	if minus {
		v.x = -v.x
	}
	return v, err
}

// group reads a parenthesis or one figure, with the unit or percent sign after it.
func (p *sumReader) group() (sumValue, error) {
	p.skipSpace()
	from := p.at
	var v sumValue
	var err error
	if strings.HasPrefix(p.text[p.at:], "(") {
		v, err = p.parenthesis()
	} else {
		v, err = p.figure()
	}
	if err != nil {
		return v, err
	}
	v.from, v.to = from, p.at
	return p.withUnit(v)
}

func (p *sumReader) parenthesis() (sumValue, error) {
	open := p.at
	if p.depth++; p.depth > maxSumDepth {
		return sumValue{}, p.errorAt(open, fmt.Sprintf("there are more than %d parentheses inside each other", maxSumDepth))
	}
	p.at++
	p.divisor = false
	v, err := p.sum()
	if err != nil {
		return v, err
	}
	p.skipSpace()
	if p.at >= len(p.text) {
		return v, p.errorAt(open, "this parenthesis is never closed")
	}
	if p.text[p.at] != ')' {
		return v, p.unexpected()
	}
	p.at++
	p.depth--
	return v, nil
}

// withUnit takes the unit or the percent sign after a value, if there is one.
func (p *sumReader) withUnit(v sumValue) (sumValue, error) {
	p.skipSpace()
	at := p.at
	word := p.word()
	if word == "" {
		return v, nil
	}
	if v.kind != bareNumber {
		return v, p.errorAt(at, fmt.Sprintf("%q comes after something that has its unit already", word))
	}
	if word == "%" {
		v.x, v.kind, v.to = v.x/100, share, p.at
		return p.finite(v)
	}
	size, known := p.words.units[strings.ToLower(word)]
	if !known {
		return v, p.errorAt(at, fmt.Sprintf("%q is not known; a unit is %s", word, p.words.choices))
	}
	v.x, v.kind, v.to = v.x*size, measured, p.at
	return p.finite(v)
}

// word takes a run of letters, or one sign that stands for a unit.
func (p *sumReader) word() string {
	rest := p.text[p.at:]
	for i, r := range rest {
		if isLetter(r) {
			continue
		}
		if i == 0 && strings.ContainsRune(`"″”°%`, r) {
			i = utf8.RuneLen(r)
		}
		p.at += i
		return rest[:i]
	}
	p.at = len(p.text)
	return rest
}

func isLetter(r rune) bool { return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || r == 'µ' }

func (p *sumReader) finite(v sumValue) (sumValue, error) {
	if math.IsNaN(v.x) || math.IsInf(v.x, 0) {
		return v, p.errorAt(v.from, "the figure is too large")
	}
	return v, nil
}

func (p *sumReader) add(a, b sumValue, minus bool) (sumValue, error) {
	if a.kind == measured {
		b = p.sized(b)
	} else if b.kind == measured {
		a = p.sized(a)
	}
	if (a.kind == measured) != (b.kind == measured) {
		odd := a
		if a.kind == measured {
			odd = b
		}
		return a, p.errorAt(odd.from, fmt.Sprintf("%s has no unit, and cannot be added to or taken from what has one; write %s after it",
			odd.source(p.text), p.words.choices))
	}
	if minus {
		b.x = -b.x
	}
	return p.finite(sumValue{a.x + b.x, max(a.kind, b.kind), a.from, b.to})
}

// sized gives a bare number the unit of the field.
func (p *sumReader) sized(v sumValue) sumValue {
	if v.kind == bareNumber && p.bare != 0 {
		v.x, v.kind = v.x*p.bare, measured
	}
	return v
}

func (p *sumReader) multiply(a, b sumValue) (sumValue, error) {
	if a.kind == measured && b.kind == measured {
		return a, p.errorAt(b.from, fmt.Sprintf("a %s times a %s is no %s", p.words.thing, p.words.thing, p.words.thing))
	}
	return p.finite(sumValue{a.x * b.x, scaledKind(a.kind, b.kind), a.from, b.to})
}

// scaledKind is the kind of a product: a share of a bare number is a bare number.
func scaledKind(a, b sumKind) sumKind {
	if a == share && b == bareNumber || a == bareNumber && b == share {
		return bareNumber
	}
	return max(a, b)
}

func (p *sumReader) divide(a, b sumValue) (sumValue, error) {
	if b.x == 0 {
		return a, p.errorAt(b.from, "nothing can be divided by 0")
	}
	kind := a.kind
	if b.kind == measured {
		if a.kind != measured {
			return a, p.errorAt(b.from, fmt.Sprintf("a number cannot be divided by a %s", p.words.thing))
		}
		kind = share
	}
	return p.finite(sumValue{a.x / b.x, kind, a.from, b.to})
}
