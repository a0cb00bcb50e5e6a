// Package trace turns pictures of pattern pieces into outlines of lines and cubics at
// true size: it levels and cleans the pictures (scan), follows the ink (follow), brings
// what was followed to millimetres, fits it (fit), and says how far the result lies from
// the ink.
//
// Places in a picture are in pixels from the top left corner of the top left pixel, y
// down; a sheet's Map takes them to mm, y up.
package trace
