package draft

import (
	"errors"
	"fmt"
	"strings"
)

// DerivationRef names a drafted block by the block's name or title, or by its id.
type DerivationRef ID

func (r *DerivationRef) readArg(p *Project, text string) error {
	var list []candidate
	for i, d := range p.Derivations {
		if d.Kind != blockKind {
			continue
		}
		c := candidate{d.ID, "", string(d.ID), i}
		if b, err := blockOf(d.Text); err == nil {
			c.name, c.shown = b.Name, shownAs(b.Name, d.ID)
			if strings.EqualFold(b.Title, unquote(text)) {
				c.name = b.Title
			}
		}
		list = append(list, c)
	}
	c, err := pick("drafted block", text, list)
	*r = DerivationRef(c.id)
	return err
}

func (*DerivationRef) argKind() string { return "drafted block" }

// Choices are settings of a block. As text they are NAME=VALUE with ";" between.
type Choices []Setting

func (c *Choices) readArg(_ *Project, text string) error {
	list, err := ParseChoices(text)
	*c = list
	return err
}

func (*Choices) argKind() string { return `NAME=VALUE, more of them with ";" between` }

// maxChoiceBytes bounds a list of choices as text: far more than a block has.
const maxChoiceBytes = 64 << 10

// ParseChoices reads choices of a block, NAME=VALUE with ";" between. A choice may
// be given once; values are not looked at.
func ParseChoices(text string) (Choices, error) {
	if len(text) > maxChoiceBytes {
		return nil, fmt.Errorf("the choices are longer than %d bytes", maxChoiceBytes)
	}
	var list Choices
	seen := make(map[string]bool)
	for _, item := range strings.Split(text, ";") {
		if item = strings.TrimSpace(item); item == "" {
			continue
		}
		name, value, ok := strings.Cut(item, "=")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		switch {
		case !ok:
			return nil, fmt.Errorf("%q is no choice; write its name, = and its value, such as ease=12mm", item)
		case name == "" || value == "":
			return nil, fmt.Errorf("%q lacks the name of a choice or its value", item)
		case seen[name]:
			return nil, fmt.Errorf("the choice %s is given twice", name)
		}
		seen[name] = true
		list = append(list, Setting{name, value})
	}
	if len(list) == 0 {
		return nil, errors.New("is empty")
	}
	return list, nil
}
