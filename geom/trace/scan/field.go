package scan

// Paper is the value of bare paper in a Field.
const Paper = 1 << 15

// Field is a picture as if evenly lit and softened: W by H values, row after row from the
// top, where 0 is full ink and Paper is bare paper. Values may overshoot Paper.
type Field struct {
	W, H int
	V    []uint16
}
