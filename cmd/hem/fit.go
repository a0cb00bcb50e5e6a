package main

import (
	"fmt"
	"reflect"
	"strings"

	"hemlet/draft"
	"hemlet/draft/store"
)

type fitVerb struct {
	Project string    `arg:"" help:"The project whose pattern is fitted." type:"path"`
	Wearer  string    `required:"" placeholder:"W.toml" help:"The wearer file: whom it is to fit, with measures." type:"path"`
	Out     string    `short:"o" required:"" placeholder:"OUT.hemlet" help:"The project to write; it may be the one that was read." type:"path"`
	Free    bool      `help:"Forget that a block made the pieces, and go by their measured stretches alone. Without it, drafted pieces are drafted anew for the wearer."`
	Ease    string    `default:"scaled" enum:"scaled,kept" placeholder:"scaled/kept" help:"Whether ease grows and shrinks with the body, or stays as many mm as it was."`
	Keep    string    `default:"style" enum:"style,widths,lengths" placeholder:"style/widths/lengths" help:"What gives least between the measured stretches."`
	Piece   []string  `placeholder:"NAME" sep:"none" help:"Fit only this piece. May be given several times."`
	Target  []string  `placeholder:"PIECE.STRETCH=RULE" sep:"none" help:"What one stretch is to become: scaled, kept, free, a length such as 120mm, or an ease such as ease 6mm. May be given several times."`
	MadeFor []madeFor `sep:"none" placeholder:"MEASURE=LENGTH" help:"A measure of the body for which the pattern was made, such as bust_girth=91cm, where the project does not say. May be given several times."`
	Scale   bool      `help:"Also do what the rules of scale propose for allowances, hems and fastenings."`
	JSON    bool      `name:"json" help:"Print the facts as JSON; lengths are in mm."`
}

// Run fits the pattern, writes it, and tells what was, what is wanted and what came of it.
func (v *fitVerb) Run(t *terminal) error {
	if err := projectPath(v.Out); err != nil {
		return err
	}
	p, stamp, err := store.Load(v.Project)
	if err != nil {
		return err
	}
	w, _, err := store.LoadWearer(v.Wearer)
	if err != nil {
		return err
	}
	lib, err := openLibrary(t, "")
	if err != nil {
		return err
	}
	f := fitting{verb: v, project: p, slots: draft.NewSlots()}
	if err := f.run(w); err != nil {
		return err
	}
	f.remarks = append(strangers(v.Wearer, w, lib.Blocks(), spanMeasures(f.project)...), f.remarks...)
	seen := &stamp
	if v.Out != v.Project {
		seen = nil
	}
	if _, err := store.Save(v.Out, f.project, seen); err != nil {
		return err
	}
	if seen == nil {
		if err := store.CopyPictures(f.project, v.Project, v.Out); err != nil {
			f.remarks = append(f.remarks, strings.Split(err.Error(), "\n")...)
		}
	}
	t.remarks(f.remarks)
	return f.report(t)
}

// spanMeasures returns the names of the measures that stretches of the pattern stand for.
func spanMeasures(p *draft.Project) []string {
	var names []string
	for _, piece := range p.Pieces {
		for _, s := range piece.Spans {
			names = append(names, s.Measure)
		}
	}
	return names
}

// fitting is one run of the verb.
type fitting struct {
	verb    *fitVerb
	project *draft.Project
	slots   *draft.Slots
	wearer  draft.ID
	remarks []string
}

// do does an act of the bench.
func (f *fitting) do(act string, args map[string]string) (draft.Outcome, error) {
	out, err := f.project.Do(draft.Mend{Act: act, Args: args})
	if err != nil {
		return out, err
	}
	f.took(out)
	return out, nil
}

// took goes on with what an act has made.
func (f *fitting) took(out draft.Outcome) {
	f.project = out.Project
	f.remarks = append(f.remarks, out.Says...)
}

func (f *fitting) run(w *draft.Wearer) error {
	if err := f.madeFor(); err != nil {
		return err
	}
	if err := f.spans(); err != nil {
		return err
	}
	if err := f.add(w); err != nil {
		return err
	}
	args := map[string]string{"wearer": quoted(f.wearer), "ease": f.verb.Ease, "keep": f.verb.Keep}
	if f.verb.Free {
		args["free"] = "yes"
	}
	if len(f.verb.Piece) > 0 {
		args["pieces"] = strings.Join(f.verb.Piece, ";")
	}
	if _, err := f.do("fit-pattern", args); err != nil && !f.settled() {
		return err
	}
	for _, text := range f.verb.Target {
		if err := f.target(text); err != nil {
			return fmt.Errorf("--target %q: %w", text, err)
		}
	}
	if f.verb.Scale {
		return f.rescale()
	}
	return nil
}

// add takes the wearer into the project, unless it is there already as the file has it.
func (f *fitting) add(w *draft.Wearer) error {
	for _, known := range f.project.Wearers {
		same := *known
		same.ID = w.ID
		if reflect.DeepEqual(&same, w) {
			f.wearer = known.ID
			return nil
		}
	}
	added, err := draft.AddWearerFrom.Do(f.project, draft.AddWearerFromArgs{Wearer: w})
	if err != nil {
		return err
	}
	f.project, f.wearer = added.Project, added.Made
	return nil
}

// settled reports whether the whole pattern is fitted to the wearer already as is asked for.
func (f *fitting) settled() bool {
	if len(f.verb.Piece) > 0 {
		return false
	}
	for _, piece := range f.project.Pieces {
		if piece.Derived == nil {
			return false
		}
	}
	for _, d := range f.project.Derivations {
		st := f.slots.Fit(f.project, d.ID)
		if st != nil && (st.Wearer == nil || st.Wearer.ID != f.wearer || st.Ease.String() != f.verb.Ease || st.Keep.String() != f.verb.Keep) {
			return false
		}
	}
	return len(f.fits()) > 0
}

// quoted writes an id as acts read it.
func quoted(id draft.ID) string { return `"` + string(id) + `"` }

// madeFor notes for whom the pattern was made, where that is given: of each origin beside
// what it says already.
func (f *fitting) madeFor() error {
	if len(f.verb.MadeFor) == 0 {
		return nil
	}
	byOrigin := make(map[draft.ID][]draft.PieceRef)
	var order []draft.ID
	for _, piece := range f.project.Pieces {
		if piece.Ghost > 0 {
			continue
		}
		if _, ok := byOrigin[piece.Origin]; !ok {
			order = append(order, piece.Origin)
		}
		byOrigin[piece.Origin] = append(byOrigin[piece.Origin], draft.PieceRef(piece.ID))
	}
	for _, id := range order {
		args := draft.SetOriginArgs{Line: draft.StitchDrawn}
		if o := f.project.Origin(id); o != nil {
			args = o.Args()
		}
		args.Pieces = byOrigin[id]
		args.Measures = f.bodyWith(args.Measures)
		out, err := draft.SetOrigin.Do(f.project, args)
		if err != nil {
			return err
		}
		f.took(out)
	}
	return nil
}

// bodyWith returns measures that were said, with those that are given in their place.
func (f *fitting) bodyWith(said []draft.OriginMeasure) []draft.OriginMeasure {
	var list []draft.OriginMeasure
	given := make(map[string]bool)
	for _, m := range f.verb.MadeFor {
		given[m.Name] = true
		list = append(list, draft.OriginMeasure(m))
	}
	for _, m := range said {
		if !given[m.Name] {
			list = append(list, m)
		}
	}
	return list
}

// spans lets what the pieces show stand for measures where nothing is said of any.
func (f *fitting) spans() error {
	for _, piece := range f.project.Pieces {
		for _, s := range piece.Spans {
			if s.Measure != "" {
				return nil
			}
		}
	}
	if f.drafted() && !f.verb.Free {
		return nil // the block is drafted anew, which needs none
	}
	if _, err := f.do("take-spans", nil); err != nil {
		return fmt.Errorf("nothing says which stretch of a piece stands for which measure, and nothing could be told by itself: %w", err)
	}
	f.remarks = append([]string{"nothing said which stretches stand for measures; they are taken as they suggest themselves"}, f.remarks...)
	return nil
}

// drafted reports whether a block made all pieces.
func (f *fitting) drafted() bool {
	for _, piece := range f.project.Pieces {
		if piece.Derived == nil {
			return false
		}
	}
	return len(f.project.Pieces) > 0
}

// target sets what one stretch is to become: PIECE.STRETCH=RULE.
func (f *fitting) target(text string) error {
	span, rule, ok := strings.Cut(text, "=")
	if !ok {
		return fmt.Errorf("write a stretch and its rule, such as Front.hem=120mm")
	}
	args := map[string]string{"span": strings.TrimSpace(span)}
	switch rule = strings.TrimSpace(rule); rule {
	case "scaled", "kept", "free":
		args["by"] = rule
	default:
		args["by"], args["value"] = "length", rule
		if ease, found := strings.CutPrefix(rule, "ease "); found {
			args["by"], args["value"] = "ease", strings.TrimSpace(ease)
		}
	}
	_, err := f.do("set-fit-target", args)
	return err
}

// fits returns the fits of the project for the wearer.
func (f *fitting) fits() []*draft.Derivation {
	var list []*draft.Derivation
	for _, d := range f.project.Derivations {
		if w := f.project.WearerOf(d); d.Source != nil && w != nil && w.ID == f.wearer {
			list = append(list, d)
		}
	}
	return list
}

// rescale does what the rules of scale propose, as far as one act does it without a choice:
// allowances, hems and fastenings.
func (f *fitting) rescale() error {
	for _, d := range f.fits() {
		for _, a := range f.slots.ScaleAdvice(f.project, d.ID) {
			if len(a.Mends) == 0 || a.Waived != "" {
				continue
			}
			if m := a.Mends[0]; m.Act == "set-allowance" || m.Act == "set-row" {
				if _, err := f.do(m.Act, m.Args); err != nil {
					return fmt.Errorf("%s: %w", a.Says, err)
				}
			}
		}
	}
	return nil
}

// redrafted returns the titles of the blocks that were drafted for the wearer in place of
// a fit.
func (f *fitting) redrafted() []string {
	names := []string{}
	for _, d := range f.project.Derivations {
		if w := f.project.WearerOf(d); d.Source != nil || w == nil || w.ID != f.wearer {
			continue
		}
		if b, _, err := f.slots.Drafted(f.project, d); err == nil {
			names = append(names, b.Title)
		}
	}
	return names
}
