package store

import (
	"encoding"

	"hemlet/draft"
	"hemlet/geom"
)

// fields is what the layout of a thing says its keys to. The layouts in layout*.go
// are written once and serve three sides: the writer, the reader, and the list of
// known keys; so none can know a key that the others do not.
//
// A value equal to its usual one is not written, and takes it when it is absent.
// Scalars and rows come before tables, as TOML wants.
type fields interface {
	// reading reports whether values are set rather than asked.
	reading() bool
	// fault is a complaint of the layout itself about what it read.
	fault(key, says string)

	id(key string, v *draft.ID)
	ids(key string, v *[]draft.ID)
	text(key string, v *string)
	texts(key string, v *[]string)
	// prose is text that may run over several lines.
	prose(key string, v *string)
	word(key string, v word)
	flag(key string, v *bool)
	count(key string, v *int, usual int)
	number(key string, v *float64, usual float64)
	// turn is an angle that the model has in radians and the file in degrees.
	turn(key string, v *float64)
	// place is a point that must be there, vector one that is usually zero.
	place(key string, v *geom.Point)
	vector(key string, v *geom.Point)
	maybePlace(key string, v **geom.Point)
	// numbers is a list of fixed length that must be there.
	numbers(key string, v []*float64)

	// row is one small thing that may be absent, on one line.
	row(key string, present bool, grow func(), each func(f fields))
	// rows is a list of small things, one a line.
	rows(key string, n int, grow func(n int), each func(i int, f fields))
	// tables is a list of large things, each under a heading of its own.
	tables(key string, n int, grow func(n int), each func(i int, f fields))
	// table is one large thing that may be absent.
	table(key string, present bool, grow func(), each func(f fields))
}

// word is a pointer to a value of an enumeration.
type word interface {
	encoding.TextMarshaler
	encoding.TextUnmarshaler
}

type layout[T any] func(f fields, v *T)

func rows[T any](f fields, key string, list *[]T, each layout[T]) {
	f.rows(key, len(*list), func(n int) { *list = make([]T, n) }, func(i int, f fields) { each(f, &(*list)[i]) })
}

func tables[T any](f fields, key string, list *[]T, each layout[T]) {
	f.tables(key, len(*list), func(n int) { *list = make([]T, n) }, func(i int, f fields) { each(f, &(*list)[i]) })
}

// pointers is tables for a list that holds its things by pointer.
func pointers[T any](f fields, key string, list *[]*T, each layout[T]) {
	f.tables(key, len(*list), func(n int) {
		*list = make([]*T, n)
		for i := range *list {
			(*list)[i] = new(T)
		}
	}, func(i int, f fields) { each(f, (*list)[i]) })
}
