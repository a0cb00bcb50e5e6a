// Package paint draws the bench: shapes of cubics, dashed and solid lines, marks
// and labels over squared paper, into a plain image in memory.
//
// It knows paths and points in millimetres and nothing of pieces or seams: its
// caller fills a Scene. Scenes, items and paths are never changed once they were
// handed over; the same pointer means the same look, and what was computed for
// it is kept. Widths, dash lengths and text sizes are screen units, which are
// device pixels times View.DPR.
//
// Coverage is exact area in integers, so that a repainted rectangle equals the
// same part of a full repaint pixel for pixel, whatever was left out.
package paint
