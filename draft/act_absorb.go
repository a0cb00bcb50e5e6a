package draft

import (
	"fmt"
)

// Absorbed says what becomes of what a dart took in.
type Absorbed int

const (
	IntoGathers Absorbed = iota
	IntoEase
)

var absorbedNames = names[Absorbed]{"gathers", "ease"}

func (a Absorbed) String() string               { return absorbedNames.text(a) }
func (a Absorbed) MarshalText() ([]byte, error) { return absorbedNames.marshal(a) }

// UnmarshalText reads gathers or ease.
func (a *Absorbed) UnmarshalText(b []byte) error {
	return absorbedNames.unmarshal(a, b, "way to take fullness in")
}

// fullness returns the same as a seam says it.
func (a Absorbed) fullness() Fullness {
	if a == IntoEase {
		return Ease
	}
	return Gathers
}

// stretch returns the same as an edge is marked with it.
func (a Absorbed) stretch() StretchKind {
	if a == IntoEase {
		return EaseStretch
	}
	return GatherStretch
}

// AbsorbDartArgs are the arguments of AbsorbDart.
type AbsorbDartArgs struct {
	Darts []DartRef `arg:"darts" says:"the darts, pleats or tucks"`
	Into  Absorbed  `arg:"into" says:"what becomes of what the dart took in" default:"gathers"`
	Over  *Length   `arg:"over" says:"how long the stretch of the edge is over which it is spread; without it, three times the mouth for gathers, the whole edge for ease"`
}

// AbsorbDart gathers or eases at the edge what a dart took in: the dart goes, the edge
// runs on across its mouth, the stretch is marked, and the seams of the edge hold what is
// fuller.
var AbsorbDart = register(Info{
	Name: "absorb-dart", Title: "Dart into gathers or ease", Group: groupCutting,
	Says: "Gathers or eases at the edge what a dart took in; the seam knows of it.",
}, absorbDart)

// gatherReach is over how many mouths of a dart its width is gathered: at 1.5 to 1.
const gatherReach = 3

func absorbDart(p *Project, a AbsorbDartArgs) (Outcome, error) {
	if a.Over != nil && !(float64(*a.Over) > 0) {
		return Outcome{}, fmt.Errorf("a stretch of %s holds no fullness", p.Unit.Format(float64(*a.Over)))
	}
	out := Outcome{unit: p.Unit}
	lineage := Lineage{}
	now := p
	for _, r := range a.Darts {
		var edge ID
		var lies [2]float64
		step, err := dartByDart(now, []DartRef{r}, func(q *Piece, d *Dart, ids *idSource, o *Outcome) error {
			var err error
			edge = d.Edge
			lies, o.Lineage, err = q.releaseDart(d)
			return err
		})
		if err != nil {
			return Outcome{}, err
		}
		next, err := onePiece(step.Project, r.Piece, func(q *Piece) error {
			ids := step.Project.newIDs()
			lies = q.markFull(edge, a.Into, lies, a.Over, ids, &out)
			step.Project.NextID = ids.next
			return nil
		})
		if err != nil {
			return Outcome{}, err
		}
		next.NextID = step.Project.NextID
		kind := a.Into.fullness()
		now = next.meanFuller(now, EdgeRef{r.Piece, edge}, &kind, lies[0], lies[1], &out)
		lineage = lineage.then(step.followed)
	}
	if len(a.Darts) == 0 {
		return Outcome{}, errNoDart
	}
	ids := make([]ID, len(a.Darts))
	for i, r := range a.Darts {
		ids[i] = r.Piece
	}
	out.Project, out.followed, out.subject = now, lineage, p.subject(distinct(ids))
	return out, nil
}

// markFull marks a stretch about what a dart took in, given as shares of the edge, and
// returns the stretch.
func (p *Piece) markFull(edge ID, into Absorbed, lies [2]float64, over *Length, ids *idSource, out *Outcome) [2]float64 {
	_, i := p.Edge(edge)
	length := p.EdgeLength(i)
	mouth := (lies[1] - lies[0]) * length
	reach := gatherReach * mouth
	switch {
	case over != nil:
		reach = max(float64(*over), mouth)
	case into == IntoEase:
		reach = 2 * length
	}
	middle := (lies[0] + lies[1]) / 2
	lo, hi := clampShare(middle-reach/length/2), clampShare(middle+reach/length/2)
	if !(hi-lo > shareSlack) {
		return lies // nothing was taken in
	}
	p.Stretches = append(p.Stretches, Stretch{ID: ids.make(kindStretch), Edge: edge, Kind: into.stretch(), From: lo, To: hi})
	if held := (hi - lo) * length; into == IntoEase && held > easeTo*(held-mouth) {
		out.say("%s, edge %s: %.0f %% is more than a crisp cloth eases in; about %.0f %% is. Gather it, or let the dart take in a part.", p.label(), p.Edges[i].label(), 100*mouth/(held-mouth), 100*(easeTo-1))
	}
	return [2]float64{lo, hi}
}
