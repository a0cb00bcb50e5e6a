package shell

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// measured puts a wearer with the fewest measures into the project that lies open.
func measured(t *testing.T, s *Shell) *draft.Wearer {
	t.Helper()
	w := &draft.Wearer{Name: "Quill", Measures: []draft.Measure{
		{Name: "bust_girth", Value: 231}, {Name: "waist_girth", Value: 238}, {Name: "back_waist_length", Value: 84},
	}}
	if err := desk.Run(s.desk, draft.AddWearerFrom, draft.AddWearerFromArgs{Wearer: w}); err != nil {
		t.Fatal(err)
	}
	return s.desk.Project().Wearers[0]
}

// From an empty project over a wearer to pieces on the bench.
func TestDraftLeadsToShape(t *testing.T) {
	s := bare(t)
	measured(t, s)
	s.key(fyne.KeyF3)
	if s.station != stationDraft {
		t.Fatalf("F3 leads to %s", s.station)
	}
	s.commandNamed("Draft the block in hand").run()
	settle()
	p := s.desk.Project()
	if s.station != stationShape || len(p.Pieces) != 2 || len(s.desk.Picked().Pieces()) != 2 {
		t.Errorf("at %s with %d pieces, %d picked", s.station, len(p.Pieces), len(s.desk.Picked().Pieces()))
	}
	if s.welcome.object.Visible() {
		t.Error("the ways to come to pieces still lie on the bench")
	}
}

// While the block in hand cannot be drafted the status line does not say that all is
// well, though the project has nothing to mend.
func TestStatusTellsOfAFailedTrial(t *testing.T) {
	s := bare(t)
	w := &draft.Wearer{Name: "Quill"}
	if err := desk.Run(s.desk, draft.AddWearerFrom, draft.AddWearerFromArgs{Wearer: w}); err != nil {
		t.Fatal(err)
	}
	s.enter(stationDraft)
	if fault := s.draft.Fault(); fault == "" || s.status.checks.Word != fault {
		t.Errorf("the fault is %q, and it says %q", fault, s.status.checks.Word)
	}
	s.nextFinding()
	if !strings.Contains(s.status.said, s.draft.Fault()) || s.station != stationDraft {
		t.Errorf("at %s it says %q", s.station, s.status.said)
	}
	s.enter(stationShape)
	if s.status.checks.Word != "all checks hold" {
		t.Errorf("away from the trial it says %q", s.status.checks.Word)
	}
}

// Escape leaves the construction first, and the station then.
func TestEscapeFromTheConstruction(t *testing.T) {
	s := bare(t)
	measured(t, s)
	s.enter(stationDraft)
	if s.win.Canvas().Focused() != s.draft.Focus() {
		t.Fatalf("%T has the keys", s.win.Canvas().Focused())
	}
	esc := &fyne.KeyEvent{Name: fyne.KeyEscape}
	s.draft.Focus().TypedKey(esc)
	if s.station != stationShape {
		t.Errorf("Escape leads to %s", s.station)
	}
}

func TestAskNameStaysUntilTheNameWillDo(t *testing.T) {
	s := bare(t)
	names := []string{}
	s.askName("New", "", "bad", func(name string) error {
		names = append(names, name)
		if name == "bad" {
			return os.ErrExist
		}
		return nil
	})
	q := s.question
	field := s.win.Canvas().Focused().(*control.Field)
	field.OnSubmitted(field.Text)
	if s.question != q || len(names) != 1 {
		t.Fatal("a name that will not do was taken")
	}
	field.SetText("good")
	field.OnSubmitted(field.Text)
	if s.question != nil || len(names) != 2 || names[1] != "good" {
		t.Errorf("asked for %q", names)
	}
}

// The folder of blocks is made when it is opened, and not before.
func TestBlocksFolderIsMadeWhenOpened(t *testing.T) {
	s := bare(t)
	s.BlocksDir = filepath.Join(t.TempDir(), "hemlet", "blocks")
	s.enter(stationDraft)
	if exists(s.BlocksDir) {
		t.Error("looking for blocks makes a folder")
	}
	if err := s.openPath(s.BlocksDir); err != nil {
		t.Log(err) // what the desktop does with it is not ours
	}
	if !exists(s.BlocksDir) {
		t.Error("the folder is not made")
	}
}

// Keys that a list, a slider or a button in focus has no use for mean the same as
// elsewhere: they go through the steps, or lead to other places.
func TestKeysFromListsAndButtons(t *testing.T) {
	s := bare(t)
	measured(t, s)
	s.enter(stationDraft)
	var got []fyne.KeyName
	s.seat.key = func(name fyne.KeyName) bool {
		got = append(got, name)
		return name == fyne.KeyDown
	}
	list := control.NewList(func() int { return 0 }, nil, nil, nil)
	for _, o := range []fyne.Focusable{
		list, control.NewSlider(nil), control.NewCheck("", nil), control.NewChoice("", nil, nil), control.NewButton(control.SmallShape, "", "x", "", nil),
	} {
		s.enter(stationDraft)
		got = nil
		if _, opens := o.(*control.Choice); !opens { // which is opened by the arrow keys
			o.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
			if len(got) != 1 {
				t.Errorf("Down on a %T comes %d times to the station", o, len(got))
			}
		}
		o.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF7})
		if s.station != stationMake {
			t.Errorf("F7 on a %T leads to %s", o, s.station)
		}
		s.enter(stationShape)
		s.takeTool(s.tools[0])
		o.TypedRune('l')
		if s.bench.Tool() == s.tools[0] {
			t.Errorf("L on a %T takes no tool", o)
		}
	}
}

// A piece that could not follow its block is told in the panel, with what can be done
// about it.
func TestMendsOfAPieceThatIsBehind(t *testing.T) {
	for word, done := range map[string]func(*draft.Piece) bool{
		"Redraw from the block": func(p *draft.Piece) bool { return p.Derived != nil && !p.ByHand() },
		"Keep as it is":         func(p *draft.Piece) bool { return p.Derived == nil },
	} {
		s := bare(t)
		w := measured(t, s)
		set := func(name string, mm float64) {
			t.Helper()
			if err := desk.Run(s.desk, draft.SetMeasure, draft.SetMeasureArgs{Wearer: draft.WearerRef(w.ID), Name: name, Value: draft.Length(mm)}); err != nil {
				t.Fatal(err)
			}
		}
		set("belly_girth", 270)
		s.enter(stationDraft)
		s.draft.DraftIt()
		settle()
		front := s.desk.Project().Piece("front")
		if len(front.Darts) == 0 {
			t.Fatal("a round belly gets no dart")
		}
		nodes := []draft.NodeRef{{Piece: "front", Node: front.Darts[0].From}}
		if err := desk.Run(s.desk, draft.MoveNodes, draft.MoveNodesArgs{Nodes: nodes, By: draft.Vector{X: 1, Y: 1}}); err != nil {
			t.Fatal(err)
		}
		set("belly_girth", 238)
		s.desk.Pick(desk.PieceRef("front"))
		press(t, s.inspect.Object(), word)
		if p := s.desk.Project().Piece("front"); !done(p) {
			t.Errorf("“%s” leaves the front as it was", word)
		}
		for _, f := range s.desk.Findings() {
			if strings.HasSuffix(f.Key, "/behind") {
				t.Errorf("after “%s” there is still told: %s", word, f.Says)
			}
		}
	}
}

// The keys of the stations follow the order of the journey, as the rail does.
func TestKeysFollowTheJourney(t *testing.T) {
	s := bare(t)
	last := fyne.KeyName("F1")
	for _, st := range s.seats {
		if st.icon == "" {
			continue
		}
		key := s.commandNamed(st.name).key
		if key <= last || !strings.Contains(st.hint, "("+string(key)+")") {
			t.Errorf("%s has %s, after %s; its hint says %q", st.name, key, last, st.hint)
		}
		if s.key(key); s.station != st.name {
			t.Errorf("%s leads to %s", key, s.station)
		}
		last = key
	}
}
