package main

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/formula"
	"hemlet/draft/store"
)

type draftVerb struct {
	Block  string   `arg:"" help:"The block: a name that hem blocks lists, or the path of a block file."`
	Wearer string   `required:"" placeholder:"W.toml" help:"The wearer file: whom it is for, with measures." type:"path"`
	Set    []string `sep:"none" placeholder:"NAME=VALUE" help:"A choice of the block, such as ease=12mm; it may be given for each choice."`
	Out    string   `short:"o" required:"" placeholder:"OUT.hemlet" help:"The project to write." type:"path"`
	Folder string   `placeholder:"DIR" help:"Where blocks of your own lie, if not in the folder that the window opens." type:"path"`
	JSON   bool     `name:"json" help:"Print the facts as JSON; lengths are in mm."`
}

// Run drafts the block and writes a project with its pieces.
func (v *draftVerb) Run(t *terminal) error {
	if err := projectPath(v.Out); err != nil {
		return err
	}
	choices, err := choicesOf(v.Set)
	if err != nil {
		return err
	}
	w, unit, err := store.LoadWearer(v.Wearer)
	if err != nil {
		return err
	}
	known, err := v.open(t)
	if err != nil {
		return err
	}
	p := draft.New(stem(v.Out))
	p.Unit = unit
	p, err = draftFor(p, w, known, choices)
	if err != nil {
		return known.failed(v.Wearer, err)
	}
	if _, err := store.Save(v.Out, p, nil); err != nil {
		return err
	}
	t.remarks(strangers(v.Wearer, w, append(known.library.Blocks(), known.block)))
	return v.report(t, p)
}

// chosenBlock is the block to draft and what else can be drafted.
type chosenBlock struct {
	block *block.Block
	// own says that it is not one of ours.
	own     bool
	library library
}

// label names the block as an error about it does.
func (c chosenBlock) label() string {
	if c.own {
		return c.block.File()
	}
	return c.block.Name
}

// failed says why the block cannot be drafted for a wearer. What is wrong with the block
// begins with its file and line, as every error about a file does.
func (c chosenBlock) failed(wearer string, err error) error {
	var wrong *block.Error
	if !errors.As(err, &wrong) || wrong.Line == 0 {
		return fmt.Errorf("%s for %s: %w", c.label(), wearer, err)
	}
	placed := *wrong
	placed.File = c.block.File()
	return fmt.Errorf("%w (drafted for %s)", &placed, filepath.Base(wearer))
}

// open finds the block: what looks like a path is one.
func (v *draftVerb) open(t *terminal) (chosenBlock, error) {
	lib, err := openLibrary(t, v.Folder)
	if err != nil {
		return chosenBlock{}, err
	}
	if filepath.Base(v.Block) == v.Block && filepath.Ext(v.Block) != ".toml" {
		b, err := lib.Named(v.Block)
		if err != nil {
			return chosenBlock{}, err
		}
		return chosenBlock{b, lib.isUsers(b), lib}, nil
	}
	if _, err := os.Stat(v.Block); err != nil {
		return chosenBlock{}, fmt.Errorf("%s: the block cannot be read: %s", v.Block, store.Plainly(err))
	}
	b, err := block.Load(v.Block)
	return chosenBlock{b, true, lib}, err
}

// choicesOf reads NAME=VALUE; the block's own reader looks at the values.
func choicesOf(set []string) (draft.Choices, error) {
	var choices draft.Choices
	for _, text := range set {
		one, err := draft.ParseChoices(text)
		if err != nil {
			return nil, fmt.Errorf("--set: %w", err)
		}
		for _, c := range one {
			for _, other := range choices {
				if other.Name == c.Name {
					return nil, fmt.Errorf("--set: the choice %s is given twice", c.Name)
				}
			}
			choices = append(choices, c)
		}
	}
	return choices, nil
}

// draftFor returns the project with the wearer and the pieces of the block.
func draftFor(p *draft.Project, w *draft.Wearer, known chosenBlock, choices draft.Choices) (*draft.Project, error) {
	added, err := draft.AddWearerFrom.Do(p, draft.AddWearerFromArgs{Wearer: w})
	if err != nil {
		return nil, err
	}
	args := draft.DraftBlockArgs{Block: known.block.Name, Wearer: draft.WearerRef(added.Made), Set: choices}
	if known.own {
		args.Block, args.Text = known.block.File(), known.block.Text()
	}
	made, err := draft.DraftBlock.Do(added.Project, args)
	if err != nil {
		return nil, err
	}
	return made.Project, nil
}

// strangers warns of measures that nothing reads, because they are most often
// misspelt. People may note more than Hemlet knows: it is no error. Besides the blocks,
// read names what else is read.
func strangers(file string, w *draft.Wearer, blocks []*block.Block, read ...string) []string {
	names := make(map[string]bool)
	for _, name := range read {
		names[name] = true
	}
	for _, m := range body.Catalogue() {
		names[m.Name] = true
	}
	for _, b := range blocks {
		for _, name := range b.Wants() {
			names[name] = true
		}
	}
	for _, l := range w.Levels {
		names[body.GirthOf(l.Name)] = true
	}
	var list []string
	for _, m := range w.Measures {
		if names[m.Name] {
			continue
		}
		says := fmt.Sprintf("%s: no block reads the measure %s", filepath.Base(file), m.Name)
		if near := formula.Nearest(m.Name, slices.Sorted(maps.Keys(names))); len(near) > 0 {
			says += "; near it: " + strings.Join(near, ", ")
		}
		list = append(list, says)
	}
	return list
}

// report tells what was drafted and what the checks say of it.
func (v *draftVerb) report(t *terminal, p *draft.Project) error {
	slots := draft.NewSlots()
	report := slots.Check(p)
	d := p.Derivations[0]
	b, sheet, err := slots.Drafted(p, d)
	if err != nil {
		return errors.Join(errors.New("the block drafts once and not again"), err) // a defect of ours
	}
	facts := draftFacts(v.Out, p, b, sheet)
	if v.JSON {
		facts.factsJSON = checkFacts(slots, p, report)
		if err := t.json(facts); err != nil {
			return err
		}
	} else {
		printDraft(t, p, facts)
		printReport(t, p, report, false)
	}
	return verdict(report.Findings)
}
