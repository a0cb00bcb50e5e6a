package draft

// DraftBlockArgs are the arguments of DraftBlock.
type DraftBlockArgs struct {
	Block  string    `arg:"block" says:"the name of the block: bodice"`
	Wearer WearerRef `arg:"wearer" says:"the wearer that it is drafted for"`
	Set    Choices   `arg:"set,optional" says:"choices of the block: ease=12mm;neck_drop=5mm"`
	// Text is the text of a block that does not come with Hemlet, empty for those
	// that do; Block is then the name of its file for errors.
	Text string `arg:"-"`
}

// SetChoiceArgs are the arguments of SetChoice.
type SetChoiceArgs struct {
	Derivation DerivationRef `arg:"draft" says:"the drafted block, by its name or id"`
	Name       string        `arg:"name" says:"the choice"`
	Value      string        `arg:"value" says:"a length with its unit, or a number where the choice is one"`
}

// ClearChoiceArgs are the arguments of ClearChoice.
type ClearChoiceArgs struct {
	Derivation DerivationRef `arg:"draft" says:"the drafted block, by its name or id"`
	Name       string        `arg:"name" says:"the choice"`
}

// RenewBlockArgs are the arguments of RenewBlock.
type RenewBlockArgs struct {
	Derivation DerivationRef `arg:"draft" says:"the drafted block, by its name or id"`
	// Text is the present text of a block that does not come with Hemlet, empty for
	// those that do.
	Text string `arg:"-"`
}

// UseWearerArgs are the arguments of UseWearer.
type UseWearerArgs struct {
	Derivation DerivationRef `arg:"draft" says:"the drafted block, by its name or id"`
	Wearer     WearerRef     `arg:"wearer" says:"the wearer"`
}

// KeepPieceArgs are the arguments of KeepPiece.
type KeepPieceArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
}

// RedrawPieceArgs are the arguments of RedrawPiece.
type RedrawPieceArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
}

// DerivationRef names a drafted block by the block's name or by its id.
type DerivationRef ID

// Choices are settings of a block. As text they are NAME=VALUE with ";" between.
type Choices []Setting
