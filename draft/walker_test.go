package draft

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// The oracle for walking is a body that rolls: both lines are taken as polygons of very
// many chords, and the body is carried along chord by chord. Where it comes to a corner
// of the line it lies on it is turned about the place of contact by that corner, at a
// corner of its own against it, and between corners it slides by what the fullness takes
// up. So the turns add up and no position is looked for. It works in complex numbers on
// the nodes themselves and shares no code with what it checks.

// chordsOf is how many chords stand for one curve. Such a chord of the drawn lines turns
// by a few thousandths of a radian at most.
const chordsOf = 5_000

// polyline returns the open line through nodes as chords, by de Casteljau's construction.
func polyline(nodes []Node) []complex128 {
	c := func(p geom.Point) complex128 { return complex(p.X, p.Y) }
	out := []complex128{c(nodes[0].At)}
	for i := 1; i < len(nodes); i++ {
		a, b := nodes[i-1], nodes[i]
		p := [4]complex128{c(a.At), c(a.At.Add(a.Out)), c(b.At.Add(b.In)), c(b.At)}
		for k := 1; k <= chordsOf; k++ {
			t := complex(float64(k)/chordsOf, 0)
			q := p
			for n := 3; n > 0; n-- {
				for j := 0; j < n; j++ {
					q[j] += (q[j+1] - q[j]) * t
				}
			}
			out = append(out, q[0])
		}
	}
	return out
}

func lengthOf(line []complex128) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += cmplx.Abs(line[i] - line[i-1])
	}
	return sum
}

// roller carries a body whose line is roll along the line lie.
type roller struct {
	lie, roll []complex128
	turn, at  complex128 // z of the body lies at turn*z + at
}

func newRoller(lie, roll []complex128) *roller {
	r := &roller{lie: lie, roll: roll}
	r.turn = unit(lie[1]-lie[0]) / unit(roll[1]-roll[0])
	r.at = lie[0] - r.turn*roll[0]
	return r
}

func unit(z complex128) complex128 { return z / complex(cmplx.Abs(z), 0) }

// rollTo carries the body to distance a along the line; slip returns by how much the
// place on the body goes on for each mm of the line at a distance along it, and up to
// where it does so. It returns the
// place of contact and the distance along the body.
func (r *roller) rollTo(a float64, slip func(a float64) (k, until float64)) (contact complex128, b float64) {
	i, j := 0, 0 // the chords on which the two touch
	doneA, restB := 0.0, cmplx.Abs(r.roll[1]-r.roll[0])
	contact = r.lie[0]
	for doneA < a {
		k, until := slip(doneA)
		restA := math.Min(cmplx.Abs(r.lie[i+1]-contact), math.Min(a, until)-doneA)
		step := math.Min(restA, restB/k)
		way := unit(r.lie[i+1] - r.lie[i])
		contact += way * complex(step, 0)
		r.at += way * complex(step-k*step, 0)
		doneA, restB, b = doneA+step, restB-k*step, b+k*step
		nothing := 1e-12 * a
		if i+2 == len(r.lie) && cmplx.Abs(r.lie[i+1]-contact) < nothing {
			break // the line ends here
		}
		if cmplx.Abs(r.lie[i+1]-contact) < nothing && i+2 < len(r.lie) {
			contact = r.lie[i+1]
			r.rotate(contact, unit(r.lie[i+2]-r.lie[i+1])/way)
			i++
		}
		if restB < nothing && j+2 < len(r.roll) {
			r.rotate(contact, unit(r.roll[j+1]-r.roll[j])/unit(r.roll[j+2]-r.roll[j+1]))
			j++
			restB = cmplx.Abs(r.roll[j+1] - r.roll[j])
		} else if restB < nothing {
			break // the body's line ends here
		}
	}
	// A chord has the direction of its curve in its middle only; towards its ends the
	// curve turns by half of what the chords turn.
	r.rotate(contact, withinChord(r.lie, i, contact)/withinChord(r.roll, j, (contact-r.at)/r.turn))
	return contact, b
}

// withinChord returns the turn from chord i of a line to the curve at a place on the chord.
func withinChord(line []complex128, i int, at complex128) complex128 {
	k := max(min(i, len(line)-3), 0)
	turn := cmplx.Phase((line[k+2] - line[k+1]) / (line[k+1] - line[k]))
	share := cmplx.Abs(at-line[i])/cmplx.Abs(line[i+1]-line[i]) - 0.5
	return cmplx.Rect(1, share*turn)
}

func (r *roller) rotate(about, by complex128) {
	r.turn *= by
	r.at = about + (r.at-about)*by
}

// drawnLine draws a bent line from left to right, smooth all along, as wide as a doll's
// cuff or a cloak.
func drawnLine(t *rapid.T, name string, size float64) []Node {
	n := rapid.IntRange(1, 3).Draw(t, name+" curves")
	nodes := make([]Node, n+1)
	for i := range nodes {
		up := rapid.Float64Range(-0.15, 0.15).Draw(t, name+" height")
		angle := rapid.Float64Range(-0.6, 0.6).Draw(t, name+" slope")
		reach := size / float64(n) * rapid.Float64Range(0.2, 0.4).Draw(t, name+" reach")
		way := geom.Pt(math.Cos(angle), math.Sin(angle)).Mul(reach)
		nodes[i] = Node{ID: ID(fmt.Sprintf("%s.n%d", name, i)), At: geom.Pt(size*float64(i)/float64(n), size*up), In: way.Mul(-1), Out: way, Smooth: i > 0 && i < n}
	}
	nodes[0].In, nodes[n].Out = geom.Point{}, geom.Point{}
	return nodes
}

// wavyPiece is a piece whose first edge, called seam, runs along the line with the cloth
// above it.
func wavyPiece(name string, line []Node, size float64) *Piece {
	last := line[len(line)-1]
	p := polygonPiece(name, 6, line[0].At, last.At, geom.Pt(last.At.X, size), geom.Pt(line[0].At.X, size))
	p.Edges[0].Name = "seam"
	p.Edges[0].Nodes = line[: len(line)-1 : len(line)-1]
	p.Edges[1].Nodes[0] = last
	return p
}

// reversedLine runs the line the other way.
func reversedLine(line []complex128) []complex128 {
	out := make([]complex128, len(line))
	for i, z := range line {
		out[len(line)-1-i] = z
	}
	return out
}

// mirroredLine is the mirror image about the upright through the origin.
func mirroredLine(line []complex128) []complex128 {
	out := make([]complex128, len(line))
	for i, z := range line {
		out[i] = complex(-real(z), imag(z))
	}
	return out
}

// Walking along any two bent edges lays the second piece where a body that rolls comes
// to lie, with and without fullness, evenly or within a stretch, whichever side lies
// still, whichever copy is sewn and at whichever end it begins.
func TestWalkerRolls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.SampledFrom([]float64{20, 200, 2000}).Draw(t, "size")
		lineA, lineB := drawnLine(t, "a", size), drawnLine(t, "b", size)
		a, b := wavyPiece("a", lineA, size), wavyPiece("b", lineB, size)
		a.Place = Placement{At: geom.Pt(size, -size/3), Turn: rapid.Float64Range(-3, 3).Draw(t, "turn")}
		mirrored := rapid.Bool().Draw(t, "mirrored")
		if mirrored {
			b.Cut = CutRule{CutPairs, 1}
		}
		seam := &Seam{ID: "s1", Name: "seam", Ratio: 1, To: 1, Fuller: SideB}
		seam.A = Run{{Piece: "a", Copy: CopyRef{Number: 1}, Edge: "a.e0"}}
		seam.B = Run{{Piece: "b", Copy: CopyRef{Number: 1, Mirrored: mirrored}, Edge: "b.e0", Reversed: !mirrored}}
		if rapid.Bool().Draw(t, "gathered") {
			seam.Ratio = rapid.Float64Range(1, 3).Draw(t, "ratio")
			seam.Fuller = rapid.SampledFrom([]Side{SideA, SideB}).Draw(t, "fuller")
			seam.Fullness = Gathers
			if rapid.Bool().Draw(t, "stretch") {
				seam.From, seam.To = rapid.Float64Range(0, 0.15).Draw(t, "from"), rapid.Float64Range(0.9, 1).Draw(t, "to")
			}
		}
		p := projectOf(a, b)
		p.Seams = []*Seam{seam}
		still := rapid.SampledFrom([]Side{SideA, SideB}).Draw(t, "still")
		fromEnd := rapid.Bool().Draw(t, "from the end")
		walk := NewSlots().Walker
		if fromEnd {
			walk = NewSlots().WalkerFromEnd
		}
		w, err := walk(p, "s1", still)
		if err != nil {
			t.Fatal(err)
		}

		placed := func(line []complex128, of *Piece) []complex128 {
			out := make([]complex128, len(line))
			for i, z := range line {
				out[i] = z*cmplx.Rect(1, of.Place.Turn) + complex(of.Place.At.X, of.Place.At.Y)
			}
			return out
		}
		runA, runB := polyline(lineA), polyline(lineB)
		if mirrored {
			runB = mirroredLine(runB)
		} else {
			runB = reversedLine(runB)
		}
		if fromEnd {
			runA, runB = reversedLine(runA), reversedLine(runB)
		}
		var lie, roll []complex128
		if still == SideA {
			lie, roll = placed(runA, a), runB
		} else {
			lie, roll = runB, runA
			if mirrored { // where it lies was asked below: the image in the place of what is drawn
				box := b.DrawnPath().Bounds()
				lie = make([]complex128, len(runB))
				for i, z := range runB {
					lie[i] = z + complex(box.Min.X+box.Max.X, 0)
				}
			}
		}

		less := lengthOf(runA)
		if seam.Fuller == SideA {
			less = lengthOf(runB)
		}
		slip := slipping(seam, less, still == seam.Fuller, fromEnd)
		share := rapid.Float64Range(0, 1).Draw(t, "how far")
		at := share * w.Length()
		r := newRoller(lie, roll)
		contact, along := r.rollTo(at, slip)
		step := w.At(at)

		// A chord turns by 2e-3 radians; what is wanting of its bend where the line bends
		// less in the next one is a hundredth of that, over an arm as long as the piece.
		tol := 2e-5 * size
		here := func(z complex128) geom.Point { return geom.Pt(real(z), imag(z)) }
		if d := step.Contact.Dist(here(contact)); d > tol {
			t.Fatalf("the contact is %g mm off", d)
		}
		on, by := step.AtA, step.AtB
		if still == SideB {
			on, by = by, on
		}
		if math.Abs(on-at) > 1e-9*size || math.Abs(by-along) > 1e-5*size {
			t.Fatalf("%g and %g mm along, want %g and %g", on, by, at, along)
		}
		rolling, image := b, mirrored
		if still == SideB {
			rolling, image = a, false
		}
		for _, e := range rolling.Edges {
			z := complex(e.Nodes[0].At.X, e.Nodes[0].At.Y)
			if image {
				z = complex(-real(z), imag(z))
			}
			want := here(r.turn*z + r.at)
			if got := step.Rolling[0].Map.Apply(e.Nodes[0].At); got.Dist(want) > tol {
				t.Fatalf("a corner of the rolling piece lies %g mm off", got.Dist(want))
			}
		}
	})
}

// slipping returns by how much the place on the rolling side goes on for each mm of the
// still one, and up to where. less is the length of the side that is not fuller; onFuller says that the
// fuller one lies still.
func slipping(seam *Seam, less float64, onFuller, fromEnd bool) func(float64) (k, until float64) {
	from, to := seam.From, seam.To
	if fromEnd {
		from, to = 1-to, 1-from
	}
	// The stretch on the fuller side, as long as that is meant to be, is taken in to what
	// lies beside it on the other.
	full := seam.Ratio * less
	start, end := from*full, to*full
	short := end - start - (full - less)
	local := (end - start) / short
	if short <= 0 {
		start, end, local = 0, math.Inf(1), seam.Ratio
	} else if !onFuller {
		end = start + short
	}
	if onFuller {
		local = 1 / local
	}
	return func(x float64) (k, until float64) {
		switch {
		case seam.Ratio == 1 || x >= end:
			return 1, math.Inf(1)
		case x < start:
			return 1, start
		}
		return local, end
	}
}

// Whatever is walked, every map keeps lengths, the pieces that lie still stay, and what is
// left over at the end is what the seam is off.
func TestWalkerOnBlocks(t *testing.T) {
	p := bodiceFor(t)
	slots := NewSlots()
	for _, seam := range p.Seams {
		for _, still := range []Side{SideA, SideB} {
			w, err := slots.Walker(p, seam.ID, still)
			if err != nil {
				t.Errorf("%s: %v", seam.Name, err)
				continue
			}
			if w.TurnedOver {
				t.Errorf("%s: a piece is shown wrong side up", seam.Name)
			}
			end := w.At(w.Length())
			state, _ := slots.SeamState(p, seam)
			restFull, restLess := end.RestB, end.RestA
			if seam.Fuller == SideA {
				restFull, restLess = restLess, restFull
			}
			if got := restFull - restLess*seam.Ratio; math.Abs(got-state.Diff) > 1e-6 {
				t.Errorf("%s: %g mm left over, and %g off", seam.Name, got, state.Diff)
			}
			first := w.At(0).Still[0]
			if want := first.Piece.Place.Affine(); !first.Copy.Mirrored && first.Half == Near && first.Map != want {
				t.Errorf("%s: what lies still was moved", seam.Name)
			}
			for k := range 11 {
				step := w.At(w.Length() * float64(k) / 10)
				for _, l := range append(step.Still, step.Rolling...) {
					mirror := l.Copy.Mirrored != (l.Half == Far)
					if d := l.Map.Det(); math.Abs(math.Abs(d)-1) > 1e-9 || (d < 0) != mirror {
						t.Errorf("%s: %s is laid by a map of determinant %g", seam.Name, l.Piece.Name, d)
					}
				}
			}
		}
	}
}

// quarter returns a bodice half of which the armhole is a straight slant.
func quarter(name string, wide float64) *Piece {
	p := polygonPiece(name, 6, geom.Pt(0, 0), geom.Pt(wide, 0), geom.Pt(wide, 50), geom.Pt(wide-20, 90), geom.Pt(wide-40, 100), geom.Pt(0, 95))
	for i, n := range []string{"hem", "side", "armhole", "shoulder", "neck", "middle"} {
		p.Edges[i].Name = n
	}
	p.Cut = CutRule{CutPairs, 1}
	return p
}

// The armhole of a front and a back is laid as the two lie once the shoulder is sewn:
// shoulder on shoulder, each piece on its own side of it.
func TestWalkerLaysTheSewnEdgesTogether(t *testing.T) {
	front, back := quarter("front", 60), quarter("back", 70)
	sleeve := polygonPiece("sleeve", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60))
	sleeve.Edges[2].Name = "cap"
	p := projectOf(front, back, sleeve)
	p = mustDo(t, p, "link-seam", "a=front.shoulder", "b=back.shoulder").Project
	out := mustDo(t, p, "link-seam", "a=front.armhole + back.armhole/left/reversed", "b=sleeve.cap", "ends=as given", "ratio=1")
	p = out.Project
	w, err := NewSlots().Walker(p, out.Made, SideA)
	if err != nil {
		t.Fatal(err)
	}
	step := w.At(0)
	if len(step.Still) != 2 {
		t.Fatalf("%d halves lie still, want a front and a back", len(step.Still))
	}
	where := func(l Laid, edge int) (start, end geom.Point) {
		path := l.Piece.EdgePath(edge).Transform(l.Map)
		return path.Start(), path.End()
	}
	f0, f1 := where(step.Still[0], 3)
	b0, b1 := where(step.Still[1], 3)
	const tol = 1e-9
	if f0.Dist(b0) > tol || f1.Sub(f0).Unit().Dist(b1.Sub(b0).Unit()) > tol {
		t.Errorf("the shoulders lie from %v to %v and from %v to %v", f0, f1, b0, b1)
	}
	side := func(l Laid) float64 {
		middle := l.Piece.DrawnPath().Transform(l.Map).Bounds().Center()
		return f1.Sub(f0).Cross(middle.Sub(f0))
	}
	if side(step.Still[0])*side(step.Still[1]) >= 0 {
		t.Error("front and back lie on the same side of the shoulder")
	}
}

// Past the mouth of a dart the walk goes on from its other leg.
func TestWalkerStepsOverDarts(t *testing.T) {
	skirt, band := square("skirt", 100, 6), square("band", 80, 6)
	skirt.Edges[2].Nodes = append(skirt.Edges[2].Nodes, Node{ID: "m0", At: geom.Pt(60, 100)}, Node{ID: "m1", At: geom.Pt(40, 100)})
	skirt.Darts = []Dart{{ID: "d1", From: "m0", To: "m1", Apex: geom.Pt(50, 60)}}
	p := projectOf(skirt, band)
	p.Seams = []*Seam{{ID: "s1", Name: "waist", Ratio: 1, To: 1,
		A: Run{{Piece: "skirt", Copy: CopyRef{Number: 1}, Edge: "skirt.e2"}},
		B: Run{{Piece: "band", Copy: CopyRef{Number: 1}, Edge: "band.e0", Reversed: true}}}}
	w, err := NewSlots().Walker(p, "s1", SideA)
	if err != nil {
		t.Fatal(err)
	}
	if w.Length() != 80 {
		t.Fatalf("the waist is %g mm long", w.Length())
	}
	for a, x := range map[float64]float64{0: 100, 30: 70, 39.999: 60.001, 40: 40, 60: 20, 80: 0} {
		step := w.At(a)
		if want := geom.Pt(x, 100); step.Contact.Dist(want) > 1e-9 {
			t.Errorf("%g mm along the two touch at %v, want %v", a, step.Contact, want)
		}
		// The band lies above the waist, its foot at the waist's height.
		if got := step.Rolling[0].Map.Apply(geom.Pt(80, 0)); got.Dist(geom.Pt(x+a, 100)) > 1e-9 {
			t.Errorf("%g mm along the band starts at %v", a, got)
		}
	}
}

// Of a piece that is cut on the fold both halves are there, one the mirror image of the
// other, and the walk goes through the fold.
func TestWalkerThroughTheFold(t *testing.T) {
	p := bodice()
	front := p.Piece("front")
	band := polygonPiece("band", 6, geom.Pt(0, 0), geom.Pt(118, 0), geom.Pt(118, 20), geom.Pt(0, 20))
	p.Pieces = append(p.Pieces, band)
	front.Place.At = geom.Pt(10, 20)
	p.Seams = []*Seam{{ID: "s1", Name: "hem", Ratio: 1, To: 1,
		A: Run{
			{Piece: "front", Copy: CopyRef{Number: 1}, Edge: "front.e0", Reversed: true},
			{Piece: "front", Copy: CopyRef{Number: 1}, Edge: "front.e0", Half: Far},
		},
		B: Run{{Piece: "band", Copy: CopyRef{Number: 1}, Edge: "band.e0"}}}}
	w, err := NewSlots().Walker(p, "s1", SideA)
	if err != nil {
		t.Fatal(err)
	}
	step := w.At(100)
	if len(step.Still) != 2 || step.Still[1].Half != Far || step.Still[1].Map.Apply(geom.Pt(60, 0)) != geom.Pt(-50, 20) {
		t.Errorf("the halves lie as %v", step.Still)
	}
	if step.Contact.Dist(geom.Pt(-30, 20)) > 1e-9 || step.RestA != 20 || step.RestB != 18 {
		t.Errorf("contact %v, %g and %g mm left", step.Contact, step.RestA, step.RestB)
	}
	if end := w.At(math.Inf(1)); w.Length() != 118 || end.RestB != 0 || end.RestA != 2 {
		t.Errorf("walked %g mm, %g and %g left", w.Length(), end.RestA, end.RestB)
	}
}

// Notches are met where they lie, and where both sides have one it is met once by each.
func TestWalkerStops(t *testing.T) {
	a, b := square("a", 80, 6), square("b", 80, 6)
	a.Notches = []Notch{{ID: "t1", Edge: "a.e0", At: 30}, {ID: "t3", Edge: "a.e1", At: 1}}
	b.Notches = []Notch{{ID: "t2", Edge: "b.e0", At: 0.25, Share: true}}
	p := projectOf(a, b)
	p.Seams = []*Seam{seamBetween(a, b, 0, 1)}
	w, err := NewSlots().Walker(p, "s1", SideA)
	if err != nil {
		t.Fatal(err)
	}
	stops := w.Stops()
	if len(stops) != 2 || stops[0].At != 30 || stops[0].Side != SideA || stops[1].At != 60 || stops[1].Notch.ID != "t2" {
		t.Errorf("the notches are met as %+v", stops)
	}
	if !w.At(30).NotchHere || w.At(31).NotchHere {
		t.Error("a notch is met at 30 mm and nowhere near")
	}
	if got := w.Share(20); got != 0.25 {
		t.Errorf("20 of 80 mm is a share of %g", got)
	}
}

// What cannot be walked is refused, with what is wrong.
func TestWalkerRefuses(t *testing.T) {
	a, b := square("a", 80, 6), square("b", 80, 6)
	p := projectOf(a, b)
	p.Seams = []*Seam{seamBetween(a, b, 0, 1)}
	p.Seams[0].B[0].Edge = "gone"
	if _, err := NewSlots().Walker(p, "s1", SideA); err == nil {
		t.Error("a gone edge is walked")
	}
	if _, err := NewSlots().Walker(p, "s9", SideA); err == nil {
		t.Error("a gone seam is walked")
	}
}

func BenchmarkWalkerAt(b *testing.B) {
	p := bodiceFor(b)
	w, err := NewSlots().Walker(p, p.Seams[0].ID, SideA)
	if err != nil {
		b.Fatal(err)
	}
	for i := 0; b.Loop(); i++ {
		w.At(w.Length() * float64(i%100) / 100)
	}
}
