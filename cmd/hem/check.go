package main

import (
	"context"

	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/export"
)

type checkVerb struct {
	Project string `arg:"" help:"The project file." type:"path"`
	Report  string `placeholder:"OUT.pdf" help:"Also write all of it to a PDF: findings, seams, notches, girths, and a small drawing of each piece." type:"path"`
	Paper   string `default:"a4" help:"What the report is printed on: a4, letter, or a size such as '210mm x 297mm'."`
	Keys    bool   `help:"Print with each finding the key by which hem do waive names it."`
	JSON    bool   `name:"json" help:"Print the facts as JSON; lengths are in mm."`
}

// Run checks the project and prints what it found.
func (v *checkVerb) Run(ctx context.Context, t *terminal) error {
	paper, err := export.ParsePaper(v.Paper)
	if err != nil {
		return err
	}
	p, _, err := store.Load(v.Project)
	if err != nil {
		return err
	}
	if v.Report != "" {
		if _, err := export.WriteCheckReport(ctx, v.Report, export.CheckReport{Project: p, Paper: paper}); err != nil {
			return err
		}
	}
	slots := draft.NewSlots()
	report := slots.Check(p)
	if v.JSON {
		if err := t.json(checkFacts(slots, p, report)); err != nil {
			return err
		}
	} else {
		printReport(t, p, report, v.Keys)
	}
	return verdict(report.Findings)
}

// verdict returns what the exit code makes known of the findings.
func verdict(findings []draft.Finding) error {
	if worst, any := draft.Worst(findings); any && worst == draft.Problem {
		return errProblem
	}
	return nil
}

func printReport(t *terminal, p *draft.Project, report draft.Report, keys bool) {
	for i, s := range report.Seams {
		state := "holds"
		if !s.Holds {
			state = "does not hold"
		}
		t.printf("%-3s %-20s %s to %s, ratio %.3f, wanted %.3f: %s\n", draft.Letter(i), s.Seam.Name,
			p.Unit.Format(s.A), p.Unit.Format(s.B), s.Ratio, s.Want, state)
	}
	for _, g := range report.Girths {
		about := ""
		if g.Estimated {
			about = " (estimated)"
		}
		t.printf("%-8s %s %s, %s %s%s: ease %s\n", g.Level, g.Garment, p.Unit.Format(g.Length),
			wearerName(p, g.Wearer), p.Unit.Format(g.Body), about, p.Unit.Format(g.Ease))
	}
	for _, f := range report.Findings {
		level := f.Level.String()
		if !f.Open() {
			level = "waived"
			f.Says += " (" + f.Waived + ")"
		}
		t.printf("%-10s  %s: %s\n", level, f.About, f.Says)
		if keys {
			t.printf("%-10s  key: %s\n", "", f.Key)
		}
	}
	if len(report.Findings) == 0 {
		t.printf("nothing found\n")
	}
}

// The JSON that scripts rely on. Lengths end in _mm, areas in _mm2.
type (
	factsJSON struct {
		Seams    []seamJSON    `json:"seams"`
		Pieces   []pieceJSON   `json:"pieces"`
		Girths   []girthJSON   `json:"girths"`
		Spans    []spanJSON    `json:"spans"`
		Openings []openingJSON `json:"openings"`
		Proofs   []proofJSON   `json:"proofs"`
		Findings []findingJSON `json:"findings"`
	}
	seamJSON struct {
		Name  string  `json:"name"`
		A     float64 `json:"a_mm"`
		B     float64 `json:"b_mm"`
		Ratio float64 `json:"ratio"`
		Want  float64 `json:"want"`
		Diff  float64 `json:"diff_mm"`
		Holds bool    `json:"holds"`
	}
	pieceJSON struct {
		Name    string     `json:"name"`
		Copies  int        `json:"copies"`
		Area    float64    `json:"area_mm2"`
		CutArea float64    `json:"cut_area_mm2"`
		Edges   []edgeJSON `json:"edges"`
	}
	edgeJSON struct {
		Name      string  `json:"name"`
		Length    float64 `json:"length_mm"`
		Allowance float64 `json:"allowance_mm"`
	}
	girthJSON struct {
		Level   string  `json:"level"`
		Garment float64 `json:"garment_mm"`
		Wearer  float64 `json:"wearer_mm"`
		Ease    float64 `json:"ease_mm"`
		// Estimated: the wearer was not measured round that level.
		Estimated bool `json:"estimated"`
		// The names of the garment and the wearer.
		Of  string `json:"garment"`
		For string `json:"wearer"`
	}
	spanJSON struct {
		Piece   string   `json:"piece"`
		Name    string   `json:"name"`
		Measure string   `json:"measure"`
		Share   float64  `json:"share"`
		Length  float64  `json:"length_mm"`
		Wants   *float64 `json:"wants_mm,omitempty"`
		Ease    float64  `json:"ease_mm"`
		// Estimated: the wearer was not measured there.
		Estimated bool `json:"estimated"`
	}
	mendJSON struct {
		Title string            `json:"title"`
		Act   string            `json:"act"`
		Args  map[string]string `json:"args"`
	}
	findingJSON struct {
		Level  string  `json:"level"`
		About  string  `json:"about"`
		Says   string  `json:"says"`
		Value  float64 `json:"value_mm"`
		Limit  float64 `json:"limit_mm"`
		Key    string  `json:"key"`
		Waived string  `json:"waived,omitempty"`
		// Measures are those to look at.
		Measures []string `json:"measures,omitempty"`
		// Mends are acts that put it right, as hem do takes them, the likeliest first.
		Mends []mendJSON `json:"mends,omitempty"`
	}
)

func checkFacts(slots *draft.Slots, p *draft.Project, report draft.Report) factsJSON {
	facts := factsJSON{
		Seams: []seamJSON{}, Pieces: []pieceJSON{}, Girths: []girthJSON{},
		Spans: []spanJSON{}, Findings: []findingJSON{},
		Openings: openingFacts(slots, p), Proofs: proofFacts(slots, p),
	}
	for _, s := range report.Seams {
		facts.Seams = append(facts.Seams, seamJSON{s.Seam.Name, s.A, s.B, s.Ratio, s.Want, s.Diff, s.Holds})
	}
	for _, piece := range p.Pattern().Pieces {
		facts.Pieces = append(facts.Pieces, pieceFacts(slots, piece))
	}
	for _, g := range report.Girths {
		facts.Girths = append(facts.Girths, girthJSON{
			Level: g.Level, Garment: g.Length, Wearer: g.Body, Ease: g.Ease, Estimated: g.Estimated,
			Of: g.Garment, For: wearerName(p, g.Wearer),
		})
	}
	for _, s := range report.Spans {
		span := spanJSON{s.Piece.Name, s.Span.Name, s.Span.Measure, s.Span.Share, s.Length, nil, s.Span.Ease, s.Estimated}
		if s.Known {
			span.Wants = &s.Wants
		}
		facts.Spans = append(facts.Spans, span)
	}
	for _, f := range report.Findings {
		facts.Findings = append(facts.Findings, findingJSON{f.Level.String(), f.About, f.Says, f.Value, f.Limit, f.Key, f.Waived, f.Measures, mendsJSON(f.Mends)})
	}
	return facts
}

func wearerName(p *draft.Project, id draft.ID) string {
	if w := p.Wearer(id); w != nil {
		return w.Name
	}
	return ""
}

// pieceFacts measures one copy as it lies when cut; areas are 0 where there is no
// cut line, which a finding then says.
func pieceFacts(slots *draft.Slots, piece *draft.Piece) pieceJSON {
	facts := pieceJSON{Name: piece.Name, Copies: piece.Cut.Copies(), Edges: []edgeJSON{}}
	if flat, _ := slots.Flat(piece); flat != nil {
		facts.Area = flat.Stitch.Area()
		facts.CutArea = flat.Cut.Area()
	}
	lengths := slots.EdgeLengths(piece)
	for i, e := range piece.Edges {
		facts.Edges = append(facts.Edges, edgeJSON{e.Name, lengths[i], e.Allowance.Widest()})
	}
	return facts
}

func mendsJSON(mends []draft.Mend) []mendJSON {
	var out []mendJSON
	for _, m := range mends {
		out = append(out, mendJSON(m))
	}
	return out
}
