package drawing

import (
	"fmt"
	"testing"

	"loomsheet/harness/unit"
)

// crowd is n clips along runs in a body of 4 m, with the lines of the runs.
func crowd(n int) *Drawing {
	d := &Drawing{}
	for i := range n {
		p := Place{unit.Length((i * 137) % 4000), unit.Length((i*i*31 + i*59) % 1600)}
		d.Spots = append(d.Spots, Spot{Mark, p, Circle, 0})
		d.Labels = append(d.Labels, Label{At: p, Text: fmt.Sprintf("tunnel-%d", i), Free: true, Small: true})
		if i%5 == 0 {
			d.Strokes = append(d.Strokes, Stroke{Run, []Place{p, {p.X + 400, p.Y}, {p.X + 400, p.Y + 300}}, false})
		}
	}
	return d
}

func BenchmarkLay(b *testing.B) {
	for _, n := range []int{100, 400, 3000} {
		d := crowd(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				d.Lay(265, 130, 0)
			}
		})
	}
}
