package draft

import "hemlet/geom"

// Sign returns how a pattern marks a fastening of the row at a place, true to its size,
// in the piece's own millimetres: a button as a circle with a cross in it, its hole as a
// bar with ends, a hook by its bill and an eye by its loop, a snap and an eyelet as two
// circles, and where a drawstring comes out as a slit in an oval. Whole tells it from
// afar; detail would be a blot where it is drawn very small.
func (r *Row) Sign(f FastenPlace) (whole, detail []geom.Path) {
	half := r.Size / 2
	at := func(x, y float64) geom.Point {
		return f.At.Add(f.Along.Mul(x * half)).Add(f.Along.Left().Mul(y * half))
	}
	line := func(ax, ay, bx, by float64) geom.Path { return geom.Path{geom.Line(at(ax, ay), at(bx, by))} }
	round := func(x, radius float64) geom.Path {
		reach := geom.Pt(radius*half, radius*half)
		return oval(geom.RectOf(at(x, 0).Sub(reach), at(x, 0).Add(reach)))
	}
	// arc is half a circle, or half an oval, by one cubic, about as round as one is.
	const bend = 4. / 3
	arc := func(a, b, bow geom.Point) geom.Segment { return geom.Cubic(a, a.Add(bow), b.Add(bow), b) }
	switch r.Kind {
	case Buttons:
		return []geom.Path{round(0, 1)}, []geom.Path{line(-0.6, 0, 0.6, 0), line(0, -0.6, 0, 0.6)}
	case Snaps:
		return []geom.Path{round(0, 1)}, []geom.Path{round(0, 0.4)}
	case Eyelets:
		return []geom.Path{round(0, 1)}, []geom.Path{round(0, 0.6)}
	case Hooks:
		const bill, wide = 0.4, 0.35
		bow := f.Along.Mul(wide * bend * half)
		return []geom.Path{{
			geom.Line(at(-1, wide), at(bill, wide)), arc(at(bill, wide), at(bill, -wide), bow), geom.Line(at(bill, -wide), at(0, -wide)),
		}}, []geom.Path{round(-0.85, 0.15)}
	case HookEyes:
		const loop, wide = 0.2, 0.6
		bow := f.Along.Mul(wide * bend * half)
		return []geom.Path{{
			geom.Line(at(-1, wide), at(loop, wide)), arc(at(loop, wide), at(loop, -wide), bow), geom.Line(at(loop, -wide), at(-1, -wide)),
		}}, nil
	case Exits:
		bow := f.Along.Left().Mul(0.5 * bend * half)
		return []geom.Path{line(-1, 0, 1, 0)}, []geom.Path{{arc(at(-1, 0), at(1, 0), bow)}, {arc(at(-1, 0), at(1, 0), bow.Mul(-1))}}
	default: // a buttonhole
		return []geom.Path{line(-1, 0, 1, 0)}, []geom.Path{line(-1, -0.3, -1, 0.3), line(1, -0.3, 1, 0.3)}
	}
}
