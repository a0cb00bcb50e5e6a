package tracer

import (
	"context"
	"image"
	"sync"

	"hemlet/app/bench/paint"
	"hemlet/draft"
	"hemlet/geom/trace/scan"
)

// shelf keeps what was read of the pictures of the document, by the hash of their files.
type shelf struct {
	r    *Room
	read map[string]*reading
}

// reading is what was read of a picture. Both fields are nil while it is being read, and
// after a fault.
type reading struct {
	image image.Image
	sizes *paint.Pyramid
	// dpi is what the file says, 0 where it says nothing.
	dpi float64
	// fault says why it could not be read.
	fault string
	// away says that its pixels were let go of.
	away bool

	grey sync.Mutex
	scan *scan.Raster
}

func newShelf(r *Room) *shelf { return &shelf{r: r, read: map[string]*reading{}} }

func (s *shelf) clear() { clear(s.read) }

// read returns what was read of a picture, and begins to read it where that was not done
// yet; the room is updated once it is there.
func (r *Room) read(pic *draft.Picture) *reading {
	x := r.files.read[pic.Hash]
	if x != nil && !x.away {
		return x
	}
	if x == nil {
		x = &reading{}
		r.files.read[pic.Hash] = x
	}
	x.away = false
	sizes := x.sizes
	load := r.host.Load(pic)
	r.host.Aside(func() func() {
		img, dpi, err := load()
		if err == nil && sizes == nil {
			sizes = paint.NewPyramid(img)
		}
		return func() {
			if err != nil {
				x.fault = err.Error()
			} else {
				x.image, x.sizes, x.dpi = img, sizes, dpi
			}
			r.update()
		}
	})
	return x
}

// raster returns the grey values of the picture, which are worked out once. It may be
// asked for aside, of a picture that was read.
func (x *reading) raster(ctx context.Context) (*scan.Raster, error) {
	x.grey.Lock()
	defer x.grey.Unlock()
	if x.scan != nil {
		return x.scan, nil
	}
	raster, err := scan.Grey(ctx, x.image, nil)
	if err == nil {
		x.scan = raster
	}
	return raster, err
}

// restPixels is how many pixels of pictures are kept while the room is not seen, so that
// coming back is swift: three photographs of 12 million, some 150 MB at most.
const restPixels = 36 << 20

// rest lets go of the pixels of large pictures, which are read again once they are needed.
// What they are drawn by stays. Work that is still under way keeps what it reads.
func (s *shelf) rest() {
	pixels := 0
	for _, x := range s.read {
		if x.sizes != nil {
			pixels += x.sizes.W * x.sizes.H
		}
	}
	if pixels <= restPixels {
		return
	}
	for hash, x := range s.read {
		if x.image != nil {
			s.read[hash] = &reading{sizes: x.sizes, dpi: x.dpi, away: true}
		}
	}
}

// keepOnly forgets what was read of pictures that are gone.
func (s *shelf) keepOnly(pics []*draft.Picture) {
	live := make(map[string]bool, len(pics))
	for _, pic := range pics {
		live[pic.Hash] = true
	}
	for hash := range s.read {
		if !live[hash] {
			delete(s.read, hash)
		}
	}
}
