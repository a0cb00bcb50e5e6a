package tracer

import (
	"context"
	"image"
	"reflect"
	"slices"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/draft/tracing"
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
)

// finds is what the steps from Clean on have in common: how pictures are read and
// followed, the lines that were found, what the pattern was made for, and what was put on
// the bench. It lives as long as the document lies open.
type finds struct {
	*Room
	settings tracing.Settings
	// every has all pictures followed that are true to size, not only the one in hand with
	// those that are joined to it.
	every bool
	// manner says how it was decided what of the ink is the line.
	manner mannerBy
	// lines are those that were found or followed by hand.
	lines []*line
	// last is what the lines were found by, nil before.
	last *followed
	made madeFor
	laid []*laidPiece
	// rev counts changes of the lines, for what was drawn of them.
	rev int
}

// changed notes that lines have changed.
func (f *finds) changed() { f.rev++ }

// mannerBy says how it was decided what of the ink is the line.
type mannerBy int

const (
	mannerOpen   mannerBy = iota // not yet
	mannerLooked                 // by how deep the ink is
	mannerSaid                   // by the maker
)

// followed is a result, and what it was made from.
type followed struct {
	from    inputs
	traced  *tracing.Traced
	leftOut []string
	groups  [][]*draft.Picture
}

// inputs are all that a result depends on.
type inputs struct {
	settings tracing.Settings
	pictures []*draft.Picture
}

// same reports whether a result from one is good for the other.
func (in inputs) same(other inputs) bool {
	return slices.Equal(in.pictures, other.pictures) && reflect.DeepEqual(in.settings, other.settings)
}

func newFinds(r *Room) *finds {
	f := &finds{Room: r}
	f.forget()
	r.desk.Listen(func(c desk.Change) {
		if c.Has(desk.Opened) {
			f.forget()
		}
		f.watch()
	})
	return f
}

// forget drops all that belonged to the document before.
func (f *finds) forget() {
	f.settings = tracing.Settings{Options: trace.Options{Manner: trace.Drawn, Tol: trace.DefaultTol, Gap: trace.DefaultGap, Least: trace.DefaultLeast}}
	f.every, f.lines, f.last, f.laid = false, nil, nil, nil
	f.made, f.manner = madeFor{}, mannerOpen
	f.changed()
}

// group returns the pictures that are joined to one, itself among them, in the order of
// the document.
func (f *finds) group(pic *draft.Picture) []*draft.Picture {
	if pic == nil {
		return nil
	}
	all := f.pictures()
	in := map[draft.ID]bool{pic.ID: true}
	for grown := true; grown; {
		grown = false
		for _, p := range all {
			if p.Joined == nil || in[p.ID] == in[p.Joined.To] || f.desk.Project().Picture(p.Joined.To) == nil {
				continue
			}
			in[p.ID], in[p.Joined.To], grown = true, true, true
		}
	}
	var out []*draft.Picture
	for _, p := range all {
		if in[p.ID] {
			out = append(out, p)
		}
	}
	return out
}

// groups returns the pictures that are to be followed, those that are joined together.
func (f *finds) groups() [][]*draft.Picture {
	if !f.every {
		if g := f.group(f.chosen()); len(g) > 0 && allTrue(g) {
			return [][]*draft.Picture{g}
		}
		return nil
	}
	var out [][]*draft.Picture
	seen := map[*draft.Picture]bool{}
	for _, p := range f.pictures() {
		if seen[p] {
			continue
		}
		g := f.group(p)
		for _, q := range g {
			seen[q] = true
		}
		if allTrue(g) {
			out = append(out, g)
		}
	}
	return out
}

func allTrue(pics []*draft.Picture) bool {
	return !slices.ContainsFunc(pics, func(p *draft.Picture) bool { return p.True == nil })
}

// inputs returns what a result that is made now is made from.
func (f *finds) inputs() inputs {
	return inputs{f.settings, slices.Concat(f.groups()...)}
}

// stale reports whether the lines were found by something else than what is set now.
func (f *finds) stale() bool { return f.last != nil && !f.last.from.same(f.inputs()) }

// outdated reports whether settings or pictures have changed since the lines were found,
// whatever picture is in hand.
func (f *finds) outdated() bool {
	if slices.ContainsFunc(f.taken(), func(l *line) bool { return !f.stands(l) }) {
		return true // such as one followed by hand before its picture was moved
	}
	if f.last == nil {
		return false
	}
	from := f.last.from
	return !reflect.DeepEqual(from.settings, f.settings) || !f.stand(from.pictures)
}

// source returns a picture as it is read.
func (f *finds) source(pic *draft.Picture) tracing.Source {
	load := f.host.Load(pic)
	src := tracing.Source{Picture: pic, Load: func() (image.Image, error) {
		img, _, err := load()
		return img, err
	}}
	if img := f.read(pic).image; img != nil {
		src.Load = func() (image.Image, error) { return img, nil }
	}
	return src
}

func (f *finds) sources(pics []*draft.Picture) []tracing.Source {
	var out []tracing.Source
	for _, p := range pics {
		out = append(out, f.source(p))
	}
	return out
}

// looks returns what of the ink of a picture looks like the line. It may be asked aside, of
// a picture that was read.
func (in inputs) looks(ctx context.Context, read *reading) (trace.Manner, error) {
	raster, err := read.raster(ctx)
	if err != nil {
		return 0, err
	}
	pic := in.pictures[0]
	s := 1 / pic.Scale()
	if pic.Wide > 0 {
		s *= float64(raster.W) / float64(pic.Wide)
	}
	drawn, err := scan.LooksDrawn(ctx, raster, s, pic.Crop, in.settings.Dark)
	if drawn {
		return trace.Drawn, err
	}
	return trace.Filled, err
}

// taken returns the lines that are to become pieces.
func (f *finds) taken() []*line {
	var out []*line
	for _, l := range f.lines {
		if l.taken {
			out = append(out, l)
		}
	}
	return out
}

// tol returns the tolerance of the fit in mm.
func (f *finds) tol() float64 {
	if f.settings.Tol > 0 {
		return f.settings.Tol
	}
	return trace.DefaultTol
}

// largest returns the largest deviation of the lines, and which line has it, -1 for none.
func largest(lines []*line) (by float64, at int) {
	at = -1
	for i, l := range lines {
		if at < 0 || l.worst() > by {
			by, at = l.worst(), i
		}
	}
	return by, at
}
