// Package sheet shows drawings that are looked at and pointed at, and not edited:
// a wearer's figure, a block on its way to become pieces. It paints as the bench
// does, and knows nothing of what it shows but paths, points, labels and ids.
//
//	s, err := sheet.New(*look.Palette(variant))
//	s.OnHover = func(id string, at geom.Point, on bool) { … }
//	s.OnTap = func(id string, at geom.Point) { … }
//	s.Put(
//		&sheet.Layer{Things: []*sheet.Thing{{Marks: []paint.Mark{sheet.Filled(path, paint.Of(paint.Cloth), sheet.Solid(paint.Ink, 1.4))}}}},
//		&sheet.Layer{Things: []*sheet.Thing{{ID: "bust_girth", Marks: []paint.Mark{sheet.Lined(line, sheet.Dashed(paint.Level, 1.2))}}}},
//	)
//	s.Highlight("bust_girth")
//
// Layers, things and their marks are never changed once they were put: what is to
// look different is a new Layer, and the layers that are the same pointers are not
// painted again.
package sheet
