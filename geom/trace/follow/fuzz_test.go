package follow

import (
	"context"
	"testing"

	"hemlet/geom/trace/scan"
)

// FuzzTinyFields follows small pictures of any content: no point may be infinite, no
// outline turned round, and all must end.
func FuzzTinyFields(f *testing.F) {
	f.Add(uint8(5), []byte("  ###  # #  ###  "), 1.0, 1.0)
	f.Add(uint8(9), []byte{0, 255, 128, 3, 200, 100, 90, 255, 254, 17, 128, 127, 126, 130, 0, 0, 0, 255}, 0.5, 30.0)
	f.Fuzz(func(t *testing.T, w uint8, px []byte, s, gap float64) {
		if w == 0 || len(px) > 4096 {
			return
		}
		field := &scan.Field{W: int(w), H: len(px) / int(w)}
		for _, p := range px[:field.W*field.H] {
			field.V = append(field.V, uint16(p)<<8|uint16(p))
		}
		for _, do := range []func(context.Context, *scan.Field, Options) (Found, error){Edges, Strokes} {
			found, err := do(context.Background(), field, Options{S: s, Gap: gap, KeepSmall: len(px)%2 == 0})
			if err != nil {
				continue
			}
			finite(t, found)
			for _, shape := range found.Shapes {
				if a := signedArea(shape.Outline.Pts); a > 0 {
					t.Errorf("an outline of area %g runs clockwise", a)
				}
			}
		}
	})
}
