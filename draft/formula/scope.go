package formula

import (
	"fmt"
	"math"
	"strings"
)

// Scope is the names that a formula may read, with their kinds. Formulas that were
// compiled keep nothing of it, so that a scope may grow from step to step.
type Scope struct {
	kinds map[string]Kind
	names []string
	given map[string]bool
}

// NewScope returns a scope without names. The constants are there in every scope.
func NewScope() *Scope {
	return &Scope{kinds: map[string]Kind{}, given: map[string]bool{}}
}

// constants are the names that mean the same everywhere.
var constants = map[string]Value{
	"mm":     Length{1},
	"cm":     Length{10},
	"inch":   Length{25.4}, // international inch, exact since 1959
	"degree": Angle{math.Pi / 180},
	"pi":     Number(math.Pi),
}

// words are the words of the language that no name may take.
var words = map[string]bool{
	"and": true, "or": true, "not": true, "in": true, "matches": true, "contains": true,
	"startsWith": true, "endsWith": true, "let": true, "if": true, "else": true,
	"true": true, "false": true, "nil": true,
}

// maxName bounds the bytes of a name; longer ones are no names but mistakes.
const maxName = 64

// Add adds a name. It must be a letter followed by letters, digits and underscores,
// at most 64 of them, and neither a word of the language, a constant, a function
// nor a name of the scope.
func (s *Scope) Add(name string, k Kind) error {
	if err := CheckName(name); err != nil {
		return err
	}
	if _, taken := s.kinds[name]; taken {
		return fmt.Errorf("the name %s is taken", name)
	}
	s.kinds[name] = k
	s.names = append(s.names, name)
	return nil
}

// CheckName says whether a name could be added to an empty scope.
func CheckName(name string) error {
	switch {
	case strings.Contains(name, " ") && identifier(strings.ReplaceAll(name, " ", "_")):
		return fmt.Errorf("%q cannot be a name, for formulas read it; write %s", name, strings.ReplaceAll(name, " ", "_"))
	case !identifier(name):
		return fmt.Errorf("%q cannot be a name; a name is a letter followed by letters, digits and underscores, at most %d of them", name, maxName)
	case words[name]:
		return fmt.Errorf("%s is a word of the formulas and cannot be a name", name)
	case constants[name] != nil:
		return fmt.Errorf("%s is a constant of the formulas and cannot be a name", name)
	case functions[name] != nil || name == givenName:
		return fmt.Errorf("%s is a function of the formulas and cannot be a name", name)
	}
	return nil
}

// identifier says whether the text is a letter followed by letters, digits and
// underscores.
func identifier(name string) bool {
	if name == "" || len(name) > maxName || !letter(name[0]) {
		return false
	}
	for i := range len(name) {
		if c := name[i]; !letter(c) && !digit(c) && c != '_' {
			return false
		}
	}
	return true
}

func letter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

func digit(c byte) bool { return c >= '0' && c <= '9' }

// AddGiven lets formulas ask given(name): whether the measure was taken and not
// estimated. The answer is the Truth with the key GivenKey(name) in the values; a
// measure without an answer was not taken.
func (s *Scope) AddGiven(name string) { s.given[name] = true }

// GivenKey is the key in Values of the answer to given(name).
func GivenKey(name string) string { return "given " + name }

// Kind returns the kind of a name, and whether the scope has it.
func (s *Scope) Kind(name string) (Kind, bool) {
	k, ok := s.kinds[name]
	return k, ok
}

// Names returns the names in the order in which they were added.
func (s *Scope) Names() []string { return append([]string(nil), s.names...) }
