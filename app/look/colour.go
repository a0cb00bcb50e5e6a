package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/bench/paint"
)

// The colours by what they are for. The names work wherever the toolkit takes the
// name of a colour.
const (
	Paper      fyne.ThemeColorName = "hemlet.paper"      // the window
	Bench      fyne.ThemeColorName = "hemlet.bench"      // the drawing surface
	Card       fyne.ThemeColorName = "hemlet.card"       // fields, cards, menus
	Rule       fyne.ThemeColorName = "hemlet.rule"       // 10 mm grid
	RuleStrong fyne.ThemeColorName = "hemlet.ruleStrong" // 50 mm grid
	Border     fyne.ThemeColorName = "hemlet.border"     // round cards, between panes
	Cloth      fyne.ThemeColorName = "hemlet.cloth"      // the inside of a piece
	Ink        fyne.ThemeColorName = "hemlet.ink"        // cut lines, text
	Faint      fyne.ThemeColorName = "hemlet.faint"      // text of second rank
	Chalk      fyne.ThemeColorName = "hemlet.chalk"      // selection, active tool, focus
	ChalkTint  fyne.ThemeColorName = "hemlet.chalkTint"  // ground behind chalk
	OnChalk    fyne.ThemeColorName = "hemlet.onChalk"    // text on a chalk ground
	Pin        fyne.ThemeColorName = "hemlet.pin"        // problems
	PinTint    fyne.ThemeColorName = "hemlet.pinTint"    // ground behind them
	PinText    fyne.ThemeColorName = "hemlet.pinText"    // text about them
	OnPin      fyne.ThemeColorName = "hemlet.onPin"      // what stands on a pin ground
	Moss       fyne.ThemeColorName = "hemlet.moss"       // holds true
	MossTint   fyne.ThemeColorName = "hemlet.mossTint"
	MossText   fyne.ThemeColorName = "hemlet.mossText"
	Ochre      fyne.ThemeColorName = "hemlet.ochre" // look again
	OchreTint  fyne.ThemeColorName = "hemlet.ochreTint"
	OchreText  fyne.ThemeColorName = "hemlet.ochreText"
	Level      fyne.ThemeColorName = "hemlet.level"     // the wearer's level lines
	Node       fyne.ThemeColorName = "hemlet.node"      // the inside of nodes
	Plate      fyne.ThemeColorName = "hemlet.plate"     // ground of the label at a gesture
	PlateText  fyne.ThemeColorName = "hemlet.plateText" // text on it
	Disabled   fyne.ThemeColorName = "hemlet.disabled"  // what cannot be used now
	Hover      fyne.ThemeColorName = "hemlet.hover"     // laid over what the pointer is on
	Pressed    fyne.ThemeColorName = "hemlet.pressed"   // laid over what is pressed
	Focus      fyne.ThemeColorName = "hemlet.focus"     // laid over what has the keys
	Shadow     fyne.ThemeColorName = "hemlet.shadow"
	ScrollBar  fyne.ThemeColorName = "hemlet.scrollBar"
)

// pair is a colour in the light and in the dark set.
type pair struct{ light, dark color.NRGBA }

// rgb returns the opaque pair 0xRRGGBB.
func rgb(light, dark uint32) pair { return rgba(light<<8|0xff, dark<<8|0xff) }

// rgba returns the pair 0xRRGGBBAA.
func rgba(light, dark uint32) pair {
	c := func(v uint32) color.NRGBA {
		return color.NRGBA{R: uint8(v >> 24), G: uint8(v >> 16), B: uint8(v >> 8), A: uint8(v)}
	}
	return pair{c(light), c(dark)}
}

var colours = map[fyne.ThemeColorName]pair{
	Paper:      rgb(0xF7F3EA, 0x20262B),
	Bench:      rgb(0xFDFBF6, 0x171C20),
	Card:       rgb(0xFFFFFF, 0x2A3138),
	Rule:       rgb(0xE6DFD0, 0x2B333A),
	RuleStrong: rgb(0xDDD3BF, 0x38424B),
	Border:     rgb(0xD9D1C0, 0x3C464E),
	Cloth:      rgb(0xF3EAD6, 0x2E3439),
	Ink:        rgb(0x24303A, 0xE9E4D8),
	Faint:      rgb(0x5F6873, 0x9AA3AB),
	Chalk:      rgb(0x2C6E8F, 0x7FBAD6),
	ChalkTint:  rgb(0xDCEAF0, 0x243C48),
	OnChalk:    rgb(0xFFFFFF, 0x171C20),
	Pin:        rgb(0xC8502F, 0xF08A68),
	PinTint:    rgb(0xF8E3DB, 0x4A2A20),
	PinText:    rgb(0xA83C1B, 0xF08A68),
	OnPin:      rgb(0xFFFFFF, 0x171C20),
	Moss:       rgb(0x4B7A47, 0x8CBF86),
	MossTint:   rgb(0xE3EDE0, 0x26382A),
	MossText:   rgb(0x446F40, 0x8CBF86),
	Ochre:      rgb(0x9A6A12, 0xD9A94A),
	OchreTint:  rgb(0xF6EBD2, 0x40351F),
	OchreText:  rgb(0x875B0C, 0xD9A94A),
	Level:      rgb(0x7A5C8E, 0xB79CCB),
	Node:       rgb(0xFFFFFF, 0x171C20),
	Plate:      rgb(0x24303A, 0xE9E4D8),
	PlateText:  rgb(0xFFFFFF, 0x171C20),
	Disabled:   rgb(0xB5B2A9, 0x5D666E),
	Hover:      rgba(0x24303A12, 0xE9E4D814),
	Pressed:    rgba(0x24303A24, 0xE9E4D828),
	Focus:      rgba(0x2C6E8F30, 0x7FBAD640),
	Shadow:     rgba(0x24303A30, 0x00000070),
	ScrollBar:  rgba(0x24303A50, 0xE9E4D850),
}

// Colour returns the colour with the name in the variant; any variant but dark
// counts as light. It reports false if the name is none of ours.
func Colour(name fyne.ThemeColorName, v fyne.ThemeVariant) (color.NRGBA, bool) {
	p, ok := colours[name]
	if v == theme.VariantDark {
		return p.dark, ok
	}
	return p.light, ok
}

// benchColours says which of our colours stands for each token of the bench.
var benchColours = [paint.Tokens]fyne.ThemeColorName{
	paint.Bench: Bench, paint.Rule: Rule, paint.RuleStrong: RuleStrong, paint.Cloth: Cloth,
	paint.Ink: Ink, paint.Faint: Faint, paint.Chalk: Chalk, paint.ChalkTint: ChalkTint,
	paint.Pin: Pin, paint.PinTint: PinTint, paint.PinText: PinText,
	paint.Moss: Moss, paint.MossTint: MossTint, paint.MossText: MossText,
	paint.Ochre: Ochre, paint.OchreTint: OchreTint, paint.OchreText: OchreText,
	paint.Level: Level, paint.Node: Node, paint.Plate: Plate, paint.PlateText: PlateText,
}

// Palette returns the colours of the bench in the variant.
func Palette(v fyne.ThemeVariant) *paint.Palette {
	var p paint.Palette
	for token, name := range benchColours {
		if name != "" {
			p[token], _ = Colour(name, v)
		}
	}
	return &p
}
