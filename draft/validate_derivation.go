package draft

// rolePlayed is one of the pieces that a derivation makes.
type rolePlayed struct {
	derivation ID
	role       string
}

// derived inspects what ties a piece to its derivation and returns how many nodes
// the generated outline has. Its ids are those of the piece's own edges and nodes
// as they were, so that they must differ among themselves only.
func (v *inspector) derived(d *Derived) int {
	v.enter("derived", -1, "derivation", string(d.Derivation))
	defer v.leave()
	v.text("role", d.Role)
	if !v.has(d.Derivation, "derivation", nil) {
		v.failf("there is no derivation %q", d.Derivation)
	}
	part := rolePlayed{d.Derivation, d.Role}
	if v.roles[part] {
		v.failf("another piece is %q of the derivation %q already", d.Role, d.Derivation)
	}
	v.roles[part] = true
	own := make(map[ID]bool)
	v.edges("base", d.Base, func(id ID, kind string) {
		if v.sound(id) && own[id] {
			v.failf("the generated outline has the id %q twice", id)
		}
		own[id] = true
	})
	n := 0
	for i := range d.Base {
		n += len(d.Base[i].Nodes)
	}
	if d.Rest != nil {
		n += v.rest(d.Rest)
	}
	return n
}

// rest inspects what was generated besides an outline and returns how many nodes it
// has. What it refers to may be gone from the piece since.
func (v *inspector) rest(r *Rest) int {
	v.enter("rest", -1, "as generated", "")
	defer v.leave()
	v.text("name", r.Name)
	v.text("garment", r.Garment)
	v.text("note", r.Note)
	v.word("layer", r.Layer.MarshalText)
	v.word("way to cut", r.Cut.Way.MarshalText)
	if r.Cut.Count < 1 || r.Cut.Count > MaxCount {
		v.failf("it is cut %d times; it must be 1 to %d", r.Cut.Count, MaxCount)
	}
	v.grain(r.Grain)
	if r.LabelAt != nil {
		v.point("place of the label", *r.LabelAt)
	}
	sound := func(id ID, _ string) { v.sound(id) }
	for i, d := range r.Darts {
		v.enter("darts", i, "dart", d.Name)
		v.dartItself(d, sound)
		v.leave()
	}
	for i, n := range r.Notches {
		v.enter("notches", i, "notch", string(n.ID))
		v.notchItself(n, sound)
		v.leave()
	}
	for i, s := range r.Spans {
		v.enter("spans", i, "span", s.Name)
		v.spanItself(s, sound)
		v.leave()
	}
	for i, s := range r.Stretches {
		v.enter("stretches", i, "stretch", string(s.ID))
		v.stretchItself(s, sound)
		v.leave()
	}
	v.lines(r.Lines, sound)
	n := 0
	for i := range r.Lines {
		n += len(r.Lines[i].Nodes)
	}
	return n
}

// derivationIDs notes the ids before anything refers to them: pieces do, and a
// derivation may read one that stands after it.
func (v *inspector) derivationIDs() {
	for i, d := range v.project.Derivations {
		v.enter("derivations", i, "derivation", string(d.ID))
		v.bear(d.ID, "derivation")
		v.leave()
	}
}

func (v *inspector) derivations() {
	nodes := 0
	for i, d := range v.project.Derivations {
		v.enter("derivations", i, "derivation", string(d.ID))
		v.derivation(d)
		if d.Source != nil {
			nodes += v.source(d.Source)
		}
		if nodes > MaxNodes {
			v.failf("the patterns before they were fitted have more than %d nodes together", MaxNodes)
		}
		v.leave()
	}
	if v.err == nil {
		v.derivationOrder()
	}
}

func (v *inspector) derivation(d *Derivation) {
	switch d.Kind {
	case blockKind, pieceKind, fitKind:
	default:
		v.failf("the kind %q is not known; it is one of: block, piece, fit", d.Kind)
	}
	for _, in := range d.Inputs {
		switch v.ids[in].kind {
		case "wearer", "origin", "piece", "derivation":
		case "":
			v.failf("it reads %q, and there is no such wearer, origin, piece or derivation", in)
		default:
			v.failf("it reads %q (%s); it can read wearers, origins, pieces and derivations", in, v.ids[in].kind)
		}
	}
	seen := make(map[string]bool, len(d.Settings))
	for _, s := range d.Settings {
		v.text("name of a setting", s.Name)
		v.text("value of the setting "+s.Name, s.Value)
		if s.Name == "" || seen[s.Name] {
			v.failf("the setting %q is given twice or has no name", s.Name)
		}
		seen[s.Name] = true
	}
	v.text("block's own text", d.Text)
	for _, role := range d.Roles {
		v.text("name of a piece that it made", role)
	}
	for i := range d.Seams {
		s := &d.Seams[i]
		v.enter("seams", i, "seam as generated", s.Name)
		v.seamItself(s, func(id ID, _ string) { v.sound(id) })
		for _, u := range append(append(Run(nil), s.A...), s.B...) {
			v.copyOf(u)
		}
		v.leave()
	}
	if d.Source != nil && d.Kind != fitKind {
		v.failf("it keeps a pattern as it was before, which only a fit has")
	}
	v.steps(d)
}

// steps inspects the recorded acts of a derivation. What they name may be gone since, and
// whether they can be done again is found when they are.
func (v *inspector) steps(d *Derivation) {
	if len(d.Steps) > MaxRecorded {
		v.failf("it has %d recorded acts; at most %d fit", len(d.Steps), MaxRecorded)
	}
	if len(d.Steps) > 0 && d.Kind != blockKind {
		v.failf("it has recorded acts, which only a drafted block has")
	}
	known := make(map[string]bool, len(d.Stems))
	for _, s := range d.Stems {
		v.text("role of a stem", s.Role)
		if known[s.Role] {
			v.failf("the role %q has two stems", s.Role)
		}
		known[s.Role] = true
		v.sound(s.ID)
	}
	at := 1
	for i := range d.Steps {
		v.enter("steps", i, "recorded act", d.Steps[i].Act)
		v.step(&d.Steps[i], at)
		at = d.Steps[i].Until
		v.leave()
	}
}

// step inspects one recorded act; the one before it has given out the ids below at.
func (v *inspector) step(s *Recorded, at int) {
	if !repeatable[s.Act] {
		v.failf("%q is no act that can be done again", s.Act)
	}
	if s.Next < at || s.Until < s.Next || s.Until > v.project.NextID || s.Until-s.Next > maxStepIDs {
		v.failf("it gave out the ids from %d to %d; they must come after those of the act before it and below the project's counter", s.Next, s.Until)
	}
	if len(s.Pieces) == 0 || len(s.Pieces) > MaxStepPieces {
		v.failf("it took and made %d pieces; it must be 1 to %d", len(s.Pieces), MaxStepPieces)
	}
	for _, id := range s.Pieces {
		v.sound(id)
	}
	seen := make(map[string]bool, len(s.Args))
	size := 0
	for _, a := range s.Args {
		v.text("name of an argument", a.Name)
		v.text("value of the argument "+a.Name, a.Value)
		if a.Name == "" || seen[a.Name] {
			v.failf("the argument %q is given twice or has no name", a.Name)
		}
		seen[a.Name] = true
		size += len(a.Value)
	}
	if size > maxStepText {
		v.failf("its arguments are longer than %d bytes", maxStepText)
	}
}

// derivationOrder complains about derivations that wait for each other in a
// circle. It takes away what waits for nothing until nothing can be taken away.
func (v *inspector) derivationOrder() {
	madeBy := make(map[ID]ID)
	for _, p := range v.project.Pieces {
		if p.Derived != nil {
			madeBy[p.ID] = p.Derived.Derivation
		}
	}
	waits := make(map[ID]int)
	readers := make(map[ID][]ID)
	for _, d := range v.project.Derivations {
		for _, in := range d.Inputs {
			if maker, made := madeBy[in]; made {
				in = maker
			}
			if v.ids[in].kind == "derivation" {
				waits[d.ID]++
				readers[in] = append(readers[in], d.ID)
			}
		}
	}
	var ready []ID
	for _, d := range v.project.Derivations {
		if waits[d.ID] == 0 {
			ready = append(ready, d.ID)
		}
	}
	done := 0
	for ; done < len(ready); done++ {
		for _, r := range readers[ready[done]] {
			if waits[r]--; waits[r] == 0 {
				ready = append(ready, r)
			}
		}
	}
	if done == len(v.project.Derivations) {
		return
	}
	for i, d := range v.project.Derivations {
		if waits[d.ID] > 0 {
			v.enter("derivations", i, "derivation", string(d.ID))
			v.failf("it waits for what is made from it, in a circle; take out one of its inputs")
			v.leave()
			return
		}
	}
}
