package main

import (
	"context"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strings"

	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/draft/store"
	"hemlet/geom/trace/scan"
)

// tracedPicture is one picture that is to be followed.
type tracedPicture struct {
	// label names it in messages, stem in the names of pieces.
	label, stem string
	file        draft.PictureFile
	content     []byte
}

func (in tracedPicture) decode(ctx context.Context) (image.Image, error) {
	return intake.DecodePictureContext(ctx, in.label, in.content)
}

// greyImage returns what hands grey values over as a picture once, and keeps them no longer.
func greyImage(r *scan.Raster) func() (image.Image, error) {
	return func() (image.Image, error) {
		img := &image.Gray{Pix: r.Pix, Stride: r.W, Rect: image.Rect(0, 0, r.W, r.H)}
		r = nil
		return img, nil
	}
}

// files follows all that was given.
func (w *tracer) files(ctx context.Context) error {
	for _, path := range w.verb.In {
		if filepath.Ext(path) != projectEnding {
			if err := w.file(ctx, path); err != nil {
				return err
			}
			continue
		}
		if len(w.verb.In) > 1 {
			return fmt.Errorf("%s: a project is traced by itself; lay further pictures under it with hem do add-picture first", path)
		}
		return w.fromProject(ctx, path)
	}
	return nil
}

// file follows the picture, or the pictures, of a file.
func (w *tracer) file(ctx context.Context, path string) error {
	content, err := readBounded(path)
	if err != nil {
		return err
	}
	if strings.HasPrefix(string(content[:min(len(content), pdfHead)]), "%PDF-") || strings.EqualFold(filepath.Ext(path), intake.PDFEnding) {
		return w.pdf(ctx, path, content)
	}
	parts := intake.PictureParts(content)
	if parts > 1 {
		return w.parts(ctx, path, content, parts)
	}
	file, err := intake.DescribePicture(path, content)
	if err != nil {
		return err
	}
	for _, says := range intake.PictureNotes(content) {
		w.remarks = append(w.remarks, path+": "+says)
	}
	return w.picture(ctx, tracedPicture{path, stem(path), file, content})
}

// parts follows the pages of a picture file that has several.
func (w *tracer) parts(ctx context.Context, path string, content []byte, parts int) error {
	for _, n := range w.pages(parts) {
		page, err := intake.PicturePart(ctx, path, content, n)
		if err != nil {
			return err
		}
		name := fmt.Sprintf("%s page %d", stem(path), n)
		file, err := intake.DescribePicture(name+".png", page)
		if err != nil {
			return err
		}
		if err := w.picture(ctx, tracedPicture{fmt.Sprintf("%s page %d", path, n), name, file, page}); err != nil {
			return err
		}
	}
	return nil
}

// pages returns the pages that are asked for, of so many.
func (w *tracer) pages(all int) []int {
	if len(w.verb.Page) > 0 {
		return w.verb.Page
	}
	list := make([]int, all)
	for i := range list {
		list[i] = i + 1
	}
	return list
}

// pdfHead is the length of what a PDF begins with.
const pdfHead = len("%PDF-")

// readBounded reads a file that is not larger than pictures may be.
func readBounded(path string) ([]byte, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return nil, fmt.Errorf("%s: this is a folder; name the pictures in it", path)
	}
	return store.ReadPictureFile(path)
}

// pdf follows the pictures of a PDF: of all pages, or of those that are asked for.
func (w *tracer) pdf(ctx context.Context, path string, content []byte) error {
	p, err := intake.OpenPDF(ctx, path, content)
	if err != nil {
		return err
	}
	found := 0
	for _, n := range w.pages(p.Pages()) {
		list, err := p.Pictures(ctx, n)
		if err != nil {
			return err
		}
		for i := range list {
			if err := w.pdfPicture(ctx, path, &list[i]); err != nil {
				return err
			}
		}
		found += len(list)
	}
	if found == 0 {
		return fmt.Errorf("%s holds no pictures on the pages that are read: they are drawn, not scanned. Print them to pictures (PNG, at 300 dots an inch), or bring in the drawing as SVG or DXF with hem import", path)
	}
	return nil
}

func (w *tracer) pdfPicture(ctx context.Context, path string, pic *intake.PDFPicture) error {
	content, err := pic.Content(ctx)
	if err != nil {
		return err
	}
	file, err := pic.Describe(content)
	if err != nil {
		return err
	}
	label := fmt.Sprintf("%s page %d", path, pic.Page)
	if pic.Number > 1 {
		label += fmt.Sprintf(" picture %d", pic.Number)
	}
	return w.picture(ctx, tracedPicture{label, stem(pic.Name()), file, content})
}
