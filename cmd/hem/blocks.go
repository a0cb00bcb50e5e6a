package main

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/formula"
)

type blocksVerb struct {
	Name   string `arg:"" optional:"" help:"Tell all about this block only."`
	Folder string `placeholder:"DIR" help:"Where blocks of your own lie, if not in the folder that the window opens." type:"path"`
	JSON   bool   `name:"json" help:"Print the blocks as JSON."`
}

// Run lists the blocks with the measures that each needs.
func (v *blocksVerb) Run(t *terminal) error {
	lib, err := openLibrary(t, v.Folder)
	if err != nil {
		return err
	}
	blocks := lib.Blocks()
	if v.Name != "" {
		b, err := lib.Named(v.Name)
		if err != nil {
			return err
		}
		blocks = []*block.Block{b}
	} else {
		t.remarks(lib.remarks())
	}
	switch {
	case v.JSON:
		return t.json(map[string]any{"blocks": blockFacts(blocks)})
	case v.Name != "":
		tellBlock(t, blocks[0])
	default:
		listBlocks(t, blocks)
		if lib.dir != "" {
			t.printf("\nBlocks of your own are read from %s\n", lib.dir)
		}
	}
	return nil
}

// library is every block that can be named: ours, and those of a folder.
type library struct {
	*block.Library
	// dir is the folder, empty where there is none.
	dir string
}

// openLibrary reads the blocks of the folder, or of the user's where none is named.
// That one may be missing or out of reach: ours can be drafted all the same.
func openLibrary(t *terminal, folder string) (library, error) {
	if folder != "" {
		if info, err := os.Stat(folder); err != nil || !info.IsDir() {
			return library{}, fmt.Errorf("%s: there is no such folder; name the one in which your blocks lie", folder)
		}
		lib, err := block.Folder(folder)
		return library{lib, folder}, err
	}
	dir, err := block.UserFolder()
	if err == nil {
		var lib *block.Library
		if lib, err = block.Folder(dir); err == nil {
			return library{lib, dir}, nil
		}
	}
	t.remarks([]string{fmt.Sprintf("only the blocks that come with Hemlet are known: %v", err)})
	lib, err := block.Folder("")
	return library{lib, ""}, err
}

// remarks returns what is wrong with files of the folder, and what they hide.
func (l library) remarks() []string {
	var list []string
	for _, e := range l.Entries() {
		if says := e.Says(); says != "" {
			list = append(list, says)
		}
	}
	return list
}

// isUsers reports whether a block is not one of ours, so that a project has to be
// given its text.
func (l library) isUsers(b *block.Block) bool {
	return slices.ContainsFunc(l.Entries(), func(e block.Entry) bool { return e.Users && e.Block == b })
}

// The JSON that scripts rely on.
type (
	blockJSON struct {
		Name     string             `json:"name"`
		Title    string             `json:"title"`
		Says     string             `json:"says"`
		Source   string             `json:"source,omitempty"`
		Pieces   []string           `json:"pieces"`
		Measures []blockMeasureJSON `json:"measures"`
		Choices  []blockChoiceJSON  `json:"choices"`
	}
	blockMeasureJSON struct {
		Name   string `json:"name"`
		Needed bool   `json:"needed"`
		// Says is what the block does with it or, where it does not say, how it is
		// taken.
		Says  string `json:"says"`
		Words string `json:"words"`
		// Estimates are the formulas that stand in for it, tried in this order; none
		// for one that is needed.
		Estimates []string `json:"estimates,omitempty"`
	}
	blockChoiceJSON struct {
		Name    string `json:"name"`
		Title   string `json:"title"`
		Says    string `json:"says,omitempty"`
		Kind    string `json:"kind"`
		Default string `json:"default"`
		Least   string `json:"least,omitempty"`
		Most    string `json:"most,omitempty"`
	}
)

func blockFacts(blocks []*block.Block) []blockJSON {
	list := []blockJSON{}
	for _, b := range blocks {
		facts := blockJSON{
			Name: b.Name, Title: b.Title, Says: b.Says, Source: b.Source,
			Pieces: b.Roles(), Measures: measuresOf(b), Choices: []blockChoiceJSON{},
		}
		for _, c := range b.Choices() {
			facts.Choices = append(facts.Choices, blockChoiceJSON{
				Name: c.Name, Title: c.Title, Says: c.Says, Kind: kindOf(c), Default: c.Default, Least: c.Least, Most: c.Most,
			})
		}
		list = append(list, facts)
	}
	return list
}

// kindOf says what a choice takes: a length or a number.
func kindOf(c block.Choice) string {
	if c.Kind == formula.NumberKind {
		return "number"
	}
	return "length"
}

// measuresOf returns all measures that matter to a block: those that it lists, and
// those that only its formulas read.
func measuresOf(b *block.Block) []blockMeasureJSON {
	listed := make(map[string]block.Measure)
	for _, m := range b.Measures() {
		listed[m.Name] = m
	}
	list := []blockMeasureJSON{}
	for _, name := range b.Wants() {
		m := listed[name]
		facts := blockMeasureJSON{Name: name, Needed: m.Needed, Says: m.Says, Words: m.Words}
		if m.Estimate != "" {
			facts.Estimates = append(facts.Estimates, m.Estimate)
		}
		if known, ok := body.Find(name); ok {
			facts.Words = known.Words
			facts.Estimates = slices.Concat(facts.Estimates, known.FromTaken, known.Estimates)
			m.How = known.How
		}
		if m.Needed { // an estimate will not do
			facts.Estimates = nil
		}
		if facts.Says == "" {
			facts.Says = m.How
		}
		list = append(list, facts)
	}
	return list
}

// listBlocks prints what there is and what each needs to be drafted.
func listBlocks(t *terminal, blocks []*block.Block) {
	for _, b := range blocks {
		var needed, taken []string
		for _, m := range measuresOf(b) {
			if m.Needed {
				needed = append(needed, m.Name)
			} else {
				taken = append(taken, m.Name)
			}
		}
		t.printf("%s: %s. %s\n", b.Name, b.Title, b.Says)
		t.printf("    needs      %s\n", orNothing(needed))
		if len(taken) > 0 {
			t.printf("    estimates  %s\n", strings.Join(wrapped(taken), "\n               "))
		}
	}
	t.printf("\nWhat was measured is never estimated. hem blocks NAME tells all about one.\n")
}

func orNothing(names []string) string {
	if len(names) == 0 {
		return "nothing"
	}
	return strings.Join(names, " ")
}

// columns is how many characters of names fit beside the word that they follow.
const columns = 80

// wrapped returns the names in lines.
func wrapped(names []string) []string {
	var lines []string
	for _, name := range names {
		last := len(lines) - 1
		if last < 0 || len(lines[last])+1+len(name) > columns {
			lines = append(lines, name)
		} else {
			lines[last] += " " + name
		}
	}
	return lines
}

// tellBlock prints everything that a person who drafts with a block may want to know.
func tellBlock(t *terminal, b *block.Block) {
	t.printf("%s: %s. %s\n", b.Name, b.Title, b.Says)
	if text := strings.TrimSpace(b.Explains); text != "" {
		t.printf("\n%s\n", text)
	}
	if b.Source != "" {
		t.printf("\nSource: %s\n", b.Source)
	}
	if list := measuresOf(b); len(list) > 0 {
		t.printf("\nMeasures:\n")
		for _, m := range list {
			needed := ""
			if m.Needed {
				needed = " (needed)"
			}
			t.printf("  %-20s %s%s\n", m.Name, m.Words, needed)
			tellFormulas(t, "else ", m.Estimates...)
		}
	}
	if list := b.Choices(); len(list) > 0 {
		t.printf("\nChoices, for --set NAME=VALUE:\n")
		for _, c := range list {
			t.printf("  %-20s %s (a %s)\n", c.Name, c.Title, kindOf(c))
			tellFormulas(t, "else ", c.Default)
			tellFormulas(t, "at least ", c.Least)
			tellFormulas(t, "at most ", c.Most)
		}
	}
}

// tellFormulas prints formulas below what they are of, the empty ones left out.
func tellFormulas(t *terminal, role string, formulas ...string) {
	for _, f := range formulas {
		if f != "" {
			t.printf("  %-20s   %s%s\n", "", role, f)
		}
	}
}
