package draft

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// relative error of a few float64 operations.
const sumSlack = 1e-12

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		text string
		mm   float64
	}{
		{"6mm", 6},
		{"6 mm", 6},
		{" 6MM ", 6},
		{".5cm", 5},
		{"5.cm", 50},
		{"3,5cm", 35},
		{"0,125in", 3.175},
		{"1.250in", 31.75},
		{"1/4in", 6.35},
		{"0.25in", 6.35},
		{"3 1/2in", 88.9},
		{"3 1/2 inches", 88.9},
		{`3 1/2"`, 88.9},
		{"3½″", 88.9},
		{"3 ½ in", 88.9},
		{"⅝in", 15.875},
		{"13/32 inch", 10.31875},
		{"-3 1/2in", -88.9},
		{"−6mm", -6},
		{"- -6mm", 6},
		{"+6mm", 6},
		{"100/4mm", 25},
		{"100mm/4", 25},
		{"10mm * 1/2", 5},
		{"2 × 10mm", 20},
		{"10mm·3", 30},
		{"10mm ÷ 4", 2.5},
		{"1in + 1cm - 1mm", 34.4},
		{"2*(4cm + 3mm)", 86},
		{"(1 + 1/2)in", 38.1},
		{"-(1cm)", -10},
		{"20mm*110%", 22},
		{"20mm/50%", 40},
		{"(40mm/20mm) * 30mm", 60},
		{"1e1mm", 10},
		{"1.5e-3mm", 0.0015},
		{"100000mm", 100000},
		{"0mm", 0},
		{"-0mm", 0},
		{"10mm - 2*3mm", 4},
		{"10mm - 4mm - 3mm", 3},
		{"24mm/2/3", 4},
		{"24mm / 2/3", 4},
		{"24mm/(2/3)", 36},
		{"6in / 1 1/2", 101.6},
		{strings.Repeat("(", maxSumDepth) + "1mm" + strings.Repeat(")", maxSumDepth), 1},
	} {
		got, err := ParseLength(c.text)
		if err != nil || math.Abs(got-c.mm) > sumSlack*(1+math.Abs(c.mm)) {
			t.Errorf("ParseLength(%q) = %v, %v; want %v", c.text, got, err, c.mm)
		}
		if got == 0 && math.Signbit(got) {
			t.Errorf("ParseLength(%q) = -0", c.text)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"", "nothing is written"},
		{"  ", "nothing is written"},
		{"5", "5 has no unit; write mm, cm or in after it, such as 5mm"},
		{"3 1/2", "3 1/2 has no unit"},
		{"10 + 5mm", "10 has no unit"},
		{"5mm + 10", "at character 7, 10 has no unit"},
		{"5ft", `at character 2, "ft" is not known; a unit is mm, cm or in`},
		{"12mmm", `"mmm" is not known`},
		{"5m", `"m" is not known`},
		{"5mm cm", "'c' has no meaning here"},
		{"5mm 3mm", "is missing before this"},
		{"2(3mm)", "is missing before this"},
		{"(3mm", ": this parenthesis is never closed"},
		{"3mm)", "at character 4, this parenthesis was never opened"},
		{"3mm +", "a figure is missing at the end"},
		{"mm", "a figure is wanted, not 'm'"},
		{"NaN", "a figure is wanted"},
		{"Inf mm", "a figure is wanted"},
		{".mm", "a figure is wanted"},
		{"1..5mm", "one point or comma"},
		{"1,234.5mm", "one point or comma"},
		{"1,000mm", "write 1.000 or 1000"},
		{"1/0in", "nothing can be divided by 0"},
		{"1mm/0", "nothing can be divided by 0"},
		{"1mm/(2-2)", "nothing can be divided by 0"},
		{"2mm*3mm", "a length times a length is no length"},
		{"30mm * 4cm/20mm", "a length times a length is no length"},
		{"6/(2mm)", "a number cannot be divided by a length"},
		{"6mm/2mm", "this makes a share, and a length is wanted"},
		{"50%", "this makes a share, and a length is wanted"},
		{"50%mm", "at character 4, 'm' has no meaning here"},
		{"2mm / 1/4in", "this makes a share"},
		{"(1mm)cm", "has its unit already"},
		{"100001mm", "more than the 100 m"},
		{"1e400mm", "too large"},
		{"1e308*1e308*1mm", "too large"},
		{strings.Repeat("9", 399) + "m", "too large"},
		{strings.Repeat("1", 401), "longer than 400"},
		{strings.Repeat("(", maxSumDepth+1) + "1mm" + strings.Repeat(")", maxSumDepth+1), "parentheses inside each other"},
		{"\xff5mm", "not text"},
		{"5\x00mm", "no meaning"},
		{"٣mm", "a figure is wanted"},
	} {
		got, err := ParseLength(c.text)
		var te *TextError
		if err == nil || !errors.As(err, &te) {
			t.Errorf("ParseLength(%q) = %v, %v; want a *TextError", c.text, got, err)
			continue
		}
		says := err.Error()
		if !strings.Contains(says, c.says) {
			t.Errorf("ParseLength(%q) says %q; want %q in it", c.text, says, c.says)
		}
		if strings.ContainsAny(says, "\n\r") {
			t.Errorf("ParseLength(%q) says more than a line: %q", c.text, says)
		}
	}
}

func TestUnitParseGivesBareNumbersTheUnit(t *testing.T) {
	for _, c := range []struct {
		unit Unit
		text string
		mm   float64
	}{
		{Millimetre, "5", 5},
		{Centimetre, "5", 50},
		{Centimetre, "5mm", 5},
		{Inch, "3 1/2", 88.9},
		{InchFraction, "1/4", 6.35},
		{InchFraction, "-1/4", -6.35},
		{Centimetre, "2*3", 60},
		{Centimetre, "1 + 5mm", 15},
		{Centimetre, "5mm + 1", 15},
		{Inch, "(1 + 1/2) * 2", 76.2},
		{Inch, "1cm - 1/4", 3.65},
		{Millimetre, "20 * 50%", 10},
	} {
		got, err := c.unit.Parse(c.text)
		if err != nil || math.Abs(got-c.mm) > sumSlack*100 {
			t.Errorf("%v.Parse(%q) = %v, %v; want %v", c.unit, c.text, got, err, c.mm)
		}
	}
	if _, err := Millimetre.Parse("6mm/2mm"); err == nil {
		t.Error("a quotient of lengths passed for a length")
	}
}

func TestParseNumber(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"1.5", 1.5}, {"3/2", 1.5}, {"103%", 1.03}, {"1 1/2", 1.5}, {"100% + 3%", 1.03},
		{"231mm / 22cm", 1.05}, {"-2", -2}, {"1,03", 1.03}, {"2 * (1 + 1/2)", 3}, {"1½", 1.5},
	} {
		if got, err := ParseNumber(c.text); err != nil || math.Abs(got-c.want) > sumSlack {
			t.Errorf("ParseNumber(%q) = %v, %v; want %v", c.text, got, err, c.want)
		}
	}
	for _, text := range []string{"", "5mm", "1mm + 2mm", "x", "1/0", "NaN", "1e999", "1.5mm/0mm"} {
		if got, err := ParseNumber(text); err == nil {
			t.Errorf("ParseNumber(%q) = %v, want an error", text, got)
		}
	}
}

func TestParseAngle(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"45", 45}, {"45°", 45}, {"-7.5 deg", -7.5}, {"360/8", 45}, {"90° + 5", 95}, {"1/2 degree", 0.5},
	} {
		if got, err := ParseAngle(c.text); err != nil || math.Abs(got-c.want) > sumSlack*100 {
			t.Errorf("ParseAngle(%q) = %v, %v; want %v", c.text, got, err, c.want)
		}
	}
	for _, text := range []string{"", "45mm", "50%", "36001", "90°/2°", "1rad"} {
		if got, err := ParseAngle(text); err == nil {
			t.Errorf("ParseAngle(%q) = %v, want an error", text, got)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		unit Unit
		mm   float64
		want string
	}{
		{Millimetre, 61.43, "61.4 mm"},
		{Millimetre, 5, "5 mm"},
		{Millimetre, 100, "100 mm"},
		{Millimetre, -0.04, "0 mm"},
		{Millimetre, math.Copysign(0, -1), "0 mm"},
		{Centimetre, 61.43, "6.14 cm"},
		{Centimetre, 60, "6 cm"},
		{Inch, 88.9, "3.5 in"},
		{Inch, 6.35, "0.25 in"},
		{Inch, 1, "0.039 in"},
		{InchFraction, 88.9, "3 1/2 in"},
		{InchFraction, -88.9, "-3 1/2 in"},
		{InchFraction, 10.31875, "13/32 in"},
		{InchFraction, -6.35, "-1/4 in"},
		{InchFraction, 25.4, "1 in"},
		{InchFraction, 25.3, "1 in"},
		{InchFraction, 0.3, "0 in"},
		{InchFraction, -0.3, "0 in"},
		{InchFraction, 254, "10 in"},
		{Millimetre, math.NaN(), "? mm"},
		{InchFraction, math.Inf(1), "? in"},
	} {
		if got := c.unit.Format(c.mm); got != c.want {
			t.Errorf("%v.Format(%v) = %q, want %q", c.unit, c.mm, got, c.want)
		}
	}
}

func TestFormatTrue(t *testing.T) {
	for _, c := range []struct {
		unit Unit
		mm   float64
		want string
	}{
		{InchFraction, 6, "6 mm"}, // and not 1/4 in, which is 6.35 mm
		{InchFraction, 6.35, "1/4 in"},
		{InchFraction, 9.5, "3/8 in"}, // 9.525 mm
		{InchFraction, 9.4, "9.4 mm"},
		{InchFraction, 0.3, "0.3 mm"},
		{InchFraction, 914.4, "36 in"},
		{Inch, 6, "0.236 in"},
		{Centimetre, 6, "0.6 cm"},
		{Centimetre, 61.46, "6.15 cm"},
		{Millimetre, 61.43, "61.4 mm"},
		{Inch, math.NaN(), "? mm"},
	} {
		if got := c.unit.FormatTrue(c.mm); got != c.want {
			t.Errorf("%v.FormatTrue(%v) = %q, want %q", c.unit, c.mm, got, c.want)
		}
	}
}

// What is printed is what is meant, in any unit.
func TestFormatTrueReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(Units()).Draw(t, "unit")
		mm := rapid.Float64Range(-99_999, 99_999).Draw(t, "mm")
		text := unit.FormatTrue(mm)
		if back, err := ParseLength(text); err != nil || math.Abs(back-mm) > 0.05+1e-9 {
			t.Fatalf("%v.FormatTrue(%v) = %q, which reads back as %v, %v", unit, mm, text, back, err)
		}
	})
}

func TestFormatArea(t *testing.T) {
	for _, c := range []struct {
		unit Unit
		mm2  float64
		want string
	}{
		{Millimetre, 99.94, "99.9 mm²"},
		{Millimetre, 2690, "26.9 cm²"},
		{Centimetre, 50, "0.5 cm²"},
		{Inch, 645.16, "1 in²"},
		{InchFraction, 967.74, "1.5 in²"},
		{Millimetre, math.NaN(), "?"},
	} {
		if got := c.unit.FormatArea(c.mm2); got != c.want {
			t.Errorf("%v.FormatArea(%v) = %q, want %q", c.unit, c.mm2, got, c.want)
		}
	}
}

func TestParseReadsWhatFormatWrites(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(Units()).Draw(t, "unit")
		mm := rapid.Float64Range(-99_999, 99_999).Draw(t, "mm")
		slack := unit.Step()/2 + sumSlack*1e5
		strict, err := ParseLength(unit.Format(mm))
		if err != nil || math.Abs(strict-mm) > slack {
			t.Fatalf("ParseLength(%q) = %v, %v; want %v within %v", unit.Format(mm), strict, err, mm, slack)
		}
		typed, err := unit.Parse(unit.FormatBare(mm))
		if err != nil || typed != strict {
			t.Fatalf("%v.Parse(%q) = %v, %v; want %v", unit, unit.FormatBare(mm), typed, err, strict)
		}
		if again := unit.Format(typed); again != unit.Format(mm) {
			t.Fatalf("%q became %q on the way through Parse", unit.Format(mm), again)
		}
	})
}

// A sum of random shape is worked out by the reader and by plain arithmetic while
// it is made up.
func TestParseLengthWorksOutSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, want := drawSum(t, 4)
		got, err := ParseLength(text)
		if math.Abs(want) > MaxCoordinate {
			return
		}
		if err != nil || math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
			t.Fatalf("ParseLength(%q) = %v, %v; want %v", text, got, err, want)
		}
	})
}

func drawSum(t *rapid.T, depth int) (string, float64) {
	shape := 0
	if depth > 0 {
		shape = rapid.IntRange(0, 4).Draw(t, "shape")
	}
	n := rapid.IntRange(1, 20).Draw(t, "n")
	number := strconv.Itoa(n)
	switch shape {
	case 1:
		a, x := drawSum(t, depth-1)
		b, y := drawSum(t, depth-1)
		return a + " + " + b, x + y
	case 2:
		a, x := drawSum(t, depth-1)
		b, y := drawSum(t, depth-1)
		return a + "-(" + b + ")", x - y
	case 3:
		a, x := drawSum(t, depth-1)
		return number + " * (" + a + ")", float64(n) * x
	case 4:
		a, x := drawSum(t, depth-1)
		return "-(" + a + ") / " + number, -x / float64(n)
	default:
		unit := rapid.SampledFrom([]string{"mm", "cm", "in"}).Draw(t, "unit")
		return number + unit, float64(n) * lengthWords.units[unit]
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"6mm", "1/4in", "3 1/2in", "2*(4cm + 3mm)", "50%", "-½″", "1e308mm*1e308", "((1mm", "1,000mm", "1/0in"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		mm, err := ParseLength(text)
		if err != nil && (mm != 0 || strings.Contains(err.Error(), "\n") || len(err.Error()) > 4*maxSumBytes+400) {
			t.Fatalf("ParseLength(%q) = %v, %q", text, mm, err)
		}
		if err == nil && !(math.Abs(mm) <= MaxCoordinate) {
			t.Fatalf("ParseLength(%q) = %v", text, mm)
		}
		if typed, typedErr := Centimetre.Parse(text); err == nil && (typedErr != nil || typed != mm) {
			t.Fatalf("Parse(%q) = %v, %v where ParseLength gave %v", text, typed, typedErr, mm)
		}
		if x, err := ParseNumber(text); err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
			t.Fatalf("ParseNumber(%q) = %v", text, x)
		}
		if x, err := ParseAngle(text); err == nil && !(math.Abs(x) <= maxDegrees) {
			t.Fatalf("ParseAngle(%q) = %v", text, x)
		}
	})
}
