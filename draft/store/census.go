package store

import (
	"fmt"
	"strconv"

	"hemlet/draft"
	"hemlet/draft/tomltext"
)

// Bounds of what the decoder may be made to build, for the tree costs some hundred
// bytes for every key. A project at the limit of draft.MaxNodes has room in them,
// and Save writes nothing that is beyond them.
const (
	maxTables = 600_000
	maxKeys   = 2_000_000
	maxValues = 3_000_000
	// maxNodeKeys counts the nodes of outlines and lines, of outlines as they were
	// generated, and of scraps: each at most draft.MaxNodes.
	maxNodeKeys = 3 * draft.MaxNodes
)

// census counts what a text holds before it is decoded.
type census struct {
	tables, keys, values, nodes int
	// format is the value of the key at the root, 0 where there is none.
	format     int
	depth      int // of lists and inline tables
	underHead  bool
	formatNext bool
	// words, where not nil, are the keys that may stand; stranger is the first
	// that may not.
	words    vocabulary
	stranger *tomltext.LineError
}

func (c *census) Heading(parts []string, _ bool, line int) error {
	c.underHead = true
	if c.tables++; c.tables > maxTables {
		return tooMany(line)
	}
	return c.count(parts, line)
}

func (c *census) Key(parts []string, line int) error {
	c.formatNext = !c.underHead && c.depth == 0 && len(parts) == 1 && parts[0] == "format"
	if parts[len(parts)-1] == "at_mm" {
		c.nodes++
	}
	return c.count(parts, line)
}

func (c *census) count(parts []string, line int) error {
	c.keys += len(parts)
	switch {
	case c.nodes > maxNodeKeys:
		return &tomltext.LineError{Line: line, Says: fmt.Sprintf("there are more points than fit; a project holds at most %d", draft.MaxNodes)}
	case c.keys > maxKeys:
		return tooMany(line)
	}
	if c.words == nil || c.stranger != nil {
		return nil
	}
	for _, part := range parts {
		if !c.words[part] {
			c.stranger = &tomltext.LineError{Line: line, Says: fmt.Sprintf("the key %q is not known; take it out or put its spelling right", part)}
			break
		}
	}
	return nil
}

func (c *census) Down(bracket byte, line int) error {
	c.depth++
	if bracket == '{' {
		c.tables++
	}
	if c.tables > maxTables {
		return tooMany(line)
	}
	return nil
}

func (c *census) Up() { c.depth-- }

func (c *census) Item(line int) error {
	if c.values++; c.values > maxValues {
		return tooMany(line)
	}
	return nil
}

func tooMany(line int) error {
	return &tomltext.LineError{Line: line, Says: "there are more keys and values than any project has"}
}

func (c *census) Value(text []byte, _ int) {
	if !c.formatNext {
		return
	}
	c.formatNext = false
	if n, err := strconv.Atoi(string(text)); err == nil && c.depth == 0 {
		c.format = n
	}
}
