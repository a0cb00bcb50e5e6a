package draft

import (
	"encoding"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"hemlet/geom"
)

// argTexts writes the arguments of an act so that they are read back the same in any
// project that holds what they name: things go by their ids. Arguments that hold for the
// act when nothing is given are left out. The error names an argument that has no such
// text.
func argTexts(fields []argField, args any) ([]Setting, error) {
	v := reflect.ValueOf(args)
	var list []Setting
	for i := range v.NumField() {
		if v.Type().Field(i).Tag.Get("arg") == "-" && !v.Field(i).IsZero() {
			return nil, fmt.Errorf("%s has no text", v.Type().Field(i).Name)
		}
	}
	for _, f := range fields {
		field := v.Field(f.index)
		if field.IsZero() && !f.Needed && f.Default == "" {
			continue
		}
		text, err := argText(field)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		list = append(list, Setting{f.Name, text})
	}
	return list, nil
}

// argText writes one argument.
func argText(v reflect.Value) (string, error) {
	switch x := v.Interface().(type) {
	case PieceRef:
		return idText(ID(x)), nil
	case SeamRef:
		return idText(ID(x)), nil
	case EdgeRef:
		return partText(x.Piece, x.Edge), nil
	case LineRef:
		return partText(x.Piece, x.Line), nil
	case CornerRef:
		return partText(x.Piece, x.Node), nil
	case DartRef:
		return partText(x.Piece, x.Dart), nil
	case PlaceRef:
		return partText(x.Piece, x.Edge) + "@" + x.At.text(), nil
	case Length:
		return exactFigure(float64(x)) + "mm", nil
	case Angle:
		return exactFigure(float64(x) * 180 / math.Pi), nil
	case EdgePlace:
		return x.text(), nil
	case Drawn:
		return FormatDrawn(geom.Path(x)), nil
	case encoding.TextMarshaler:
		b, err := x.MarshalText()
		return string(b), err
	}
	switch v.Kind() {
	case reflect.Pointer:
		return argText(v.Elem())
	case reflect.Slice:
		words := make([]string, v.Len())
		for i := range words {
			var err error
			if words[i], err = argText(v.Index(i)); err != nil {
				return "", err
			}
		}
		return strings.Join(words, " + "), nil
	}
	return plainText(v)
}

// plainText writes what readPlain reads.
func plainText(v reflect.Value) (string, error) {
	if v.Type().PkgPath() != "" {
		return "", fmt.Errorf("a %s has no text in which things go by their ids", v.Type())
	}
	switch v.Kind() {
	case reflect.String:
		return v.String(), nil
	case reflect.Bool:
		if v.Bool() {
			return "yes", nil
		}
		return "no", nil
	case reflect.Float64:
		return exactFigure(v.Float()), nil
	case reflect.Int:
		return strconv.FormatInt(v.Int(), 10), nil
	}
	return "", fmt.Errorf("a %s has no text", v.Type())
}

// idText writes an id so that no sign in it is taken for one of the grammar.
func idText(id ID) string { return `"` + string(id) + `"` }

// partText writes something that belongs to a piece.
func partText(piece, part ID) string { return idText(piece) + "." + idText(part) }
