package tracer

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"hemlet/app/desk"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/draft/store"
)

// UsualOpacity is how strongly a picture is seen under the pieces on the bench.
const UsualOpacity = 0.6

// PDFEnding is that of scanned PDFs.
const PDFEnding = ".pdf"

// Bring takes in the files of pictures and scanned PDFs.
func (r *Room) Bring(paths []string) {
	keep, err := r.host.Keep()
	if err != nil {
		r.say(err.Error())
		return
	}
	r.trouble = ""
	var pictures, pdfs []string
	for _, path := range paths {
		if strings.EqualFold(filepath.Ext(path), PDFEnding) {
			pdfs = append(pdfs, path)
		} else {
			pictures = append(pictures, path)
		}
	}
	if len(pictures) == 0 {
		r.openPDFs(pdfs)
		return
	}
	r.work("Reading "+wording.Count(len(pictures), "picture"), nil, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		var files []draft.PictureFile
		var faults []string
		for i, path := range pictures {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			tell(float64(i)/float64(len(pictures)), "Reading "+filepath.Base(path))
			content, err := store.ReadPictureFile(path)
			var file draft.PictureFile
			if err == nil {
				file, err = keep(filepath.Base(path), content)
			}
			if err != nil {
				faults = append(faults, unreadable(path, err))
				continue
			}
			files = append(files, file)
		}
		return func() {
			if r.lay(files); len(faults) > 0 {
				r.fail(strings.Join(faults, "\n"))
			}
			r.openPDFs(pdfs)
		}, nil
	})
}

// unreadable says why a file could not be brought in: of what does not even claim to be a
// picture, what is wanted instead.
func unreadable(path string, err error) string {
	if slices.Contains(intake.PictureEndings(), strings.ToLower(filepath.Ext(path))) {
		return err.Error()
	}
	if _, gone := os.Stat(path); gone != nil {
		return err.Error()
	}
	return filepath.Base(path) + " is no picture that can be traced. Bring in a PNG, JPEG, TIFF, BMP or WebP, or a scanned PDF."
}

// fail says what could not be brought in: in the status line, and where pictures are
// brought in until the next is.
func (r *Room) fail(says string) {
	r.trouble = says
	r.goTo(stepPictures)
	r.say(says)
	r.update()
}

// lay lays pictures beside one another, as one step to undo, and takes the first of them
// in hand.
func (r *Room) lay(files []draft.PictureFile) {
	if len(files) == 0 {
		return
	}
	fold := fmt.Sprintf("lay %d pictures from %s", len(files), files[0].Hash)
	first := draft.ID("")
	for _, f := range files {
		f.Name = strings.TrimSuffix(f.Name, filepath.Ext(f.Name))
		mm := draft.MMPerInch / guessedDPI(f)
		at := draft.Vector(placeFree(r.desk.Project(), float64(f.Wide)*mm, float64(f.High)*mm))
		width := draft.Length(float64(f.Wide) * mm)
		out, err := desk.RunFolded(r.desk, draft.AddPicture, draft.AddPictureArgs{File: f, At: &at, Width: &width, Opacity: UsualOpacity}, fold)
		if err != nil {
			r.say(err.Error())
			break
		}
		if first == "" {
			first = out.Made
		}
	}
	if first == "" {
		return
	}
	r.hand = first
	r.update()
	r.sheet.Fit()
	r.say("Now make each picture true to size.")
}

// guessedDPI is the resolution at which a picture is shown until it was made true: what
// its file says, or about the size of a sheet of A4 along its longer side.
func guessedDPI(f draft.PictureFile) float64 {
	if f.DPI > 0 {
		return f.DPI
	}
	const longSide = 297 / draft.MMPerInch // ISO 216, A4
	return float64(max(f.Wide, f.High)) / longSide
}
