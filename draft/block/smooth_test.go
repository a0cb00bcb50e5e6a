package block

import (
	"testing"

	"hemlet/geom"
)

// A node is smooth where a curve goes on in its direction to within 2 degrees, and
// neither where it turns, nor where it turns back, nor between two straight lines.
func TestSmoothNodes(t *testing.T) {
	const arc = "bend(at(60*mm, 40*mm), 180*degree, at(30*mm, 40*mm), 180*degree, 8*mm, 8*mm)"
	for _, c := range []struct {
		top    string
		smooth bool
	}{
		{arc + `", "bend(at(30*mm, 40*mm), 180*degree, at(0*mm, 40*mm), 180*degree, 8*mm, 8*mm)`, true},
		{arc + `", "bend(at(30*mm, 40*mm), 181.5*degree, at(0*mm, 40*mm), 180*degree, 8*mm, 8*mm)`, true},
		{arc + `", "bend(at(30*mm, 40*mm), 178.5*degree, at(0*mm, 40*mm), 180*degree, 8*mm, 8*mm)`, true},
		{arc + `", "bend(at(30*mm, 40*mm), 183*degree, at(0*mm, 40*mm), 180*degree, 8*mm, 8*mm)`, false},
		{arc + `", "bend(at(30*mm, 40*mm), 240*degree, at(0*mm, 40*mm), 180*degree, 8*mm, 8*mm)`, false},
		{arc + `", "bend(at(30*mm, 40*mm), 1*degree, at(0*mm, 40*mm), 180*degree, 8*mm, 8*mm)`, false},
		{arc + `", "at(0*mm, 40*mm)`, true},
		{arc + `", "at(0*mm, 20*mm)`, false},
		{`at(60*mm, 40*mm)", "at(30*mm, 40*mm)", "at(0*mm, 40*mm)`, false},
	} {
		text := "format = 1\nname = \"s\"\ntitle = \"S\"\nsays = \"S.\"\n[[pieces]]\nrole = \"p\"\n" +
			"[[pieces.edges]]\nname = \"low\"\npath = [\"at(0*mm, 0*mm)\", \"at(60*mm, 0*mm)\"]\n" +
			"[[pieces.edges]]\nname = \"top\"\npath = [\"" + c.top + "\"]\n"
		s := draft(t, parse(t, text), nil, nil)
		var found bool
		for _, e := range s.Pieces[0].Edges {
			for _, n := range e.Nodes {
				if !n.At.Near(geom.Pt(30, 40), 1e-9) {
					continue
				}
				if found = true; n.Smooth != c.smooth {
					t.Errorf("%s: smooth %v", c.top, n.Smooth)
				}
			}
		}
		if !found {
			t.Errorf("%s: the node is not there", c.top)
		}
	}
}
