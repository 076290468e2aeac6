package margin

import (
	"encoding/binary"
	"slices"
	"sync"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// parted tells what of a job can have influence on what, and cuts that out of it: what is changed elsewhere changes nothing here. It may be asked from
// several goroutines.
type parted struct {
	job     *design.Job
	o       *fit.Outcome
	of      *solve.Districts
	byCase  map[string]*design.Case
	crossed map[int][]int // crossings by the district of their first wire, ascending; those with a wire missing as well

	mu    sync.Mutex
	bases map[string]*base
}

// districts is how a job is parted.
type districts func(*design.Job, *net.Net, size.Sizes) *solve.Districts

// districtsOf is those that an outcome was found with.
func districtsOf(o *fit.Outcome) districts {
	if o == nil {
		return solve.NewDistricts
	}
	return o.Districts.For
}

func newParted(job *design.Job, o *fit.Outcome, by districts) *parted {
	p := &parted{job: job, o: o, of: by(job, o.Net, o.Sizes), byCase: map[string]*design.Case{}, crossed: map[int][]int{}, bases: map[string]*base{}}
	for _, c := range job.Cases {
		p.byCase[c.Name] = c
	}
	for i := range o.Net.Crossings {
		for _, w := range o.Net.Crossings[i].Wires {
			if w >= 0 && w < len(o.Net.Wires) {
				g := p.of.Of(w)
				p.crossed[g] = append(p.crossed[g], i)
				break
			}
		}
	}
	return p
}

// part is what hangs together with some devices and wires: a job and a net of its own, whose solution is that of the whole there.
type part struct {
	job   *design.Job
	nt    *net.Net
	sizes size.Sizes
	wires []int // of the whole net
}

func (p *parted) part(c *design.Case, devices []string, wires []int) part {
	out := part{}
	out.job, out.nt, out.sizes, out.wires = p.of.Around(wires, devices)
	var met []int
	for _, i := range out.wires {
		met = append(met, p.of.Of(i))
	}
	slices.Sort(met)
	var crossings []int
	for _, g := range slices.Compact(met) {
		crossings = append(crossings, p.crossed[g]...)
	}
	slices.Sort(crossings)
	out.nt.Crossings = nil
	for _, i := range crossings {
		k, whole := p.o.Net.Crossings[i], true
		for side, w := range k.Wires {
			if w >= 0 && w < len(p.o.Net.Wires) {
				at, ok := slices.BinarySearch(out.wires, w)
				k.Wires[side], whole = at, whole && ok
			}
		}
		if whole {
			out.nt.Crossings = append(out.nt.Crossings, k)
		}
	}
	out.job.Devices = p.supplied(c, out.job.Devices)
	return out
}

// supplied adds to the devices of a part, in the job's order, those with a supply that the case lists: the volts of the highest are the measure of loads
// that state none.
func (p *parted) supplied(c *design.Case, devices []*design.Device) []*design.Device {
	in := make(map[*design.Device]bool, len(devices))
	for _, d := range devices {
		in[d] = true
	}
	listed := map[string]bool{}
	for i := range c.Supplies {
		listed[c.Supplies[i].Device] = true
	}
	var out []*design.Device
	for _, d := range p.job.Devices {
		if in[d] || len(d.Supplies) > 0 && listed[d.Name] {
			out = append(out, d)
		}
	}
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

// base is a part of a case as it is.
type base struct {
	trial
	once   sync.Once
	solved *solve.CaseResult
}

// base solves the case of a subject as it is, once for all subjects of the same part; nil where there is no such case.
func (p *parted) base(s *Subject) *base {
	devices := []string{s.Device}
	if s.Start != "" {
		devices = append(devices, s.Start)
	}
	t, x, ok := newTrial(p, s.Case, s.Start, devices, nil)
	if !ok {
		return nil
	}
	key := append([]byte(s.Case+"\x00"+s.Start+"\x00"), make([]byte, 0, 4*len(x.wires))...)
	for _, i := range x.wires {
		key = binary.LittleEndian.AppendUint32(key, uint32(i))
	}
	for _, d := range x.job.Devices {
		key = append(append(key, 0), d.Name...)
	}
	p.mu.Lock()
	b := p.bases[string(key)]
	if b == nil {
		b = &base{trial: t}
		p.bases[string(key)] = b
	}
	p.mu.Unlock()
	b.once.Do(func() {
		b.lay()
		b.solved = b.solve()
		b.trial.was = b.solved
	})
	return b
}
