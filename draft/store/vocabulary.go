package store

import (
	"sync"

	"hemlet/draft"
	"hemlet/geom"
)

// vocabulary is the set of keys that a layout knows, in any table.
type vocabulary map[string]bool

// projectWords returns the keys of a project file of the present format.
var projectWords = sync.OnceValue(func() vocabulary {
	words := vocabulary{"format": true}
	projectLayout(words, &draft.Project{})
	return words
})

// A vocabulary lets a layout tell its keys by having it read one of everything.

func (w vocabulary) reading() bool                            { return false }
func (w vocabulary) fault(key, says string)                   {}
func (w vocabulary) id(key string, _ *draft.ID)               { w[key] = true }
func (w vocabulary) ids(key string, _ *[]draft.ID)            { w[key] = true }
func (w vocabulary) text(key string, _ *string)               { w[key] = true }
func (w vocabulary) texts(key string, _ *[]string)            { w[key] = true }
func (w vocabulary) prose(key string, _ *string)              { w[key] = true }
func (w vocabulary) word(key string, _ word)                  { w[key] = true }
func (w vocabulary) flag(key string, _ *bool)                 { w[key] = true }
func (w vocabulary) count(key string, _ *int, _ int)          { w[key] = true }
func (w vocabulary) number(key string, _ *float64, _ float64) { w[key] = true }
func (w vocabulary) turn(key string, _ *float64)              { w[key] = true }
func (w vocabulary) place(key string, _ *geom.Point)          { w[key] = true }
func (w vocabulary) vector(key string, _ *geom.Point)         { w[key] = true }
func (w vocabulary) maybePlace(key string, _ **geom.Point)    { w[key] = true }
func (w vocabulary) numbers(key string, _ []*float64)         { w[key] = true }

func (w vocabulary) row(key string, _ bool, grow func(), each func(fields)) {
	w[key] = true
	grow()
	each(w)
}

func (w vocabulary) rows(key string, _ int, grow func(int), each func(int, fields)) {
	w[key] = true
	grow(1)
	each(0, w)
}

func (w vocabulary) table(key string, _ bool, grow func(), each func(fields)) {
	w.row(key, false, grow, each)
}

func (w vocabulary) tables(key string, _ int, grow func(int), each func(int, fields)) {
	w.rows(key, 0, grow, each)
}
