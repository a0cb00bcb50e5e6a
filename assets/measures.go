package assets

import _ "embed"

//go:embed measures.toml
var measures []byte

// Measures returns the catalogue of measures of a body, the TOML file that package
// draft/body reads. The bytes must not be changed.
func Measures() []byte { return measures }
