package margin

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// joined tells what of a job hangs together electrically, in whatever position of whatever is in its devices: what hangs together with
// nothing that is changed stays as it is.
type joined struct {
	up     []int // wires first, by their index; then devices, splices and cavities of breaks
	things map[string]int
}

func newJoined(job *design.Job, nt *net.Net) *joined {
	j := &joined{up: make([]int, len(nt.Wires)), things: map[string]int{}}
	for i := range j.up {
		j.up[i] = i
	}
	for _, d := range job.Devices {
		for _, other := range refsOf(d) {
			j.join(j.thing("device "+d.Name), j.thing("device "+other))
		}
	}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		for k := range w.Ends {
			t := &w.Ends[k]
			if t.Device != "" {
				j.join(i, j.thing("device "+t.Device))
			}
			if t.Splice != "" {
				j.join(i, j.thing("splice "+t.Splice))
			}
			if t.Break != "" {
				j.join(i, j.thing("break "+t.Break+"\x00"+t.Cavity))
			}
		}
	}
	for _, c := range nt.Crossings {
		for _, w := range c.Wires {
			if w >= 0 && w < len(nt.Wires) {
				j.join(w, j.thing("break "+c.Break+"\x00"+c.Cavity))
			}
		}
	}
	for i := range j.up {
		j.up[i] = j.root(i) // from here on only read
	}
	return j
}

func (j *joined) thing(name string) int {
	i, ok := j.things[name]
	if !ok {
		i = len(j.up)
		j.up = append(j.up, i)
		j.things[name] = i
	}
	return i
}

func (j *joined) root(i int) int {
	for j.up[i] != i {
		i = j.up[i]
	}
	return i
}

func (j *joined) join(a, b int) {
	a, b = j.root(a), j.root(b)
	for _, i := range [2]int{a, b} {
		j.up[i] = min(a, b)
	}
}

// refsOf lists the other devices at whose pins something of a device lies.
func refsOf(d *design.Device) (out []string) {
	take := func(refs ...design.PinRef) {
		for _, r := range refs {
			if r.Device != "" && r.Device != d.Name {
				out = append(out, r.Device)
			}
		}
	}
	for i := range d.Supplies {
		take(d.Supplies[i].From, d.Supplies[i].To)
	}
	for i := range d.Draws {
		take(d.Draws[i].From, d.Draws[i].To)
	}
	for i := range d.Coils {
		take(d.Coils[i].From, d.Coils[i].To)
	}
	return out
}

// part is what hangs together with some devices and wires: a job and a net of its own, whose solution is that of the whole there. Every
// device with a supply is kept, since what the highest supply has is the measure of loads that state no volts.
type part struct {
	job   *design.Job
	nt    *net.Net
	sizes size.Sizes
	wires []int // of the whole net
}

func (j *joined) part(job *design.Job, nt *net.Net, sizes size.Sizes, devices []string, wires []int) part {
	in := map[int]bool{}
	device := func(name string) bool {
		i, ok := j.things["device "+name]
		return ok && in[j.up[i]]
	}
	for _, d := range devices {
		if i, ok := j.things["device "+d]; ok {
			in[j.up[i]] = true
		}
	}
	for _, i := range wires {
		in[j.up[i]] = true
	}
	out := part{}
	little := *job
	little.Devices = nil
	for _, d := range job.Devices {
		if len(d.Supplies) > 0 || device(d.Name) || slices.Contains(devices, d.Name) {
			little.Devices = append(little.Devices, d)
		}
	}
	out.job = &little
	n := *nt
	n.Wires, n.Crossings = nil, nil
	at := make([]int, len(nt.Wires))
	for i := range nt.Wires {
		if at[i] = -1; in[j.up[i]] {
			at[i] = len(n.Wires)
			n.Wires = append(n.Wires, nt.Wires[i])
			out.wires = append(out.wires, i)
			if i < len(sizes) {
				out.sizes = append(out.sizes, sizes[i])
			}
		}
	}
	for _, c := range nt.Crossings {
		all := c.Wires[0] >= 0 || c.Wires[1] >= 0
		for k, w := range c.Wires {
			if w >= 0 && w < len(at) {
				c.Wires[k] = at[w]
				all = all && at[w] >= 0
			}
		}
		if all {
			n.Crossings = append(n.Crossings, c)
		}
	}
	out.nt = &n
	return out
}

// temps is what a part has of the temperatures of all wires.
func (p *part) temps(all []unit.Temperature) []unit.Temperature {
	if all == nil {
		return nil
	}
	var out []unit.Temperature
	for _, i := range p.wires {
		if i < len(all) {
			out = append(out, all[i])
		}
	}
	return out
}
