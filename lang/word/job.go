package word

// placed is the options of anything that sits somewhere.
func placed(more ...Option) []Option {
	return append([]Option{
		opt("at", spot(), "where it sits: coordinates from the datum, or the name of something that has a place"),
		opt("offset", coords(), "added to the place it is put at"),
		opt("mirror", choice("x", "y", "z"), "changes the sign of that coordinate of the place it is put at"),
		opt("step", coords(), "added once for each further member of a range: `inj[1..4] at (640, 115, 720 mm) step (100, 0, 0 mm)`"),
	}, more...)
}

// wireOptions are what a circuit states for all its links, and a link for itself.
var wireOptions = []Option{
	opt("via", refers("point", "run", "break", "device", "splice"), "what the way must pass, in order"),
	dflt("size", Arg{Kind: Measure, Dims: dims(area, gauge), Choices: []string{"auto"}}, "auto", "conductor size; auto takes the smallest that meets every limit"),
	dflt("wire", refer("wire"), "set: wire", "family of wire"),
	opt("colour", free(), "insulation colour in plain words, the stripe after a slash: red/white"),
	opt("class", free(), "what sort of circuit it is; limits can be set for a class, and a break can be kept for one"),
	dflt("parallel", measure(number), "1", "how many equal wires lie side by side"),
	opt("carries", measure(amps), "current for what no case can show, such as AC or the lead of a meter"),
	opt("length", measure(length), "length of a loose lead that follows no run"),
	opt("section", refer("section"), "section that a loose lead stays on"),
	opt("zone", refer("zone"), "zone in which a loose lead lies"),
	opt("sleeve", refer("sleeve"), "sleeve over the wire itself"),
}

var jobWords = []Word{
	{Name: "harness", About: text(), Doc: "The title of the job. One line in all its files.",
		Options: []Option{
			opt("revision", free(), "the issue of the job, printed on every page"),
			opt("date", text(), "the day of this revision, as you want it printed"),
			opt("datum", text(), "from where coordinates are measured and which way the axes point"),
			dflt("sheet", choice("A4", "A3", "letter"), "A4", "size of paper"),
			dflt("up", choice("x", "y", "z"), "z", "the axis that points up"),
			dflt("painted", free(), "not yet", "the revision since which the body is painted: from then on nothing is drilled or welded"),
		},
		Example: `harness "Kestrel trials car" revision A date "2026-03-02" {
  datum "front axle centre at ground; x aft, y right, z up"
  up z
}`},
	{Name: "include", About: text(), Doc: "Reads another file of the job's folder. All files are one text; their order never matters.",
		Example: `include "frozen.loom"`},
	{Name: "set", About: refers("setting"), Doc: "Changes a limit, factor, allowance or default, for the whole job or for a part of it. Where several scopes stand on one line all must hold; the narrower line rules.",
		Options: []Option{
			opt("to", Arg{Kind: SettingTo}, "the value"),
			opt("section", refers("section"), "only in these sections"),
			opt("zone", refers("zone"), "only in these zones"),
			opt("panel", refers("panel"), "only on these panels"),
			opt("class", frees(), "only for what has one of these classes"),
			opt("run", refers("run"), "only on these runs"),
			opt("circuit", refers("circuit"), "only for these circuits"),
			opt("device", refers("device"), "only for these devices"),
			opt("break", refers("break"), "only for these breaks"),
			opt("case", refers("case"), "only in these cases"),
		},
		Example: "set drop to 10 %\nset drop to 3 % class fuel case night"},
	{Name: "section", About: newNames(), Doc: "A part of the harness that comes away and is built on the bench as one piece. It has sheets of its own.",
		Example: "section tub\nsection engine note \"lifts out between events\""},
	{Name: "zone", About: newNames(), Doc: "A region of the vehicle: how hot the air gets there, and what else a wire meets.",
		Options: []Option{
			dflt("air", measure(celsius), "set: air", "highest temperature of the air"),
			dflt("with", choices("wet", "splash", "oil", "salt", "abrasion", "engine-space"), "dry", "what else is there"),
		},
		Example: "zone cabin air 55 C with splash\nzone bay air 110 C with wet, oil"},
	{Name: "panel", About: newName(), Doc: "A sheet of the body. Wires cross it only at a break or a bush; clips are fixed to it. Its shape is its corners, or points on it where it is not flat.",
		Options: []Option{
			opt("corners", places(3, 0), "corners of a flat sheet, in order round"),
			opt("points", places(3, 0), "places measured on a sheet that is not flat, in any order"),
			opt("thickness", measure(length), "thickness of the sheet"),
			opt("zone", Arg{Kind: Refer, Things: []string{"zone"}, Many: true, Least: 2, Most: 2}, "the zones on its two sides"),
			dflt("seen", refers("zone"), "none", "the zones from which it will be seen: no fixing may show there"),
			dflt("skin", choice("sheet", "bonded"), "sheet", "to a bonded one clips are glued: nothing is drilled or welded for them"),
			again("keep-out", places(3, 0), "corners of an area where nothing may be drilled"),
			opt("like", refer("panel"), "takes over all that the other panel states"),
			opt("mirror", axis(), "for the other hand: changes the sign of that coordinate in the shape it takes over"),
		},
		Example: `panel firewall thickness 1.5 mm zone cabin, bay seen cabin {
  corners (1180, -600, 100 mm), (1180, 600, 100 mm), (1180, 600, 800 mm), (1180, -600, 800 mm)
  keep-out (1180, 340, 500 mm), (1180, 440, 500 mm), (1180, 440, 600 mm), (1180, 340, 600 mm)
}
panel sill-right thickness 1.2 mm zone cabin, cabin skin bonded {
  points (1300, 610, 180 mm), (1900, 625, 175 mm), (2500, 610, 180 mm), (1900, 630, 320 mm)
}
panel sill-left like sill-right mirror y`},
	{Name: "tube", About: newName(), Doc: "A round member of the frame. A run with `tube` is tied to it.",
		Options: []Option{
			opt("from", spot(), "one end of its centre line"),
			again("to", spot(), "the next bend or the other end; `to` again goes on from there"),
			opt("outside", measure(length), "its outside diameter"),
			opt("like", refer("tube"), "takes over all that the other tube states"),
			opt("mirror", axis(), "for the other hand: changes the sign of that coordinate in the way it takes over"),
		},
		Example: `tube roll-bar-right from (2050, 520, 240 mm) to (2080, 500, 900 mm) to (2100, 380, 1150 mm) outside 45 mm
tube roll-bar-left like roll-bar-right mirror y`},
	{Name: "point", About: newNames(), Doc: "A named place that is nothing else. Devices, breaks and splices have places of their own and need no point.",
		Options: placed(
			opt("panel", refer("panel"), "the panel it lies on"),
			opt("bush", measure(length), "bore of a bush: wires may cross the panel here"),
		),
		Example: "point hub at (1300, 150, 600 mm)\npoint return-hole at (1180, 340, 430 mm) panel firewall bush 20 mm"},
	{Name: "run", About: newNames(), Doc: "A way the harness takes. `to` again goes on; a comma fans out. Runs join where they name the same place. A run has one section and one zone.",
		Options: []Option{
			opt("from", spots(), "where it begins"),
			again("to", spots(), "where it goes; `to` again goes on from there, a comma makes a straight stretch to each"),
			opt("section", refer("section"), "the section that lies here"),
			opt("zone", refer("zone"), "the zone it lies in"),
			opt("panel", refer("panel"), "the panel it is clipped to"),
			opt("tube", refer("tube"), "the tube it is tied to, instead of a panel"),
			opt("sleeve", refer("sleeve"), "sleeve over the bundle"),
			dflt("clip", refer("clip"), "set: clip", "what holds it"),
			dflt("fastener", refer("fastener"), "set: fastener", "what holds the clips"),
			dflt("bend", measure(length), "set: bend-radius", "radius of its centre line at its waypoints"),
			opt("length", measure(length), "length measured with a string; it wins over the coordinates"),
			opt("slack", measure(length), "length added on purpose"),
			opt("date", text(), "when it was measured"),
			opt("moves", measure(length), "how far one end moves against the other in use"),
		},
		Example: "run dash from hub to A, battery, bank-fuse, pump, box, ignition, ecu section tub zone cabin panel firewall bend 60 mm"},
	{Name: "hazard", About: newName(), Doc: "Something to keep away from: an exhaust, a fuel line, a belt, a sharp edge. It is a box, a line, or what the lines `position` in its block say.",
		Options: []Option{
			opt("between", places(2, 2), "two opposite corners of the box that holds it"),
			opt("from", spot(), "one end, where it is a line"),
			again("to", spot(), "the other end; `to` again goes on from there"),
			dflt("outside", measure(length), "0 mm", "diameter of what the line is the middle of"),
			opt("as", choice("exhaust", "fuel", "brake", "moving", "edge"), "what it is; the settings hold a clearance for each kind"),
			dflt("clearance", measure(length), "set: clear-other, or that of its kind", "how far a bundle must stay away"),
			opt("sleeved", measure(length), "how far with a heat sleeve on"),
			opt("like", refer("hazard"), "takes over all that the other hazard states"),
			opt("mirror", axis(), "for the other hand: changes the sign of that coordinate in the shapes it takes over"),
		},
		Example: `hazard exhaust as exhaust between (700, 340, 250 mm), (1100, 480, 560 mm) clearance 120 mm sleeved 60 mm
hazard brake-line as brake from (600, -430, 300 mm) to (900, -430, 260 mm) to (1150, -430, 260 mm) outside 4.75 mm`},
	{Name: "device", About: newNames(), Doc: "Anything with pins: a supply, a load, a switch, a relay, a fuse box, a control unit, an earth stud, the metal of the body. Lines in its block say what it does between its pins. A device without a place is a pattern for others to be `like`.",
		Options: placed(
			opt("panel", refer("panel"), "the panel it sits on"),
			dflt("section", refer("section"), "that of the run there", "the section it comes away with"),
			dflt("zone", refer("zone"), "that of the run", "the zone it sits in"),
			opt("class", free(), "what sort of device it is; limits can be set for a class"),
			opt("housing", refer("housing"), "the housing of its plug; several have lines of their own"),
			dflt("boot", refer("boot"), "that of the housing", "the boot or backshell over the back of that plug"),
			dflt("fitted", choice("yes", "no"), "no", "its plugs come on their wires, moulded or crimped by their maker: nothing can be slid on over them later"),
			dflt("faces", spot(), "along the run that leaves it", "a place towards which the wire side of its plug looks; `like` does not take it over"),
			opt("like", refer("device"), "takes over all that the other device states"),
		),
		Example: `device pump at (1500, -240, 350 mm) housing sealed-2 class fuel faces (1300, -240, 350 mm) {
  draw 12 A at 13.5 V as power from 1 to 2 start 32 A for 0.2 s least 9 V
}`},
	{Name: "break", About: newNames(), Doc: "A place where two sections part: a connector on a panel or in line, or a stud post. It has two halves.",
		Options: placed(
			dflt("panel", refer("panel"), "in line", "the panel it sits on"),
			opt("housing", refer("housing"), "the housing of both halves"),
			opt("key", free(), "the key, so that two alike cannot be mated crosswise"),
			dflt("flange", refer("zone"), "that of the half that is fixed", "the zone on whose side of the panel its flange sits"),
			dflt("turn", measure(angle), "0 deg", "of its key about the hole, clockwise as seen from the flange's side; 0 is up"),
			dflt("faces", spot(), "along the run that leaves it", "a place towards which its wire side looks; `like` does not take it over"),
			dflt("class", free(), "all", "it takes the circuits of this class and no others"),
			opt("like", refer("break"), "takes over all that the other break states"),
		),
		Example: `break A at (1180, 120, 600 mm) panel firewall housing round-24 key N flange cabin turn 90 deg {
  half tub    contacts sockets mount fixed
  half engine contacts pins    mount free
}`},
	{Name: "splice", About: newNames(), Doc: "A permanent joint of several wires. Without a place the program chooses one.",
		Options: []Option{
			opt("section", refer("section"), "the section it belongs to"),
			dflt("at", spot(), "chosen by the program", "where it sits"),
			opt("along", refer("run"), "the run it lies in"),
			opt("to", free(), "the place at which the stretch ends in which it lies, where the run has several; `after` then counts from the beginning of that stretch"),
			opt("after", measure(length), "how far from the beginning of that run"),
			dflt("sleeve", refer("sleeve"), "set: splice-sleeve, splice-sleeve-wet", "what covers it"),
			dflt("barrel", refer("barrel"), "the smallest that takes its wires", "what its wires are crimped in"),
		},
		Example: "splice s-earth at hub section tub"},
	{Name: "circuit", About: newNames(), Doc: "Wires of one name, written as links. Each `from .. to ..` is a link; it is led along the runs and cut at every break it must cross.",
		Options: append([]Option{
			opt("from", ends(), "one end, or several"),
			again("to", ends(), "the other end, or several; `to` again goes on from there"),
		}, wireOptions...),
		Example: "circuit fuel-feed from box.f1 to pump.1 size 2.5 mm2 colour red/violet class fuel\ncircuit fuel-earth from pump.2 to s-earth colour black"},
	{Name: "cable", About: newNames(), Doc: "Circuits that stay together: a twisted pair, a screened or multicore cable, a data bus.",
		Options: []Option{
			opt("holds", refers("circuit"), "its circuits, in the order of the cores"),
			dflt("as", choice("pair", "multicore", "bus"), "pair", "what it is"),
			dflt("wire", refer("wire"), "made up on the bench", "a bought cable"),
			opt("twist", measure(length), "length of one whole turn of the pair"),
			opt("screen", refers("stud", "pin"), "the pins that earth its screen; its other ends are cut back"),
			opt("from", end(), "one end, where it is not the whole circuit"),
			opt("to", end(), "the other end"),
		},
		Example: "device ecu at (1345, 430, 470 mm) housing sealed-4\ndevice crank at (545, 140, 310 mm) housing sealed-2 section engine class signal\ncircuit crank-h from ecu.3 to crank.1 class signal\ncircuit crank-l from ecu.4 to crank.2 class signal\ncable crank-lead holds crank-h, crank-l as pair twist 25 mm"},
	{Name: "case", About: newName(), Doc: "An operating condition: which supplies are live and how the switches stand. A load draws when it is fed.",
		Options: []Option{
			opt("air", measure(celsius), "air outside, for zones that state none"),
			opt("like", refer("case"), "takes over all that the other case states"),
			opt("for", measure(seconds), "how long it lasts"),
		},
		Example: "case running {\n  supply battery at 13.5 V\n  set ignition to on\n}"},
	{Name: "removal", About: newName(), Doc: "What comes away and what is undone for it. The program proves that nothing else holds it.",
		Options: []Option{
			opt("section", refers("section"), "what comes away"),
			opt("undo", refers("break", "device", "stud"), "breaks, devices and studs that are undone, in order: battery minus first"),
		},
		Example: "removal engine-out section engine undo A"},
	{Name: "template", About: newName(), Doc: "A group of statements that is used several times. A bracket with a parameter's name in it stands for its value.",
		Options: []Option{opt("takes", frees(), "its parameters")},
		Example: `template wheel-speed takes corner, place {
  device ws-[corner] at [place] housing sealed-2 section tub class signal
}`},
	{Name: "use", About: refer("template"), Params: true, Doc: "Makes one copy of a template. Its options are the parameters.",
		Example: "use wheel-speed corner left place (1500, -640, 320 mm)"},
}
