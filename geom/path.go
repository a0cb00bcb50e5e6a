package geom

// Path is a chain of segments, each starting where the one before it ends. It is
// closed if the last ends where the first starts. A Path handed to another
// function is never changed by it; treat the slice as a value.
type Path []Segment

// Closed reports whether the path is not empty and ends where it starts.
func (p Path) Closed() bool { return len(p) > 0 && p[0].P0 == p[len(p)-1].P3 }

// Start returns the first point; the path must not be empty.
func (p Path) Start() Point { return p[0].P0 }

// End returns the last point; the path must not be empty.
func (p Path) End() Point { return p[len(p)-1].P3 }

// Reverse returns the path run from its end to its start.
func (p Path) Reverse() Path {
	q := make(Path, len(p))
	for i, s := range p {
		q[len(p)-1-i] = s.Reverse()
	}
	return q
}

// Transform returns the image of the path. A map with negative determinant
// turns a counter-clockwise outline clockwise; Reverse puts that right.
func (p Path) Transform(m Affine) Path {
	q := make(Path, len(p))
	for i, s := range p {
		q[i] = s.Transform(m)
	}
	return q
}

// Polygon returns the closed path of straight lines through the points.
func Polygon(pts ...Point) Path {
	p := make(Path, 0, len(pts))
	for i, a := range pts {
		p = append(p, Line(a, pts[(i+1)%len(pts)]))
	}
	return p
}
