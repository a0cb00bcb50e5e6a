package store

import (
	"bytes"
	"fmt"
	"io"

	"github.com/BurntSushi/toml"

	"hemlet/draft"
	"hemlet/draft/tomltext"
)

// maxWearerBytes bounds a wearer file.
const maxWearerBytes = 1 << 20

// LoadWearer reads a wearer file: name, unit, and a table [measures] of names with
// numbers in that unit, or with text that bears its own unit ("84mm"). Any name of
// a measure will do. The wearer has no id yet; the unit is what the file is in,
// millimetres where it says none. Errors are of type *FileError.
func LoadWearer(path string) (*draft.Wearer, draft.Unit, error) {
	text, _, err := readFile(path, maxWearerBytes)
	if err != nil {
		return nil, 0, named(path, err)
	}
	w, unit, err := DecodeWearer(text)
	if err != nil {
		return nil, 0, named(path, err)
	}
	return w, unit, nil
}

// DecodeWearer reads a wearer from the bytes of its file.
func DecodeWearer(text []byte) (*draft.Wearer, draft.Unit, error) {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	if err := plainText(text, maxWearerBytes); err != nil {
		return nil, 0, err
	}
	if err := tomltext.Scan(text, &census{}); err != nil {
		return nil, 0, lined(err)
	}
	tree, meta, err := tomlTree(text)
	if err != nil {
		return nil, 0, err
	}
	w := &draft.Wearer{}
	in := &wearerReader{meta: meta, wearer: w}
	_, in.hasUnit = tree["unit"]
	if bad := readTree(tree, in, wearerFileLayout); bad != nil {
		return nil, 0, &FileError{Line: tomltext.LineOf(text, bad.path), Path: bad.path, Says: bad.says}
	}
	// What the file cannot say itself is tested as part of a project.
	body := *w
	body.ID = "w1"
	if err := draft.Validate(&draft.Project{NextID: 2, Wearers: []*draft.Wearer{&body}}); err != nil {
		return nil, 0, &FileError{Says: err.Error(), Err: err}
	}
	return w, in.unit, nil
}

// wearerReader is a wearer while its file is read.
type wearerReader struct {
	meta    toml.MetaData
	wearer  *draft.Wearer
	unit    draft.Unit
	hasUnit bool
}

func wearerFileLayout(f fields, in *wearerReader) {
	f.text("name", &in.wearer.Name)
	f.word("unit", &in.unit)
	f.word("build", &in.wearer.Build)
	var estimated []draft.ID
	f.ids("estimated", &estimated)
	bodyLayout(f, in.wearer)
	in.measures(f.(*reader))
	in.estimate(f, estimated)
}

// measures reads the table in the order of the file. Before it come keys that are
// not known: a misspelt unit would make every number after it look wrong.
func (in *wearerReader) measures(r *reader) {
	measures := r.take("measures")
	if r.rest(); measures == nil {
		return
	}
	r.tree["measures"] = measures
	r.table("measures", false, func() {}, func(f fields) {
		table := f.(*reader)
		for _, key := range in.meta.Keys() {
			if len(key) == 2 && key[0] == "measures" {
				in.measure(table, key[1])
			}
		}
	})
}

func (in *wearerReader) measure(table *reader, name string) {
	mm := 0.0
	switch v := table.take(name).(type) {
	case string:
		var err error
		if in.hasUnit {
			mm, err = in.unit.Parse(v)
		} else {
			mm, err = draft.ParseLength(v)
		}
		if err != nil {
			table.fault(name, err.Error())
			return
		}
	case int64, float64:
		if !in.hasUnit {
			table.fault(name, `the file does not say the unit of its numbers; add a line such as unit = "mm" at its top`)
			return
		}
		table.float(name, &mm, v)
		mm *= in.unit.MM()
	default:
		table.wants(name, "a number, or text with a unit", v)
		return
	}
	if !(mm > 0 && mm <= draft.MaxCoordinate) {
		table.fault(name, fmt.Sprintf("%v mm is no measure; it must be above 0 and at most 100 m. Leave out what was not measured", mm))
		return
	}
	in.wearer.Measures = append(in.wearer.Measures, draft.Measure{Name: name, Value: mm})
}

// estimate marks the measures that the file says were not taken.
func (in *wearerReader) estimate(f fields, names []draft.ID) {
	places := make(map[string]int, len(in.wearer.Measures))
	for i, m := range in.wearer.Measures {
		places[m.Name] = i
	}
	for _, name := range names {
		i, known := places[string(name)]
		if !known {
			f.fault("estimated", fmt.Sprintf("it names %q, which is not among the measures", name))
			return
		}
		in.wearer.Measures[i].Estimated = true
	}
}

// EncodeWearer returns the bytes of a wearer file, in millimetres.
func EncodeWearer(w *draft.Wearer) []byte {
	out := &writer{}
	name, unit := w.Name, draft.Millimetre
	out.text("name", &name)
	out.word("unit", &unit)
	out.word("build", &w.Build)
	var estimated []draft.ID
	for _, m := range w.Measures {
		if m.Estimated {
			estimated = append(estimated, draft.ID(m.Name))
		}
	}
	out.ids("estimated", &estimated)
	bodyLayout(out, w)
	out.table("measures", len(w.Measures) > 0, nil, func(fields) {
		for _, m := range w.Measures {
			out.key(keyed(m.Name))
			out.float(m.Value)
			out.end()
		}
	})
	return out.out
}

// keyed returns a name as a TOML key, in quotes where it needs them.
func keyed(name string) string {
	bare := name != ""
	for i := range len(name) {
		bare = bare && tomltext.IsKeyByte(name[i])
	}
	if bare {
		return name
	}
	w := &writer{}
	w.quote(name)
	return string(w.out)
}

// SaveWearer writes a wearer file, whole or not at all.
func SaveWearer(path string, w *draft.Wearer) error {
	return Replace(path, func(out io.Writer) error {
		_, err := out.Write(EncodeWearer(w))
		return err
	})
}
