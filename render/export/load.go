package export

import (
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

// loads gathers the loads of a case.
func loads(in Input, c *solve.CaseResult) []Load {
	out := []Load{}
	for i := range c.Loads {
		out = append(out, load(in, c, c.Net, &c.Loads[i], "steady", fit.Limits(in.Job, in.Net, c, &c.Loads[i])))
	}
	return out
}

// loadsMeanwhile gathers what a start tells of, held against the limits for starting.
func loadsMeanwhile(in Input, c *solve.CaseResult, s *solve.StartResult, which []int) []Load {
	out := []Load{}
	for _, i := range which {
		l := s.Load(i)
		out = append(out, load(in, c, s.Net, l, "starting", fit.StartLimits(in.Job, in.Net, c, &c.Loads[i], l)))
	}
	return out
}

// load is one at an operating point.
func load(in Input, c *solve.CaseResult, n *solve.Network, l *solve.LoadResult, judges string, limits []fit.Limit) Load {
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
