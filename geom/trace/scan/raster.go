package scan

// Raster is a grey picture: W by H pixels, row after row from the top, 0 black to 255
// white.
type Raster struct {
	W, H int
	Pix  []uint8
}
