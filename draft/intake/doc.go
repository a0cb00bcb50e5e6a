// Package intake reads foreign drawings, SVG and DXF, into outlines that can
// become pattern pieces.
//
// It works in two steps. Read turns a file into a Drawing: lines and curves as
// geom.Path in millimetres with y up, in file order, each with its name and the
// place in the file that it came from. Drawing.Outlines picks the closed ones,
// cleans them, turns them counter-clockwise and finds their corners.
//
// Whatever is read is untrusted. Size, nesting, number of elements and of nodes
// are bounded by the limits of package draft before anything is allocated for
// them; references are expanded under a budget; no file refers to another one. An
// error names the file, the line and the element or entity.
package intake
