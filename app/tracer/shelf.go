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

	grey sync.Mutex
	scan *scan.Raster
}

func newShelf(r *Room) *shelf { return &shelf{r: r, read: map[string]*reading{}} }

func (s *shelf) clear() { clear(s.read) }

// read returns what was read of a picture, and begins to read it where that was not done
// yet; the room is updated once it is there.
func (r *Room) read(pic *draft.Picture) *reading {
	if x := r.files.read[pic.Hash]; x != nil {
		return x
	}
	x := &reading{}
	r.files.read[pic.Hash] = x
	load := r.host.Load(pic)
	r.host.Aside(func() func() {
		img, dpi, err := load()
		var sizes *paint.Pyramid
		if err == nil {
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
