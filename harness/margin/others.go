package margin

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/charge"
	"loomsheet/harness/contact"
	"loomsheet/harness/design"
	"loomsheet/harness/protect"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/unit"
)

// Names of the limits that are neither on volts nor on heat.
const (
	FuseLoad = "fuse-load" // the rating of a fuse against what its load asks
	Holds    = "holds"     // how long a start or a spell of work lasts against how long the fuse holds at least
	Overload = "overload"  // a wire while its fuse lets an overload pass
	Short    = "short"     // a wire while a short is cleared
	Contact  = "contact"
	Housing  = "housing" // all contacts of a housing together
	Battery  = "battery" // what a case draws from a battery
	Parked   = "parked"  // what a battery gives while all is off
)

// Others finds the n results with least room of those that meet their limit, besides volts and heat: fuses, wires behind them, contacts,
// housings and batteries. Each cause is told once, in its worst case: a fuse with its load and all that starts behind it, the wires of one
// fuse's overload, the wires of one short, the contacts of one connector, a battery. Others of the same cause stand in Also.
//
// Used of currents that a table or part allows is their plain share, of what heats a wire the share of its room, of what a fuse holds that of
// the time, of a battery that of the usable charge. Any part of the outcome may be nil.
func Others(job *design.Job, o *fit.Outcome, p *protect.Result, c *contact.Result, b *charge.Result, n int) []Tight {
	if job == nil || n <= 0 {
		return nil
	}
	f := &others{at: map[string]int{}}
	if p != nil {
		f.fuses(p)
		if o != nil && o.Net != nil {
			f.wires(o, p)
		}
	}
	if c != nil {
		f.contacts(c)
	}
	if b != nil {
		f.batteries(b)
	}
	for i := range f.out {
		x := &f.out[i]
		slices.SortFunc(x.Also, design.Natural)
		x.Also = slices.DeleteFunc(slices.Compact(x.Also), func(s string) bool { return s == f.short[i] })
	}
	return Merge(n, f.out)
}

// Merge is the n results with least room of several lists, those with as much by their names.
func Merge(n int, lists ...[]Tight) []Tight {
	out := slices.Concat(lists...)
	slices.SortStableFunc(out, func(a, b Tight) int {
		if c := unit.Compare(b.Used, a.Used); c != 0 {
			return c
		}
		return strings.Compare(a.Title, b.Title)
	})
	return out[:min(max(n, 0), len(out))]
}

const againstLoad = "against its load"

type others struct {
	out   []Tight
	short []string       // how each is called among its own
	at    map[string]int // by cause
}

// add takes a result that meets its limit; of one cause that with least room stands for all. short is its name among those of its cause.
func (f *others) add(cause, limit, short string, used float64, x Tight) {
	if !(used > 0) || used > 1+1e-6 || !unit.Finite(x.Got.Value) || !unit.Finite(x.Most.Value) {
		return
	}
	x.Used = unit.Ratio(math.Min(1, used))
	x.Subject.Limit, x.Wire = limit, -1
	i, ok := f.at[cause]
	switch {
	case !ok:
		f.at[cause] = len(f.out)
		f.out, f.short = append(f.out, x), append(f.short, short)
	case unit.Worse(x.Used, f.out[i].Used):
		x.Also = append(f.out[i].Also, f.short[i])
		f.out[i], f.short[i] = x, short
	default:
		f.out[i].Also = append(f.out[i].Also, short)
	}
}

func fuseTitle(f *protect.FuseResult) string {
	return "fuse " + f.Device + " " + f.From + " - " + f.To
}

func (f *others) fuses(p *protect.Result) {
	for i := range p.Fuses {
		r := &p.Fuses[i]
		cause := fmt.Sprint("fuse ", r.Device, " ", r.Index)
		if r.LoadMet && r.Rating > 0 {
			x := Tight{Subject: Subject{Case: r.Case, Device: r.Device, Index: r.Index}, Title: fuseTitle(r) + " " + againstLoad, Got: amperes(r.Need), Most: amperes(r.Rating)}
			x.Asked = fmt.Sprintf("the rating asked for %s: fuse-load %s, the air at %s leaves %s", r.Steady, quantity(r.Margin), r.Ambient, quantity(r.Factor))
			used := float64(r.Need) / float64(r.Rating)
			x.Room = append(x.Room, inProportion("what passes it", amperes(r.Steady), used))
			if a, ok := fuseAmbient(r); ok {
				x.Room = append(x.Room, a)
			}
			f.add(cause, FuseLoad, againstLoad, used, x)
		}
		for _, h := range r.Starts {
			if !h.Met || !(h.Earliest > 0) {
				continue
			}
			what := "while " + h.Device + " starts"
			if h.Works {
				what = "while " + h.Device + " works"
			}
			x := Tight{Subject: Subject{Case: h.Case, Device: r.Device, Index: r.Index}, Title: fuseTitle(r) + " " + what, Got: seconds(h.For), Most: seconds(h.Earliest)}
			x.Asked = fmt.Sprintf("%s must pass; the fuse holds so long at least", h.Amps)
			if h.ByEnergy {
				x.Asked += ", by its energy beyond its gate"
			}
			x.Room = append(x.Room, holdRoom(r, &h))
			f.add(cause, Holds, what, float64(h.For)/float64(h.Earliest), x)
		}
	}
}

// wires holds the overloads and shorts; what they heat does not turn on the load, and turns on the air by no closed form.
func (f *others) wires(o *fit.Outcome, p *protect.Result) {
	for i := range p.Wires {
		w := &p.Wires[i]
		if w.Wire < 0 || w.Wire >= len(o.Net.Wires) {
			continue
		}
		name := "wire " + o.Net.Wires[w.Wire].Name
		if v := w.Overload; v != nil && v.Met {
			x := Tight{Title: name + " at an overload", Got: celsius(v.Reaches), Most: celsius(v.Limit)}
			if r := p.Fuse(v.Fuse); r != nil {
				x.Device, x.Index = r.Device, r.Index
				x.Title += " of " + fuseTitle(r)
			}
			x.Asked = fmt.Sprintf("%s for %s, until the fuse opens", v.Amps, v.Latest)
			if v.Latest == protect.Never {
				x.Got, x.Most = amperes(v.Amps), amperes(v.Stands)
				x.Asked = "for good, since the fuse need not open; used is the share of its heat"
			}
			f.add(fmt.Sprint("overload ", v.Fuse.Device, " ", v.Fuse.Index), Overload, name, float64(v.Used), x)
		}
		if s := w.Short; s != nil && s.Met && s.Short >= 0 && s.Short < len(p.Shorts) {
			k := &p.Shorts[s.Short]
			x := Tight{Subject: Subject{Case: k.Case}, Title: name + " at a short at " + k.At, Got: celsius(s.Reaches), Most: celsius(s.Limit)}
			x.Asked = fmt.Sprintf("%s for %s, until it is cleared", s.Amps, s.Latest)
			if s.Latest == protect.Never {
				x.Got, x.Most = amperes(s.Amps), amperes(s.Sustained)
				x.Asked = "for good, since nothing clears it; used is the share of its heat"
			}
			f.add(fmt.Sprint("short ", s.Short), Short, name, float64(s.Used), x)
		}
	}
}

func (f *others) contacts(c *contact.Result) {
	for i := range c.Ends {
		r := &c.Ends[i]
		if !r.Met || !(r.Allowed > 0) {
			continue
		}
		x := Tight{Subject: Subject{Case: r.Case}, Title: "contact " + r.Where, Got: amperes(r.Shared), Most: amperes(r.Allowed)}
		x.Asked = fmt.Sprintf("its rating of %s; wire and connector leave %s, the air at %s leaves %s", r.Rating, quantity(r.Loading), r.Ambient, quantity(r.Warm))
		if r.Parallel > 1 {
			x.Asked += fmt.Sprintf("; as it shares with %d in parallel", r.Parallel)
		}
		used := float64(r.Shared) / float64(r.Allowed)
		of := "its own"
		if r.Equal > 1 {
			of = "of all in its housing"
		}
		x.Room = append(x.Room, inProportion(of, amperes(r.Shared), used))
		if a, ok := contactAmbient(r); ok {
			x.Room = append(x.Room, a)
		}
		connector, _, _ := strings.Cut(r.Where, ".")
		f.add("contact "+connector, Contact, x.Title, used, x)
	}
	for i := range c.Housings {
		r := &c.Housings[i]
		if !r.Met || !(r.Rating > 0) {
			continue
		}
		used := float64(r.Amps) / float64(r.Rating)
		x := Tight{Subject: Subject{Case: r.Case, Device: r.Device}, Title: "housing " + r.Where + ", all its contacts", Got: amperes(r.Amps), Most: amperes(r.Rating)}
		x.Asked = "the rating of " + r.Housing + " for all its contacts together"
		x.Room = append(x.Room, inProportion("of all in its housing", amperes(r.Amps), used))
		f.add("housing "+r.Where, Housing, x.Title, used, x)
	}
}

func (f *others) batteries(b *charge.Result) {
	for i := range b.Balances {
		r := &b.Balances[i]
		if !r.Met || !(r.Usable > 0) || !(r.Hours > 0) {
			continue
		}
		used := float64(r.Used) / float64(r.Usable)
		x := Tight{Subject: Subject{Case: r.Case, Device: r.Device, Index: r.Index}, Title: "battery " + r.Device + " over " + r.Case, Got: ampereHours(r.Used), Most: ampereHours(r.Usable)}
		x.Asked = fmt.Sprintf("over %s h, battery-share %s of %s", unit.Number(float64(r.Hours)/3600, 2), quantity(r.Share), r.Stores)
		x.Room = append(x.Room, inProportion("mean", amperes(r.Amps), used))
		f.add(fmt.Sprint("battery ", r.Device, " ", r.Index), Battery, "over "+r.Case, used, x)
	}
	for i := range b.Drains {
		r := &b.Drains[i]
		if !r.Met || !r.Ruling.Known || !(r.Most > 0) {
			continue
		}
		used := float64(r.Amps) / float64(r.Most)
		x := Tight{Subject: Subject{Device: r.Device, Index: r.Index}, Title: "battery " + r.Device + " parked", Got: amperes(r.Amps), Most: amperes(r.Most), Asked: "parked-most, all switched off"}
		x.Room = append(x.Room, inProportion("mean", amperes(r.Amps), used))
		f.add(fmt.Sprint("parked ", r.Device, " ", r.Index), Parked, x.Title, used, x)
	}
}

func quantity(r unit.Ratio) string { return unit.Number(float64(r)*100, 1) + " %" }

func celsius(t unit.Temperature) unit.Quantity {
	return unit.Quantity{Value: float64(t), Dim: unit.DimTemperature}
}

func seconds(t unit.Time) unit.Quantity { return unit.Quantity{Value: float64(t), Dim: unit.DimTime} }

func ampereHours(c unit.Charge) unit.Quantity {
	return unit.Quantity{Value: float64(c), Dim: unit.DimCharge}
}
