package word

// partWords describe parts. The built-in library is written with them; a job may add its own.
var partWords = []Word{
	{Name: "housing", Part: true, About: newName(), Doc: "The body of a connector, a fuse box or a stud post.",
		Options: []Option{
			opt("cut-out", measures(1, 2, length), "diameter of the hole it needs in a panel; width and height of one that is not round, also where they are equal"),
			opt("flange", measures(1, 2, length), "diameter of what covers the cut-out; width and height of one that is not round, also where they are equal"),
			opt("nut", measure(length), "across the nut that holds it; without one it is held by screws or snaps in"),
			opt("grips", measures(1, 2, length), "least and most thickness of the panel; a single value is the most"),
			opt("behind", measure(length), "how far it stands out on the far side of the panel"),
			dflt("room", measure(length), "the flange and set: connector-room", "diameter that must stay free about its middle, for a hand, a spanner and what comes off its back"),
			dflt("shell", choice("metal", "plastic"), "plastic", "one of metal carries a screen to the panel"),
			opt("back", measure(length), "diameter of its back, where a boot grips"),
			opt("boot", refer("boot"), "the boot or backshell it is used with"),
			opt("rating", measure(amps), "what all its contacts may carry together"),
			opt("heat", measure(celsius), "highest temperature"),
			opt("keys", frees(), "the keys it can be had with"),
			opt("keyway", coords(), "place of the key on the face, across and up as the cavities"),
			opt("mates", refers("housing"), "other housings that it goes into, besides its own kind"),
		},
		Example: `housing shell-12 cut-out 26 mm flange 33 mm nut 32 mm grips 0.8 mm, 3.2 mm behind 20 mm shell metal keys N, X {
  cavity [1..12] takes size-16
}`},
	{Name: "contact", Part: true, About: newName(), Doc: "A crimped contact or a lug. A pin and its socket are one part.",
		Options: []Option{
			opt("rating", measure(amps), "what it carries"),
			opt("takes", measures(1, 2, area, gauge), "least and most conductor size"),
			opt("rated-on", measure(area, gauge), "the wire on which its rating holds; without it the largest it takes"),
			opt("insulation", measures(1, 2, length), "least and most outside diameter of the wire"),
			opt("strip", measure(length), "how much insulation is taken off"),
			dflt("resistance", measure(ohms), "set: contact-resistance", "of the mated pair"),
			opt("tool", text(), "tool, locator and setting"),
			opt("plating", free(), "what it is plated with"),
			opt("outside", measure(length), "the widest of it once it is crimped on: what a sleeve or a boot must pass"),
		},
		Example: `contact size-14 rating 17 A takes 1 mm2, 2.5 mm2 insulation 1.9 mm, 3.4 mm strip 6 mm resistance 1.5 mohm tool "frame 4, setting 5"`},
	{Name: "seal", Part: true, About: newName(), Doc: "A seal around one wire, or a plug for an empty cavity.",
		Options: []Option{
			opt("insulation", measures(1, 2, length), "least and most outside diameter of the wire"),
			opt("plugs", refers("contact"), "it is a blanking plug, for empty cavities that take these contacts"),
		},
		Example: "seal seal-green insulation 1.7 mm, 2.4 mm\nseal plug-small plugs size-20"},
	{Name: "wire", Part: true, About: newName(), Doc: "A family of wires, or a bought cable.",
		Options: []Option{
			opt("heat", measure(celsius), "highest temperature of the conductor"),
			opt("outside", measure(length), "outside diameter of a bought cable"),
			opt("bend", measure(length), "least bend radius"),
		},
		Example: "wire soft-wall heat 105 C {\n  size 1 mm2 resistance 18.5 mohm/m outside 2.7 mm\n  size 2.5 mm2 resistance 7.6 mohm/m outside 3.6 mm\n}"},
	{Name: "fuse", Part: true, About: newName(), Doc: "A fuse or other protector.",
		Options: []Option{
			opt("rating", measure(amps), "its rating"),
			dflt("resistance", measure(ohms), "set: fuse-resistance", "cold resistance"),
			opt("kind", free(), "which time-current gate it keeps"),
		},
		Example: "fuse own-25 rating 25 A resistance 2.6 mohm"},
	{Name: "sleeve", Part: true, About: newName(), Doc: "What covers a bundle or a joint.",
		Options: []Option{
			dflt("as", choice("shrink", "braid", "tube", "slit"), "shrink where it grows, else tube", "what it is: shrink recovers when heated, braid opens when it is pushed together, a tube keeps its size, and what is slit is put on at any time"),
			opt("grows", measure(number), "expanded diameter over recovered diameter"),
			opt("heat", measure(celsius), "highest temperature"),
			dflt("lining", choice("glue", "none"), "none", "one with glue closes a joint against water"),
			opt("sizes", measures(1, 0, length), "diameters it can be had in"),
			dflt("sizes-are", choice("expanded", "recovered"), "expanded", "which of its inside diameters it is bought by: open, or recovered and closed"),
			dflt("wall", measures(1, 0, length), "set: sleeve-wall", "thickness of its wall when recovered: one for all sizes, or one for each"),
		},
		Example: "sleeve woven as braid grows 2 heat 150 C sizes 6 mm, 10 mm, 16 mm sizes-are recovered\nsleeve shrink-own grows 2 heat 125 C sizes 6.4 mm, 12.7 mm, 25.4 mm wall 0.6 mm, 0.65 mm, 0.9 mm"},
	{Name: "barrel", Part: true, About: newName(), Doc: "What is crimped over the bare ends of the wires of a splice, which lie in it side by side.",
		Options: []Option{
			opt("takes", measures(1, 2, area, gauge), "least and most copper of all its wires together; a single value is the most"),
			opt("length", measure(length), "length of the barrel"),
			opt("outside", measure(length), "the widest of it once it is crimped"),
			opt("strip", measure(length), "how much insulation is taken off each wire"),
			opt("tool", text(), "tool, locator and setting"),
			opt("heat", measure(celsius), "highest temperature"),
		},
		Example: `barrel b-2 takes 1 mm2, 2.6 mm2 length 8 mm outside 4.2 mm strip 9 mm tool "frame 2, nest blue" heat 150 C`},
	{Name: "boot", Part: true, About: newName(), Doc: "A boot, backshell or gland over the back of a connector and the beginning of its bundle.",
		Options: []Option{
			dflt("as", choice("shrink", "push-on", "backshell", "split"), "shrink", "how it is fitted: by heat, pushed on, screwed on; what is split is put on at any time"),
			opt("passes", measure(length), "the largest thing it can be slid over"),
			opt("bundle", measures(1, 2, length), "least and most diameter of the bundle it holds"),
			opt("body", measures(1, 2, length), "least and most diameter of the connector's back it holds"),
			opt("length", measure(length), "how long it is when fitted"),
			opt("heat", measure(celsius), "highest temperature"),
		},
		Example: `boot boot-12 as shrink passes 30 mm bundle 7 mm, 15 mm body 24 mm, 30 mm length 55 mm heat 135 C
housing shell-9 back 27 mm boot boot-12 { cavity [1..9] takes size-16 }`},
	{Name: "clip", Part: true, About: newName(), Doc: "What holds a bundle.",
		Options: []Option{
			opt("holds", measures(1, 0, length), "bundle diameters it can be had for"),
			opt("heat", measure(celsius), "highest temperature"),
			opt("thick", measure(length), "what one of them adds under the head of its screw"),
			dflt("as", choice("p-clip", "tie"), "p-clip", "what it is"),
			opt("fastener", refer("fastener"), "what holds it"),
		},
		Example: "clip saddle as p-clip holds 8 mm, 10 mm, 12 mm heat 100 C thick 1.6 mm fastener own-nut"},
	{Name: "fastener", Part: true, About: newName(), Doc: "What holds a clip to the body. One without `drill` needs no hole.",
		Options: []Option{
			opt("thread", free(), "its thread, such as M5"),
			opt("drill", measures(1, 2, length), "the hole it needs, or the least and the most it may have"),
			opt("as", choice("rivet-nut", "stud", "screw", "bolt", "adhesive", "tie"), "what it is: a stud is welded, a screw has a nut behind, a bolt is there already"),
			opt("grips", measures(1, 2, length), "least and most thickness of the panel; a single value is the most"),
			opt("engage", measure(length), "thread that must be engaged: of a rivet nut its own, of a stud or a screw its nut"),
			opt("screws", measures(1, 0, length), "lengths in which its screw, or the stud itself, can be had"),
		},
		Example: "fastener own-nut as rivet-nut thread M5 drill 7 mm, 7.1 mm grips 0.5 mm, 3 mm engage 7 mm screws 12 mm, 16 mm, 20 mm"},
}

// partBlockWords are lines in the blocks of parts.
var partBlockWords = []Word{
	{Name: "cavity", In: "housing", Part: true, About: newNames(), Doc: "Cavities of the housing, or its stud.",
		Options: []Option{
			opt("takes", refers("contact"), "contacts it takes"),
			opt("stud", free(), "thread, where it is a stud"),
			opt("at", coords(), "place on the face, seen from the wire side of the half with sockets, or of the plug on a device: to the right, up. The mating side of the pins shows the same; a drawing of the mating side of the sockets, or of the wire side of the pins, is its mirror image: change the sign of across"),
			opt("step", coords(), "added for each further cavity of the line"),
			opt("resistance", measure(ohms), "of the joint"),
		},
		Example: "housing flat-4 {\n  cavity [1..4] takes size-16 at (0, 0 mm) step (6, 0 mm)\n}"},
	{Name: "crimp", In: "contact", Part: true, About: measures(1, 0, area, gauge), Doc: "How the contact is crimped on wires of these sizes.",
		Options: []Option{
			opt("height", measures(1, 2, length), "least and most height of the finished crimp; a single value is the most"),
			opt("setting", text(), "setting of the tool"),
		},
		Example: `contact open-20 rating 8 A takes 0.5 mm2, 1 mm2 strip 5 mm tool "open-barrel hand tool" {
  crimp 0.5 mm2, 0.75 mm2 height 1.1 mm, 1.2 mm setting "3"
  crimp 1 mm2 height 1.25 mm, 1.35 mm setting "4" source "the contact's sheet"
}`},
	{Name: "hole", In: "housing", Part: true, About: newNames(), Doc: "A hole for a screw beside the cut-out.",
		Options: []Option{
			opt("at", coords(), "place from the middle of the cut-out, seen from the flange's side: across, up"),
			opt("step", coords(), "added for each further hole of the line"),
			opt("drill", measure(length), "its diameter"),
		},
		Example: `housing square-4 cut-out 24 mm flange 34 mm grips 3 mm {
  cavity [1..4] takes size-16
  hole [a,b] at (-13, 13 mm) step (26, 0 mm) drill 4.3 mm
  hole [c,d] at (-13, -13 mm) step (26, 0 mm) drill 4.3 mm
}`},
	{Name: "size", In: "wire", Part: true, About: measure(area, gauge), Doc: "A size the wire can be had in.",
		Options: []Option{
			opt("resistance", measure(perMetre), "greatest resistance per length, at 20 C"),
			opt("outside", measure(length), "outside diameter"),
		},
		Example: "wire air-wall heat 150 C {\n  size 20 AWG resistance 32 mohm/m outside 1.5 mm\n}"},
	{Name: "core", In: "wire", Part: true, About: frees(), Doc: "Cores of a bought cable, by colour, in order.",
		Options: []Option{
			opt("size", measure(area, gauge), "conductor size"),
			opt("resistance", measure(perMetre), "greatest resistance per length, at 20 C"),
			opt("outside", measure(length), "outside diameter of the core"),
		},
		Example: "wire two-core heat 105 C outside 5 mm bend 30 mm {\n  core white, blue size 0.75 mm2 resistance 24.7 mohm/m\n}"},
	{Name: "screen", In: "wire", Part: true, About: choice("braid", "foil"), Doc: "The screen of a bought cable.",
		Options: []Option{opt("resistance", measure(perMetre), "resistance per length")},
		Example: "wire quiet-2 heat 105 C outside 4.2 mm bend 25 mm {\n  core white, blue size 0.5 mm2 resistance 37.1 mohm/m\n  screen braid resistance 20 mohm/m\n}"},
}
