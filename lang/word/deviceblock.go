package word

func drawOptions(more ...Option) []Option {
	return append([]Option{
		dflt("at", measure(volts), "set: drop-of", "the volts at which it was measured"),
		dflt("as", choice("current", "power", "resistance"), "A: current; W: power; ohm: resistance", "how it answers when the volts change: lamps, heaters and starters are a resistance, most electronics and pump motors a power"),
		opt("from", ends(), "its plus pin; a list is one load each"),
		opt("to", ends(), "its minus pin"),
		opt("start", measure(amps), "current when it starts"),
		opt("for", measure(seconds), "how long it takes to start"),
		dflt("on", measure(seconds), "all the time", "how long it runs at a time"),
		opt("off", measure(seconds), "how long it rests between"),
		opt("least", measure(volts), "the lowest volts at which it still works"),
		opt("low", measure(amps, watts, ohms), "the lowest its value may be"),
		opt("high", measure(amps, watts, ohms), "the highest its value may be"),
		opt("tolerance", measure(share), "how far its value may be off to either side"),
	}, more...)
}

// deviceBlockWords are lines in the block of a device.
var deviceBlockWords = []Word{
	{Name: "housing", In: "device", About: refer("housing"), Doc: "A housing of the device, when it has several.",
		Options: []Option{
			opt("as", free(), "prefix of its cavities: `as a` makes them a.1, a.2"),
			dflt("at", spot(), "that of the device", "where it sits"),
			opt("key", free(), "its key"),
			dflt("boot", refer("boot"), "that of the housing", "the boot or backshell over its back"),
		},
		Example: `device logger at (1500, 380, 300 mm) {
  housing sealed-2 as a
  housing sealed-3 as b
}`},
	{Name: "pin", In: "device", About: newNames(), Doc: "Names pins. A pin without a line is called by its cavity. A stud takes lugs and may hold several circuits.",
		Options: []Option{
			dflt("cavity", refers("cavity"), "same name", "their cavities, one each"),
			opt("stud", free(), "thread of a stud, such as M8"),
			opt("torque", measure(torque), "torque of its nut"),
			dflt("at", spot(), "that of the device", "where it sits"),
			opt("panel", refer("panel"), "the panel it sits on"),
		},
		Example: `device battery at (1600, 420, 330 mm) {
  pin pos, neg stud M8 torque 9 Nm
  supply 12.7 V inside 5 mohm from pos to neg
}`},
	{Name: "inner", In: "device", About: newNames(), Doc: "Joints inside the device that nobody can reach.",
		Example: `device box at (1320, 330, 620 mm) housing sealed-4 {
  pin in stud M6
  pin f[1..3] cavity [1..3]
  inner live
  state on joins in, live resistance 2 mohm
  fuse blade-20 from live to f[1..3]
  unused 4
}`},
	{Name: "unused", In: "device", About: refers("cavity"), Doc: "Cavities left empty on purpose.",
		Example: "device plate at (1540, 0, 700 mm) housing sealed-3 {\n  draw 5 W at 12 V as resistance from 1 to 2\n  unused 3\n}"},
	{Name: "bolted", In: "device", About: refers("device"), Doc: "The device whose metal it shares. Its ends may be pins of that one.",
		Example: `device block at (1000, -210, 380 mm) section engine {
  pin main stud M10
}
device starter at (1020, 225, 330 mm) section engine {
  bolted block
  pin b stud M8
  pin s stud M5
  inner m
  coil 11 A at 13.5 V as resistance from s to block.main start 32 A for 0.05 s moves on pull-in 8 V drop-out 4 V
  state on joins b, m
  draw 55 mohm from m to block.main on 8 s start 420 A for 0.06 s
}`},
	{Name: "supply", In: "device", About: measure(volts), Doc: "A source of volts: a battery, an alternator, the 5 V of a control unit. `from` is its plus.",
		Options: []Option{
			dflt("inside", measure(ohms), "set: supply-inside", "its inside resistance"),
			dflt("most", measure(amps), "none", "the most it gives"),
			opt("stores", measure(charge), "what a battery holds when full"),
			opt("from", end(), "its plus pin"),
			opt("to", end(), "its minus pin"),
			opt("low", measure(volts), "the lowest its volts may be"),
			opt("high", measure(volts), "the highest its volts may be"),
		},
		Example: `device alternator at (600, -250, 430 mm) section engine {
  pin b, e stud M6
  supply 14.2 V inside 12 mohm most 110 A from b to e low 13.8 V high 14.6 V
}`},
	{Name: "draw", In: "device", About: measure(amps, watts, ohms), Doc: "A load. It draws whenever it is fed, unless a case rests it. `from` is its plus.",
		Options: drawOptions(opt("peak", measure(amps), "highest current of a load that pulses")),
		Example: `device fan at (200, 0, 430 mm) housing sealed-2 {
  draw 22 A at 13.5 V as power from 1 to 2 on 60 s off 120 s start 68 A for 0.5 s
}`},
	{Name: "coil", In: "device", About: measure(amps, watts, ohms), Doc: "The coil of a relay or solenoid: a load that moves a state of its own device.",
		Options: drawOptions(
			dflt("moves", refer("state"), "the only one", "the state it closes; it rests in off"),
			opt("pull-in", measure(volts), "volts at which it surely moves"),
			opt("drop-out", measure(volts), "volts at which it surely falls back"),
		),
		Example: `device horn-relay at (1330, 300, 600 mm) housing relay-base {
  coil 85 ohm from 86 to 85 pull-in 8 V drop-out 3 V
  state on joins 30, 87
}`},
	{Name: "state", In: "device", About: newName(), Doc: "A position of a switch or relay and the pins it joins. `off` is always there and joins nothing unless a line says so. A dot makes independent groups: `fan.on`.",
		Options: []Option{
			opt("joins", refers("pin"), "the pins it joins: one contact"),
			dflt("resistance", measure(ohms), "set: contact-resistance", "of that contact"),
			opt("rating", measure(amps), "what the contact carries"),
		},
		Example: `device ignition, start-button at (1400, 20, 720 mm) housing sealed-2 {
  state on joins 1, 2 rating 20 A
}`},
	{Name: "joins", In: "device", About: refers("pin"), Doc: "Pins that are always joined. Three pins or more are a star, with the resistance in each arm. A resistance per length is for two pins: it counts for the straight distance between their places, where a pin without `at` sits at its housing or its device.",
		Options: []Option{dflt("resistance", measure(ohms, perMetre), "set: joint-resistance", "between them, or of the metal per length of the straight way between two pins: `1 mohm/m`")},
		Example: `device shell at (1300, 0, 300 mm) {
  pin nose  at (60, -380, 420 mm)  stud M6
  pin cabin at (1300, 380, 520 mm) stud M8
  pin rear  at (3100, 380, 520 mm) stud M8
  joins nose, cabin resistance 3 mohm
  joins cabin, rear resistance 1 mohm/m
}`},
	{Name: "fuse", In: "device", About: refer("fuse"), Doc: "A fuse between two pins; a list on one side is one fuse each.",
		Options: []Option{opt("from", ends(), "the pin it is fed from"), opt("to", ends(), "the pin it feeds")},
		Example: `device bank-fuse at (1620, 380, 330 mm) {
  pin in, out stud M8
  fuse bolt-80 from in to out
}`},
	{Name: "diode", In: "device", About: measure(volts), Doc: "A diode with its forward volts.",
		Options: []Option{opt("from", end(), "anode"), opt("to", end(), "cathode")},
		Example: `device tell-tale at (1420, -100, 740 mm) housing sealed-2 {
  diode 0.7 V from 1 to 2
}`},
	{Name: "reads", In: "device", About: measure(), Doc: "What a sensor's volts mean, so that a lost volt is printed in the sensor's own unit.",
		Options: []Option{
			opt("per", measure(volts), "the volts that stand for the value"),
			opt("from", end(), "signal pin"),
			opt("to", end(), "reference pin"),
		},
		Example: `device oil-press at (880, 235, 420 mm) housing sealed-3 section engine class signal {
  reads 250 kPa per 1 V from 3 to 2
}`},
}
