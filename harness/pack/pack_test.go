package pack

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"loomsheet/harness/unit"
	"pgregory.net/rapid"
)

// overlap is how far any circle reaches into another or out of the container, mm.
func overlap(at []Circle, outside unit.Length) (most float64) {
	most = math.Inf(-1)
	for i, a := range at {
		most = max(most, math.Hypot(float64(a.X), float64(a.Y))+float64(a.Diameter)/2-float64(outside)/2)
		for _, b := range at[:i] {
			most = max(most, float64(a.Diameter+b.Diameter)/2-math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)))
		}
	}
	return most
}

type record struct {
	n     int
	ratio float64
}

func records(t *testing.T) (out []record) {
	t.Helper()
	for _, name := range []string{"circle_packing.csv", "circle_packing_large.csv"} {
		f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		for s := bufio.NewScanner(f); s.Scan(); {
			cells := strings.Split(s.Text(), ",")
			n, err := strconv.Atoi(cells[0])
			if err != nil {
				continue
			}
			ratio, err := strconv.ParseFloat(cells[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, record{n, ratio})
		}
	}
	if len(out) < 25 {
		t.Fatalf("only %d records read", len(out))
	}
	return out
}

// Equal circles against the best packings published (R.L. Graham, B.D. Lubachevsky, K.J. Nurmela, P.R.J. Ostergard, Discrete
// Mathematics 181 (1998) 139-154): within 1 % above, and never below.
func TestRecords(t *testing.T) {
	for _, rec := range records(t) {
		d := make([]unit.Length, rec.n)
		for i := range d {
			d[i] = 1.7
		}
		begin := time.Now()
		at, outside := Circles(d)
		took := time.Since(begin)
		over := (float64(outside)/1.7/rec.ratio - 1) * 100
		t.Logf("%3d equal: %.6f times the wire, record %.6f, %+.4f %%, %v", rec.n, float64(outside)/1.7, rec.ratio, over, took.Round(time.Microsecond))
		if over > 1 || over < -1e-7 {
			t.Errorf("%d equal circles: %+.3f %% off the record", rec.n, over)
		}
		if o := overlap(at, outside); o > 1e-6 {
			t.Errorf("%d equal circles overlap by %g mm", rec.n, o)
		}
	}
}

// What is known of any packing: nothing overlaps, all is inside, it is no smaller than its area or its two largest circles, and not
// larger than the trade figure 1.2 sqrt(sum d2) by more than few circles need. The order given does not matter.
func TestAnySizes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SliceOfN(rapid.Map(rapid.Float64Range(0.5, 12), func(x float64) unit.Length { return unit.Length(x) }), 1, 40).Draw(t, "d")
		at, outside := Circles(d)
		if o := overlap(at, outside); o > 1e-6 {
			t.Fatalf("overlap by %g mm", o)
		}
		sum := 0.0
		for i, x := range d {
			sum += float64(x * x)
			if at[i].Diameter != x {
				t.Fatalf("circle %d has %v, asked %v", i, at[i].Diameter, x)
			}
		}
		sorted := slices.Sorted(slices.Values(d))
		floor := math.Sqrt(sum)
		two := float64(sorted[len(d)-1])
		if len(d) > 1 {
			two += float64(sorted[len(d)-2])
		}
		if float64(outside) < max(floor, two)*(1-1e-9) {
			t.Fatalf("%v is less than what %v take", outside, d)
		}
		if trade := 1.2 * math.Sqrt(sum); float64(outside) > max(two*1.01, trade*1.05) {
			t.Fatalf("%v mm, the trade figure is %v", float64(outside), trade)
		}
		slices.Reverse(d)
		if _, again := Circles(d); again != outside {
			t.Fatalf("%v in the other order %v", outside, again)
		}
	})
}

// Nothing to pack, no sizes at all, sizes a million apart, many: an answer that holds the same promises.
func TestOddSizes(t *testing.T) {
	nan := unit.Length(math.NaN())
	many := make([]unit.Length, 2000)
	for i := range many {
		many[i] = unit.Length(1 + float64(i%7))
	}
	for name, d := range map[string][]unit.Length{
		"none": nil, "nothing": {0}, "no sizes": {0, -3, nan, unit.Length(math.Inf(1))}, "one": {2.5}, "one and none": {0, 2, nan, -1},
		"far apart": {1e-6, 1e6, 1e-6, 2, 1e6}, "two": {7, 1}, "specks": append(slices.Repeat([]unit.Length{1e-4}, 9000), 1, 2, 3),
		"tiny": {1e-300, 1e-300, 2e-300}, "great": {1e150, 1e150, 3e150}, "many": many,
	} {
		at, outside := Circles(d)
		if len(at) != len(d) || !unit.Finite(outside) || outside < 0 {
			t.Fatalf("%s: %d circles in %v", name, len(at), outside)
		}
		for i := range at {
			if !unit.Finite(at[i].X) || !unit.Finite(at[i].Y) {
				t.Fatalf("%s: circle %d is nowhere", name, i)
			}
		}
		if o := overlap(at, outside); o > 1e-6 && o > 1e-9*float64(outside) {
			t.Errorf("%s: overlap by %g mm in %v", name, o, outside)
		}
	}
	if at, outside := Circles([]unit.Length{0, 4}); at[0].Y != -2 || outside != 4 {
		t.Errorf("%v in %v", at, outside)
	}
}

// Many wires of mixed sizes are packed to at least the density that the trade figure stands for.
func TestLargeBundles(t *testing.T) {
	for _, n := range []int{60, 150, 250, 600} {
		d := make([]unit.Length, n)
		sum := 0.0
		for i := range d {
			d[i] = []unit.Length{1.3, 1.7, 2.1, 3.4, 1.3, 5.2}[i%6]
			sum += float64(d[i] * d[i])
		}
		begin := time.Now()
		at, outside := Circles(d)
		t.Logf("%d mixed: %.3f sqrt(sum d2), %v", n, float64(outside)/math.Sqrt(sum), time.Since(begin).Round(time.Millisecond))
		if float64(outside) > 1.15*math.Sqrt(sum) {
			t.Errorf("%d mixed: %v mm", n, outside)
		}
		if o := overlap(at, outside); o > 1e-6 {
			t.Errorf("%d mixed overlap by %g mm", n, o)
		}
		second, again := Circles(d)
		if again != outside || !slices.Equal(at, second) {
			t.Errorf("%d mixed: two results", n)
		}
	}
}

func BenchmarkTypical(b *testing.B) {
	d := make([]unit.Length, 30)
	for i := range d {
		d[i] = []unit.Length{1.3, 1.7, 2.1, 3.4, 1.3, 5.2}[i%6]
	}
	for b.Loop() {
		Circles(d)
	}
}

// Circles that come to hand find room within what is told, and no closest packing is wider.
func TestWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SliceOfN(rapid.Map(rapid.SampledFrom([]float64{1.3, 1.6, 1.9, 2.4, 4.4, 9.5}), func(x float64) unit.Length { return unit.Length(x) }), 1, 24).Draw(t, "d")
		enough := unit.Length(rapid.Float64Range(0, 60).Draw(t, "enough"))
		within := Within(d, enough)
		if _, outside := Circles(d); outside > within*(1+1e-6) {
			t.Fatalf("%v wide, they find room within %v", outside, within)
		}
	})
	if w := Within(nil, 0); !math.IsInf(float64(w), 1) {
		t.Errorf("nothing finds room within %v", w)
	}
	if w := Within([]unit.Length{1, 2, 1e-9}, 0); !math.IsInf(float64(w), 1) {
		t.Errorf("specks find room within %v", w)
	}
}
