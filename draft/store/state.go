package store

import (
	"os"
	"path/filepath"
	"runtime"
)

// StateDir returns the folder in which this user's programs keep what must outlive
// a session but is no document: $XDG_STATE_HOME/hemlet, by default
// ~/.local/state/hemlet, after the XDG base directory specification; the local
// application folder on Windows, Application Support on macOS. It need not exist.
func StateDir() (string, error) {
	if dir := os.Getenv("XDG_STATE_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "hemlet"), nil
	}
	if runtime.GOOS == "windows" {
		if dir := os.Getenv("LocalAppData"); dir != "" {
			return filepath.Join(dir, "Hemlet"), nil
		}
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", &FileError{Says: "there is no home folder to keep the journal in: " + err.Error(), Err: err}
	}
	if runtime.GOOS == "darwin" {
		return filepath.Join(home, "Library", "Application Support", "Hemlet"), nil
	}
	return filepath.Join(home, ".local", "state", "hemlet"), nil
}
