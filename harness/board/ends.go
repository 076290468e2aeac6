package board

import (
	"cmp"
	"slices"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// endAt is what some wires of a joint end in.
type endAt struct {
	joint     int
	connector int // of the section; -1: their ends are cut back
	title     string
	wires     int
	held      bool // it takes room on the board
}

// findEnds gathers what wires end in, joint by joint: connectors with the most wires first, cut-back ends last.
func (l *layer) findEnds(s *shop, sec *bench.SectionPlan) {
	l.endsAt, l.spliced = map[int][]int{}, map[int]bool{}
	find := connectorsOf(s.device, sec)
	type key struct{ joint, connector int }
	at := map[key]int{}
	for _, i := range s.wires[sec.Name] {
		w := &s.net.Wires[i]
		for e := range w.Ends {
			t, ok := endTip(w, e)
			joint, laid := l.graph.joint[t]
			if !ok || !laid {
				continue
			}
			end := &w.Ends[e]
			if end.Kind == net.InSplice {
				l.spliced[joint] = true
				continue
			}
			k := key{joint, find(i, end)}
			n, have := at[k]
			if !have {
				n = len(l.ends)
				at[k] = n
				x := endAt{joint: joint, connector: k.connector, title: "cut back", held: k.connector >= 0}
				if x.held {
					x.title = sec.Connectors[k.connector].Title
				}
				l.ends = append(l.ends, x)
				l.endsAt[joint] = append(l.endsAt[joint], n)
			}
			l.ends[n].wires++
		}
	}
	for _, list := range l.endsAt {
		slices.SortFunc(list, func(a, b int) int {
			x, y := &l.ends[a], &l.ends[b]
			if x.held != y.held {
				if x.held {
					return -1
				}
				return 1
			}
			return cmp.Or(cmp.Compare(y.wires, x.wires), cmp.Compare(x.connector, y.connector))
		})
	}
}

// connectorsOf finds the connector of the section in which a wire ends.
func connectorsOf(device map[string]*design.Device, sec *bench.SectionPlan) func(wire int, t *net.Termination) int {
	type pin struct {
		wire, half     int
		brk, dev, part string
	}
	of := map[pin]int{}
	for c := range sec.Connectors {
		x := &sec.Connectors[c]
		for _, r := range x.Rows {
			for _, w := range r.Wires {
				k := pin{w, x.Half, x.Break, x.Device, x.Housing}
				if x.Break == "" {
					k.half = 0
				} else {
					k.part = ""
				}
				if _, ok := of[k]; !ok {
					of[k] = c
				}
			}
		}
	}
	return func(wire int, t *net.Termination) int {
		k := pin{wire: wire}
		switch t.Kind {
		case net.InHalf, net.OnPost:
			k.brk, k.half = t.Break, t.Half
		case net.InCavity:
			k.dev = t.Device
			if d := device[t.Device]; d != nil && t.Housing >= 0 && t.Housing < len(d.Housings) {
				k.part = d.Housings[t.Housing].Part
			}
		case net.OnStud:
			k.dev = t.Device
		}
		if c, ok := of[k]; ok && t.Kind != net.CutBack {
			return c
		}
		return -1
	}
}
