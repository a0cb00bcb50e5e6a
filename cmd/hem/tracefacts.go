package main

import (
	"errors"
	"fmt"
	"strings"

	"hemlet/draft"
	"hemlet/draft/tracing"
	"hemlet/geom/trace"
)

// The JSON that scripts rely on. Lengths end in _mm, areas in _mm2.
type (
	traceJSON struct {
		Pictures []tracedPictureJSON `json:"pictures"`
		Pieces   []tracedPieceJSON   `json:"pieces"`
		Findings []findingJSON       `json:"findings"`
	}
	tracedPictureJSON struct {
		File string `json:"file"`
		// By is length, resolution, frame or grid.
		By         string  `json:"by"`
		MMPerPixel float64 `json:"mm_per_px"` // in its middle
		Error      float64 `json:"error_mm"`  // 0 where it cannot be told
		// Followed is edges or strokes.
		Followed string `json:"followed"`
		Pieces   int    `json:"pieces"`
		Open     int    `json:"open_lines"`
		Cut      int    `json:"cut_off"`
		Specks   int    `json:"specks"`
		Letters  int    `json:"lettering"`
	}
	// tracedPieceJSON tells of the line that was followed, be it that of cutting or of
	// stitching.
	tracedPieceJSON struct {
		Name     string  `json:"name"`
		File     string  `json:"file"`
		Area     float64 `json:"area_mm2"`
		Outline  float64 `json:"outline_mm"`
		Segments int     `json:"segments"`
		Corners  int     `json:"corners"`
		Inner    int     `json:"inner_lines"`
		Holes    int     `json:"holes"`
		Median   float64 `json:"off_median_mm"`
		Largest  float64 `json:"off_largest_mm"`
	}
)

// note takes down what was found in a picture, and what is wrong with it.
func (w *tracer) note(in tracedPicture, pic *draft.Picture, found *tracing.Traced) {
	w.facts.Pictures = append(w.facts.Pictures, tracedPictureJSON{
		File: in.label, By: pic.True.By.String(), MMPerPixel: pic.Scale(), Error: pic.True.Error,
		Followed: found.Settings.Manner.String(), Pieces: len(found.Outlines), Open: len(found.Open), Cut: len(found.Cut),
		Specks: found.Specks, Letters: found.Lettering,
	})
	grain := 0
	for _, o := range found.Outlines {
		w.notePiece(in, o)
		if tracing.Grained(o, nil) {
			grain++
		}
	}
	if grain > 0 {
		w.find(draft.Remark, in.label, fmt.Sprintf("The long straight line inside was taken for the grain line, on %s.", count(grain, "piece")), 0, 0)
	}
	if len(found.Outlines) == 0 {
		w.find(draft.Problem, in.label, nothingIn(found), 0, 0)
		return
	}
	large, small := *found, *found
	large.Specks, large.Lettering = 0, 0
	small.Open, small.Cut, small.Says = nil, nil, nil
	for _, says := range large.LeftOut() {
		w.find(draft.LookAgain, in.label, says, 0, 0) // what may have been a piece
	}
	for _, says := range small.LeftOut() {
		w.find(draft.Remark, in.label, says, 0, 0)
	}
}

func (w *tracer) notePiece(in tracedPicture, o trace.Outline) {
	corners := 0
	for _, c := range o.Corner {
		if c {
			corners++
		}
	}
	w.facts.Pieces = append(w.facts.Pieces, tracedPieceJSON{
		File: in.label, Area: o.Path.Area(), Outline: o.Path.Length(), Segments: len(o.Path), Corners: corners,
		Inner: len(o.Inner), Holes: len(o.Holes), Median: o.Off.Median, Largest: o.Off.Largest,
	})
}

// nothingIn says that no line closes in a picture, and what may help.
func nothingIn(found *tracing.Traced) string {
	says := "nothing in it closes, so no piece was made"
	if n := len(found.Open); n > 0 {
		says += fmt.Sprintf("; lines left open: %d, the narrowest gap is %.1f mm", n, nearestGap(found.Open))
	}
	if len(found.Cut) > 0 {
		says += "; what is drawn runs out of the picture"
	}
	other := "strokes"
	if found.Settings.Manner == trace.Drawn {
		other = "edges"
	}
	return says + fmt.Sprintf(". Try --follow %s, a wider --gap, or --dark for light on dark", other)
}

func nearestGap(open []trace.Stray) float64 {
	least := 0.0
	for _, s := range open {
		if s.Gap > 0 && (least == 0 || s.Gap < least) {
			least = s.Gap
		}
	}
	return least
}

// name finishes the facts when the pieces have their names: those that lie too far off
// their ink are told.
func (w *tracer) name(made []*draft.Piece) {
	tolerance := float64(w.verb.Tolerance)
	for i, piece := range made {
		f := &w.facts.Pieces[i]
		f.Name = piece.Name
		if f.Largest > tolerance {
			w.find(draft.Problem, piece.Name, fmt.Sprintf("its line lies up to %s off the ink, further than %s: look at it in Trace, or allow more with --tolerance",
				draft.Millimetre.Format(f.Largest), draft.Millimetre.Format(tolerance)), f.Largest, tolerance)
		}
	}
}

func (w *tracer) find(level draft.Gravity, about, says string, value, limit float64) {
	f := draft.Finding{Level: level, About: about, Says: says, Value: value, Limit: limit}
	w.findings = append(w.findings, f)
	w.facts.Findings = append(w.facts.Findings, findingJSON{Level: level.String(), About: about, Says: says, Value: value, Limit: limit})
}

// nothing is the error of pictures in none of which a line closes.
func (w *tracer) nothing() error {
	var says []string
	for _, f := range w.findings {
		if f.Level == draft.Problem {
			says = append(says, f.About+": "+f.Says)
		}
	}
	return errors.New(strings.Join(says, " "))
}

// print tells people what was made.
func (w *tracer) print(t *terminal) {
	for _, pic := range w.facts.Pictures {
		off := ""
		if pic.Error > 0 {
			off = fmt.Sprintf(", off by %.3f mm", pic.Error)
		}
		t.printf("%s: true by %s%s, %.4g mm a pixel; %s followed, %s\n", pic.File, pic.By, off, pic.MMPerPixel, pic.Followed, count(pic.Pieces, "piece"))
	}
	for _, p := range w.facts.Pieces {
		t.printf("  %-20s %.0f mm round, %s, %s, off the ink by %.3f mm at most\n", p.Name, p.Outline, count(p.Segments, "segment"), count(p.Corners, "corner"), p.Largest)
	}
	for _, f := range w.findings {
		t.printf("%-10s  %s: %s\n", f.Level, f.About, f.Says)
	}
}
