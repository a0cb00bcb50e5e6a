package shell

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"hemlet/app/control"
	"hemlet/app/wording"
	"hemlet/export"
)

// prefPaper is the preference that keeps the paper that was chosen last.
const prefPaper = "paper"

// askExport goes to Make and asks where to write the file; pressed there again it
// writes what is chosen.
func (s *Shell) askExport() {
	if s.station != stationMake {
		s.enter(stationMake)
		return
	}
	o := s.make.Options()
	ending := "." + o.Format.String()
	name := s.desk.Path()
	if name != "" {
		name = strings.TrimSuffix(name, filepath.Ext(name)) + ending
	} else {
		name = fileName(s.desk.Project().Name) + ending
	}
	s.chooseTarget("Write the "+strings.ToUpper(o.Format.String()), "Write", name, []string{ending}, func(path string) {
		s.files.replacing(path, func() { s.export(path, o) })
	})
}

// export writes the file off the window's goroutine and says what was written.
func (s *Shell) export(path string, o export.Options) {
	ctx, cancel := context.WithCancel(context.Background())
	wait := s.ask("Writing "+filepath.Base(path)+" …", nil, nil, answer{word: "Stop", out: true, do: func() bool {
		cancel()
		return true
	}})
	project := s.desk.Project()
	go func() {
		report, err := export.Write(ctx, path, project, o)
		control.OnMain(func() {
			cancel()
			wait.close()
			switch {
			case errors.Is(err, context.Canceled):
				s.Say("Stopped; nothing was written.")
			case err != nil:
				s.tell("This could not be written", err.Error())
			default: // even if it was to be stopped, and that came too late
				s.told(path, report)
			}
		})
	}()
}

// told says what was written, and the cautions that go with it.
func (s *Shell) told(path string, r export.Report) {
	text := "Written to " + path + "."
	if r.Format == export.PDF {
		text = fmt.Sprintf("%s on %s, written to %s. Print at 100 %%, and measure the 50 mm square before you cut.", wording.Count(len(r.Pieces), "piece"), wording.Count(r.Pages, "page"), path)
	}
	more := slices.Concat(r.Kept, r.Notices)
	if len(more) == 0 {
		s.Say(text)
		return
	}
	s.tell("Written", text+"\n\n"+strings.Join(more, "\n\n"))
}
