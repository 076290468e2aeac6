package board

import (
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// shop is what all boards are made from, parted by sections; each list in the order of the job or the net.
type shop struct {
	job     *design.Job
	net     *net.Net
	bundles *bundle.Bundles
	device  map[string]*design.Device
	edges   map[string][]int // of a section
	wires   map[string][]int // of a section
	passing map[string][]int // wires that lie in an edge of the section
	joints  map[string][]int
	runs    map[string][]*design.Run
}

func newShop(job *design.Job, nt *net.Net, bundles *bundle.Bundles) *shop {
	s := &shop{job, nt, bundles, design.Index(job.Devices, func(d *design.Device) string { return d.Name }), map[string][]int{}, map[string][]int{}, map[string][]int{}, map[string][]int{}, map[string][]*design.Run{}}
	for i := range nt.Space.Edges {
		n := nt.Space.Edges[i].Section
		s.edges[n] = append(s.edges[n], i)
	}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		s.wires[w.Section] = append(s.wires[w.Section], i)
		last := ""
		for k, p := range w.Path {
			n := nt.Space.Edges[p.Edge].Section
			if k > 0 && n == last {
				continue
			}
			last = n
			if on := s.passing[n]; len(on) == 0 || on[len(on)-1] != i {
				s.passing[n] = append(on, i)
			}
		}
	}
	for i := range nt.Joints {
		n := nt.Joints[i].Section
		s.joints[n] = append(s.joints[n], i)
	}
	for _, r := range job.Runs {
		s.runs[r.Section] = append(s.runs[r.Section], r)
	}
	return s
}
