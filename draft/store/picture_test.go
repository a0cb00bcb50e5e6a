package store

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft"
)

func TestPictures(t *testing.T) {
	dir := t.TempDir()
	project := filepath.Join(dir, "Cape.hemlet")
	content := []byte("a scan, as far as this is concerned")
	sum := sha256.Sum256(content)
	hash, err := PutPicture(project, content, "png")
	if err != nil || hash != hex.EncodeToString(sum[:]) {
		t.Fatalf("got %q, %v", hash, err)
	}
	path := filepath.Join(dir, "Cape.hemlet.d", hash+".png")
	if got := contentOf(t, path); got != string(content) {
		t.Fatalf("the file holds %q", got)
	}
	pic := &draft.Picture{Name: "scan", Hash: hash, Ext: "png"}
	if got, err := Picture(project, pic); err != nil || string(got) != string(content) {
		t.Errorf("got %q, %v", got, err)
	}

	write(t, path, "a scan, as far as this is concernee")
	if _, err := Picture(project, pic); !errors.Is(err, ErrPictureDamaged) || !strings.Contains(err.Error(), "scan") {
		t.Errorf("a damaged picture: %v", err)
	}
	if _, err := PutPicture(project, content, "png"); err != nil {
		t.Fatal(err)
	}
	if _, err := Picture(project, pic); err != nil {
		t.Errorf("a damaged picture that was put in again: %v", err)
	}

	p := draft.New("")
	p.Pictures = []*draft.Picture{{Name: "lost", Hash: strings.Repeat("0", 64), Ext: "png"}, pic}
	other := filepath.Join(dir, "Other.hemlet")
	if err := CopyPictures(p, project, other); !errors.Is(err, ErrPictureMissing) || !strings.Contains(err.Error(), "lost") {
		t.Errorf("a missing picture: %v", err)
	}
	if _, err := Picture(other, pic); err != nil {
		t.Errorf("the copy: %v", err)
	}
}

func TestPicturesStayInTheirFolder(t *testing.T) {
	dir := t.TempDir()
	project := filepath.Join(dir, "Cape.hemlet")
	write(t, filepath.Join(dir, "secret.txt"), "secret")
	for _, pic := range []draft.Picture{
		{Hash: "../secret", Ext: "txt"},
		{Hash: strings.Repeat("0", 64), Ext: "../x"},
		{Hash: strings.Repeat("0", 64), Ext: ""},
		{Hash: strings.Repeat("A", 64), Ext: "png"},
	} {
		if got, err := Picture(project, &pic); err == nil || !strings.Contains(err.Error(), "names no picture") {
			t.Errorf("%v: got %q, %v", pic, got, err)
		}
	}
	if _, err := PutPicture(project, nil, "p/ng"); err == nil {
		t.Error("an ending with a slash was taken")
	}
	if _, err := os.Stat(PictureFolder(project)); err == nil {
		t.Error("a folder was made for nothing")
	}
}
