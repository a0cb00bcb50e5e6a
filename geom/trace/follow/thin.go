package follow

import (
	"context"
	"runtime"
	"sync"

	"hemlet/geom/trace/scan"
)

// bitmap is a picture of ink with a rim of paper one pixel wide, so that every pixel of
// the field has eight neighbours.
type bitmap struct {
	wide int // of a row
	p    []uint8
}

// at returns the index of pixel (x, y) of the field.
func (b *bitmap) at(x, y int) int32 { return int32((y+1)*b.wide + x + 1) }

// place returns the pixel of the field at an index.
func (b *bitmap) place(i int32) (x, y int) { return int(i)%b.wide - 1, int(i)/b.wide - 1 }

// inkOf returns the ink of a field below a level.
func inkOf(ctx context.Context, f *scan.Field, level uint16) (*bitmap, error) {
	b := &bitmap{wide: f.W + 2, p: make([]uint8, (f.W+2)*(f.H+2))}
	n := max(runtime.GOMAXPROCS(0), 1)
	var wait sync.WaitGroup
	for k := range n {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for y := f.H * k / n; y < f.H*(k+1)/n && ctx.Err() == nil; y++ {
				dst := b.p[b.at(0, y):][:f.W]
				for x, v := range f.V[y*f.W : (y+1)*f.W] {
					if v < level {
						dst[x] = 1
					}
				}
			}
		}()
	}
	wait.Wait()
	return b, ctx.Err()
}

// around returns the steps to the eight neighbours, clockwise on screen from north.
func (b *bitmap) around() [8]int32 {
	w := int32(b.wide)
	return [8]int32{-w, -w + 1, 1, w + 1, w, w - 1, -1, -w - 1}
}

// simple tells, of the eight neighbours as bits, whether taking the pixel out neither parts
// nor joins anything, and leaves a line its end: whether their ink is connected, at least
// two, and the paper touches the pixel at one stretch (Yokoi's number for ink connected
// across corners).
var simple = func() (table [256]bool) {
	for n := range table {
		number, ink := 0, 0
		bit := func(k int) int { return n >> (k % 8) & 1 }
		for k := 0; k < 8; k++ {
			ink += bit(k)
		}
		for k := 0; k < 8; k += 2 {
			a, b, c := 1-bit(k), 1-bit(k+1), 1-bit(k+2)
			number += a - a*b*c
		}
		table[n] = number == 1 && ink >= 2
	}
	return table
}()

// neighbours returns the ink round pixel i as bits.
func (b *bitmap) neighbours(i int32, around *[8]int32) int {
	n := 0
	for k, d := range around {
		n |= int(b.p[i+d]&1) << k
	}
	return n
}

// inFront marks pixels that are to be looked at.
const inFront = 2

// thin peels the ink off from all sides, layer by layer, until lines one pixel wide remain
// that are connected as the ink was.
func (b *bitmap) thin(ctx context.Context) error {
	around := b.around()
	var front []int32
	for i, v := range b.p {
		if v == 1 && b.p[i-b.wide]&b.p[i+b.wide]&b.p[i-1]&b.p[i+1]&1 == 0 {
			front = append(front, int32(i))
			b.p[i] |= inFront
		}
	}
	var next, peel []int32
	for len(front) > 0 {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		// What stays is looked at again only once a neighbour has gone.
		for _, i := range front {
			b.p[i] &= 1
		}
		next = next[:0]
		for _, side := range [4]int{0, 4, 2, 6} {
			peel = peel[:0]
			for _, i := range front {
				if b.p[i]&1 == 1 && b.p[i+around[side]]&1 == 0 {
					peel = append(peel, i)
				}
			}
			for _, i := range peel {
				if !simple[b.neighbours(i, &around)] {
					continue
				}
				b.p[i] = 0
				for _, d := range around {
					if b.p[i+d] == 1 {
						b.p[i+d] |= inFront
						next = append(next, i+d)
					}
				}
			}
		}
		front, next = next, front
	}
	for i := range b.p {
		b.p[i] &= 1
	}
	return nil
}
