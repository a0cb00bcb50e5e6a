package draft

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"hemlet/draft/block"
	"hemlet/draft/body"
)

// MeasureName returns the name of a measure or a level as it is kept: small
// letters, digits and underscores, so that formulas can read it. Blanks and hyphens
// become underscores.
func MeasureName(text string) (string, error) {
	name, err := neededName(text)
	if err != nil {
		return "", err
	}
	name = strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' {
			return '_'
		}
		return r
	}, strings.ToLower(name))
	for i, r := range name {
		letter := 'a' <= r && r <= 'z'
		if !letter && (i == 0 || r != '_' && !('0' <= r && r <= '9')) {
			return "", fmt.Errorf("the name %q begins with a letter from a to z and goes on with such letters, digits and underscores", text)
		}
	}
	if name == block.WornUnder {
		return "", errors.New("worn_under is worked out from what is worn under the garment; say what that is instead")
	}
	return name, nil
}

// Given returns what is known of the wearer by the names that formulas read, in mm:
// the measures, the figures of the levels, and the girths of parts where the catalogue
// has such a measure and it was not taken by itself. What is 0 is not known.
func (w *Wearer) Given() body.Given {
	g := make(body.Given, len(w.Measures)+3*len(w.Levels))
	put := func(name string, mm float64) {
		if mm > 0 {
			g[name] = mm
		}
	}
	for _, m := range w.Measures {
		put(m.Name, m.Value)
	}
	for _, l := range w.Levels {
		put(body.HeightOf(l.Name), l.Height)
		put(body.ArcFrontOf(l.Name), l.FrontArc)
		put(body.ArcBackOf(l.Name), l.BackArc)
	}
	for _, part := range w.Parts {
		name := part.girthName()
		if _, taken := g[name]; !taken && name != "" {
			put(name, part.Girth)
		}
	}
	return g
}

// girthName returns the name of the catalogue's measure of the part's girth, empty
// where it has none.
func (b BodyPart) girthName() string {
	name, err := MeasureName(b.Name)
	if err != nil {
		return ""
	}
	name = body.GirthOf(name)
	if _, ok := body.Find(name); !ok {
		return ""
	}
	return name
}

// TakesOff reports whether any of the measures is the girth of a part that comes off
// for dressing: what a block tells of such a measure is then of no account.
func (w *Wearer) TakesOff(measures []string) bool {
	for _, part := range w.Parts {
		if part.ComesOff && slices.Contains(measures, part.girthName()) {
			return true
		}
	}
	return false
}

// WornUnder returns how thick what is worn under the garment is, in mm.
func (w *Wearer) WornUnder() float64 {
	return thickness(w.Under)
}

// thickness returns how thick layers are together, in mm.
func thickness(layers []Worn) float64 {
	sum := 0.0
	for _, u := range layers {
		sum += u.Thickness
	}
	return sum
}

// Level returns the level with the name, or nil.
func (w *Wearer) Level(name string) *Level {
	for i := range w.Levels {
		if w.Levels[i].Name == name {
			return &w.Levels[i]
		}
	}
	return nil
}

// levelFigure is one of the three figures that are kept with a level.
type levelFigure int

const (
	levelHeight levelFigure = iota
	levelFront
	levelBack
)

// name returns the name of the measure that the figure is of a level.
func (f levelFigure) name(level string) string {
	return [...]func(string) string{body.HeightOf, body.ArcFrontOf, body.ArcBackOf}[f](level)
}

// figure returns the place of a figure in the level.
func (l *Level) figure(f levelFigure) *float64 {
	return [...]*float64{&l.Height, &l.FrontArc, &l.BackArc}[f]
}

// levelOf takes the name of a measure apart where it is a figure of a level that
// every wearer or this one has.
func (w *Wearer) levelOf(name string) (level string, f levelFigure, ok bool) {
	levels := body.Levels[:]
	for _, l := range w.Levels {
		levels = append(levels[:len(levels):len(levels)], l.Name)
	}
	for _, level := range levels {
		for f := levelHeight; f <= levelBack; f++ {
			if f.name(level) == name {
				return level, f, true
			}
		}
	}
	return "", 0, false
}

// clone returns a copy that shares no slice with w, so that an act may write to it.
func (w *Wearer) clone() *Wearer {
	v := *w
	v.Measures = append([]Measure(nil), w.Measures...)
	v.Levels = append([]Level(nil), w.Levels...)
	v.Parts = append([]BodyPart(nil), w.Parts...)
	v.Under = append([]Worn(nil), w.Under...)
	return &v
}

// setFigure sets a measure of a wearer that may be written to, 0 to forget it. A
// figure of a level is kept with the level.
func (w *Wearer) setFigure(name string, mm float64) {
	if level, f, ok := w.levelOf(name); ok {
		w.setLevel(level, f, mm)
		w.dropEmptyLevels()
		return
	}
	i := w.measureIndex(name)
	switch {
	case mm == 0:
		w.dropMeasure(name)
	case i >= 0:
		w.Measures[i] = Measure{Name: name, Value: mm}
	default:
		w.Measures = append(w.Measures, Measure{Name: name, Value: mm})
	}
}

// setLevel sets one figure of a level, 0 to forget it. A measure of the same name,
// as a file may hold one, gives way.
func (w *Wearer) setLevel(level string, f levelFigure, mm float64) {
	w.dropMeasure(f.name(level))
	l := w.Level(level)
	if l == nil {
		w.Levels = append(w.Levels, Level{Name: level})
		l = &w.Levels[len(w.Levels)-1]
	}
	*l.figure(f) = mm
}

func (w *Wearer) dropEmptyLevels() {
	w.Levels = slices.DeleteFunc(w.Levels, func(l Level) bool { return l == Level{Name: l.Name} })
}

func (w *Wearer) dropMeasure(name string) {
	w.Measures = slices.DeleteFunc(w.Measures, func(m Measure) bool { return m.Name == name })
}

func (w *Wearer) measureIndex(name string) int {
	return slices.IndexFunc(w.Measures, func(m Measure) bool { return m.Name == name })
}

// withWearer returns p with the wearer of the same id replaced.
func (p *Project) withWearer(w *Wearer) *Project {
	q := p.shallow()
	q.Wearers = append([]*Wearer(nil), p.Wearers...)
	for i := range q.Wearers {
		if q.Wearers[i].ID == w.ID {
			q.Wearers[i] = w
		}
	}
	return q
}
