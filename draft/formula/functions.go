package formula

import (
	"fmt"
	"strings"
)

// function is one function of the language.
type function struct {
	name, group, says string
	// args are its arguments; with more, the last may be repeated until there are
	// maxArguments.
	args []argument
	more bool
	// gives is what it gives. Where there are several, every argument with as many
	// kinds takes the one at the same place as the others: abs of a length is a
	// length. Where there is one, an argument takes any of its kinds.
	gives []Kind
	run   run
}

// argument is one argument of a function.
type argument struct {
	name  string
	kinds []Kind
}

// maxArguments bounds the arguments of a function that takes any number.
const maxArguments = 12

// givenName is the one function whose argument is a name and not a value.
const givenName = "given"

// functions are all functions but given, by name. Each file of functions adds its
// own.
var functions = index(numberFunctions, pointFunctions, placeFunctions, curveFunctions, alongFunctions)

// order is the functions as they are listed.
var order = [][]function{numberFunctions, pointFunctions, placeFunctions, curveFunctions, alongFunctions}

func index(groups ...[]function) map[string]*function {
	t := map[string]*function{}
	for _, g := range groups {
		for i := range g {
			t[g[i].name] = &g[i]
		}
	}
	return t
}

// args reads a list of arguments as it is written beside a function: "p:point
// d:length", several kinds with "/".
func args(list string) []argument {
	var out []argument
	for _, field := range strings.Fields(list) {
		name, kinds, _ := strings.Cut(field, ":")
		a := argument{name: name}
		for _, word := range strings.Split(kinds, "/") {
			a.kinds = append(a.kinds, kindNamed(word))
		}
		out = append(out, a)
	}
	return out
}

// kindNamed returns the kind of that name; it panics on another word, since only
// the tables of this package call it.
func kindNamed(word string) Kind {
	for k := NumberKind; k <= CurveKind; k++ {
		if k.String() == word {
			return k
		}
	}
	panic("formula: no kind " + word)
}

// accepts returns the kind that the function gives for arguments of these kinds, or
// says what is wrong and with which argument, -1 for their number.
func (f *function) accepts(kinds []Kind) (gives Kind, wrong int, says string) {
	n := len(kinds)
	switch {
	case n < len(f.args), n > len(f.args) && !f.more:
		return 0, -1, fmt.Sprintf("%s takes %s and has %s here; write %s", f.name, f.count(), counted(n), f.call())
	case n > maxArguments:
		return 0, -1, fmt.Sprintf("%s takes at most %d arguments and has %d here", f.name, maxArguments, n)
	}
	choice := -1
	for i, k := range kinds {
		a := f.args[min(i, len(f.args)-1)]
		at := kindAt(a.kinds, k)
		tied := len(f.gives) > 1 && len(a.kinds) == len(f.gives)
		switch {
		case at < 0:
			return 0, i, fmt.Sprintf("%s of %s is %s, and this is %s", a.name, f.name, a.wants(), k.article())
		case tied && choice >= 0 && at != choice:
			return 0, i, fmt.Sprintf("all values of %s are of one kind, and here are %s and %s", f.name, kinds[0].article(), k.article())
		case tied:
			choice = at
		}
	}
	return f.gives[max(choice, 0)], 0, ""
}

func kindAt(kinds []Kind, k Kind) int {
	for i, want := range kinds {
		if want == k {
			return i
		}
	}
	return -1
}

// wants returns the kinds of an argument: "a number, length or angle".
func (a argument) wants() string {
	words := []string{a.kinds[0].article()}
	for _, k := range a.kinds[1:] {
		words = append(words, k.article())
	}
	if len(words) == 1 {
		return words[0]
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// count returns how many arguments there are to be.
func (f *function) count() string {
	if f.more {
		return fmt.Sprintf("%d to %d arguments", len(f.args), maxArguments)
	}
	return counted(len(f.args)) + plural(len(f.args))
}

func plural(n int) string {
	if n == 1 {
		return " argument"
	}
	return " arguments"
}

func counted(n int) string {
	if n == 0 {
		return "none"
	}
	return fmt.Sprint(n)
}

// call returns how the function is written: "toward(p, q, d)".
func (f *function) call() string {
	names := make([]string, len(f.args))
	for i, a := range f.args {
		names[i] = a.name
	}
	if f.more {
		names = append(names, "...")
	}
	return f.name + "(" + strings.Join(names, ", ") + ")"
}

// callOf returns how a function is written, by its name.
func callOf(name string) string {
	if name == givenName {
		return "given(measure)"
	}
	return functions[name].call()
}

// FunctionInfo describes one function of the language, for guides and the window.
type FunctionInfo struct {
	Name string
	// Group is the heading under which it is listed: "Points".
	Group string
	Args  []Argument
	// More says that the last argument may be repeated, up to 12 in all.
	More bool
	// Gives is the kind of the value. Where there are several, each goes with the
	// kinds at the same place in the arguments that have as many.
	Gives []Kind
	// Says is one plain sentence.
	Says string
}

// Argument is an argument of a function: its name, and the kinds that it may have.
// Kinds is empty for the argument of given, which is the name of a measure.
type Argument struct {
	Name  string
	Kinds []Kind
}

// Call returns how the function is written: "toward(p, q, d)".
func (f FunctionInfo) Call() string { return callOf(f.Name) }

// Functions returns all functions of the language in the order in which a guide
// lists them.
func Functions() []FunctionInfo {
	var out []FunctionInfo
	for _, group := range order {
		for _, f := range group {
			info := FunctionInfo{Name: f.name, Group: f.group, More: f.more, Gives: append([]Kind(nil), f.gives...), Says: f.says}
			for _, a := range f.args {
				info.Args = append(info.Args, Argument{a.name, append([]Kind(nil), a.kinds...)})
			}
			out = append(out, info)
		}
	}
	return append(out, FunctionInfo{
		Name: givenName, Group: "Measures", Args: []Argument{{Name: "measure"}}, Gives: []Kind{TruthKind},
		Says: "Whether the measure was taken and not estimated.",
	})
}

// Constants returns the names that mean the same in every formula, with their
// values.
func Constants() Values {
	v := Values{}
	for name, c := range constants {
		v[name] = c
	}
	return v
}
