package export

import (
	"context"
	"math"

	"hemlet/draft"
)

// stock holds the pieces that a plan lays on pages, each laid in any turn once.
type stock struct {
	ruler  ruler
	flats  []*draft.Flat
	laid   map[turnKey]*Laid
	prints map[printKey]*prints
	// work counts how often rows were looked at for room.
	work int
}

type turnKey struct {
	piece int
	turn  float64
}

type printKey struct {
	turnKey
	nested bool
	row    float64
}

// prints are what a copy covers, and what it keeps others off.
type prints struct{ bare, grown footprint }

func newStock(ctx context.Context, p *draft.Project, o Options) (*stock, error) {
	flats, err := flattened(ctx, p, o)
	if err != nil {
		return nil, err
	}
	return &stock{ruler: newRuler(p, o), flats: flats, laid: make(map[turnKey]*Laid), prints: make(map[printKey]*prints)}, nil
}

// at returns a piece in a turn in radians, with its words readable in it.
func (s *stock) at(key turnKey) (*Laid, error) {
	if l := s.laid[key]; l != nil {
		return l, nil
	}
	flat := s.flats[key.piece]
	l := s.ruler.lay(flat, flat.Piece.Copies()[0], key.turn)
	if err := l.finite(); err != nil {
		return nil, err
	}
	s.laid[key] = l
	return l, nil
}

// printsOf returns the footprints of a piece in a turn: of its outline, or of the box
// around it, in rows of a height in mm.
func (s *stock) printsOf(key turnKey, nested bool, row float64) (*prints, error) {
	k := printKey{key, nested, row}
	if f := s.prints[k]; f != nil {
		return f, nil
	}
	l, err := s.at(key)
	if err != nil {
		return nil, err
	}
	f := &prints{}
	if nested {
		f.bare = outlineFootprint(l, row)
		f.grown = f.bare.grown(nestGap)
	} else {
		box := l.Bounds()
		f.bare = boxFootprint(box.W(), box.H(), row)
		f.grown = f.bare.bordered(sheetGap)
	}
	s.prints[k] = f
	return f, nil
}

// quarter returns the turn with so many quarter turns more.
func (k turnKey) quarter(n int) turnKey {
	if n != 0 {
		k.turn += float64(n) * math.Pi / 2
	}
	return k
}
