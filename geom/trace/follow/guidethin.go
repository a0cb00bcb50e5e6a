package follow

import "context"

// thinner says for each pattern of the eight neighbours (bit 0 north, then clockwise)
// whether a cell goes in the first and in the second half of a round.
//
// Method: Guo and Hall 1989, "Parallel thinning with two-subiteration algorithms": keeps
// lines connected, ends where they are, and slanting lines of two cells.
var thinner = func() (t [2][256]bool) {
	bit := func(c bool) int {
		if c {
			return 1
		}
		return 0
	}
	for code := range 256 {
		var p [8]bool
		for i := range p {
			p[i] = code>>i&1 == 1
		}
		n, ne, e, se, s, sw, w, nw := p[0], p[1], p[2], p[3], p[4], p[5], p[6], p[7]
		runs := bit(!n && (ne || e)) + bit(!e && (se || s)) + bit(!s && (sw || w)) + bit(!w && (nw || n))
		n1 := bit(nw || n) + bit(ne || e) + bit(se || s) + bit(sw || w)
		n2 := bit(n || ne) + bit(e || se) + bit(s || sw) + bit(w || nw)
		least := min(n1, n2)
		if runs != 1 || least < 2 || least > 3 {
			continue
		}
		t[0][code] = !((s || sw || !nw) && w)
		t[1][code] = !((n || ne || !se) && e)
	}
	return t
}()

// around returns the steps to the eight neighbours in a field of width w, clockwise from
// north.
func around(w int) [8]int { return [8]int{-w, -w + 1, 1, w + 1, w, w - 1, -1, -w - 1} }

// thin reduces the marked cells to lines of one cell. Cells on the border are cleared.
func thin(ctx context.Context, on []uint8, w, h int) error {
	for x := range w {
		on[x], on[(h-1)*w+x] = 0, 0
	}
	for y := range h {
		on[y*w], on[y*w+w-1] = 0, 0
	}
	var list []int32
	for i, v := range on {
		if v != 0 {
			list = append(list, int32(i))
		}
	}
	steps := around(w)
	var gone []int32
	for changed := true; changed; {
		changed = false
		for half := range 2 {
			gone = gone[:0]
			kept := list[:0]
			for _, i := range list {
				code := 0
				for b, d := range steps {
					code |= int(on[int(i)+d]) << b
				}
				if thinner[half][code] {
					gone = append(gone, i)
				} else {
					kept = append(kept, i)
				}
			}
			for _, i := range gone {
				on[i] = 0
			}
			list = kept
			changed = changed || len(gone) > 0
		}
		if err := ctx.Err(); err != nil {
			return err
		}
	}
	return nil
}

// linked returns the cells that a thinned line goes on to from cell i: the neighbours
// beside it, and those at its corners that no neighbour beside it leads to.
func linked(on []uint8, i int, steps *[8]int, dst []int32) []int32 {
	var set [8]bool
	for b, d := range steps {
		set[b] = on[i+d] != 0
	}
	for b := 0; b < 8; b += 2 {
		if set[b] {
			dst = append(dst, int32(i+steps[b]))
		}
		if set[b+1] && !set[b] && !set[(b+2)%8] {
			dst = append(dst, int32(i+steps[b+1]))
		}
	}
	return dst
}
