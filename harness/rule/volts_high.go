package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

var voltsHigh = &Rule{
	Key: "volts-high", Title: "a load gets too many volts", Severity: diag.Finding,
	Why:     "A lamp for 12 V on 24 V draws twice its current at four times its watts: it burns out at once, a coil or a control unit somewhat later.",
	Formula: "volts at the load, steady, at its own worst corner <= most-volts where that is set, else the volts it says it was measured at and volts-over more",
	Source:  "the setting `most-volts`, else the load's own `at` with the setting `volts-over`",
	Do:      "Take a load for these volts, or feed it from where there are fewer; where its maker allows them, write so: `set most-volts to 32 V device lamp`.",
	Fires:   with(stringJob, "at 48 V", "at 24 V"),
	Silent:  with(stringJob, "at 48 V", "at 24 V") + "set most-volts to 50 V device lamp\n",
	Check: func(m *Model, out *diag.List) {
		type load struct {
			device string
			coil   bool
			index  int
		}
		type worst struct {
			load  *solve.LoadResult
			limit fit.Limit
			c     *solve.CaseResult
		}
		found := map[load]*worst{}
		var order []load
		judge := fit.NewJudge(m.Job, m.Net)
		for _, c := range m.Cases {
			for i := range c.Loads {
				k, ok := judge.Most(c, i)
				if !ok || k.Met() {
					continue
				}
				l := &c.Loads[i]
				key := load{l.Device, l.Coil, l.Index}
				old := found[key]
				if old == nil {
					order = append(order, key)
				}
				if old == nil || unit.WorseBy(k.Over(), old.limit.Over(), leastOver) {
					found[key] = &worst{l, k, c}
				}
			}
		}
		for _, key := range order {
			w := found[key]
			d := out.Finding(own(m, w.load.Device, w.load.Span), "", fmt.Sprintf("%s gets %s, at most %s", w.load.Device, w.limit.Got, w.limit.Value),
				tooManyVolts(w.load, &w.limit, w.c), diag.Subject{Kind: "device", Name: w.load.Device}).Measured(volts(w.limit.Got), volts(w.limit.Value), false)
			d.Case = w.c.Case
			if !w.limit.Span.IsZero() {
				d.Point(w.limit.Span, "the limit is set here")
			}
		}
	},
}

func tooManyVolts(l *solve.LoadResult, k *fit.Limit, c *solve.CaseResult) string {
	var b strings.Builder
	fmt.Fprintf(&b, "In case %s%s", c.Case, commas(atCorner(k.Corner)))
	if l.Supply != "" {
		fmt.Fprintf(&b, ", fed by %s", l.Supply)
	}
	switch {
	case k.Name == "most-volts":
		fmt.Fprintf(&b, ". The limit is %s", k.Value)
	default:
		fmt.Fprintf(&b, ". It was measured at %s; the limit is %s more", l.At, k.Ruling.Value)
	}
	fmt.Fprintf(&b, " (%s).", k.Ruling.Source())
	return b.String()
}
