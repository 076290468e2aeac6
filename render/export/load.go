package export

import (
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

// loadsMeanwhile gathers what a start tells of, held against the limits for starting.
func loadsMeanwhile(j *fit.Judge, c *solve.CaseResult, start int, which []int) []Load {
	out := []Load{}
	s := &c.Starts[start]
	for _, i := range which {
		out = append(out, load(s.Net, s.Load(i), "starting", j.StartLimits(c, start, i)))
	}
	return out
}

// load is one at an operating point.
func load(n *solve.Network, l *solve.LoadResult, judges string, limits []fit.Limit) Load {
	x := Load{Device: l.Device, From: l.From, To: l.To, Coil: l.Coil, Class: l.Class, Fed: l.Fed, Rests: l.Rests, At: num(l.At), Volts: num(l.Volts), Amps: num(l.Amps),
		Supply: l.Supply, SupplyVolts: num(l.SupplyVolts), FeedDrop: num(l.FeedDrop), ReturnDrop: num(l.ReturnDrop), Limits: []Held{}, Feed: rungs(n, l.Feed, l.FeedDrop+l.ReturnDrop), Return: rungs(n, l.Return, l.FeedDrop+l.ReturnDrop)}
	for _, k := range limits {
		source := "the load's own"
		if k.Ruling.Known {
			source = k.Ruling.Source()
		}
		x.Limits = append(x.Limits, Held{k.Name, num(k.Got), num(k.Value), num(k.Of), num(-k.Over()), k.Met(), judges, source})
	}
	return x
}
