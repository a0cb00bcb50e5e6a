package geom

import (
	"errors"
	"testing"
)

// A loop of a millionth of a millimetre, which a file may hold, has no side that
// is told from the other: an error, and no more.
func TestAllowanceOfALoopThatIsAPoint(t *testing.T) {
	const tiny = 1e-6
	loop := Path{Cubic(Pt(0, 0), Pt(tiny, 0), Pt(0, tiny), Pt(0, 0))}
	for _, width := range []float64{0, tiny, 5} {
		_, err := Allowance([]AllowanceEdge{{Path: loop, End: width}})
		var unsound *OutlineError
		if err != nil && !errors.As(err, &unsound) {
			t.Errorf("width %g: error %v", width, err)
		}
	}
}
