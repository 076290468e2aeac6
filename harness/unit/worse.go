package unit

import (
	"math"
	"strconv"
)

// Alike is the relative distance within which two figures are taken for two roundings of one. Sums of the same quantities
// in another order, or with multiply and add fused on another processor, differ by some 1e-16 a step; what differs by less than
// a part in 1e9 is no difference of the harness.
const Alike = 1e-9

// Worse says that a is greater than b by more than rounding: more than Alike of the larger of the two. It is how the worst of
// several is chosen, those tried in a fixed order: one replaces the one held only if it is Worse, so of those alike the first
// stays. Where less is worse, the two are exchanged. Infinities compare as they are; with what is no number nothing is Worse.
//
// Two figures that cancel out to nearly nothing are compared by WorseBy. Worse is no order to sort by, for alike to alike need not
// be alike: see Compare.
func Worse[T ~float64](a, b T) bool { return WorseBy(a, b, 0) }

// WorseBy is Worse for figures which may be nothing but rounding themselves, as a difference of nearly equal terms is: a must
// be the greater by more than the floor as well, which is in the unit of the two.
func WorseBy[T ~float64](a, b, floor T) bool {
	if math.IsInf(float64(a), 0) || math.IsInf(float64(b), 0) {
		return a > b
	}
	return a-b > floor && float64(a-b) > Alike*math.Max(math.Abs(float64(a)), math.Abs(float64(b)))
}

// Rounded is x to nine significant digits, as the figures are written for other programs; what is no number, and an infinity,
// stay as they are, and there is no negative zero.
func Rounded[T ~float64](x T) T {
	if x == 0 {
		return 0
	}
	v, err := strconv.ParseFloat(strconv.FormatFloat(float64(x), 'g', 9, 64), 64)
	if err != nil {
		return x
	}
	return T(v)
}

// Compare orders two figures by what is left of them Rounded: -1, 0 or 1, as cmp.Compare does, and what is no number before
// all others. Sorting by it and then by name gives the same list whatever the last digits.
func Compare[T ~float64](a, b T) int {
	if a == b {
		return 0
	}
	if d := math.Abs(float64(a - b)); !(d > 20*Alike*math.Max(math.Abs(float64(a)), math.Abs(float64(b)))) || math.IsInf(d, 0) { // the ninth digit may decide: a rounding moves a figure by 5e-9 of it at most
		a, b = Rounded(a), Rounded(b)
	}
	switch nanA, nanB := a != a, b != b; {
	case nanA && nanB:
		return 0
	case nanA:
		return -1
	case nanB:
		return 1
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
