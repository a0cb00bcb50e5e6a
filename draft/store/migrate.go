package store

import (
	"math"
	"strconv"
	"strings"
)

// migration lifts a decoded file from one format to the next, in place.
type migration func(tree map[string]any) error

// migrations holds at index n-1 what lifts format n to n+1; so it has Format-1
// entries. A change of the file that an older Hemlet would misread raises Format,
// adds its migration here, and keeps a fixture of the format before it in
// testdata, named for its number.
var migrations = []migration{
	// Format 2 keeps more of what a derivation generated (rest, roles, seams), and of
	// wearers and spans (build, ease_mm, lines). Nothing that format 1 says has
	// changed its meaning.
	func(map[string]any) error { return nil },
	// Format 3 knows stretches, rows of fastenings, folds that are pleats or tucks, and
	// pieces that are hidden, locked or only looked at. Nothing that format 2 says has
	// changed its meaning, but that stretches take their ids from the counter too.
	func(tree map[string]any) error { return countIDs(tree, "g") },
	// Format 4 knows pictures in perspective, how they were made true and joined, and
	// where pieces came from. Nothing that format 3 says has changed its meaning, but
	// that origins take their ids from the counter.
	func(tree map[string]any) error { return countIDs(tree, "o") },
	// Format 5 knows seams that open, notches that match on both sides of a seam, and
	// what goes through an opening. Nothing that format 4 says has changed its meaning,
	// but that marks of seams take their ids from the counter.
	func(tree map[string]any) error { return countIDs(tree, "k") },
	// Format 6 knows fits with the pattern as it was before, spans along and across the
	// grain, notes of the toile and versions. Nothing that format 5 says has changed its
	// meaning, but that notes and versions take their ids from the counter.
	func(tree map[string]any) error {
		if err := countIDs(tree, "j"); err != nil {
			return err
		}
		return countIDs(tree, "v")
	},
	// Format 7 says of an origin what that body wore under the pattern and how its block
	// estimates measures, which format 6 said of each fit.
	liftOrigins,
}

// countIDs raises the counter above ids of a letter and figures, such as g4, which were
// names before that a block had given, to which the counter gave no heed.
func countIDs(tree map[string]any, letter string) error {
	next, ok := tree["next_id"].(int64)
	if !ok {
		return nil // the reader says what is wrong with it
	}
	eachID(tree, func(id string) {
		figures, ok := strings.CutPrefix(id, letter)
		if n, err := strconv.ParseInt(figures, 10, 64); ok && err == nil && n >= next && n < math.MaxInt64 {
			next = n + 1
		}
	})
	tree["next_id"] = next
	return nil
}

// eachID calls f with every id that a decoded tree gives to something.
func eachID(tree map[string]any, f func(string)) {
	for key, v := range tree {
		switch v := v.(type) {
		case string:
			if key == "id" {
				f(v)
			}
		case map[string]any:
			eachID(v, f)
		case []map[string]any:
			for _, sub := range v {
				eachID(sub, f)
			}
		case []any:
			for _, x := range v {
				if sub, ok := x.(map[string]any); ok {
					eachID(sub, f)
				}
			}
		}
	}
}
