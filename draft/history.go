package draft

// Step is one entry of a history: a project and the name of the act that led to it.
type Step struct {
	Name    string
	Project *Project
	// fold joins the steps of one gesture; empty where the step stands alone.
	fold string
}

// MaxSteps bounds how far back a history reaches. Projects share what did not
// change, so that a step costs about as much as the pieces it touched.
const MaxSteps = 500

// History is the list of a document's projects, oldest first, and the place in it
// at which the maker now stands. It is a value: every method returns the next one.
type History struct {
	steps []Step
	at    int
}

// NewHistory begins with a project as it was opened or made.
func NewHistory(p *Project, name string) History {
	return History{steps: []Step{{Name: name, Project: p}}}
}

// Project returns the project at the present place.
func (h History) Project() *Project { return h.steps[h.at].Project }

// Steps returns the entries, oldest first, and the index of the present one.
func (h History) Steps() ([]Step, int) { return h.steps, h.at }

// Do appends a step and drops what had been undone. Where fold is not empty and
// equals that of the present step, the two become one: a drag is one step.
func (h History) Do(name string, p *Project, fold string) History {
	keep := h.at + 1
	if fold != "" && h.steps[h.at].fold == fold {
		keep--
	}
	first := max(0, keep+1-MaxSteps)
	steps := append([]Step(nil), h.steps[first:keep]...)
	steps = append(steps, Step{Name: name, Project: p, fold: fold})
	return History{steps, len(steps) - 1}
}

// Seal ends a gesture: the next step stands alone even if its fold is the same.
func (h History) Seal() History {
	if h.steps[h.at].fold == "" {
		return h
	}
	steps := append([]Step(nil), h.steps...)
	steps[h.at].fold = ""
	return History{steps, h.at}
}

// CanUndo returns the name of the step that Undo would take back, or false.
func (h History) CanUndo() (string, bool) {
	if h.at == 0 {
		return "", false
	}
	return h.steps[h.at].Name, true
}

// CanRedo returns the name of the step that Redo would do again, or false.
func (h History) CanRedo() (string, bool) {
	if h.at == len(h.steps)-1 {
		return "", false
	}
	return h.steps[h.at+1].Name, true
}

// Undo goes one step back, if there is one.
func (h History) Undo() History { return h.Go(h.at - 1) }

// Redo goes one step forward, if there is one.
func (h History) Redo() History { return h.Go(h.at + 1) }

// Go stands at step i; an i outside the list changes nothing.
func (h History) Go(i int) History {
	if i < 0 || i >= len(h.steps) {
		return h
	}
	return History{h.steps, i}
}

// Everywhere changes the project of every step by f, for what belongs to the document
// and is no step of the work, such as the unit in which lengths are shown: Undo and
// Redo pass it by. f must not return nil.
func (h History) Everywhere(f func(*Project) *Project) History {
	steps := append([]Step(nil), h.steps...)
	for i := range steps {
		steps[i].Project = f(steps[i].Project)
	}
	return History{steps, h.at}
}

// Onto puts the history of an earlier session, whose maker stood at step at, under h,
// which began with the same content. What was undone in it can still be done again as
// long as nothing was done in h. The steps share with h, and with one another, what is
// the same in them.
func (h History) Onto(earlier []Step, at int) History {
	if at < 0 || at >= len(earlier) {
		return h
	}
	past := append([]Step(nil), earlier[:at]...)
	for i, later := at-1, h.steps[0].Project; i >= 0; i-- {
		past[i].Project = past[i].Project.sharing(later)
		later = past[i].Project
	}
	present := h.steps[0]
	present.Name = earlier[at].Name
	steps := append(append(past, present), h.steps[1:]...)
	if len(h.steps) == 1 {
		before := present.Project
		for _, s := range earlier[at+1:] {
			s.Project = s.Project.sharing(before)
			before = s.Project
			steps = append(steps, s)
		}
	}
	first := max(0, len(steps)-MaxSteps)
	if first > at+h.at {
		return h
	}
	return History{steps[first:], at + h.at - first}
}
