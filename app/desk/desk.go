package desk

import (
	"slices"

	"hemlet/draft"
)

// Desk is the document that lies open.
type Desk struct {
	history draft.History
	slots   *draft.Slots
	picked  Picked
	gesture *Gesture // under way, nil for none
	// aside are the pieces that are put aside, nil where none are.
	aside map[draft.ID]bool
	// saved is the project as it stands in the file, path the file, empty where
	// there is none yet.
	saved *draft.Project
	path  string
	// savedUnit is the unit in the file.
	savedUnit draft.Unit

	report    draft.Report
	reportFor *draft.Project
	// madeUp is what is said of garments put together.
	madeUp    []draft.Finding
	madeUpFor *draft.Project
	// counts are the findings of that report by piece.
	counts    map[draft.ID]Count
	countsFor *draft.Project

	listeners []func(Change)

	// OnDone, if set, is told what an act did, once the document shows it.
	OnDone func(Done)
}

// New returns a desk with a project on it, as made and not yet saved.
func New(p *draft.Project) *Desk {
	d := &Desk{}
	d.Open(p, "")
	return d
}

// Open puts another project in the place of the present one. path is the file it
// was read from; without one the project is new.
func (d *Desk) Open(p *draft.Project, path string) {
	d.history = draft.NewHistory(p, "open")
	d.slots = draft.NewSlots()
	d.picked, d.gesture, d.aside = nil, nil, nil
	d.saved, d.savedUnit, d.path = p, p.Unit, path
	d.report, d.reportFor, d.counts = draft.Report{}, nil, nil
	d.madeUp, d.madeUpFor = nil, nil
	d.tell(Document | Selection | File | Opened)
}

// Project returns the project as it now stands.
func (d *Desk) Project() *draft.Project { return d.history.Project() }

// Slots returns the cache of what was computed from the project.
func (d *Desk) Slots() *draft.Slots { return d.slots }

// History returns the list of what was done, without what is only tried.
func (d *Desk) History() draft.History {
	if d.Trying() {
		return d.gesture.start
	}
	return d.history
}

// Picked returns what is selected.
func (d *Desk) Picked() Picked { return d.picked }

// Pick selects the refs and nothing else.
func (d *Desk) Pick(refs ...Ref) { d.pick(Picked(refs)) }

// PickMore adds the ref to what is selected, or takes it out.
func (d *Desk) PickMore(r Ref) { d.pick(d.picked.Toggled(r)) }

// PickLess takes the refs out of what is selected.
func (d *Desk) PickLess(refs ...Ref) {
	var left Picked
	for _, r := range d.picked {
		if !slices.Contains(refs, r) {
			left = append(left, r)
		}
	}
	d.pick(left)
}

func (d *Desk) pick(p Picked) {
	p = p.within(d.Project())
	if slices.Equal(p, d.picked) {
		return
	}
	d.picked = p
	d.history = d.history.Seal()
	d.tell(Selection)
}

// Path returns the file of the document, empty where it has none.
func (d *Desk) Path() string { return d.path }

// Dirty reports whether there is anything to save. The unit alone is not, nor what is only
// tried.
func (d *Desk) Dirty() bool { return d.Settled() != d.saved }

// UnitChanged reports whether lengths are shown in another unit than the file says.
func (d *Desk) UnitChanged() bool { return d.Project().Unit != d.savedUnit }

// SetUnit changes the unit in which lengths are shown. It belongs to the document and
// is saved with it, but it is no step to undo, what is taken back later is shown in the
// same unit, and nobody has to be asked whether to save it.
func (d *Desk) SetUnit(u draft.Unit) error {
	if d.Project().Unit == u {
		return nil
	}
	return d.everywhere(func(p *draft.Project) (draft.Outcome, error) {
		return draft.SetUnit.Do(p, draft.SetUnitArgs{Unit: u})
	})
}

// Name gives a project that nobody has named yet a name. It is no step to undo.
func (d *Desk) Name(name string) error {
	unnamed := d.Project().Name
	return d.everywhere(func(p *draft.Project) (draft.Outcome, error) {
		if p.Name != unnamed {
			return draft.Outcome{Project: p}, nil
		}
		return draft.RenameProject.Do(p, draft.RenameProjectArgs{Name: name})
	})
}

// everywhere does an act on the project of every step, and on the one in the file.
func (d *Desk) everywhere(do func(*draft.Project) (draft.Outcome, error)) error {
	d.DropTrial()
	made := map[*draft.Project]*draft.Project{nil: nil}
	var failed error
	in := func(p *draft.Project) *draft.Project {
		if q, ok := made[p]; ok {
			return q
		}
		out, err := do(p)
		if err != nil {
			failed = err
			return p
		}
		made[p] = out.Project
		return out.Project
	}
	h := d.history.Everywhere(in)
	saved := in(d.saved)
	if failed != nil {
		return failed
	}
	wasDirty := d.Dirty()
	d.history, d.saved, d.gesture = h, saved, nil
	change := Document
	if wasDirty != d.Dirty() {
		change |= File
	}
	d.tell(change)
	return nil
}

// MarkSaved notes that the project now stands in the file.
func (d *Desk) MarkSaved(p *draft.Project, path string) {
	d.saved, d.savedUnit, d.path = p, p.Unit, path
	d.history = d.history.Seal()
	d.tell(File)
}

// MarkUnsaved notes that the project as it stands is in no file: it was recovered,
// or brought in from elsewhere.
func (d *Desk) MarkUnsaved() {
	d.saved = nil
	d.tell(File)
}

// Commit takes in a project that an act named so has made. With the fold of the
// step before, the two are one step to undo.
func (d *Desk) Commit(name string, p *draft.Project, fold string) {
	if p == d.Project() {
		return
	}
	d.stand(d.history.Do(name, p, fold))
}

// Undo takes back what is only tried, or else the last step, if there is one.
func (d *Desk) Undo() {
	if d.Trying() {
		d.DropTrial()
		return
	}
	d.stand(d.history.Undo())
}

// Redo does again what was taken back.
func (d *Desk) Redo() {
	d.DropTrial()
	d.stand(d.history.Redo())
}

// Recall puts the history of an earlier session, whose maker stood at step at, under
// what was done since the document was opened.
func (d *Desk) Recall(steps []draft.Step, at int) {
	d.DropTrial()
	d.stand(d.history.Onto(steps, at))
}

// GoTo stands at step i of the history.
func (d *Desk) GoTo(i int) {
	d.DropTrial()
	d.stand(d.history.Go(i))
}

// stand moves to another history, which ends the gesture under way.
func (d *Desk) stand(h draft.History) {
	wasDirty := d.Dirty()
	d.gesture = nil
	d.turn(h, wasDirty)
}

// turn moves to another history and tells what that changed; wasDirty says whether there
// was anything to save.
func (d *Desk) turn(h draft.History, wasDirty bool) {
	before := d.Project()
	d.history = h
	change := Document | d.keepSight()
	if before != d.Project() {
		if picked := d.picked.within(d.Project()); !slices.Equal(picked, d.picked) {
			d.picked = picked
			change |= Selection
		}
	}
	if wasDirty != d.Dirty() {
		change |= File
	}
	d.tell(change)
}

// Run does an act with its arguments as one step to undo.
func Run[A any](d *Desk, act *draft.Act[A], args A) error {
	_, err := RunFolded(d, act, args, "")
	return err
}

// RunFolded does an act; steps of the same fold, one after the other, are one step
// to undo. It returns what the act made. On error nothing has changed.
func RunFolded[A any](d *Desk, act *draft.Act[A], args A, fold string) (draft.Outcome, error) {
	d.DropTrial()
	out, err := act.Do(d.Project(), args)
	if err != nil {
		return out, err
	}
	d.Take(out, fold)
	return out, nil
}

// Take takes in what an act has made of the project as it stands. With the fold of the
// step before, the two are one step to undo.
func (d *Desk) Take(out draft.Outcome, fold string) {
	before := d.Project()
	d.Commit(out.Step, out.Project, fold)
	if d.OnDone != nil {
		d.OnDone(Done{before, out})
	}
}
