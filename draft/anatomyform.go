package draft

// anatomyForm is a kind of piece as it lies upright with its middle at the left: which
// edges it has one after the other, counter-clockwise, and what each looks like.
//
// The forms are those of the trade; what is expected of each edge is our own reading of
// drafts. (Common practice, no source.)
type anatomyForm struct {
	name  string // for people: "half of a front or a back"
	part  PiecePart
	half  bool
	slots []formSlot
	// whole adds to or takes from how well the edges fit one by one.
	whole func(f *anatomyFrame, looks []*edgeLook) float64
}

// formSlot is one edge of a form.
type formSlot struct {
	part EdgePart
	// without is how well a piece fits that lacks it, 0 where none may.
	without float64
	fits    func(*edgeLook) float64
}

// How an edge of each kind looks in the frame of a half piece, unless the form says else.
var (
	looksCentre = func(l *edgeLook) float64 {
		return overall(1-rise(l.off, 0, 0.06), rise(l.upright(), 0.8, 0.99), about(l.mean.X, 0, 0.12), about(l.end.Y, 0, 0.2), rise(l.start.Y, 0.3, 0.6), rise(-l.along.Y, 0, 1))
	}
	looksHem = func(l *edgeLook) float64 {
		return overall(about(l.mean.Y, 0.02, 0.15), rise(l.level(), 0.6, 0.97), about(l.start.X, 0, 0.35), about(l.end.X, 1, 0.4), rise(l.along.X, 0, 1), 1-rise(l.off, 0.1, 0.4))
	}
	looksSide = func(l *edgeLook) float64 {
		return overall(about(l.start.Y, 0, 0.25), rise(l.upright(), 0.6, 0.95), rise(l.mean.X, 0.5, 0.8), rise(l.along.Y, 0, 1), 1-rise(l.off, 0.08, 0.3), rise(l.end.Y, 0.1, 0.35))
	}
	looksArmhole = func(l *edgeLook) float64 {
		return cutIn(l, overall(rise(l.mean.Y, 0.4, 0.6), rise(l.mean.X, 0.4, 0.65), rise(l.along.Y, 0, 1), rise(l.upright(), 0.4, 0.8), rise(l.end.Y, 0.7, 0.85), rise(-l.along.X, -0.05*l.length, 0.05*l.length)))
	}
	looksShoulder = func(l *edgeLook) float64 {
		return overall(1-rise(l.off, 0.02, 0.12), rise(l.mean.Y, 0.75, 0.9), rise(-l.along.X, 0, 1), rise(l.level(), 0.55, 0.85), rise(l.along.Y, -0.15*l.length, 0.02*l.length), rise(l.end.Y, 0.85, 0.97))
	}
	looksNeck = func(l *edgeLook) float64 {
		return overall(rise(-l.bulge, -0.03, 0.05), rise(l.start.Y, 0.85, 0.97), about(l.end.X, 0, 0.15), rise(-l.along.X, 0, 1), rise(l.mean.Y, 0.6, 0.8), 1-rise(l.along.Y, 0, 0.2*l.length), 1-rise(l.mean.X, 0.4, 0.7))
	}
	looksWaist = func(l *edgeLook) float64 {
		return overall(rise(l.mean.Y, 0.75, 0.95), rise(l.level(), 0.75, 0.97), rise(-l.along.X, 0, 1), about(l.bulge, 0, 0.08), about(l.end.X, 0, 0.4), 1-rise(l.off, 0.1, 0.3))
	}
	looksLeft = func(l *edgeLook) float64 {
		return overall(about(l.end.Y, 0, 0.2), rise(l.upright(), 0.6, 0.95), rise(-l.along.Y, 0, 1), rise(0.5-l.mean.X, 0, 0.3), 1-rise(l.off, 0.08, 0.3), rise(l.start.Y, 0.1, 0.35))
	}
)

// anatomyForms lists the forms that a piece is held against.
var anatomyForms = []*anatomyForm{
	{
		name: "half of a front or a back", part: PartTrunk, half: true,
		slots: []formSlot{
			{AtHem, 0, looksHem}, {AtSide, 0, looksSide}, {AtArmhole, 0.2, looksArmhole},
			{AtShoulder, 0.2, looksShoulder}, {AtNeck, 0, looksNeck}, {AtCentre, 0, looksCentre},
		},
		whole: func(f *anatomyFrame, l []*edgeLook) float64 {
			if l[2] == nil && l[3] == nil {
				return -1 // without shoulder and armhole, nothing tells it from any other strip
			}
			return -0.5 * rise(f.size.X/f.size.Y, 2, 3)
		},
	},
	{
		name: "a whole front or back", part: PartTrunk,
		slots: []formSlot{
			{AtHem, 0, looksHem}, {AtSide, 0, looksSide}, {AtArmhole, 0.2, looksArmhole}, {AtShoulder, 0.2, looksRightShoulder},
			{AtNeck, 0, looksWholeNeck}, {AtShoulder, 0.2, looksLeftShoulder}, {AtArmhole, 0.2, looksLeftArmhole}, {AtSide, 0, looksLeft},
		},
		whole: mirrorsItself,
	},
	{
		name: "a sleeve", part: PartSleeve,
		slots: []formSlot{{AtWrist, 0, looksHem}, {AtUnderarm, 0, looksUnderarm}, {AtCap, 0, looksCap}, {AtUnderarm, 0, looksLeftUnderarm}},
		whole: func(f *anatomyFrame, l []*edgeLook) float64 {
			// The two sides of a sleeve are sewn to each other, and an arm grows no wider
			// towards the hand. What is far wider than long, or far longer than wide, is
			// rather a collar.
			return 0.12*about(l[1].length/l[3].length, 1, 0.04) - 0.1 - 0.15*rise(l[0].length/l[2].along.Len(), 1.05, 1.5) - 0.5*rise(f.size.X/f.size.Y, 2.2, 3) - 0.5*rise(f.size.Y/f.size.X, 2.6, 3.1)
		},
	},
	{
		name: "half of a sleeve", part: PartSleeve, half: true,
		slots: []formSlot{{AtWrist, 0, looksHem}, {AtUnderarm, 0, looksUnderarm}, {AtCap, 0, looksHalfCap}, {AtCentre, 0, looksCentre}},
		whole: func(f *anatomyFrame, l []*edgeLook) float64 { return -0.12 - 0.4*rise(f.size.X/f.size.Y, 1.3, 2) },
	},
	{
		name: "half of a skirt panel", part: PartSkirt, half: true,
		slots: []formSlot{{AtHem, 0, looksHem}, {AtSide, 0, looksSkirtSide}, {AtWaist, 0, looksWaist}, {AtCentre, 0, looksCentre}},
		whole: func(f *anatomyFrame, l []*edgeLook) float64 { return -0.02 - asSkirt(f, l) },
	},
	{
		name: "a skirt panel", part: PartSkirt,
		slots: []formSlot{{AtHem, 0, looksHem}, {AtSide, 0, looksSkirtSide}, {AtWaist, 0, looksWaist}, {AtSide, 0, looksLeft}},
		whole: func(f *anatomyFrame, l []*edgeLook) float64 { return -0.03 - asSkirt(f, l) },
	},
	{
		name: "half of a pair of legs", part: PartLeg,
		slots: []formSlot{
			{AtAnkle, 0, looksLegHem}, {AtInsideLeg, 0, looksInsideLeg}, {AtCrotch, 0, looksCrotch}, {AtWaist, 0, looksWaist}, {AtSide, 0, looksLegSide},
		},
	},
}

// The edges of pieces that are drawn whole, and of sleeves and legs.
var (
	looksRightShoulder = func(l *edgeLook) float64 {
		return overall(1-rise(l.off, 0.02, 0.12), rise(l.mean.Y, 0.75, 0.9), rise(-l.along.X, 0, 1), rise(l.level(), 0.55, 0.85), rise(l.along.Y, -0.15*l.length, 0.02*l.length), rise(l.mean.X, 0.5, 0.6))
	}
	looksLeftShoulder = func(l *edgeLook) float64 {
		return overall(1-rise(l.off, 0.02, 0.12), rise(l.mean.Y, 0.75, 0.9), rise(-l.along.X, 0, 1), rise(l.level(), 0.55, 0.85), rise(-l.along.Y, -0.15*l.length, 0.02*l.length), rise(0.5-l.mean.X, 0, 0.1))
	}
	looksWholeNeck = func(l *edgeLook) float64 {
		return overall(rise(-l.bulge, -0.03, 0.05), rise(l.start.Y, 0.8, 0.95), rise(l.end.Y, 0.8, 0.95), about(l.mean.X, 0.5, 0.1), rise(-l.along.X, 0, 1), rise(l.level(), 0.8, 0.98))
	}
	looksLeftArmhole = func(l *edgeLook) float64 {
		return cutIn(l, overall(rise(l.mean.Y, 0.4, 0.6), rise(0.5-l.mean.X, 0, 0.15), rise(-l.along.Y, 0, 1), rise(l.upright(), 0.4, 0.8), rise(l.start.Y, 0.7, 0.85)))
	}
	looksUnderarm = func(l *edgeLook) float64 {
		return overall(about(l.start.Y, 0, 0.15), rise(l.upright(), 0.6, 0.95), rise(l.mean.X, 0.6, 0.85), rise(l.along.Y, 0, 1), 1-rise(l.off, 0.08, 0.3), about(l.end.X, 1, 0.2))
	}
	looksLeftUnderarm = func(l *edgeLook) float64 {
		return overall(about(l.end.Y, 0, 0.15), rise(l.upright(), 0.6, 0.95), rise(0.4-l.mean.X, 0, 0.25), rise(-l.along.Y, 0, 1), 1-rise(l.off, 0.08, 0.3), about(l.start.X, 0, 0.2))
	}
	looksCap = func(l *edgeLook) float64 {
		return overall(rise(l.bulge, -0.01, 0.08), about(l.start.X, 1, 0.2), about(l.end.X, 0, 0.2), rise(-l.along.X, 0, 1), rise(l.level(), 0.85, 0.98), rise(l.mean.Y, 0.4, 0.7), 1-rise(l.bulge, 0.6, 1))
	}
	looksHalfCap = func(l *edgeLook) float64 {
		return overall(rise(l.bulge, -0.04, 0.02), about(l.start.X, 1, 0.2), about(l.end.X, 0, 0.1), rise(l.along.Y, 0, 1), rise(l.end.Y, 0.9, 0.98), rise(-l.along.X, 0, 1))
	}
	looksSkirtSide = func(l *edgeLook) float64 {
		return overall(about(l.start.Y, 0, 0.2), rise(l.upright(), 0.6, 0.95), rise(l.mean.X, 0.5, 0.8), rise(l.along.Y, 0, 1), 1-rise(l.off, 0.08, 0.3), rise(l.end.Y, 0.8, 0.95))
	}
	looksLegHem = func(l *edgeLook) float64 {
		return overall(about(l.mean.Y, 0.02, 0.15), rise(l.level(), 0.8, 0.98), rise(l.along.X, 0, 1), 1-rise(l.off, 0.05, 0.2))
	}
	looksInsideLeg = func(l *edgeLook) float64 {
		return overall(about(l.start.Y, 0, 0.1), rise(l.upright(), 0.6, 0.95), rise(l.along.Y, 0, 1), rise(l.mean.X, 0.5, 0.7), about(l.end.X, 1, 0.12), 1-rise(l.end.Y, 0.85, 0.98))
	}
	looksCrotch = func(l *edgeLook) float64 {
		return cutIn(l, overall(about(l.start.X, 1, 0.12), rise(l.along.Y, 0, 1), rise(-l.along.X, 0, 0.1*l.length), rise(l.end.Y, 0.8, 0.95), rise(l.mean.Y, 0.4, 0.65)))
	}
	looksLegSide = func(l *edgeLook) float64 {
		return overall(about(l.end.Y, 0, 0.1), rise(l.upright(), 0.8, 0.97), rise(-l.along.Y, 0, 1), rise(0.4-l.mean.X, 0, 0.2), rise(l.start.Y, 0.85, 0.97), 1-rise(l.off, 0.08, 0.3))
	}
)

// cutIn lowers how well an edge fits where it does not cut into the piece, as an armhole or
// a crotch does.
func cutIn(l *edgeLook, q float64) float64 {
	return q * (0.4 + 0.6*rise(-l.bulge, -0.02, 0.04))
}

// asSkirt is what tells against a skirt: a waist that is longer than the hem, and a length
// that is small beside the width, as of a collar.
func asSkirt(f *anatomyFrame, l []*edgeLook) float64 {
	return 0.3*rise(l[2].along.Len()/l[0].length, 1.02, 1.2) + 0.5*rise(f.size.X/f.size.Y, 1.8, 2.6)
}

// mirrorsItself is how well the two sides of a whole front or back match.
func mirrorsItself(_ *anatomyFrame, l []*edgeLook) float64 {
	sum, n := 0.0, 0.0
	for _, pair := range [][2]int{{1, 7}, {2, 6}, {3, 5}} {
		a, b := l[pair[0]], l[pair[1]]
		if a == nil || b == nil {
			if (a == nil) != (b == nil) {
				n++
			}
			continue
		}
		n++
		sum += about(a.length/b.length, 1, 0.05)
	}
	if n == 0 {
		return -0.1
	}
	return 0.2*sum/n - 0.16
}
