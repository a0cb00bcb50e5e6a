package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// floors names each floor's folder and the floors that it must not import.
var floors = map[string][]string{
	"geom":    {"draft", "export", "app", "assets", "cmd"},
	"draft":   {"export", "app", "cmd"},
	"export":  {"app", "cmd"},
	"app":     {"cmd"},
	"assets":  {"geom", "draft", "export", "app", "cmd"},
	"cmd/hem": {"app"},
}

// TestFloors holds every package to the floors of the house: nothing imports
// upward, and only the window knows its toolkit.
func TestFloors(t *testing.T) {
	files := 0
	for folder, above := range floors {
		root := filepath.Join("..", "..", folder)
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			files++
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
			if err != nil {
				return err
			}
			for _, spec := range file.Imports {
				name, _ := strconv.Unquote(spec.Path.Value)
				for _, floor := range above {
					if name == "hemlet/"+floor || strings.HasPrefix(name, "hemlet/"+floor+"/") {
						t.Errorf("%s imports %s, a floor above it", path, name)
					}
				}
				if folder != "app" && strings.HasPrefix(name, "fyne.io/") {
					t.Errorf("%s imports %s; only app may", path, name)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if files < 50 {
		t.Errorf("only %d files looked at; has a folder moved?", files)
	}
}
