package main

import (
	"hemlet/assets"
	"hemlet/draft/store"
)

type sampleVerb struct {
	Out string `short:"o" required:"" placeholder:"OUT.hemlet" help:"The project to write." type:"path"`
}

// Run writes the sample project that is carried inside the program.
func (v *sampleVerb) Run(t *terminal) error {
	if err := projectPath(v.Out); err != nil {
		return err
	}
	p, err := store.Decode(assets.Sample())
	if err != nil {
		return err
	}
	if _, err := store.Save(v.Out, p, nil); err != nil {
		return err
	}
	t.printf("%s: %s, %s\n", v.Out, p.Name, count(len(p.Pieces), "piece"))
	return nil
}
