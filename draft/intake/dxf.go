package intake

import (
	"context"
	"errors"
)

func readDXF(ctx context.Context, d *Drawing, data []byte, opts Options) error {
	return errors.New("DXF")
}
