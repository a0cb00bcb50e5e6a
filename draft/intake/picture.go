package intake

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"path/filepath"

	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"

	"hemlet/draft"
)

// PictureEndings are the endings of the files that are read as pictures.
func PictureEndings() []string {
	return []string{".png", ".jpg", ".jpeg", ".tif", ".tiff", ".bmp", ".webp"}
}

// DescribePicture tells of the bytes of a picture file what a project notes of it, without
// decoding the pixels. The name is the file's; width and height are those of the picture
// as it is looked at, after the file's orientation tag was followed; the resolution is 0
// where the file tells none, or one that cannot be meant. What is no picture, has more
// pixels than fit, or claims more than its bytes can hold, is an error of one sentence.
func DescribePicture(name string, content []byte) (draft.PictureFile, error) {
	h, err := readHead(content)
	if err != nil {
		return draft.PictureFile{}, fmt.Errorf("%s %w", name, err)
	}
	sum := sha256.Sum256(content)
	f := draft.PictureFile{
		Name: filepath.Base(name), Hash: hex.EncodeToString(sum[:]), Ext: h.ext(), DPI: h.dpi,
	}
	f.Wide, f.High = h.turned()
	return f, nil
}

// PictureNotes tells what a reading of a picture file leaves out: further pages or frames.
// Of what is no picture it tells nothing.
func PictureNotes(content []byte) []string {
	h, err := readHead(content)
	if err != nil {
		return nil
	}
	return h.notes
}

// DecodePicture returns the pixels of a picture file that is not larger than fits, turned
// and mirrored as its orientation tag says, with the top left corner at (0, 0).
func DecodePicture(name string, content []byte) (image.Image, error) {
	return DecodePictureContext(context.Background(), name, content)
}

// DecodePictureContext is DecodePicture, given up between two reads when the context ends.
func DecodePictureContext(ctx context.Context, name string, content []byte) (image.Image, error) {
	h, err := readHead(content)
	if err != nil {
		return nil, fmt.Errorf("%s %w", name, err)
	}
	return h.picture(ctx, name, content)
}

// PictureParts returns how many pictures a file holds that PicturePart returns: the pages
// of a TIFF; 1 of any other picture.
func PictureParts(content []byte) int {
	h, err := readHead(content)
	if err != nil || h.form != formTIFF {
		return 1
	}
	return len(tiffDirectories(content))
}

// PicturePart returns the part of a picture file, counted from 1, as a file of its own: a
// PNG that tells the same resolution, or the file itself where it has but one.
func PicturePart(ctx context.Context, name string, content []byte, part int) ([]byte, error) {
	n := PictureParts(content)
	switch {
	case part < 1 || part > n:
		return nil, fmt.Errorf("%s has no page %d; it has %d", name, part, n)
	case n == 1:
		return content, nil
	}
	h, err := tiffHeadAt(content, tiffDirectories(content)[part-1])
	if err == nil {
		err = h.check(len(content))
	}
	name = fmt.Sprintf("%s, page %d,", name, part)
	if err != nil {
		return nil, fmt.Errorf("%s %w", name, err)
	}
	img, err := h.picture(ctx, name, content)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(&stoppableWriter{ctx, &b}, img); err != nil {
		return nil, named(name, err)
	}
	return withResolution(b.Bytes(), h.dpi), nil
}

// picture decodes and turns the picture of the head.
func (h *pictureHead) picture(ctx context.Context, name string, content []byte) (image.Image, error) {
	img, err := h.decode(ctx, content)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil:
		return nil, fmt.Errorf("%s %w", name, damage(err))
	case img.Bounds() != image.Rect(0, 0, h.wide, h.high):
		return nil, fmt.Errorf("%s %w", name, damage(errors.New("its pixels are not as many as it says")))
	}
	return turnImage(img, h.turn), nil
}

// decode reads the pixels as they are stored. What a decoder throws at a file that it
// never expected is an error like any other.
func (h *pictureHead) decode(ctx context.Context, content []byte) (img image.Image, err error) {
	defer func() {
		if thrown := recover(); thrown != nil {
			img, err = nil, fmt.Errorf("it cannot be decoded (%v)", thrown)
		}
	}()
	r := &stoppable{ctx: ctx, r: bytes.NewReader(content)}
	switch h.form {
	case formPNG:
		return png.Decode(r)
	case formJPEG:
		return jpeg.Decode(r)
	case formBMP:
		img, err = bmp.Decode(r)
		return wholePalette(img), err
	case formWebP:
		return webp.Decode(r)
	case formTIFF:
		img, err = tiff.Decode(h.tiff.reader(ctx, content))
		if err != nil {
			return nil, err
		}
		return h.tiff.meant(img), nil
	}
	return nil, errNoPicture
}

// stoppable reads until a context ends.
type stoppable struct {
	ctx context.Context
	r   io.Reader
}

func (s *stoppable) Read(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.r.Read(p)
}

// damage words what a decoder says of a broken file.
func damage(err error) error {
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return errors.New("is damaged: it ends in the middle. Copy or scan it again")
	}
	return fmt.Errorf("is damaged: %w. Open it in a picture program and save it as PNG, or scan it again", err)
}

// wholePalette gives a picture whose palette is shorter than its pixels ask for (which
// the reader of BMP lets pass) black for the rest.
func wholePalette(img image.Image) image.Image {
	p, ok := img.(*image.Paletted)
	if !ok {
		return img
	}
	for len(p.Palette) < 256 {
		p.Palette = append(p.Palette, image.Black.C)
	}
	return p
}
