package layup

import (
	"math"
	"slices"

	"loomsheet/harness/pack"
	"loomsheet/harness/unit"
)

const turn = 2 * math.Pi

// apart is the least angle between the middles of two circles of radii a and b that lie on a circle of radius base.
func apart(base, a, b float64) float64 {
	p, q, d := base+a, base+b, a+b
	c := (float64(p*p) + float64(q*q) - float64(d*d)) / (2 * p * q)
	return math.Acos(max(-1, min(1, c)))
}

// around sets circles of radii r one after the other around a circle of radius base, each as near to those before it as it can: their angles from
// the first, and the angle that they need all round. Not only neighbours are kept apart, as a thin one may lie between two thick ones; those that lie
// further apart than the two thickest would need do not count.
func around(base float64, r []float64) (at []float64, need float64) {
	at = make([]float64, len(r))
	return at, set(base, r, at, make([]uint8, len(r)))
}

// needed is the angle alone.
func needed(base float64, r []float64) float64 {
	var at [fewRound]float64
	var kinds [fewRound]uint8
	if len(r) > fewRound {
		_, need := around(base, r)
		return need
	}
	return set(base, r, at[:len(r)], kinds[:len(r)])
}

// set is around with room for the angles, all 0, and for the kinds.
func set(base float64, r, at []float64, kinds []uint8) (need float64) {
	thick := 0.0
	for _, x := range r {
		thick = max(thick, x)
	}
	most := apart(base, thick, thick)
	angle := angles{base: base, r: r, kinds: kindsOf(r, kinds)}
	for i := range r {
		for j := i - 1; j >= 0 && at[i] < at[j]+most; j-- {
			at[i] = max(at[i], at[j]+angle.of(j, i))
		}
	}
	for i := len(r) - 1; i > 0; i-- {
		if at[i]+most <= need {
			break
		}
		for j := 0; j < i && at[i]-at[j]+most > need; j++ {
			need = max(need, at[i]-at[j]+angle.of(j, i))
		}
	}
	return need
}

// angles knows how far apart circles on one base are at the least: there are few radii among them, and each two of these are worked out once.
type angles struct {
	base  float64
	r     []float64
	kinds []uint8 // of each circle; nil where there are many radii
	known [mostKinds * mostKinds]float64
}

const (
	mostKinds = 12
	fewRound  = 96 // what is asked of so many circles needs no room of its own
)

// kindsOf numbers the radii, with room for that; nil where there are many.
func kindsOf(r []float64, kinds []uint8) []uint8 {
	var radii [mostKinds]float64
	n := 0
	for i, x := range r {
		k := 0
		for k < n && radii[k] != x {
			k++
		}
		if k == n {
			if n == mostKinds {
				return nil
			}
			radii[n] = x
			n++
		}
		kinds[i] = uint8(k)
	}
	return kinds
}

// of is the least angle between two circles.
func (a *angles) of(i, j int) float64 {
	if a.kinds == nil {
		return apart(a.base, a.r[i], a.r[j])
	}
	known := &a.known[int(a.kinds[i])*mostKinds+int(a.kinds[j])]
	if *known == 0 {
		*known = apart(a.base, a.r[i], a.r[j])
	}
	return *known
}

// full is how much more than a whole round may be needed, for what floating point leaves open: of six equal around one they touch all round.
const full = turn * (1 + 1e-9)

// open finds the least base from the given one on, by no more than room, around which circles lie without overlap; false if there is none.
func open(base, room float64, r []float64) (float64, bool) {
	if needed(base, r) <= full {
		return base, true
	}
	low, high := base, base+room
	if !(room > 0) || needed(high, r) > full {
		return 0, false
	}
	for range 40 {
		mid := (low + high) / 2
		if needed(mid, r) <= turn {
			high = mid
		} else {
			low = mid
		}
	}
	return high, true
}

// spread gives the angles of circles around a base with the gap that is left shared out evenly.
func spread(base float64, r []float64) (at []float64, need float64) {
	at, need = around(base, r)
	if need > 0 && need < turn {
		for i := range at {
			at[i] *= turn / need
		}
	}
	return at, need
}

// filled adds circles of radius f to a layer, as many as there is room for, evenly between the others: the radii in order, and which are fillers.
func filled(base float64, r []float64, f float64) (all []float64, filler []bool) {
	all, filler = r, make([]bool, len(r))
	fits := surely(base, r, f)
	for n := max(1, fits); ; n++ {
		more, is := make([]float64, 0, len(r)+n), make([]bool, 0, len(r)+n)
		for i := range r {
			more, is = append(more, r[i]), append(is, false)
			for range (i+1)*n/len(r) - i*n/len(r) {
				more, is = append(more, f), append(is, true)
			}
		}
		if n > fits && needed(base, more) > full {
			return all, filler
		}
		all, filler = more, is
	}
}

// surely is a number of circles of radius f for which there is room beside others, in whatever order. Two circles of radii a and b on a base R lie
// 2 asin(sqrt(sin p sin q)) apart, where sin p = a/(R+a) and sin q = b/(R+b). As the logarithm of the sine is concave, that is no more than p + q: so all
// together need no more than the sum of 2p, which is what each needs beside one like itself.
func surely(base float64, r []float64, f float64) int {
	left := turn * (1 - 1e-6)
	last, own := 0.0, 0.0
	for _, x := range r {
		if x != last {
			last, own = x, apart(base, x, x)
		}
		left -= own
	}
	if n := left / apart(base, f, f); n >= 1 {
		return int(min(n, 1e6))
	}
	return 0
}

// fitting is the thickest single filler, no thicker than most, that still finds room in a layer; 0 if none of a third of that does. It is a whole
// tenth of a millimetre across.
func fitting(base float64, r []float64, most float64) float64 {
	for tenths := math.Floor(float64(most*20) + 1e-9); tenths > 0 && tenths/20 >= most/3; tenths-- {
		if needed(base, append(append([]float64(nil), r...), tenths/20)) <= full {
			return tenths / 20
		}
	}
	return 0
}

// cores packs the pieces of a core, or of a bundle that is not in layers, and remembers what was packed.
type cores map[string]core

type core struct {
	at      []pack.Circle
	outside float64 // radius
	pitch   float64 // radius of the circle on which the outermost middle lies
}

// of packs circles of the given radii: few, or thick ones with thin ones in their valleys, or whatever else there is.
func (c cores) of(r []float64) core {
	key := make([]byte, 0, 8*len(r))
	for i, x := range r {
		for b := math.Float64bits(x); len(key) < 8*(i+1); b >>= 8 {
			key = append(key, byte(b))
		}
	}
	if got, ok := c[string(key)]; ok {
		return got
	}
	got := c.find(r)
	for _, o := range got.at {
		got.pitch = max(got.pitch, math.Hypot(float64(o.X), float64(o.Y)))
	}
	if len(r) == 1 {
		got.pitch = 0
	}
	c[string(key)] = got
	return got
}

func (c cores) find(r []float64) core {
	for n := 2; n <= mostCore && n < len(r) && len(r) <= mostValley; n++ {
		thick := c.of(r[:n])
		if fits, all := inValleys(thick.at, thick.outside, r[n:]); !slices.Contains(fits, false) {
			return core{at: all, outside: thick.outside}
		}
	}
	ds := make([]unit.Length, len(r))
	for i, x := range r {
		ds[i] = unit.Length(2 * x)
	}
	at, outside := pack.Circles(ds)
	return core{at: at, outside: float64(outside) / 2}
}
