package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// ToileNoteRef names a note of the toile by its id, its words, or its number in the list: "#2".
type ToileNoteRef ID

func (r *ToileNoteRef) readArg(p *Project, text string) error {
	if number, ok := strings.CutPrefix(strings.TrimSpace(text), "#"); ok {
		k, err := strconv.Atoi(number)
		if err != nil || k < 1 || k > len(p.Notes) {
			return fmt.Errorf("there is no note number %s; there are %d", number, len(p.Notes))
		}
		*r = ToileNoteRef(p.Notes[k-1].ID)
		return nil
	}
	list := make([]candidate, len(p.Notes))
	for i, n := range p.Notes {
		list[i] = candidate{n.ID, n.Words, shownAs(n.Words, n.ID), i}
	}
	c, err := pick("note", text, list)
	*r = ToileNoteRef(c.id)
	return err
}

func (*ToileNoteRef) argKind() string { return "note of the toile" }

// AddToileNoteArgs are the arguments of AddToileNote.
type AddToileNoteArgs struct {
	Edge   EdgeRef   `arg:"edge" says:"the edge that it is about"`
	At     EdgePlace `arg:"at" says:"where along it" default:"50%"`
	Kind   ToileKind `arg:"kind" says:"take in: the edge goes into the piece, as a hem that goes up; let out: out of it; words: only what is written" default:"take in"`
	Amount *Length   `arg:"amount" says:"by how much, square to the edge"`
	Reach  NoteReach `arg:"reach" says:"whole: all of the edge by as much; tapers: less and less from there to nothing; without it, hems whole, by their kind, their name or where they lie on the garment, and seams tapering" default:"as usual"`
	From   EdgePlace `arg:"from" says:"where it tapers to nothing before that place" default:"0%"`
	To     EdgePlace `arg:"to" says:"where it tapers to nothing after it" default:"100%"`
	Both   *bool     `arg:"both" says:"the same for the edge that is sewn there, as a seam is pinned through both layers; of a whole hem, for the hems beside it; without it, yes for a whole hem and no for a seam"`
	Words  string    `arg:"words,optional" says:"what else to remember"`
}

// NoteReach says how much of an edge a note moves.
type NoteReach int

const (
	// ReachUsual is the whole of a hem or of an edge that is left raw, and tapers on a seam.
	ReachUsual NoteReach = iota
	ReachWhole
	ReachTapers
)

var noteReachNames = names[NoteReach]{"as usual", "whole", "tapers"}

func (r NoteReach) String() string               { return noteReachNames.text(r) }
func (r NoteReach) MarshalText() ([]byte, error) { return noteReachNames.marshal(r) }

// UnmarshalText reads as usual, whole or tapers.
func (r *NoteReach) UnmarshalText(b []byte) error { return noteReachNames.unmarshal(r, b, "reach") }

// AddToileNote notes what was found at a fitting of the toile.
var AddToileNote = register(Info{
	Name: "add-toile-note", Title: "Note on the toile", Group: groupMarks,
	Says: "Notes what a fitting of the toile shows at a place of an edge: so much in or out there, or only words. “Do the notes of the toile” changes the pattern by them.",
}, addToileNote)

// mostNoted bounds the amount of a note, in mm: more is another pattern.
const mostNoted = 1000

func addToileNote(p *Project, a AddToileNoteArgs) (Outcome, error) {
	piece := p.Piece(a.Edge.Piece)
	if piece == nil {
		return Outcome{}, fmt.Errorf("piece %s %w", a.Edge.Piece, errGone)
	}
	_, i := piece.Edge(a.Edge.Edge)
	if i < 0 {
		return Outcome{}, fmt.Errorf("edge %s of %s %w", a.Edge.Edge, piece.label(), errGone)
	}
	n := &ToileNote{Piece: piece.ID, Edge: a.Edge.Edge, Kind: a.Kind}
	n.Whole = a.Reach == ReachWhole || a.Reach == ReachUsual && p.movesWhole(piece, i)
	if err := n.place(p, piece, i, a.At, a.From, a.To); err != nil {
		return Outcome{}, err
	}
	if err := n.say(a.Words, a.Amount); err != nil {
		return Outcome{}, err
	}
	if piece.Edges[i].Kind == FoldEdge && n.Kind != OnlyWords {
		return Outcome{}, fmt.Errorf("edge %s is a fold and stays where it is; note it at the seams", piece.Edges[i].label())
	}
	notes := []*ToileNote{n}
	// A hem goes up all round: half of it would leave a step at the side.
	alone := n.Whole && !p.sewn(n.Piece, n.Edge)
	if both := a.Both != nil && *a.Both || a.Both == nil && alone; both && n.Kind != OnlyWords {
		var others []*ToileNote
		var err error
		if alone {
			others = p.notesBeside(n)
		} else if others, err = p.notesAcross(n, piece, i); err != nil {
			return Outcome{}, err
		}
		notes = append(notes, others...)
	}
	if len(p.Notes)+len(notes) > MaxToileNotes {
		return Outcome{}, fmt.Errorf("a project has at most %d notes; delete some that are done", MaxToileNotes)
	}
	ids := p.newIDs()
	next := p.shallow()
	next.Notes = slices.Clone(p.Notes)
	for _, n := range notes {
		n.ID = ids.make(kindNote)
		next.Notes = append(next.Notes, n)
	}
	next.NextID = ids.next
	return Outcome{Project: next, Made: n.ID, subject: piece.label() + ", " + piece.Edges[i].label()}, nil
}

// hems reports whether an edge is a hem: by its kind or its name, or as what the garment has
// there, such as the end of a sleeve, where nothing is sewn to it.
func (p *Project) hems(piece *Piece, i int) bool {
	switch e := &piece.Edges[i]; {
	case calledHem(piece, i):
		return true
	case e.Kind != SeamEdge || p.sewn(piece.ID, e.ID):
		return false
	default:
		part := NewSlots().Anatomy(p).Edge(piece.ID, e.ID).Part
		return part == AtHem || part == AtWrist || part == AtAnkle
	}
}

// NotedAs reports how a note moves an edge unless it says otherwise: whether as a hem, up and
// down, and whether all of it by as much.
func (p *Project) NotedAs(edge EdgeRef) (hem, whole bool) {
	piece := p.Piece(edge.Piece)
	if piece == nil {
		return false, false
	}
	_, i := piece.Edge(edge.Edge)
	if i < 0 {
		return false, false
	}
	return p.hems(piece, i), p.movesWhole(piece, i)
}

// movesWhole reports whether a note moves all of an edge unless it says otherwise.
func (p *Project) movesWhole(piece *Piece, i int) bool {
	return piece.Edges[i].Kind != SeamEdge || p.hems(piece, i)
}

// place sets where along edge i of the piece a note is.
func (n *ToileNote) place(p *Project, piece *Piece, i int, at, from, to EdgePlace) error {
	length := piece.EdgeLength(i)
	if !(length > 0) {
		return fmt.Errorf("edge %s has no length", piece.Edges[i].label())
	}
	for _, x := range [...]struct {
		place EdgePlace
		share *float64
	}{{at, &n.At}, {from, &n.From}, {to, &n.To}} {
		along, err := x.place.along(piece, i, p.Unit)
		if err != nil {
			return err
		}
		*x.share = clampShare(along / length)
	}
	if n.Whole {
		n.From, n.To = 0, 1
	}
	if n.From > n.At || n.To < n.At || n.From == n.To {
		return errors.New("it tapers to nothing before the place and after it; give “from” before it and “to” after it")
	}
	return nil
}

// say sets the words and the amount of a note.
func (n *ToileNote) say(words string, amount *Length) error {
	words, err := cleanName(words)
	if err != nil {
		return err
	}
	n.Words = words
	if amount != nil {
		n.Amount = toGrid(float64(*amount))
	}
	switch {
	case n.Kind == OnlyWords && words == "":
		return errors.New("a note of words alone needs some")
	case n.Kind == OnlyWords:
		n.Amount = 0
	case !(n.Amount > 0):
		return errors.New("by how much? Give an amount, such as 3mm")
	case n.Amount > mostNoted:
		return errors.New("so much is no note; change the pattern itself")
	}
	return nil
}

// notesBeside returns the same note for each edge of the kind that goes on from it across the
// seams at its ends, as the hem of a back does from that of a front.
func (p *Project) notesBeside(n *ToileNote) []*ToileNote {
	first := EdgeRef{n.Piece, n.Edge}
	seen, queue := map[EdgeRef]bool{first: true}, []EdgeRef{first}
	var list []*ToileNote
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		piece := p.Piece(at.Piece)
		_, i := piece.Edge(at.Edge)
		for _, ref := range p.goesOn(piece, i) {
			if seen[ref] {
				continue
			}
			seen[ref] = true
			queue = append(queue, ref)
			list = append(list, &ToileNote{Piece: ref.Piece, Edge: ref.Edge, At: 0.5, Whole: true, To: 1, Kind: n.Kind, Amount: n.Amount, Words: n.Words})
		}
	}
	return list
}

// goesOn lists the edges of the same kind that meet edge i of a piece across the seams at its
// ends.
func (p *Project) goesOn(piece *Piece, i int) []EdgeRef {
	var list []EdgeRef
	for _, s := range p.Pattern().Seams {
		for side, run := range [2]Run{s.A, s.B} {
			for _, end := range []EdgeEnd{EdgeStart, EdgeFinish} {
				own, edge, at := p.endOf(run, end)
				if own != piece || edge < 0 || piece.beside(edge, at) != i {
					continue
				}
				other, k, there := p.endOf(s.run(Side(side).other()), end)
				if other == nil || k < 0 {
					continue
				}
				if e := &other.Edges[other.beside(k, there)]; e.Kind == piece.Edges[i].Kind {
					list = append(list, EdgeRef{other.ID, e.ID})
				}
			}
		}
	}
	return list
}

// notesAcross returns the same note for each edge that is sewn at its place.
func (p *Project) notesAcross(n *ToileNote, piece *Piece, i int) ([]*ToileNote, error) {
	var list []*ToileNote
	seen := map[EdgeRef]bool{{n.Piece, n.Edge}: true}
	for _, s := range p.Pattern().Seams {
		side, row, k := useOf(s, EdgeRef{n.Piece, n.Edge})
		if k < 0 || len(row) == 0 {
			continue
		}
		m, err := p.matchOf(s)
		if err != nil {
			return nil, err
		}
		length := piece.EdgeLength(i)
		across := func(share float64) spot {
			return m.rows[side.other()].spot(m.across(side, m.rows[side].along(k, share*length)))
		}
		at := across(n.At)
		ref := EdgeRef{at.piece.ID, at.piece.Edges[at.edge].ID}
		if seen[ref] || at.piece.Edges[at.edge].Kind == FoldEdge {
			continue
		}
		seen[ref] = true
		own := at.piece.EdgeLength(at.edge)
		other := &ToileNote{Piece: ref.Piece, Edge: ref.Edge, At: clampShare(at.at / own), Whole: n.Whole, To: 1, Kind: n.Kind, Amount: n.Amount, Words: n.Words}
		ends := [2]spot{across(n.From), across(n.To)}
		for _, end := range ends {
			// Beyond the edge the taper ends with it.
			if n.Whole || end.edge != at.edge || end.piece != at.piece {
				continue
			}
			if share := clampShare(end.at / own); share < other.At {
				other.From = share
			} else if share > other.At {
				other.To = share
			}
		}
		list = append(list, other)
	}
	if len(list) == 0 {
		return nil, errors.New("nothing is sewn to this edge; note it for this edge alone")
	}
	return list, nil
}

// SetToileNoteArgs are the arguments of SetToileNote.
type SetToileNoteArgs struct {
	Note   ToileNoteRef `arg:"note" says:"the note"`
	At     *EdgePlace   `arg:"at" says:"where along the edge"`
	Kind   *ToileKind   `arg:"kind" says:"take in, let out or words"`
	Amount *Length      `arg:"amount" says:"by how much"`
	Reach  *NoteReach   `arg:"reach" says:"whole: all of the edge; tapers: less and less to nothing"`
	From   *EdgePlace   `arg:"from" says:"where it tapers to nothing before that place"`
	To     *EdgePlace   `arg:"to" says:"where it tapers to nothing after it"`
	Words  *string      `arg:"words" says:"what else to remember"`
	Done   *bool        `arg:"done" says:"whether the pattern has been changed by it"`
}

// SetToileNote changes a note of a fitting.
var SetToileNote = register(Info{
	Name: "set-toile-note", Title: "Change a note of the toile", Group: groupMarks,
	Says: "Changes a note of a fitting, or says that it is done or still to do.",
}, setToileNote)

func setToileNote(p *Project, a SetToileNoteArgs) (Outcome, error) {
	old := p.Note(ID(a.Note))
	if old == nil {
		return Outcome{}, fmt.Errorf("note %s %w", a.Note, errGone)
	}
	n := *old
	words := n.Words
	if a.Words != nil {
		words = *a.Words
	}
	if a.Kind != nil {
		n.Kind = *a.Kind
	}
	if a.Done != nil {
		n.Done = *a.Done
	}
	piece, i := p.noted(&n)
	if piece != nil {
		if a.Reach != nil {
			n.Whole = *a.Reach == ReachWhole || *a.Reach == ReachUsual && p.movesWhole(piece, i)
		}
		share := func(own float64, given *EdgePlace) EdgePlace {
			if given != nil {
				return *given
			}
			return EdgePlace{At: own, Share: true}
		}
		if err := n.place(p, piece, i, share(n.At, a.At), share(n.From, a.From), share(n.To, a.To)); err != nil {
			return Outcome{}, err
		}
	} else if n.Kind != OnlyWords && a.Done == nil {
		return Outcome{}, errors.New("the edge that it was about is gone; only its words can be changed")
	}
	if err := n.say(words, a.Amount); err != nil {
		return Outcome{}, err
	}
	return Outcome{Project: p.withNote(&n), Made: n.ID, subject: p.notePlace(&n)}, nil
}

// noted returns the piece and the index of the edge that a note is about, nil where either
// is gone.
func (p *Project) noted(n *ToileNote) (*Piece, int) {
	piece := p.Piece(n.Piece)
	if piece == nil {
		return nil, -1
	}
	if _, i := piece.Edge(n.Edge); i >= 0 {
		return piece, i
	}
	return nil, -1
}

// notePlace names the place of a note: "Front, side".
func (p *Project) notePlace(n *ToileNote) string {
	piece, i := p.noted(n)
	if piece == nil {
		if piece = p.Piece(n.Piece); piece != nil {
			return piece.label()
		}
		return string(n.Piece)
	}
	return piece.label() + ", " + piece.Edges[i].label()
}

// withNote returns p with the note of the same id replaced.
func (p *Project) withNote(n *ToileNote) *Project {
	next := p.shallow()
	next.Notes = slices.Clone(p.Notes)
	for i, x := range next.Notes {
		if x.ID == n.ID {
			next.Notes[i] = n
		}
	}
	return next
}

// DeleteToileNoteArgs are the arguments of DeleteToileNote.
type DeleteToileNoteArgs struct {
	Notes []ToileNoteRef `arg:"notes" says:"the notes"`
}

// DeleteToileNote takes notes away. What was changed by them stays.
var DeleteToileNote = register(Info{
	Name: "delete-toile-note", Title: "Delete notes of the toile", Group: groupMarks,
	Says: "Takes notes of a fitting away. The pattern stays as it is.",
}, func(p *Project, a DeleteToileNoteArgs) (Outcome, error) {
	if len(a.Notes) == 0 {
		return Outcome{}, errors.New("no note is named")
	}
	gone := make(map[ID]bool)
	var places []string
	for _, r := range a.Notes {
		n := p.Note(ID(r))
		if n == nil {
			return Outcome{}, fmt.Errorf("note %s %w", r, errGone)
		}
		gone[n.ID] = true
		places = append(places, p.notePlace(n))
	}
	next := p.shallow()
	next.Notes = nil
	for _, n := range p.Notes {
		if !gone[n.ID] {
			next.Notes = append(next.Notes, n)
		}
	}
	return Outcome{Project: next, subject: subjectOf(places, "notes")}, nil
})

// NoteSays tells a note in words, lengths in the unit of the project: "in 3 mm", "up 8 mm,
// the whole edge".
func (p *Project) NoteSays(n *ToileNote) string {
	if n.Kind == OnlyWords {
		return n.Words
	}
	ways := [...]string{TakeIn: "in", LetOut: "out"}
	if piece, i := p.noted(n); piece != nil && (piece.Edges[i].Kind == HemEdge || n.Whole && p.hems(piece, i)) {
		ways = [...]string{TakeIn: "up", LetOut: "down"}
	}
	says := ways[n.Kind] + " " + p.Unit.Format(n.Amount)
	if n.Whole {
		says += ", the whole edge"
	}
	if n.Words != "" {
		says += ": " + n.Words
	}
	return says
}

// NotePlace names the place of a note: "Front, side".
func (p *Project) NotePlace(n *ToileNote) string { return p.notePlace(n) }

// signed returns by how many mm the edge moves out, below 0 where it goes in.
func (n *ToileNote) signed() float64 {
	switch n.Kind {
	case TakeIn:
		return -n.Amount
	case LetOut:
		return n.Amount
	}
	return 0
}

// Asks reports whether the pattern is still to be changed by the note.
func (n *ToileNote) Asks() bool {
	return !n.Done && n.Edge != "" && math.Abs(n.signed()) > 0
}
