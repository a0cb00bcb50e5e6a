package block

import (
	"testing"

	"hemlet/draft/body"
)

// The puppet of the demo: invented figures.
var quill = body.Given{
	"stature": 360, "bust_girth": 231, "waist_girth": 238, "belly_girth": 262, "hip_girth": 240,
	"back_waist_length": 84, "front_waist_length": 96, "neck_base_girth": 118, "shoulder_length": 22, "back_width": 78,
}

// A woman's body, invented: the published drafts refuse a puppet's.
var woman = body.Given{
	"stature": 1680, "bust_girth": 920, "waist_girth": 740, "belly_girth": 860, "hip_girth": 980,
	"back_waist_length": 410, "front_waist_length": 340, "neck_base_girth": 370, "shoulder_length": 125, "back_width": 350,
}

// One draft of each built-in block; a redraw may take 5 ms.
func BenchmarkDraft(b *testing.B) {
	for _, block := range Builtin() {
		b.Run(block.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := block.Draft(woman, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkParse(b *testing.B) {
	for _, block := range Builtin() {
		text := []byte(block.Text())
		b.Run(block.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Parse(block.File(), text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
