package word

// blockWords are lines in the blocks of all words but device.
var blockWords = []Word{
	{Name: "from", In: "run", About: spots(), Doc: "A stretch of the run, or a fan of straight stretches.",
		Options: []Option{
			again("to", spots(), "where it goes; `to` again goes on from there, a comma makes a straight stretch to each"),
			opt("length", measure(length), "length measured with a string; it wins over the coordinates"),
			opt("slack", measure(length), "length added on purpose"),
			opt("date", text(), "when it was measured"),
			opt("moves", measure(length), "how far one end moves against the other in use"),
		},
		Example: `run loom section engine zone bay sleeve braid {
  from A to (1100, 100, 700 mm) to starter length 520 mm slack 20 mm
  from (1100, 100, 700 mm) to crank, block, alternator
}`},
	{Name: "position", In: "hazard", About: text(), Doc: "A further position of something that moves, in its own words. All of them are kept clear of.",
		Options: []Option{
			opt("between", places(2, 2), "two opposite corners of the box that holds it there"),
			opt("from", spot(), "one end, where it is a line"),
			again("to", spot(), "the other end; `to` again goes on from there"),
		},
		Example: `hazard track-rod as moving outside 22 mm {
  position "straight ahead" from (120, -560, 300 mm) to (120, -120, 300 mm)
  position "full lock left" from (60, -560, 300 mm) to (90, -120, 300 mm)
  position "full lock right" from (190, -560, 300 mm) to (150, -120, 300 mm)
}`},
	{Name: "half", In: "break", About: refer("section"), Doc: "One half of the break: which section carries it, and whether its contacts are pins or sockets. The half that can stay live takes sockets.",
		Options: []Option{
			opt("contacts", choice("pins", "sockets"), "what this half carries"),
			dflt("mount", choice("fixed", "free"), "free", "fixed to the panel, or on the cable"),
			dflt("housing", refer("housing"), "that of the break", "its housing, where the halves differ"),
			dflt("boot", refer("boot"), "that of the housing", "the boot or backshell over its back"),
			dflt("fitted", choice("yes", "no"), "no", "it comes on its wires, moulded or crimped by its maker: nothing can be slid on over it later"),
		},
		Example: `break post at (1180, 300, 430 mm) panel firewall housing stud-post-m10 {
  half tub
  half engine
}`},
	{Name: "from", In: "circuit", About: ends(), Doc: "A link of the circuit, or several. Its options concern this link; those of the circuit are for all.",
		Options: append([]Option{
			again("to", ends(), "the other end, or several; `to` again goes on from there"),
		}, wireOptions...),
		Example: `circuit main colour red {
  from battery.pos to bank-fuse.in size 25 mm2
  from bank-fuse.out to box.in size 10 mm2
}`},
	{Name: "supply", In: "case", About: refers("device"), Doc: "A supply that is live in this case. One that is not listed is disconnected.",
		Options: []Option{
			dflt("at", measure(volts), "the device's", "its volts in this case"),
			dflt("inside", measure(ohms), "the device's", "its inside resistance in this case"),
		},
		Example: "case night like running {\n  supply battery at 12.4 V inside 6 mohm\n}"},
	{Name: "set", In: "case", About: refers("switch"), Doc: "How switches and relays stand. A relay that is not named follows its coil.",
		Options: []Option{dflt("to", refer("state"), "off", "the state")},
		Example: "case cranking like running {\n  set start-button to on\n}"},
	{Name: "off", In: "case", About: refers("device"), Doc: "Loads that rest although they are fed, or supplies that are disconnected.",
		Example: "case quiet like running {\n  off pump\n}"},
	{Name: "works", In: "case", About: refers("device"), Doc: "Loads that must run in this case.",
		Example: "case pumping like running {\n  works pump\n}"},
	{Name: "zone", In: "case", About: refers("zone"), Doc: "The air of a zone in this case; the only way to change a zone's own.",
		Options: []Option{opt("air", measure(celsius), "temperature of the air")},
		Example: "case winter like running {\n  zone cabin, bay air -5 C\n}"},
}
