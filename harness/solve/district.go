package solve

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
)

// Districts parts a job into what can have no influence on one another, in whatever position its switches and relays stand: islands that hold a
// supply hang together where a coil of the one may move a contact of the other, or where what a device draws from the one keeps its own supply in
// the other alive. An island without a supply is one by itself.
type Districts struct {
	job    *design.Job
	nt     *net.Net
	sizes  size.Sizes
	ofWire []int32
	parts  []district
	feeds  map[[2]int]int32 // the district of each supply, by device and index
	named  map[string][]int // devices by name
	in     [][]int32        // by device: the districts that it lies in
	always []int            // devices whose supplies live on nothing, and the one with the highest
}

// district is what lies in one, by index, ascending.
type district struct{ wires, crossings, devices []int }

// NewDistricts looks at a job in all positions at once.
func NewDistricts(job *design.Job, nt *net.Net, sizes size.Sizes) *Districts {
	nw := All(job, nt, sizes)
	br := make([]branch, len(nw.Elements))
	for i := range br {
		br[i].from, br[i].to = int32(nw.Elements[i].From), int32(nw.Elements[i].To)
	}
	l := newLayout(len(nw.Nodes), br)
	up, fed := make([]int32, len(l.islands)), make([]bool, len(l.islands))
	for i := range up {
		up[i] = int32(i)
	}
	at := map[string]int{}
	for i, d := range job.Devices {
		if _, twice := at[d.Name]; !d.Pattern && !twice {
			at[d.Name] = i
		}
	}
	d := &Districts{job: job, nt: nt, sizes: sizes, ofWire: make([]int32, len(nt.Wires)), parts: make([]district, len(l.islands)), feeds: map[[2]int]int32{}}
	for i := range d.ofWire {
		d.ofWire[i] = -1
	}
	for i := range nw.Elements {
		if nw.Elements[i].Kind == Supply {
			fed[l.ofE[i]] = true
		}
	}
	first := map[int]int32{} // by device: an island with a supply that it reaches into
	for i := range nw.Elements {
		k, ok := at[nw.Elements[i].Device]
		if !ok || !fed[l.ofE[i]] || len(job.Devices[k].Coils) == 0 && len(job.Devices[k].Supplies) == 0 {
			continue
		}
		if o, met := first[k]; met {
			join(up, o, l.ofE[i])
		} else {
			first[k] = l.ofE[i]
		}
	}
	for i := range nw.Elements {
		e := &nw.Elements[i]
		g := root(up, l.ofE[i])
		p := &d.parts[g]
		if e.Kind == Wire {
			d.ofWire[e.Wire] = g
			p.wires = append(p.wires, e.Wire)
		}
		if k, ok := at[e.Device]; ok {
			if len(p.devices) == 0 || p.devices[len(p.devices)-1] != k {
				p.devices = append(p.devices, k)
			}
			if e.Kind == Supply {
				d.feeds[[2]int{k, e.Index}] = g
			}
		}
	}
	for i := range nt.Crossings {
		if w := nt.Crossings[i].Wires; w[0] >= 0 && w[1] >= 0 && w[0] < len(nt.Wires) && w[1] < len(nt.Wires) && d.ofWire[w[0]] >= 0 && d.ofWire[w[1]] >= 0 {
			p := &d.parts[d.ofWire[w[0]]]
			p.crossings = append(p.crossings, i)
		}
	}
	d.lists()
	d.ready()
	return d
}

// For is the districts of a job and net that differ in figures alone from those that were parted: in what devices draw and give, and in sizes. Of a nil
// receiver, or another net, it is NewDistricts.
func (d *Districts) For(job *design.Job, nt *net.Net, sizes size.Sizes) *Districts {
	if d == nil || d.nt != nt || len(d.job.Devices) != len(job.Devices) {
		return NewDistricts(job, nt, sizes)
	}
	x := *d
	x.job, x.sizes, x.always = job, sizes, nil
	x.ready()
	return &x
}

// ready finds the devices that are cut out with every district.
func (d *Districts) ready() {
	highest := -1
	onDraw, seen := d.job.WhatLivesOnDraw(), map[string]bool{}
	for i, x := range d.job.Devices {
		if x.Pattern || seen[x.Name] {
			continue
		}
		if seen[x.Name] = true; len(x.Supplies) == 0 {
			continue
		}
		if !onDraw(x) {
			d.always = append(d.always, i)
		}
		if highest < 0 || topOf(x) > topOf(d.job.Devices[highest]) {
			highest = i
		}
	}
	if highest >= 0 {
		d.always = append(d.always, highest)
	}
}

// lists finds the devices by name and their districts.
func (d *Districts) lists() {
	d.named, d.in = map[string][]int{}, make([][]int32, len(d.job.Devices))
	for i, x := range d.job.Devices {
		d.named[x.Name] = append(d.named[x.Name], i)
	}
	for g := range d.parts {
		for _, k := range d.parts[g].devices {
			if n := len(d.in[k]); n == 0 || d.in[k][n-1] != int32(g) {
				d.in[k] = append(d.in[k], int32(g))
			}
		}
	}
}

func topOf(d *design.Device) (most float64) {
	for i := range d.Supplies {
		most = max(most, float64(nominal(d.Supplies[i].Volts)))
	}
	return most
}

// Around is the job, the net and the sizes of the districts in which some wires and devices lie, and which wire of the whole each of the net's is. Solved alone
// they stand as in the whole. All supplies that live on nothing are in the job, most of them with no wire: theirs are the volts
// that loads are measured at which state none.
func (d *Districts) Around(wires []int, devices []string) (*design.Job, *net.Net, size.Sizes, []int) {
	var parts []int32
	for _, w := range wires {
		if d.ofWire[w] >= 0 {
			parts = append(parts, d.ofWire[w])
		}
	}
	in := slices.Clone(d.always)
	if len(devices) > 0 {
		for _, name := range devices {
			for _, i := range d.named[name] {
				in = append(in, i)
				parts = append(parts, d.in[i]...)
			}
		}
	}
	slices.Sort(parts)
	return d.cut(slices.Compact(parts), in)
}

// Of is the district in which a wire lies; -1: it carries nothing in any position.
func (d *Districts) Of(wire int) int { return int(d.ofWire[wire]) }

// OfSupply is the district of a device's supply, by the device's index in the job; -1: no wire and no metal meets it.
func (d *Districts) OfSupply(device, index int) int {
	if g, ok := d.feeds[[2]int{device, index}]; ok {
		return int(g)
	}
	if d.feeds == nil {
		return 0
	}
	return -1
}

// Part is one district, as Around gives it.
func (d *Districts) Part(g int) (*design.Job, *net.Net, size.Sizes, []int) {
	return d.cut([]int32{int32(g)}, slices.Clone(d.always))
}

func (d *Districts) cut(parts []int32, in []int) (*design.Job, *net.Net, size.Sizes, []int) {
	var all, crossings []int
	for _, g := range parts {
		p := &d.parts[g]
		all, crossings, in = append(all, p.wires...), append(crossings, p.crossings...), append(in, p.devices...)
	}
	slices.Sort(all)
	slices.Sort(crossings)
	slices.Sort(in)
	job, nt := *d.job, *d.nt
	job.Devices, nt.Wires, nt.Crossings, nt.Uses, nt.Joints, nt.Problems = nil, nil, nil, nil, nil, nil
	for _, i := range slices.Compact(in) {
		job.Devices = append(job.Devices, d.job.Devices[i])
	}
	nt.Wires = slices.Grow(nt.Wires, len(all))
	sizes := slices.Grow(size.Sizes(nil), len(all))
	for _, i := range all {
		nt.Wires = append(nt.Wires, d.nt.Wires[i])
		if i < len(d.sizes) {
			sizes = append(sizes, d.sizes[i])
		}
	}
	for _, i := range crossings {
		c := d.nt.Crossings[i]
		for k, w := range c.Wires {
			c.Wires[k] = 0 // of one elsewhere, with which nothing is mated
			if at, ok := slices.BinarySearch(all, w); ok {
				c.Wires[k] = at
			}
		}
		nt.Crossings = append(nt.Crossings, c)
	}
	return &job, &nt, sizes, all
}

// OneDistrict takes the job for one: what else NewDistricts finds is held against it.
func OneDistrict(job *design.Job, nt *net.Net, sizes size.Sizes) *Districts {
	d := &Districts{job: job, nt: nt, sizes: sizes, ofWire: make([]int32, len(nt.Wires)), parts: make([]district, 1)}
	p := &d.parts[0]
	for i := range nt.Wires {
		p.wires = append(p.wires, i)
	}
	for i := range nt.Crossings {
		p.crossings = append(p.crossings, i)
	}
	for i := range job.Devices {
		p.devices = append(p.devices, i)
	}
	d.lists()
	return d
}
