//go:build unix

package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// diskFull reports whether the error says that there is no room left.
func diskFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || errors.Is(err, syscall.EFBIG)
}

// syncFolder makes the new name of the file as durable as its bytes. Some file
// systems cannot do that for folders, which is no reason to say that the file was
// not saved.
func syncFolder(target string) error {
	d, err := os.Open(filepath.Dir(target))
	if err != nil {
		return nil
	}
	defer d.Close()
	_ = d.Sync()
	return nil
}

// keepOwner gives the new file the old one's owner and group as far as it may.
func keepOwner(f *os.File, old fs.FileInfo) {
	if sys, ok := old.Sys().(*syscall.Stat_t); ok {
		_ = f.Chown(int(sys.Uid), int(sys.Gid))
	}
}

// openLocked opens a file for this process alone, making it where fresh is set. It
// fails if another open file holds the lock. The lock ends with the process.
func openLocked(path string, fresh bool) (*os.File, error) {
	flags, how := os.O_RDWR, syscall.LOCK_EX|syscall.LOCK_NB
	if fresh {
		// Only somebody who looks whether it is held can hold it now, and not for
		// long: wait.
		flags, how = flags|os.O_CREATE|os.O_EXCL, syscall.LOCK_EX
	}
	f, err := os.OpenFile(path, flags, 0o600)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), how); err != nil {
		f.Close()
		return nil, &fs.PathError{Op: "lock", Path: path, Err: err}
	}
	return f, nil
}

// hold keeps other Hemlets from saving to the file at the path until it is released.
// A lock belongs to the file and not to its name, and saving gives the name to a new
// file: whoever waited for the old one starts again with the new one. Where there is
// no file, or one that cannot be locked, there is nothing to hold.
func hold(path string) (release func(), err error) {
	for {
		f, err := os.Open(path)
		if err != nil {
			return func() {}, nil
		}
		release = func() { f.Close() }
		if syscall.Flock(int(f.Fd()), syscall.LOCK_EX) != nil {
			return release, nil
		}
		mine, err := f.Stat()
		if err != nil {
			release()
			return nil, err
		}
		if now, err := os.Stat(path); err != nil || os.SameFile(mine, now) {
			return release, nil
		}
		release()
	}
}
