package draft

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"hemlet/geom"
)

// PastePiecesArgs are the arguments of PastePieces.
type PastePiecesArgs struct {
	From PatternFile `arg:"from" says:"the project whose pieces are pasted"`
	Only []string    `arg:"only,optional" says:"the names of the pieces; all of them without it"`
	At   *Vector     `arg:"at" says:"where the middle of them goes on the bench; without it they lie as they lay, or beside the others where there is no room"`
}

// PastePieces puts pieces of another project, or of this one, into the project, with
// ids of their own. The seams among them come along. Cloths are matched by their names,
// and those that the project has not got are added. Names of pieces and seams that are
// taken get a number. What is pasted follows no block, no wearer and no other piece,
// and is neither hidden nor locked.
var PastePieces = register(Info{
	Name: "paste-pieces", Title: "Paste pieces", Group: groupPieces,
	Says: "Puts pieces of another project, with the seams among them, into this one.",
}, func(p *Project, a PastePiecesArgs) (Outcome, error) {
	from := a.From.Project
	if from == nil {
		return Outcome{}, errors.New("there is nothing to paste")
	}
	ids, err := from.wanted(a.Only)
	if err != nil {
		return Outcome{}, err
	}
	if err := Validate(from); err != nil {
		return Outcome{}, fmt.Errorf("what is to be pasted is not sound: %w", err)
	}
	clip := from.Clip(ids)
	if n := p.nodeCount() + clip.nodeCount(); n > MaxNodes {
		return Outcome{}, fmt.Errorf("the project would have %d points; at most %d fit", n, MaxNodes)
	}
	ps := newPasting(p, clip)
	ps.layOut(a.At)
	return ps.finish(), nil
})

// wanted returns the pieces that the names mean, or all.
func (p *Project) wanted(only []string) ([]ID, error) {
	var ids []ID
	for _, name := range only {
		ref, err := p.FindPiece(name)
		if err != nil {
			return nil, err
		}
		ids = append(ids, ID(ref))
	}
	if len(only) == 0 {
		for _, piece := range p.Pieces {
			ids = append(ids, piece.ID)
		}
	}
	if len(ids) == 0 {
		return nil, errors.New("there is no piece to paste")
	}
	return ids, nil
}

// pasting puts the pieces of a clip into a project.
type pasting struct {
	onto, clip *Project
	next       *Project
	ids        *idSource
	out        Outcome
	// made leads from the ids of the clip to those of the project.
	made   map[ID]ID
	pieces []*Piece
}

// newPasting makes everything of the clip anew for the project; the pieces lie where
// they lay.
func newPasting(p, clip *Project) *pasting {
	ps := &pasting{onto: p, clip: clip, next: p.shallow(), ids: p.newIDs(), made: make(map[ID]ID)}
	ps.cloths()
	ps.origins()
	names := ps.freeNames(pieceNames(p), pieceNames(clip))
	for _, old := range clip.Pieces {
		q := old.clone()
		ps.pieces = append(ps.pieces, q)
		maps.Copy(ps.made, q.renew(ps.ids))
		q.Name, q.Cloth, q.Origin = names[q.Name], ps.made[q.Cloth], ps.made[q.Origin]
		q.Hidden, q.Locked, q.Derived = false, false, nil
	}
	ps.next.Pieces = append(append([]*Piece(nil), p.Pieces...), ps.pieces...)
	ps.seams()
	for _, q := range ps.pieces {
		for k := range q.Notches {
			q.Notches[k].Mark = ps.made[q.Notches[k].Mark] // none, where the seam did not come along
		}
	}
	return ps
}

// cloths finds the cloths of the clip by their names, and adds those that are not there.
func (ps *pasting) cloths() {
	have := make(map[string]ID)
	for i := len(ps.onto.Cloths) - 1; i >= 0; i-- {
		have[ps.onto.Cloths[i].Name] = ps.onto.Cloths[i].ID
	}
	var fresh []*Cloth
	for _, c := range ps.clip.Cloths {
		if id, ok := have[c.Name]; ok {
			ps.made[c.ID] = id
			continue
		}
		d := *c
		d.ID = ps.ids.make(kindCloth)
		d.Scrap = append([]Node(nil), c.Scrap...)
		for i := range d.Scrap {
			d.Scrap[i].ID = ps.ids.make(kindNode)
		}
		ps.made[c.ID], have[d.Name] = d.ID, d.ID
		fresh = append(fresh, &d)
		ps.out.say("The cloth %s comes along.", labelOf(d.Name, d.ID))
	}
	if len(fresh) > 0 {
		ps.next.Cloths = append(append([]*Cloth(nil), ps.onto.Cloths...), fresh...)
	}
}

// origins finds where the pieces of the clip came from among what the project notes of
// its own, and adds what is not there.
func (ps *pasting) origins() {
	var fresh []*Origin
	for _, o := range ps.clip.Origins {
		at := slices.IndexFunc(ps.onto.Origins, o.says)
		if at >= 0 {
			ps.made[o.ID] = ps.onto.Origins[at].ID
			continue
		}
		n := o.clone()
		n.ID = ps.ids.make(kindOrigin)
		ps.made[o.ID] = n.ID
		fresh = append(fresh, n)
	}
	if len(fresh) > 0 {
		ps.next.Origins = append(append([]*Origin(nil), ps.onto.Origins...), fresh...)
	}
}

func pieceNames(p *Project) []string {
	names := make([]string, len(p.Pieces))
	for i, piece := range p.Pieces {
		names[i] = piece.Name
	}
	return names
}

func seamNames(p *Project) []string {
	names := make([]string, len(p.Seams))
	for i, s := range p.Seams {
		names[i] = s.Name
	}
	return names
}

// freeNames gives each of the names that come one that is not taken: itself, or the
// same with a number. What had one name has one name still.
func (ps *pasting) freeNames(taken, come []string) map[string]string {
	in := make(map[string]bool, len(taken))
	for _, name := range taken {
		in[name] = true
	}
	out := make(map[string]string, len(come))
	for _, name := range come {
		if in[name] {
			continue
		}
		out[name] = name
	}
	for _, name := range come {
		if _, done := out[name]; done {
			continue
		}
		if name == "" {
			out[name] = ""
			continue
		}
		out[name] = unusedName(name, func(n string) bool {
			_, comes := out[n]
			return in[n] || comes
		})
		in[out[name]] = true
	}
	return out
}

func (ps *pasting) seams() {
	if len(ps.clip.Seams) == 0 {
		return
	}
	names := ps.freeNames(seamNames(ps.onto), seamNames(ps.clip))
	ps.next.Seams = append([]*Seam(nil), ps.onto.Seams...)
	for _, old := range ps.clip.Seams {
		s := *old
		s.ID, s.Name = ps.ids.make(kindSeam), names[old.Name]
		s.A, s.B = ps.run(old.A), ps.run(old.B)
		s.Marks = slices.Clone(old.Marks)
		for i := range s.Marks {
			s.Marks[i].ID = ps.ids.make(kindMark)
			ps.made[old.Marks[i].ID] = s.Marks[i].ID
		}
		if err := ps.sewable(&s); err != nil {
			ps.out.say("Seam %s does not come along: it sews %v.", old.label(), err)
			continue
		}
		ps.next.Seams = append(ps.next.Seams, &s)
	}
}

// sewable reports what a seam sews that is never cut, as a file may say that a hand has
// written.
func (ps *pasting) sewable(s *Seam) error {
	for _, u := range slices.Concat(s.A, s.B) {
		if err := ps.next.useExists(u); err != nil {
			return err
		}
	}
	return nil
}

func (ps *pasting) run(old Run) Run {
	run := append(Run(nil), old...)
	for i := range run {
		run[i].Piece, run[i].Edge = ps.made[run[i].Piece], ps.made[run[i].Edge]
	}
	return run
}

// layOut moves the pieces together so that the middle of them lies at the place.
// Without one they stay where they lay if that is free, and else go beside the others.
func (ps *pasting) layOut(at *Vector) {
	box := geom.EmptyRect()
	if at != nil {
		for _, q := range ps.pieces {
			box = box.Union(q.DrawnPath().Transform(q.Place.Affine()).Bounds())
		}
		ps.move(geom.Point(*at).Sub(box.Center()))
		return
	}
	var room benchRoom
	for _, piece := range ps.onto.Pieces {
		room.take(piece)
	}
	covered := false
	for _, q := range ps.pieces {
		line := q.lineOnBench()
		box = box.Union(line.box)
		covered = covered || room.covered(line)
	}
	if covered {
		ps.move(room.nearest(box))
	}
}

func (ps *pasting) move(by geom.Point) {
	for _, q := range ps.pieces {
		q.Place.At = q.Place.At.Add(by)
	}
}

// finish returns the outcome.
func (ps *pasting) finish() Outcome {
	ps.next.NextID = ps.ids.next
	made := make([]ID, len(ps.pieces))
	for i, q := range ps.pieces {
		made[i] = q.ID
	}
	ps.out.Project, ps.out.Made = ps.next, made[0]
	ps.out.subject = ps.next.subject(made)
	return ps.out
}
