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

// alive reports whether a process with the id runs on this machine.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}
