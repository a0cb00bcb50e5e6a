package assets

import (
	"embed"
	"io/fs"
)

//go:embed blocks/*.toml
var blocks embed.FS

// Block is a block as its file reads.
type Block struct {
	// File is the name of the file without its folder.
	File string
	// Text must not be changed.
	Text []byte
}

// Blocks returns the files of all blocks that are carried, in alphabetical order of
// their names.
func Blocks() []Block {
	entries := must(fs.ReadDir(blocks, "blocks"))
	list := make([]Block, len(entries))
	for i, e := range entries {
		list[i] = Block{e.Name(), must(blocks.ReadFile("blocks/" + e.Name()))}
	}
	return list
}
