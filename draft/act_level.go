package draft

import (
	"errors"
	"fmt"
	"slices"
)

// SetLevelArgs are the arguments of SetLevel. What is nil stays as it is.
type SetLevelArgs struct {
	Wearer WearerRef `arg:"wearer" says:"the wearer"`
	Name   string    `arg:"name" says:"the level: bust, waist, belly, hip or a name of your own"`
	Height *Length   `arg:"height" says:"how high above the ground it lies, 0mm where it is not known"`
	Front  *Length   `arg:"front" says:"from side to side across the front, 0mm where it is not known"`
	Back   *Length   `arg:"back" says:"from side to side across the back, 0mm where it is not known"`
}

// SetLevel notes the height at which a body is measured round, and how its front
// and back share the girth. A girth that the arcs came to goes along with them.
var SetLevel = register(Info{
	Name: "set-level", Title: "Set a level", Group: groupWearers,
	Says: "Notes a height at which the body is measured round, and the arcs across its front and back.",
}, func(p *Project, a SetLevelArgs) (Outcome, error) {
	if a.Height == nil && a.Front == nil && a.Back == nil {
		return Outcome{}, errors.New("needs a height, or an arc across the front or the back")
	}
	var along []string
	out, err := onWearer(p, a.Wearer, func(w *Wearer) error {
		name, err := w.levelName(a.Name)
		if err != nil {
			return err
		}
		was := w.clone()
		for _, f := range []struct {
			figure levelFigure
			mm     *Length
		}{{levelHeight, a.Height}, {levelFront, a.Front}, {levelBack, a.Back}} {
			if f.mm == nil {
				continue
			}
			mm := toGrid(float64(*f.mm))
			if !(mm >= 0 && mm <= MaxCoordinate) {
				return fmt.Errorf("a level cannot measure %s", p.Unit.Format(mm))
			}
			w.setLevel(name, f.figure, mm)
		}
		w.dropEmptyLevels()
		along = w.goAlong(was, p.Unit)
		return nil
	})
	out.sayMeasured(p, a.Wearer, along)
	out.subject = measureSubject(out.subject, a.Name)
	return out, err
})

// levelName returns the name of a level that the wearer has, as it is written or as
// it is kept; else the name as a new one is kept.
func (w *Wearer) levelName(text string) (string, error) {
	if w.Level(text) != nil {
		return text, nil
	}
	return MeasureName(text)
}

// RemoveLevelArgs are the arguments of RemoveLevel.
type RemoveLevelArgs struct {
	Wearer WearerRef `arg:"wearer" says:"the wearer"`
	Name   string    `arg:"name" says:"the level"`
}

// RemoveLevel forgets a level with its height and arcs.
var RemoveLevel = register(Info{
	Name: "remove-level", Title: "Remove a level", Group: groupWearers,
	Says: "Forgets a level with its height and arcs.",
}, func(p *Project, a RemoveLevelArgs) (Outcome, error) {
	out, err := onWearer(p, a.Wearer, func(w *Wearer) error {
		name, err := w.levelName(a.Name)
		if err != nil {
			return err
		}
		if w.Level(name) == nil {
			return fmt.Errorf("%s has no level %q", labelOf(w.Name, w.ID), name)
		}
		w.Levels = slices.DeleteFunc(w.Levels, func(l Level) bool { return l.Name == name })
		return nil
	})
	out.subject = measureSubject(out.subject, a.Name)
	return out, err
})
