package block

import (
	"strconv"
	"strings"
)

func itoa(n int) string { return strconv.Itoa(n) }

func (p *parser) seams(list []*table) {
	seen := make(map[string]bool)
	for _, t := range list {
		s := seam{place: t.place, name: t.name("name"), fuller: t.word("fuller", sides), fullness: t.word("fullness", fullnesses), bothSides: t.flag("both_sides"), opens: t.flag("opens")}
		p.once(seen, t.under("name"), s.name)
		s.a, s.b = p.run(t, "a"), p.run(t, "b")
		s.ratio = t.optional("ratio", numberKind)
		s.from, s.to = t.optional("full_from", numberKind), t.optional("full_to", numberKind)
		if p.err != nil {
			return
		}
		p.b.seams = append(p.b.seams, s)
	}
}

// run reads one side of a seam.
func (p *parser) run(t *table, key string) []use {
	texts, places := t.texts(key, maxUses)
	var run []use
	for i, text := range texts {
		run = append(run, p.use(places[i], text))
	}
	if len(run) == 0 {
		p.failf(t.under(key), "at least one edge is wanted here, such as “front.side”")
	}
	return run
}

// use reads one edge of a run: “-front.neck:2:left”.
func (p *parser) use(at place, text string) use {
	u := use{number: 1}
	body, reversed := strings.CutPrefix(text, "-")
	u.reversed = reversed
	parts := strings.Split(strings.TrimSpace(body), ":")
	role, name, _ := strings.Cut(parts[0], ".")
	u.piece = p.pieceIn(at, role, text)
	if p.err != nil {
		return u
	}
	c := &p.b.pieces[u.piece]
	u.edge = p.edgeIn(at, name, c)
	for _, part := range parts[1:] {
		p.copyOf(at, &u, c, part)
	}
	return u
}

func (p *parser) pieceIn(at place, role, text string) int {
	names := make([]string, len(p.b.pieces))
	for i := range p.b.pieces {
		if names[i] = p.b.pieces[i].role; names[i] == role {
			return i
		}
	}
	p.failf(at, "%q is no edge: the block has no piece %q; an edge is “piece.edge”, and the pieces are %s", cut(text, maxName), cut(role, maxName), and(names))
	return 0
}

// copyOf reads what stands after a colon: which copy or half of the piece is meant.
func (p *parser) copyOf(at place, u *use, c *piece, part string) {
	n, err := strconv.Atoi(part)
	switch {
	case part == "left" && c.cut == "pairs":
		u.mirrored = true
	case part == "left":
		p.failf(at, "the piece %s has no left copy; only what is cut in pairs has", c.role)
	case part == "far" && c.cut == "on fold":
		u.far = true
	case part == "far":
		p.failf(at, "the piece %s has no far half; only what is cut on fold has", c.role)
	case err != nil:
		p.failf(at, "%q is not one of left, far or the number of a copy", cut(part, maxName))
	case n < 1 || n > c.count:
		p.failf(at, "there is no copy %d of %s; its count is %d", n, c.role, c.count)
	default:
		u.number = n
	}
}
