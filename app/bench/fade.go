package bench

import "hemlet/app/bench/paint"

// fade makes everything of an item see-through, as what is only looked at is drawn.
func fade(marks []paint.Mark, opacity float64) []paint.Mark {
	pale := func(c paint.Colour) paint.Colour {
		c.Fade = 255 - uint8(float64(255-c.Fade)*opacity+0.5)
		return c
	}
	line := func(l paint.Line) paint.Line {
		l.Colour = pale(l.Colour)
		return l
	}
	out := make([]paint.Mark, len(marks))
	for i, m := range marks {
		switch m := m.(type) {
		case paint.Shape:
			m.Fill, m.Line = pale(m.Fill), line(m.Line)
			out[i] = m
		case paint.Beside:
			m.Line = line(m.Line)
			out[i] = m
		case paint.Arrow:
			m.Line = line(m.Line)
			out[i] = m
		case paint.Bracket:
			m.Line = line(m.Line)
			out[i] = m
		case paint.Tick:
			m.Line = line(m.Line)
			out[i] = m
		case paint.Text:
			m.Colour, m.Halo, m.Plate, m.Rim = pale(m.Colour), pale(m.Halo), pale(m.Plate), pale(m.Rim)
			if m.Else != nil {
				at := *m.Else
				at.Halo = pale(at.Halo)
				m.Else = &at
			}
			out[i] = m
		case paint.Dot:
			m.Colour, m.Fill = pale(m.Colour), pale(m.Fill)
			out[i] = m
		default:
			out[i] = m
		}
	}
	return out
}
