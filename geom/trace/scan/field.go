package scan

// Paper is the value of bare paper in a Field.
const Paper = 1 << 15

// Unread is the value of what is not to be read, such as what lies outside a region: it
// counts as paper, but a shape that touches it is not whole.
const Unread = 1<<16 - 1

// Field is a picture as if evenly lit and softened: W by H values, row after row from the
// top, where 0 is full ink and Paper is bare paper. Values may overshoot Paper.
type Field struct {
	W, H   int
	V      []uint16
	Specks int     // of ink that were taken out
	Ink    float64 // what was stored of full ink, of paper 1; of the dark ground where Dark
	Dark   bool    // the ink is light, on a dark ground
}
