package worked

import (
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

// way is a load with a limit whose way leads through the wire.
type way struct {
	c     *solve.CaseResult
	load  *solve.LoadResult
	step  solve.Step
	limit fit.Limit
}

// tightest finds the load with least room among those whose way leads through the wire and whose limit judges that side.
func (k *maker) tightest() (best way, found bool) {
	for _, c := range k.Cases {
		for i := range c.Loads {
			l := &c.Loads[i]
			s, feed, ok := k.on(c, l)
			if !ok {
				continue
			}
			for _, x := range fit.Limits(k.Job, k.Net, c, l) {
				if x.Name == "feed-drop" && !feed || x.Name == "return-drop" && feed {
					continue
				}
				if !found || x.Over() > best.limit.Over() {
					best, found = way{c, l, s, x}, true
				}
			}
		}
	}
	return best, found
}

// on finds the step of a load's way that is the wire.
func (k *maker) on(c *solve.CaseResult, l *solve.LoadResult) (s solve.Step, feed, ok bool) {
	for n, steps := range [2][]solve.Step{l.Feed, l.Return} {
		for _, s := range steps {
			if e := &c.Net.Elements[s.Element]; e.Kind == solve.Wire && e.Wire == k.wire {
				return s, n == 0, true
			}
		}
	}
	return s, false, false
}

func (k *maker) volts() {
	k.part("Volts")
	b, ok := k.tightest()
	if !ok {
		k.put(Line{What: "Limits on volts", Formula: "none judges a load whose way leads through it"})
		return
	}
	t := 20.0
	if k.Heat != nil && k.wire < len(k.Heat.Temps[b.c.Case]) {
		t = float64(k.Heat.Temps[b.c.Case][k.wire])
	}
	r := k.r20 * (234.5 + t) / 254.5
	first := k.put(Line{What: "Warm, in case " + b.c.Case, Formula: "R = R20 x (234.5 + T) / 254.5",
		Inputs: []Input{in("R20", k.r20, "mohm", from(k.lineOf("R20 = r x L"))), in("T", t, "C", "mean of its way in the case, by the heat balance; formula: AC 43.13-1B para 11-66d")}, Result: short(r, "mohm")})
	drop := float64(b.step.Drop)
	amps := float64(b.step.Amps)
	k.put(Line{What: "Lost in this wire", Formula: "U = R x I", Inputs: []Input{in("R", r, "mohm", from(first)), in("I", amps, "A", "nodal solution of case "+b.c.Case+", all that it carries")}, Result: short(drop*1000, "mV")})
	l := b.load
	lost := float64(l.FeedDrop + l.ReturnDrop)
	k.put(Line{What: "Least room on its way: " + loadName(l) + " in case " + b.c.Case + ", lost out and back", Formula: "D = Df + Dr",
		Inputs: []Input{in("Df", float64(l.FeedDrop)*1000, "mV", "its ladder, out"), in("Dr", float64(l.ReturnDrop)*1000, "mV", "its ladder, back")}, Result: short(lost*1000, "mV"),
		Note: "of " + l.SupplyVolts.String() + " at " + l.Supply})
	k.limit(&b)
}

// limit is the lines that judge.
func (k *maker) limit(b *way) {
	x := &b.limit
	source := "the load's own"
	if x.Ruling.Known {
		source = x.Name + ": " + x.Ruling.Source()
	}
	m := float64(x.Value)
	n := k.number
	if x.Of > 0 {
		n = k.put(Line{What: "Limit " + x.Name + ", out and back", Formula: "m = p x V / 100", Result: short(m, "V"), Inputs: []Input{at(in("p", x.Ruling.Value.Quantity.Value*100, "%", source), x.Ruling.Span),
			in("V", float64(x.Of), "V", "drop-of, else the volts the load was measured at")}})
		source = from(n)
	}
	line := Line{What: "Judged", Formula: "room = m - D", Inputs: []Input{at(in("m", m, "V", source), x.Span), in("D", float64(x.Got), "V", "lost in case "+b.c.Case)}, Result: short(-float64(x.Over()), "V"),
		Limit: "at most " + short(m, "V"), Room: short(-float64(x.Over()), "V"), Met: x.Met()}
	if x.Floor {
		line.Formula, line.Limit = "room = D - m", "at least "+short(m, "V")
		line.Inputs[1].Source = "left at the load in case " + b.c.Case
	}
	k.put(line)
}

// lineOf is the number of the first line with a formula, 0 if there is none.
func (k *maker) lineOf(formula string) int {
	for _, p := range k.s.Parts {
		for _, l := range p.Lines {
			if l.Formula == formula {
				return l.Number
			}
		}
	}
	return 0
}

func loadName(l *solve.LoadResult) string {
	s := l.Device
	if l.Coil {
		s += " coil"
	}
	return s + " " + l.From + " - " + l.To
}
