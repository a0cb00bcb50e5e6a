// Package draft is the pattern document and everything that a pattern maker does
// to it: pieces with named edges, allowances, seams, notches and darts; the acts
// that change them; the checks that prove them.
//
// A Project is a value. Nothing in this package changes a Project, a Piece or a
// slice that it was handed; an edit returns a new Project that shares whatever it
// left alone. What can be computed (cut lines, lengths, findings) is never
// stored: see Slots.
//
// Lengths are millimetres, y points up, outlines run counter-clockwise.
package draft
