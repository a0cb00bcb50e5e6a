// Package scan makes a scanned or photographed picture even and true: it levels the
// light, takes out what is not drawn, finds the edges of a sheet and the lines of squared
// paper, and joins sheets.
//
// Places in a picture are in pixels: (0, 0) is the top left corner of the top left pixel,
// so that the middle of pixel (i, j) is (i+½, j+½), and y runs down. Maps from there lead
// to millimetres, y up.
package scan
