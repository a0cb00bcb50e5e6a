package tracetest

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"

	"hemlet/geom"
)

// Scan says how a sheet is seen by a flat scanner.
type Scan struct {
	DPI     float64
	Turn    float64 // of the sheet on the glass, radians counter-clockwise
	Blur    float64 // standard deviation of a Gaussian, px
	Noise   float64 // standard deviation in levels of 255
	JPEG    int     // quality 1 to 100, 0 for none
	FallOff float64 // share of the light that is missing at the darkest place
	Gamma   float64 // light is written as its power 1/Gamma; 0 and 1 for linear
	Specks  int     // dark dots of 0.1 to 0.3 mm radius on the paper
	Seed    uint64
}

// Plain is a good scan: sharp, even, with as much noise as any scanner has.
func Plain(dpi float64, seed uint64) Scan {
	rng := rand.New(rand.NewPCG(seed, 0x5ca9))
	return Scan{
		DPI: dpi, Turn: between(rng, -.035, .035), Blur: .7, Noise: 4, JPEG: 90,
		FallOff: .15, Specks: 20, Seed: seed,
	}
}

// Rough is a bad scan: dim at a side, noisy, dirty, squeezed and not linear.
func Rough(dpi float64, seed uint64) Scan {
	s := Plain(dpi, seed)
	s.Noise, s.JPEG, s.FallOff, s.Specks, s.Blur = 12, 60, .45, 200, .9
	s.Gamma = 1.8
	if seed%2 == 1 {
		s.Gamma = 2.4
	}
	return s
}

// Picture is a sheet as seen, with the truth about it.
type Picture struct {
	Image  image.Image     // *image.Gray where nothing on the sheet has a colour, else *image.RGBA
	Map    geom.Homography // pixels to mm of the sheet
	Back   geom.Homography // mm of the sheet to pixels
	Scale  float64         // pixels a mm, at the middle of the sheet
	Frame  [4]geom.Point   // corners of the sheet in px: those at (0,0), (W,0), (W,H), (0,H)
	Marks  []geom.Point    // matching marks in px
	Pieces []Piece         // in mm of the sheet
}

// See returns the picture that the scanner makes of the sheet.
func (s Scan) See(sheet Sheet) (Picture, error) {
	k := s.DPI / 25.4
	w, h := int(math.Round(sheet.W*k)), int(math.Round(sheet.H*k))
	mid := geom.Pt(sheet.W/2, sheet.H/2)
	m := geom.Rotation(s.Turn, mid).Then(geom.Translation(mid.Mul(-1))).Then(geom.Scaling(k, -k))
	m = m.Then(geom.Translation(geom.Pt(float64(w)/2, float64(h)/2)))
	v := view{w: w, h: h, toPx: m.Projective(), glass: White, faults: s}
	return v.see(sheet)
}

// PNG returns the picture as a file.
func (p Picture) PNG() ([]byte, error) {
	var b bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, p.Image)
	return b.Bytes(), err
}

// view is a sheet before a lens.
type view struct {
	w, h   int
	toPx   geom.Homography
	glass  Tone                       // what is seen beside the sheet
	table  func(x, y float64) float32 // if set, a factor for the glass
	shadow func(x, y float64) float32 // if set, a factor of the light
	clip   bool                       // ink ends at the sheet's edge
	faults Scan
}

func (v view) see(sheet Sheet) (Picture, error) {
	back, ok := v.toPx.Invert()
	if !ok {
		return Picture{}, fmt.Errorf("the view of the sheet has no inverse")
	}
	p := Picture{Map: back, Back: v.toPx, Pieces: sheet.Pieces}
	p.Scale = v.toPx.ScaleAt(geom.Pt(sheet.W/2, sheet.H/2))
	for i, c := range [4]geom.Point{{}, {X: sheet.W}, {X: sheet.W, Y: sheet.H}, {Y: sheet.H}} {
		p.Frame[i] = v.toPx.Apply(c)
	}
	for _, c := range sheet.Marks {
		p.Marks = append(p.Marks, v.toPx.Apply(c))
	}
	planes := 1
	if !sheet.Paper.Grey() || !v.glass.Grey() {
		planes = 3
	}
	for _, l := range sheet.Layers {
		if !l.Tone.Grey() {
			planes = 3
		}
	}
	light := v.light()
	out := make([][]uint8, planes)
	for ch := range planes {
		plane := v.plane(sheet, ch, p.Frame)
		out[ch] = v.expose(plane, light, ch)
	}
	img, err := v.develop(out)
	p.Image = img
	return p, err
}

// plane lays the sheet out in one colour: shares of light, before the lens.
func (v view) plane(sheet Sheet, ch int, frame [4]geom.Point) []float32 {
	px := make([]float32, v.w*v.h)
	for y := range v.h {
		for x := range v.w {
			g := v.glass[ch]
			if v.table != nil {
				g *= v.table(float64(x), float64(y))
			}
			px[y*v.w+x] = g
		}
	}
	var inside []float32
	paper := cover(geom.RectOf(frame[:]...), v.w, v.h)
	paper.polygon(frame[:])
	if v.clip {
		inside = make([]float32, v.w*v.h)
	}
	paper.each(func(x, y int, share float32) {
		i := y*v.w + x
		px[i] += share * (sheet.Paper[ch] - px[i])
		if v.clip {
			inside[i] = share
		}
	})
	layers := sheet.Layers
	if v.faults.Specks > 0 {
		layers = append(layers[:len(layers):len(layers)], v.specks(sheet))
	}
	for _, l := range layers {
		v.lay(px, l, ch, inside)
	}
	return px
}

// lay covers the plane with the ink of a layer.
func (v view) lay(px []float32, l Layer, ch int, inside []float32) {
	var polys [][]geom.Point
	for _, f := range l.Fills {
		pts, _ := chords(f)
		polys = append(polys, pts)
	}
	for _, line := range l.Lines {
		polys = append(polys, stroke(line, l.Pen)...)
	}
	box := geom.EmptyRect()
	for _, poly := range polys {
		for i, p := range poly {
			poly[i] = v.toPx.Apply(p)
			box = box.Include(poly[i])
		}
	}
	if box.Empty() {
		return
	}
	c := cover(box, v.w, v.h)
	for _, poly := range polys {
		c.polygon(poly)
	}
	tone := l.Tone[ch]
	c.each(func(x, y int, share float32) {
		i := y*v.w + x
		if inside != nil {
			share *= inside[i]
		}
		px[i] += share * (tone - px[i])
	})
}

// specks returns dirt: dots of 0.1 to 0.3 mm radius anywhere on the sheet.
func (v view) specks(sheet Sheet) Layer {
	rng := rand.New(rand.NewPCG(v.faults.Seed, 0x5bec))
	l := Layer{Tone: Tone{.2, .2, .2}}
	for range v.faults.Specks {
		c, r := geom.Pt(rng.Float64()*sheet.W, rng.Float64()*sheet.H), between(rng, .1, .3)
		var dot geom.Path
		n := 8
		corner := func(i int) geom.Point { return c.Add(ray(float64(i%n)*360/float64(n), r)) }
		for i := range n {
			dot = append(dot, geom.Line(corner(i), corner(i+1)))
		}
		l.Fills = append(l.Fills, dot)
	}
	return l
}

// light returns the share of light at each place: full at one side and dim at the other,
// along a bent slope that no polynomial of low order follows, or nil where it is even.
func (v view) light() func(x, y float64) float32 {
	f := v.faults.FallOff
	if f <= 0 && v.shadow == nil {
		return nil
	}
	rng := rand.New(rand.NewPCG(v.faults.Seed, 0x119b))
	dir := ray(rng.Float64()*360, 1)
	bend := between(rng, -.3, .3)
	size := math.Hypot(float64(v.w), float64(v.h))
	return func(x, y float64) float32 {
		p := geom.Pt(x-float64(v.w)/2, y-float64(v.h)/2).Mul(1 / size)
		u := p.Dot(dir) + bend*p.Cross(dir)*p.Cross(dir)
		l := float32(1 - f*(.5-.5*math.Cos(math.Pi*math.Max(0, math.Min(1, u+.5)))))
		if v.shadow != nil {
			l *= v.shadow(x, y)
		}
		return l
	}
}

// expose turns a plane of light into levels: lit, blurred by the lens, with the tone curve
// and the noise of the sensor.
func (v view) expose(px []float32, light func(x, y float64) float32, ch int) []uint8 {
	if light != nil {
		v.dim(px, light)
	}
	blur(px, v.w, v.h, v.faults.Blur)
	rng := rand.New(rand.NewPCG(v.faults.Seed, 0x4015e+uint64(ch)))
	noise := make([]float32, 1<<16)
	for i := range noise {
		noise[i] = float32(rng.NormFloat64() * v.faults.Noise)
	}
	curve := toneCurve(v.faults.Gamma)
	out := make([]uint8, len(px))
	var bits uint64
	for i, p := range px {
		if i%4 == 0 {
			bits = rng.Uint64()
		}
		at := max(0, min(float32(len(curve)-1), p*float32(len(curve)-1)))
		level := curve[int(at)] + noise[bits&0xffff]
		bits >>= 16
		out[i] = uint8(max(0, min(255, level+.5)))
	}
	return out
}

// dim multiplies the plane by the light, which is taken at every eighth pixel and runs
// straight between.
func (v view) dim(px []float32, light func(x, y float64) float32) {
	const step = 8
	cols := v.w/step + 2
	above, below := make([]float32, cols), make([]float32, cols)
	fill := func(row []float32, y int) {
		for i := range row {
			row[i] = light(float64(i*step), float64(y))
		}
	}
	for y := range v.h {
		if y%step == 0 {
			fill(above, y)
			fill(below, y+step)
		}
		t := float32(y%step) / step
		for x := range v.w {
			i, u := x/step, float32(x%step)/step
			a := above[i] + u*(above[i+1]-above[i])
			b := below[i] + u*(below[i+1]-below[i])
			px[y*v.w+x] *= a + t*(b-a)
		}
	}
}

// toneCurve returns the level, 0 to 255, of shares of light from 0 to 1.
func toneCurve(gamma float64) []float32 {
	curve := make([]float32, 1<<14)
	for i := range curve {
		l := float64(i) / float64(len(curve)-1)
		if gamma > 0 && gamma != 1 {
			l = math.Pow(l, 1/gamma)
		}
		curve[i] = float32(255 * l)
	}
	return curve
}

// develop joins the planes to a picture, squeezed as JPEG where that is asked for.
func (v view) develop(planes [][]uint8) (image.Image, error) {
	r := image.Rect(0, 0, v.w, v.h)
	var img image.Image
	if len(planes) == 1 {
		img = &image.Gray{Pix: planes[0], Stride: v.w, Rect: r}
	} else {
		rgba := image.NewRGBA(r)
		for i := range planes[0] {
			rgba.Pix[4*i], rgba.Pix[4*i+1], rgba.Pix[4*i+2], rgba.Pix[4*i+3] = planes[0][i], planes[1][i], planes[2][i], 255
		}
		img = rgba
	}
	if v.faults.JPEG == 0 {
		return img, nil
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: v.faults.JPEG}); err != nil {
		return nil, err
	}
	return jpeg.Decode(&b)
}

// blur softens the plane by a Gaussian of sigma px.
func blur(px []float32, w, h int, sigma float64) {
	if sigma <= 0 {
		return
	}
	n := int(math.Ceil(4 * sigma))
	k := make([]float32, 2*n+1)
	var sum float64
	for i := range k {
		x := float64(i-n) / sigma
		sum += math.Exp(-x * x / 2)
	}
	for i := range k {
		x := float64(i-n) / sigma
		k[i] = float32(math.Exp(-x*x/2) / sum)
	}
	row := make([]float32, w+2*n)
	for y := range h {
		line := px[y*w : (y+1)*w]
		for i := range row {
			row[i] = line[max(0, min(w-1, i-n))]
		}
		for x := range line {
			var s float32
			for i, f := range k {
				s += f * row[x+i]
			}
			line[x] = s
		}
	}
	// Down the columns, some rows of the original kept.
	kept := make([][]float32, 2*n+1)
	for i := range kept {
		kept[i] = append([]float32{}, px[max(0, min(h-1, i-n))*w:][:w]...)
	}
	for y := range h {
		line := px[y*w : (y+1)*w]
		for x := range line {
			line[x] = 0
		}
		for i, f := range k {
			src := kept[i]
			for x := range line {
				line[x] += f * src[x]
			}
		}
		next := kept[0]
		copy(kept, kept[1:])
		copy(next, px[min(h-1, y+n+1)*w:][:w])
		kept[2*n] = next
	}
}
