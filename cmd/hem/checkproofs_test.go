package main

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// The check tells a script which openings there are, what goes through each, and what was
// proven; what holds for the sample is held against its own figures.
func TestCheckTellsOpeningsAndProofs(t *testing.T) {
	path, _, code := drafted(t, "bodice", "--wearer", wearerFile(t, "quill", map[string]float64{
		"bust_girth": 231, "waist_girth": 238, "back_waist_length": 84, "head_girth": 281, "neck_base_girth": 118,
	}))
	if code != exitDone {
		t.Fatalf("exit %d", code)
	}
	_, text, _ := hem(t, "check", path, "--json")
	var out factsJSON
	if err := json.Unmarshal([]byte(text), &out); err != nil {
		t.Fatal(err)
	}
	places := map[string]openingJSON{}
	for _, o := range out.Openings {
		places[o.Place] = o
	}
	neck, ok := places["neck"]
	if !ok || !neck.Holds || neck.Passes != "head_girth" || neck.Needs == nil || *neck.Needs != 281 || !(neck.Length > neck.Closed) {
		t.Errorf("neck: %+v", neck)
	}
	if math.Abs(neck.Closed-118) > 3 {
		t.Errorf("the neck closes at %g, and the body's is 118", neck.Closed)
	}
	if arm := places["armhole"]; arm.Count != 2 || !arm.Holds {
		t.Errorf("armhole: %+v", arm)
	}
	kinds := map[string]int{}
	for _, pr := range out.Proofs {
		kinds[pr.Kind]++
		if pr.Says == "" || pr.Key == "" {
			t.Errorf("%+v", pr)
		}
	}
	for _, kind := range []string{"opening", "girth", "length"} {
		if kinds[kind] == 0 {
			t.Errorf("no proof of a %s among %v", kind, kinds)
		}
	}
	if !strings.Contains(text, `"closed_mm"`) {
		t.Error("lengths do not end in _mm")
	}
}
