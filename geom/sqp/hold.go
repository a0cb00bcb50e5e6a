package sqp

// holdRounds is the number of halvings by which the way is found that a solution can go: to
// 1/64 of it.
const holdRounds = 6

// HoldBack returns the unknowns that have gone farthest on the way to what is wanted and are
// still sound. towards solves with all that is wanted brought nearer by a share from 0 to 1;
// its error ends the search. Where no solution is sound nothing moves.
func (m *Program) HoldBack(towards func(share float64) ([][]float64, error), sound func(z [][]float64) bool) ([][]float64, error) {
	kept := m.Zeros()
	lo, hi := 0.0, 1.0
	for range holdRounds {
		share := (lo + hi) / 2
		z, err := towards(share)
		if err != nil {
			return nil, err
		}
		if sound(z) {
			lo, kept = share, z
		} else {
			hi = share
		}
	}
	return kept, nil
}
