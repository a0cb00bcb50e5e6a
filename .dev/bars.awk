# Holds benchmark figures against their bars.
# Lines of go test -bench:  pkg: PACKAGE, then  BenchmarkName-2  N  123 ns/op  45 unit ...
# A figure over its bar is told; one over three times its bar fails, and so does, in
# CI, a bar without a figure: a benchmark that was renamed is no longer measured.
function value(unit,   i) {
	for (i = 3; i < NF; i += 2) if ($(i + 1) == unit) return $i
	return -1
}
function bar(what, got, most, unit,   word) {
	if (got == "" || got < 0) {
		printf "%-46s no figure\n", what
		if (ENVIRON["CI"] != "") failed = 1
		return
	}
	word = got <= most ? "within" : (got <= 3 * most ? "OVER" : "FAR OVER")
	printf "%-46s %10.3f %-10s bar %8.3f  %s\n", what, got, unit, most, word
	if (got > 3 * most) failed = 1
}
/^pkg: / { pkg = $2 }
/^Benchmark/ { name = pkg " " $1; sub(/-[0-9]+$/, "", name) }
name == "hemlet/geom BenchmarkArcLength" { arc = value("ns/cubic") / 1000 }
name == "hemlet/geom BenchmarkCutLine/geos/6.35mm" { geos = value("µs/outline") }
name == "hemlet/geom BenchmarkCutLine/ours/6.35mm" { ours = value("µs/outline") }
name == "hemlet/draft/block BenchmarkDraft/bodice" { block = value("ns/op") / 1e6 }
name == "hemlet/draft/store BenchmarkDecode200" { load = value("ns/op") / 1e6 }
name == "hemlet/app/bench BenchmarkRepaint" { paint = value("ns/op") / 1e6 }
name == "hemlet/app/bench BenchmarkDragStep" { drag = value("ns/op") / 1e6 }
name == "hemlet/app/bench BenchmarkPan200" { pan = value("ns/op") / 1e6 }
name == "hemlet/app/bench BenchmarkZoom200" { zoom = value("ns/op") / 1e6 }
name == "hemlet/app/bench BenchmarkDragStep200" { drag200 = value("ns/op") / 1e6 }
name == "hemlet/app/bench BenchmarkUndo200" { undo = value("ms/step") }
name == "hemlet/app/bench BenchmarkUndoAll200" { undoall = value("ms/step") }
name == "hemlet/app/bench/snap BenchmarkCatch/heap" { caught = value("ns/op") / 1e6 }
name == "hemlet/app/bench BenchmarkWalkStep50" { walked = value("ns/op") / 1e6 }
name == "hemlet/app/shell BenchmarkDragInTheWholeWindow" { window = value("ns/op") / 1e6 }
name == "hemlet/app/shell BenchmarkDragInTrue" { trued = value("ns/op") / 1e6 }
name == "hemlet/geom/adjust BenchmarkSolve/12pieces" { matched = value("median-ms") }
name ~ "hemlet/geom/warp BenchmarkGarments/12_pieces" { fitted = value("ns/op") / 1e6 }
name ~ "hemlet/geom/warp BenchmarkGarments/100_pieces" { fitted100 = value("ns/op") / 1e9 }
name == "hemlet/geom/trace BenchmarkA3/edges" { filled = value("ns/op") / 1e9 }
name == "hemlet/geom/trace BenchmarkA3/strokes" { drawn = value("ns/op") / 1e9; held = value("peak-MB") }
name == "hemlet/geom/trace/follow BenchmarkPathAcrossA3" { led = value("ns/op") / 1e6 }
name == "hemlet/geom/trace/scan BenchmarkFindGridA3" { squared = value("ns/op") / 1e6 }
{ name = "" }
END {
	bar("arc length of a cubic", arc, 0.4, "us")
	bar("cut line, times GEOS", geos > 0 && ours > 0 ? ours / geos : -1, 2, "x")
	bar("drafting the bodice", block, 5, "ms")
	bar("loading 200 pieces", load, 100, "ms")
	bar("full repaint of 100 pieces, 1600x1000", paint, 12, "ms")
	bar("drag step", drag, 4, "ms")
	bar("pan, 200 pieces, 1920x1080", pan, 12, "ms")
	bar("zoom, 200 pieces, 1920x1080", zoom, 12, "ms")
	bar("drag step, 200 pieces", drag200, 4, "ms")
	bar("the same with all of the window listening", window, 4, "ms")
	bar("the same at True, with 100 seams", trued, 8, "ms")
	bar("a step of a walk, 50 pieces", walked, 8, "ms")
	bar("seams of 12 pieces matched, median", matched, 200, "ms")
	bar("12 pieces fitted to a body", fitted, 300, "ms")
	bar("100 pieces fitted to a body", fitted100, 3, "s")
	bar("undo of one piece in 200", undo, 20, "ms")
	bar("undo of all 200 pieces", undoall, 20, "ms")
	bar("catching the pointer on a heap of 200", caught, 2, "ms")
	bar("A3 at 300 dpi, JPEG to outlines, filled", filled, 2, "s")
	bar("A3 at 300 dpi, JPEG to outlines, drawn", drawn, 2, "s")
	bar("the memory that it takes", held, 500, "MB")
	bar("a line led by hand across it", led, 50, "ms")
	bar("squared paper found on it", squared, 500, "ms")
	exit failed
}
