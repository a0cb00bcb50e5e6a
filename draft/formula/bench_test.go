package formula

import "testing"

// BenchmarkCompile reads a formula of usual length.
func BenchmarkCompile(b *testing.B) {
	s := scopeOf(b, sample)
	for b.Loop() {
		if _, err := Compile("l > 2*mm and n < 4 ? toward(p, below(q, l + k/4), min(l, 6*mm)) : above(p, 2*l)", s); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkValue works formulas of every kind out.
func BenchmarkValue(b *testing.B) {
	v := Values{
		"l": Length{8}, "k": Length{20}, "n": Number(3), "p": pointAt(0, 0), "q": pointAt(230, 30), "u": pointAt(230, 200),
		"c": worth("hook(at(0*mm, 0*mm), at(50*mm, 0*mm), at(50*mm, 30*mm), 0.5)"),
	}
	for name, source := range map[string]string{
		"arithmetic": "k/4 + l*n - 6*mm",
		"condition":  "l > 2*mm and n < 4 ? l : k",
		"point":      "toward(p, q, l + k/4)",
		"compass":    "compass(p, 200*mm, q, 180*mm)",
		"hook":       "hook(p, at(k, l), q, 0.5)",
		"through":    "through(p, u, q)",
		"length":     "length(c)",
		"part":       "part(c, l, k)",
		"crossing":   "crossing(c, p, u)",
		"sweep":      "sweep(p, 240*mm, u, 200*mm)",
		"sweepNone":  "sweep(p, 24*mm, u, 100*mm)",
	} {
		f := compiled(b, source, v)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = f.Value(v)
			}
		})
	}
}
