package intake

import (
	"context"
	"regexp"
	"strconv"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// readDXF reads an ASCII DXF of any release: what a file of a later release
// holds beside flat lines is passed over with a warning.
func readDXF(ctx context.Context, d *Drawing, data []byte, opts Options) error {
	f, err := parseDXF(ctx, d.Name, string(data))
	if err != nil {
		return err
	}
	mm, stated := f.unit()
	switch {
	case opts.UnitMM > 0:
		d.tellOtherUnit(Source{}, mm, opts.UnitMM)
		mm = opts.UnitMM
	case !stated:
		return &UnitError{Inches: strings.TrimSpace(f.header["$MEASUREMENT"]) == "0"}
	}
	d.Scale = Scale{MM: mm}
	r := &dxfReader{ctx: ctx, file: f, out: d, room: draft.MaxNodes,
		skipped: map[string]int{}, points: map[int]*markedPoints{}}
	if err := r.container(f.model(d), dxfState{toMM: geom.Scaling(mm, mm)}); err != nil {
		return err
	}
	r.tellSkipped()
	r.giveRoles()
	return nil
}

// mmPerInsUnit holds the length in mm of each value of the header's $INSUNITS.
// The table is part of the published DXF reference; the lengths are exact by the
// inch of 1959.
var mmPerInsUnit = map[int]float64{
	1: draft.MMPerInch, 2: 12 * draft.MMPerInch, 4: 1, 5: 10, 6: 1000,
	8: draft.MMPerInch / 1e6, 9: draft.MMPerInch / 1e3, 10: 36 * draft.MMPerInch,
	11: 1e-7, 12: 1e-6, 13: 1e-3, 14: 100,
}

var unitWords = map[string]float64{
	"mm": 1, "millimetre": 1, "millimetres": 1, "millimeter": 1, "millimeters": 1, "metric": 1,
	"cm": 10, "centimetre": 10, "centimetres": 10, "centimeter": 10, "centimeters": 10,
	"in": draft.MMPerInch, "inch": draft.MMPerInch, "inches": draft.MMPerInch, "english": draft.MMPerInch,
}

// unitText finds the unit where it is written in words: R12 has no other way.
var unitText = regexp.MustCompile(`(?i)\bunits?\s*(?:is|are|in|[:=])?\s*(?:1\s*)?([a-z]+)\b`)

// unit returns how many mm one unit of the file is as the header or a text or
// comment of the file states. $MEASUREMENT says only which system of patterns and
// line types goes with the drawing, so it is a hint for a person.
func (f *dxfFile) unit() (mm float64, stated bool) {
	if n, err := strconv.Atoi(strings.TrimSpace(f.header["$INSUNITS"])); err == nil && n != 0 {
		if mm, ok := mmPerInsUnit[n]; ok {
			return mm, true
		}
	}
	for _, says := range f.notes {
		for _, m := range unitText.FindAllStringSubmatch(says, 4) {
			if mm, ok := unitWords[strings.ToLower(m[1])]; ok {
				return mm, true
			}
		}
	}
	return 0, false
}

// UnitError says that a file does not state its unit, so that a person must.
type UnitError struct {
	// Inches says that the file's other settings are those of inches; else they
	// are metric or absent.
	Inches bool
}

func (e *UnitError) Error() string {
	hint := "mm, cm or inches"
	if e.Inches {
		hint = "inches, to go by its other settings, or mm or cm"
	}
	return "the drawing does not say what its unit is; say whether it was drawn in " + hint
}

// LikelyMM is how many mm the unit most likely is, to be offered and never taken.
func (e *UnitError) LikelyMM() float64 {
	if e.Inches {
		return draft.MMPerInch
	}
	return 1
}
