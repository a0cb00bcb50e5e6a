package look

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/bench/paint"
	"hemlet/assets"
)

// luminance and contrast follow WCAG 2.2, "relative luminance" and "contrast
// ratio".
func luminance(c color.NRGBA) float64 {
	f := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*f(c.R) + 0.7152*f(c.G) + 0.0722*f(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// WCAG's own corner values.
func TestContrastFormula(t *testing.T) {
	white, black := color.NRGBA{255, 255, 255, 255}, color.NRGBA{A: 255}
	if got := contrast(white, black); math.Abs(got-21) > 1e-9 {
		t.Errorf("white on black %v, want 21", got)
	}
}

var variants = map[string]fyne.ThemeVariant{"light": theme.VariantLight, "dark": theme.VariantDark}

// Text is legible on every ground that it stands on: 4.5 to 1 (WCAG 2.2, success
// criterion 1.4.3). Marks and lines that say something stand out 3 to 1 (1.4.11).
func TestContrast(t *testing.T) {
	grounds := []fyne.ThemeColorName{Paper, Bench, Card, Cloth}
	cases := []struct {
		least  float64
		text   fyne.ThemeColorName
		ground []fyne.ThemeColorName
	}{
		{4.5, Ink, append([]fyne.ThemeColorName{ChalkTint, PinTint, MossTint, OchreTint}, grounds...)},
		{4.5, Faint, append([]fyne.ThemeColorName{ChalkTint, PinTint}, grounds...)},
		{4.5, Chalk, append([]fyne.ThemeColorName{ChalkTint}, grounds...)},
		{4.5, Level, grounds},
		{4.5, PinText, append([]fyne.ThemeColorName{PinTint}, grounds...)},
		{4.5, MossText, append([]fyne.ThemeColorName{MossTint}, grounds...)},
		{4.5, OchreText, append([]fyne.ThemeColorName{OchreTint}, grounds...)},
		{4.5, OnChalk, []fyne.ThemeColorName{Chalk}},
		{4.5, OnPin, []fyne.ThemeColorName{PinText, MossText, OchreText, Pin}},
		{4.5, PlateText, []fyne.ThemeColorName{Plate}},
		{3, Pin, grounds}, {3, Moss, grounds}, {3, Ochre, grounds},
	}
	for name, v := range variants {
		for _, c := range cases {
			for _, g := range c.ground {
				a, _ := Colour(c.text, v)
				b, _ := Colour(g, v)
				if got := contrast(a, b); got < c.least {
					t.Errorf("%s: %s on %s has %.2f, at least %v wanted", name, c.text, g, got, c.least)
				}
			}
		}
	}
}

func TestEveryTokenHasAColour(t *testing.T) {
	for name, v := range variants {
		p := Palette(v)
		for tok := 1; tok < paint.Tokens; tok++ {
			if p[tok].A != 255 {
				t.Errorf("%s: token %d is %v", name, tok, p[tok])
			}
		}
		if p[paint.None].A != 0 {
			t.Errorf("%s: None is %v", name, p[paint.None])
		}
	}
	if _, ok := Colour("hemlet.nothing", theme.VariantDark); ok {
		t.Error("a name that is not ours has a colour")
	}
}

// What the desktop says does not change the look: the toolkit reports dark where it
// knows nothing.
func TestThemeModes(t *testing.T) {
	test.NewTempApp(t)
	for mode, variant := range map[Mode]fyne.ThemeVariant{Light: theme.VariantLight, Dark: theme.VariantDark} {
		want, _ := Colour(Paper, variant)
		for _, desktop := range []fyne.ThemeVariant{theme.VariantLight, theme.VariantDark} {
			if got := NewTheme(mode).Color(theme.ColorNameBackground, desktop); got != want {
				t.Errorf("mode %d on %d: background %v, want %v", mode, desktop, got, want)
			}
		}
	}
}

// The shortcuts in menus are legible: the toolkit makes their colour as this test
// does (widget/menu_item.go of its version 2.7.1).
func TestShortcutsInMenusAreLegible(t *testing.T) {
	test.NewTempApp(t)
	for mode, v := range map[Mode]fyne.ThemeVariant{Light: theme.VariantLight, Dark: theme.VariantDark} {
		r, g, b, a := NewTheme(mode).Color(theme.ColorNameForeground, v).RGBA()
		a = uint32(float32(a) * 0.95)
		text := color.NRGBA{R: uint8(r), G: uint8(g), B: uint8(b), A: uint8(a)}
		ground, _ := Colour(Card, v)
		over := func(x, y uint8) uint8 { return uint8((int(x)*int(text.A) + int(y)*(255-int(text.A))) / 255) }
		seen := color.NRGBA{R: over(text.R, ground.R), G: over(text.G, ground.G), B: over(text.B, ground.B), A: 255}
		if got := contrast(seen, ground); got < 4.5 {
			t.Errorf("mode %d: shortcuts have a contrast of %.2f, 4.5 wanted", mode, got)
		}
	}
}

func TestThemeFonts(t *testing.T) {
	test.NewTempApp(t)
	th := NewTheme(Light)
	regular, _ := assets.Font(assets.Regular)
	semi, _ := assets.Font(assets.SemiBold)
	if got := th.Font(fyne.TextStyle{}).Name(); got != regular {
		t.Errorf("plain text in %s", got)
	}
	if got := th.Font(fyne.TextStyle{Bold: true}).Name(); got != semi {
		t.Errorf("bold text in %s", got)
	}
	if th.Font(fyne.TextStyle{}) != th.Font(fyne.TextStyle{Italic: true}) {
		t.Error("the font is not one resource")
	}
	if th.Font(fyne.TextStyle{Monospace: true}).Name() == regular {
		t.Error("figures in columns are not set in a font of one width")
	}
	if th.Size(theme.SizeNameText) != 13 || th.Size(theme.SizeNameSeparatorThickness) <= 0 {
		t.Error("sizes")
	}
}

// count returns how many pixels of the picture are nearer to a than to b.
func count(img image.Image, a, b color.NRGBA) (n int) {
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			c := color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
			d := func(e color.NRGBA) int {
				r, g, b := int(c.R)-int(e.R), int(c.G)-int(e.G), int(c.B)-int(e.B)
				return r*r + g*g + b*b
			}
			if d(a) < d(b) {
				n++
			}
		}
	}
	return n
}

// Every icon is drawn by the toolkit in its colour, in both themes, and no two
// look the same.
func TestIconsAreDrawn(t *testing.T) {
	a := test.NewTempApp(t)
	for mode, v := range map[Mode]fyne.ThemeVariant{Light: theme.VariantLight, Dark: theme.VariantDark} {
		a.Settings().SetTheme(NewTheme(mode))
		ground, _ := Colour(Paper, v)
		ink, _ := Colour(Ink, v)
		for _, name := range assets.Icons() {
			w := test.NewTempWindow(t, canvas.NewImageFromResource(Icon(name, Ink)))
			w.SetPadded(false)
			w.Resize(fyne.NewSize(48, 48))
			got := count(w.Canvas().Capture(), ink, ground)
			if got < 30 || got > 1500 {
				t.Errorf("mode %d: %s has %d pixels of ink", mode, name, got)
			}
		}
	}
}

func TestIconFollowsTheTheme(t *testing.T) {
	a := test.NewTempApp(t)
	a.Settings().SetTheme(NewTheme(Light))
	i := Icon("seam", Chalk)
	name, content := i.Name(), string(i.Content())
	a.Settings().SetTheme(NewTheme(Dark))
	if i.Name() == name || string(i.Content()) == content {
		t.Error("the icon is the same in the dark theme")
	}
}

// An empty check box can be seen: its border stands out 3 to 1 (WCAG 2.2, 1.4.11).
func TestCheckBoxIsSeen(t *testing.T) {
	a := test.NewTempApp(t)
	for mode, v := range map[Mode]fyne.ThemeVariant{Light: theme.VariantLight, Dark: theme.VariantDark} {
		a.Settings().SetTheme(NewTheme(mode))
		w := test.NewTempWindow(t, widget.NewCheck("", nil))
		w.Resize(fyne.NewSize(60, 40))
		paper, _ := Colour(Paper, v)
		img := w.Canvas().Capture()
		n := 0
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				if contrast(color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA), paper) >= 3 {
					n++
				}
			}
		}
		if n < 30 {
			t.Errorf("mode %d: %d pixels stand out", mode, n)
		}
	}
}

func TestIconUnknownPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("an icon that does not exist")
		}
	}()
	Icon("nothing", Ink)
}

// TestSheet draws widgets and icons in both themes, for people to look at where
// LOOK_OUT names a folder; by itself it checks that the window takes the ground
// of its theme.
func TestSheet(t *testing.T) {
	a := test.NewTempApp(t)
	for mode, v := range map[Mode]fyne.ThemeVariant{Light: theme.VariantLight, Dark: theme.VariantDark} {
		a.Settings().SetTheme(NewTheme(mode))
		icons := container.NewGridWrap(fyne.NewSize(32, 32))
		for _, name := range assets.Icons() {
			icons.Add(canvas.NewImageFromResource(Icon(name, Ink)))
		}
		save := widget.NewButtonWithIcon("Save", Icon("save", OnChalk), func() {})
		save.Importance = widget.HighImportance
		off := widget.NewButtonWithIcon("Redo", Icon("redo", Disabled), func() {})
		off.Disable()
		checked := widget.NewCheck("cut on fold", nil)
		checked.SetChecked(true)
		entry := widget.NewEntry()
		entry.SetText("61.4 mm")
		sheet := container.NewVBox(
			widget.NewLabelWithStyle("Front yoke", fyne.TextAlignLeading, fyne.TextStyle{Bold: true}),
			widget.NewLabel("Length 3⅝ in × 2 · ½ ¼ ¾ → ✓"), entry,
			container.NewHBox(save, widget.NewButtonWithIcon("Undo", Icon("undo", Ink), func() {}), off),
			widget.NewCheck("lining follows shell", nil), checked, widget.NewRadioGroup([]string{"mm", "in"}, nil), widget.NewSelect([]string{"mitre", "square"}, nil), icons)
		w := test.NewTempWindow(t, sheet)
		w.Resize(fyne.NewSize(420, 520))
		img := w.Canvas().Capture()
		want, _ := Colour(Paper, v)
		if got := color.NRGBAModel.Convert(img.At(1, 1)); got != want {
			t.Errorf("mode %d: the window is %v, want %v", mode, got, want)
		}
		if dir := os.Getenv("LOOK_OUT"); dir != "" {
			f, err := os.Create(filepath.Join(dir, fmt.Sprintf("sheet-%d.png", mode)))
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Encode(f, img); err != nil {
				t.Fatal(err)
			}
			f.Close()
		}
	}
}
