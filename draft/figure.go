package draft

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// figure reads a decimal, a fraction, or a whole number and a fraction.
func (p *sumReader) figure() (sumValue, error) {
	from := p.at
	if f := p.sign(); f != 0 {
		return sumValue{x: f, from: from, to: p.at}, nil
	}
	x, whole, err := p.decimal()
	if err != nil {
		return sumValue{}, err
	}
	if whole {
		if x, err = p.withFraction(x); err != nil {
			return sumValue{}, err
		}
	}
	return p.finite(sumValue{x: x, from: from, to: p.at})
}

// decimal reads digits with at most one point or comma and an exponent; whole
// says that there were digits only.
func (p *sumReader) decimal() (x float64, whole bool, err error) {
	from := p.at
	before := p.digits()
	mark, after := "", ""
	if p.at < len(p.text) && (p.text[p.at] == '.' || p.text[p.at] == ',') {
		mark = p.text[p.at : p.at+1]
		p.at++
		after = p.digits()
	}
	if before == "" && after == "" {
		p.at = from
		return 0, false, p.missingFigure()
	}
	if p.at < len(p.text) && (p.text[p.at] == '.' || p.text[p.at] == ',') {
		return 0, false, p.errorAt(p.at, "a figure has one point or comma; leave out those between thousands")
	}
	if mark == "," && len(after) == 3 && strings.Trim(before, "0") != "" {
		return 0, false, p.errorAt(from, "this could be "+before+" and a bit, or thousands; write "+before+"."+after+" or "+before+after)
	}
	text := before + "." + after + p.exponent()
	if text[0] == '.' {
		text = "0" + text
	}
	x, err = strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, false, p.errorAt(from, "the figure is too large")
	}
	return x, mark == "" && !strings.ContainsRune(text, 'e'), nil
}

// exponent takes "e-7" or the like, as programs write small figures.
func (p *sumReader) exponent() string {
	from := p.at
	if from >= len(p.text) || p.text[from]|0x20 != 'e' {
		return ""
	}
	p.at++
	if p.at < len(p.text) && (p.text[p.at] == '-' || p.text[p.at] == '+') {
		p.at++
	}
	if p.digits() == "" {
		p.at = from
		return ""
	}
	return "e" + p.text[from+1:p.at]
}

func (p *sumReader) missingFigure() error {
	if p.at >= len(p.text) {
		return p.errorAt(p.at, "a figure is missing at the end")
	}
	r, _ := utf8.DecodeRuneInString(p.text[p.at:])
	return p.errorAt(p.at, "a figure is wanted, not "+strconv.QuoteRune(r))
}

func (p *sumReader) digits() string {
	from := p.at
	for p.at < len(p.text) && isDigit(rune(p.text[p.at])) {
		p.at++
	}
	return p.text[from:p.at]
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }

// withFraction reads what may follow the whole number x: "/4" makes it a fraction
// of its own, "1/2" after a space or "½" is added to it.
func (p *sumReader) withFraction(x float64) (float64, error) {
	if bottom, at, ok := p.slashed(p.at); ok && !p.divisor {
		return p.over(x, bottom, at)
	}
	start := p.at
	p.skipSpace()
	if f := p.sign(); f != 0 {
		return x + f, nil
	}
	if p.at == start {
		return x, nil
	}
	topAt := p.at
	top := p.digits()
	if bottom, at, ok := p.slashed(p.at); ok && top != "" {
		t, err := strconv.ParseFloat(top, 64)
		if err != nil {
			return 0, p.errorAt(topAt, "the figure is too large")
		}
		f, err := p.over(t, bottom, at)
		return x + f, err
	}
	p.at = start
	return x, nil
}

// slashed looks for "/" and digits at the byte, with nothing between, and returns
// the digits and where they start. Digits that a point or comma follows are a
// decimal that something is divided by, and no fraction.
func (p *sumReader) slashed(at int) (digits string, start int, ok bool) {
	r, size := utf8.DecodeRuneInString(p.text[at:])
	if multiplySigns[r] != '/' || r == '÷' {
		return "", 0, false
	}
	start = at + size
	end := start
	for end < len(p.text) && isDigit(rune(p.text[end])) {
		end++
	}
	if end == start || end < len(p.text) && strings.IndexByte(".,eE", p.text[end]) >= 0 {
		return "", 0, false
	}
	return p.text[start:end], start, true
}

// over divides by the digits that start at the byte, and moves on behind them.
func (p *sumReader) over(top float64, digits string, at int) (float64, error) {
	bottom, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return 0, p.errorAt(at, "the figure is too large")
	}
	if bottom == 0 {
		return 0, p.errorAt(at, "nothing can be divided by 0")
	}
	p.at = at + len(digits)
	return top / bottom, nil
}

// sign takes a fraction that is one character, such as ½, or returns 0.
func (p *sumReader) sign() float64 {
	r, size := utf8.DecodeRuneInString(p.text[p.at:])
	f := fractionOf(r)
	if f != 0 {
		p.at += size
	}
	return f
}

func fractionOf(r rune) float64 {
	switch r {
	case '⅛':
		return 1. / 8
	case '¼':
		return 1. / 4
	case '⅓':
		return 1. / 3
	case '⅜':
		return 3. / 8
	case '½':
		return 1. / 2
	case '⅝':
		return 5. / 8
	case '⅔':
		return 2. / 3
	case '¾':
		return 3. / 4
	case '⅞':
		return 7. / 8
	}
	return 0
}
