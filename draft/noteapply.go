package draft

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// DoNotesArgs are the arguments of DoNotes.
type DoNotesArgs struct {
	Notes []ToileNoteRef `arg:"notes,optional" says:"the notes; without it, all that are still to do"`
}

// DoNotes changes the pattern by notes of a fitting. Each noted edge is drawn anew at the
// amount, square to where it was, and blends into its old line where the note tapers; an
// edge that moves as a whole cuts the edges beside it shorter or lets them run on. Then the
// edges that are sewn to what has changed follow, so that seams that held hold. Notes that
// are done stay to be read.
var DoNotes = register(Info{
	Name: "do-notes", Title: "Do the notes of the toile", Group: groupMarks,
	Says: "Changes the pattern by what was noted at a fitting; edges that are sewn to what changes follow, so that seams that held hold.",
}, doNotes)

func doNotes(p *Project, a DoNotesArgs) (Outcome, error) {
	notes, err := p.notesToDo(a.Notes)
	if err != nil {
		return Outcome{}, err
	}
	d := noteDoing{before: p, now: p, ids: p.newIDs(), edges: make(map[EdgeRef]bool), corners: make(map[NodeRef]bool)}
	var places []string
	for _, id := range piecesNoted(notes) {
		if err := d.piece(id, notes); err != nil {
			return Outcome{}, err
		}
	}
	d.now.NextID = d.ids.next
	out := Outcome{unit: p.Unit}
	d.trueSeams(&out)
	for _, n := range notes {
		done := *n
		done.Done = true
		d.now = d.now.withNote(&done)
		places = append(places, p.notePlace(n))
	}
	out.Project = d.now
	out.subject = subjectOf(places, "notes")
	p.sayMoved(&out)
	return out, nil
}

// notesToDo returns the notes that are named, or all that are still to do.
func (p *Project) notesToDo(refs []ToileNoteRef) ([]*ToileNote, error) {
	var list []*ToileNote
	if len(refs) == 0 {
		for _, n := range p.Notes {
			if n.Asks() {
				list = append(list, n)
			}
		}
		if len(list) == 0 {
			return nil, errors.New("no note asks for a change that is still to do")
		}
		return list, nil
	}
	for _, r := range refs {
		n := p.Note(ID(r))
		switch {
		case n == nil:
			return nil, fmt.Errorf("note %s %w", r, errGone)
		case n.Done:
			return nil, fmt.Errorf("the note at %s is done already; set it to be done again first", p.notePlace(n))
		case n.Edge == "":
			return nil, fmt.Errorf("the edge of the note at %s is gone; change the pattern by hand", p.notePlace(n))
		case n.Kind == OnlyWords:
			return nil, fmt.Errorf("the note at %s is words alone, which only you can do", p.notePlace(n))
		}
		if !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	return list, nil
}

func piecesNoted(notes []*ToileNote) []ID {
	ids := make([]ID, len(notes))
	for i, n := range notes {
		ids[i] = n.Piece
	}
	return distinct(ids)
}

// noteDoing is a pattern that is being changed by notes.
type noteDoing struct {
	before, now *Project
	ids         *idSource
	// edges are those that notes have moved or cut shorter, corners those that slid.
	edges   map[EdgeRef]bool
	corners map[NodeRef]bool
}

// piece moves the noted edges of one piece: first those that taper, whose places are
// counted along them as they are, then whole ones.
func (d *noteDoing) piece(id ID, notes []*ToileNote) error {
	was := d.now.Piece(id)
	if err := mayGive(was); err != nil {
		return err
	}
	q := was.clone()
	for _, whole := range []bool{false, true} {
		for _, edge := range edgesNoted(id, notes, whole) {
			_, i := q.Edge(edge)
			line := shiftsOf(q.EdgeLength(i), EdgeRef{id, edge}, notes, whole)
			corners, err := q.shiftEdge(i, line, d.ids)
			if err != nil {
				return fmt.Errorf("%s, edge %s: %w", was.label(), q.Edges[i].label(), err)
			}
			for _, node := range corners {
				d.corners[NodeRef{id, node}] = true
			}
		}
	}
	fine, err := rounded(q)
	if err != nil {
		return fmt.Errorf("piece %s: %w", was.label(), err)
	}
	if err := fine.soundAfter(was); err != nil {
		return fmt.Errorf("%s: %w", was.label(), err)
	}
	for i := range fine.Edges {
		if _, k := was.Edge(fine.Edges[i].ID); k >= 0 && !slices.Equal(was.EdgePath(k), fine.EdgePath(i)) {
			d.edges[EdgeRef{id, fine.Edges[i].ID}] = true
		}
	}
	d.now = d.now.withPiece(fine)
	return nil
}

// edgesNoted lists the edges of a piece that notes move whole, or that they move tapering.
func edgesNoted(piece ID, notes []*ToileNote, whole bool) []ID {
	var list []ID
	for _, n := range notes {
		if n.Piece == piece && n.Whole == whole {
			list = append(list, n.Edge)
		}
	}
	return distinct(list)
}

// shiftsOf returns how far an edge of a length in mm moves by its notes. Of two that taper,
// the line goes from one to the other where they reach over each other.
func shiftsOf(length float64, edge EdgeRef, notes []*ToileNote, whole bool) shiftLine {
	var own []*ToileNote
	sum := 0.0
	for _, n := range notes {
		if n.Piece == edge.Piece && n.Edge == edge.Edge && n.Whole == whole {
			own = append(own, n)
			sum += n.signed()
		}
	}
	if whole {
		return shiftLine{{0, sum}, {length, sum}}
	}
	slices.SortStableFunc(own, func(a, b *ToileNote) int { return cmp.Compare(a.At, b.At) })
	var line shiftLine
	add := func(share, out float64) {
		if n := len(line); n > 0 && share*length-line[n-1].at < length*knotReach {
			line[n-1].out += out // two notes at one place count together
			return
		}
		line = append(line, shiftKnot{share * length, out})
	}
	for k, n := range own {
		if k == 0 && n.From < n.At-knotReach {
			add(n.From, 0)
		}
		if k > 0 && own[k-1].To <= n.From {
			add(own[k-1].To, 0)
			add(n.From, 0)
		}
		add(n.At, n.signed())
		if k == len(own)-1 && n.To > n.At+knotReach {
			add(n.To, 0)
		}
	}
	return line
}

// trueSeams has the edges that are sewn to what has changed follow, in every seam that held
// before.
func (d *noteDoing) trueSeams(out *Outcome) {
	slots := NewSlots()
	told := make(map[ID]bool)
	// A side that follows may be sewn elsewhere too: a few rounds are enough for what hangs
	// together, and what then still is off is told.
	for range seamRounds {
		changed := false
		for _, was := range d.before.Pattern().Seams {
			s := d.now.Seam(was.ID)
			if s == nil || d.now.ownEdges(s) || math.Abs(d.now.seamDiff(s)-d.before.seamDiff(was)) <= MatchedTo {
				continue
			}
			if st, err := slots.SeamState(d.before, was); err != nil || !st.Holds {
				continue
			}
			next, by, err := d.trueSeam(s)
			if err != nil || next == nil {
				continue
			}
			d.now, changed = next, true
			if !told[s.ID] {
				out.say("Seam %s: %s.", s.label(), by)
			}
			told[s.ID] = true
		}
		if !changed {
			break
		}
	}
	for _, was := range d.before.Seams {
		if s := d.now.Seam(was.ID); s != nil {
			if by := math.Abs(d.now.seamDiff(s)) - math.Abs(d.before.seamDiff(was)); by > MatchedTo {
				out.say("Seam %s is off by %s now; mend it at True.", s.label(), d.before.Unit.FormatSmall(math.Abs(d.now.seamDiff(s))))
			}
		}
	}
}

// seamRounds is how often seams are gone through that hang together.
const seamRounds = 3

// trueSeam has the side of a seam follow whose corners no note has slid, else the one that no
// note has moved, else both, and says which. The end gives at which a corner of the other
// side slid, if there is one.
func (d *noteDoing) trueSeam(s *Seam) (*Project, string, error) {
	gives := GiveBoth
	for _, changed := range [][2]bool{{d.slidSide(s.A), d.slidSide(s.B)}, {d.movedSide(s.A), d.movedSide(s.B)}} {
		if changed[SideA] != changed[SideB] {
			if gives = GiveA; changed[SideA] {
				gives = GiveB
			}
			break
		}
	}
	sides, err := d.now.givingSides(s, gives)
	if err != nil {
		return nil, "", err
	}
	end := d.slidEnd(s)
	o := Outcome{unit: d.now.Unit}
	if err := d.now.matchByEnd(s, sides, end, &o); err != nil {
		return nil, "", err
	}
	var names []string
	for _, side := range sides {
		names = append(names, d.now.runLabel(s.run(side)))
	}
	return o.Project, subjectOf(names, "sides") + " follows", nil
}

func (d *noteDoing) movedSide(run Run) bool {
	return slices.ContainsFunc(run, func(u EdgeUse) bool { return d.edges[EdgeRef{u.Piece, u.Edge}] })
}

// slidSide reports whether a corner at an end of a run slid along it.
func (d *noteDoing) slidSide(run Run) bool { return d.slid(run, EdgeStart) || d.slid(run, EdgeFinish) }

// slid reports whether the corner at an end of a run slid.
func (d *noteDoing) slid(run Run, end EdgeEnd) bool {
	piece, edge, at := d.now.endOf(run, end)
	if piece == nil || edge < 0 {
		return false
	}
	if at == EdgeFinish {
		edge = (edge + 1) % len(piece.Edges)
	}
	return d.corners[NodeRef{piece.ID, piece.Edges[edge].Nodes[0].ID}]
}

// slidEnd returns the end of a seam at which a corner slid along one of its sides, nil where
// that is none or both.
func (d *noteDoing) slidEnd(s *Seam) *EdgeEnd {
	at := [2]bool{}
	for _, end := range []EdgeEnd{EdgeStart, EdgeFinish} {
		at[end] = d.slid(s.A, end) || d.slid(s.B, end)
	}
	if at[EdgeStart] == at[EdgeFinish] {
		return nil
	}
	end := EdgeStart
	if at[EdgeFinish] {
		end = EdgeFinish
	}
	return &end
}
