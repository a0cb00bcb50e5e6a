package paint

import "image/color"

// Token names a colour by what it is for; the palette says what it looks like.
type Token uint8

// The tokens. None paints nothing.
const (
	None       Token = iota
	Bench            // the drawing surface
	Rule             // squares of the grid
	RuleStrong       // every fifth square
	Cloth            // the inside of a piece
	Ink              // cut lines, text
	Faint            // text of second rank
	Chalk            // selection, active tool, focus
	ChalkTint        // ground behind chalk
	Pin              // problems
	PinTint          // ground behind pin
	PinText          // text that tells of a problem
	Moss             // holds true
	MossTint         // ground behind moss
	MossText         // text that tells that something holds
	Ochre            // look again
	OchreTint        // ground behind ochre
	OchreText        // text that asks to look again
	Level            // level lines of the wearer
	Node             // the inside of nodes
	Plate            // ground of the label that follows a gesture
	PlateText        // text on it
	own              // the colour is in Colour.Own
)

// Tokens is how many tokens a palette holds.
const Tokens = int(own)

// Palette gives each token its colour.
type Palette [Tokens]color.NRGBA

// Colour is a token made see-through: Fade 0 is solid, 255 invisible.
type Colour struct {
	Token Token
	Fade  uint8
	rgb   [3]uint8
}

// Of returns the solid colour of the token.
func Of(t Token) Colour { return Colour{Token: t} }

// Faded returns the colour of the token at the share of opacity, 0 to 1.
func Faded(t Token, opacity float64) Colour {
	return Colour{Token: t, Fade: uint8(255 - 255*min(max(opacity, 0), 1) + 0.5)}
}

// Custom returns a colour that is in no palette, such as that of a cloth.
func Custom(c color.NRGBA) Colour {
	return Colour{Token: own, Fade: 255 - c.A, rgb: [3]uint8{c.R, c.G, c.B}}
}

// ink is a colour ready to be laid down: its channels and its opacity.
type ink struct {
	rgba  uint32 // red in the lowest byte, alpha 255
	alpha uint32 // 0 to 255
}

// ink looks the colour up in the palette.
func (p *Palette) ink(c Colour) ink {
	n := color.NRGBA{R: c.rgb[0], G: c.rgb[1], B: c.rgb[2], A: 255}
	switch {
	case c.Token == None || c.Token > own:
		return ink{}
	case c.Token != own:
		n = p[c.Token]
	}
	return ink{packed(n), uint32(n.A) * uint32(255-c.Fade) / 255}
}

// packed returns the channels of c as they lie in an image.RGBA, opaque.
func packed(c color.NRGBA) uint32 {
	return uint32(c.R) | uint32(c.G)<<8 | uint32(c.B)<<16 | 0xff<<24
}
