package draft

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
)

// redone is what a block makes together with the acts that were recorded since: its
// pieces are drafted, and the acts are done on them again.
type redone struct {
	dr *drafted
	d  *Derivation
	// project holds what comes out, nothing else, and roles names its pieces.
	project *Project
	roles   map[ID]string
	// pieces are those that come out, by their roles, with Derived set.
	pieces map[string]*Piece
	// stuck says of pieces why the acts that make them cannot be done again.
	stuck map[ID]error
	seams []Seam
}

// redoings keeps what was done again last, as recent keeps what was drafted.
var redoings struct {
	sync.Mutex
	list []*redone
}

// maxRedoings is how many outcomes are kept: a few derivations while acts are added to
// them, taken back and done again.
const maxRedoings = 48

// redoFor returns what a drafted block and the recorded acts of its derivation make. What
// was made of the same a moment ago is returned again.
func redoFor(d *Derivation, dr *drafted) *redone {
	redoings.Lock()
	defer redoings.Unlock()
	return redo(d, dr)
}

// redo is redoFor with the lock of redoings held. All acts but the last were often done
// again a moment ago.
func redo(d *Derivation, dr *drafted) *redone {
	for i, old := range slices.Backward(redoings.list) {
		if old.dr == dr && old.d.ID == d.ID && sameSteps(old.d, d) {
			redoings.list = append(slices.Delete(redoings.list, i, i+1), old)
			return old
		}
	}
	m := &redone{dr: dr, d: d, project: &Project{NextID: 1}, roles: make(map[ID]string), stuck: make(map[ID]error)}
	switch n := len(d.Steps) - 1; {
	case dr.err != nil:
	case n < 0:
		m.draft()
	default:
		shorter := *d
		shorter.Steps = d.Steps[:n]
		before := redo(&shorter, dr)
		m.roles, m.stuck = maps.Clone(before.roles), maps.Clone(before.stuck)
		m.project = m.step(before.project, &d.Steps[n])
	}
	m.finish()
	if len(redoings.list) >= maxRedoings {
		redoings.list = slices.Delete(redoings.list, 0, 1)
	}
	redoings.list = append(redoings.list, m)
	return m
}

// sameSteps reports whether two derivations have the very same recorded acts.
func sameSteps(a, b *Derivation) bool {
	return slices.Equal(a.Stems, b.Stems) && slices.EqualFunc(a.Steps, b.Steps, func(s, t Recorded) bool {
		return s.Act == t.Act && s.Next == t.Next && s.Until == t.Until && slices.Equal(s.Args, t.Args) && slices.Equal(s.Pieces, t.Pieces)
	})
}

// draft makes the pieces and seams of the block.
func (m *redone) draft() {
	p := m.project
	stems := make(map[string]ID)
	for i := range m.dr.sheet.Pieces {
		sp := &m.dr.sheet.Pieces[i]
		id := m.d.stem(sp.Role)
		if id == "" {
			id = stemOf(sp.Role, m.d.ID, func(ID) bool { return false })
		}
		stems[sp.Role], m.roles[id] = id, sp.Role
		piece, err := pieceOf(m.dr, sp, m.d.ID, id)
		if err != nil {
			m.stuck[id] = err
			continue
		}
		piece.Derived = nil
		p.Pieces = append(p.Pieces, piece)
	}
	made := seamsOf(m.dr, m.d.ID, stems)
	for i := range made {
		p.Seams = append(p.Seams, &made[i])
	}
	p.dropLoose()
}

// finish notes what comes out.
func (m *redone) finish() {
	m.pieces = make(map[string]*Piece)
	for _, piece := range m.project.Pieces {
		if m.stuck[piece.ID] == nil {
			role := m.roles[piece.ID]
			m.pieces[role] = piece.clone().madeBy(m.d.ID, role)
		}
	}
	for _, s := range m.project.Seams {
		m.seams = append(m.seams, *s)
	}
}

// madeBy returns the piece, which may be written to, as a derivation makes it.
func (p *Piece) madeBy(derivation ID, role string) *Piece {
	p.Place, p.Derived = Placement{}, &Derived{Derivation: derivation, Role: role, Base: p.Edges, Rest: restOf(p)}
	return p
}

// dropLoose takes out the seams that sew what is not there.
func (p *Project) dropLoose() {
	p.Seams = slices.DeleteFunc(p.Seams, func(s *Seam) bool {
		return slices.ContainsFunc(slices.Concat(s.A, s.B), func(u EdgeUse) bool { return p.useExists(u) != nil })
	})
}

// step does one act again and returns the project after it, or as it was where that
// cannot be: it holds up the pieces that it took and made then, and no others.
func (m *redone) step(p *Project, s *Recorded) *Project {
	for _, id := range s.Pieces {
		if err := m.stuck[id]; err != nil {
			m.hold(s, err)
			return p
		}
	}
	next, err := s.again(p)
	if err != nil {
		m.hold(s, err)
		return p
	}
	maps.Copy(m.roles, s.rolesOf(p, next, m.roles))
	return next
}

// hold marks the pieces of an act that cannot be done again.
func (m *redone) hold(s *Recorded, err error) {
	for _, id := range s.Pieces {
		if m.stuck[id] == nil {
			m.stuck[id] = err
		}
	}
}

// again does the act once more, on a project that holds nothing but what was generated.
func (s *Recorded) again(p *Project) (*Project, error) {
	act, known := acts[s.Act]
	if !known || !repeatable[s.Act] {
		return nil, fmt.Errorf("the step “%s” is not known", s.Act)
	}
	on := p.shallow()
	on.NextID = s.Next
	out, err := act.DoText(on, s.texts())
	if err != nil {
		if inner := errors.Unwrap(err); inner != nil {
			err = inner // without the title
		}
		return nil, fmt.Errorf("the step “%s” cannot be done again: %w", s.title(), err)
	}
	if out.Project.NextID > s.Until {
		return nil, fmt.Errorf("the step “%s” would make more of it than it did", s.title())
	}
	return out.Project, nil
}

// rolesOf names the pieces that the act has made: after the first piece that it took.
func (s *Recorded) rolesOf(before, after *Project, roles map[ID]string) map[ID]string {
	made := make(map[ID]string)
	for _, piece := range after.Pieces {
		if before.Piece(piece.ID) == nil && len(s.Pieces) > 0 {
			made[piece.ID] = stepRole(roles[s.Pieces[0]], piece.ID)
		}
	}
	return made
}

// stepRole is the role of a piece that an act has made. Names of blocks hold no slash, so
// that no block gives it to a piece.
func stepRole(parent string, id ID) string {
	if i := strings.IndexByte(parent, '/'); i >= 0 {
		parent = parent[:i]
	}
	return parent + "/" + string(id)
}

func (m *redone) trouble() error { return m.dr.err }

func (m *redone) makes(role string) bool { return m.pieces[role] != nil }

func (m *redone) renames() bool { return false }

func (m *redone) generate(role string, derivation, id ID) (*Piece, error) {
	if piece := m.pieces[role]; piece != nil && piece.ID == id {
		return piece, nil
	}
	if err := m.stuck[id]; err != nil {
		return nil, err
	}
	if m.d.stem(role) != "" || strings.Contains(role, "/") {
		return nil, fmt.Errorf("nothing is left of the piece %s once its steps are done again", role)
	}
	return m.dr.generate(role, derivation, id)
}

// holdsUp reports whether a seam sews a piece that an act that cannot be done again takes
// or makes.
func (m *redone) holdsUp(s *Seam) bool {
	return m != nil && s != nil && slices.ContainsFunc(slices.Concat(s.A, s.B), func(u EdgeUse) bool { return m.stuck[u.Piece] != nil })
}
