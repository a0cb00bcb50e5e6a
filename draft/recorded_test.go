package draft

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// done is an act with its arguments, NAME=VALUE.
type done []string

// doAll does acts one after the other.
func doAll(t fataler, p *Project, acts ...done) *Project {
	for _, a := range acts {
		p = mustDo(t, p, a[0], a[1:]...).Project
	}
	return p
}

var (
	toYoke    = done{"split-piece", "from=Front.armhole@50%", "to=Front.centre@30%", "name=Yoke", "seam=yoke"}
	acrossIt  = done{"split-piece", "from=Back.side@50%", "to=Back.centre@50%", "name=Lower"}
	otherSize = []done{
		{"set-measure", "wearer=Quill", "name=bust_girth", "value=255mm"},
		{"set-measure", "wearer=Quill", "name=waist_girth", "value=244mm"},
		{"set-measure", "wearer=Quill", "name=belly_girth", "value=280mm"},
		{"set-measure", "wearer=Quill", "name=back_waist_length", "value=88mm"},
	}
)

// cutUps are ways to cut up, join and shape the pieces of a bodice.
var cutUps = map[string][]done{
	"split":                {toYoke},
	"split by a line":      {{"split-piece", "line=Back.waist", "name=Lower back"}},
	"split on a course":    {{"split-piece", "from=Back.armhole@40%", "to=Back.centre@20%", "course=M0 0C10 9 20 -6 30 4L40 0"}},
	"split twice":          {toYoke, {"split-piece", "from=Front.hem@40%", "to=Front.yoke@50%", "name=Side front"}},
	"unfold":               {{"unfold-piece", "piece=Front"}},
	"unfold and fold":      {{"unfold-piece", "piece=Front"}, {"fold-piece", "piece=Front"}},
	"turn over":            {{"mirror-piece", "pieces=Back"}},
	"join at shoulder":     {{"join-pieces", "seam=shoulder"}},
	"split and join":       {toYoke, {"join-pieces", "seam=shoulder", "gap=50mm"}},
	"dart into a seam":     {{"dart-to-seam", "dart=Front.dart", "to=Front.shoulder@50%"}},
	"split, turned, cut":   {toYoke, {"mirror-piece", "pieces=Yoke+Back"}, {"split-piece", "from=Yoke.shoulder@50%", "to=Yoke.yoke@50%"}},
	"fullness, split":      {{"add-fullness", "edge=Back.hem", "amount=20mm"}, acrossIt},
	"split, fullness":      {acrossIt, {"add-fullness", "edge=Lower.hem", "amount=20mm"}},
	"split, pivot":         {toYoke, {"pivot-dart", "dart=Front.dart", "to=Front.yoke@50%"}},
	"pivot, dart to seam":  {{"pivot-dart", "dart=Front.dart", "to=Front.shoulder@50%"}, {"dart-to-seam", "dart=Front.dart", "to=Front.hem@50%"}},
	"slash, split":         {{"slash-spread", "edge=Back.hem", "count=3", "amount=5mm"}, acrossIt},
	"gathers for the dart": {{"absorb-dart", "darts=Front.dart"}, toYoke},
	"grown hem":            {acrossIt, {"grow-edge", "edges=Lower.hem", "way=hem", "depth=12mm"}},
	"pleats, split":        {{"add-pleats", "edge=Back.hem", "count=3", "depth=4mm"}, {"split-piece", "from=Back.armhole@50%", "to=Back.centre@20%"}},
	"godet":                {acrossIt, {"insert-godet", "at=Lower.hem@50%", "depth=20mm", "angle=60"}},
	"gusset":               {toYoke, {"insert-gusset", "at=Back.side@30%", "depth=12mm"}},
}

// What was cut up follows a changed measure as if it had been cut from a block that was
// drafted for the new body in the first place.
func TestCutUpFollowsMeasures(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for name, acts := range cutUps {
		t.Run(name, func(t *testing.T) {
			got := doAll(t, doAll(t, bodiceFor(t), acts...), otherSize...)
			// Ids are given out by the same counter, which setting a measure leaves alone.
			want := doAll(t, doAll(t, bodiceFor(t), otherSize...), acts...)
			if len(got.Pieces) != len(want.Pieces) || len(got.Seams) != len(want.Seams) {
				t.Fatalf("%d pieces and %d seams, want %d and %d", len(got.Pieces), len(got.Seams), len(want.Pieces), len(want.Seams))
			}
			for _, w := range want.Pieces {
				g := got.Piece(w.ID)
				if g == nil || g.Derived == nil {
					t.Fatalf("%s is gone or free", w.label())
				}
				if g.ByHand() {
					t.Errorf("%s: something is taken for changed by hand", w.label())
				}
				a, b := *g, *w
				a.Place, b.Place = Placement{}, Placement{}
				if c := changeOf(&b, &a); c.most() > settledSlack || c.other {
					t.Errorf("%s: %+v", w.label(), c)
				}
			}
			for _, w := range want.Seams {
				if g := got.Seam(w.ID); g == nil || !equalSeams(g, w) {
					t.Errorf("seam %s is %v, want %v", w.label(), g, w)
				}
			}
			for _, f := range NewSlots().Check(got).Findings {
				if strings.HasSuffix(f.Key, "/behind") || strings.HasSuffix(f.Key, "/older") {
					t.Errorf("%s: %s", f.About, f.Says)
				}
			}
			if err := Validate(got); err != nil {
				t.Error(err)
			}
		})
	}
}

// pointsOff returns how far each point of one piece is off the point of the same id in
// another.
func pointsOff(a, b *Piece) map[ID]float64 {
	off := make(map[ID]float64)
	for _, e := range a.Edges {
		for _, n := range e.Nodes {
			if m, _, _ := b.Node(n.ID); m != nil {
				off[n.ID] = n.At.Dist(m.At)
			}
		}
	}
	return off
}

// What was changed by hand before or after a piece was cut up is carried over: by as much
// as it was moved, and nothing else.
func TestHandEditsOfCutUpPiecesAreCarried(t *testing.T) {
	lowered := done{"move-nodes", "nodes=%.neck/end", "by=0mm,-3mm"}
	at := func(piece string) done {
		return done{lowered[0], strings.Replace(lowered[1], "%", piece, 1), lowered[2]}
	}
	plain := doAll(t, bodiceFor(t), append([]done{toYoke}, otherSize...)...)
	for name, acts := range map[string][]done{
		"before":            {at("Front"), toYoke},
		"after":             {toYoke, at("Yoke")},
		"with a point more": {{"insert-node", "edge=Front.armhole", "at=80%"}, at("Front"), toYoke},
	} {
		p := doAll(t, bodiceFor(t), append(acts, otherSize...)...)
		for _, piece := range plain.Pieces {
			q := p.Piece(piece.ID)
			if q == nil || q.Derived == nil {
				// A point more gives the pieces that follow other numbers.
				if q = p.Pieces[slices.Index(plain.Pieces, piece)]; q.Derived == nil {
					t.Fatalf("%s: %s follows nothing", name, piece.label())
				}
			}
			for id, off := range pointsOff(piece, q) {
				want := 0.0
				if id == "front.shoulder.front_neck" {
					want = 3
				}
				if _, counted := id.number(); counted && name == "with a point more" {
					continue // the numbers stand for other points
				}
				if math.Abs(off-want) > 0.05 {
					t.Errorf("%s: point %s of %s is %.3f mm off, want %g", name, id, piece.label(), off, want)
				}
			}
		}
	}
}

// A line that the maker has drawn is cut along at the same shares of the edges that it
// meets, however the piece has grown.
func TestCutAlongADrawnLineFollows(t *testing.T) {
	p := bodiceFor(t)
	back := p.Piece("back")
	place := func(edge ID, share float64) string {
		_, i := back.Edge(edge)
		q := back.Place.Affine().Apply(back.pointAt(outlinePlace{i, share * back.EdgeLength(i)}))
		return exactFigure(q.X) + " " + exactFigure(q.Y)
	}
	draw := done{"draw-line", "piece=Back", "line=M " + place("back.centre", 0.35) + " L " + place("back.side", 0.6), "name=hip line"}
	got := doAll(t, doAll(t, p, draw, done{"split-piece", "line=Back.hip line", "name=Skirt"}), otherSize...)
	want := doAll(t, doAll(t, bodiceFor(t), otherSize...), done{"split-piece", "from=Back.centre@35%", "to=Back.side@60%", "name=Skirt", "seam=hip line"})
	for _, w := range want.Pieces {
		i := slices.IndexFunc(got.Pieces, func(q *Piece) bool { return q.Name == w.Name })
		if i < 0 || got.Pieces[i].Derived == nil {
			t.Fatalf("%s is gone or free", w.label())
		}
		if off := linesApart(got.Pieces[i].DrawnPath(), w.DrawnPath()); off > 1e-4 {
			t.Errorf("%s is up to %g mm off", w.label(), off)
		}
	}
}
