package bundle

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"loomsheet/harness/pack"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// trade is the outside of a hand-laid bundle: 1.2 sqrt(sum d2), a cable maker's rule for unequal wires, but at least the two largest
// side by side; a single wire has its own.
func trade(ds []unit.Length) unit.Length {
	if len(ds) == 0 {
		return 0
	}
	one, two, sum := unit.Length(0), unit.Length(0), 0.0
	for _, d := range ds {
		sum += float64(d * d)
		if d > one {
			one, two = d, one
		} else {
			two = max(two, d)
		}
	}
	if len(ds) == 1 {
		return one
	}
	return max(unit.Length(1.2*math.Sqrt(sum)), one+two)
}

// How much is packed, counted in circles, which takes some milliseconds each: of one bundle, and of all that differ in a job. What is beyond
// it gets a lower bound, the largest bundles first.
const (
	packOne = 200
	packAll = 3000
)

// packer packs bundles of the same sizes once.
type packer struct {
	want  map[string][]unit.Length
	found map[string]packed
}

type packed struct {
	outside unit.Length
	bound   bool
}

func newPacker() *packer {
	return &packer{want: map[string][]unit.Length{}, found: map[string]packed{}}
}

// ask notes circles to be packed, thickest first, and returns the name under which they will be found.
func (p *packer) ask(ds []unit.Length) string {
	var key []byte
	for _, d := range ds {
		key = append(strconv.AppendFloat(key, float64(d), 'g', -1, 64), ' ')
	}
	if _, ok := p.want[string(key)]; !ok {
		p.want[string(key)] = ds
	}
	return string(key)
}

// run packs all that was asked for, the smallest bundles first, as far as packAll goes.
func (p *packer) run() {
	keys := make([]string, 0, len(p.want))
	for k := range p.want {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b string) int {
		return cmp.Or(cmp.Compare(len(p.want[a]), len(p.want[b])), cmp.Compare(a, b))
	})
	spent := 0
	done := make([]packed, len(keys))
	var todo []int
	for i, k := range keys {
		ds := p.want[k]
		if n := len(ds); n > 2 {
			spent += n
		}
		if len(ds) > 2 && (len(ds) > packOne || spent > packAll) {
			done[i] = packed{bound(ds), true}
			continue
		}
		todo = append(todo, i)
	}
	solve.Each(len(todo), func(n int) {
		done[todo[n]] = packed{outside: closest(p.want[keys[todo[n]]])}
	})
	for i, k := range keys {
		p.found[k] = done[i]
	}
}

// closest is the least that circles can be together.
func closest(ds []unit.Length) unit.Length {
	switch len(ds) {
	case 0:
		return 0
	case 1:
		return ds[0]
	case 2:
		return ds[0] + ds[1]
	}
	_, d := pack.Circles(ds)
	return d
}

// bound is what circles, thickest first, cannot be tighter than: their area by the greatest density of circles whose sizes differ by no more
// than these (A. Florian, Rend. Circ. Mat. Palermo 9 (1960), from memory; for equal circles pi/sqrt 12), and the two largest side by side. It
// is a theorem of the open plane; the rim of a bundle only costs room.
func bound(ds []unit.Length) unit.Length {
	sum := 0.0
	for _, d := range ds {
		sum += float64(d * d)
	}
	q := float64(ds[len(ds)-1] / ds[0])
	density := 1.0
	if q > 1e-6 {
		density = min(1, (math.Pi*q*q+2*(1-q*q)*math.Asin(q/(1+q)))/(2*q*math.Sqrt(2*q+1)))
	}
	return max(unit.Length(math.Sqrt(sum/density)), ds[0]+ds[1])
}
