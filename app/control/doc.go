// Package control holds the small parts that the window is made of: buttons with an
// icon, fields for lengths, choices, cards, headings. They take their colours from
// the theme and know nothing of patterns.
package control
