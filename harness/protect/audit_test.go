package protect_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// example works a job of the examples through to its protection.
func example(t *testing.T, dir, name string) found {
	t.Helper()
	job, _, msgs := resolve.Job(name, func(name string) ([]byte, error) {
		return os.ReadFile(filepath.Join("..", "..", "examples", dir, name))
	}, parts.Files(), nil)
	for _, m := range msgs {
		if m.Severity == diag.Mistake {
			t.Fatalf("%s: %s", m.Code, m.Title)
		}
	}
	geo := space.Lay(job)
	l := fit.Loop(job, func(h net.Hints) *net.Net { return net.Build(job, geo, h) })
	return found{protect.Find(job, l.Net, l.Sizes, l.Cases, l.Heat, l.Duty), job, l.Net, l}
}

// auditor works the claims of a result out again from what they say they rest on.
type auditor struct {
	*testing.T
	found
	seen map[string]int
}

func (a *auditor) same(what string, got, want float64) {
	a.Helper()
	a.seen[fmt.Sprintf("%.12s", what)]++
	if math.Abs(got-want) > 1e-6*math.Max(math.Abs(want), 1e-9) {
		a.Errorf("%s is %g, worked again %g", what, got, want)
	}
}

func (a *auditor) is(what string, got, want bool) {
	a.Helper()
	a.seen[fmt.Sprintf("%.12s", what)]++
	if got != want {
		a.Errorf("%s is %v", what, got)
	}
}

// opens is when a gate forces a fuse open at a multiple of its rating: the window of the highest listed multiple that is reached, beyond the last one by the
// energy there. 0: never.
func opens(gate []data.FuseGate, times float64) (at float64) {
	listed, last := 0.0, 0.0
	for _, g := range gate {
		if g.Most > 0 {
			last = max(last, float64(g.Times))
			if float64(g.Times) <= times*(1+1e-9) && float64(g.Times) > listed {
				listed, at = float64(g.Times), float64(g.Most)
			}
		}
	}
	if listed > 0 && listed == last && times > last {
		at *= last * last / (times * times)
	}
	return at
}

// holds is how long a gate holds at a multiple: the window of the lowest listed one that is not below it, 100 h up to the rating. 0: not stated.
func holds(gate []data.FuseGate, times float64) (at float64) {
	if times <= 1+1e-9 && len(gate) > 0 {
		return 360000
	}
	listed, last, energy := math.Inf(1), 0.0, 0.0
	for _, g := range gate {
		if g.Least <= 0 {
			continue
		}
		x := float64(g.Times)
		if x >= times*(1-1e-9) && x < listed {
			listed, at = x, float64(g.Least)
		}
		if x > last {
			last, energy = x, x*x*float64(g.Least)
		}
	}
	if math.IsInf(listed, 1) && last > 0 {
		at = energy / (times * times)
	}
	return at
}

func (a *auditor) clearing(what string, c protect.Clearing) {
	f := a.Fuse(c.Fuse)
	if f == nil {
		a.Errorf("%s: no fuse %v", what, c.Fuse)
		return
	}
	a.same("times of "+what, float64(c.Times), float64(c.Amps/f.Rating))
	a.same("latest of "+what, float64(c.Latest), opens(f.Gate, float64(c.Amps/f.Rating)))
	a.same("let through by "+what, float64(c.Energy), math.Pow(float64(c.Amps), 2)*float64(c.Latest))
}

func (a *auditor) fuses() {
	through := map[protect.FuseRef]float64{} // greatest of the cases' own points
	for _, c := range a.fit.Cases {
		for i, e := range c.Net.Elements {
			if e.Kind == solve.Fuse {
				f := protect.FuseRef{Device: e.Device, Index: e.Index}
				through[f] = max(through[f], math.Abs(float64(c.Point.Amps[i])))
			}
		}
	}
	for i := range a.Fuses {
		f := &a.Fuses[i]
		name := f.Device + "." + f.To
		if f.Factor > 0 {
			a.same("need of "+name, float64(f.Need), float64(f.Steady)*float64(f.Margin)/float64(f.Factor))
			a.is("load met "+name, f.LoadMet, f.Rating >= f.Need*(1-1e-9))
		}
		a.is("lead of "+name, f.Lead && f.Case != "", false)
		if f.Lead && float64(f.Steady) < through[f.FuseRef] {
			a.Errorf("%s: lead of %v, %g A flow", name, f.Steady, through[f.FuseRef])
		}
		works := slices.ContainsFunc(f.Starts, func(h protect.Hold) bool { return h.Works })
		if !works && !f.Lead && float64(f.Steady) < through[f.FuseRef]*(1-1e-9)-1e-6 {
			a.Errorf("%s: steady %v, %g A flow", name, f.Steady, through[f.FuseRef])
		}
		last := 0.0
		for _, h := range f.Starts {
			rating := float64(f.Rating)
			if h.Works { // as warm as its place leaves it
				rating = float64(h.Amps) / float64(h.Times)
				if rating > float64(f.Rating)*(1+1e-9) {
					a.Errorf("%s: works at %g of %v", name, rating, f.Rating)
				}
			}
			a.same("hold times "+name, float64(h.Times), float64(h.Amps)/rating)
			a.same("hold earliest "+name, float64(h.Earliest), holds(f.Gate, float64(h.Amps)/rating))
			a.is("hold met "+name, h.Met, h.Earliest > 0 && h.For < h.Earliest)
			room := float64(h.Earliest) / max(float64(h.For), 1e-9)
			a.is("hold order "+name, room >= last*(1-1e-12), true)
			last = room
		}
		for w := range a.Wires {
			a.is("wires of "+name, slices.Contains(f.Wires, w), slices.Contains(a.Wires[w].By, f.FuseRef))
		}
		for _, up := range f.Ahead {
			if up == f.FuseRef || a.Fuse(up) == nil {
				a.Errorf("%s: ahead of it %v", name, up)
			}
		}
	}
}

// parallel tells whether a wire is one of several of its link.
func (a *auditor) parallel(wire int) bool {
	w := &a.nt.Wires[wire]
	for i := range a.nt.Wires {
		if x := &a.nt.Wires[i]; i != wire && x.Circuit == w.Circuit && x.Link == w.Link && x.Piece == w.Piece {
			return true
		}
	}
	return false
}

func (a *auditor) heats(what string, wire int, h *protect.ShortHeat) {
	c := &a.fit.Sizes[wire]
	w := &a.nt.Wires[wire]
	rise := a.job.Settings.Get("short-rise", design.Scope{Circuit: w.Circuit, Class: w.Class, Section: w.Section, Zone: w.Zone})
	if h.Latest == protect.Never {
		rise = a.job.Settings.Get("overload-rise", design.Scope{Circuit: w.Circuit, Class: w.Class, Section: w.Section, Zone: w.Zone})
	}
	a.same("limit of "+what, float64(h.Limit), float64(c.Heat)+rise.Value.Quantity.Value)
	if h.Latest == protect.Never {
		a.same("used for good "+what, float64(h.Used), math.Pow(float64(h.Amps)/float64(h.Sustained), 2))
		a.is("met for good "+what, h.Met, float64(h.Amps) <= float64(h.Sustained)*(1+1e-9))
		return
	}
	a.same("used of "+what, float64(h.Used), float64(h.Reaches-h.Start)/float64(h.Limit-h.Start))
	a.is("met by "+what, h.Met, float64(h.Used) <= 1+1e-9)
	a.same("factor of "+what, float64(h.K), float64(data.Copper.Adiabatic(h.Start, h.Limit)))
	a.same("stands "+what, float64(h.Stands), math.Pow(float64(h.K)*float64(h.Area), 2))
	energy := math.Pow(float64(h.Amps), 2) * float64(h.Latest)
	if len(h.Steps) > 0 {
		energy = 0
		most, sum := unit.Current(0), unit.Time(0)
		for _, s := range h.Steps {
			if s.For == protect.Never { // what flows on for good in the end took less of the room
				continue
			}
			energy += math.Pow(float64(s.Amps), 2) * float64(s.For)
			most, sum = max(most, s.Amps), sum+s.For
		}
		a.same("amps of steps "+what, float64(h.Amps), float64(most))
		a.same("time of steps "+what, float64(h.Latest), float64(sum))
	}
	a.same("energy of "+what, float64(h.Energy), energy)
	if h.Adiabatic && float64(h.Reaches-h.Start) > 0.01 {
		k := float64(data.Copper.Adiabatic(h.Start, h.Reaches))
		a.same("reaches, all heat kept "+what, math.Pow(k*float64(h.Area), 2), energy)
	} else if !h.Adiabatic {
		k := float64(data.Copper.Adiabatic(h.Start, h.Reaches))
		a.is("reaches, heat lost "+what, math.Pow(k*float64(h.Area), 2) <= energy, true)
	}
	// the copper that counts lies between the nominal area and that of the greatest resistance
	by := float64(data.Copper.Resistivity) / float64(c.Resistance)
	a.is("area of "+what, float64(h.Area) <= float64(c.Size.Area())*(1+1e-9) && float64(h.Area) >= min(by, float64(c.Size.Area()))*(1-1e-9), true)
}

func (a *auditor) wires() {
	for i := range a.Wires {
		w := &a.Wires[i]
		name := a.nt.Wires[i].Name
		a.is("met "+name, w.Met, (w.Overload == nil || w.Overload.Met) && (w.Short == nil || w.Short.Met))
		if s := w.Short; s != nil {
			a.is("short of "+name, s.Short >= 0 && s.Short < len(a.Shorts) && slices.Contains(a.Shorts[s.Short].Wires, i) || a.Shorts[s.Short].On != nil, true)
			a.heats("short of "+name, i, s)
		}
		o := w.Overload
		if o == nil {
			continue
		}
		f := a.Fuse(o.Fuse)
		a.is("overload by "+name, slices.Contains(w.By, o.Fuse), true)
		if !a.parallel(i) {
			a.same("overload of "+name, float64(o.Amps), float64(o.Times)*float64(f.Rating)+float64(o.Beside))
		}
		scope := design.Scope{Circuit: a.nt.Wires[i].Circuit, Class: a.nt.Wires[i].Class, Section: a.nt.Wires[i].Section, Zone: a.nt.Wires[i].Zone}
		heat := float64(a.fit.Sizes[i].Heat)
		if o.Latest == protect.Never {
			a.same("limit for good "+name, float64(o.Limit), heat+a.job.Settings.Get("overload-rise", scope).Value.Quantity.Value)
			a.same("used for good "+name, float64(o.Used), math.Pow(float64(o.Amps)/float64(o.Stands), 2))
			a.is("met for good "+name, o.Met, float64(o.Amps) <= float64(o.Stands)*(1+1e-9))
			// just below the lowest multiple that forces it open
			a.is("never opens "+name, opens(f.Gate, float64(o.Times)*(1-1e-6)) == 0, true)
			continue
		}
		a.same("limit in time "+name, float64(o.Limit), heat+a.job.Settings.Get("short-rise", scope).Value.Quantity.Value)
		a.is("met in time "+name, o.Met, float64(o.Used) <= 1+1e-9)
		if late, now := opens(f.Gate, float64(o.Times)*(1-1e-6)), opens(f.Gate, float64(o.Times)); math.Abs(float64(o.Latest)-late) > 1e-4*late && math.Abs(float64(o.Latest)-now) > 1e-4*now {
			a.Errorf("%s: latest %v at %v, by the gate %g or %g", name, o.Latest, o.Times, late, now)
		}
	}
}

func (a *auditor) shorts() {
	type place struct {
		c, device, metal, at string
		index, wire          int
		coil, supply         bool
	}
	weak := map[place]unit.Current{}
	for i := range a.Shorts {
		s := &a.Shorts[i]
		what := fmt.Sprintf("short at %s in %s, strong %v", s.At, s.Case, s.Strong)
		k := place{s.Case, s.Device, s.Metal, s.At, s.Index, s.Wire, s.Coil, s.Supply}
		if !s.Strong {
			weak[k] = s.Amps
		} else if w, ok := weak[k]; ok {
			a.is("stronger "+what, s.Amps >= w*(1-1e-9), true)
		}
		full := math.Inf(1)
		last := 0.0
		for _, c := range s.Fuses {
			a.clearing(what, c)
			at := float64(c.Latest)
			if c.Latest == protect.Never {
				at = math.Inf(1)
			}
			a.is("order of fuses, "+what, at*(1+1e-8) >= last, true)
			last = at
			if c.Amps >= s.Amps*(1-1e-9) {
				full = min(full, at)
			}
		}
		if !math.IsInf(full, 1) { // one of them carries all of it
			a.is("cleared, "+what, s.Clears != protect.Never && float64(s.Clears) <= full*(1+1e-9), true)
		}
		if len(s.Fuses) == 0 {
			a.is("no fuse, "+what, s.Clears == protect.Never, true)
		}
		if s.Hot >= 0 {
			a.is("hot one on the way, "+what, slices.Contains(s.Wires, s.Hot), true)
			a.is("met, "+what, !s.Met || s.Worst.Met, true)
			a.heats("worst of "+what, s.Hot, &s.Worst)
		}
		a.is("sorted wires, "+what, slices.IsSorted(s.Wires), true)
		if o := s.On; o != nil {
			for _, c := range o.Fuses {
				a.is("still on its way, "+what, opens(a.Fuse(c.Fuse).Gate, float64(c.Amps/a.Fuse(c.Fuse).Rating)) == 0, true)
			}
			a.is("less goes on, "+what, o.Amps <= s.Amps*(1+1e-9) || len(s.Fuses) > 1, true)
			if o.Hot >= 0 {
				a.is("hot one of what goes on, "+what, slices.Contains(o.Wires, o.Hot), true)
			}
		}
	}
}

// strikes solves each short again, with copper as hot as its insulation stands at the weakest and as cold as the case at the strongest.
func (a *auditor) strikes() {
	solved := map[string]*solve.Faults{}
	for i := range a.Shorts {
		s := &a.Shorts[i]
		k := fmt.Sprint(s.Case, s.Strong)
		f := solved[k]
		if f == nil {
			side, cold := solve.Weakest, unit.Temperature(20)
			if s.Strong {
				side = solve.Strongest
				for _, z := range a.job.Zones {
					air, _ := heat.Ambient(a.job, design.Scope{Zone: z.Name, Case: s.Case})
					cold = min(cold, air)
				}
			}
			temps := make([]unit.Temperature, len(a.nt.Wires))
			for w := range temps {
				if temps[w] = cold; !s.Strong {
					temps[w] = max(20, a.fit.Sizes[w].Heat)
				}
			}
			for _, c := range a.job.Cases {
				if c.Name == s.Case {
					f = solve.NewFaults(a.job, a.nt, a.fit.Sizes, temps, c, side)
				}
			}
			solved[k] = f
		}
		what := fmt.Sprintf("amps of short at %s in %s, strong %v", s.At, s.Case, s.Strong)
		switch {
		case s.Metal != "":
			from := slices.Index(f.Net.Nodes, strings.TrimSuffix(s.At, " to "+s.Metal))
			a.same(what, float64(s.Amps), float64(f.Between(from, slices.Index(f.Net.Nodes, s.Metal), 0).Amps))
		case s.Wire < 0:
			e := slices.IndexFunc(f.Net.Elements, func(e solve.Element) bool {
				return e.Device == s.Device && e.Index == s.Index && (e.Kind == solve.Coil && s.Coil || e.Kind == solve.Supply && s.Supply || e.Kind == solve.Load && !s.Coil && !s.Supply)
			})
			a.same(what, float64(s.Amps), float64(f.AtLoad(e).Amps))
		}
	}
}

func (a *auditor) pairs() {
	for _, p := range a.Pairs {
		name := fmt.Sprint(p.Up, p.Down)
		a.is("ahead "+name, slices.Contains(a.Fuse(p.Down).Ahead, p.Up), true)
		if !p.Known {
			a.is("unknown "+name, p.Met, false)
			continue
		}
		a.is("pair met "+name, p.Met, p.DownLatest < p.UpEarliest)
		a.same("pair energies "+name, float64(p.UpEnergy)/float64(p.DownEnergy), float64(p.UpEarliest)/float64(p.DownLatest))
		up := math.Sqrt(float64(p.UpEnergy) / float64(p.UpEarliest))
		a.same("pair earliest "+name, float64(p.UpEarliest), holds(a.Fuse(p.Up).Gate, up/float64(a.Fuse(p.Up).Rating)))
	}
}

func (a *auditor) curves() {
	th := heat.NewThermal(a.job, a.nt, a.fit.Sizes, a.fit.Cases, a.fit.Duty)
	if len(a.Curves) != len(a.Fuses) {
		a.Fatalf("%d curves of %d fuses", len(a.Curves), len(a.Fuses))
	}
	for i, c := range a.Curves {
		f := &a.Fuses[i]
		a.is("curve's fuse", c.Fuse == f.FuseRef, true)
		if c.Wire < 0 {
			continue
		}
		a.is("curve's wire", slices.Contains(f.Wires, c.Wire), true)
		least := math.Inf(1)
		for _, w := range f.Wires {
			least = math.Min(least, float64(th.Sustained(w, a.fit.Sizes[w].Heat+unit.Temperature(a.job.Settings.Get("overload-rise", design.Scope{}).Value.Quantity.Value))))
		}
		a.same("curve's rest", float64(c.Rest), least)
		a.same("curve's limit", float64(c.Limit), float64(a.fit.Sizes[c.Wire].Heat)+a.job.Settings.Get("short-rise", design.Scope{}).Value.Quantity.Value)
		for k, p := range c.Points {
			a.is("curve above its rest", p.Amps > c.Rest, true)
			a.is("curve within 1 to 20 times", float64(p.Amps) >= float64(f.Rating)*(1-1e-9) && float64(p.Amps) <= 20*float64(f.Rating)*(1+1e-9), true)
			if k > 0 {
				a.is("curve falls", p.Lasts < c.Points[k-1].Lasts, true)
				a.same("curve's steps", math.Log(float64(p.Amps/c.Points[k-1].Amps)), math.Log(20)/24)
			}
		}
	}
}

// yard is a small job that has a bit of everything: two batteries and an alternator, fuses in rows of three, cables side by side, a start, rhythms, a
// coil, a bond of the shell, a wire too thin for its fuse, one too long for a short to clear.
const yard = `device bat at spot section body {
  pin pos, neg stud M8
  supply 12.6 V inside 8 mohm from pos to neg low 11.8 V high 13.2 V
}
device second at spot section body {
  pin pos, neg stud M8
  supply 12.5 V inside 12 mohm from pos to neg
}
device alt at spot section body {
  pin b, e stud M8
  supply 14.4 V inside 20 mohm most 70 A from b to e
}
device strip at spot section body {
  pin bus, a, b, c stud M8
  fuse bolt-100 from bus to a
  fuse bolt-60 from bus to b
  fuse bolt-100 from bus to c
}
device box at spot section body zone cabin {
  pin in, 1, 2, 3, 4, 5 stud M5
  fuse blade-10 from in to 1
  fuse blade-15 from in to 2
  fuse blade-5 from in to 3
  fuse blade-20 from in to 4
  fuse blade-30 from in to 5
}
device inline at spot section body {
  pin in, out stud M5
  fuse blade-3 from in to out
}
device shell at spot section body {
  pin front, rear stud M8
  joins front, rear resistance 2 mohm
}
device bar at spot section body {
  pin 1 stud M8
}
device lamp at spot section body {
  pin 1, 2 stud M5
  draw 5 A at 12 V as resistance from 1 to 2
}
device small at spot like lamp
device pump at spot section body {
  pin 1, 2 stud M5
  draw 8 A at 12 V as power from 1 to 2 start 24 A for 0.2 s
}
device blink at spot section body {
  pin 1, 2 stud M5
  draw 3 A at 12 V as resistance from 1 to 2 on 0.7 s off 0.7 s
}
device horn at spot section body {
  pin 1, 2 stud M5
  draw 6 A from 1 to 2 on 2 s
}
device relay at spot section body {
  pin 30, 87, 85, 86 stud M5
  coil 85 ohm from 86 to 85 moves on
  state on joins 30, 87 resistance 3 mohm
}
device heater at spot section body {
  pin 1, 2 stud M5
  draw 14 A at 12 V as resistance from 1 to 2
}
circuit bat-main from bat.pos to strip.a size 25 mm2 length 400 mm
circuit alt-main from alt.b to strip.bus size 16 mm2 length 600 mm
circuit second-main from second.pos to strip.c size 25 mm2 length 500 mm
circuit box-feed from strip.b to box.in size 10 mm2 length 1500 mm
circuit lamp-feed from box.1 to lamp.1 length 4 m
circuit thin from box.2 to heater.1 size 0.75 mm2 length 2 m
circuit far from box.3 to inline.in size 0.5 mm2 length 12 m
circuit far-on from inline.out to small.1 size 0.35 mm2 length 30 m
circuit work from box.4 to blink.1, horn.1 length 3 m
circuit relay-feed from box.5 to relay.30 length 800 mm
circuit pump-feed from relay.87 to pump.1 length 3 m parallel 2
circuit pull from box.1 to relay.86 length 900 mm
circuit pull-back from relay.85 to bar.1 length 500 mm
circuit back from lamp.2, small.2, pump.2, blink.2, horn.2, heater.2 to bar.1 length 2 m
circuit bar-earth from bar.1 to bat.neg size 16 mm2 length 500 mm
circuit bond from shell.rear to bat.neg size 6 mm2 length 700 mm
circuit tie from second.neg to bat.neg size 25 mm2 length 300 mm
circuit alt-back from alt.e to shell.front size 16 mm2 length 500 mm
set overload-rise to 15 K
case parked { supply bat at 12 V }
case run {
  supply bat, alt, second
  zone cabin air 70 C
}
`

var whole = flag.Bool("whole", false, "work the claims of whole example jobs as well")

// TestClaimsWorkedAgain takes the claims of a job one by one and works each out again from what it says it rests on.
func TestClaimsWorkedAgain(t *testing.T) {
	check := func(f found) {
		a := &auditor{t, f, map[string]int{}}
		a.fuses()
		a.wires()
		a.shorts()
		a.strikes()
		a.pairs()
		a.curves()
	}
	met, missed, limited, on, steps, pairs := 0, 0, 0, 0, 0, 0
	for _, text := range []string{
		yard,
		replace(yard, "alt.b to strip.bus", "alt.b to strip.b"),
		replace(yard, "alt.b to strip.bus", "alt.b to box.in", "from box.2 to heater.1", "from box.in to heater.1", "circuit second-main from second.pos to strip.c", "circuit second-main from second.pos to strip.bus"),
	} {
		f := find(t, text)
		check(f)
		pairs += len(f.Pairs)
		for i := range f.Fuses {
			r := &f.Fuses[i]
			if r.Lead { // each pin has something else joined to it
				t.Errorf("%s to %s: taken for the fuse of a lead, of %v", r.Device, r.To, r.Steady)
			}
			// only the pump starts, behind the relay's fuse and the one of the feed; blink and horn work on and off behind the fourth;
			// what they cost in volts makes the pump of constant power draw more by turns
			var starts, works []string
			for _, h := range r.Starts {
				if h.Works {
					works = append(works, h.Device)
				} else {
					starts = append(starts, h.Device)
				}
			}
			slices.Sort(starts)
			slices.Sort(works)
			starts, works = slices.Compact(starts), slices.Compact(works)
			if r.Device == "box" && strings.Join(starts, " ") != map[string]string{"5": "pump"}[r.To] {
				t.Errorf("%s to %s: starts of %v", r.Device, r.To, starts)
			}
			if r.Device == "box" && r.To != "5" && strings.Join(works, " ") != map[string]string{"4": "blink horn"}[r.To] {
				t.Errorf("%s to %s: works %v", r.Device, r.To, works)
			}
		}
		for i := range f.Wires {
			w := &f.Wires[i]
			if w.Met {
				met++
			} else {
				missed++
			}
			if w.Short != nil && len(w.Short.Steps) > 0 {
				steps++
			}
		}
		for i := range f.Shorts {
			if f.Shorts[i].Limited {
				limited++
			}
			if f.Shorts[i].On != nil {
				on++
			}
		}
	}
	if met < 30 || missed < 5 || limited == 0 || on == 0 || steps == 0 || pairs < 20 {
		t.Errorf("the jobs show too little: %d wires met and %d not, %d shorts at a limit, %d go on, %d heat step by step, %d pairs", met, missed, limited, on, steps, pairs)
	}
	if *whole {
		check(example(t, "boat", "tern.loom"))
		check(example(t, "car", "rook.loom"))
	}
}
