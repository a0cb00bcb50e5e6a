package export

import (
	"math"

	"hemlet/draft"
	"hemlet/geom"
)

// holeTick is how far in mm the ticks at the ends of a buttonhole reach to either side,
// at most; on a small one an eighth of its length.
const holeTick = 1.2

// fastenMarks returns the row of a line of fastenings: the thin line along which they lie
// and a sign for each. With cuts only the holes that a blade is asked to cut.
func fastenMarks(line draft.Line, cuts bool) []Mark {
	r := line.Row
	if r == nil {
		return nil
	}
	var marks []Mark
	if !cuts {
		m := mark(PlacementMark, line.Path())
		m.Name, m.Sort = line.Name, "fasten"
		marks = append(marks, m)
	}
	for _, f := range line.Fastenings() {
		if cuts {
			if r.Kind == draft.Buttonholes || r.Kind == draft.Exits {
				marks = append(marks, mark(Slit, hole(f, r.Size)))
			}
			continue
		}
		marks = append(marks, fastenSign(r, f))
	}
	return marks
}

// hole returns the slit of a buttonhole or of the exit of a drawstring.
func hole(f draft.FastenPlace, size float64) geom.Path {
	half := f.Along.Mul(size / 2)
	return geom.Path{geom.Line(f.At.Sub(half), f.At.Add(half))}
}

// fastenSorts are what a drawing calls one fastening of a row.
var fastenSorts = map[draft.RowKind]string{
	draft.Buttons: "button", draft.Buttonholes: "buttonhole", draft.Hooks: "hook", draft.HookEyes: "eye",
	draft.Snaps: "snap", draft.Eyelets: "eyelet", draft.Exits: "exit",
}

// fastenSign returns the sign of one fastening, true to its size.
func fastenSign(r *draft.Row, f draft.FastenPlace) Mark {
	m := mark(InternalLine, signChains(r, f)...)
	m.Sort, m.Solid = fastenSorts[r.Kind], true
	m.Drill = r.Kind == draft.Buttons || r.Kind == draft.Snaps || r.Kind == draft.Eyelets
	return m
}

func signChains(r *draft.Row, f draft.FastenPlace) []geom.Path {
	size := r.Size
	half, side := f.Along.Mul(size/2), f.Along.Left().Mul(size/2)
	switch r.Kind {
	case draft.Buttons: // its round with a cross in it
		return []geom.Path{
			circle(f.At, size/2),
			{geom.Line(f.At.Sub(half.Mul(0.4)), f.At.Add(half.Mul(0.4)))}, {geom.Line(f.At.Sub(side.Mul(0.4)), f.At.Add(side.Mul(0.4)))},
		}
	case draft.Snaps:
		return []geom.Path{circle(f.At, size/2), circle(f.At, size/8)}
	case draft.Eyelets:
		return []geom.Path{circle(f.At, size/2), circle(f.At, 0.3*size)}
	case draft.Hooks: // a shank with a bill
		bill := f.Along.Left().Mul(size / 5)
		return []geom.Path{
			{geom.Line(f.At.Sub(half), f.At.Add(half)), geom.Line(f.At.Add(half), f.At.Add(half).Add(bill)), geom.Line(f.At.Add(half).Add(bill), f.At.Add(half.Mul(0.3)).Add(bill))},
			circle(f.At.Sub(half), size/8),
		}
	case draft.HookEyes: // a loop
		return []geom.Path{circle(f.At, size/4), {geom.Line(f.At.Sub(side), f.At.Add(side))}}
	default: // a slit with a tick at either end
		tick := f.Along.Left().Mul(math.Min(holeTick, size/8))
		a, b := f.At.Sub(half), f.At.Add(half)
		return []geom.Path{hole(f, size), {geom.Line(a.Sub(tick), a.Add(tick))}, {geom.Line(b.Sub(tick), b.Add(tick))}}
	}
}
