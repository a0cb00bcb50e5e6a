package intake

import (
	"fmt"
	"math"
	"strconv"
)

// scanner reads the small languages of SVG attributes: numbers, separated by
// white space and at most one comma, and words.
type scanner struct {
	s string
	i int
}

func (c *scanner) errorf(format string, args ...any) error {
	return fmt.Errorf("at character %d: %s", c.i+1, fmt.Sprintf(format, args...))
}

// found describes what stands at the present place.
func (c *scanner) found() string {
	if c.done() {
		return "the end"
	}
	return strconv.QuoteRune([]rune(c.s[c.i:min(len(c.s), c.i+4)])[0])
}

func (c *scanner) done() bool { return c.i >= len(c.s) }

func (c *scanner) peek() byte {
	if c.done() {
		return 0
	}
	return c.s[c.i]
}

func isSpace(b byte) bool { return b == ' ' || b == '\t' || b == '\n' || b == '\r' || b == '\f' }
func isDigit(b byte) bool { return b >= '0' && b <= '9' }
func isAlpha(b byte) bool { return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' }

func (c *scanner) space() {
	rest, n := c.s[c.i:], 0
	for n < len(rest) && isSpace(rest[n]) {
		n++
	}
	c.i += n
}

// comma skips white space with at most one comma in it, and reports whether
// there was one.
func (c *scanner) comma() bool {
	c.space()
	if c.peek() != ',' {
		return false
	}
	c.i++
	c.space()
	return true
}

// take skips b if it stands here.
func (c *scanner) take(b byte) bool {
	if c.done() || c.s[c.i] != b {
		return false
	}
	c.i++
	return true
}

func (c *scanner) digits() (n int) {
	for !c.done() && isDigit(c.s[c.i]) {
		c.i++
		n++
	}
	return n
}

// startsNumber reports whether a number may start here.
func (c *scanner) startsNumber() bool {
	b := c.peek()
	return isDigit(b) || b == '.' || b == '-' || b == '+'
}

// number reads one number of the SVG grammar: NaN, Inf and hexadecimal are not
// in it. An exponent is taken only where digits follow, so that "1em" is 1.
func (c *scanner) number() (float64, error) {
	start := c.i
	if b := c.peek(); b == '+' || b == '-' {
		c.i++
	}
	n := c.digits()
	if c.take('.') {
		n += c.digits()
	}
	if n == 0 {
		c.i = start
		return 0, c.errorf("expected a number, found %s", c.found())
	}
	if b := c.peek(); b == 'e' || b == 'E' {
		mark := c.i
		c.i++
		if b := c.peek(); b == '+' || b == '-' {
			c.i++
		}
		if c.digits() == 0 {
			c.i = mark
		}
	}
	v, err := strconv.ParseFloat(c.s[start:c.i], 64)
	if err != nil || math.IsInf(v, 0) {
		c.i = start
		return 0, c.errorf("the number is out of range")
	}
	return v, nil
}

// word reads letters.
func (c *scanner) word() string {
	start := c.i
	for !c.done() && isAlpha(c.s[c.i]) {
		c.i++
	}
	return c.s[start:c.i]
}
