# Holds benchmark figures against the bars that the README names.
# Lines of go test -bench:  BenchmarkName-2  N  123 ns/op  45 unit ...
function value(unit,   i) {
	for (i = 3; i < NF; i += 2) if ($(i + 1) == unit) return $i
	return -1
}
function bar(what, got, most, unit,   word) {
	if (got < 0) return
	word = got <= most ? "within" : (got <= 3 * most ? "OVER" : "FAR OVER")
	printf "%-46s %10.3f %-10s bar %8.3f  %s\n", what, got, unit, most, word
	if (got > 3 * most) failed = 1
	seen++
}
/^Benchmark/ { name = $1; sub(/-[0-9]+$/, "", name) }
name == "BenchmarkArcLength" { bar("arc length of a cubic", value("ns/cubic") / 1000, 0.4, "us") }
name ~ /^BenchmarkCutLine\/.*[Gg][Ee][Oo][Ss]/ { geos = value("µs/outline") }
name ~ /^BenchmarkCutLine\/\+6.35/ && name !~ /[Gg][Ee][Oo][Ss]/ { ours = value("µs/outline") }
name == "BenchmarkDecode200" { bar("loading 200 pieces", value("ns/op") / 1e6, 100, "ms") }
name == "BenchmarkBenchRepaint100" { bar("full repaint of 100 pieces, 1600x1000", value("ns/op") / 1e6, 12, "ms") }
name == "BenchmarkBenchDragStep" { bar("drag step", value("ns/op") / 1e6, 4, "ms") }
END {
	if (ours > 0 && geos > 0) bar("cut line, times GEOS", ours / geos, 2, "x")
	exit failed
}
