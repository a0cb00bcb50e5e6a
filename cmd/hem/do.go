package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"hemlet/draft"
	"hemlet/draft/store"
)

type doVerb struct {
	Project string   `arg:"" optional:"" help:"The project file." type:"path"`
	Act     string   `arg:"" optional:"" help:"What to do; --list names every act."`
	Args    []string `arg:"" optional:"" name:"name=value" help:"The arguments of the act; a project to take pieces from is given as @FILE, a picture by the path of its file."`
	Out     string   `short:"o" placeholder:"OUT.hemlet" help:"The project to write; it may be the one that was read." type:"path"`
	List    bool     `help:"List every act with its arguments."`
	JSON    bool     `name:"json" help:"With --list: as JSON."`
}

// Run does the act, or lists all of them.
func (v *doVerb) Run(t *terminal) error {
	if v.List {
		return listActs(t, v.JSON)
	}
	switch {
	case v.Project == "" || v.Act == "":
		return errors.New("give a project and an act: hem do P.hemlet ACT NAME=VALUE... -o OUT.hemlet; hem do --list names the acts")
	case v.Out == "":
		return errors.New("say with -o where to write the project")
	}
	if err := projectPath(v.Out); err != nil {
		return err
	}
	act, err := draft.ActNamed(v.Act)
	if err != nil {
		return fmt.Errorf("%w; hem do --list names them all", err)
	}
	args, err := namedValues(v.Args)
	if err != nil {
		return err
	}
	if err := readFiles(act, args); err != nil {
		return err
	}
	pictures, err := readPictures(act, args)
	if err != nil {
		return err
	}
	p, stamp, err := store.Load(v.Project)
	if err != nil {
		return err
	}
	out, err := act.DoText(p, args)
	if err != nil {
		return err
	}
	seen := &stamp
	if v.Out != v.Project {
		seen = nil
	}
	undo, err := keepPictures(v.Out, pictures)
	if err != nil {
		return err
	}
	if _, err := store.Save(v.Out, out.Project, seen); err != nil {
		undo()
		return err
	}
	if v.Out != v.Project {
		// The pictures that the project had come along.
		if err := store.CopyPictures(p, v.Project, v.Out); err != nil {
			t.remarks(strings.Split(err.Error(), "\n"))
		}
	}
	for _, says := range out.Says {
		t.printf("%s\n", says)
	}
	return nil
}

func namedValues(args []string) (map[string]string, error) {
	values := make(map[string]string, len(args))
	for _, a := range args {
		name, value, ok := strings.Cut(a, "=")
		if !ok {
			return nil, fmt.Errorf("%q is no argument; arguments are written NAME=VALUE", a)
		}
		if _, twice := values[name]; twice {
			return nil, fmt.Errorf("argument %s is given twice", name)
		}
		values[name] = value
	}
	return values, nil
}

// readFiles puts the text of a file in the place of each argument that is one and is
// given as @FILE.
func readFiles(act draft.Named, args map[string]string) error {
	for _, param := range act.Params() {
		path, ok := strings.CutPrefix(args[param.Name], "@")
		if !ok || param.Kind != "project file" {
			continue
		}
		p, _, err := store.Load(path)
		if err != nil {
			return fmt.Errorf("%s: %w", param.Name, err)
		}
		args[param.Name] = string(store.Encode(p))
	}
	return nil
}

type actJSON struct {
	Name   string        `json:"name"`
	Title  string        `json:"title"`
	Says   string        `json:"says"`
	Params []draft.Param `json:"arguments"`
}

func listActs(t *terminal, asJSON bool) error {
	if asJSON {
		var list []actJSON
		for _, a := range draft.Acts() {
			list = append(list, actJSON{a.Info().Name, a.Info().Title, a.Info().Says, a.Params()})
		}
		enc := json.NewEncoder(t.out)
		enc.SetIndent("", "  ")
		return enc.Encode(map[string]any{"acts": list})
	}
	for _, a := range draft.Acts() {
		t.printf("%s: %s\n", a.Info().Name, a.Info().Says)
		for _, p := range a.Params() {
			t.printf("    %-12s %s%s\n", p.Name, p.Says, paramNote(p))
		}
	}
	return nil
}

func paramNote(p draft.Param) string {
	notes := []string{p.Kind}
	if p.Many {
		notes = append(notes, "several with ;")
	}
	switch {
	case p.Default != "":
		notes = append(notes, p.Default+" if not given")
	case !p.Needed:
		notes = append(notes, "may be left out")
	}
	if len(p.Allowed) > 0 {
		notes = append(notes, "one of "+strings.Join(p.Allowed, ", "))
	}
	return " (" + strings.Join(notes, "; ") + ")"
}
