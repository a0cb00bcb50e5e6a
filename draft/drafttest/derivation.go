package drafttest

import (
	"strconv"

	"hemlet/draft"
)

// derivations adds derivations in an order in which each reads only what is there
// before it, and says of some pieces that they were made by one.
func (m *maker) derivations() {
	inputs := make([]draft.ID, 0, len(m.p.Wearers))
	for _, w := range m.p.Wearers {
		inputs = append(inputs, w.ID)
	}
	for range m.few("derivations", 3) {
		d := &draft.Derivation{ID: m.id('r'), Kind: pick(m, "kind", []string{"block", "piece", "fit"}), Text: m.text("text")}
		for i := range m.few("settings", 3) {
			d.Settings = append(d.Settings, draft.Setting{Name: m.text("setting") + strconv.Itoa(i), Value: m.text("value")})
		}
		if len(inputs) > 0 {
			for range m.few("inputs", 2) {
				d.Inputs = append(d.Inputs, pick(m, "input", inputs))
			}
		}
		for range m.few("roles", 2) {
			d.Roles = append(d.Roles, m.text("role"))
		}
		if len(m.p.Pieces) > 0 {
			for range m.few("generated seams", 2) {
				d.Seams = append(d.Seams, *m.seam())
			}
		}
		if d.Kind == "fit" && m.chance("source") {
			d.Source = &draft.Source{Pieces: m.apart()}
		}
		if d.Kind == "block" {
			m.steps(d)
		}
		m.p.Derivations = append(m.p.Derivations, d)
		inputs = append(inputs, d.ID)
	}
	for i, p := range m.p.Pieces {
		if len(m.p.Derivations) == 0 || !m.chance("derived") {
			continue
		}
		d := pick(m, "derivation", m.p.Derivations)
		p.Derived = &draft.Derived{Derivation: d.ID, Role: m.text("role") + strconv.Itoa(i), Base: p.Edges}
		if m.chance("edited") {
			p.Derived.Base = m.edges()
		}
		if m.chance("rest kept") {
			p.Derived.Rest = m.rest(p)
		}
	}
}

// apart returns copies of some pieces as they are kept apart from the pattern.
func (m *maker) apart() []*draft.Piece {
	var list []*draft.Piece
	for _, p := range m.p.Pieces {
		if !m.chance("kept apart") {
			continue
		}
		q := *p
		q.Cloth, q.Origin, q.Derived = "", "", nil
		q.Notches = append([]draft.Notch(nil), p.Notches...)
		for i := range q.Notches {
			q.Notches[i].Mark = ""
		}
		list = append(list, &q)
	}
	return list
}

// toile draws notes of the toile and versions.
func (m *maker) toile() {
	for range m.few("versions", 2) {
		m.p.Versions = append(m.p.Versions, &draft.Version{ID: m.id('v'), Name: m.text("version"), Pieces: m.apart()})
	}
	if len(m.p.Pieces) == 0 {
		return
	}
	for range m.few("notes", 2) {
		piece := pick(m, "noted piece", m.p.Pieces)
		n := &draft.ToileNote{
			ID: m.id('j'), Piece: piece.ID, Kind: pick(m, "kind of note", draft.ToileKinds()), Amount: m.length("amount"),
			At: m.share("at"), From: m.share("from"), To: m.share("to"), Words: m.text("words"), Done: m.chance("done"),
		}
		if m.chance("on an edge") {
			n.Edge = pick(m, "noted edge", piece.Edges).ID
		}
		m.p.Notes = append(m.p.Notes, n)
	}
}

// steps adds recorded acts, which gave out ids of the counter one after the other.
func (m *maker) steps(d *draft.Derivation) {
	for i := range m.few("stems", 2) {
		d.Stems = append(d.Stems, draft.Stem{Role: m.text("role of a stem") + strconv.Itoa(i), ID: draft.ID("stem" + strconv.Itoa(i))})
	}
	at := 1
	for range min(m.few("steps", 3), m.p.NextID-at) {
		s := draft.Recorded{Act: pick(m, "act", []string{"split-piece", "join-pieces", "fold-piece"}), Next: at, Until: at + 1, Pieces: []draft.ID{"stem0", "p1"}}
		for i := range m.few("arguments", 2) {
			s.Args = append(s.Args, draft.Setting{Name: m.text("argument") + strconv.Itoa(i), Value: m.text("value")})
		}
		at = s.Until
		d.Steps = append(d.Steps, s)
	}
}

// rest is what might have been generated besides the outline of the piece: what
// another piece has, or what this one has itself.
func (m *maker) rest(p *draft.Piece) *draft.Rest {
	if m.chance("other") {
		p = m.piece()
	}
	return &draft.Rest{
		Name: p.Name, Garment: p.Garment, Note: p.Note, Layer: p.Layer, Cut: p.Cut, Grain: p.Grain, LabelAt: p.LabelAt,
		Darts: p.Darts, Notches: p.Notches, Lines: p.Lines, Spans: p.Spans, Stretches: p.Stretches,
	}
}
