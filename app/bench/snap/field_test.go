package snap

import (
	"math"
	"testing"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// kappa sets the handles of a quarter circle as cubics have them; the curve strays at
// most 2.7e-4 of the radius from the circle (Goldapp 1991, Approximation of circular
// arcs by cubic polynomials).
const (
	kappa      = 0.5522847498
	kappaError = 2.8e-4
)

// square returns a square piece from the origin with edges of the side, counter-
// clockwise: lower, right, upper, left.
func square(side float64) *draft.Piece {
	names := []string{"hem", "side", "waist", "centre"}
	corners := []geom.Point{{}, {X: side}, {X: side, Y: side}, {Y: side}}
	p := &draft.Piece{ID: "p1", Name: "square"}
	for i, c := range corners {
		p.Edges = append(p.Edges, draft.Edge{
			ID: draft.ID("e" + names[i]), Name: names[i],
			Nodes: []draft.Node{{ID: draft.ID("n" + names[i]), At: c}},
		})
	}
	return p
}

// disc returns a round piece of one edge.
func disc(centre geom.Point, radius float64) *draft.Piece {
	e := draft.Edge{ID: "eround", Name: "round"}
	for i := range 4 {
		a := float64(i) * math.Pi / 2
		out := geom.Pt(math.Cos(a), math.Sin(a))
		along := out.Left().Mul(kappa * radius)
		e.Nodes = append(e.Nodes, draft.Node{
			ID: draft.ID("n" + string(rune('a'+i))), At: centre.Add(out.Mul(radius)), In: along.Mul(-1), Out: along, Smooth: i > 0,
		})
	}
	return &draft.Piece{ID: "p2", Name: "disc", Edges: []draft.Edge{e}}
}

func fieldOf(pieces ...*draft.Piece) *Field {
	f := &Field{Seen: geom.RectOf(geom.Pt(-500, -500), geom.Pt(500, 500))}
	for _, p := range pieces {
		f.Things = append(f.Things, Of(p))
	}
	return f
}

func at(x, y float64) tool.Reach { return tool.Reach{At: geom.Pt(x, y), MM: 0.5} }

func from(r tool.Reach, x, y float64) tool.Reach {
	p := geom.Pt(x, y)
	r.From = &p
	return r
}

func TestCatchesOnASquare(t *testing.T) {
	f := fieldOf(square(100))
	f.Alike = f.Things[:1]
	f.Guides = []Guide{{At: geom.Pt(30, 0), Dir: geom.Pt(0, 1)}, {At: geom.Pt(0, 160), Dir: geom.Pt(1, 0)}}
	f.Grid = 10
	root := math.Sqrt2 / 2
	f.Guides = append(f.Guides, Guide{At: geom.Pt(150, 0), Dir: geom.Pt(root, root)})
	for _, c := range []struct {
		name string
		ask  tool.Reach
		kind tool.CatchKind
		at   geom.Point
		word string
	}{
		{"a corner", at(102, 99), tool.CaughtPoint, geom.Pt(100, 100), "point"},
		{"half way", at(101, 48), tool.CaughtMiddle, geom.Pt(100, 50), "middle of side"},
		{"an edge", at(102, 77), tool.CaughtEdge, geom.Pt(100, 77), "on side"},
		{"a guide over an edge", at(31, 98), tool.CaughtCrossing, geom.Pt(30, 100), "waist × guide"},
		{"guides over one another", at(31, 158), tool.CaughtCrossing, geom.Pt(30, 160), "crossing"},
		{"a guide", at(31, 177), tool.CaughtGuide, geom.Pt(30, 177), "guide"},
		{"a guide aslant", at(190, 42), tool.CaughtGuide, geom.Pt(191, 41), "guide"},
		{"square to an edge", from(at(101, 66), 20, 65), tool.CaughtSquare, geom.Pt(100, 65), "square to side"},
		{"square from an edge", from(at(251, 66), 100, 65), tool.CaughtSquare, geom.Pt(251, 65), "square to side"},
		{"on from an edge", from(at(101, -143), 100, 65), tool.CaughtTangent, geom.Pt(100, -143), "on from side"},
		{"the paper", at(-41, -59), tool.CaughtGrid, geom.Pt(-40, -60), "grid"},
		{"nothing", at(-45, -55), tool.CaughtNothing, geom.Pt(-45, -55), ""},
	} {
		got := f.Catch(c.ask)
		if got.Kind != c.kind || !got.At.Near(c.at, 1e-9) || got.Word != c.word {
			t.Errorf("%s: %v %q at %v, want %v %q at %v", c.name, got.Kind, got.Word, got.At, c.kind, c.word, c.at)
		}
	}
}

// A corner that is dragged a little is caught neither where it was, by lines that cross
// there, nor by the level of its own edge.
func TestSmallDragIsNotHeldBack(t *testing.T) {
	p := square(100)
	p.Spans = []draft.Span{{ID: "s", Name: "hip", Measure: "hip_girth", Edges: []draft.ID{p.Edges[0].ID}}}
	f := fieldOf(p)
	corner := p.Edges[0].Nodes[0].At
	f.Guides = []Guide{{At: corner, Dir: geom.Pt(1, 1).Unit()}, {At: corner, Dir: geom.Pt(1, -1).Unit()}}
	moving := desk.NodeRef(p.ID, p.Edges[0].Nodes[0].ID)
	for _, d := range []geom.Point{{X: 3, Y: 0.5}, {X: 0.5, Y: -3}, {X: -3, Y: 0}, {X: 0, Y: 3}} {
		ask := from(at(corner.X+d.X, corner.Y+d.Y), corner.X, corner.Y)
		ask.Moving = []desk.Ref{moving}
		if got := f.Catch(ask); got.Caught() && (got.At.Near(corner, 1e-6) || got.Kind == tool.CaughtLevel) {
			t.Errorf("dragged by %v, it is caught by %q at %v", d, got.Word, got.At)
		}
	}
	ask := from(at(corner.X+1, corner.Y+0.5), corner.X, corner.Y) // a tape goes back to where it began
	if got := f.Catch(ask); !got.At.Near(corner, 1e-9) {
		t.Errorf("nothing moves, and the corner does not catch: %+v", got)
	}
}

// A place 100 mm from the beginning is as far as the edges are long; on the line
// square to the edge it is caught by both.
func TestEqualLength(t *testing.T) {
	f := fieldOf(square(100))
	f.Alike = f.Things
	got := f.Catch(from(at(-240+60.5, -200+80.5), -240, -200))
	if got.Kind != tool.CaughtLength || math.Abs(got.At.Dist(geom.Pt(-240, -200))-100) > 1e-9 {
		t.Errorf("%+v lies %v mm away", got, got.At.Dist(geom.Pt(-240, -200)))
	}
	got = f.Catch(from(at(199, 66), 100, 65))
	if got.Kind != tool.CaughtLength || !got.At.Near(geom.Pt(200, 65), 1e-9) || got.Word != "square to side, as long as hem" {
		t.Errorf("square and as long: %+v", got)
	}
}

// On a circle of radius r a line from a place at distance d from its middle touches it
// at sqrt(d² - r²) and meets it square on the line through the middle (Euclid III, 18
// and 36).
func TestSquareAndTouchingOnACircle(t *testing.T) {
	const r = 60.0
	centre, start := geom.Pt(20, 10), geom.Pt(120, 130)
	f := fieldOf(disc(centre, r))
	way := start.Sub(centre)
	d := way.Len()
	foot := centre.Add(way.Mul(r / d))
	got := f.Catch(from(at(foot.X+1, foot.Y-1.5), start.X, start.Y))
	// The way there is as long as to the circle; the foot lies where the curve, which
	// weaves about it, is square.
	if got.Kind != tool.CaughtSquare || math.Abs(got.At.Dist(start)-(d-r)) > kappaError*r || !got.At.Near(foot, 10*kappaError*r) {
		t.Errorf("square: %+v, want %v", got, foot)
	}
	cosine := r / d
	sine := math.Sqrt(1 - cosine*cosine)
	u := way.Unit()
	for _, side := range []float64{1, -1} {
		touch := centre.Add(u.Mul(r * cosine)).Add(u.Left().Mul(side * r * sine))
		got := f.Catch(from(at(touch.X+1, touch.Y+1), start.X, start.Y))
		if got.Kind != tool.CaughtTangent || math.Abs(got.At.Dist(start)-math.Sqrt(d*d-r*r)) > 10*kappaError*r || !got.At.Near(touch, 10*kappaError*r) {
			t.Errorf("touching: %+v, want %v", got, touch)
		}
	}
}

// What moves catches nothing, and what stands still of the same piece does.
func TestMovingThingsCatchNothing(t *testing.T) {
	p := square(100)
	f := fieldOf(p)
	ask := at(101, 98)
	ask.Moving = []desk.Ref{desk.NodeRef(p.ID, "nwaist")}
	if got := f.Catch(ask); got.Caught() {
		t.Errorf("the point that moves is caught by %+v", got)
	}
	ask.At = geom.Pt(51, 99) // the middle of an edge of which an end moves
	if got := f.Catch(ask); got.Caught() {
		t.Errorf("an edge that moves has caught %+v", got)
	}
	ask.At = geom.Pt(1, 99)
	if got := f.Catch(ask); got.Kind != tool.CaughtPoint {
		t.Errorf("a point that stands still caught %+v", got)
	}
	ask.Moving = []desk.Ref{desk.PieceRef(p.ID)}
	if got := f.Catch(ask); got.Caught() {
		t.Errorf("a piece that moves has caught %+v", got)
	}
}

// A straight line by which the wearer is measured goes on over the bench.
func TestLevels(t *testing.T) {
	p := square(100)
	p.Lines = []draft.Line{{ID: "l1", Name: "belly line", Nodes: []draft.Node{{ID: "n5", At: geom.Pt(0, 40)}, {ID: "n6", At: geom.Pt(100, 40)}}}}
	p.Spans = []draft.Span{{ID: "s1", Name: "round the belly", Measure: "belly_girth", Share: 0.25, Lines: []draft.ID{"l1"}}}
	p.Place.Turn = math.Pi / 2 // the level stands upright at x = -40
	got := fieldOf(p).Catch(at(-41, 230))
	if got.Kind != tool.CaughtLevel || !got.At.Near(geom.Pt(-40, 230), 1e-9) || got.Word != "level: round the belly" || len(got.Help) != 1 {
		t.Errorf("caught by %+v", got)
	}
}

// BenchmarkCatch asks in the middle of 200 pieces that all lie on one another, the
// worst there can be, and over a bench on which they lie apart. The bar is 2 ms.
func BenchmarkCatch(b *testing.B) {
	for name, apart := range map[string]float64{"heap": 0.3, "apart": 150} {
		var pieces []*draft.Piece
		for i := range 200 {
			p := disc(geom.Pt(float64(i%20)*apart, float64(i/20)*apart), 60)
			p.ID = draft.ID("p" + string(rune(i)))
			pieces = append(pieces, p)
		}
		f := fieldOf(pieces...)
		f.Alike = f.Things[:4]
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				f.Catch(from(at(60, 7), 130, 90))
			}
		})
	}
}
