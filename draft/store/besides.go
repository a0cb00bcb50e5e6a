package store

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// partEnding ends the name of a file that is to take the place of another one.
const partEnding = ".part"

// besides makes a new file beside the target, with the permissions that the
// user's other new files get.
func besides(target string) (*os.File, error) {
	folder, name := filepath.Split(target)
	const tries = 100 // of 130 random bits each: one is enough
	for range tries {
		f, err := os.OpenFile(filepath.Join(folder, "."+shortened(name)+"."+rand.Text()+partEnding), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		return f, err
	}
	return nil, fmt.Errorf("no free name beside it")
}

// shortened keeps the name of the new file below the 255 bytes of most file systems.
func shortened(name string) string {
	const room = 100
	if len(name) > room {
		return name[:room]
	}
	return name
}

// resolve follows symbolic links to the file that they mean, which need not exist.
func resolve(path string) (string, error) {
	const most = 40 // as many as Linux follows
	for range most {
		info, err := os.Lstat(path)
		if errors.Is(err, fs.ErrNotExist) {
			return path, nil
		}
		if err != nil {
			return "", err
		}
		if info.Mode()&fs.ModeSymlink == 0 {
			return path, nil
		}
		to, err := os.Readlink(path)
		if err != nil {
			return "", err
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	return "", fmt.Errorf("its symbolic links lead in a circle")
}

// Plainly says what an error of the system means, without the name of the file.
func Plainly(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file or folder"
	case errors.Is(err, fs.ErrPermission):
		return "permission is denied"
	case diskFull(err):
		return "the disk is full; make room and try again"
	case errors.Is(err, syscall.EROFS):
		return "the disk is read-only"
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}
