package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/free"
)

var fedBackWhenUndone = &Rule{
	Key: "fed-back-when-undone", Title: "a load is fed the wrong way while something is undone", Severity: diag.Finding,
	Why:     "With a shared earth gone what is on pulls current backward through what is off; with a shared neutral gone a load gets the volts of two.",
	Formula: "solved after each step in every case: current runs backward through a load, or comes to it through another one, or its volts pass those of its supply by `undone-volts`",
	Source:  "common practice: battery minus first",
	Do:      "List the minus of the battery first in `undo`, or the feeds before the return that they share.",
	Fires:   sharedReturn + "removal nose-off section nose undo Q, P\n",
	Silent:  sharedReturn + "removal nose-off section nose undo battery.neg, Q, P\n",
	Check: func(m *Model, out *diag.List) {
		eachStep(m, func(p *free.Part, s *free.Step) {
			if list := lossesOf(s, free.Backward, free.Through, free.Risen); len(list) > 0 {
				d := out.Finding(s.Span, "", fmt.Sprintf("%s: with %s undone %s: %s", partName(p), stepName(s), list[0].Load, list[0].Kind), lossTexts(list), aboutStep(s))
				d.Case = list[0].InCase
			}
		})
	},
}

// sharedReturn has lamp and horn on one return, and a tell-tale beside the lamp's switch; the lamp is off in one case.
var sharedReturn = with(returnApart, "circuit back from battery.neg to lamp.2 colour black class returns\n", `splice s section nose
circuit back class returns colour black {
  from battery.neg to s
  from s to lamp.2, horn.2
}
`, "circuit horn-back from battery.neg to horn.2 colour black class returns\n", "",
	"circuit feed from battery.pos to lamp.1 colour red class feeds", `device switch at (100, -100, 0 mm) {
  pin 1, 2 stud M5
  state on joins 1, 2
}
run dash from battery to switch section body zone cabin
circuit live from battery.pos to switch.1
circuit tell from switch.2 to dome.1
circuit feed from switch.2 to lamp.1 colour red class feeds`, "circuit dome-feed from battery.pos to dome.1\n", "",
	"case on { supply battery }", "case on {\n  supply battery\n  set switch to on\n}\ncase dark { supply battery }")
