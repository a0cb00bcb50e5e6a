package tool

import (
	"strings"

	"hemlet/draft"
)

// alterShare is by how much a garment is altered at first, as a share of its largest piece:
// 10 mm for a person, 2 mm for a puppet.
const alterShare = 1. / 60

// alterWords are other words by which alterations are found.
var alterWords = map[draft.Alteration]string{
	draft.AlterBust:          "cup breast chest fuller flatter gapes",
	draft.AlterBelly:         "stomach tummy abdomen paunch prominent",
	draft.AlterSwayBack:      "hollow back lordosis fold small of the back",
	draft.AlterTorso:         "long short waisted body length waist",
	draft.AlterShoulderWidth: "wide shoulders",
	draft.AlterShoulderSlope: "sloped drooping straight shoulders",
	draft.AlterForwardNeck:   "head forward stoop dowager nape collar gapes",
	draft.AlterArm:           "upper arm bicep large thin arms sleeve binds",
	draft.AlterTail:          "seat bottom rump behind root",
	draft.AlterFoot:          "feet sole shoe sock boot paw",
}

// Alterations lists the alterations of the trade as they are done by hand: the same act for
// one place of the body after the other.
func Alterations() []*Asked {
	var list []*Asked
	for _, info := range draft.Alterations() {
		list = append(list, alteration(info))
	}
	return list
}

// Alteration returns how one alteration is done by hand on the garment of a piece; without
// a piece it asks for one.
func Alteration(what draft.Alteration, piece draft.ID) *Asked {
	a := alteration(what.Info())
	if piece != "" {
		a.Always["pieces"], a.Steps = pieceText(piece), nil
	}
	return a
}

func alteration(info draft.AlterationInfo) *Asked {
	more := strings.ToUpper(info.More[:1]) + info.More[1:]
	return &Asked{
		Act: draft.Alter, Icon: "fit", Word: info.Title, Under: "Alter for the body",
		Also: "alteration alter fit body " + info.More + " " + info.Less + " " + alterWords[info.What],
		Says: info.Says,
		Steps: []Step{{
			Param: "pieces", Take: TakePiece, Optional: true,
			Says: "Click a piece of the garment; Enter alone takes the only garment there is.",
		}},
		Fields: []string{"by"},
		Labels: map[string]string{"by": more + " by"},
		Hints:  map[string]string{"by": info.Asks + "; below 0: " + info.Less},
		Always: map[string]string{"what": info.What.String()},
		Begin:  alterBegin,
	}
}

// alterBegin begins with an amount that suits the garment.
func alterBegin(g Given) map[string]string {
	size := g.Size()
	for _, p := range g.Project.Pieces {
		if g.Piece() == nil && p.Ghost == 0 {
			box := p.DrawnPath().Bounds()
			size = max(size, box.W(), box.H())
		}
	}
	return map[string]string{"by": g.Round(size * alterShare)}
}
