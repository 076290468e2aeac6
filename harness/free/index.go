package free

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
)

// index is where things are found by name, so that a step costs what it touches and not the whole vehicle.
type index struct {
	ends    map[string][]wireEnd // of wires, by the device or break they end at, in order
	splices map[string][]wireEnd // by splice
	crossed map[string][]int     // crossings, by break
	wires   map[string]int       // by name, the first
	undone  map[string][]int     // links, by the name of what undoes them
	onto    map[string][]int     // links to a device itself, by its name
	used    map[[2]string]bool   // pins that something uses
	bolted  map[string]bool      // devices that another names as its metal
	numbers map[string]int       // of devices, in the job's list
	runs    map[stretch][]int    // of the plan
	clips   []holder
	near    [][]string // by clip: devices at the end of the stretch that it is nearer to
	holes   map[string][]int
	marks   map[string][]int
	withs   map[string][]int
	passing map[int][]int       // wires that pass a node on their way
	feeding []*design.Device    // devices that feed in some case
	fed     []stance            // of each of them
	poles   map[string][]pole   // of them, by the device whose pins they are
	strange []*design.Device    // devices with supplies that no case lists
	apart   []stance            // of each of them
	within  map[string]*within  // by section
	on      map[string]*carried // by panel
	met     [][]int             // links, by knot
}

type wireEnd struct{ wire, end int }

type stretch struct {
	run string
	nth int
}

func (f *finder) findIndex() {
	x := &index{ends: map[string][]wireEnd{}, splices: map[string][]wireEnd{}, crossed: map[string][]int{}, wires: map[string]int{}, undone: map[string][]int{},
		onto: map[string][]int{}, used: map[[2]string]bool{}, bolted: map[string]bool{}, numbers: map[string]int{}, runs: map[stretch][]int{}, holes: map[string][]int{},
		marks: map[string][]int{}, withs: map[string][]int{}, passing: map[int][]int{}}
	f.index = x
	for i := range f.nt.Wires {
		w := &f.nt.Wires[i]
		if _, twice := x.wires[w.Name]; !twice {
			x.wires[w.Name] = i
		}
		for k := range w.Ends {
			t := &w.Ends[k]
			if t.Device != "" {
				x.ends[device(t.Device)] = append(x.ends[device(t.Device)], wireEnd{i, k})
			}
			if t.Break != "" {
				x.ends[broken(t.Break)] = append(x.ends[broken(t.Break)], wireEnd{i, k})
			}
			if t.Kind == net.InSplice {
				x.splices[t.Splice] = append(x.splices[t.Splice], wireEnd{i, k})
			}
		}
	}
	for i := range f.nt.Crossings {
		x.crossed[f.nt.Crossings[i].Break] = append(x.crossed[f.nt.Crossings[i].Break], i)
	}
	for _, u := range f.nt.Uses {
		x.used[[2]string{u.Device, u.Pin}] = true
	}
	for i, d := range f.job.Devices {
		if f.devices[d.Name] == d {
			x.numbers[d.Name] = i
		}
		if !d.Pattern {
			for _, o := range d.Bolted {
				x.bolted[o] = true
			}
		}
	}
	for i := range f.g.links {
		l := &f.g.links[i]
		if l.undo.Kind != "" {
			x.undone[l.undo.Name] = append(x.undone[l.undo.Name], i)
		}
		if k := &f.g.knots[l.b]; k.kind == aDevice {
			x.onto[k.name] = append(x.onto[k.name], i)
		}
	}
	f.indexClips(x)
	f.indexBushes(x)
	x.feeding = f.supplies()
	x.findPoles()
	x.strange = f.strangers()
	x.fed, x.apart = f.stances(x.feeding), f.stances(x.strange)
	f.indexSections(x)
	f.indexPanels(x)
}

func device(name string) string { return "device " + name }
func broken(name string) string { return "break " + name }

func (f *finder) indexClips(x *index) {
	ends := f.nodeDevices()
	put := func(m map[string][]int, key string, i int) {
		if key != "" {
			m[key] = append(m[key], i)
		}
	}
	for r := range f.held.Runs {
		run := &f.held.Runs[r]
		x.runs[stretch{run.Run, run.Stretch}] = append(x.runs[stretch{run.Run, run.Stretch}], r)
		var at [2][]string // devices at both ends
		if g := f.nt.Space; g != nil {
			if es := g.Stretch(run.Run, run.Stretch); len(es) > 0 {
				at = [2][]string{ends[g.Edges[es[0]].From], ends[g.Edges[es[len(es)-1]].To]}
			}
		}
		for c := range run.Clips {
			h := holder{run, &run.Clips[c]}
			i := len(x.clips)
			put(x.holes, h.clip.Hole, i)
			put(x.withs, h.clip.With, i)
			x.marks[h.clip.Mark] = append(x.marks[h.clip.Mark], i)
			half := 0
			if h.clip.After > run.Length/2 {
				half = 1
			}
			x.clips, x.near = append(x.clips, h), append(x.near, at[half])
		}
	}
}

// sharing lists the clips that may share a hole with one, in order.
func (x *index) sharing(c *fix.Clip) []int {
	var out []int
	if c.Hole != "" {
		out = append(out, x.holes[c.Hole]...)
	}
	if c.With != "" {
		out = append(out, x.marks[c.With]...)
	}
	if c.Mark != "" {
		out = append(out, x.withs[c.Mark]...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// indexBushes lists the wires through each bush.
func (f *finder) indexBushes(x *index) {
	g := f.nt.Space
	if g == nil {
		return
	}
	for _, pt := range f.job.Points {
		if pt.Bush > 0 {
			if n := f.bushNode(pt); n >= 0 {
				x.passing[n] = nil
			}
		}
	}
	if len(x.passing) == 0 {
		return
	}
	for i := range f.nt.Wires {
		w := &f.nt.Wires[i]
		for k := 1; k < len(w.Path); k++ {
			at := g.Edges[w.Path[k-1].Edge].To
			if w.Path[k-1].Reverse {
				at = g.Edges[w.Path[k-1].Edge].From
			}
			if list, bush := x.passing[at]; bush && (len(list) == 0 || list[len(list)-1] != i) {
				x.passing[at] = append(list, i)
			}
		}
	}
}

// marked is the links that a list of things undone undoes.
func (f *finder) marked(list []design.Undo) map[int]bool {
	out := map[int]bool{}
	for _, u := range list {
		for _, i := range f.index.undone[u.Name] {
			if f.g.links[i].by(u) {
				out[i] = true
			}
		}
	}
	return out
}

// by lists the links that one thing undone undoes, in order.
func (f *finder) by(u design.Undo) (out []*link) {
	for _, i := range f.index.undone[u.Name] {
		if l := &f.g.links[i]; l.by(u) {
			out = append(out, l)
		}
	}
	return out
}
