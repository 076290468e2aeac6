package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

var relayDrops = &Rule{
	Key: "relay-drops", Title: "a held relay lets go", Severity: diag.Finding,
	Why:     "The dip of a start, or volts that are low within their spread, let a held relay fall: the load stops, the volts recover, it pulls in again, and its contact burns.",
	Formula: "volts at each held coil, steady and while any device starts, each at its own corner of the spreads >= its drop-out",
	Source:  "the relay's own drop-out volts",
	Do:      "Feed the coil from nearer the supply, or what starts from a thicker or another feed.",
	Fires: with(relayJob, "drop-out 3 V", "drop-out 7 V", "draw 2 A at 12 V as resistance from 1 to 2", "draw 2 A at 12 V as resistance from 1 to 2 start 900 A for 0.01 s",
		"inside 10 mohm", "inside 300 mohm", "case on {", "set drop to 50 %\ncase on {"),
	Silent: with(relayJob, "draw 2 A at 12 V as resistance from 1 to 2", "draw 2 A at 12 V as resistance from 1 to 2 start 16 A for 0.01 s"),
	Check: func(m *Model, out *diag.List) {
		told := map[coilKey]bool{}
		for _, c := range m.Cases {
			coils := coilLoads(c)
			for i := range c.Relays {
				r, n := &c.Relays[i], coils[i]
				if !r.On || r.Against || n < 0 || told[coilKey{r.Device, r.Coil}] {
					continue
				}
				corner := c.Corner(n, solve.LeastVolts)
				least, while := coilVolts(&c.Loads[n], corner), ""
				for s := range c.Starts {
					if !c.Starts[s].Moves(n) {
						continue
					}
					k := c.Starts[s].Corner(n, solve.LeastVolts)
					if v := coilVolts(c.Starts[s].Load(n), k); v < least {
						least, while, corner = v, c.Starts[s].Device, k
					}
				}
				if least >= r.DropOut {
					continue
				}
				told[coilKey{r.Device, r.Coil}] = true
				title := fmt.Sprintf("%s lets go in case %s", r.Device, c.Case)
				if while != "" {
					title = fmt.Sprintf("%s lets go while %s starts in case %s", r.Device, while, c.Case)
				}
				d := out.Finding(own(m, r.Device, r.Span), "", title, fmt.Sprintf("Its coil sees %s then%s; it holds down to %s%s.", least, commas(atCorner(corner)), r.DropOut, assumed(r)),
					diag.Subject{Kind: "device", Name: r.Device}).Measured(volts(least), volts(r.DropOut), true)
				d.Case = c.Case
			}
		}
	},
}

type coilKey struct {
	device string
	coil   int
}

// coilLoads is the coil of each relay of a case among its loads; -1 where it is none of them.
func coilLoads(c *solve.CaseResult) []int {
	at := map[coilKey]int{}
	for i := range c.Loads {
		l := &c.Loads[i]
		if _, twice := at[coilKey{l.Device, l.Index}]; l.Coil && !twice {
			at[coilKey{l.Device, l.Index}] = i
		}
	}
	out := make([]int, len(c.Relays))
	for i := range c.Relays {
		n, ok := at[coilKey{c.Relays[i].Device, c.Relays[i].Coil}]
		if out[i] = n; !ok {
			out[i] = -1
		}
	}
	return out
}

// coilVolts is what a coil sees whichever way round it is fed, at its corner where it has one.
func coilVolts(l *solve.LoadResult, k *solve.Corner) unit.Voltage {
	v := max(l.Volts, -l.Volts)
	if k != nil {
		v = min(v, k.Got)
	}
	return v
}

func commas(s string) string {
	if s == "" {
		return ""
	}
	return ", " + s
}

// assumed marks volts that nobody stated.
func assumed(r *solve.RelayResult) string {
	if r.Assumed {
		return " (pull-in or drop-out not stated: a share of its volts, from memory)"
	}
	return ""
}
