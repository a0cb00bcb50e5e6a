package formula

import "hemlet/geom"

// pathOf joins curves and points end to start. Ends within touching of each other
// are made one; others are joined by a line.
func pathOf(a []any) (Value, error) {
	var path geom.Path
	var pen geom.Point // the end of what was joined so far
	for i, v := range a {
		start, stretches := whereFrom(v)
		switch {
		case i == 0:
		case !pen.Near(start, touching):
			path = append(path, geom.Line(pen, start))
		case len(stretches) > 0:
			stretches = startAt(stretches, pen)
		default:
			continue // a point where the pen is already
		}
		path = append(path, stretches...)
		pen = start
		if len(stretches) > 0 {
			pen = stretches.End()
		}
		if len(path) > maxStretches {
			break
		}
	}
	if len(path) == 0 { // points that are all one
		path = geom.Path{geom.Line(pen, pen)}
	}
	return Curve{path}, nil
}

// whereFrom returns where a point or a curve starts, and the stretches of the curve.
func whereFrom(v any) (geom.Point, geom.Path) {
	if p, ok := v.(Point); ok {
		return p.At, nil
	}
	c := curve(v)
	return c.Start(), c
}

// startAt returns the curve with its start moved to p, which is within touching.
func startAt(c geom.Path, p geom.Point) geom.Path {
	first := c[0]
	if first.P0 == p {
		return c
	}
	if first.Straight {
		first = geom.Line(p, first.P3)
	} else {
		first.P1 = first.P1.Add(p.Sub(first.P0))
		first.P0 = p
	}
	return append(geom.Path{first}, c[1:]...)
}
