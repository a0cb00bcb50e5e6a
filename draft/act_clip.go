package draft

// ClipCurvesArgs are the arguments of ClipCurves.
type ClipCurvesArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
}

// ClipCurves marks where the allowances of pieces are clipped: in every hollow in which they
// would not turn. Hollows that are marked already stay as they are.
var ClipCurves = register(Info{
	Name: "clip-curves", Title: "Mark hollows to be clipped", Group: groupMarks,
	Says: "Marks the hollows of necks, armholes and the like in which the allowance is clipped so that it turns.",
}, func(p *Project, a ClipCurvesArgs) (Outcome, error) {
	ids := p.newIDs()
	marked := 0
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		flat, err := Unfold(q)
		if err != nil {
			return err
		}
		for _, fe := range flat.Edges {
			if fe.Half == Far || fe.Edge.Kind == FoldEdge {
				continue
			}
			for _, h := range hollows(fe) {
				s := Stretch{Edge: fe.Edge.ID, Kind: ClipStretch, From: h.from, To: h.to}
				if q.clipped(s.Edge, s.From, s.To) || s.To-s.From < shortestShare || q.apart(s) != nil {
					continue
				}
				s.ID = ids.make(kindStretch)
				q.Stretches = append(q.Stretches, s)
				marked++
			}
		}
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	if marked == 0 {
		out.say("Nothing hollows so tightly that it has to be clipped.")
	}
	out.Project.NextID = ids.next
	return out, nil
})
