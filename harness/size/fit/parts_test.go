package fit

import (
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// tree draws a battery and what hangs on it.
func tree(t *rapid.T) func(s *shop, name string) {
	type lead struct {
		amps           unit.Current
		feed, back     unit.Length
		kind           design.LoadKind
		zone           string
		on, off, start float64
	}
	lead1 := rapid.Custom(func(t *rapid.T) lead {
		return lead{unit.Current(rapid.IntRange(1, 400).Draw(t, "amps")) / 10, unit.Length(rapid.IntRange(100, 8000).Draw(t, "feed")), unit.Length(rapid.IntRange(100, 8000).Draw(t, "back")),
			rapid.SampledFrom([]design.LoadKind{design.ConstantCurrent, design.ConstantPower, design.ConstantResistance}).Draw(t, "kind"),
			rapid.SampledFrom([]string{"cabin", "bay"}).Draw(t, "zone"), float64(rapid.IntRange(0, 3).Draw(t, "on")), float64(rapid.IntRange(0, 20).Draw(t, "off")), float64(rapid.IntRange(0, 2).Draw(t, "start"))}
	})
	leads := rapid.SliceOfN(lead1, 1, 5).Draw(t, "leads")
	one := rapid.Bool().Draw(t, "one bundle")
	return func(s *shop, name string) {
		battery := *newShop().job.Devices[0]
		battery.Name = name + "battery"
		s.job.Devices = append(s.job.Devices, &battery)
		s.job.Cases[0].Supplies = append(s.job.Cases[0].Supplies, design.CaseSupply{Device: battery.Name})
		s.joint(name + "bar")
		from := len(s.nt.Wires)
		s.wire(name+"main", name+"battery.pos", name+"bar.s", 1500, "cabin")
		for i, l := range leads {
			load := fmt.Sprintf("%sload%d", name, i)
			d := s.load(load, l.amps)
			d.As, d.On, d.Off = l.kind, unit.Time(l.on), unit.Time(l.off)
			if l.start > 0 {
				d.Start, d.StartFor = fact(5*l.amps), unit.Time(l.start)
			}
			s.wire(name+"feed"+load, name+"bar.s", load+".1", l.feed, l.zone)
			s.wire(name+"back"+load, load+".2", name+"battery.neg", l.back, l.zone)
		}
		for i := from; one && i < len(s.nt.Wires); i++ {
			s.nt.Wires[i].Path = s.nt.Wires[from].Path
		}
	}
}

// A circuit on a battery of its own, in places of its own, changes nothing elsewhere, whatever it needs by way of rounds.
func TestUnrelatedChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := tree(t), tree(t)
		limit := rapid.SampledFrom([]string{"2 %", "3 %", "10 %"}).Draw(t, "drop")
		size := func(make ...func(*shop)) *Outcome {
			s := newShop()
			s.job.Devices, s.job.Cases[0].Supplies = nil, nil
			for _, m := range make {
				m(s)
			}
			s.set("drop", limit, nil)
			return s.loop()
		}
		first, second := func(s *shop) { a(s, "a-") }, func(s *shop) { b(s, "b-") }
		both := size(first, second)
		at := 0
		for _, alone := range []*Outcome{size(first), size(second)} {
			n := len(alone.Sizes)
			c, k := alone.Cases[0], both.Cases[0]
			if !reflect.DeepEqual(both.Sizes[at:at+n], alone.Sizes) || !reflect.DeepEqual(k.WireAmps[at:at+n], c.WireAmps) || !reflect.DeepEqual(both.Heat.Temps["key-on"][at:at+n], alone.Heat.Temps["key-on"]) {
				t.Fatalf("beside another\n%v\nalone\n%v", sizes(both), sizes(alone))
			}
			for i := range alone.Heat.Wires {
				if x, y := alone.Heat.Wires[i], both.Heat.Wires[at+i]; x.Hottest != y.Hottest || x.Met != y.Met || x.Why != y.Why || x.Ampacity != y.Ampacity {
					t.Fatalf("beside another %+v, alone %+v", y, x)
				}
			}
			at += n
		}
	})
}
