package station

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft"
)

// strainClass is a class of stretch in the picture: from which factor on it holds, its
// colour, and how strong that is.
type strainClass struct {
	from    float64
	colour  fyne.ThemeColorName
	opacity float64
}

// strainScale is how the colours of the picture are laid out: its classes go from the shortest
// to the longest, and end at the share by which cloth became longer at most, rounded up. A
// scale that ended before that would show a small doll's front in one colour.
type strainScale struct{ end float64 }

// What cloth gives by itself does not show, and no scale ends before a fifth; above that they
// end at whole fifths, above all of it at whole halves, and at ten times at last: where a place
// is pressed flat there is no end.
const (
	strainGives = 0.03
	strainFifth = 0.2
	strainHalf  = 0.5
	strainLast  = 10
)

// scaleOf returns the scale for a fit.
func scaleOf(fit *draft.FitState) strainScale {
	most := 0.0
	if fit != nil && fit.Err == nil {
		most = min(fit.Largest.Most(), strainLast)
	}
	step := strainFifth
	if most > 1 {
		step = strainHalf
	}
	const rounding = 1e-9
	return strainScale{step * max(math.Ceil(most/step-rounding), 1)}
}

// strainShades is how strong the colours are on either side, from the middle out.
var strainShades = [...]float64{0.22, 0.42, 0.63, 0.88}

// borders returns by which share longer each shade begins, from the middle out.
func (s strainScale) borders() [len(strainShades)]float64 {
	return [...]float64{strainGives, s.end / 4, s.end / 2, s.end * 3 / 4}
}

// classes returns the classes, from the shortest to the longest. A class of what became shorter
// holds for the factors that are the inverse of those of a class on the other side.
func (s strainScale) classes() []strainClass {
	n := len(strainShades)
	out := make([]strainClass, 2*n+1)
	out[n] = strainClass{1 / (1 + strainGives), look.Cloth, 0}
	for i, b := range s.borders() {
		out[n+1+i] = strainClass{1 + b, look.Ochre, strainShades[i]}
		out[n-1-i] = strainClass{0, look.Chalk, strainShades[i]}
		if i < n-1 {
			out[n-1-i].from = 1 / (1 + s.borders()[i+1])
		}
	}
	return out
}

// classOf returns the class of a factor.
func (s strainScale) classOf(k float64) int {
	classes := s.classes()
	i := slices.IndexFunc(classes, func(c strainClass) bool { return c.from > k })
	if i < 0 {
		return len(classes) - 1
	}
	return max(i-1, 0)
}

// strainShows reports whether cloth that became so much longer or shorter shows in the picture.
func strainShows(k float64) bool { return k > 0 && offOne(k) >= offOne(1+strainGives) }

// words returns what stands under the borders between the colours, and at both ends, all in
// per cent.
func (s strainScale) words() (under []string, shortest, longest string) {
	shorter := func(b float64) string { return fmt.Sprintf("%.0f", 100*(1-1/(1+b))) }
	borders := s.borders()
	for i := len(borders) - 1; i >= 0; i-- {
		under = append(under, shorter(borders[i]))
	}
	for _, b := range borders {
		under = append(under, fmt.Sprintf("%.0f", 100*b))
	}
	return under, shorter(s.end) + " % shorter", fmt.Sprintf("%.0f %% longer", 100*s.end)
}

// strainLegend says what the colours of the picture mean.
type strainLegend struct {
	object            *fyne.Container
	swatches          []*canvas.Rectangle
	words             []*control.Text
	shortest, longest *control.Text
}

func newStrainLegend() *strainLegend {
	l := &strainLegend{}
	const high = 13
	n := 2*len(strainShades) + 1
	bar, words := container.New(evenly{}), container.New(evenly{})
	for range n {
		r := canvas.NewRectangle(nil)
		l.swatches = append(l.swatches, r)
		bar.Add(control.Tall(high, container.NewStack(control.NewPlane(look.Cloth, "", 0), r, control.NewPlane("", look.Border, 0))))
	}
	// The words stand under the borders between two colours.
	for range n - 1 {
		t := control.NewText("", 11, false, look.Faint).Aligned(fyne.TextAlignCenter).AtLeast(10)
		l.words = append(l.words, t)
		words.Add(t)
	}
	l.shortest, l.longest = control.NewText("", 11.5, true, look.Chalk), control.NewText("", 11.5, true, look.OchreText)
	half := float32(fitRoom) / float32(2*n)
	ends := control.Row(0, l.shortest, control.Spring(), control.Faint("as the whole"), control.Spring(), l.longest)
	l.object = control.Stack(1, ends, bar, control.Inset(half, 0, half, 0, words))
	l.update(strainNot, nil)
	return l
}

// evenly lays objects beside one another, each as wide as any other.
type evenly struct{}

func (evenly) MinSize(o []fyne.CanvasObject) fyne.Size {
	s := fyne.Size{}
	for _, x := range o {
		s.Height = max(s.Height, x.MinSize().Height)
	}
	return s
}

func (evenly) Layout(o []fyne.CanvasObject, size fyne.Size) {
	wide := size.Width / float32(len(o))
	for i, x := range o {
		x.Move(fyne.NewPos(wide*float32(i), 0))
		x.Resize(fyne.NewSize(wide, size.Height))
	}
}

// update shows the legend where there is a picture of a fit, in the colours of the look.
func (l *strainLegend) update(of strainOf, fit *draft.FitState) {
	show(l.object, of != strainNot)
	v := fyne.CurrentApp().Settings().ThemeVariant()
	scale := scaleOf(fit)
	for i, c := range scale.classes() {
		colour, _ := look.Colour(c.colour, v)
		colour.A = uint8(255 * c.opacity)
		l.swatches[i].FillColor = colour
		l.swatches[i].CornerRadius = 2
		l.swatches[i].Refresh()
	}
	under, shortest, longest := scale.words()
	for i, w := range under {
		l.words[i].Set(w)
	}
	l.shortest.Set(shortest)
	l.longest.Set(longest)
	l.object.Refresh()
}
