package draft

import "hemlet/geom"

// Picture is a scan or photograph laid under the pieces. The image itself lies
// beside the project, named by the hash of its content.
type Picture struct {
	ID   ID
	Name string
	// Hash is the SHA-256 of the file's bytes in lower-case hex, Ext its ending.
	Hash, Ext string
	// Wide and High are its size in pixels, 0 where that was not noted.
	Wide, High int
	// Place maps the picture's pixels (y down, origin at the top left) to mm.
	Place geom.Affine
	// Opacity runs from 0 to 1.
	Opacity float64
	Locked  bool
}
