package draft

import "slices"

// EndFitArgs are the arguments of EndFit.
type EndFitArgs struct {
	Fit *FitRef `arg:"fit" says:"the fitted pattern; without it, the only one there is"`
}

// EndFit takes a fit back: the pieces are as the pattern came, with what was changed by
// hand since carried over where that can be, and follow no wearer any more.
var EndFit = register(Info{
	Name: "end-fit", Title: "Take the pattern as it came", Group: groupFit,
	Says: "Takes a fit back: pieces are as they were before it, and follow no wearer; what was changed by hand since is carried over.",
}, endFit)

func endFit(p *Project, a EndFitArgs) (Outcome, error) {
	d, err := p.fitRef(a.Fit)
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{Project: p.shallow(), unit: p.Unit, subject: p.derivationLabel(d), generated: true}
	out.Project.Pieces = slices.Clone(p.Pieces)
	scale := 1.0
	if made := p.fittedOf(d); made.err == nil {
		scale = made.result.Scale
	}
	for i, piece := range p.Pieces {
		if p.FitOf(piece) != d {
			continue
		}
		source := d.Source.Piece(piece.ID)
		if source == nil {
			continue
		}
		f, err := followNext(piece, source.clone().madeBy(d.ID, piece.Derived.Role), false)
		q := f.piece
		if err != nil {
			q = piece
			out.say("%s stays as it was fitted: %s", piece.label(), sentence(err))
		}
		q = q.clone()
		q.Derived = nil
		out.Project.Pieces[i] = q
	}
	if scale > 0 {
		out.Project = out.Project.apart(p, d, 1/scale)
	}
	out.Project.dropIdle(p)
	return out, nil
}
