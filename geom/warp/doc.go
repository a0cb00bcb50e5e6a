// Package warp re-shapes a pattern to other measures: lengths along its edges and across
// its pieces become what is wanted, seams stay true, what is straight stays straight, and
// between what is wanted the change spreads with the least distortion.
//
// # What is least
//
// Each shape is moved by one smooth field u, so that smooth joints stay smooth and a
// detail goes along with what is about it. What is made least is, summed over the shapes,
//
//	∫ (u_x - v_y)² + (u_y + v_x)²  +  A (u_xx² + 2 u_xy² + u_yy² + v_xx² + 2 v_xy² + v_yy²)
//
// with A the area of the shape's box: how much angles change, and how much the field bends
// (that of a thin plate: Duchon 1977, Bookstein 1989). What lies in the box beside the cloth
// counts a twentieth. Neither counts what scales, turns or moves a shape as a whole; that a
// shape turns counts for itself, where no fold, rail or axis says how it lies, so that its
// grain stays but for a degree or two. All shapes may be scaled first by the median of what is
// wanted over what is, which then is all that happens where nothing else is wanted; that a
// shape grows beyond that counts half as much as changes of its angles, so that a band of which only the
// length is wanted gets a depth that goes with the whole. The sum
// does not change with the size of the whole.
//
// Two things count in a fit alone, which is where nothing is asked to stay (Problem.Stay). Of
// a shape with a grain, the twist u_xy, v_xy, with x and y across and along the grain, counts
// twenty times as much: garments are made for other bodies by other heights and other widths,
// so that levels stay levels and what stood above one another goes on to. And each curve of
// the outline counts by how far its handles at corners lie from where they would if it had
// only turned and grown as the line of its ends.
//
// # The field
//
// Over the box of a shape lies a lattice of bicubic B-splines, with a function for each
// dart by which its two sides part. A node goes to P + u(P), and a handle h to h + u'(P) h:
// both linear in the field, so that cubics stay cubics with the same nodes, and every
// length is that of the resulting cubics. A shape that is symmetric has a symmetric field.
//
// # How it is found
//
// As a seam, a straight row or a span reads only some points of a shape, the least energy
// for any movement of those points is worked out first; the unknowns are then no more than
// their coordinates, and half their square is the energy. Folds, rails, hard shifts and lines
// inside along or across the grain are linear and taken out of the unknowns. The rest is left
// to package sqp: seams, rows and the legs of darts are hard, curves keep bending the way they
// do, and spans, mouths of darts and shifts harden until they are met.
// Where that leaves no way but to fold a place of a shape over, to press it flat, or in a fit
// to miss a span by more than a thousandth, all is solved once more with curves of these
// shapes that may bend the other way and, in a fit, straight edges that may leave the grain,
// but for the longest of a shape and those in the middle of the body; the worse solution is
// dropped. Where curves then wave as they did not, they are solved a third time, each held to
// the side to which it came to turn, if that meets the spans as well.
// Where the wishes cannot all be met, what comes out has about the least weighted sum of squares
// of what is missed.
// Last, in a fit, the ends of lines that run on across seams are turned, evenly on both sides
// and no further than their curves keep their sides, so that they run on as they did; what
// that changes of lengths is put right from there.
package warp
