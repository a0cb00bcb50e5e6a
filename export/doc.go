// Package export makes files out of a project: SVG, PDF, DXF and PNG, true to
// size. One neutral model stands between the project and the formats: a Laid is
// one copy of a piece with every line and word that belongs on it, a Sheet is a
// plane of them, a Page is what one leaf of paper shows of a sheet. Labels,
// notches, grain, folds and layout are decided there, once for all formats; a
// format only writes down what the model holds.
//
// Lengths are millimetres and y points up until a format turns it over.
package export
