package unit

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestWorse: more by a part in a million is worse, by rounding it is not, and neither is less or what is no number.
func TestWorse(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		a, b, floor float64
		want        bool
	}{
		{1.000001, 1, 0, true}, {1 + 1e-8, 1, 0, true}, {1 + 1e-10, 1, 0, false}, {1, 1.000001, 0, false}, {1, 1, 0, false}, {0.1 + 0.2, 0.3, 0, false}, {-1, -1.000001, 0, true}, {-1, -1 - 1e-12, 0, false},
		{1e-20, 0, 0, true}, {1e-20, 0, 1e-12, false}, {1e-6, 0, 1e-12, true}, {0, -1, 1e-12, true}, {0, 0, 0, false}, {1, -1, 0, true}, {-1, 1, 0, false},
		{inf, 1, 0, true}, {inf, inf, 0, false}, {1, inf, 0, false}, {1, -inf, 0, true}, {-inf, -inf, 0, false}, {nan, 1, 0, false}, {1, nan, 0, false}, {nan, nan, 0, false},
		{math.MaxFloat64, -math.MaxFloat64, 0, true},
	} {
		if got := WorseBy(c.a, c.b, c.floor); got != c.want {
			t.Errorf("%g against %g, floor %g: %v", c.a, c.b, c.floor, got)
		}
		if c.floor == 0 && Worse(Voltage(c.a), Voltage(c.b)) != c.want {
			t.Errorf("%g V against %g V: %v", c.a, c.b, !c.want)
		}
	}
}

// TestRounded: nine digits stay, whatever the size, and nothing else changes.
func TestRounded(t *testing.T) {
	for x, want := range map[float64]float64{0: 0, 1.0 / 3: 0.333333333, -2e9 / 3: -666666667, 1.23456789012e-30: 1.23456789e-30, 12: 12, 0.1 + 0.2: 0.3, math.Inf(-1): math.Inf(-1), 9.9999999999e20: 1e21} {
		if got := Rounded(Current(x)); float64(got) != want {
			t.Errorf("%g: %g, want %g", x, got, want)
		}
	}
	if x := Rounded(math.Copysign(0, -1)); math.Signbit(x) {
		t.Error("a negative zero")
	}
	if !math.IsNaN(Rounded(math.NaN())) {
		t.Error("what is no number did not stay")
	}
}

// TestCompareOrders: whatever the figures, Compare is an order (a list sorted by it has no later entry below an earlier), roundings
// of one figure of nine digits compare as one, and what is Worse by a hundred times the tolerance never comes first.
func TestCompareOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SliceOfN(rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), 1, 1 + 1e-9, 1 + 3e-10, 1 + 6e-10, 1 - 3e-10})), 2, 12).Draw(t, "x")
		slices.SortFunc(x, Compare[float64])
		for i := range x {
			for j := range i {
				if Compare(x[j], x[i]) > 0 || Compare(x[i], x[j]) < 0 {
					t.Fatalf("%v", x)
				}
			}
		}
		a := Rounded(rapid.Float64Range(-1e9, 1e9).Draw(t, "a"))
		if b := a * (1 + 4e-16); Compare(a, b) != 0 || Worse(a, b) || Worse(b, a) {
			t.Fatalf("%v and %v are told apart", a, b)
		}
		if b := a + math.Abs(a)*1e-7; a != 0 && (Compare(b, a) != 1 || !Worse(b, a)) {
			t.Fatalf("%v and %v are not", a, b)
		}
	})
}

// TestHalfWay: two roundings of one figure are printed alike, also half way between two numbers; a figure that is further off, or has more digits
// than are Rounded, is printed as it is.
func TestHalfWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		decimals := rapid.IntRange(0, 4).Draw(t, "decimals")
		x := (float64(rapid.IntRange(-9999, 9999).Draw(t, "x")) + 0.5) / math.Pow10(decimals)
		for _, y := range []float64{x * (1 + 4e-16), x * (1 - 4e-16), x * (1 + 1e-12), x * (1 - 1e-12)} {
			if Number(x, decimals) != Number(y, decimals) || Fixed(x, decimals) != Fixed(y, decimals) {
				t.Fatalf("%v is %s, %v is %s", x, Fixed(x, decimals), y, Fixed(y, decimals))
			}
		}
	})
	for x, want := range map[float64]string{4.9474999: "4.947", 4.9475001: "4.948", -0.0005001: "-0.001", 123456789.1234: "123456789.123", 1234567890123: "1234567890123", math.Inf(1): "+Inf"} {
		if got := Number(x, 3); got != want {
			t.Errorf("%v: %s, want %s", x, got, want)
		}
	}
}
