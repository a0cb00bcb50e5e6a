package draft

import (
	"fmt"
	"strings"
)

// names holds the words of an enumeration in the order of its values, from 0.
type names[T ~int] []string

func (n names[T]) text(v T) string {
	if int(v) < 0 || int(v) >= len(n) {
		return fmt.Sprintf("unknown (%d)", int(v))
	}
	return n[v]
}

func (n names[T]) marshal(v T) ([]byte, error) {
	if int(v) < 0 || int(v) >= len(n) {
		return nil, fmt.Errorf("value %d has no name", int(v))
	}
	return []byte(n[v]), nil
}

func (n names[T]) unmarshal(v *T, b []byte, what string) error {
	for i, s := range n {
		if s == string(b) {
			*v = T(i)
			return nil
		}
	}
	return fmt.Errorf("%s %q is not known; it is one of: %s", what, b, strings.Join(n, ", "))
}

func (n names[T]) all() []T {
	vs := make([]T, len(n))
	for i := range n {
		vs[i] = T(i)
	}
	return vs
}
