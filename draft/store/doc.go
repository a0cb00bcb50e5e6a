// Package store keeps projects on disk: the project file, the pictures beside it,
// the journal from which a killed session is recovered, and wearer files.
//
// A project file is TOML in millimetres. What is read is untrusted: a scan bounds
// size, depth and number before the decoder sees a byte, and every error names
// the file, the line as far as there is one, and how to mend it. What is written
// replaces its target whole or leaves it as it was.
package store
