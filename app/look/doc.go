// Package look is how Hemlet looks: colours by what they are for, in a light and
// a dark set, the theme that gives them and our fonts to the window's widgets,
// and the icons. It knows nothing of patterns.
package look
