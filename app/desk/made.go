package desk

import "hemlet/draft"

// Made returns what has the id in the project: a piece, an edge, a point, something
// that lies on a piece, or the edges of a seam; nothing for an id that none of them
// has.
func Made(p *draft.Project, id draft.ID) []Ref {
	if id == "" {
		return nil
	}
	if p.Piece(id) != nil {
		return []Ref{PieceRef(id)}
	}
	if s := p.Seam(id); s != nil {
		return SeamRefs(s)
	}
	for _, piece := range p.Pieces {
		for _, r := range []Ref{
			EdgeRef(piece.ID, id), NodeRef(piece.ID, id), ThingRef(Line, piece.ID, id), ThingRef(Dart, piece.ID, id),
			ThingRef(Notch, piece.ID, id), ThingRef(Stretch, piece.ID, id),
		} {
			if r.In(p) {
				return []Ref{r}
			}
		}
	}
	return nil
}
