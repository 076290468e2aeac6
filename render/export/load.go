package export

import (
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

// loads gathers loads at one operating point; during a start they are held against the limits for starting.
func loads(in Input, c *solve.CaseResult, n *solve.Network, ls []solve.LoadResult, starting string) []Load {
	out := []Load{}
	for i := range ls {
		l := &ls[i]
		x := Load{Device: l.Device, From: l.From, To: l.To, Coil: l.Coil, Class: l.Class, Fed: l.Fed, Rests: l.Rests, At: num(l.At), Volts: num(l.Volts), Amps: num(l.Amps),
			Supply: l.Supply, SupplyVolts: num(l.SupplyVolts), FeedDrop: num(l.FeedDrop), ReturnDrop: num(l.ReturnDrop), Limits: []Held{}, Feed: rungs(n, l.Feed, l.FeedDrop+l.ReturnDrop), Return: rungs(n, l.Return, l.FeedDrop+l.ReturnDrop)}
		limits, judges := []fit.Limit(nil), "steady"
		if starting == "" {
			limits = fit.Limits(in.Job, in.Net, c, l)
		} else if i < len(c.Loads) {
			limits, judges = fit.StartLimits(in.Job, in.Net, c, &c.Loads[i], l), "starting"
		}
		for _, k := range limits {
			source := "the load's own"
			if k.Ruling.Known {
				source = k.Ruling.Source()
			}
			x.Limits = append(x.Limits, Held{k.Name, num(k.Got), num(k.Value), num(k.Of), num(-k.Over()), k.Met(), judges, source})
		}
		out = append(out, x)
	}
	return out
}
