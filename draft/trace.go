package draft

// roleCopy is the role of a piece that is traced off another.
const roleCopy = "copy"

// tracing makes a copy of the parent.
type tracing struct {
	name     string
	mirrored bool
}

func (s *settingReader) tracing() tracing {
	return tracing{name: s.text(settingName), mirrored: s.yes(settingMirrored)}
}

func (tracing) role() string { return roleCopy }

func (t tracing) settings() []Setting {
	var l settingList
	l.text(settingMake, roleCopy)
	l.text(settingName, t.name)
	l.yes(settingMirrored, t.mirrored)
	return l
}

func (t tracing) follow(Lineage) (recipe, bool) { return t, false }

func (t tracing) make(parent *Piece, ids linkIDs) (*Piece, error) {
	q := traced(parent, ids)
	q.Name = nameOr(t.name, parent.label()+" copy")
	if t.mirrored {
		q = turnedOver(q)
	}
	return q, nil
}

func nameOr(name, without string) string {
	if name == "" {
		return without
	}
	return name
}
