package store

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
}
