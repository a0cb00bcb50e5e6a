package scan

import (
	"context"
	"slices"
	"testing"

	"hemlet/geom"
)

// sketched returns a field from rows of characters: '#' for ink, anything else for paper.
func sketched(rows ...string) *Field {
	f := &Field{W: len(rows[0]), H: len(rows)}
	for _, r := range rows {
		for _, c := range r {
			v := uint16(Paper)
			if c == '#' {
				v = 0
			}
			f.V = append(f.V, v)
		}
	}
	return f
}

func (f *Field) sketch() []string {
	var rows []string
	for y := range f.H {
		var r []byte
		for _, v := range f.V[y*f.W : (y+1)*f.W] {
			switch {
			case v == Unread:
				r = append(r, '-')
			case isInk(v):
				r = append(r, '#')
			default:
				r = append(r, '.')
			}
		}
		rows = append(rows, string(r))
	}
	return rows
}

func TestTakeSpecks(t *testing.T) {
	f := sketched(
		"#........#",
		"...####...",
		".#.#.##.#.",
		"...####..#",
		".........#",
		"###.......",
		"..#.......",
	)
	before := slices.Clone(f.V)
	got, err := Take(context.Background(), f, Clean{S: 1, LeastMM2: 4})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"..........",
		"...####...",
		"...####...",
		"...####...",
		"..........",
		"###.......",
		"..#.......",
	}
	if !slices.Equal(got.sketch(), want) {
		t.Errorf("got %q", got.sketch())
	}
	if got.Specks != 4 {
		t.Errorf("%d specks, want 4: of three pixels across corners one", got.Specks)
	}
	if !slices.Equal(f.V, before) {
		t.Error("the original was changed")
	}
}

func TestTakeRegion(t *testing.T) {
	f := sketched("#####", "#####", "#####", "#####")
	got, err := Take(context.Background(), f, Clean{Region: []geom.Point{{X: 1, Y: 1}, {X: 4, Y: 1}, {X: 4, Y: 3.2}, {X: 1, Y: 3.2}}})
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"-----", "-###-", "-###-", "-----"}; !slices.Equal(got.sketch(), want) {
		t.Errorf("got %q", got.sketch())
	}
}
