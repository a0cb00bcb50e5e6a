// Package snap finds what catches the pointer on the bench: the points, edges and
// lines of the pieces, what can be constructed on them from where a gesture began,
// the wearer's levels, guides, and the squared paper.
//
// It knows where things lie, in millimetres on the bench, and nothing of how they
// are drawn.
package snap
