package margin_test

import (
	"testing"

	"loomsheet/harness/margin"
)

// The whole stage on a car, beside the sizing it follows.
func BenchmarkLoop(b *testing.B) {
	job := example(b, "car/rook.loom")
	for b.Loop() {
		sized(job)
	}
}

func BenchmarkMargin(b *testing.B) {
	job := example(b, "car/rook.loom")
	o := sized(job)
	for b.Loop() {
		margin.Tightest(job, o, 10)
		margin.Answers(job, o, nil)
	}
}
