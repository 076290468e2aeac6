package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/free"
)

var earthLostFirst = &Rule{
	Key: "earth-lost-first", Title: "a load keeps its feed and loses its earth while something is undone", Severity: diag.Finding,
	Why:     "What is still fed and has no earth finds another way back: through a signal, a screen, the hand of the fitter.",
	Formula: "solved after each step in every case: a load that was fed is not, and its plus still stands at half the volts or more of a supply whose minus still meets something; a return that a switch opens anyway is not asked",
	Source:  "common practice: battery minus first",
	Do:      "List the minus of the battery first in `undo`, and of two breaks the one with the feed before the one with the return.",
	Fires:   returnApart + "removal nose-off section nose undo Q, P\n",
	Silent:  returnApart + "removal nose-off section nose undo battery.neg, Q, P\n",
	Check: func(m *Model, out *diag.List) {
		eachStep(m, func(p *free.Part, s *free.Step) {
			if list := lossesOf(s, free.Earth); len(list) > 0 {
				d := out.Finding(s.Span, "", fmt.Sprintf("%s: with %s undone %s keeps its feed and has no return", partName(p), stepName(s), list[0].Load), lossTexts(list), aboutStep(s))
				d.Case = list[0].InCase
			}
		})
	},
}

// returnApart is the job with the break in which the returns of the nose have a plug of their own, and a lamp that stays.
var returnApart = with(breakJob, "break P at (400, 0, 0 mm) panel wall housing sealed-4 {", "break P at (400, 0, 0 mm) panel wall housing sealed-4 class feeds {",
	"run rear from battery to P section", "break Q at (400, 100, 0 mm) panel wall housing sealed-12 class returns {\n  half body contacts pins mount fixed\n  half nose contacts sockets mount free\n}\nrun rear from battery to P, Q, dome section",
	"run front from P to lamp, horn section", "point fork at (600, 0, 0 mm)\nrun front from P, Q to fork section nose zone cabin\nrun tails from fork to lamp, horn section",
	"device lamp at", "device dome at (200, 200, 0 mm) housing sealed-2 { draw 1 A at 12 V as resistance from 1 to 2 }\ncircuit dome-feed from battery.pos to dome.1\ncircuit dome-back from battery.neg to dome.2\ndevice lamp at",
	"lamp.1 colour red", "lamp.1 colour red class feeds", "lamp.2 colour black", "lamp.2 colour black class returns",
	"horn.1 colour brown", "horn.1 colour brown class feeds", "horn.2 colour black", "horn.2 colour black class returns")
