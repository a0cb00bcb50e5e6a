// Package body knows the measures of a body: what each is called and how it is
// taken, how those that were not taken are estimated from the others, and which
// figures cannot belong to one body. All lengths are in mm.
package body
