package store

// migration lifts a decoded file from one format to the next, in place.
type migration func(tree map[string]any) error

// migrations holds at index n-1 what lifts format n to n+1; so it has Format-1
// entries. A change of the file that an older Hemlet would misread raises Format,
// adds its migration here, and keeps a fixture of the format before it in
// testdata, named for its number.
var migrations = []migration{}
