package main

import (
	"encoding/json"
	"errors"

	"hemlet/draft/body"
	"hemlet/draft/figure"
	"hemlet/export"
)

type measuresVerb struct {
	JSON  bool   `name:"json" help:"Print the catalogue as JSON."`
	Sheet string `placeholder:"OUT.pdf" help:"Write a blank measuring sheet: the figure, where each measure is taken, and a line to write each on." type:"path"`
	Build string `default:"upright" help:"What the figure on the sheet is drawn as: upright, muzzled (a long muzzle, tall ears, a tail) or wide."`
	Paper string `default:"a4" help:"What the sheet is printed on: a4, letter, or a size such as '210mm x 297mm'."`
}

// measureFacts is a measure as it is printed as JSON.
type measureFacts struct {
	Name      string   `json:"name"`
	Words     string   `json:"words"`
	Term      string   `json:"term,omitempty"`
	Group     string   `json:"group"`
	Kind      string   `json:"kind"`
	How       string   `json:"how"`
	Ask       int      `json:"ask,omitempty"`
	Estimates []string `json:"estimates,omitempty"`
}

// Run lists the measures that bodies are known by, or writes the sheet to note them on.
func (v *measuresVerb) Run(t *terminal) error {
	var build figure.Build
	if err := build.UnmarshalText([]byte(v.Build)); err != nil {
		return err
	}
	if v.Sheet != "" {
		if v.JSON {
			return errors.New("ask for the sheet or for JSON, not for both")
		}
		return v.sheet(t, build)
	}
	if v.JSON {
		return listMeasuresJSON(t)
	}
	listMeasures(t)
	return nil
}

func (v *measuresVerb) sheet(t *terminal, build figure.Build) error {
	paper, err := export.ParsePaper(v.Paper)
	if err != nil {
		return err
	}
	if err := export.WriteMeasuringSheet(v.Sheet, export.MeasuringSheet{Build: build, Paper: paper}); err != nil {
		return err
	}
	t.printf("%s: a measuring sheet of two pages, %s\n", v.Sheet, build)
	return nil
}

func listMeasuresJSON(t *terminal) error {
	var all struct {
		Measures []measureFacts `json:"measures"`
	}
	for _, m := range body.Catalogue() {
		all.Measures = append(all.Measures, measureFacts{
			Name: m.Name, Words: m.Words, Term: m.Term, Group: m.Group, Kind: string(m.Kind), How: m.How, Ask: m.Ask,
			Estimates: append(append([]string{}, m.FromTaken...), m.Estimates...),
		})
	}
	enc := json.NewEncoder(t.out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(all)
}

// listMeasures prints the ten that are asked for first, then all by group.
func listMeasures(t *terminal) {
	t.printf("Asked for first; what is not taken is estimated from the others:\n")
	for _, m := range body.Asked() {
		t.printf("  %2d  %-20s %s\n", m.Ask, m.Name, m.Words)
	}
	group := ""
	for _, m := range body.Catalogue() {
		if m.Ask > 0 {
			continue
		}
		if m.Group != group {
			group = m.Group
			t.printf("\n%s:\n", group)
		}
		t.printf("      %-20s %s\n", m.Name, m.Words)
	}
}
