package draft

import (
	"errors"
	"fmt"
	"slices"
)

// SetPartArgs are the arguments of SetPart. What is nil stays as it is.
type SetPartArgs struct {
	Wearer   WearerRef `arg:"wearer" says:"the wearer"`
	Name     string    `arg:"name" says:"the part: head, lantern hand"`
	Girth    *Length   `arg:"girth" says:"the largest girth that an opening must let pass"`
	ComesOff *bool     `arg:"comes-off" says:"whether it comes off for dressing"`
}

// SetPart notes a part of the body that a garment must pass over, or that comes off
// for dressing.
var SetPart = register(Info{
	Name: "set-part", Title: "Set a part", Group: groupWearers,
	Says: "Notes a part of the body that a garment must pass over, or that comes off for dressing.",
}, func(p *Project, a SetPartArgs) (Outcome, error) {
	out, err := onWearer(p, a.Wearer, func(w *Wearer) error {
		name, err := neededName(a.Name)
		if err != nil {
			return err
		}
		i := w.partIndex(name)
		if i < 0 {
			if a.Girth == nil && a.ComesOff == nil {
				return errors.New("needs a girth, or whether the part comes off")
			}
			w.Parts = append(w.Parts, BodyPart{Name: name})
			i = len(w.Parts) - 1
		}
		if a.Girth != nil {
			if w.Parts[i].Girth, err = p.measure(float64(*a.Girth)); err != nil {
				return err
			}
		}
		put(&w.Parts[i].ComesOff, a.ComesOff)
		return nil
	})
	out.subject = measureSubject(out.subject, a.Name)
	return out, err
})

func (w *Wearer) partIndex(name string) int {
	return slices.IndexFunc(w.Parts, func(b BodyPart) bool { return b.Name == name })
}

// RemovePartArgs are the arguments of RemovePart.
type RemovePartArgs struct {
	Wearer WearerRef `arg:"wearer" says:"the wearer"`
	Name   string    `arg:"name" says:"the part"`
}

// RemovePart forgets a part of the body.
var RemovePart = register(Info{
	Name: "remove-part", Title: "Remove a part", Group: groupWearers,
	Says: "Forgets a part of the body.",
}, func(p *Project, a RemovePartArgs) (Outcome, error) {
	out, err := onWearer(p, a.Wearer, func(w *Wearer) error {
		i := w.partIndex(a.Name)
		if i < 0 {
			return fmt.Errorf("%s has no part %q", labelOf(w.Name, w.ID), a.Name)
		}
		w.Parts = slices.Delete(w.Parts, i, i+1)
		return nil
	})
	out.subject = measureSubject(out.subject, a.Name)
	return out, err
})

// SetWornArgs are the arguments of SetWorn.
type SetWornArgs struct {
	Wearer    WearerRef `arg:"wearer" says:"the wearer"`
	Name      string    `arg:"name" says:"what is worn under the garment"`
	Thickness Length    `arg:"thickness" says:"how thick it is"`
}

// SetWorn notes a layer that is worn under the garment.
var SetWorn = register(Info{
	Name: "set-worn", Title: "Set what is worn underneath", Group: groupWearers,
	Says: "Notes what is worn under the garment, and how thick it is.",
}, func(p *Project, a SetWornArgs) (Outcome, error) {
	out, err := onWearer(p, a.Wearer, func(w *Wearer) error {
		name, err := neededName(a.Name)
		if err != nil {
			return err
		}
		mm, err := p.measure(float64(a.Thickness))
		if err != nil {
			return err
		}
		i := w.wornIndex(name)
		if i < 0 {
			w.Under = append(w.Under, Worn{Name: name})
			i = len(w.Under) - 1
		}
		w.Under[i].Thickness = mm
		return nil
	})
	out.subject = measureSubject(out.subject, a.Name)
	return out, err
})

func (w *Wearer) wornIndex(name string) int {
	return slices.IndexFunc(w.Under, func(u Worn) bool { return u.Name == name })
}

// RemoveWornArgs are the arguments of RemoveWorn.
type RemoveWornArgs struct {
	Wearer WearerRef `arg:"wearer" says:"the wearer"`
	Name   string    `arg:"name" says:"what is worn under the garment"`
}

// RemoveWorn forgets a layer that is worn under the garment.
var RemoveWorn = register(Info{
	Name: "remove-worn", Title: "Remove what is worn underneath", Group: groupWearers,
	Says: "Forgets something that is worn under the garment.",
}, func(p *Project, a RemoveWornArgs) (Outcome, error) {
	out, err := onWearer(p, a.Wearer, func(w *Wearer) error {
		i := w.wornIndex(a.Name)
		if i < 0 {
			return fmt.Errorf("%s wears nothing called %q underneath", labelOf(w.Name, w.ID), a.Name)
		}
		w.Under = slices.Delete(w.Under, i, i+1)
		return nil
	})
	out.subject = measureSubject(out.subject, a.Name)
	return out, err
})
