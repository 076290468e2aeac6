package rule

import (
	"fmt"
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/protect"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

var fuseInReturn = &Rule{
	Key: "fuse-in-return", Title: "a fuse lies on the return of a load", Severity: diag.Finding,
	Why:     "When it blows the load is still live, and its current looks for another way home: a screen, a sensor's earth, a control unit.",
	Formula: "no fuse between the minus of a load and the minus of its supply that carries more than `fuse-stray` of its rating, in any case; nor any on the minus side, whatever the switches do and it carries",
	Source:  "common practice: protect at the source of the plus, ABYC E-11 likewise",
	Do:      "Move the fuse to the feed.",
	Fires:   with(smallJob, "housing sealed-2 {", "housing sealed-2 {\n  inner f\n  fuse blade-5 from 2 to f", "from 1 to 2\n}", "from 1 to f\n}"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		type key struct {
			device string
			index  int
		}
		told := map[key]bool{}
		stray := creeps(m)
		for _, c := range m.Cases {
			for i := range c.Loads {
				l := &c.Loads[i]
				for _, s := range l.Return {
					if s.Element < 0 || c.Net == nil || s.Element >= len(c.Net.Elements) {
						continue
					}
					e := &c.Net.Elements[s.Element]
					if e.Kind == solve.Supply || e.Kind == solve.Load || e.Kind == solve.Coil {
						break // beyond it the way is another load's feed, or leads on through a string of batteries
					}
					if k := (key{e.Device, e.Index}); e.Kind == solve.Fuse && !told[k] && !stray(protect.FuseRef{Device: e.Device, Index: e.Index}, c.Case, s.Amps) {
						told[k] = true
						d := out.Finding(own(m, e.Device, e.Span), "", e.Name+" lies on the return of "+l.Device,
							fmt.Sprintf("In case %s it carries %s back to the minus of %s.", c.Case, s.Amps, l.Supply), diag.Subject{Kind: "device", Name: e.Device})
						d.Case = c.Case
					}
				}
			}
		}
		for i := 0; m.Protect != nil && i < len(m.Protect.Fuses); i++ {
			f := &m.Protect.Fuses[i]
			if k := (key{f.Device, f.Index}); f.Return && !told[k] {
				told[k] = true
				out.Finding(own(m, f.Device, f.Span), "", fuseName(m, f.FuseRef)+" lies on the minus side",
					"No case takes a load's current back through it, but some position of the switches may.", diag.Subject{Kind: "device", Name: f.Device})
			}
		}
	},
}

// creeps tells whether what goes back through a fuse is so little that it only creeps between earths, over a bus that is dead. What lies on the
// minus side whatever the switches do has no such excuse: there the least lamp's fuse is one too many.
func creeps(m *Model) func(f protect.FuseRef, in string, amps unit.Current) bool {
	known := map[protect.FuseRef]*protect.FuseResult{}
	if m.Protect != nil {
		for i := range m.Protect.Fuses {
			known[m.Protect.Fuses[i].FuseRef] = &m.Protect.Fuses[i]
		}
	}
	rulings := design.NewRulings(&m.Job.Settings)
	return func(ref protect.FuseRef, in string, amps unit.Current) bool {
		f := known[ref]
		if f == nil || f.Return || !(f.Rating > 0) {
			return false
		}
		d := m.device(ref.Device)
		r := rulings.Get("fuse-stray", design.Scope{Device: d.Name, Class: d.Class, Zone: d.Zone, Section: d.Section, Case: in})
		return r.Known && math.Abs(float64(amps)) <= r.Value.Quantity.Value*float64(f.Rating)
	}
}
