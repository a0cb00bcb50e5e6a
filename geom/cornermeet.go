package geom

// meetSteps is the number of chords of a curve among which a meeting of two
// curves at a corner is sought before it is refined.
const meetSteps = 32

// firstMeeting returns where the curve m, run from its start, first meets the
// pieces of s, with the parameter on m.
func (ws *allowanceWork) firstMeeting(s *stitchSegment, m Segment) (hit pieceHit, t float64, ok bool) {
	for i := s.first; i < s.last; i++ {
		if ws.pieces[i].hidden {
			continue
		}
		if tm, tp, met := meetCurves(m, ws.pieces[i].seg); met && (!ok || tm < t) {
			hit, t, ok = pieceHit{i, tp, ws.pieces[i].seg.At(tp)}, tm, true
		}
	}
	return hit, t, ok
}

// meetCurves returns the parameters of the first place on a where it meets b.
func meetCurves(a, b Segment) (ta, tb float64, ok bool) {
	if b.Straight {
		ts := meetLine(a, b)
		if len(ts) == 0 {
			return 0, 0, false
		}
		v := b.P3.Sub(b.P0)
		return ts[0], min(1, max(0, a.At(ts[0]).Sub(b.P0).Dot(v)/v.Dot(v))), true
	}
	if !a.HandleBounds().Overlaps(b.HandleBounds()) {
		return 0, 0, false
	}
	na, nb := meetSteps, meetSteps
	if a.Straight {
		na = 1
	}
	for i := range na {
		la := Line(a.At(float64(i)/float64(na)), a.At(float64(i+1)/float64(na)))
		best := 2.0
		for j := range nb {
			ts := meetLine(la, Line(b.At(float64(j)/float64(nb)), b.At(float64(j+1)/float64(nb))))
			if len(ts) == 0 || ts[0] >= best {
				continue
			}
			best = ts[0]
			ta, tb = (float64(i)+best)/float64(na), (float64(j)+0.5)/float64(nb)
		}
		if best <= 1 {
			if sa, sb, met := solveCrossing(a, b, ta, tb); met && within01(sa) && within01(sb) {
				return clamp01(sa), clamp01(sb), true
			}
		}
	}
	return 0, 0, false
}

func within01(t float64) bool { return t > -1e-6 && t < 1+1e-6 }

func clamp01(t float64) float64 { return min(1, max(0, t)) }
