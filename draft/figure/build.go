package figure

import (
	"fmt"
	"slices"
	"strings"
)

// Build is the kind of body that a figure is drawn as.
type Build int

// The builds, in the order in which a person is offered them.
const (
	Upright Build = iota // a person or a doll
	Muzzled              // an animal on two legs: a long muzzle, tall ears, a tail
	Wide                 // the belly is the widest, hardly a neck, large feet
)

var buildNames = []string{Upright: "upright", Muzzled: "muzzled", Wide: "wide"}

// Builds lists every build in the order in which a person is offered them.
func Builds() []Build { return []Build{Upright, Muzzled, Wide} }

func (b Build) known() bool { return b >= 0 && int(b) < len(buildNames) }

// String returns the word for the build.
func (b Build) String() string {
	if !b.known() {
		return fmt.Sprintf("build %d", int(b))
	}
	return buildNames[b]
}

// MarshalText implements encoding.TextMarshaler.
func (b Build) MarshalText() ([]byte, error) {
	if !b.known() {
		return nil, fmt.Errorf("there is no build %d", int(b))
	}
	return []byte(buildNames[b]), nil
}

// UnmarshalText reads one of upright, muzzled, wide.
func (b *Build) UnmarshalText(text []byte) error {
	i := slices.Index(buildNames, strings.TrimSpace(string(text)))
	if i < 0 {
		return fmt.Errorf("%q is not a build; it is one of %s", text, strings.Join(buildNames, ", "))
	}
	*b = Build(i)
	return nil
}
