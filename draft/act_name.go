package draft

import "fmt"

// RenamePieceArgs are the arguments of RenamePiece.
type RenamePieceArgs struct {
	Piece PieceRef `arg:"piece" says:"the piece"`
	Name  string   `arg:"name" says:"its new name"`
}

// RenamePiece gives a piece another name. Two pieces may bear one name: the front
// of the shell and the front of the lining do.
var RenamePiece = register(Info{
	Name: "rename-piece", Title: "Rename piece", Group: groupPieces,
	Says: "Gives a piece another name.",
}, func(p *Project, a RenamePieceArgs) (Outcome, error) {
	name, err := neededName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	out, err := eachPiece(p, []PieceRef{a.Piece}, func(q *Piece) error {
		q.Name = name
		return nil
	})
	out.subject = name
	return out, err
})

// SetGarmentArgs are the arguments of SetGarment.
type SetGarmentArgs struct {
	Pieces  []PieceRef `arg:"pieces" says:"the pieces"`
	Garment string     `arg:"garment" says:"the name of the garment, empty for none"`
}

// SetGarment says to which garment pieces belong.
var SetGarment = register(Info{
	Name: "set-garment", Title: "Set garment", Group: groupPieces,
	Says: "Says to which garment pieces belong.",
}, func(p *Project, a SetGarmentArgs) (Outcome, error) {
	name, err := cleanName(a.Garment)
	if err != nil {
		return Outcome{}, err
	}
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Garment = name
		return nil
	})
})

// SetNoteArgs are the arguments of SetNote.
type SetNoteArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
	Note   string     `arg:"note" says:"one line to print under the label, empty for none"`
}

// SetNote sets the line that is printed under the label of pieces.
var SetNote = register(Info{
	Name: "set-note", Title: "Set note", Group: groupPieces,
	Says: "Sets the line that is printed under the label of a piece.",
}, func(p *Project, a SetNoteArgs) (Outcome, error) {
	note, err := cleanName(a.Note)
	if err != nil {
		return Outcome{}, err
	}
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Note = note
		return nil
	})
})

// SetLayerArgs are the arguments of SetLayer.
type SetLayerArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
	Layer  Layer      `arg:"layer" says:"the layer of the garment"`
}

// SetLayer says on which layer of the garment pieces lie.
var SetLayer = register(Info{
	Name: "set-layer", Title: "Set layer", Group: groupPieces,
	Says: "Says on which layer of the garment a piece lies.",
}, func(p *Project, a SetLayerArgs) (Outcome, error) {
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Layer = a.Layer
		return nil
	})
})

// RenameProjectArgs are the arguments of RenameProject.
type RenameProjectArgs struct {
	Name string `arg:"name" says:"its new name"`
}

// RenameProject gives the project another name; its file keeps its own.
var RenameProject = register(Info{
	Name: "rename-project", Title: "Rename project", Group: groupProject,
	Says: "Gives the project another name.",
}, func(p *Project, a RenameProjectArgs) (Outcome, error) {
	name, err := neededName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	next := p.shallow()
	next.Name = name
	return Outcome{Project: next, subject: name}, nil
})

// SetUnitArgs are the arguments of SetUnit.
type SetUnitArgs struct {
	Unit Unit `arg:"unit" says:"the unit"`
}

// SetUnit sets the unit in which lengths are shown and typed.
var SetUnit = register(Info{
	Name: "set-unit", Title: "Set unit", Group: groupProject,
	Says: "Sets the unit in which lengths are shown and typed; nothing changes its size.",
}, func(p *Project, a SetUnitArgs) (Outcome, error) {
	next := p.shallow()
	next.Unit = a.Unit
	return Outcome{Project: next, subject: fmt.Sprint(a.Unit)}, nil
})
