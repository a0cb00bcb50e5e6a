package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"strings"

	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/draft/store"
	"hemlet/draft/tracing"
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
)

// fromProject follows the pictures of a project where they lie: those that are joined
// together, every other by itself.
func (w *tracer) fromProject(ctx context.Context, path string) error {
	v := w.verb
	switch {
	case v.sizeGiven() > 0:
		return errors.New("the pictures of a project are made true by hem do true-picture; give no --dpi, --scale, --frame or --grid")
	case v.NoPicture:
		return errors.New("the pictures of a project stay under it; give no --no-picture")
	}
	p, stamp, err := store.Load(path)
	if err != nil {
		return err
	}
	if len(p.Pictures) == 0 {
		return fmt.Errorf("%s has no pictures; lay some under it with hem do add-picture", path)
	}
	w.project, w.from, w.stamp = p, path, &stamp
	for _, group := range joined(p) {
		if err := w.group(ctx, group); err != nil {
			return err
		}
	}
	return nil
}

// joined returns the pictures of a project, those together that are joined.
func joined(p *draft.Project) [][]*draft.Picture {
	var groups [][]*draft.Picture
	in := map[*draft.Picture]bool{}
	for _, pic := range p.Pictures {
		if in[pic] {
			continue
		}
		group := p.JoinedWith(pic)
		for _, q := range group {
			in[q] = true
		}
		groups = append(groups, group)
	}
	return groups
}

// group follows pictures that are joined, as one.
func (w *tracer) group(ctx context.Context, pics []*draft.Picture) error {
	var names []string
	var sources []tracing.Source
	for _, pic := range pics {
		if pic.True == nil {
			return fmt.Errorf("picture %s is not true to size yet: hem do %s true-picture picture=%q dpi=300 (or lengths, frame) -o %s", pic.Name, w.from, pic.Name, w.from)
		}
		names = append(names, pic.Name)
		sources = append(sources, tracing.Source{Picture: pic, Load: w.loaded(ctx, pic)})
	}
	in := tracedPicture{label: strings.Join(names, " with "), stem: stem(names[0])}
	settings := w.settings
	settings.Squares = w.verb.Squares
	var err error
	if settings.Manner, err = w.groupManner(ctx, sources[0]); err != nil {
		return err
	}
	found, err := tracing.Run(ctx, sources, settings, nil)
	if err != nil {
		return fmt.Errorf("%s: %w", in.label, err)
	}
	return w.take(in, pics[0], found)
}

// groupManner returns what is followed in joined pictures, by what the first of them shows.
func (w *tracer) groupManner(ctx context.Context, first tracing.Source) (trace.Manner, error) {
	if w.verb.Follow != followLook {
		return w.manner(ctx, nil, first.Picture)
	}
	img, err := first.Load()
	if err != nil {
		return 0, err
	}
	grey, err := scan.Grey(ctx, img, w.settings.Tint)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", first.Picture.Name, err)
	}
	return w.manner(ctx, grey, first.Picture)
}

// loaded returns what reads a picture that lies beside the project.
func (w *tracer) loaded(ctx context.Context, pic *draft.Picture) func() (image.Image, error) {
	return func() (image.Image, error) {
		content, err := store.Picture(w.from, pic)
		if err != nil {
			return nil, err
		}
		return intake.DecodePictureContext(ctx, pic.Name, content)
	}
}
