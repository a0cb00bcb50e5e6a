package main

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

func TestRuffle(t *testing.T) {
	// A ring of 60 in at 2 on 44 in of cloth with half an inch a join, worked by hand:
	// 120 in, three strips of 41 in.
	args := []string{"ruffle", "--edge", "60in", "--ratio", "2", "--cloth-width", "44in", "--closed", "--join", "1/2in"}
	var facts struct {
		Flat   float64 `json:"flat_length_mm"`
		Strips int     `json:"strips"`
		Strip  float64 `json:"strip_length_mm"`
	}
	if err := json.Unmarshal([]byte(must(t, append(args, "--json")...)), &facts); err != nil {
		t.Fatal(err)
	}
	if math.Abs(facts.Flat-3048) > 1e-9 || facts.Strips != 3 || math.Abs(facts.Strip-41*25.4) > 1e-9 {
		t.Errorf("%+v", facts)
	}
	if text := must(t, args...); !strings.Contains(text, "3 strips") {
		t.Errorf("the text says %q", text)
	}
}

func TestRuffleRefused(t *testing.T) {
	for _, args := range [][]string{
		{"ruffle", "--edge", "60", "--ratio", "2", "--cloth-width", "44in"},
		{"ruffle", "--edge", "60in", "--ratio", "0.5", "--cloth-width", "44in"},
		{"ruffle", "--edge", "60in", "--ratio", "2", "--cloth-width", "0in"},
		{"ruffle", "--edge", "60in", "--ratio", "2", "--cloth-width", "1in", "--join", "1/2in"},
		{"ruffle", "--edge", "60in", "--cloth-width", "1in"},
	} {
		code, out, errs := hem(t, args...)
		if code != exitFailed || out != "" || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: code %d, %q, %q", args, code, out, errs)
		}
	}
}
