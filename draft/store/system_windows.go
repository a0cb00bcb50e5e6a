package store

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// Windows error numbers for a full disk.
const (
	errHandleDiskFull = syscall.Errno(39)
	errDiskFull       = syscall.Errno(112)
)

// diskFull reports whether the error says that there is no room left.
func diskFull(err error) bool {
	return errors.Is(err, errDiskFull) || errors.Is(err, errHandleDiskFull)
}

// syncFolder does nothing: Windows keeps names with the file.
func syncFolder(string) error { return nil }

// keepOwner does nothing: the folder's rules give the new file its owner.
func keepOwner(*os.File, fs.FileInfo) {}

// openLocked opens a file for this process alone, making it where fresh is set. It
// fails if another open file holds it: while it is open it may be read, but not
// opened for writing again. That ends with the process.
func openLocked(path string, fresh bool) (*os.File, error) {
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, &fs.PathError{Op: "open", Path: path, Err: err}
	}
	how := uint32(syscall.OPEN_EXISTING)
	if fresh {
		how = syscall.CREATE_NEW
	}
	h, err := syscall.CreateFile(name, syscall.GENERIC_READ|syscall.GENERIC_WRITE, syscall.FILE_SHARE_READ, nil, how, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	if err != nil {
		return nil, &fs.PathError{Op: "open", Path: path, Err: err}
	}
	return os.NewFile(uintptr(h), path), nil
}

// hold does nothing: an open file cannot be replaced on Windows.
func hold(string) (release func(), err error) { return func() {}, nil }
