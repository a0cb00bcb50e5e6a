package draft

// Unit is what lengths are shown and typed in. The document itself is always in
// millimetres.
type Unit int

const (
	Millimetre Unit = iota
	Centimetre
	Inch         // decimal
	InchFraction // with fractions down to 1/32
)

var unitNames = names[Unit]{"mm", "cm", "in", "in fractions"}

func (u Unit) String() string               { return unitNames.text(u) }
func (u Unit) MarshalText() ([]byte, error) { return unitNames.marshal(u) }

// UnmarshalText reads one of mm, cm, in, in fractions.
func (u *Unit) UnmarshalText(b []byte) error { return unitNames.unmarshal(u, b, "unit") }

// Units lists every unit in the order in which a person is offered them.
func Units() []Unit { return unitNames.all() }

// MMPerInch is exact: the international inch of 1959.
const MMPerInch = 25.4

// MM returns how many millimetres one of the unit is.
func (u Unit) MM() float64 {
	switch u {
	case Centimetre:
		return 10
	case Inch, InchFraction:
		return MMPerInch
	default:
		return 1
	}
}
