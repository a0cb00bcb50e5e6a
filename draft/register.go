package draft

import (
	"context"
	"fmt"
	"sort"
	"strings"
)

// Named is an act as the command list and the terminal see it: by its name, with
// arguments read from text. Every value of it is an *Act.
type Named interface {
	Info() Info
	// Params describes the arguments in the order in which a person gives them.
	Params() []Param
	// DoText reads the arguments and does the act. Errors say which argument is
	// wrong and what would be right.
	DoText(p *Project, args map[string]string) (Outcome, error)
	// ahead works out what takes long before the act is done; see FitTrial.
	ahead(ctx context.Context, p *Project, args map[string]string, progress func(share float64)) error
}

// acts is filled by the variables that hold the acts, before main begins, and
// never changes after.
var acts = map[string]Named{}

// register makes an act known by its name. It panics on a name that is taken and
// on arguments that cannot be read from text: both are slips in the program.
func register[A any](info Info, do func(*Project, A) (Outcome, error)) *Act[A] {
	if _, taken := acts[info.Name]; taken {
		panic("two acts are called " + info.Name)
	}
	a := newAct(info, do)
	a.params = paramsOf[A]()
	acts[info.Name] = a
	return a
}

// newAct makes an act that is not listed: one whose arguments only a program can
// give.
func newAct[A any](info Info, do func(*Project, A) (Outcome, error)) *Act[A] {
	return &Act[A]{info: info, do: do}
}

// Acts lists every act that can be named, by group and then by name.
func Acts() []Named {
	list := make([]Named, 0, len(acts))
	for _, a := range acts {
		list = append(list, a)
	}
	sort.Slice(list, func(i, j int) bool {
		a, b := list[i].Info(), list[j].Info()
		if a.Group != b.Group {
			return a.Group < b.Group
		}
		return a.Name < b.Name
	})
	return list
}

// ActNamed returns the act with the name. The error names the acts that come
// nearest.
func ActNamed(name string) (Named, error) {
	if a, ok := acts[name]; ok {
		return a, nil
	}
	var near []string
	for _, a := range Acts() {
		if sharesWord(a.Info().Name, name) {
			near = append(near, a.Info().Name)
		}
	}
	if len(near) == 0 {
		return nil, fmt.Errorf("there is no act called %q", name)
	}
	return nil, fmt.Errorf("there is no act called %q; near it are: %s", name, strings.Join(near, ", "))
}

// sharesWord reports whether two hyphenated names have a word in common, a plural
// s aside.
func sharesWord(a, b string) bool {
	for _, u := range strings.Split(a, "-") {
		for _, v := range strings.Split(b, "-") {
			if strings.TrimSuffix(u, "s") == strings.TrimSuffix(v, "s") {
				return true
			}
		}
	}
	return false
}

// Params implements Named.
func (a *Act[A]) Params() []Param {
	out := make([]Param, len(a.params))
	for i, f := range a.params {
		out[i] = f.Param
	}
	return out
}

// DoText implements Named.
func (a *Act[A]) DoText(p *Project, args map[string]string) (Outcome, error) {
	read, err := readArgs[A](p, a.params, args)
	if err != nil {
		return Outcome{}, a.wrap(err)
	}
	return a.Do(p, read)
}
