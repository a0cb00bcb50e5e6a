package assets

import _ "embed"

//go:embed hemlet.png
var appIcon []byte

// AppIcon returns the program's own icon, a PNG of 256 by 256 pixels made of
// hemlet.svg beside it. The bytes must not be changed.
func AppIcon() []byte { return appIcon }
