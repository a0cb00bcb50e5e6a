package draft

import (
	"encoding"
	"errors"
	"fmt"
	"reflect"
	"sort"
	"strconv"
	"strings"
)

// Param describes one argument of an act.
type Param struct {
	// Name is what a script calls it, Says one phrase about it.
	Name string `json:"name"`
	Says string `json:"says"`
	// Kind is what has to be given, in plain words: "length", "edge".
	Kind string `json:"kind"`
	// Many says that several may be given, with ";" or "+" between them.
	Many bool `json:"many,omitempty"`
	// Needed says that the act cannot be done without it.
	Needed bool `json:"needed"`
	// Default is what holds where nothing is given, empty where the act decides.
	Default string `json:"default,omitempty"`
	// Allowed lists the words that may be given, where there are only some.
	Allowed []string `json:"allowed,omitempty"`
}

// Arguments are the exported fields of a struct:
//
//	type Args struct {
//		Edge  EdgeRef `arg:"edge" says:"the edge"`
//		Width Length  `arg:"width" says:"how wide" default:"6mm"`
//		Note  string  `arg:"note,optional" says:"what to print"`
//	}
//
// A field without default and without "optional" must be given. A pointer is
// optional and stays nil where nothing is given. A field tagged "-" is for programs
// alone: text cannot give it. A slice takes several values,
// with ";" or "+" between them; double quotes keep those two signs, and the dots
// and slashes in names, from being taken apart.

// argReader is a field type that knows the project it is read for.
type argReader interface {
	readArg(p *Project, text string) error
	argKind() string
}

// listReader is the element type of a slice where one text may stand for several
// values, "Front.*" for every edge of Front.
type listReader interface {
	argReader
	// readList returns a slice of the element type.
	readList(p *Project, text string) (any, error)
}

type argField struct {
	Param
	index int
}

// paramsOf describes the fields of A. It panics on a field that cannot be read.
func paramsOf[A any]() []argField {
	t := reflect.TypeFor[A]()
	fields := make([]argField, 0, t.NumField())
	for i := range t.NumField() {
		f := t.Field(i)
		name, rest, _ := strings.Cut(f.Tag.Get("arg"), ",")
		if name == "-" {
			continue
		}
		if name == "" {
			panic(fmt.Sprintf("%s.%s has no arg tag", t, f.Name))
		}
		param := Param{Name: name, Says: f.Tag.Get("says"), Default: f.Tag.Get("default")}
		param.describe(f.Type)
		param.Needed = rest != "optional" && param.Default == "" && f.Type.Kind() != reflect.Pointer
		fields = append(fields, argField{param, i})
	}
	return fields
}

// describe fills in what follows from the type.
func (a *Param) describe(t reflect.Type) {
	switch t.Kind() {
	case reflect.Pointer:
		a.describe(t.Elem())
		return
	case reflect.Slice:
		if _, own := reflect.New(t).Interface().(argReader); !own {
			a.describe(t.Elem())
			a.Many = true
			return
		}
	}
	v := reflect.New(t).Interface()
	switch r := v.(type) {
	case argReader:
		a.Kind = r.argKind()
		return
	case encoding.TextUnmarshaler:
		a.Kind, a.Allowed = "word", wordsOf(t)
		return
	}
	switch t.Kind() {
	case reflect.String:
		a.Kind = "text"
	case reflect.Bool:
		a.Kind, a.Allowed = "yes or no", []string{"yes", "no"}
	case reflect.Float64:
		a.Kind = "number"
	case reflect.Int:
		a.Kind = "whole number"
	default:
		panic(fmt.Sprintf("argument %s: a %s cannot be read from text", a.Name, t))
	}
}

// wordsOf lists the words of an enumeration: its values count up from 0.
func wordsOf(t reflect.Type) []string {
	var words []string
	for i := 0; ; i++ {
		v := reflect.New(t).Elem()
		v.SetInt(int64(i))
		m, ok := v.Interface().(encoding.TextMarshaler)
		if !ok {
			return words
		}
		b, err := m.MarshalText()
		if err != nil {
			return words
		}
		words = append(words, string(b))
	}
}

// readArgs reads the arguments of an act from text.
func readArgs[A any](p *Project, fields []argField, texts map[string]string) (A, error) {
	var args A
	if err := noUnknown(fields, texts); err != nil {
		return args, err
	}
	v := reflect.ValueOf(&args).Elem()
	for _, f := range fields {
		text, given := texts[f.Name]
		if !given {
			if f.Needed {
				return args, fmt.Errorf("needs %s (%s: %s)", f.Name, f.kindWords(), f.Says)
			}
			if text = f.Default; text == "" {
				continue
			}
		}
		if err := readValue(p, v.Field(f.index), text); err != nil {
			return args, fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	return args, nil
}

// kindWords returns what has to be given, in a few words.
func (a Param) kindWords() string {
	words := a.Kind
	if len(a.Allowed) > 0 {
		words = strings.Join(a.Allowed, " / ")
	}
	if a.Many {
		words += ", one or more"
	}
	return words
}

func noUnknown(fields []argField, texts map[string]string) error {
	known := make(map[string]bool, len(fields))
	var allowed []string
	for _, f := range fields {
		known[f.Name] = true
		allowed = append(allowed, f.Name)
	}
	var unknown []string
	for name := range texts {
		if !known[name] {
			unknown = append(unknown, strconv.Quote(name))
		}
	}
	if len(unknown) == 0 {
		return nil
	}
	sort.Strings(unknown)
	if len(allowed) == 0 {
		return fmt.Errorf("takes no arguments, but was given %s", strings.Join(unknown, ", "))
	}
	return fmt.Errorf("has no argument %s; it takes: %s", strings.Join(unknown, ", "), strings.Join(allowed, ", "))
}

// readValue reads text into v, which can be set.
func readValue(p *Project, v reflect.Value, text string) error {
	ptr := v.Addr().Interface()
	if r, ok := ptr.(argReader); ok {
		return r.readArg(p, text)
	}
	switch v.Kind() {
	case reflect.Pointer:
		target := reflect.New(v.Type().Elem())
		if err := readValue(p, target.Elem(), text); err != nil {
			return err
		}
		v.Set(target)
		return nil
	case reflect.Slice:
		return readSlice(p, v, text)
	}
	if u, ok := ptr.(encoding.TextUnmarshaler); ok {
		return readWord(u, text)
	}
	return readPlain(v, text)
}

func readSlice(p *Project, v reflect.Value, text string) error {
	items, err := splitList(text)
	if err != nil {
		return err
	}
	for _, item := range items {
		e := reflect.New(v.Type().Elem())
		if r, ok := e.Interface().(listReader); ok {
			list, err := r.readList(p, item)
			if err != nil {
				return err
			}
			v.Set(reflect.AppendSlice(v, reflect.ValueOf(list)))
			continue
		}
		if err := readValue(p, e.Elem(), item); err != nil {
			return err
		}
		v.Set(reflect.Append(v, e.Elem()))
	}
	return nil
}

// readWord reads a word of an enumeration; "on-fold" is as good as "on fold".
func readWord(u encoding.TextUnmarshaler, text string) error {
	text = strings.ToLower(strings.TrimSpace(text))
	err := u.UnmarshalText([]byte(text))
	if err == nil {
		return nil
	}
	if spaced := strings.ReplaceAll(text, "-", " "); u.UnmarshalText([]byte(spaced)) == nil {
		return nil
	}
	return err
}

func readPlain(v reflect.Value, text string) error {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Bool:
		b, err := parseYesNo(text)
		if err != nil {
			return err
		}
		v.SetBool(b)
	case reflect.Float64:
		f, err := ParseNumber(text)
		if err != nil {
			return err
		}
		v.SetFloat(f)
	case reflect.Int:
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil {
			return fmt.Errorf("%q is not a whole number", text)
		}
		v.SetInt(int64(n))
	default:
		return fmt.Errorf("a %s cannot be read from text", v.Type())
	}
	return nil
}

func parseYesNo(text string) (bool, error) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "yes", "true":
		return true, nil
	case "no", "false":
		return false, nil
	}
	return false, fmt.Errorf("%q is neither yes nor no", text)
}

// errEmptyItem says that a list holds nothing between two separators.
var errEmptyItem = errors.New("there is nothing between two separators of the list")

// splitList takes a list apart at ";" and "+" outside double quotes.
func splitList(text string) ([]string, error) {
	items, err := splitOutside(text, ";+")
	if err != nil {
		return nil, err
	}
	for i := range items {
		if items[i] = strings.TrimSpace(items[i]); items[i] == "" {
			if len(items) == 1 {
				return nil, errors.New("is empty")
			}
			return nil, errEmptyItem
		}
	}
	return items, nil
}

// splitOutside takes text apart at each of the signs that is not inside double
// quotes. The quotes stay.
func splitOutside(text, signs string) ([]string, error) {
	var items []string
	start, quoted := 0, false
	for i := range len(text) {
		switch c := text[i]; {
		case c == '"':
			quoted = !quoted
		case !quoted && strings.IndexByte(signs, c) >= 0:
			items = append(items, text[start:i])
			start = i + 1
		}
	}
	if quoted {
		return nil, fmt.Errorf("%s: a double quote is not closed", text)
	}
	return append(items, text[start:]), nil
}

// unquote takes the double quotes off a name.
func unquote(text string) string {
	text = strings.TrimSpace(text)
	if len(text) >= 2 && text[0] == '"' && text[len(text)-1] == '"' {
		return text[1 : len(text)-1]
	}
	return text
}
