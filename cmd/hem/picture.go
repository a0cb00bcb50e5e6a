package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/draft/store"
)

// pictureIn is a picture file that an act takes into a project: its bytes go beside that.
type pictureIn struct {
	file    draft.PictureFile
	content []byte
}

// readPictures describes each picture file among the arguments that is given by its path,
// with or without @ before it, and puts what an act reads in its place.
func readPictures(act draft.Named, args map[string]string) ([]pictureIn, error) {
	var list []pictureIn
	for _, param := range act.Params() {
		text, given := args[param.Name]
		if param.Kind != "picture file" || !given {
			continue
		}
		path, named := strings.CutPrefix(text, "@")
		if _, err := draft.ParsePictureFile(text); err == nil && !named {
			continue // described already: its bytes lie beside the project
		}
		in, err := readPicture(path)
		if err != nil {
			return nil, err
		}
		list = append(list, in)
		args[param.Name] = in.file.String()
	}
	return list, nil
}

func readPicture(path string) (pictureIn, error) {
	info, err := os.Stat(path)
	if err == nil && info.Size() > store.MaxPictureBytes {
		return pictureIn{}, &store.FileError{File: path, Says: "it is larger than pictures may be"}
	}
	content, err := os.ReadFile(path)
	if err != nil {
		return pictureIn{}, &store.FileError{File: path, Says: store.Plainly(err), Err: err}
	}
	file, err := intake.DescribePicture(filepath.Base(path), content)
	return pictureIn{file, content}, err
}

// keepPictures puts pictures beside a project file. undo takes away again what was not
// there before.
func keepPictures(project string, list []pictureIn) (undo func(), err error) {
	var made []string
	undo = func() {
		for _, path := range made {
			_ = os.Remove(path)
		}
		if len(made) > 0 {
			_ = os.Remove(store.PictureFolder(project)) // only where it is empty
		}
	}
	for _, in := range list {
		path := filepath.Join(store.PictureFolder(project), in.file.Hash+"."+in.file.Ext)
		_, there := os.Stat(path)
		if _, err := store.PutPicture(project, in.content, in.file.Ext); err != nil {
			undo()
			return nil, err
		}
		if errors.Is(there, fs.ErrNotExist) {
			made = append(made, path)
		}
	}
	return undo, nil
}
