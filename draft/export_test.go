package draft

// UsesExist lets tests from outside ask whether everything that is sewn is cut.
func UsesExist(p *Project) error { return p.usesExist() }

// Vest is the text of a small block.
const Vest = vest
