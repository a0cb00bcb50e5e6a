package block

import "sync"

// maxCached bounds the blocks that Of keeps.
const maxCached = 64

// cached are the blocks that were made of texts of late.
var cached = struct {
	sync.Mutex
	blocks map[string]*Block
	order  []string
}{blocks: make(map[string]*Block)}

// Of returns the block of a text that travels with a project, as Parse does, and
// keeps it: a project asks for the same texts at every edit. Errors are not kept.
func Of(text string) (*Block, error) {
	for _, e := range builtin() {
		if e.Err == nil && e.Block.text == text {
			return e.Block, nil
		}
	}
	cached.Lock()
	b := cached.blocks[text]
	cached.Unlock()
	if b != nil {
		return b, nil
	}
	b, err := Parse("", []byte(text))
	if err != nil {
		return nil, err
	}
	cached.Lock()
	defer cached.Unlock()
	if cached.blocks[text] == nil {
		if len(cached.order) == maxCached {
			delete(cached.blocks, cached.order[0])
			cached.order = cached.order[1:]
		}
		cached.blocks[text] = b
		cached.order = append(cached.order, text)
	}
	return b, nil
}
