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

// alive reports whether a process with the id runs on this machine.
func alive(pid int) bool {
	const queryLimited = 0x1000
	h, err := syscall.OpenProcess(queryLimited, false, uint32(pid))
	if err != nil {
		return errors.Is(err, syscall.ERROR_ACCESS_DENIED)
	}
	defer syscall.CloseHandle(h)
	var code uint32
	const stillActive = 259
	if err := syscall.GetExitCodeProcess(h, &code); err != nil {
		return true
	}
	return code == stillActive
}
