package main

import "hemlet/draft"

// What of a made-up garment was proven on its wearer, as scripts read it.
type (
	openingJSON struct {
		Name    string `json:"name"`
		Garment string `json:"garment"`
		Wearer  string `json:"wearer,omitempty"`
		// Place is where it lies on the body: neck, wrist, hem, or elsewhere.
		Place string `json:"place"`
		// Count is 2 for what is there on both sides of the body.
		Count int `json:"count"`
		// Length is how far round it is opened, Closed when all closures are closed.
		Length float64 `json:"length_mm"`
		Closed float64 `json:"closed_mm"`
		// Passes is the measure or part of the wearer that has to go through it.
		Passes      string   `json:"passes,omitempty"`
		Needs       *float64 `json:"needs_mm,omitempty"`
		NeedsFrom   string   `json:"needs_from,omitempty"`
		Ease        *float64 `json:"ease_mm,omitempty"`
		MissingSlit float64  `json:"missing_slit_mm"`
		Known       bool     `json:"known"`
		Holds       bool     `json:"holds"`
	}
	proofJSON struct {
		Kind    string `json:"kind"`
		Garment string `json:"garment"`
		Name    string `json:"name"`
		Says    string `json:"says"`
		Why     string `json:"why,omitempty"`
		// Have is what the garment measures, Need what it should at least; Radii says that they
		// are radii.
		Have      float64  `json:"have_mm"`
		Need      float64  `json:"need_mm"`
		Diff      float64  `json:"diff_mm"`
		Radii     bool     `json:"radii,omitempty"`
		Holds     bool     `json:"holds"`
		Known     bool     `json:"known"`
		Estimated bool     `json:"estimated"`
		Measures  []string `json:"measures,omitempty"`
		Key       string   `json:"key"`
	}
)

// openingFacts lists the openings of every garment.
func openingFacts(slots *draft.Slots, p *draft.Project) []openingJSON {
	list := []openingJSON{}
	for _, o := range slots.AllOpenings(p) {
		fact := openingJSON{
			Name: o.Name, Garment: o.Garment, Wearer: wearerName(p, o.Wearer), Place: o.Place.String(), Count: o.Times,
			Length: o.Length, Closed: o.Closed, Passes: o.Passes, NeedsFrom: o.NeedsFrom,
			MissingSlit: o.MissingSlit(), Known: o.Known, Holds: o.Holds,
		}
		if o.Known {
			fact.Needs, fact.Ease = &o.Needs, &o.Ease
		}
		list = append(list, fact)
	}
	return list
}

// proofFacts lists what was proven.
func proofFacts(slots *draft.Slots, p *draft.Project) []proofJSON {
	list := []proofJSON{}
	for _, pr := range slots.Proofs(p) {
		list = append(list, proofJSON{
			Kind: pr.Kind.String(), Garment: pr.Garment, Name: pr.Name, Says: pr.Says, Why: pr.Why,
			Have: pr.Have, Need: pr.Need, Diff: pr.Diff, Radii: pr.Radii, Holds: pr.Holds, Known: pr.Known, Estimated: pr.Estimated,
			Measures: pr.Measures, Key: pr.Key,
		})
	}
	return list
}
