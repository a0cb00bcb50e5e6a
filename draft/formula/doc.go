// Package formula evaluates the formulas of which blocks and estimates of measures
// are made: one line of arithmetic and drafting over names, without loops. Every
// value has a kind, and a formula that adds a length to an area, or to a bare
// number, is refused when it is read and not when it is drawn.
//
// A formula is made of figures (6, 0.25, 1e3), names of the scope, the constants mm,
// cm, inch, degree and pi, the signs + - * /, the comparisons < <= > >= == != (exact,
// of two values of one kind), the words and, or, not, the condition c ? a : b, round
// brackets, and calls of the functions that Functions lists. Lengths are written as a
// number times a unit: 6*mm. Points lie on one sheet, x to the right and y up;
// angles run counter-clockwise from 0, to the right.
//
// The library github.com/expr-lang/expr parses the text and runs the program. What
// the language is, which kinds fit, and every function are decided here: nothing of
// the library's own functions, texts, lists, ranges or loops can be reached.
package formula
