package bundle

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
	"strconv"
	"sync"

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

// packer knows bundles of the same sizes by one closest packing.
type packer struct {
	want map[string]*closest
}

// closest is the closest packing of circles, found when it is first asked for.
type closest struct {
	circles []unit.Length // thickest first
	enough  unit.Length   // the least that any bundle of them may have
	within  unit.Length   // they find room within it
	bound   bool
	once    sync.Once
	outside unit.Length
}

func newPacker() *packer { return &packer{want: map[string]*closest{}} }

// ask notes circles to be packed, thickest first, of a bundle that is at least so wide as is enough anyway; nil: there are none.
func (p *packer) ask(ds []unit.Length, enough unit.Length) *closest {
	if len(ds) == 0 {
		return nil
	}
	key := make([]byte, 0, 8*len(ds))
	for _, d := range ds {
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(float64(d)))
	}
	c := p.want[string(key)]
	if c == nil {
		c = &closest{circles: ds, enough: enough}
		p.want[string(key)] = c
	}
	c.enough = min(c.enough, enough)
	return c
}

// hair is what a packing may be wider than it need be by how it is rounded, as a share.
const hair = 1e-6

// share tells which are packed, the smallest bundles first, as far as packAll goes, and within what each finds room.
func (p *packer) share() {
	keys := make([]string, 0, len(p.want))
	names := make(map[string]string, len(p.want))
	for k, c := range p.want {
		var name []byte
		for _, d := range c.circles {
			name = append(strconv.AppendFloat(name, float64(d), 'g', -1, 64), ' ')
		}
		keys, names[k] = append(keys, k), string(name)
	}
	slices.SortFunc(keys, func(a, b string) int {
		return cmp.Or(cmp.Compare(len(p.want[a].circles), len(p.want[b].circles)), cmp.Compare(names[a], names[b]))
	})
	spent := 0
	list := make([]*closest, len(keys))
	for i, k := range keys {
		c := p.want[k]
		n := len(c.circles)
		if n > 2 {
			spent += n
		}
		list[i], c.bound = c, n > 2 && (n > packOne || spent > packAll)
	}
	solve.Each(len(list), func(i int) {
		switch c := list[i]; {
		case len(c.circles) <= 2 || c.bound:
			c.within = c.get()
		default:
			c.within = pack.Within(c.circles, c.enough*(1-2*hair))
		}
	})
}

// get is the least that the circles can be together; 0 of none.
func (c *closest) get() unit.Length {
	if c == nil {
		return 0
	}
	c.once.Do(func() {
		if c.bound {
			c.outside = bound(c.circles)
			return
		}
		if c.outside = packed(c.circles); len(c.circles) > 2 && c.outside > c.within*(1+hair) {
			c.outside = c.within
		}
	})
	return c.outside
}

// packed is the least that circles can be together.
func packed(ds []unit.Length) unit.Length {
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
