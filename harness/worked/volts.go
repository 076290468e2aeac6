package worked

import (
	"loomsheet/harness/margin"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

// Way is a load with a limit whose way leads through a wire.
type Way struct {
	Case  *solve.CaseResult
	Load  *solve.LoadResult
	Step  solve.Step // the wire on that way
	Limit fit.Limit
}

// Tightest finds the load with least room among those whose way leads through a wire and whose limit judges that side; false if there is
// none.
func Tightest(m *Model, wire int) (best Way, found bool) {
	if m.ways == nil {
		m.ways = map[int]Way{}
		judge := fit.NewJudge(m.Job, m.Net)
		for _, c := range m.Cases {
			for i := range c.Loads {
				m.weigh(c, &c.Loads[i], judge.Limits(c, i))
			}
		}
	}
	best, found = m.ways[wire]
	return best, found
}

// weigh keeps for each wire on the way of a load the limit with least room.
func (m *Model) weigh(c *solve.CaseResult, l *solve.LoadResult, limits []fit.Limit) {
	if len(limits) == 0 {
		return
	}
	for n, steps := range [2][]solve.Step{l.Feed, l.Return} {
		for _, s := range steps {
			e := &c.Net.Elements[s.Element]
			if e.Kind != solve.Wire {
				continue
			}
			for _, x := range limits {
				if x.Name == "feed-drop" && n == 1 || x.Name == "return-drop" && n == 0 {
					continue
				}
				if old, ok := m.ways[e.Wire]; !ok || x.Over() > old.Limit.Over() {
					m.ways[e.Wire] = Way{c, l, s, x}
				}
			}
		}
	}
}

func (k *maker) volts() {
	k.part("Volts")
	b, ok := Tightest(k.Model, k.wire)
	if !ok {
		k.put(Line{What: "Limits on volts", Formula: "none judges a load whose way leads through it"})
		return
	}
	t := 20.0
	if k.Heat != nil && k.wire < len(k.Heat.Temps[b.Case.Case]) {
		t = float64(k.Heat.Temps[b.Case.Case][k.wire])
	}
	r := k.r20 * (234.5 + t) / 254.5
	first := k.put(Line{What: "Warm, in case " + b.Case.Case, Formula: "R = R20 x (234.5 + T) / 254.5",
		Inputs: []Input{in("R20", k.r20, "mohm", from(k.lineOf("R20 = r x L"))), in("T", t, "C", "mean of its way in the case, by the heat balance; formula: AC 43.13-1B para 11-66d")}, Result: short(r, "mohm")})
	drop := float64(b.Step.Drop)
	amps := float64(b.Step.Amps)
	k.put(Line{What: "Lost in this wire", Formula: "U = R x I", Inputs: []Input{in("R", r, "mohm", from(first)), in("I", amps, "A", "nodal solution of case "+b.Case.Case+", all that it carries")}, Result: short(drop*1000, "mV")})
	l := b.Load
	lost := float64(l.FeedDrop + l.ReturnDrop)
	k.put(Line{What: "Least room on its way: " + loadName(l) + " in case " + b.Case.Case + ", lost out and back", Formula: "D = Df + Dr",
		Inputs: []Input{in("Df", float64(l.FeedDrop)*1000, "mV", "its ladder, out"), in("Dr", float64(l.ReturnDrop)*1000, "mV", "its ladder, back")}, Result: short(lost*1000, "mV"),
		Note: "of " + l.SupplyVolts.String() + " at " + l.Supply})
	k.limit(&b)
	k.steps(&b)
}

// steps is what the limit becomes with every wire on the way one size up and one size down, solved again.
func (k *maker) steps(b *Way) {
	if k.Fit == nil {
		return
	}
	for i := range b.Case.Loads {
		if &b.Case.Loads[i] != b.Load {
			continue
		}
		for _, s := range margin.Steps(k.Job, k.Fit, b.Case, i) {
			if s.Limit.Name != b.Limit.Name {
				continue
			}
			for _, c := range []*margin.Change{s.Up, s.Down} {
				if c != nil {
					k.put(Line{What: "Tried: " + c.What, Formula: "solved again", Result: short(float64(c.Got), "V"), Limit: k.judged(b), Room: short(float64(c.Gain)-float64(b.Limit.Over()), "V"), Met: c.Meets, Note: c.Note})
				}
			}
		}
	}
}

// judged is the limit in words.
func (k *maker) judged(b *Way) string {
	if b.Limit.Floor {
		return "at least " + short(float64(b.Limit.Value), "V")
	}
	return "at most " + short(float64(b.Limit.Value), "V")
}

// limit is the lines that judge.
func (k *maker) limit(b *Way) {
	x := &b.Limit
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
	line := Line{What: "Judged", Formula: "room = m - D", Inputs: []Input{at(in("m", m, "V", source), x.Span), in("D", float64(x.Got), "V", "lost in case "+b.Case.Case)}, Result: short(-float64(x.Over()), "V"),
		Limit: k.judged(b), Room: short(-float64(x.Over()), "V"), Met: x.Met()}
	if x.Floor {
		line.Formula = "room = D - m"
		line.Inputs[1].Source = "left at the load in case " + b.Case.Case
	}
	if x.Corner != nil {
		for _, m := range x.Corner.Moved {
			line.Inputs = append(line.Inputs, Input{Value: m.To, Source: m.What + ", where this result is worst; " + m.From + " in the case"})
		}
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
