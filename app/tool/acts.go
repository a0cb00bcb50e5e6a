package tool

import (
	"slices"

	"hemlet/app/desk"
	"hemlet/draft"
)

// CuttingTable lists the acts of the cutting table in the order of work.
func CuttingTable() []*Asked {
	return []*Asked{
		trace, tracePart, traceLine, mirror, foldHalf, foldOn, unfold,
		split, splitLine, joinSeam, joinEdges, lengthen, fullness, slash, slashLines,
		pivot, absorb, dartSeam, dartsSeam, addDart, moveDart, setDart, deleteDart, pleats, tucks, ruffle,
		face, line, setLining, grow,
		gusset, godet, cutOut, cutOutEdge, cutOutLine, cutSlit, openSeam, stiffen,
	}
}

// ActsFor lists the acts that the menu of a thing on the bench offers: first, under no
// heading, those that are wanted most.
func ActsFor(k desk.Kind) []ActGroup {
	switch k {
	case desk.Piece:
		return []ActGroup{
			{"", []*Asked{split, lengthen, trace, mirror, line, nameEdges}},
			{"Fold", []*Asked{foldHalf, foldOn, unfold}},
			{"Cut out or stiffen", []*Asked{cutOut, stiffen}},
		}
	case desk.Edge:
		return []ActGroup{
			{"", []*Asked{fullness, addDart, split, joinSeam}},
			{"Pleats and slashes", []*Asked{slash, pleats}},
			{"Finish the edge", []*Asked{face, grow, ruffle}},
			{"Let in or cut out", []*Asked{gusset, godet, cutOutEdge, cutSlit, openSeam}},
			{"At the fitting", []*Asked{ToileNote}},
			{"Marks", []*Asked{addStretch, addRow, addPlacement, addSpanAlong, setPasses}},
		}
	case desk.Dart:
		return []ActGroup{{"", []*Asked{pivot, absorb, dartSeam, moveDart, setDart, deleteDart}}}
	case desk.Line:
		return []ActGroup{{"", []*Asked{splitLine, traceLine, slashLines, cutOutLine, addRowOnLine, deleteMark}}}
	case desk.Notch:
		return []ActGroup{{"", []*Asked{setNotch, deleteMark}}}
	case desk.Stretch, desk.Dimension:
		return []ActGroup{{"", []*Asked{deleteMark}}}
	case desk.Picture:
		return []ActGroup{{"", []*Asked{scalePicture}}}
	}
	return nil
}

// ActGroup is a heading and the acts under it.
type ActGroup struct {
	Name string
	Acts []*Asked
}

// ActGroups lists every act that can be done by hand, by heading in the order of work:
// first those of the cutting table, then what else there is.
func ActGroups() []ActGroup {
	groups := []ActGroup{{"Cutting table", CuttingTable()}, {"Marks", Marking()}, {"Seams", SeamActs()}, {"Alterations", Alterations()}}
	for _, name := range []string{"Drawing", "Edges", "Points"} {
		groups = append(groups, ActGroup{Name: name})
	}
	groups = append(groups, ActGroup{"Pieces", []*Asked{scalePiece, setOrigin, nameEdges}}, ActGroup{Name: "Bench"}, ActGroup{"Pictures", []*Asked{scalePicture}})
	at, had := map[string]int{}, map[string]bool{}
	for i, g := range groups {
		at[g.Name] = i
		for _, a := range g.Acts {
			had[a.Act.Info().Name] = true
		}
	}
	for _, act := range draft.Acts() {
		info := act.Info()
		if had[info.Name] {
			continue
		}
		i, ok := at[info.Group]
		if !ok {
			i = len(groups)
			at[info.Group] = i
			groups = append(groups, ActGroup{Name: info.Group})
		}
		asked := ByKinds(act)
		if info.Name == draft.LinkSeam.Info().Name {
			asked = Sewing()
		}
		groups[i].Acts = append(groups[i].Acts, asked)
	}
	return slices.DeleteFunc(groups, func(g ActGroup) bool { return len(g.Acts) == 0 })
}
