// Package formula evaluates the formulas of which blocks and estimates of measures
// are made: one line of arithmetic and drafting over names, without loops. Every
// value has a kind, and a formula that adds a length to an area, or to a bare
// number, is refused when it is read and not when it is drawn.
package formula
