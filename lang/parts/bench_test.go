package parts

import (
	"testing"

	"loomsheet/lang/syntax"
)

func BenchmarkRead(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range Files() {
			syntax.Parse(f.Name, []byte(f.Text))
		}
	}
}
