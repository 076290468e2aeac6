package live

import (
	"fmt"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"

	"pgregory.net/rapid"
)

func given[T ~float64](x T) design.Fact[T] {
	return design.Fact[T]{Spread: unit.Exactly(x), Given: true}
}

func pin(n int) string { return fmt.Sprintf("n%d", n) }

// anyJob is a net at random between the studs of one box: a battery, a charger that no case lists, joints, fuses, diodes, loads, two switches
// and a relay with up to three throws. From each stud a wire runs to one half of a break.
func anyJob(t *rapid.T) (*design.Job, *net.Net) {
	n := rapid.IntRange(3, 6).Draw(t, "nodes")
	node := rapid.IntRange(0, n-1)
	at := func(what string) design.PinRef { return design.PinRef{Device: "box", Pin: pin(node.Draw(t, what))} }
	box := &design.Device{Name: "box"}
	for i := range n {
		box.Pins = append(box.Pins, design.Pin{Name: pin(i), Housing: -1, Stud: "M6"})
	}
	here := func(i int) design.PinRef { return design.PinRef{Device: "box", Pin: pin(i)} }
	battery := &design.Device{Name: "battery", Supplies: []design.Supply{{Volts: given(unit.Voltage(12)), Inside: given(unit.Resistance(0.01)), Stores: given(unit.Charge(40)), From: here(0), To: here(1)}}}
	job := &design.Job{Breaks: []*design.Break{{Name: "X", Halves: [2]design.Half{{Section: "a", Contacts: "pins"}, {Section: "b", Contacts: "sockets"}}}}}
	job.Cases = []*design.Case{{Name: "on", Supplies: []design.CaseSupply{{Device: "battery"}}}}
	job.Devices = []*design.Device{battery, box}
	if rapid.Bool().Draw(t, "charger") {
		job.Devices = append(job.Devices, &design.Device{Name: "charger", Supplies: []design.Supply{{Volts: given(unit.Voltage(14)), Inside: given(unit.Resistance(0.02)),
			Most: given(unit.Current(20)), From: at("charger plus"), To: here(1)}}})
	}
	switches := []*design.Device{{Name: "s0"}, {Name: "s1"}, {Name: "r"}}
	job.Devices = append(job.Devices, switches...)
	for range rapid.IntRange(n-2, 9).Draw(t, "elements") {
		from, to := at("from"), at("to")
		if from == to {
			continue
		}
		switch rapid.IntRange(0, 6).Draw(t, "kind") {
		case 0:
			box.Joins = append(box.Joins, design.Joins{Pins: []string{from.Pin, to.Pin}, Resistance: given(unit.Resistance(0.001))})
		case 1:
			box.Fuses = append(box.Fuses, design.DeviceFuse{Part: "any", From: from.Pin, To: to.Pin})
		case 2:
			box.Diodes = append(box.Diodes, design.Diode{Forward: given(unit.Voltage(0.7)), From: from.Pin, To: to.Pin})
		case 3:
			ohms := rapid.SampledFrom([]float64{2, 30, 900}).Draw(t, "ohms")
			box.Draws = append(box.Draws, design.Draw{Ohms: given(unit.Resistance(ohms)), At: given(unit.Voltage(12)), As: design.ConstantResistance, From: from, To: to})
		default:
			s := rapid.SampledFrom(switches).Draw(t, "switch")
			state := rapid.SampledFrom([]string{"off", "on", "far"}).Draw(t, "state")
			// A switch joins pins of its own; here those of the box, over joints that lose nothing.
			i := len(s.States)
			a, b := fmt.Sprintf("%s-%da", s.Name, i), fmt.Sprintf("%s-%db", s.Name, i)
			s.States = append(s.States, design.State{StateRef: design.StateRef{State: state}, Pins: []string{a, b}, Resistance: given(unit.Resistance(0.001))})
			bolt(job, s.Name, a, from)
			bolt(job, s.Name, b, to)
		}
	}
	for i := range n { // what hangs on a blocking diode alone would have any volts
		if i != 1 {
			box.Draws = append(box.Draws, design.Draw{Ohms: given(unit.Resistance(1e6)), At: given(unit.Voltage(12)), As: design.ConstantResistance, From: here(i), To: here(1)})
		}
	}
	if len(switches[2].States) > 0 {
		switches[2].Coils = []design.Coil{{Draw: design.Draw{Ohms: given(unit.Resistance(90)), At: given(unit.Voltage(12)), As: design.ConstantResistance, From: at("coil plus"), To: at("coil minus")},
			Moves: design.StateRef{State: "on"}, PullIn: given(unit.Voltage(8)), DropOut: given(unit.Voltage(3))}}
	}
	nt := &net.Net{Wires: wiresOf(job)}
	for i := range n {
		nt.Wires = append(nt.Wires, net.Wire{Name: "to " + pin(i), Length: 100, Ends: [2]net.Termination{{Kind: net.OnStud, Device: "box", Pin: pin(i)}, {Kind: net.InHalf, Break: "X", Cavity: pin(i)}}})
	}
	return job, nt
}

// bolts of a job's switches are kept as cases of no name would be: a wire each, found again by wiresOf.
func bolt(job *design.Job, device, p string, to design.PinRef) {
	job.Labels = append(job.Labels, &design.LabelDecision{Text: device + " " + p + " " + to.Pin, Circuit: device, From: p, To: to.Pin})
}

func wiresOf(job *design.Job) (out []net.Wire) {
	for _, l := range job.Labels {
		out = append(out, net.Wire{Name: l.Text, Length: 100, Ends: [2]net.Termination{{Kind: net.OnStud, Device: l.Circuit, Pin: l.From}, {Kind: net.OnStud, Device: "box", Pin: l.To}}})
	}
	return out
}

// everyState is every position of the switches and relays, as the product of their sets.
func everyState(job *design.Job) [][]protect.Throw {
	out := [][]protect.Throw{nil}
	for _, d := range job.Devices {
		if len(d.States) == 0 {
			continue
		}
		var more [][]protect.Throw
		for _, t := range throwsOf(d, "") {
			for _, o := range out {
				more = append(more, append(slices.Clone(o), t))
			}
		}
		out = more
	}
	return out
}

// flood is what a plus reaches over metal in one position.
func flood(job *design.Job, nw *solve.Network, at []protect.Throw, plus int) map[int]bool {
	in := map[int]bool{plus: true}
	for more := true; more; {
		more = false
		for _, e := range nw.Elements {
			forth, back := true, true
			switch e.Kind {
			case solve.Supply, solve.Load, solve.Coil:
				forth, back = false, false
			case solve.Diode:
				back = false
			case solve.Switch:
				for _, d := range job.Devices {
					if d.Name == e.Device {
						forth = slices.Contains(at, protect.Throw{Device: d.Name, State: d.States[e.Index].State})
					}
				}
				back = forth
			}
			if forth && in[e.From] && !in[e.To] {
				in[e.To], more = true, true
			}
			if back && in[e.To] && !in[e.From] {
				in[e.From], more = true, true
			}
		}
	}
	return in
}

// shorted tells whether a plus can be joined to a minus by throws, were they all in at once.
func shorted(job *design.Job, nw *solve.Network) bool {
	var every []protect.Throw
	for _, d := range job.Devices {
		every = append(every, throwsOf(d, "")...)
	}
	for _, e := range nw.Elements {
		for _, o := range nw.Elements {
			if e.Kind == solve.Supply && o.Kind == solve.Supply && flood(job, nw, every, e.From)[o.To] {
				return true
			}
		}
	}
	return false
}

func moved(at []protect.Throw) (n int) {
	for _, t := range at {
		if !t.Rests() {
			n++
		}
	}
	return n
}

// TestAgainstEveryState: whatever the net, a cavity is fed exactly if in some position metal leads there from a plus, its proof is the position
// with the fewest things switched, and whatever shows live-least volts in any position is live, and counts if it does so in any.
func TestAgainstEveryState(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, nt := anyJob(t)
		u := Of(job, nt, nil, design.Undo{Kind: "break", Name: "X"})
		all := solve.All(job, nt, nil)
		s := attach(job)
		if shorted(job, all) {
			return // what it shows then is a matter of milliohms
		}
		probe := solve.NewProbe(job, nt, nil, s.c)
		fewest, highest := map[string]int{}, map[string]unit.Voltage{}
		counts, most := map[string]bool{}, unit.Resistance(job.Settings.Get("live-through", design.Scope{Break: "X"}).Value.Quantity.Value)
		for _, at := range everyState(job) {
			x := probe.At(caseStates(at))
			for i := range nt.Wires {
				c := nt.Wires[i].Ends[1].Cavity
				if c == "" {
					continue
				}
				node := end1(all, i)
				for _, k := range s.c.Supplies {
					if v, to := x.Against(node, k.Device, 0); to >= 0 {
						highest[c] = max(highest[c], v)
						if a := x.Short(node, to); v >= 2.001 && a > 0 && float64(v)/float64(a) < float64(most)*0.999 {
							counts[c] = true
						}
					}
					for _, e := range all.Elements {
						if e.Kind == solve.Supply && e.Device == k.Device && e.From != e.To && flood(job, all, at, e.From)[node] {
							if n, ok := fewest[c]; !ok || moved(at)+s.moved(k.Device) < n {
								fewest[c] = moved(at) + s.moved(k.Device)
							}
						}
					}
				}
			}
		}
		h := &u.Halves[0]
		got := map[string]*Cavity{}
		for _, list := range [][]Cavity{h.Live, h.Earths, h.Dead} {
			for i := range list {
				got[list[i].Name] = &list[i]
			}
		}
		for i := range nt.Wires {
			name := nt.Wires[i].Ends[1].Cavity
			if name == "" {
				continue
			}
			c := got[name]
			if c == nil {
				t.Fatalf("%s is not told of", name)
			}
			n, fed := fewest[name]
			if fed != (c.Kind == Fed) {
				t.Fatalf("%s is %v; over metal: %v", name, c.Kind, fed)
			}
			if fed && c.Feeds[0].State.Moved != n {
				t.Fatalf("%s is proved with %d things switched (%s), %d are enough", name, c.Feeds[0].State.Moved, c.Feeds[0].State.Words, n)
			}
			live := c.Kind == Fed || c.Kind == Through && !c.Faint
			if v := highest[name]; v >= 2.001 && !live || v < 1.999 && live && c.Kind == Through {
				t.Fatalf("%s is %v with %v, but comes to %v", name, c.Kind, c.Volts, v)
			}
			if counts[name] && !c.Counts {
				t.Fatalf("%s does not count, though a short through what feeds it draws much", name)
			}
			if c.Kind == Through && c.Volts < 2 && c.Counts {
				t.Fatalf("%s counts with %v", name, c.Volts)
			}
			if c.Volts > highest[name]+0.001 {
				t.Fatalf("%s has %v, but never more than %v", name, c.Volts, highest[name])
			}
		}
	})
}

// end1 is the node of the second end of a wire.
func end1(nw *solve.Network, wire int) int {
	for _, e := range nw.Elements {
		if e.Kind == solve.Wire && e.Wire == wire {
			return e.To
		}
	}
	return -1
}
