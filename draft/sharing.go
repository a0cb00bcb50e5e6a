package draft

import "reflect"

// sharing returns the project with the things of another one in the place of its own
// where they are the same, so that neither they nor what was computed of them is there
// twice.
func (p *Project) sharing(with *Project) *Project {
	q := *p
	q.Wearers = shared(p.Wearers, with.Wearers, func(w *Wearer) ID { return w.ID })
	q.Cloths = shared(p.Cloths, with.Cloths, func(c *Cloth) ID { return c.ID })
	q.Pieces = shared(p.Pieces, with.Pieces, func(x *Piece) ID { return x.ID })
	q.Seams = shared(p.Seams, with.Seams, func(s *Seam) ID { return s.ID })
	q.Pictures = shared(p.Pictures, with.Pictures, func(x *Picture) ID { return x.ID })
	q.Origins = shared(p.Origins, with.Origins, func(o *Origin) ID { return o.ID })
	q.Derivations = shared(p.Derivations, with.Derivations, func(d *Derivation) ID { return d.ID })
	q.Notes = shared(p.Notes, with.Notes, func(n *ToileNote) ID { return n.ID })
	q.Versions = shared(p.Versions, with.Versions, func(v *Version) ID { return v.ID })
	return &q
}

func shared[T any](list, with []*T, id func(*T) ID) []*T {
	if len(list) == 0 {
		return list
	}
	have := make(map[ID]*T, len(with))
	for _, x := range with {
		have[id(x)] = x
	}
	out := make([]*T, len(list))
	for i, x := range list {
		if y := have[id(x)]; y != nil && reflect.DeepEqual(x, y) {
			x = y
		}
		out[i] = x
	}
	return out
}
