package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/draft/figure"
)

// AddWearerArgs are the arguments of AddWearer.
type AddWearerArgs struct {
	Name  string       `arg:"name" says:"whom the garment is for"`
	Build figure.Build `arg:"build" says:"the kind of body that the wearer is drawn as" default:"upright"`
}

// AddWearer adds a wearer of whom nothing is known yet.
var AddWearer = register(Info{
	Name: "add-wearer", Title: "Add a wearer", Group: groupWearers,
	Says: "Adds somebody, or something, that garments are made for.",
}, func(p *Project, a AddWearerArgs) (Outcome, error) {
	name, err := p.wearerName(a.Name, "")
	if err != nil {
		return Outcome{}, err
	}
	return p.addWearer(&Wearer{Name: name, Build: a.Build})
})

// AddWearerFromArgs are the arguments of AddWearerFrom.
type AddWearerFromArgs struct {
	// Wearer is taken over with everything but its id; where another wearer bears its
	// name, it gets a number.
	Wearer *Wearer
}

// AddWearerFrom adds a wearer that was read from a file.
var AddWearerFrom = newAct(Info{
	Name: "add-wearer-file", Title: "Add a wearer from a file", Group: groupWearers,
	Says: "Adds the wearer that a file describes.",
}, func(p *Project, a AddWearerFromArgs) (Outcome, error) {
	if a.Wearer == nil {
		return Outcome{}, errors.New("no wearer is given")
	}
	w := a.Wearer.clone()
	name, err := cleanName(w.Name)
	if err != nil {
		return Outcome{}, err
	}
	if name == "" {
		name = "Wearer"
	}
	w.Name = unusedName(name, p.hasWearer)
	return p.addWearer(w)
})

// addWearer adds a wearer that may be written to.
func (p *Project) addWearer(w *Wearer) (Outcome, error) {
	ids := p.newIDs()
	w.ID = ids.make(kindWearer)
	next := p.shallow()
	next.NextID = ids.next
	next.Wearers = append(append([]*Wearer(nil), p.Wearers...), w)
	return Outcome{Project: next, Made: w.ID, subject: w.Name}, nil
}

func (p *Project) hasWearer(name string) bool {
	for _, w := range p.Wearers {
		if w.Name == name {
			return true
		}
	}
	return false
}

// wearerName returns the name as it is kept; no wearer but the one with the id
// bears it.
func (p *Project) wearerName(given string, own ID) (string, error) {
	name, err := neededName(given)
	if err != nil {
		return "", err
	}
	for _, w := range p.Wearers {
		if w.Name == name && w.ID != own {
			return "", fmt.Errorf("another wearer is called %s already", name)
		}
	}
	return name, nil
}

// onWearer applies f to a copy of the wearer.
func onWearer(p *Project, ref WearerRef, f func(w *Wearer) error) (Outcome, error) {
	old := p.Wearer(ID(ref))
	if old == nil {
		return Outcome{}, fmt.Errorf("wearer %s %w", ref, errGone)
	}
	w := old.clone()
	if err := f(w); err != nil {
		return Outcome{}, err
	}
	return Outcome{Project: p.withWearer(w), subject: labelOf(w.Name, w.ID)}, nil
}

// CopyWearerArgs are the arguments of CopyWearer.
type CopyWearerArgs struct {
	Wearer WearerRef `arg:"wearer" says:"the wearer"`
	Name   string    `arg:"name,optional" says:"the name of the second; without it, that of the first with a number"`
}

// CopyWearer adds a second wearer like the first.
var CopyWearer = register(Info{
	Name: "copy-wearer", Title: "Copy a wearer", Group: groupWearers,
	Says: "Adds a second wearer with the measures of the first.",
}, func(p *Project, a CopyWearerArgs) (Outcome, error) {
	old := p.Wearer(ID(a.Wearer))
	if old == nil {
		return Outcome{}, fmt.Errorf("wearer %s %w", a.Wearer, errGone)
	}
	w := old.clone()
	w.Name = unusedName(labelOf(old.Name, old.ID), p.hasWearer)
	if a.Name != "" {
		name, err := p.wearerName(a.Name, "")
		if err != nil {
			return Outcome{}, err
		}
		w.Name = name
	}
	return p.addWearer(w)
})

// ScaleWearerArgs are the arguments of ScaleWearer.
type ScaleWearerArgs struct {
	Wearer WearerRef `arg:"wearer" says:"the wearer"`
	Ratio  float64   `arg:"ratio" says:"the new size over the old: 1/6 makes a doll of a person"`
}

// Bounds of the ratio by which a wearer is scaled: from a giant to the smallest
// figure in a model railway and back.
const (
	minScale = 1. / 1000
	maxGrow  = 1000
)

// ScaleWearer makes a wearer larger or smaller in every measure. What is worn
// underneath stays as thick as it is: cloth does not scale.
var ScaleWearer = register(Info{
	Name: "scale-wearer", Title: "Scale a wearer", Group: groupWearers,
	Says: "Makes a wearer larger or smaller in every measure; what is worn underneath stays as thick as it is.",
}, func(p *Project, a ScaleWearerArgs) (Outcome, error) {
	if !(a.Ratio >= minScale && a.Ratio <= maxGrow) {
		return Outcome{}, fmt.Errorf("the ratio is the new size over the old and lies between 1/%d and %d, not at %g", maxGrow, maxGrow, a.Ratio)
	}
	step := scaledStep(a.Ratio)
	return onWearer(p, a.Wearer, func(w *Wearer) error {
		for _, mm := range w.figures() {
			scaled := toGrid(math.Round(*mm*a.Ratio/step) * step)
			if *mm > 0 && !(scaled > 0 && scaled <= MaxCoordinate) {
				return fmt.Errorf("%s would become %s; a measure lies above 0 and within 100 m", p.Unit.Format(*mm), p.Unit.Format(scaled))
			}
			*mm = scaled
		}
		return nil
	})
})

// scaledStep returns the step, in mm, to which scaled figures are rounded: the next
// power of ten above what the grid has left of them. So a doll that is made as large as
// the person that it was made of gets the person's figures, and not 237.999996 mm.
func scaledStep(ratio float64) float64 {
	if ratio <= 1 {
		return Grid
	}
	return math.Pow(10, math.Ceil(math.Log10(ratio*Grid)+scaledRoom))
}

// scaledRoom keeps the step above what it has to cover where the ratio is a power of
// ten: a hundredth of one.
const scaledRoom = 0.01

// figures returns the places of all figures of the body, in mm.
func (w *Wearer) figures() []*float64 {
	var list []*float64
	for i := range w.Measures {
		list = append(list, &w.Measures[i].Value)
	}
	for i := range w.Levels {
		l := &w.Levels[i]
		list = append(list, &l.Height, &l.FrontArc, &l.BackArc)
	}
	for i := range w.Parts {
		list = append(list, &w.Parts[i].Girth)
	}
	return list
}

// RenameWearerArgs are the arguments of RenameWearer.
type RenameWearerArgs struct {
	Wearer WearerRef `arg:"wearer" says:"the wearer"`
	Name   string    `arg:"name" says:"the new name"`
}

// RenameWearer gives a wearer another name.
var RenameWearer = register(Info{
	Name: "rename-wearer", Title: "Rename a wearer", Group: groupWearers,
	Says: "Gives a wearer another name.",
}, func(p *Project, a RenameWearerArgs) (Outcome, error) {
	return onWearer(p, a.Wearer, func(w *Wearer) error {
		name, err := p.wearerName(a.Name, w.ID)
		w.Name = name
		return err
	})
})

// RemoveWearerArgs are the arguments of RemoveWearer.
type RemoveWearerArgs struct {
	Wearer WearerRef `arg:"wearer" says:"the wearer"`
}

// RemoveWearer takes a wearer away. Pieces that follow its measures stay as they
// are and follow nothing from then on.
var RemoveWearer = register(Info{
	Name: "remove-wearer", Title: "Remove a wearer", Group: groupWearers,
	Says: "Takes a wearer away; pieces drafted or fitted for it stay as they are.",
}, func(p *Project, a RemoveWearerArgs) (Outcome, error) {
	old := p.Wearer(ID(a.Wearer))
	if old == nil {
		return Outcome{}, fmt.Errorf("wearer %s %w", a.Wearer, errGone)
	}
	out := Outcome{Project: p.shallow(), subject: labelOf(old.Name, old.ID)}
	out.Project.Wearers = nil
	for _, w := range p.Wearers {
		if w.ID != old.ID {
			out.Project.Wearers = append(out.Project.Wearers, w)
		}
	}
	out.dropDerivations(p, map[ID]bool{old.ID: true})
	return out, nil
})

// SetBuildArgs are the arguments of SetBuild.
type SetBuildArgs struct {
	Wearer WearerRef    `arg:"wearer" says:"the wearer"`
	Build  figure.Build `arg:"build" says:"the kind of body that the wearer is drawn as"`
}

// SetBuild says as what kind of body a wearer is drawn. No pattern depends on it.
var SetBuild = register(Info{
	Name: "set-build", Title: "Set the build", Group: groupWearers,
	Says: "Says as what kind of body a wearer is drawn; no pattern depends on it.",
}, func(p *Project, a SetBuildArgs) (Outcome, error) {
	return onWearer(p, a.Wearer, func(w *Wearer) error {
		w.Build = a.Build
		return nil
	})
})
