package draft

import (
	"errors"
	"fmt"
	"slices"
)

// Clip returns a project that holds the pieces and nothing else but what belongs to
// them: their cloths, where they came from, and the seams that sew them to one another. They are whole, and
// follow nothing. It is what is copied; as text it is a project file.
func (p *Project) Clip(pieces []ID) *Project {
	in := make(map[ID]bool, len(pieces))
	for _, id := range pieces {
		in[id] = true
	}
	clip := &Project{Name: p.Name, Unit: p.Unit, NextID: p.NextID}
	cloths, origins := make(map[ID]bool), make(map[ID]bool)
	for _, piece := range p.Pieces {
		if !in[piece.ID] {
			continue
		}
		if piece.Derived != nil {
			piece = piece.clone()
			piece.Derived = nil
		}
		clip.Pieces = append(clip.Pieces, piece)
		cloths[piece.Cloth], origins[piece.Origin] = true, true
	}
	for _, c := range p.Cloths {
		if cloths[c.ID] {
			clip.Cloths = append(clip.Cloths, c)
		}
	}
	for _, o := range p.Origins {
		if origins[o.ID] {
			clip.Origins = append(clip.Origins, o)
		}
	}
	for _, s := range p.Seams {
		if s.sewsOnly(in) {
			clip.Seams = append(clip.Seams, s)
		}
	}
	return clip.withoutIdleMarks()
}

// sewsOnly reports whether the seam sews the pieces and no other.
func (s *Seam) sewsOnly(pieces map[ID]bool) bool {
	return !slices.ContainsFunc(slices.Concat(s.A, s.B), func(u EdgeUse) bool { return !pieces[u.Piece] })
}

// PatternFile is a project of which pieces are taken. As text it is a whole project file.
type PatternFile struct{ Project *Project }

// readPattern reads the text of a project file.
var readPattern func(text []byte) (*Project, error)

// ReadPatternsWith says what reads the text of project files: package store does, which
// stands above this one and calls it once, before main begins.
func ReadPatternsWith(read func(text []byte) (*Project, error)) { readPattern = read }

func (c *PatternFile) readArg(_ *Project, text string) error {
	if readPattern == nil {
		return errors.New("this program reads no project files")
	}
	p, err := readPattern([]byte(text))
	if err != nil {
		return fmt.Errorf("this is no pattern: %w", err)
	}
	c.Project = p
	return nil
}

func (*PatternFile) argKind() string { return "project file" }
