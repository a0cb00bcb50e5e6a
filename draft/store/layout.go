package store

import (
	"hemlet/draft"
	"hemlet/geom"
)

func projectLayout(f fields, p *draft.Project) {
	f.text("name", &p.Name)
	f.word("unit", &p.Unit)
	f.count("next_id", &p.NextID, 0)
	pointers(f, "wearers", &p.Wearers, wearerLayout)
	pointers(f, "cloths", &p.Cloths, clothLayout)
	pointers(f, "pieces", &p.Pieces, pieceLayout)
	pointers(f, "seams", &p.Seams, seamLayout)
	pointers(f, "pictures", &p.Pictures, pictureLayout)
	pointers(f, "origins", &p.Origins, originLayout)
	pointers(f, "derivations", &p.Derivations, derivationLayout)
	tables(f, "waivers", &p.Waivers, waiverLayout)
	pointers(f, "toile_notes", &p.Notes, toileNoteLayout)
	pointers(f, "versions", &p.Versions, versionLayout)
}

func wearerLayout(f fields, w *draft.Wearer) {
	f.id("id", &w.ID)
	f.text("name", &w.Name)
	f.word("build", &w.Build)
	rows(f, "measures", &w.Measures, func(f fields, m *draft.Measure) {
		f.text("name", &m.Name)
		f.number("value_mm", &m.Value, 0)
		f.flag("estimated", &m.Estimated)
	})
	bodyLayout(f, w)
}

// bodyLayout is what a project and a wearer file say alike.
func bodyLayout(f fields, w *draft.Wearer) {
	rows(f, "levels", &w.Levels, func(f fields, l *draft.Level) {
		f.text("name", &l.Name)
		f.number("height_mm", &l.Height, 0)
		f.number("front_arc_mm", &l.FrontArc, 0)
		f.number("back_arc_mm", &l.BackArc, 0)
	})
	rows(f, "parts", &w.Parts, func(f fields, b *draft.BodyPart) {
		f.text("name", &b.Name)
		f.number("girth_mm", &b.Girth, 0)
		f.flag("comes_off", &b.ComesOff)
	})
	rows(f, "under", &w.Under, wornLayout)
}

func wornLayout(f fields, u *draft.Worn) {
	f.text("name", &u.Name)
	f.number("thickness_mm", &u.Thickness, 0)
}

func clothLayout(f fields, c *draft.Cloth) {
	f.id("id", &c.ID)
	f.text("name", &c.Name)
	f.number("thickness_mm", &c.Thickness, 0)
	f.number("width_mm", &c.Width, 0)
	f.flag("nap", &c.Nap)
	f.flag("printed", &c.Printed)
	f.text("colour", &c.Colour)
	rows(f, "scrap", &c.Scrap, nodeLayout)
}

func nodeLayout(f fields, n *draft.Node) {
	f.id("id", &n.ID)
	f.place("at_mm", &n.At)
	f.vector("in_mm", &n.In)
	f.vector("out_mm", &n.Out)
	f.flag("smooth", &n.Smooth)
}

func seamLayout(f fields, s *draft.Seam) {
	f.id("id", &s.ID)
	f.text("name", &s.Name)
	f.number("ratio", &s.Ratio, 1)
	f.word("fuller", &s.Fuller)
	f.word("fullness", &s.Fullness)
	f.number("full_from_share", &s.From, 0)
	f.number("full_to_share", &s.To, 1)
	f.flag("both_sides", &s.BothSides)
	f.flag("opens", &s.Opens)
	f.number("lap_mm", &s.Lap, 0)
	rows(f, "a", (*[]draft.EdgeUse)(&s.A), useLayout)
	rows(f, "b", (*[]draft.EdgeUse)(&s.B), useLayout)
	rows(f, "marks", &s.Marks, func(f fields, m *draft.SeamMark) {
		f.id("id", &m.ID)
		f.number("share", &m.At, 0)
		f.word("shape", &m.Shape)
		f.flag("double", &m.Double)
	})
}

func useLayout(f fields, u *draft.EdgeUse) {
	f.id("piece", &u.Piece)
	f.id("edge", &u.Edge)
	f.count("copy", &u.Copy.Number, 1)
	f.flag("mirrored", &u.Copy.Mirrored)
	f.word("half", &u.Half)
	f.flag("reversed", &u.Reversed)
}

func pictureLayout(f fields, p *draft.Picture) {
	f.id("id", &p.ID)
	f.text("name", &p.Name)
	f.text("sha256", &p.Hash)
	f.text("ending", &p.Ext)
	f.count("wide_px", &p.Wide, 0)
	f.count("high_px", &p.High, 0)
	m := &p.Place
	f.numbers("px_to_mm", []*float64{&m.A, &m.B, &m.C, &m.D, &m.E, &m.F})
	f.number("lean_across_per_px", &m.G, 0)
	f.number("lean_down_per_px", &m.H, 0)
	f.number("opacity", &p.Opacity, 1)
	f.flag("locked", &p.Locked)
	rows(f, "crop", &p.Crop, func(f fields, at *geom.Point) { f.place("at_px", at) })
	f.row("true", p.True != nil, func() { p.True = new(draft.Trueness) }, func(f fields) {
		f.word("by", &p.True.By)
		f.number("error_mm", &p.True.Error, 0)
	})
	f.row("joined", p.Joined != nil, func() { p.Joined = new(draft.Joint) }, func(f fields) {
		f.id("to", &p.Joined.To)
		f.number("error_mm", &p.Joined.Error, 0)
	})
}

func originLayout(f fields, o *draft.Origin) {
	f.id("id", &o.ID)
	f.text("name", &o.Name)
	f.text("size", &o.Size)
	f.word("line", &o.Line)
	f.number("allowance_mm", &o.Allowance, 0)
	rows(f, "measures", &o.Measures, func(f fields, m *draft.OriginMeasure) {
		f.text("name", &m.Name)
		f.number("value_mm", &m.Value, 0)
	})
	rows(f, "under", &o.Under, wornLayout)
	rows(f, "estimates", &o.Estimates, func(f fields, e *draft.OriginEstimate) {
		f.text("measure", &e.Measure)
		f.text("formula", &e.Formula)
	})
}

func derivationLayout(f fields, d *draft.Derivation) {
	f.id("id", &d.ID)
	f.text("kind", &d.Kind)
	f.ids("inputs", &d.Inputs)
	rows(f, "settings", &d.Settings, func(f fields, s *draft.Setting) {
		f.text("name", &s.Name)
		f.text("value", &s.Value)
	})
	f.texts("roles", &d.Roles)
	rows(f, "stems", &d.Stems, func(f fields, s *draft.Stem) {
		f.text("role", &s.Role)
		f.id("piece", &s.ID)
	})
	f.prose("text", &d.Text)
	tables(f, "seams", &d.Seams, seamLayout)
	tables(f, "steps", &d.Steps, stepLayout)
	f.table("source", d.Source != nil, func() { d.Source = new(draft.Source) }, func(f fields) {
		pointers(f, "pieces", &d.Source.Pieces, pieceLayout)
		pointers(f, "seams", &d.Source.Seams, seamLayout)
	})
}

func toileNoteLayout(f fields, n *draft.ToileNote) {
	f.id("id", &n.ID)
	f.id("piece", &n.Piece)
	f.id("edge", &n.Edge)
	f.word("kind", &n.Kind)
	f.number("amount_mm", &n.Amount, 0)
	f.number("at_share", &n.At, 0)
	f.flag("whole", &n.Whole)
	f.number("from_share", &n.From, 0)
	f.number("to_share", &n.To, 1)
	f.prose("words", &n.Words)
	f.flag("done", &n.Done)
}

func versionLayout(f fields, v *draft.Version) {
	f.id("id", &v.ID)
	f.text("name", &v.Name)
	f.id("follows", &v.Follows)
	pointers(f, "pieces", &v.Pieces, pieceLayout)
	pointers(f, "seams", &v.Seams, seamLayout)
}

// stepLayout is an act that is done again on what a derivation generates.
func stepLayout(f fields, s *draft.Recorded) {
	f.text("act", &s.Act)
	f.count("next_id", &s.Next, 0)
	f.count("until_id", &s.Until, 0)
	f.ids("pieces", &s.Pieces)
	rows(f, "args", &s.Args, func(f fields, a *draft.Setting) {
		f.text("name", &a.Name)
		f.text("value", &a.Value)
	})
}

func waiverLayout(f fields, w *draft.Waiver) {
	f.text("finding", &w.Finding)
	f.text("reason", &w.Reason)
}
