package tool

// Groups returns the tools for the hand as the tool strip shows them: what picks and
// moves, what changes the pattern, what only looks.
func Groups(h *Hand) [][]Tool {
	return [][]Tool{
		{NewSelect(h), NewLasso(h)},
		{NewPen(h), NewShape(h), NewBend(h), NewPoint(h), NewNotch(h), NewLink(h)},
		{NewTape(h), NewPan(h)},
	}
}
