package export

import (
	"hemlet/draft"
	"hemlet/geom"
)

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
	whole, detail := r.Sign(f)
	m := mark(InternalLine, append(whole, detail...)...)
	m.Sort, m.Solid = fastenSorts[r.Kind], true
	m.Drill = r.Kind == draft.Buttons || r.Kind == draft.Snaps || r.Kind == draft.Eyelets
	return m
}
