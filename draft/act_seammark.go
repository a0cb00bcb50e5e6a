package draft

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
)

// SeamMarkRef names a mark of a seam: by its id, or as "side#2", the second along the seam.
type SeamMarkRef struct{ Seam, Mark ID }

func (r *SeamMarkRef) readArg(p *Project, text string) error {
	for _, s := range p.Seams {
		if s.hasMark(ID(unquote(text))) {
			*r = SeamMarkRef{s.ID, ID(unquote(text))}
			return nil
		}
	}
	parts, err := splitOutside(text, "#")
	if err != nil {
		return err
	}
	if len(parts) != 2 {
		return fmt.Errorf("no seam has a mark %q; name it by its id, or as the first of its seam: SEAM#1", text)
	}
	var ref SeamRef
	if err := ref.readArg(p, parts[0]); err != nil {
		return err
	}
	s := p.Seam(ID(ref))
	k, err := strconv.Atoi(parts[1])
	if err != nil || k < 1 || k > len(s.Marks) {
		return fmt.Errorf("seam %s has no mark number %s; it has %d", s.label(), parts[1], len(s.Marks))
	}
	*r = SeamMarkRef{s.ID, s.Marks[k-1].ID}
	return nil
}

func (*SeamMarkRef) argKind() string { return "mark of a seam" }

// mostMarks bounds the marks of one seam: more notches than that no one counts.
const mostMarks = 100

// AddSeamMarkArgs are the arguments of AddSeamMark.
type AddSeamMarkArgs struct {
	Seam   SeamRef    `arg:"seam" says:"the seam"`
	At     EdgePlace  `arg:"at" says:"where along the side, from where that begins"`
	Side   Side       `arg:"side" says:"along which side the place is told" default:"a"`
	Shape  NotchShape `arg:"shape" says:"how it is marked" default:"slit"`
	Double *bool      `arg:"double" says:"two ticks, as the back of a garment has; without it, as the names of edges and pieces tell"`
	Takes  []NotchRef `arg:"takes,optional" says:"notches along the seam that move there, one on each side at most"`
}

// AddSeamMark notches both sides of a seam at matching places. The notches stay at matching
// places when the seam or its pieces change.
var AddSeamMark = register(Info{
	Name: "add-seam-mark", Title: "Notch both sides of a seam", Group: groupSeams,
	Says: "Marks matching places on both sides of a seam with notches that stay together.",
}, func(p *Project, a AddSeamMarkArgs) (Outcome, error) {
	m, err := p.markable(ID(a.Seam))
	if err != nil {
		return Outcome{}, err
	}
	at, err := m.rows[a.Side].place(a.At, p.Unit)
	if err != nil {
		return Outcome{}, err
	}
	if a.Side == SideB {
		at = m.across(SideB, at)
	}
	if m.taken(at, "") {
		return Outcome{}, errors.New("there is a mark at this place already")
	}
	if len(m.seam.Marks) >= mostMarks {
		return Outcome{}, fmt.Errorf("a seam has at most %d notches", mostMarks)
	}
	ids := p.newIDs()
	made := SeamMark{ID: ids.make(kindMark), At: m.share(at), Shape: a.Shape, Double: m.behind(at)}
	put(&made.Double, a.Double)
	marks := append(slices.Clone(m.seam.Marks), made)
	if twin, ok := m.twin(at); ok && !m.taken(twin, "") {
		marks = append(marks, SeamMark{ID: ids.make(kindMark), At: m.share(twin), Shape: made.Shape, Double: made.Double})
	}
	next := p.withSeamMarks(m.seam, marks)
	if next, err = next.taking(m.seam, made.ID, a.Takes); err != nil {
		return Outcome{}, err
	}
	next.NextID = ids.next
	out := Outcome{Project: next, Made: made.ID, subject: m.seam.label()}
	if len(marks) > len(m.seam.Marks)+1 {
		out.say("The same notch lies on the other half or copy as well, and its place on the other side is marked too.")
	}
	return out, nil
})

// markable returns the match of a seam whose pieces may be notched.
func (p *Project) markable(id ID) (*seamMatch, error) {
	s := p.Seam(id)
	if s == nil {
		return nil, fmt.Errorf("seam %s %w", id, errGone)
	}
	m, err := p.matchOf(s)
	if err != nil {
		return nil, err
	}
	return m, m.locked()
}

// share returns a place along side A as a share of its length, on a grid that the project
// file keeps.
func (m *seamMatch) share(at float64) float64 {
	return min(max(toGrid(at/m.rows[SideA].length()), 0), 1)
}

// markApart is how near, in mm along side A, two marks are one.
const markApart = 0.05

// taken reports whether the seam has a mark at a place along side A, besides one.
func (m *seamMatch) taken(at float64, besides ID) bool {
	return slices.ContainsFunc(m.seam.Marks, func(o SeamMark) bool {
		off := o.At*m.rows[SideA].length() - at
		return o.ID != besides && max(off, -off) < markApart
	})
}

// twin returns the place along side A whose notch is the same drawing as that at a place,
// as the other half of a neck is; false where there is none. A notch there is seen whether
// it is wanted or not.
func (m *seamMatch) twin(at float64) (float64, bool) {
	for _, side := range [...]Side{SideA, SideB} {
		row, own := &m.rows[side], at
		if side == SideB {
			own = m.across(SideA, at)
		}
		if row.atJoint(own) {
			continue
		}
		here := row.spot(own)
		for k, u := range row.run {
			if k == here.use || u.Piece != here.piece.ID || u.Edge != here.piece.Edges[here.edge].ID {
				continue
			}
			twin := row.along(k, here.at)
			if side == SideB {
				twin = m.across(SideB, twin)
			}
			return twin, true
		}
	}
	return 0, false
}

// withSeamMarks returns p in which the seam has the marks, in order along side A.
func (p *Project) withSeamMarks(s *Seam, marks []SeamMark) *Project {
	t := *s
	t.Marks = marks
	slices.SortStableFunc(t.Marks, func(a, b SeamMark) int { return cmp.Compare(a.At, b.At) })
	return p.withSeam(&t)
}

// taking returns p with the notches standing for the mark; the commit of the act puts them
// where the mark is.
func (p *Project) taking(s *Seam, mark ID, notches []NotchRef) (*Project, error) {
	if len(notches) == 0 {
		return p, nil
	}
	next, _, err := byPiece(p, notches, func(r NotchRef) ID { return r.Piece }, "notch", func(q *Piece, refs []NotchRef) error {
		for _, r := range refs {
			k := q.notchIndex(r.Notch)
			if k < 0 {
				return fmt.Errorf("notch %s %w", r.Notch, errGone)
			}
			n := &q.Notches[k]
			switch {
			case !s.runsAlong(q.ID, n.Edge):
				return fmt.Errorf("a notch of %s lies on another edge than seam %s sews", q.label(), s.label())
			case n.Mark != "":
				return fmt.Errorf("a notch of %s belongs to a mark already", q.label())
			}
			n.Mark = mark
		}
		return nil
	})
	return next, err
}

// MoveSeamMarkArgs are the arguments of MoveSeamMark. What is nil stays as it is.
type MoveSeamMarkArgs struct {
	Mark   SeamMarkRef `arg:"mark" says:"the mark"`
	At     *EdgePlace  `arg:"at" says:"where along the side, from where that begins"`
	Side   Side        `arg:"side" says:"along which side the place is told" default:"a"`
	Shape  *NotchShape `arg:"shape" says:"how it is marked"`
	Double *bool       `arg:"double" says:"two ticks, as the back of a garment has"`
}

// MoveSeamMark puts the notches of a mark at another place of both sides, or marks them
// another way.
var MoveSeamMark = register(Info{
	Name: "move-seam-mark", Title: "Move the notches of a seam", Group: groupSeams,
	Says: "Puts matching notches at another place on both sides of a seam, or marks them another way.",
}, func(p *Project, a MoveSeamMarkArgs) (Outcome, error) {
	m, err := p.markable(a.Mark.Seam)
	if err != nil {
		return Outcome{}, err
	}
	marks := slices.Clone(m.seam.Marks)
	k := slices.IndexFunc(marks, func(o SeamMark) bool { return o.ID == a.Mark.Mark })
	if k < 0 {
		return Outcome{}, fmt.Errorf("mark %s %w", a.Mark.Mark, errGone)
	}
	before := marks[k]
	put(&marks[k].Shape, a.Shape)
	put(&marks[k].Double, a.Double)
	if a.At != nil {
		at, err := m.rows[a.Side].place(*a.At, p.Unit)
		if err != nil {
			return Outcome{}, err
		}
		if a.Side == SideB {
			at = m.across(SideB, at)
		}
		if m.taken(at, before.ID) {
			return Outcome{}, errors.New("there is a mark at this place already")
		}
		marks[k].At = m.share(at)
	}
	m.moveTwin(marks, k, before)
	return Outcome{Project: p.withSeamMarks(m.seam, marks), subject: m.seam.label()}, nil
})

// moveTwin has the mark whose notch is the same drawing as that of mark k follow it.
func (m *seamMatch) moveTwin(marks []SeamMark, k int, before SeamMark) {
	length := m.rows[SideA].length()
	was, ok := m.twin(before.At * length)
	if !ok {
		return
	}
	for i := range marks {
		if off := marks[i].At*length - was; i == k || max(off, -off) >= markApart {
			continue
		}
		marks[i].Shape, marks[i].Double = marks[k].Shape, marks[k].Double
		if now, ok := m.twin(marks[k].At * length); ok {
			marks[i].At = m.share(now)
		}
		return
	}
}

// DeleteSeamMarkArgs are the arguments of DeleteSeamMark.
type DeleteSeamMarkArgs struct {
	Marks []SeamMarkRef `arg:"marks" says:"the marks"`
}

// DeleteSeamMark takes marks of seams away with their notches on both sides.
var DeleteSeamMark = register(Info{
	Name: "delete-seam-mark", Title: "Delete the notches of a seam", Group: groupSeams,
	Says: "Takes matching notches away from both sides of a seam.",
}, func(p *Project, a DeleteSeamMarkArgs) (Outcome, error) {
	if len(a.Marks) == 0 {
		return Outcome{}, errors.New("no mark is named")
	}
	gone := make(map[ID]bool)
	var labels []string
	for _, r := range a.Marks {
		m, err := p.markable(r.Seam)
		if err != nil {
			return Outcome{}, err
		}
		if !m.seam.hasMark(r.Mark) {
			return Outcome{}, fmt.Errorf("mark %s %w", r.Mark, errGone)
		}
		m.withTwin(r.Mark, gone)
		if label := m.seam.label(); !slices.Contains(labels, label) {
			labels = append(labels, label)
		}
	}
	return Outcome{Project: p.withoutMarks(gone), subject: subjectOf(labels, "seams")}, nil
})

// withTwin adds a mark, and the one whose notch is the same drawing, to what goes.
func (m *seamMatch) withTwin(mark ID, gone map[ID]bool) {
	gone[mark] = true
	length := m.rows[SideA].length()
	for _, o := range m.seam.Marks {
		if o.ID != mark {
			continue
		}
		twin, ok := m.twin(o.At * length)
		for _, other := range m.seam.Marks {
			if off := other.At*length - twin; ok && max(off, -off) < markApart {
				gone[other.ID] = true
			}
		}
	}
}

// dropMarksOf returns p without the marks for which the notches stand: one of a pair that is
// taken away takes the other along.
func (p *Project) dropMarksOf(before *Project, notches []NotchRef) *Project {
	gone := make(map[ID]bool)
	for _, r := range notches {
		piece := before.Piece(r.Piece)
		if piece == nil {
			continue
		}
		k := piece.notchIndex(r.Notch)
		if k < 0 || piece.Notches[k].Mark == "" {
			continue
		}
		gone[piece.Notches[k].Mark] = true
		if s := before.seamOfMark(piece.Notches[k].Mark); s != nil {
			if m, err := before.matchOf(s); err == nil {
				m.withTwin(piece.Notches[k].Mark, gone)
			}
		}
	}
	return p.withoutMarks(gone)
}

func (p *Project) seamOfMark(mark ID) *Seam {
	for _, s := range p.Seams {
		if s.hasMark(mark) {
			return s
		}
	}
	return nil
}

// moveMarksOf returns p in which the marks follow the notches that stand for them and that
// an act has moved or marked another way: the other one of each pair then follows too.
func (p *Project) moveMarksOf(before *Project, notches []NotchRef) *Project {
	next := p
	for _, r := range notches {
		old, piece := before.Piece(r.Piece), p.Piece(r.Piece)
		if old == nil || piece == nil {
			continue
		}
		i, k := old.notchIndex(r.Notch), piece.notchIndex(r.Notch)
		if i < 0 || k < 0 || piece.Notches[k].Mark == "" || old.Notches[i] == piece.Notches[k] {
			continue
		}
		next = next.moveMarkOf(before, old.Notches[i], piece.Notches[k], old.ID)
	}
	return next
}

func (p *Project) moveMarkOf(before *Project, was, is Notch, piece ID) *Project {
	s := p.seamOfMark(is.Mark)
	if s == nil {
		return p
	}
	m, err := before.matchOf(s)
	if err != nil {
		return p
	}
	marks := slices.Clone(s.Marks)
	k := slices.IndexFunc(marks, func(o SeamMark) bool { return o.ID == is.Mark })
	old := marks[k]
	marks[k].Shape, marks[k].Double = is.Shape, is.Double
	if at, ok := m.placeOfNotch(piece, was, is, old.At); ok {
		marks[k].At = m.share(at)
	}
	m.moveTwin(marks, k, old)
	return p.withSeamMarks(s, marks)
}

// placeOfNotch returns the place along side A at which a notch that stood at a share of it
// stands now. Of several uses of the edge it is the one at which it stood.
func (m *seamMatch) placeOfNotch(piece ID, was, is Notch, share float64) (place float64, found bool) {
	nearest := 0.0
	for _, side := range [...]Side{SideA, SideB} {
		row := &m.rows[side]
		for k, u := range row.run {
			if u.Piece != piece || u.Edge != is.Edge {
				continue
			}
			toA := func(n Notch) float64 {
				at := row.along(k, n.Along(row.lengths[k]))
				if side == SideB {
					at = m.across(SideB, at)
				}
				return at
			}
			off := toA(was) - share*m.rows[SideA].length()
			if off = max(off, -off); !found || off < nearest {
				place, nearest, found = toA(is), off, true
			}
		}
	}
	return place, found
}
