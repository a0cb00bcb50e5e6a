package draft

// Alteration is a change that the trade makes to a pattern for a body that is built
// otherwise in one place.
type Alteration int

const (
	AlterBust Alteration = iota
	AlterBelly
	AlterSwayBack
	AlterTorso
	AlterShoulderWidth
	AlterShoulderSlope
	AlterForwardNeck
	AlterArm
	AlterTail
	AlterFoot
)

var alterationNames = names[Alteration]{
	"bust", "belly", "sway back", "torso", "shoulder width", "shoulder slope", "forward neck", "arm", "tail", "foot",
}

func (a Alteration) String() string               { return alterationNames.text(a) }
func (a Alteration) MarshalText() ([]byte, error) { return alterationNames.marshal(a) }

// UnmarshalText reads one of bust, belly, sway back, torso, shoulder width, shoulder slope,
// forward neck, arm, tail, foot.
func (a *Alteration) UnmarshalText(b []byte) error {
	return alterationNames.unmarshal(a, b, "alteration")
}

// AlterationInfo describes an alteration to people.
type AlterationInfo struct {
	What  Alteration
	Title string
	// Asks says what of the body the amount is: so many mm more of it.
	Asks string
	// More and Less are what a body is with more and with less of it.
	More, Less string
	// Says is one sentence about when it is wanted.
	Says string
	// Moves and Stays list what the trade moves and what it leaves, on which pieces.
	Moves, Stays []string
	// Source is where the way of doing it comes from.
	Source string
}

// noSource marks what workrooms do and no book that is at hand says.
const noSource = "common practice, no source"

// alterations is the table of what moves and what stays. The amounts are mm of the body;
// how much of it falls to a piece is worked out by the plans.
var alterations = []AlterationInfo{
	{
		What: AlterBust, Title: "Full or flat bust", More: "fuller", Less: "flatter",
		Asks: "how much rounder the body is at the bust, in front",
		Says: "The front pulls across the bust or gapes at the armhole, or stands off empty.",
		Moves: []string{
			"front: the side below the bust dart, outwards by half of it and down with the dart",
			"front: the bit of the side above the dart turns about the lower third of the armhole",
			"front: the bust dart grows by the angle of that turn, the dart at the waist by what goes out",
			"front: the centre and the hem get longer by as much as the side comes down",
		},
		Stays: []string{
			"neck, shoulder and the upper half of the armhole", "the lengths of armhole and side, darts sewn",
			"the waist, where a dart takes it in or it is sewn", "the back",
		},
		Source: "slashed from the armhole over the point of the bust to the waist, and from the side to that point, and spread about the armhole: " + noSource,
	},
	{
		What: AlterBelly, Title: "Round or flat belly", More: "rounder", Less: "flatter",
		Asks: "how much rounder the body is at the belly, in front",
		Says: "The front rides up over the belly and its sides swing forward, or it hangs in folds.",
		Moves: []string{
			"front: the side swings out about the armpit, or leaves the waist, by half of it at the belly",
			"front: the centre gets longer by half of it, less and less towards the side: at the hem, or at the waist of what hangs from there",
		},
		Stays:  []string{"neck, shoulder and armhole", "the length of the side", "the waist of skirts and trousers is as long as before", "the back"},
		Source: "slashed up from the hem and across to the side, and spread: " + noSource,
	},
	{
		What: AlterSwayBack, Title: "Sway back", More: "hollower", Less: "straighter",
		Asks: "by how much the back is too long in the middle above the waist",
		Says: "Cloth lies in folds across the small of the back.",
		Moves: []string{
			"back: at the centre, what lies at the waist and below comes up by all of it, less and less towards the side",
			"skirts and trousers: the waist goes down at the centre back",
		},
		Stays:  []string{"neck, shoulder, armhole and side", "the centre stays straight and along the grain", "the front"},
		Source: "a fold across the waist that runs out to nothing at the side: " + noSource,
	},
	{
		What: AlterTorso, Title: "Long or short torso", More: "longer", Less: "shorter",
		Asks: "how much longer the body is from the armpit to the waist",
		Says: "The waist of the garment sits above or below that of the body.",
		Moves: []string{
			"front and back: the waist and all below it goes down by all of it, what lies between armpit and waist by its share",
		},
		Stays:  []string{"all above the armpit, and the bust dart", "widths", "sleeves"},
		Source: "cut across between armpit and waist and spread evenly: " + noSource,
	},
	{
		What: AlterShoulderWidth, Title: "Broad or narrow shoulder", More: "broader", Less: "narrower",
		Asks: "how much longer each shoulder is",
		Says: "The sleeve pulls across the shoulder, or hangs off it.",
		Moves: []string{
			"front and back: the tip of the shoulder goes out along the shoulder by all of it, and takes the upper half of the armhole along",
		},
		Stays:  []string{"neck, centre, side and hem", "the lower half of the armhole, and its whole length, so that the sleeve still goes in"},
		Source: "slashed down from the shoulder and out to the armhole, and swung about the armhole: " + noSource,
	},
	{
		What: AlterShoulderSlope, Title: "Sloping or square shoulder", More: "more sloping", Less: "squarer",
		Asks: "how much lower the tip of the shoulder lies",
		Says: "Folds run from the neck to the armpit, or the shoulder strains and a fold lies under the neck.",
		Moves: []string{
			"front and back: the tip of the shoulder goes down by all of it, and the armhole with it, in its shape",
			"front and back: the side gets shorter at the armpit by as much",
		},
		Stays:  []string{"the lengths of shoulder and armhole, so that the sleeve still goes in", "neck, centre, hem, and the side below the armpit"},
		Source: "School Sewing (Burton, 1916) drops the shoulder of a sloping back by half an inch more; that the armhole goes down with it: " + noSource,
	},
	{
		What: AlterForwardNeck, Title: "Forward neck", More: "further forward", Less: "further back",
		Asks: "how far forward the neck is carried",
		Says: "The neck cuts in at the throat and stands off behind.",
		Moves: []string{
			"back: the nape goes up by all of it, the neck's end of the shoulder as far, square to the shoulder",
			"front: the pit of the neck goes down by all of it, the neck's end of the shoulder as far, square to the shoulder",
		},
		Stays:  []string{"the tip of the shoulder, armhole, side and hem", "the length round the neck, so that collar and band still fit"},
		Source: "the hole for the neck is moved as a whole: " + noSource,
	},
	{
		What: AlterArm, Title: "Thick or thin arm", More: "thicker", Less: "thinner",
		Asks: "how much rounder the upper arm is",
		Says: "The sleeve binds round the upper arm, or hangs about it.",
		Moves: []string{
			"sleeve: the corners under the arm go apart by all of it",
			"sleeve: the cap gets lower by what that takes, since it stays as long as it is",
		},
		Stays:  []string{"the length of the cap, so that the sleeve still goes in", "the lengths of the sleeve's seams", "the wrist"},
		Source: "slashed down the middle and across under the cap, and spread: " + noSource,
	},
	{
		What: AlterTail, Title: "Room for a tail", More: "more", Less: "less",
		Asks: "how much rounder the body is over the root of the tail, behind",
		Says: "The back rides up over the root of a tail or strains across it.",
		Moves: []string{
			"back: the side swings out about the armpit, or leaves the waist, by half of it at the root of the tail",
			"back: the centre gets longer by half of it, less and less towards the side",
		},
		Stays:  []string{"neck, shoulder and armhole", "the length of the side", "the front"},
		Source: "as for a belly, behind: " + noSource,
	},
	{
		What: AlterFoot, Title: "Wide or narrow foot", More: "wider", Less: "narrower",
		Asks: "how much rounder the foot is at its widest place",
		Says: "The foot is squeezed across its ball, or slides about.",
		Moves: []string{
			"sole, and each piece over the foot: wider across the ball by its share, less and less towards the heel",
		},
		Stays:  []string{"the length of the foot, and the heel third", "pieces stay as long as each other where they are sewn"},
		Source: noSource,
	},
}

// Alterations lists what can be altered, in the order in which a person is offered it.
func Alterations() []AlterationInfo { return append([]AlterationInfo(nil), alterations...) }

// Info describes the alteration.
func (a Alteration) Info() AlterationInfo {
	for _, info := range alterations {
		if info.What == a {
			return info
		}
	}
	return AlterationInfo{What: a, Title: a.String()}
}

// Reads says what an amount of it means: "20 mm rounder".
func (i AlterationInfo) Reads(by float64, u Unit) string {
	if by < 0 {
		return u.Format(-by) + " " + i.Less
	}
	return u.Format(by) + " " + i.More
}
