package block

import (
	"fmt"
	"math"
	"slices"

	"hemlet/draft/formula"
	"hemlet/geom"
)

// onSlack is how far, in mm, a point that a dart, notch or span names may be off
// the point of the outline that it means: far above rounding, far below a
// pencil line.
const onSlack = 1e-3

// marker puts the marks on one piece.
type marker struct {
	*drafter
	index int
	c     *piece
	out   *Piece
	// at is where an edge of the block stands in the outline, -1 where it has no
	// length.
	at []int
	// mouths are the nodes at which the mouth of a dart starts.
	mouths map[string]bool
	// names are those of the marks so far, each behind its kind.
	names map[string]bool
}

// there reports whether a mark is there for this body; two of one kind and name
// cannot be.
func (m *marker) there(kind, name string, when *expression, at place) (bool, error) {
	if when != nil {
		v, err := m.value(when)
		if err != nil || v != formula.Value(true) {
			return false, err
		}
	}
	if m.names[kind+name] {
		return false, m.bad(at, fmt.Sprintf("there are two of the name %q for this body; let one be there only when the other is not", name))
	}
	m.names[kind+name] = true
	return true, nil
}

func (d *drafter) pieces() error {
	d.sheet.Pieces = make([]Piece, 0, len(d.b.pieces))
	for i := range d.b.pieces {
		c := &d.b.pieces[i]
		p := Piece{Role: c.role, Title: c.title, Note: c.note, Layer: c.layer, Cut: c.cut, Count: c.count}
		edges, which, err := d.outline(i, c)
		if err != nil {
			return err
		}
		p.Edges = edges
		m := &marker{d, i, c, &p, make([]int, len(c.edges)), make(map[string]bool), make(map[string]bool)}
		for k := range m.at {
			m.at[k] = -1
		}
		for k, e := range which {
			m.at[e] = k
		}
		for _, act := range []func() error{m.grain, m.lines, m.darts, m.notches, m.spans} {
			if err := act(); err != nil {
				return err
			}
		}
		m.leaps(d.leapt)
		d.sheet.Pieces = append(d.sheet.Pieces, p)
	}
	return nil
}

// point works out a formula that makes a point.
func (d *drafter) point(e *expression) (geom.Point, error) {
	v, err := d.value(e)
	if err != nil {
		return geom.Point{}, err
	}
	return v.(formula.Point).At, nil
}

// number works out a formula that makes a number within bounds, or takes what is
// meant where there is none.
func (d *drafter) number(e *expression, otherwise, least, most float64) (float64, error) {
	if e == nil {
		return otherwise, nil
	}
	v, err := d.value(e)
	if err != nil {
		return 0, err
	}
	x := v.(formula.Number)
	switch {
	case x >= least && x <= most:
		return x, nil
	case least == math.SmallestNonzeroFloat64:
		return 0, d.failed(e, fmt.Errorf("this is %s, and it must be above 0 and at most %s", formula.Figure(x, 4), formula.Figure(most, 0)))
	}
	return 0, d.failed(e, fmt.Errorf("this is %s, and it must be from %s to %s", formula.Figure(x, 4), formula.Figure(least, 4), formula.Figure(most, 0)))
}

func (m *marker) grain() error {
	if m.c.label != nil {
		at, err := m.point(m.c.label)
		if err != nil {
			return err
		}
		m.out.LabelAt = &at
	}
	if len(m.c.grain) != 2 {
		return nil
	}
	var ends [2]geom.Point
	for i, e := range m.c.grain {
		var err error
		if ends[i], err = m.point(e); err != nil {
			return err
		}
	}
	if ends[0].Near(ends[1], gapSlack) {
		return m.failed(m.c.grain[1], fmt.Errorf("the two ends of the grain line are one point"))
	}
	m.out.Grain = &ends
	return nil
}

func (m *marker) lines() error {
	for i := range m.c.lines {
		l := &m.c.lines[i]
		if there, err := m.there("line ", l.name, l.when, l.place); err != nil {
			return err
		} else if !there {
			continue
		}
		stops, err := m.stops(nil, l.name, 0, l.path)
		if err != nil {
			return err
		}
		stops = merged(stops, l.closed)
		if l.kind != "drill" && len(stops) < 2 && !(l.closed && stops[0].out != geom.Point{}) {
			continue
		}
		out := Line{Name: l.name, Kind: l.kind, Closed: l.closed}
		for _, s := range stops {
			out.Nodes = append(out.Nodes, Node{Name: s.name, At: s.at, In: s.in, Out: s.out})
		}
		if l.kind == "cutout" && flat(out.Nodes) {
			m.tell(m.c.role+" "+l.name, "The cutout “%s” of %s encloses nothing for this body, and is left out.", l.name, m.c.title)
			continue
		}
		smoothLine(out.Nodes, l.closed)
		m.out.Lines = append(m.out.Lines, out)
	}
	return nil
}

// flat reports whether a closed line encloses nothing.
func flat(nodes []Node) bool { return enclosesNothing(pathOf([]Edge{{Nodes: nodes}})) }

// smoothLine marks the nodes at which a line goes on without a corner.
func smoothLine(nodes []Node, closed bool) {
	n := len(nodes)
	for i := range nodes {
		if n > 1 && (closed || i > 0 && i < n-1) {
			nodes[i].Smooth = isSmooth(nodes[(i+n-1)%n], nodes[i], nodes[(i+1)%n])
		}
	}
}

func (m *marker) darts() error {
	for i := range m.c.darts {
		dt := &m.c.darts[i]
		if there, err := m.there("dart ", dt.name, dt.when, dt.place); err != nil {
			return err
		} else if !there {
			continue
		}
		from, err := m.point(dt.from)
		if err != nil {
			return err
		}
		to, err := m.point(dt.to)
		if err != nil {
			return err
		}
		at := m.at[dt.edge]
		if from.Near(to, gapSlack) || at < 0 {
			continue
		}
		a, b, ok := m.mouth(at, from, to)
		if !ok {
			return m.bad(dt.place, fmt.Sprintf("the mouth of this dart is no stretch of the edge %s: %s and %s must stand in the path of the edge, one after the other", m.c.edges[dt.edge].name, dt.from.Source(), dt.to.Source()))
		}
		if m.mouths[a] {
			return m.bad(dt.place, "another dart has its mouth there")
		}
		m.mouths[a] = true
		apex, err := m.point(dt.apex)
		if err != nil {
			return err
		}
		m.out.Darts = append(m.out.Darts, Dart{Name: dt.name, Edge: m.c.edges[dt.edge].name, From: a, To: b, Apex: apex, Press: m.pressed(dt.press)})
	}
	return nil
}

// mouth finds the two nodes of edge i, one after the other, that lie at the points,
// in either order, and takes the smoothness from them: the line is cut there.
func (m *marker) mouth(i int, from, to geom.Point) (a, b string, ok bool) {
	nodes := edgeNodes(m.out.Edges, i)
	best, far := -1, onSlack
	for k := 1; k < len(nodes); k++ {
		p, q := nodes[k-1].At, nodes[k].At
		off := min(max(p.Dist(from), q.Dist(to)), max(p.Dist(to), q.Dist(from)))
		if off < far {
			best, far = k, off
		}
	}
	if best < 0 {
		return "", "", false
	}
	own := m.out.Edges[i].Nodes
	own[best-1].Smooth = false
	if best < len(own) {
		own[best].Smooth = false
	}
	return nodes[best-1].Name, nodes[best].Name, true
}

// pressed returns the way to press a dart along the edge as it runs.
func (m *marker) pressed(press string) string {
	switch {
	case m.c.clockwise && press == "to start":
		return "to end"
	case m.c.clockwise && press == "to end":
		return "to start"
	}
	return press
}

// stretch is a part of an edge between two nodes.
type stretch struct {
	geom.Segment
	length float64
	mouth  bool
}

// along returns the stretches of edge i, and the length of those that are sewn.
func (m *marker) along(i int) (list []stretch, length float64) {
	nodes := edgeNodes(m.out.Edges, i)
	for k := 1; k < len(nodes); k++ {
		s := stretch{Segment: between(nodes[k-1], nodes[k]), mouth: m.mouths[nodes[k-1].Name]}
		if !s.mouth {
			s.length = s.Length()
			length += s.length
		}
		list = append(list, s)
	}
	return list, length
}

func (m *marker) notches() error {
	for i := range m.c.notches {
		n := &m.c.notches[i]
		if there, err := m.there("notch ", n.name, n.when, n.place); err != nil {
			return err
		} else if !there {
			continue
		}
		if m.at[n.edge] < 0 {
			continue
		}
		v, err := m.value(n.at)
		if err != nil {
			return err
		}
		if err := m.spend(n.at, markEffort*float64(len(m.out.Edges[m.at[n.edge]].Nodes))); err != nil {
			return err
		}
		list, length := m.along(m.at[n.edge])
		out := Notch{Name: n.name, Edge: m.c.edges[n.edge].name, FromEnd: n.fromEnd, Double: n.double}
		switch v := v.(type) {
		case formula.Length:
			out.At = v.MM
		case formula.Number:
			out.At = v * length
		case formula.Point:
			d, off := nearest(list, v.At)
			if off > onSlack {
				return m.failed(n.at, fmt.Errorf("this point lies %s mm off the edge %s, and a notch lies on it", formula.Figure(off, 3), out.Edge))
			}
			out.At = d
		}
		if _, isPoint := v.(formula.Point); m.c.clockwise && !isPoint {
			out.FromEnd = !out.FromEnd
		}
		if out.At < -onSlack || out.At > length+onSlack {
			m.tell(m.c.role+" "+n.name, "A notch of %s, “%s”, would lie off its edge %s, which is %s mm long, and is left out.", m.c.title, n.name, out.Edge, formula.Figure(length, 1))
			continue
		}
		out.At = min(max(out.At, 0), length)
		m.out.Notches = append(m.out.Notches, out)
	}
	return nil
}

// nearest returns how far along the sewn stretches the place nearest to q lies, and
// how far off it is.
func nearest(list []stretch, q geom.Point) (along, off float64) {
	off = math.Inf(1)
	before := 0.0
	for _, s := range list {
		if !s.mouth {
			at, d := geom.Path{s.Segment}.Nearest(q)
			if d < off {
				along, off = before+s.LengthTo(at.T), d
			}
		}
		before += s.length
	}
	return along, off
}

func (m *marker) spans() error {
	for i := range m.c.spans {
		s := &m.c.spans[i]
		if there, err := m.there("span ", s.name, s.when, s.place); err != nil {
			return err
		} else if !there {
			continue
		}
		out := Span{Name: s.name, Measure: s.measure}
		var err error
		if out.Share, err = m.number(s.share, 1, math.SmallestNonzeroFloat64, maxShare); err != nil {
			return err
		}
		if s.ease != nil {
			v, err := m.value(s.ease)
			if err != nil {
				return err
			}
			out.Ease = v.(formula.Length).MM
		}
		for _, e := range s.edges {
			if m.at[e] >= 0 {
				out.Edges = append(out.Edges, m.c.edges[e].name)
			}
		}
		for _, name := range s.lines {
			if slices.ContainsFunc(m.out.Lines, func(l Line) bool { return l.Name == name }) {
				out.Lines = append(out.Lines, name)
			}
		}
		if s.from != nil {
			out.Way = s.way
			if out.From, out.To, err = m.ends(s); err != nil {
				return err
			}
		}
		if len(out.Edges) > 0 || len(out.Lines) > 0 || out.From != out.To {
			m.out.Spans = append(m.out.Spans, out)
		}
	}
	return nil
}

// ends returns the nodes of the outline or of lines at which a straight span starts and ends.
func (m *marker) ends(s *span) (from, to string, err error) {
	var names [2]string
	for i, e := range [2]*expression{s.from, s.to} {
		at, err := m.point(e)
		if err != nil {
			return "", "", err
		}
		if names[i] = m.nodeAt(at); names[i] == "" {
			return "", "", m.failed(e, fmt.Errorf("the piece has no point here; a span runs between points that stand in the paths of its edges and lines"))
		}
	}
	return names[0], names[1], nil
}

// nodeAt returns the name of the node at a place, or empty: of the outline where it has
// one there, else of a line.
func (m *marker) nodeAt(at geom.Point) string {
	name, far := "", onSlack
	nearest := func(nodes []Node) {
		for _, n := range nodes {
			if d := n.At.Dist(at); d < far {
				name, far = n.Name, d
			}
		}
	}
	for i := range m.out.Edges {
		nearest(m.out.Edges[i].Nodes)
	}
	for i := 0; name == "" && i < len(m.out.Lines); i++ {
		nearest(m.out.Lines[i].Nodes)
	}
	return name
}
