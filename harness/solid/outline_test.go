package solid

import "testing"

func TestCross(t *testing.T) {
	for _, x := range []struct {
		d    Flat
		want bool
	}{{Flat{1, -1}, true}, {Flat{1, 0.5}, false}, {Flat{1, 0}, false}, {Flat{5, -1}, false}} {
		if got := Cross(Flat{0, 0}, Flat{2, 0}, Flat{1, 1}, x.d); got != x.want {
			t.Errorf("from 0,0 to 2,0 and from 1,1 to %v: %v", x.d, got)
		}
	}
}
