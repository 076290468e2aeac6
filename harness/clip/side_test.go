package clip

import "testing"

// TestDirectionOfFacing: rising all along, falling all along, or neither; places that face nothing do not count.
func TestDirectionOfFacing(t *testing.T) {
	for _, c := range []struct {
		of   []int32
		want int
	}{
		{[]int32{0, 1, 2}, 1}, {[]int32{-1, 0, -1, 5, -1}, 1}, {[]int32{2, 1, 0}, -1}, {[]int32{7, -1, 3}, -1},
		{[]int32{0, 2, 1}, 0}, {[]int32{1, 0, 2}, 0}, {[]int32{2, 0, 1}, 0}, {[]int32{1, 2, 0}, 0}, {[]int32{3, 3}, 0}, {[]int32{4}, 1}, {[]int32{-1, -1}, 1}, {nil, 1},
	} {
		f := facing{ofA: c.of}
		if got := f.direction(); got != c.want {
			t.Errorf("%v: %d, want %d", c.of, got, c.want)
		}
	}
}
