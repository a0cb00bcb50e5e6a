// Package trim is the arithmetic of what is cut without being traced: strips that are
// gathered or bound to an edge. It knows lengths and widths of cloth, no pieces.
//
// Lengths are millimetres.
package trim
