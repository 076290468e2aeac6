package word

import "loomsheet/harness/unit"

// decisionWords stand outside the thing they concern, so that a written file can add to it.
var decisionWords = []Word{
	{Name: "accept", About: refer("finding"), Doc: "A finding that a named person takes responsibility for. It holds the accepted value: if it gets worse the finding opens again.",
		Options: []Option{
			opt("run", refer("run"), "the run it is about"),
			opt("circuit", refer("circuit"), "the circuit it is about"),
			opt("device", refer("device"), "the device it is about"),
			opt("break", refer("break"), "the break it is about"),
			opt("splice", refer("splice"), "the splice it is about"),
			opt("cable", refer("cable"), "the cable it is about"),
			opt("panel", refer("panel"), "the panel it is about"),
			opt("section", refer("section"), "the section it is about"),
			opt("from", end(), "one end of the wire it is about"),
			opt("to", end(), "the other end of that wire"),
			opt("value", measure(), "the value accepted"),
			opt("reason", text(), "why"),
			opt("by", text(), "who takes responsibility"),
			opt("until", free(), "the revision at which it lapses"),
		},
		Example: `accept bend-too-tight run dash value 38 mm reason "moulded boot fitted" by "checker 2" until C`},
	{Name: "cavity", About: refers("cavity"), Doc: "A cavity of a break or a device given to a wire by hand.",
		Options: []Option{
			opt("circuit", refer("circuit"), "the circuit that takes it"),
			opt("from", end(), "one end of the wire, where the circuit has several there"),
			opt("to", end(), "the other end of that wire"),
			opt("contact", refer("contact"), "the contact or lug"),
			opt("seal", refer("seal"), "the seal"),
			opt("order", measure(number), "place in the stack of a stud, 1 lowest"),
			opt("angle", measure(unit.DimAngle), "which way a lug turns from its wire: 0 deg straight"),
			opt("slid-on", refers("sleeve"), "sleeves and boots that go over the wire before its end is made"),
			opt("spare", free(), "kept free for this class"),
		},
		Example: "circuit starter-call from start-button.2 to starter.s\ncavity A.1 circuit starter-call"},
	{Name: "label", About: text(), Doc: "The short mark of a wire.",
		Options: []Option{
			opt("circuit", refer("circuit"), "its circuit"),
			opt("from", end(), "one end of the wire"),
			opt("to", end(), "the other end of the wire"),
		},
		Example: `label "104" circuit fuel-feed from box.f1 to pump.1`},
	{Name: "hole", About: newName(), Doc: "A hole or a stud decided by hand.",
		Options: []Option{
			opt("at", spot(), "where it is"),
			opt("panel", refer("panel"), "the panel it goes through"),
			opt("drill", measure(length), "its diameter"),
			opt("fastener", refer("fastener"), "what goes into it"),
		},
		Example: "hole fw-1 at (1180, 200, 640 mm) panel firewall fastener rivet-nut-m5"},
	{Name: "fixing", About: newName(), Doc: "A clip decided by hand.",
		Options: []Option{
			opt("run", refer("run"), "the run it holds"),
			opt("after", measure(length), "how far from the beginning of the run"),
			dflt("clip", refer("clip"), "set: clip", "what holds the bundle"),
			opt("hole", refer("hole"), "a hole that is named elsewhere"),
			dflt("fastener", refer("fastener"), "set: fastener", "what holds the clip"),
			opt("panel", refer("panel"), "the panel it sits on"),
		},
		Example: "fixing loom-1 run loom after 40 mm clip p-clip hole fw-1"},
}
