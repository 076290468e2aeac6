package rule

import (
	"loomsheet/harness/diag"
)

var supplyInNoCase = &Rule{
	Key: "supply-in-no-case", Title: "a supply that no case lists", Severity: diag.Finding,
	Why:     "A charger, a slave battery or a trailer's supply feeds whatever it is plugged into. In no case, its wires, fuses and drops are never looked at.",
	Formula: "each device with a supply is live in at least one case, but for what lives on its own draw (the 5 V of a control unit)",
	Source:  "common practice",
	Do:      "Write a case in which it is live: `case charging { supply charger }`.",
	Fires: with(smallJob, "circuit back from", `device slave at (0, 100, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-10 from cell to pos
  supply 12.6 V inside 10 mohm from cell to neg
}
run side from slave to battery section body zone cabin
circuit jump from slave.pos to battery.pos colour red
circuit jump-back from slave.neg to battery.neg colour black
circuit back from`),
	Silent: smallJob,
	Check: func(m *Model, out *diag.List) {
		if len(m.Job.Cases) == 0 {
			return // said once, by no-case
		}
		listed := map[string]bool{}
		for _, c := range m.Job.Cases {
			for _, s := range c.Supplies {
				listed[s.Device] = true
			}
		}
		onDraw := m.Job.WhatLivesOnDraw()
		for _, d := range m.Job.Devices {
			if d.Pattern || len(d.Supplies) == 0 || listed[d.Name] || onDraw(d) {
				continue
			}
			out.Finding(d.Span, "", d.Name+" is live in no case", "Its wires, fuses and volts are not looked at while it supplies. Write a case with `supply "+d.Name+"`.", diag.Subject{Kind: "device", Name: d.Name})
		}
	},
}
