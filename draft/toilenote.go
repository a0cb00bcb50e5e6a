package draft

import (
	"slices"

	"hemlet/geom"
)

// ToileKind says what a note that was taken at a fitting of the toile asks for.
type ToileKind int

const (
	// TakeIn moves an edge into the piece, LetOut out of it: a seam taken in, a hem that
	// goes up.
	TakeIn ToileKind = iota
	LetOut
	// OnlyWords asks for nothing that could be worked out.
	OnlyWords
)

var toileKindNames = names[ToileKind]{"take in", "let out", "words"}

func (k ToileKind) String() string               { return toileKindNames.text(k) }
func (k ToileKind) MarshalText() ([]byte, error) { return toileKindNames.marshal(k) }

// UnmarshalText reads one of take in, let out, words.
func (k *ToileKind) UnmarshalText(b []byte) error {
	return toileKindNames.unmarshal(k, b, "kind of note")
}

// ToileKinds lists every kind in the order in which a person is offered them.
func ToileKinds() []ToileKind { return toileKindNames.all() }

// ToileNote is what was noted at a fitting of the toile, at a place of a piece.
type ToileNote struct {
	ID    ID
	Piece ID
	// Edge is what it is about, empty where the piece no longer has it: then only the
	// words are left of the note. At is the place as a share of its length.
	Edge ID
	At   float64
	// Whole moves the whole edge by Amount mm. Else it moves by that at At, and from there less
	// and less to nothing at From and To, shares of the edge's length too.
	Whole    bool
	From, To float64
	Kind     ToileKind
	Amount   float64
	Words    string
	// Done says that the pattern has been changed by it.
	Done bool
}

// MaxToileNotes bounds the notes of a project.
const MaxToileNotes = 1000

// Note returns the note with the id, or nil.
func (p *Project) Note(id ID) *ToileNote {
	for _, n := range p.Notes {
		if n.ID == id {
			return n
		}
	}
	return nil
}

// keepNotes returns the project with its notes where what they are about is now, given the
// lineage of the act. Those of pieces that are gone go.
func (p *Project) keepNotes(lin Lineage) *Project {
	var kept []*ToileNote
	same := true
	for _, n := range p.Notes {
		m := p.keptNote(n, lin)
		same = same && m == n
		if m != nil {
			kept = append(kept, m)
		}
	}
	if same {
		return p
	}
	next := p.shallow()
	next.Notes = kept
	return next
}

// keptNote returns the note as it stands now, nil where its piece is gone.
func (p *Project) keptNote(n *ToileNote, lin Lineage) *ToileNote {
	if heirs, parted := lin[n.Edge]; parted && n.Edge != "" {
		if m, ok := n.follow(heirs); ok {
			n = m
		}
	}
	piece := p.Piece(n.Piece)
	if piece == nil {
		return nil
	}
	if e, _ := piece.Edge(n.Edge); e == nil && n.Edge != "" {
		m := *n
		m.Edge, m.At, m.From, m.To = "", 0, 0, 1
		return &m
	}
	return n
}

// follow returns the note on the heir on which its place lies.
func (n *ToileNote) follow(heirs []Heir) (*ToileNote, bool) {
	k := slices.IndexFunc(heirs, func(h Heir) bool {
		return h.Old1 > h.Old0 && n.At >= h.Old0-shareSlack && n.At <= h.Old1+shareSlack
	})
	if k < 0 {
		return nil, false
	}
	h, m := heirs[k], *n
	on := func(share float64) float64 {
		return clampShare(between(min(max(share, h.Old0), h.Old1), h.Old0, h.Old1, h.New0, h.New1))
	}
	m.Edge, m.At = h.Edge, on(n.At)
	if m.From, m.To = on(n.From), on(n.To); m.From > m.To {
		m.From, m.To = m.To, m.From
	}
	if h.Piece != "" {
		m.Piece = h.Piece
	}
	return &m, true
}

// NoteAt returns the place of a note in the piece's own mm and the unit vector out of the
// piece there, false where its edge is gone.
func (p *Project) NoteAt(n *ToileNote) (at, out geom.Point, ok bool) {
	piece, i := p.noted(n)
	if piece == nil || len(piece.Edges[i].Nodes) == 0 {
		return geom.Point{}, geom.Point{}, false
	}
	k, t := piece.locate(i, n.At*piece.EdgeLength(i))
	nodes := piece.EdgeNodes(i)
	s := segment(nodes[k], nodes[k+1])
	return s.At(t), clothless(s.Tangent(t)), true
}
