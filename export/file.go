package export

import (
	"bytes"
	"context"
	"fmt"
	"io"

	"hemlet/draft"
	"hemlet/draft/store"
)

// Write writes the project to a file in the format that its ending asks for,
// whatever the options say. The file is replaced whole: on an error, and when the
// context is cancelled, it keeps the bytes that it had.
func Write(ctx context.Context, path string, p *draft.Project, o Options) (Report, error) {
	format, err := FormatOf(path)
	if err != nil {
		return Report{}, err
	}
	o.Format = format
	var b bytes.Buffer
	report, err := Encode(ctx, &b, p, o)
	if err != nil {
		return Report{}, err
	}
	if err := store.Replace(path, func(w io.Writer) error {
		_, err := w.Write(b.Bytes())
		return err
	}); err != nil {
		return Report{}, fmt.Errorf("export %s: %w", path, err)
	}
	return report, nil
}
