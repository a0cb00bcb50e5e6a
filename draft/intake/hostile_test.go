package intake

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"

	"hemlet/draft"
)

// repeated reads as many copies of a text as asked, without holding them.
func repeated(s string, n int) io.Reader {
	const chunk = 64 << 10 // copied at once
	return io.LimitReader(&endless{s: bytes.Repeat([]byte(s), 1+chunk/len(s))}, int64(len(s))*int64(n))
}

type endless struct {
	s []byte
	i int
}

func (e *endless) Read(p []byte) (int, error) {
	n := copy(p, e.s[e.i:])
	e.i = (e.i + n) % len(e.s)
	return n, nil
}

// doubling is a file whose references double n times over.
func doubling(n int, leaf string) string {
	var b strings.Builder
	b.WriteString(`<g id="g0">` + leaf + `</g>`)
	for i := 1; i <= n; i++ {
		fmt.Fprintf(&b, `<g id="g%d"><use href="#g%d"/><use href="#g%d"/></g>`, i, i-1, i-1)
	}
	return page(`<defs>` + b.String() + fmt.Sprintf(`</defs><use href="#g%d"/>`, n))
}

// manySelectors are style sheets whose rules together have n selectors.
func manySelectors(n int) string {
	var b strings.Builder
	for i := 0; i < n; {
		b.WriteString("<style>")
		for range 10_000 {
			fmt.Fprintf(&b, ".a%d,", i)
			i++
		}
		b.WriteString("z{display:inline}</style>")
	}
	return b.String()
}

const laughs = `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "haha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">
<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">]><svg><title>&c;</title></svg>`

// Every hostile file costs a clear error, and memory in proportion to the
// longest file that is read at all.
func TestHostileFiles(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	open := `<svg xmlns="http://www.w3.org/2000/svg">`
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	if _, err := io.Copy(z, repeated(" ", draft.MaxTextBytes+2)); err != nil {
		t.Fatal(err)
	}
	z.Close()
	for _, c := range []struct {
		name string
		file io.Reader
		want string
	}{
		{"empty", strings.NewReader(""), "the file is empty"},
		{"blank", strings.NewReader(" \n "), "the file is empty"},
		{"prose", strings.NewReader("Cut two of these."), "neither SVG nor ASCII DXF"},
		{"binary", strings.NewReader("\x89PNG\r\n\x1a\n\x00\x00"), "it holds binary data"},
		{"zeros", repeated("\x00", 1000), "it holds binary data"},
		{"oversized", repeated("<", draft.MaxTextBytes+1), "larger than 64 MiB"},
		{"oversized when unpacked", &packed, "larger than 64 MiB"},
		{"truncated packing", strings.NewReader("\x1f\x8b\x08\x00"), "compressed file"},
		{"20 million nested groups", io.MultiReader(strings.NewReader(open), repeated("<g>", 20_000_000)), "nested more than 64 deep"},
		{"nested foreign elements", io.MultiReader(strings.NewReader(open), repeated("<x:g>", 1_000_000)), "nested more than 64 deep"},
		{"1 million siblings", io.MultiReader(strings.NewReader(open), repeated("<g/>", 1_000_000)), "more than 100000 elements"},
		{"1 million attributes", io.MultiReader(strings.NewReader("<svg"), repeated(` a=""`, 1_000_000)), "more than 100000 attributes"},
		{"1 million comments in a title", io.MultiReader(strings.NewReader(open+"<title>"), repeated("a<!---->", 1_000_000)), "ends in the middle"},
		{"20 million brackets", repeated("<", 20_000_000), "not well-formed"},
		{"entity bomb", strings.NewReader(laughs), `the entity "b" is made of other entities`},
		{"wide entities", io.MultiReader(strings.NewReader(`<!DOCTYPE svg [<!ENTITY a "`+strings.Repeat("x", 1000)+`">]><svg><title>`), repeated("&a;", 100_000)),
			"its entities would grow to more than 4 MiB"},
		{"outside entity", strings.NewReader(`<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]><svg><title>&a;</title></svg>`), "refers to something outside the file"},
		{"parameter entity", strings.NewReader(`<!DOCTYPE svg [<!ENTITY % a "x">%a;]><svg/>`), "refers to something outside the file"},
		{"exponential references", strings.NewReader(doubling(30, `<rect width="1" height="1"/>`)), "more than 100000 nodes"},
		{"exponential references to nothing", strings.NewReader(doubling(30, "")), "would draw more than"},
		{"long chain of references", strings.NewReader(doubling(60, "")), "nested more than 64 deep"},
		{"one long path referred to often", strings.NewReader(doubling(12, `<path d="M0 0`+strings.Repeat(" ", 200_000)+`"/>`)), "would read more than"},
		{"an element of many children referred to often", strings.NewReader(doubling(12, `<path d="M0 0h1">`+strings.Repeat("<desc/>", 50_000)+`</path>`)), "would read more than"},
		{"a switch of many choices referred to often", strings.NewReader(doubling(12, `<switch>`+strings.Repeat(`<g requiredExtensions="x"/>`, 50_000)+`</switch>`)), "would read more than"},
		{"a text of many parts referred to often", strings.NewReader(doubling(12, `<text>`+strings.Repeat(`<tspan>a</tspan>`, 50_000)+`</text>`)), "would read more than"},
		{"many selectors", strings.NewReader(page(manySelectors(200_000))), "more than 100000 selectors"},
		{"1 million nodes", io.MultiReader(strings.NewReader(open+`<path d="M0 0`), repeated("h1", 1_000_000), strings.NewReader(`"/></svg>`)), "more than 100000 nodes"},
		{"1 million points", io.MultiReader(strings.NewReader(open+`<polygon points="`), repeated("1 2 ", 1_000_000), strings.NewReader(`"/></svg>`)), "more than 100000 nodes"},
		{"NaN", strings.NewReader(page(`<path d="M NaN NaN"/>`)), "expected a number"},
		{"infinity", strings.NewReader(page(`<rect width="1e400" height="1"/>`)), "out of range"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			d, err := Read(context.Background(), "bad.svg", c.file, Options{})
			runtime.ReadMemStats(&after)
			if err == nil || d != nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %s", err, c.want)
			}
			var e *Error
			if !errors.As(err, &e) || e.File != "bad.svg" || strings.Contains(err.Error(), "\n") {
				t.Errorf("not one line with the file: %q", err)
			}
			// Reading doubles its buffer as it grows: all in all some six times the
			// largest file passes through the allocator, and never more at once.
			if used := after.TotalAlloc - before.TotalAlloc; used > 8*draft.MaxTextBytes {
				t.Errorf("%d MiB allocated", used>>20)
			}
		})
	}
}

func TestReadStopsWhenToldTo(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Read(ctx, "x.svg", strings.NewReader(page(square)), Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestReadRefusesUnits(t *testing.T) {
	for _, unit := range []float64{-1, 1e9} {
		if _, err := Read(context.Background(), "x.svg", strings.NewReader(page(square)), Options{UnitMM: unit}); err == nil {
			t.Errorf("a unit of %g mm is taken", unit)
		}
	}
}
