// Package adjust changes outlines as little as can be so that lengths along them become
// what is wished: two sides of a seam equally long, or one in a given ratio to the other,
// for one seam or for all seams of a garment together.
//
// # What is least
//
// Every place of an outline is moved by a displacement d; along each stretch d is a cubic
// of Bernstein form, like the stretch itself, so that lines stay lines and cubics stay
// cubics. What is made least is, summed over the edges,
//
//	∫ |d|² ds  +  ℓ²/π² ∫ |dd/ds|² ds  +  ℓ⁴/π⁴ ∫ |d²d/ds²|² ds
//
// with s the length along the outline as it was and ℓ the length of the edge from corner
// to corner, or an eighth of the outline if that is more: how far the outline moves, how
// much it is stretched and turned, and how much it is bent. The shares are such that one
// arch over the whole edge costs the same by each of the three. The first term alone would move an end and dent the curve beside it; with
// the other two a moved end takes its edge along, evenly, up to the next corner, handles
// as well, and the next edge likewise. The sum does not change when a node is let into an
// edge, nor with the place and turn of a shape. It has the unit mm³ and grows alike for
// doll and giant.
//
// # How it is found
//
// The wishes are met by Newton steps on the Lagrangian (sequential quadratic programming;
// Nocedal and Wright 2006, chapter 18) with exact first and second derivatives of the
// lengths. The metric couples only unknowns of one shape, so each step factorises one
// small matrix for each shape, and one with a row for each wish. What must hold by itself
// (rows straight, joints smooth, curves turning the way they turned) enters as hard rules;
// wishes enter as a penalty that hardens (Tikhonov regularisation) until they are met.
//
// Where they cannot all be met, it stops hardening at a hundred-thousandth of what was
// missed: what comes out has the least weighted sum of squares of what is missed, to about
// that share, and of all that are so near to it the least change. Without that stop the
// last thousandth of a millimetre would be had by pulling handles to nothing.
package adjust
