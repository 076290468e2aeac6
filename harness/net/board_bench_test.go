package net

import (
	"fmt"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
)

// BenchmarkSeating is a full connector of 61 with screened pairs, a cable of eight cores and unfused feeds.
func BenchmarkSeating(b *testing.B) {
	var face []design.HousingCavity
	for i := range 61 {
		face = append(face, hole("mid", float64(5*(i%9)), float64(-5*(i/9))))
	}
	add := []piece{supplied, faced(face...), bought("two", true, "white", "blue"), bought("eight", false, "a", "b", "c", "d", "e", "f", "g", "h")}
	for i := range 50 {
		from := fmt.Sprint("box.f", i+1)
		if i%9 == 8 {
			from = "box.live"
		}
		add = append(add, circ(fmt.Sprint("c", i+1), link(from, fmt.Sprint("load.", i+1), class(map[bool]string{true: "signal"}[i%9 < 4]))))
	}
	for i := range 5 {
		add = append(add, cable(fmt.Sprint("p", i), "two", "box.minus", fmt.Sprint("c", 9*i+1), fmt.Sprint("c", 9*i+2)))
	}
	add = append(add, cable("wide", "eight", "", "c3", "c4", "c5", "c6", "c7", "c12", "c13", "c14"))
	j := many(50, add...)
	geo := space.Lay(j)
	for b.Loop() {
		Build(j, geo, nil)
	}
}
