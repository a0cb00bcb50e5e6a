// Package block reads the text files that say how a garment block is drafted, and
// drafts them for a body: points, lines and curves by named formulas, step by step,
// and the pieces, seams and marks that are made of them. It knows nothing of
// projects; package draft turns a Sheet into pieces.
package block
