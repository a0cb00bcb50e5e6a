package draft

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
