package formula

import (
	"fmt"
	"sync"

	"github.com/expr-lang/expr/vm"
)

// Values are the values of names, by name; answers to given(name) have the key
// GivenKey(name).
type Values map[string]Value

// Formula is a compiled formula. It may be evaluated by several goroutines at once.
type Formula struct {
	source  string
	kind    Kind
	reads   []read
	asks    []string
	program *vm.Program
	effort  bound
	// constant is the value of a formula that reads no names, name the name of a
	// formula that is just one; both are answered without running a program.
	constant Value
	name     string
}

// read is a name that a formula reads.
type read struct {
	name string
	kind Kind
	// taken says that it is a measure whose value matters only where it was taken.
	taken bool
}

// Kind returns the kind of the formula's value.
func (f *Formula) Kind() Kind { return f.kind }

// Source returns the formula as it was written.
func (f *Formula) Source() string { return f.source }

// Reads returns the names of the scope that the formula reads, each once, in the
// order of the text. Names that are only asked about with given are not read.
func (f *Formula) Reads() []string {
	names := make([]string, len(f.reads))
	for i, r := range f.reads {
		names[i] = r.name
	}
	return names
}

// Asks returns the measures about which the formula asks given(name).
func (f *Formula) Asks() []string { return append([]string(nil), f.asks...) }

// ReadsIfTaken returns those of the names in Reads whose values matter only where
// given(name) holds, as in "given(tail_girth) ? tail_girth : 0*mm": what they are
// estimated to be changes nothing.
func (f *Formula) ReadsIfTaken() []string {
	var names []string
	for _, r := range f.reads {
		if r.taken {
			names = append(names, r.name)
		}
	}
	return names
}

// memoryBudget bounds what the expression library counts as made by one program.
// The language holds nothing that it counts, so that the bound is a second fence.
const memoryBudget = 10_000

// machines are the machines that run programs, for use by one evaluation each.
var machines = sync.Pool{New: func() any { return &vm.VM{MemoryBudget: memoryBudget} }}

// Value works the formula out. Every name that it reads must be in v, with the kind
// that it has in the scope. Whatever is not finite, a coordinate beyond 100 m, and
// what cannot be worked out (a division by zero, lines that do not cross) is an
// error of type *Error. It does not panic.
func (f *Formula) Value(v Values) (result Value, err error) {
	defer func() {
		if r := recover(); r != nil {
			result, err = nil, &Error{f.source, 0, caught + fmt.Sprint(r)}
		}
	}()
	if f.constant != nil {
		return f.constant, nil
	}
	for _, r := range f.reads {
		if err := r.check(v[r.name]); err != nil {
			return nil, &Error{f.source, 0, err.Error()}
		}
	}
	if f.name != "" {
		return v[f.name], nil
	}
	m := machines.Get().(*vm.VM)
	defer machines.Put(m)
	out, failed := m.Run(f.program, map[string]any(v))
	if failed != nil {
		return nil, runError(f.source, failed)
	}
	return out, nil
}

// caught begins what is said where a fault of this package or the library was caught.
// No formula is known that leads there.
const caught = "this fails by a fault of the program: "

// check says what is wrong with the value of a name.
func (r read) check(v Value) error {
	k, ok := kindOf(v)
	switch {
	case v == nil:
		return failf("%s has no value", r.name)
	case !ok || k != r.kind:
		return failf("%s should be %s and is not", r.name, r.kind.article())
	}
	if sound(v) != nil {
		return failf("%s is not a value that can be drawn", r.name)
	}
	return nil
}
