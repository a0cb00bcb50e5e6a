package shell

import (
	"path/filepath"
	"strings"

	"hemlet/app/desk"
	"hemlet/draft"
)

// unnamed is what a project is called that nobody has named yet.
const unnamed = "New pattern"

// prefUnit is the preference that keeps the unit that was chosen last.
const prefUnit = "unit"

// blank returns an empty project in the unit that was chosen last.
func (s *Shell) blank() *draft.Project {
	p := draft.New(unnamed)
	for _, u := range draft.Units() {
		if u.String() != s.app.Preferences().String(prefUnit) {
			continue
		}
		if out, err := draft.SetUnit.Do(p, draft.SetUnitArgs{Unit: u}); err == nil {
			return out.Project
		}
	}
	return p
}

// nameByPattern calls a project that nobody has named or saved yet by the pattern from which
// a piece was traced.
func (s *Shell) nameByPattern(id draft.ID) {
	p := s.desk.Project()
	piece := p.Piece(id)
	if s.desk.Path() != "" || piece == nil {
		return
	}
	if from := p.Origin(piece.Origin); from != nil {
		s.nameProject(from.Name)
	}
}

// nameByFile calls a project that nobody has named yet by the file that it is saved to.
func (s *Shell) nameByFile(path string) {
	s.nameProject(strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)))
}

// nameProject gives a project that nobody has named yet a name.
func (s *Shell) nameProject(name string) {
	if s.desk.Project().Name != unnamed || name == "" {
		return
	}
	if err := s.desk.Name(name); err != nil {
		s.Say(err.Error())
	}
}

// namePiece goes to the field in which the name of a piece is typed.
func (s *Shell) namePiece(id draft.ID) {
	s.enter(stationShape)
	s.desk.Pick(desk.PieceRef(id))
	s.tray.Rename(id)
}
