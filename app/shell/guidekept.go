package shell

import (
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// prefGuided keeps the files that the guide leads through, the latest first: of each the
// numbers of the steps that were put behind, parted by commas, a tab, and its path.
const prefGuided = "guided"

// mostGuided bounds them.
const mostGuided = 20

// keep notes whether the document is led through and which steps were put behind. One that is
// in no file yet is noted once it is saved.
func (g *guide) keep() {
	path := g.s.desk.Path()
	if path == "" {
		return
	}
	prefs := g.s.app.Preferences()
	list := slices.DeleteFunc(prefs.StringList(prefGuided), func(line string) bool { return guidedPath(line) == kept(path) })
	if g.on {
		var passed []string
		for i := range g.steps {
			if g.passed[i] {
				passed = append(passed, strconv.Itoa(i))
			}
		}
		list = slices.Insert(list, 0, strings.Join(passed, ",")+"\t"+kept(path))
	}
	prefs.SetStringList(prefGuided, list[:min(len(list), mostGuided)])
}

// recall takes up what was noted of the document.
func (g *guide) recall() {
	g.on, g.passed = false, map[int]bool{}
	path := g.s.desk.Path()
	if path == "" {
		return
	}
	for _, line := range g.s.app.Preferences().StringList(prefGuided) {
		if guidedPath(line) != kept(path) {
			continue
		}
		g.on = true
		passed, _, _ := strings.Cut(line, "\t")
		for _, word := range strings.Split(passed, ",") {
			if i, err := strconv.Atoi(word); err == nil {
				g.passed[i] = true
			}
		}
	}
}

// guidedPath returns the path of a line of prefGuided.
func guidedPath(line string) string {
	_, path, _ := strings.Cut(line, "\t")
	return path
}

// kept is a path as it is noted, the same from wherever the program was started.
func kept(path string) string {
	if whole, err := filepath.Abs(path); err == nil {
		return whole
	}
	return path
}
