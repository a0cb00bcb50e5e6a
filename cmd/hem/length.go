package main

import "hemlet/draft"

// length is a length argument in mm; a bare number is refused.
type length float64

// UnmarshalText reads a length with its unit.
func (l *length) UnmarshalText(text []byte) error {
	mm, err := draft.ParseLength(string(text))
	*l = length(mm)
	return err
}
