package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"

	"hemlet/draft"
)

// MaxPictureBytes bounds the file of a picture: 256 MiB, above any scan within the
// bound of 12,000 x 12,000 pixels that is not raw.
const MaxPictureBytes = 256 << 20

// Causes of errors about pictures.
var (
	ErrPictureMissing = errors.New("the picture is not beside the project")
	ErrPictureDamaged = errors.New("the picture is not what it was")
)

// PictureFolder returns the folder beside the project file in which its pictures
// lie, named by the hash of their content.
func PictureFolder(project string) string { return project + ".d" }

var (
	pictureHash   = regexp.MustCompile(`^[0-9a-f]{64}$`)
	pictureEnding = regexp.MustCompile(`^[a-z0-9]{1,8}$`)
)

// picturePath refuses whatever is no hash or ending, so that no project file can
// lead out of the folder.
func picturePath(project, hash, ext string) (string, error) {
	if !pictureHash.MatchString(hash) || !pictureEnding.MatchString(ext) {
		return "", &FileError{File: project, Says: fmt.Sprintf("%q with the ending %q names no picture", hash, ext)}
	}
	return filepath.Join(PictureFolder(project), hash+"."+ext), nil
}

// PutPicture keeps the bytes of a picture file beside the project and returns its
// hash. The ending is small letters and digits, without a dot. What is there
// already is not written again unless it is damaged.
func PutPicture(project string, content []byte, ext string) (hash string, err error) {
	if len(content) > MaxPictureBytes {
		return "", &FileError{Says: fmt.Sprintf("the picture is larger than %d MiB", MaxPictureBytes>>20)}
	}
	sum := sha256.Sum256(content)
	hash = hex.EncodeToString(sum[:])
	path, err := picturePath(project, hash, ext)
	if err != nil {
		return "", err
	}
	if _, there, err := readFile(path, MaxPictureBytes); err == nil && there.Hash == sum {
		return hash, nil
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return "", unwritable(filepath.Dir(path), err)
	}
	return hash, Replace(path, func(w io.Writer) error {
		_, err := io.Copy(w, bytes.NewReader(content))
		return err
	})
}

// Picture returns the bytes of a picture of the project and proves that they are
// what they were: the cause of the error is ErrPictureMissing or ErrPictureDamaged.
func Picture(project string, pic *draft.Picture) ([]byte, error) {
	path, err := picturePath(project, pic.Hash, pic.Ext)
	if err != nil {
		return nil, err
	}
	content, stamp, err := readFile(path, MaxPictureBytes)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &FileError{File: path, Says: "the picture " + pic.Name + " is not there; copy the folder together with the project", Err: ErrPictureMissing}
	case err != nil:
		return nil, named(path, err)
	case hex.EncodeToString(stamp.Hash[:]) != pic.Hash:
		return nil, &FileError{File: path, Says: "the picture " + pic.Name + " was changed or damaged; put the first file in again", Err: ErrPictureDamaged}
	}
	return content, nil
}

// CopyPictures carries the pictures of a project along when it is saved under
// another name. Pictures that are missing or damaged are left out and told, in one
// joined error; the others are copied all the same.
func CopyPictures(p *draft.Project, from, to string) error {
	var errs []error
	for _, pic := range p.Pictures {
		content, err := Picture(from, pic)
		if err == nil {
			_, err = PutPicture(to, content, pic.Ext)
		}
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// ReadPictureFile reads the bytes of a picture file, unless it is no plain file or larger
// than pictures may be.
func ReadPictureFile(path string) ([]byte, error) {
	content, _, err := readFile(path, MaxPictureBytes)
	if err != nil {
		return nil, named(path, err)
	}
	return content, nil
}
