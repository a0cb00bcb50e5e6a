package draft

// Recorded is an act that the maker has done to pieces of a derivation and that makes
// other pieces of them, or shapes them by a rule: a cut, a join, a fold, a pivoted dart. When the derivation is generated anew it
// is done again on what is generated, so that a yoke that was cut off a bodice follows a
// changed measure as the bodice does.
type Recorded struct {
	// Act is the name of the act, Args its arguments as text, in which things go by
	// their ids.
	Act  string
	Args []Setting
	// Next is the project's NextID when the act was done, Until what it was then: done
	// again it makes the same ids, and no others.
	Next, Until int
	// Pieces are the pieces that it took, changed and made, those that were there before
	// it first.
	Pieces []ID
}

// Stem is the id that a piece of a block has borne since it was first made: acts that are
// done again name it by that.
type Stem struct {
	Role string
	ID   ID
}

const (
	// MaxRecorded bounds the recorded acts of a derivation: every one is done again when a
	// measure changes. It is far more than a garment is cut up with.
	MaxRecorded = 200
	// MaxStepPieces bounds the pieces that one recorded act takes and makes.
	MaxStepPieces = 1000
	// maxStepText bounds the arguments of a recorded act, in bytes.
	maxStepText = 256 << 10
	// maxStepIDs bounds the ids that one recorded act makes.
	maxStepIDs = 10 * MaxNodes
)

// repeatable are the acts that are done again. They name places by edges and shares, and
// never by millimetres on the bench, where a piece that was generated does not lie.
var repeatable = map[string]bool{
	"split-piece":  true,
	"dart-to-seam": true,
	"join-pieces":  true,
	"fold-piece":   true,
	"unfold-piece": true,
	"mirror-piece": true,

	"add-dart":       true,
	"move-dart":      true,
	"delete-dart":    true,
	"pivot-dart":     true,
	"absorb-dart":    true,
	"add-fullness":   true,
	"slash-spread":   true,
	"add-pleats":     true,
	"add-tucks":      true,
	"lengthen-piece": true,
	"grow-edge":      true,
	"insert-gusset":  true,
	"insert-godet":   true,
}

// texts are the arguments of a recorded act as they are read.
func (s *Recorded) texts() map[string]string {
	args := make(map[string]string, len(s.Args))
	for _, a := range s.Args {
		args[a.Name] = a.Value
	}
	return args
}

// title is what people call the act.
func (s *Recorded) title() string {
	if a, ok := acts[s.Act]; ok {
		return a.Info().Title
	}
	return s.Act
}

// recorded returns a derivation with one more step.
func (d *Derivation) recorded(step Recorded) *Derivation {
	next := *d
	next.Steps = append(d.Steps[:len(d.Steps):len(d.Steps)], step)
	return &next
}

// stem returns the id that the piece of a role was made with, empty where that was not
// kept.
func (d *Derivation) stem(role string) ID {
	for _, s := range d.Stems {
		if s.Role == role {
			return s.ID
		}
	}
	return ""
}
