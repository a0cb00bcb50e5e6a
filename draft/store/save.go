package store

import (
	"errors"
	"io"
	"io/fs"
	"os"

	"hemlet/draft"
	"hemlet/draft/tomltext"
)

// Save writes the project to path, whole or not at all, and returns what the file
// is now. Where seen is not nil the file must still be what it says, else nothing
// is written and the error is ErrChangedOutside; a file that has gone is written
// anew. With nil whatever is there is replaced. Errors are of type *FileError.
func Save(path string, p *draft.Project, seen *Stamp) (Stamp, error) {
	if err := draft.Validate(p); err != nil {
		return Stamp{}, &FileError{File: path, Says: "the project cannot be saved: " + err.Error(), Err: err}
	}
	text := Encode(p)
	if err := readable(text); err != nil {
		return Stamp{}, &FileError{File: path, Says: "the project cannot be saved, because it could not be read back: " + err.Error(), Err: err}
	}
	if seen != nil {
		// Held until the new file is in place: of two that save at once the second
		// sees what the first has written.
		release, err := hold(path)
		if err != nil {
			return Stamp{}, unwritable(path, err)
		}
		defer release()
		if _, err := os.Stat(path); err == nil && !sameContent(path, *seen) {
			return Stamp{}, &FileError{
				File: path, Err: ErrChangedOutside,
				Says: "another program has changed it since it was opened; save under another name, or say that it may be replaced",
			}
		}
	}
	if err := Replace(path, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	}); err != nil {
		return Stamp{}, err
	}
	info, err := os.Stat(path)
	if err != nil {
		return Stamp{}, named(path, err)
	}
	return stampOf(info, text), nil
}

// readable reports whether the text stays within the bounds of what Load reads.
func readable(text []byte) error {
	if err := plainText(text, draft.MaxTextBytes); err != nil {
		return err
	}
	return tomltext.Scan(text, &census{words: projectWords()})
}

// ErrReadOnly is the cause of the error about a target that must not be written.
var ErrReadOnly = errors.New("the file is read-only")

// Replace writes a file whole or leaves it as it was: into a new file in the same
// folder, which takes the place of the old one once it is safely on disk. A
// symbolic link stays, and what it points at is replaced. The file keeps its
// permissions. If anything fails the new file is removed and the target keeps its
// bytes. Errors are of type *FileError.
func Replace(path string, write func(w io.Writer) error) error {
	target, err := resolve(path)
	if err != nil {
		return unwritable(path, err)
	}
	old, err := os.Stat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		old = nil
	case err != nil:
		return unwritable(path, err)
	case !old.Mode().IsRegular():
		return &FileError{File: path, Says: "it is no plain file; give the name of a file"}
	case old.Mode().Perm()&0o222 == 0:
		return &FileError{File: path, Says: "it is read-only; save under another name, or let it be written", Err: ErrReadOnly}
	}
	if err := replaceWith(target, old, write); err != nil {
		return unwritable(path, err)
	}
	return nil
}

// unwritable tells plainly why a file was not written.
func unwritable(path string, err error) error {
	var already *FileError
	if errors.As(err, &already) {
		return already
	}
	return &FileError{File: path, Says: "it cannot be written: " + Plainly(err), Err: err}
}

func replaceWith(target string, old fs.FileInfo, write func(io.Writer) error) (err error) {
	f, err := besides(target)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err := write(f); err != nil {
		return err
	}
	if old != nil {
		if err := f.Chmod(old.Mode().Perm()); err != nil && !errors.Is(err, errors.ErrUnsupported) {
			return err
		}
		keepOwner(f, old)
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if err := os.Rename(f.Name(), target); err != nil {
		return err
	}
	return syncFolder(target)
}
