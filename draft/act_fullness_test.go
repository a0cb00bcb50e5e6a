package draft

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// strip is a rectangle of 300 by 120 mm whose lower edge is the hem.
func strip() *Project {
	p := polygonPiece("strip", 6, geom.Pt(0, 0), geom.Pt(300, 0), geom.Pt(300, 120), geom.Pt(0, 120))
	name(p, "hem", "right", "top", "left")
	return projectOf(p)
}

// sector is a quarter of a ring about the origin, from radius r to R: hem, side, waist,
// side.
func sector(r, R float64) *Project {
	const k = 0.5522847498307936 // 4/3 tan(pi/8): the usual cubic of a quarter circle
	p := polygonPiece("sector", 6, geom.Pt(R, 0), geom.Pt(0, R), geom.Pt(0, r), geom.Pt(r, 0))
	name(p, "hem", "left", "waist", "right")
	p.Edges[0].Nodes[0].Out, p.Edges[1].Nodes[0].In = geom.Pt(0, k*R), geom.Pt(k*R, 0)
	p.Edges[2].Nodes[0].Out, p.Edges[3].Nodes[0].In = geom.Pt(k*r, 0), geom.Pt(0, k*r)
	return projectOf(p)
}

// smoothEdges reports a kink inside an edge that had none.
func smoothEdges(t fataler, p *Piece) {
	t.Helper()
	for i := range p.Edges {
		nodes := p.EdgeNodes(i)
		for k := 1; k+1 < len(nodes); k++ {
			if p.mouthOf(nodes[k].ID) != nil {
				continue
			}
			first, second := segment(nodes[k-1], nodes[k]), segment(nodes[k], nodes[k+1])
			u, v := first.Tangent(1), second.Tangent(0)
			// The grid turns a handle by its step over the handle's length.
			slack := 5e-6 + 2*Grid/min(first.P2.Dist(first.P3), second.P0.Dist(second.P1))
			if math.Abs(u.Cross(v)) > slack {
				t.Fatalf("edge %s has a kink of %g at %v", p.Edges[i].label(), math.Abs(u.Cross(v)), nodes[k].At)
			}
		}
	}
}

// A rectangle of w by h whose hem gets f longer becomes a sector of a ring: the angle is
// f / h, the radius of the top w h / f, and the area grows by h f / 2.
func TestFullnessOfARectangle(t *testing.T) {
	for _, f := range []float64{0.5, 20, 120, 450} {
		p := strip()
		out := mustDo(t, p, "add-fullness", "edge=strip.hem", "amount="+unitText(f))
		q := out.Project.Pieces[0]
		smoothEdges(t, q)
		wantNear(t, "hem", edgeLength(t, out.Project, "strip.hem"), 300+f, 1e-5)
		// Exact but for the grid, on each of up to a dozen points.
		wantNear(t, "top", edgeLength(t, out.Project, "strip.top"), 300, 4*Grid)
		wantNear(t, "right", edgeLength(t, out.Project, "strip.right"), 120, 1e-6)
		wantNear(t, "left", edgeLength(t, out.Project, "strip.left"), 120, 1e-6)
		wantNear(t, "area", q.DrawnPath().Area(), 300*120+120*f/2, 2e-3)
		angle := f / 120
		r := 300 / angle
		// The centre of the ring lies over the middle, which stays.
		centre := geom.Pt(150, 120+r)
		for _, s := range q.EdgePath(2) {
			for k := 0; k <= 8; k++ {
				wantNear(t, "radius of the top", s.At(float64(k)/8).Dist(centre), r, 1e-4)
			}
		}
		for _, s := range q.EdgePath(0) {
			for k := 0; k <= 8; k++ {
				wantNear(t, "radius of the hem", s.At(float64(k)/8).Dist(centre), r+120, 1e-3)
			}
		}
	}
}

func unitText(mm float64) string { return fmt.Sprintf("%.9fmm", mm) }

// A quarter of a ring that is hinged at the waist becomes a larger sector of a tighter
// ring: the waist keeps its length, its radius is that length over the new angle.
func TestFullnessOfAQuarterCircle(t *testing.T) {
	const r, R, f = 80., 380., 150.
	p := sector(r, R)
	hem, waist := edgeLength(t, p, "sector.hem"), edgeLength(t, p, "sector.waist")
	out := mustDo(t, p, "add-fullness", "edge=sector.hem", "amount="+unitText(f))
	q := out.Project.Pieces[0]
	smoothEdges(t, q)
	wantNear(t, "hem", edgeLength(t, out.Project, "sector.hem"), hem+f, 1e-5)
	wantNear(t, "waist", edgeLength(t, out.Project, "sector.waist"), waist, 1e-6)
	angle := math.Pi/2 + f/(R-r)
	u, v := q.EdgePath(1)[0].Tangent(0), q.EdgePath(3)[0].Tangent(0)
	wantNear(t, "angle between the sides", math.Mod(math.Atan2(v.Cross(u.Mul(-1)), v.Dot(u.Mul(-1)))+2*math.Pi, 2*math.Pi), angle, 1e-3)
	// The cubic of a quarter circle is off by 2.7e-4 of the radius, and so is the ring.
	inner := waist / angle
	area := angle / 2 * ((inner+R-r)*(inner+R-r) - inner*inner)
	wantNear(t, "area over that of the ring", q.DrawnPath().Area()/area, 1, 2e-3)
}

// A quarter circle whose sides meet in a point is slashed to that point: the radius stays.
func TestSlashAQuarterCircleToItsCentre(t *testing.T) {
	const R, each = 200., 24.
	p := sector(0.001, R)
	q := p.Pieces[0].clone()
	q.Edges = append(q.Edges[:2:2], q.Edges[3])
	q.Edges[2].Nodes[0] = Node{ID: q.Edges[2].Nodes[0].ID, At: geom.Pt(0, 0)}
	p = projectOf(q)
	hem := edgeLength(t, p, "sector.hem")
	out := mustDo(t, p, "slash-spread", "edge=sector.hem", "count=4", "amount="+unitText(each))
	q = out.Project.Pieces[0]
	smoothEdges(t, q)
	wantNear(t, "hem", edgeLength(t, out.Project, "sector.hem"), hem+4*each, 1e-5)
	centre := q.Edges[2].Nodes[0].At
	for _, s := range q.EdgePath(0) {
		for k := 0; k <= 8; k++ {
			wantNear(t, "radius", s.At(float64(k)/8).Dist(centre), R, 3e-4*R)
		}
	}
	wantNear(t, "area over that of the sector", q.DrawnPath().Area()/((math.Pi/2+4*each/R)*R*R/2), 1, 1e-3)
}

// Parallel slashes widen a rectangle to a rectangle, whatever their number.
func TestParallelSpreadOfARectangle(t *testing.T) {
	for _, args := range [][]string{
		{"slash-spread", "edge=strip.hem", "count=3", "amount=10mm", "way=parallel"},
		{"slash-spread", "edge=strip.top", "at=20mm;100mm;150mm", "amount=10mm", "way=parallel"},
		{"add-fullness", "edge=strip.hem", "amount=30mm", "way=parallel"},
		{"add-fullness", "edge=strip.hem", "amount=30mm", "way=parallel", "from=20mm", "to=50%"},
		{"add-fullness", "edge=strip.hem", "ratio=1.1", "way=parallel"},
	} {
		out := mustDo(t, strip(), args[0], args[1:]...)
		q := out.Project.Pieces[0]
		if n := q.nodeCount(); n != 4 {
			t.Errorf("%v: %d points", args, n)
		}
		wantNear(t, "hem", edgeLength(t, out.Project, "strip.hem"), 330, 1e-6)
		wantNear(t, "area", q.DrawnPath().Area(), 330*120, 1e-4)
		wantNear(t, "width", q.DrawnPath().Bounds().W(), 330, 1e-6)
		wantNear(t, "height", q.DrawnPath().Bounds().H(), 120, 1e-6)
	}
}

// One slash in the middle moves the two sides as they are.
func TestOneSlashKeepsTheSidesAsTheyAre(t *testing.T) {
	p := strip()
	p.Pieces[0].Grain = &Grain{geom.Pt(40, 20), geom.Pt(40, 100)}
	p = mustDo(t, p, "add-notch", "edge=strip.hem", "at=50mm").Project
	p = mustDo(t, p, "add-notch", "edge=strip.hem", "at=40mm from end").Project
	p = mustDo(t, p, "add-notch", "edge=strip.top", "at=150mm").Project
	out := mustDo(t, p, "slash-spread", "edge=strip.hem", "amount=30mm")
	q := out.Project.Pieces[0]
	smoothEdges(t, q)
	wantNear(t, "hem", edgeLength(t, out.Project, "strip.hem"), 330, 1e-5)
	wantNear(t, "top", edgeLength(t, out.Project, "strip.top"), 300, 1e-6)
	// The part with the grain stays.
	for i, want := range []geom.Point{geom.Pt(50, 0)} {
		if at := notchAt(q, q.Notches[i]); !at.Near(want, 1e-5) {
			t.Errorf("notch %d at %v, want %v", i, at, want)
		}
	}
	if at := q.Edges[0].Nodes[0].At; !at.Near(geom.Pt(0, 0), 1e-6) {
		t.Errorf("the left corner moved to %v", at)
	}
	wantNear(t, "place of the second notch", q.Notches[1].Along(330), 290, 1e-5)
	wantNear(t, "place of the notch across", q.Notches[2].Along(300), 150, 1e-5)
	// The right corners keep their square.
	u, v := q.EdgePath(0), q.EdgePath(1)
	wantNear(t, "corner", u[len(u)-1].Tangent(1).Dot(v[0].Tangent(0)), 0, 1e-9)
	turn := math.Atan2(v[0].Tangent(0).Cross(geom.Pt(0, 1)), v[0].Tangent(0).Dot(geom.Pt(0, 1)))
	wantNear(t, "turn of the right side", -turn, 30./120, 1e-2)
}

// Fullness over a stretch leaves the rest of the edge as it is, and the seam knows where.
func TestFullnessOverAStretchIsKnownToTheSeam(t *testing.T) {
	p := skirtPanel(t)
	p = mustDo(t, p, "add-notch", "edge=panel.waist", "at=20mm").Project
	out := mustDo(t, p, "add-fullness", "edge=panel.waist", "amount=40mm", "from=30mm", "to=30mm from end", "into=gathers")
	q := out.Project.Piece("panel")
	smoothEdges(t, q)
	wantNear(t, "hem", edgeLength(t, out.Project, "panel.hem"), 120, 1e-6)
	wantNear(t, "waist", edgeLength(t, out.Project, "panel.waist"), 160, 1e-5)
	wantNear(t, "place of the notch", q.Notches[0].Along(160), 20, 1e-5)
	s := out.Project.Seams[0]
	if s.Fullness != Gathers || s.Fuller != SideA {
		t.Errorf("seam %+v", s)
	}
	wantNear(t, "ratio", s.Ratio, 160./120, 1e-7)
	wantNear(t, "start", s.From, 30./160, 1e-6)
	wantNear(t, "end", s.To, 130./160, 1e-6)
	state, err := NewSlots().SeamState(out.Project, s)
	if err != nil || !state.Holds || math.Abs(state.Diff) > 1e-4 {
		t.Errorf("state %+v, %v", state, err)
	}
	mustRefuse(t, p, "or how many times", "add-fullness", "edge=panel.waist")
	mustRefuse(t, p, "ends before it begins", "add-fullness", "edge=panel.waist", "amount=9mm", "from=60%", "to=40%")
	mustRefuse(t, p, "than there is", "add-fullness", "edge=panel.waist", "amount=-119mm")
	mustRefuse(t, p, "name the edge across or the corner", "add-fullness", "edge=panel.waist", "amount=9mm", "across=panel.hem", "corner=panel.hem/start")
}

// A circular flounce is a ring: of radius L / (2 pi f) inside and that plus its depth
// outside, f being the share of a full circle; its hem is 2 pi f (r + w). (Geometry, as in
// the shops' rule for circular flounces, here with the seam side 400 mm and depth 90 mm.)
func TestCircularFlounceByActs(t *testing.T) {
	const L, w = 400., 90.
	for _, f := range []float64{0.25, 0.5, 0.75} {
		p := polygonPiece("flounce", 6, geom.Pt(0, 0), geom.Pt(L, 0), geom.Pt(L, w), geom.Pt(0, w))
		name(p, "hem", "right", "top", "left")
		r := L / (2 * math.Pi * f)
		hem := 2 * math.Pi * f * (r + w)
		out := mustDo(t, projectOf(p), "add-fullness", "edge=flounce.hem", "amount="+unitText(hem-L))
		q := out.Project.Pieces[0]
		wantNear(t, "hem", edgeLength(t, out.Project, "flounce.hem"), hem, 1e-5)
		wantNear(t, "top", edgeLength(t, out.Project, "flounce.top"), L, 1e-6)
		centre := geom.Pt(L/2, w+r)
		for _, s := range q.EdgePath(0) {
			wantNear(t, "outer radius", s.At(0.4).Dist(centre), r+w, 1e-3)
		}
		for _, s := range q.EdgePath(2) {
			wantNear(t, "inner radius", s.At(0.4).Dist(centre), r, 1e-4)
		}
		wantNear(t, "area", q.DrawnPath().Area(), math.Pi*f*((r+w)*(r+w)-r*r), 1e-2)
	}
}

// Whatever is spread, the edge grows by what is asked for, the edge across and the sides
// keep their lengths, what was smooth stays so, and notches stay where they are on the
// cloth that is not spread.
func TestSpreadingOfRandomPieces(t *testing.T) {
	done, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := randomPanel(t)
		before := p.Piece("panel")
		n := len(before.Edges)
		near := rapid.IntRange(0, n-1).Draw(t, "near")
		far := (near + rapid.IntRange(2, n-2).Draw(t, "far")) % n
		length := before.EdgeLength(near)
		edge := EdgeRef{"panel", before.Edges[near].ID}
		across := EdgeRef{"panel", before.Edges[far].ID}
		grow := length * float64(rapid.SampledFrom([]int{-30, -20, -10, -1, 1, 5, 10, 20, 30, 50, 80}).Draw(t, "grow")) / 100
		amount := Length(grow)
		var out Outcome
		var err error
		if rapid.Bool().Draw(t, "even") {
			from := EdgePlace{At: rapid.Float64Range(0, 0.4).Draw(t, "from"), Share: true}
			out, err = AddFullness.Do(p, AddFullnessArgs{Edge: edge, Amount: &amount, From: &from, Across: &across})
		} else {
			count := rapid.IntRange(1, 5).Draw(t, "count")
			out, err = SlashSpread.Do(p, SlashSpreadArgs{Edge: edge, Amount: amount / Length(count), Count: count, Across: &across})
		}
		if err != nil {
			refused++
			return
		}
		done++
		if err := Validate(out.Project); err != nil {
			t.Fatal(err)
		}
		after := out.Project.Piece("panel")
		slack := 1e-5 * max(1, length/100)
		for i := range before.Edges {
			want := before.EdgeLength(i)
			if i == near {
				want += grow
			}
			wantNear(t, "edge "+before.Edges[i].label(), after.EdgeLength(i), want, slack)
		}
		smoothEdges(t, after)
		for i, d := range after.Darts {
			m, ok := after.mouthAt(&d)
			if !ok {
				t.Fatal("the dart is off the outline")
			}
			was, _ := before.mouthAt(&before.Darts[i])
			wantNear(t, "mouth", m.width(), was.width(), 1e-5)
			wantNear(t, "leg", m.from.Dist(d.Apex), was.from.Dist(before.Darts[i].Apex), 1e-5)
		}
		for _, heirs := range out.Lineage {
			at, now := 0.0, 0.0
			for _, h := range heirs {
				if h.Old0 != at || h.New0 != now || h.New1 < h.New0 {
					t.Fatalf("heirs %v", heirs)
				}
				at, now = h.Old1, h.New1
			}
			if at != 1 || now != 1 {
				t.Fatalf("heirs end at %g, %g", at, now)
			}
		}
	})
	if done == 0 && !testing.Short() {
		t.Error("nothing was ever spread")
	}
	t.Logf("%d spread, %d refused", done, refused)
}

// An edge that a dart's mouth takes up altogether has no length: slashes cannot run to it.
func TestFullnessAcrossFromAMouthOnly(t *testing.T) {
	p := strip()
	q := p.Pieces[0]
	q.Darts = []Dart{{ID: "d", Edge: q.Edges[2].ID, From: q.Edges[2].Nodes[0].ID, To: q.Edges[3].Nodes[0].ID, Apex: geom.Pt(150, 80)}}
	if err := Validate(p); err != nil {
		t.Fatal(err)
	}
	mustRefuse(t, p, "nothing lies straight across", "add-fullness", "edge=strip.hem", "amount=10mm")
	mustRefuse(t, p, "has no length", "add-fullness", "edge=strip.hem", "across=strip.top", "amount=10mm")
	mustRefuse(t, p, "nothing lies straight across", "add-pleats", "edge=strip.hem", "count=2", "depth=4mm")
}

// bodiceBack is a back of 100 by 200 mm on the fold or in pairs whose shoulder hangs over
// the armhole.
func bodiceBack(way CutWay) *Project {
	p := polygonPiece("back", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 120), geom.Pt(75, 125), geom.Pt(95, 190), geom.Pt(45, 200), geom.Pt(0, 190))
	name(p, "hem", "side", "underarm", "armhole", "shoulder", "neck", "middle")
	p.Cut = CutRule{Way: way, Count: 1}
	if way == CutOnFold {
		p.Edges[6].Kind, p.Edges[6].Allowance = FoldEdge, Even(0)
	}
	return projectOf(p)
}

// Straight across from the hem lies the shoulder, but slashes to it would go over the
// armhole; they run to the neck.
func TestSlashesStayInsideThePiece(t *testing.T) {
	p := bodiceBack(CutPairs)
	lengths := func(q *Piece) map[string]float64 {
		list := make(map[string]float64)
		for i := range q.Edges {
			list[q.Edges[i].Name] = q.EdgeLength(i)
		}
		return list
	}
	was := lengths(p.Pieces[0])
	now := lengths(mustDo(t, p, "slash-spread", "edge=back.hem", "amount=10mm", "count=3").Project.Pieces[0])
	for n, length := range was {
		if n == "hem" {
			length += 30
		}
		wantNear(t, n, now[n], length, 1e-4)
	}
	mustRefuse(t, p, "too slanting", "add-fullness", "edge=back.hem", "amount=10mm", "way=parallel", "across=back.armhole")
}

// Cloth that is put in as wide at both ends parts square to the fold: the edges meet the
// fold as they did.
func TestParallelSpreadKeepsTheCornersAtTheFold(t *testing.T) {
	p := bodiceBack(CutOnFold)
	q := mustDo(t, p, "add-fullness", "edge=back.hem", "amount=20mm", "way=parallel").Project.Pieces[0]
	hem, side := q.EdgePath(0), q.EdgePath(1)
	wantNear(t, "hem", hem.Length(), 120, 1e-6)
	for i, s := range hem {
		if math.Abs(s.P0.Y) > 1e-6 || math.Abs(s.P3.Y) > 1e-6 {
			t.Errorf("stretch %d of the hem runs from %v to %v, no longer square to the fold", i, s.P0, s.P3)
		}
	}
	if side.Start().Sub(geom.Pt(120, 0)).Len() > 1e-6 {
		t.Errorf("the side starts at %v", side.Start())
	}
}
