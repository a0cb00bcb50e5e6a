package draft

import "reflect"

// UsesExist lets tests from outside ask whether everything that is sewn is cut.
func UsesExist(p *Project) error { return p.usesExist() }

// Vest is the text of a small block.
const Vest = vest

// BrokenPieces returns a project for each thing that can be wrong about one piece.
func BrokenPieces() map[string]*Project {
	all := make(map[string]*Project)
	for _, b := range brokenPieces() {
		piece := square("p", 100, 5)
		b.edit(piece)
		p := projectOf(piece)
		p.Cloths = []*Cloth{{ID: "c1", Name: "linen", Thickness: 0.4}}
		all[b.name] = p
	}
	return all
}

// MarksKept returns the project with the notches of every seam where its marks are, as acts
// leave it, and no piece locked.
func MarksKept(p *Project) *Project {
	next := p.shallow()
	next.Pieces = nil
	for _, piece := range p.Pieces {
		q := piece.clone()
		q.Locked = false
		next.Pieces = append(next.Pieces, q)
	}
	return next.keepMarks(&Project{})
}

// BareLacks names what comes out of the bare project otherwise than of the whole one, empty
// where nothing does.
func BareLacks(p *Project) string {
	p = p.Pattern()
	s := NewSlots()
	bare := s.bareOf(p)
	whole, of := newLookup(p), newLookup(bare)
	switch {
	case !reflect.DeepEqual(p.usedTwice(whole), bare.usedTwice(of)):
		return "edges sewn twice"
	case p.freeEdges(whole) != bare.freeEdges(of):
		return "free edges"
	case !reflect.DeepEqual(p.fellows(whole), bare.fellows(of)):
		return "fellows"
	case !reflect.DeepEqual(rowsIn(p, whole), rowsIn(bare, of)):
		return "rows of joints"
	}
	return ""
}
