// Package tomltext walks through TOML text before it is decoded: it refuses what is
// nested so deep that it would kill the decoder, counts what a file holds before
// memory is taken for it, and knows at which line a key stands.
package tomltext
