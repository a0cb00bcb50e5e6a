package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft"
)

// Every format that ever was has its fixture, and it still loads.
func TestEveryFormatLoads(t *testing.T) {
	if len(migrations) != Format-1 {
		t.Fatalf("format %d needs %d migrations, and there are %d", Format, Format-1, len(migrations))
	}
	for n := 1; n <= Format; n++ {
		path := filepath.Join("testdata", "store", fmt.Sprintf("format%d.hemlet", n))
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Decode(text)
		if err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		if len(p.Pieces) != 2 || len(p.Seams) != 1 || len(p.Wearers) != 1 {
			t.Errorf("%s: it has %d pieces, %d seams and %d wearers", path, len(p.Pieces), len(p.Seams), len(p.Wearers))
		}
		if n == Format {
			if d := cmp.Diff(string(text), string(Encode(p))); d != "" {
				t.Errorf("%s is not as it would be written today; raise Format if that is meant (- kept, + written):\n%s", path, d)
			}
		}
	}
}

func TestMigrationsRunInOrder(t *testing.T) {
	var ran []string
	lift := []migration{
		func(tree map[string]any) error {
			ran = append(ran, "1 to 2")
			tree["name"] = tree["title"].(string) + ", lifted"
			delete(tree, "title")
			return nil
		},
		func(tree map[string]any) error {
			ran = append(ran, "2 to 3")
			tree["name"] = tree["name"].(string) + " twice"
			return nil
		},
	}
	old := strings.Replace(sample, "name = \"Cape\"", "title = \"Cape\"", 1)
	p := &draft.Project{}
	old = strings.Replace(old, "format = 7", "format = 1", 1)
	if err := decode([]byte(old), p, 3, lift); err != nil {
		t.Fatal(err)
	}
	if want := "Cape, lifted twice"; p.Name != want || len(ran) != 2 || ran[0] != "1 to 2" {
		t.Errorf("got the name %q after %v", p.Name, ran)
	}
	lift[1] = func(map[string]any) error { return errors.New("no way") }
	if err := decode([]byte(old), &draft.Project{}, 3, lift); err == nil || !strings.Contains(err.Error(), "format 2 to 3: no way") {
		t.Errorf("a migration that fails: %v", err)
	}
	if _, err := Decode([]byte(strings.Replace(sample, "format = 7", "format = 8", 1))); !errors.Is(err, ErrNewer) {
		t.Errorf("a newer format: %v", err)
	}
}
