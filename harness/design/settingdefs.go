package design

import "loomsheet/harness/unit"

// SettingDefs is every setting of the language. Where published figures disagree the source names the one taken.
var SettingDefs = []SettingDef{
	// electrical limits
	{Name: "drop", Dims: []unit.Dim{unit.DimRatio, unit.DimVoltage}, Limit: true, Default: "10 %",
		Source: "ABYC E-11 as quoted by a marine maker: 10 % for what is not critical",
		Doc:    "most volts lost on feed and return of a load, steady, as a share of drop-of or in volts"},
	{Name: "drop-of", Dims: []unit.Dim{unit.DimVoltage},
		Source: "the volts the load was measured at, else those of the highest live supply of the case",
		Doc:    "the volts of which drop is a percentage, and at which loads without `at` are taken to be measured; of a load on a control unit's own supply never more than that supply's volts"},
	{Name: "feed-drop", Dims: []unit.Dim{unit.DimVoltage, unit.DimRatio}, Limit: true, Source: "not set", Doc: "most volts lost on the feed side of a draw, steady; coils are not judged by it"},
	{Name: "return-drop", Dims: []unit.Dim{unit.DimVoltage, unit.DimRatio}, Limit: true, Source: "not set", Doc: "most volts lost on the return side of a draw, steady; coils are not judged by it"},
	{Name: "feed-return-drop", Dims: []unit.Dim{unit.DimVoltage, unit.DimRatio}, Limit: true, Source: "not set",
		Doc: "most volts lost on feed and return of a draw together, steady; coils are not judged by it; narrower in meaning than drop, both are judged"},
	{Name: "least-volts", Dims: []unit.Dim{unit.DimVoltage}, Limit: true, Source: "not set; a load's own `least` is judged as well", Doc: "least volts at a load, steady"},
	{Name: "least-start-volts", Dims: []unit.Dim{unit.DimVoltage}, Limit: true, Source: "not set", Doc: "least volts at a load while any device starts"},
	{Name: "joint-age", Dims: []unit.Dim{unit.DimNone}, Default: "1", Source: "new joints", Doc: "factor on every contact, joint and splice resistance: more than 1 for an aged harness"},

	// heat
	{Name: "air", Dims: []unit.Dim{unit.DimTemperature}, Default: "40 C", Source: "common practice", Doc: "highest ambient of a zone that states none"},
	{Name: "ampacity", Kind: SetChoice, Choices: []string{"balance", "aircraft", "marine"}, Default: "balance",
		Source: "heat balance of the bundle; the published tables rule only where their printed conditions hold",
		Doc:    "how a wire's ampacity is found: heat balance, AC 43.13-1B Table 11-9, or 33 CFR 183.425 Table 5 with the ABYC bundle factors"},
	{Name: "heat-margin", Dims: []unit.Dim{unit.DimTempDiff}, Limit: true, Default: "10 K", Source: "common practice", Doc: "how far a conductor must stay below the rating of its insulation"},
	{Name: "emissivity", Dims: []unit.Dim{unit.DimNone}, Default: "0.9", Source: "handbook values for plastics, from memory", Doc: "of the surface of a bundle"},
	{Name: "bundle-conductivity", Dims: []unit.Dim{unit.DimConductivity}, Default: "0.15 W/mK", Source: "from memory: wires with air between them", Doc: "of heat through a bundle"},
	{Name: "insulation-conductivity", Dims: []unit.Dim{unit.DimConductivity}, Default: "0.2 W/mK", Source: "from memory: common plastics 0.16 to 0.25", Doc: "of heat through a wire's insulation and a sleeve's wall"},
	{Name: "sleeve-wall", Dims: []unit.Dim{unit.DimLength}, Default: "0.6 mm", Source: "from memory: braid 0.5 mm, recovered shrink sleeve 0.5 to 1 mm", Doc: "wall of a sleeve over a bundle or a wire"},
	{Name: "altitude", Dims: []unit.Dim{unit.DimLength}, Default: "0 m", Source: "sea level", Doc: "thinner air cools less"},

	// sizes
	{Name: "wire", Kind: SetPart, Part: "wire", Default: "thin-wall", Source: "common practice", Doc: "family of wires"},
	{Name: "size-least", Dims: []unit.Dim{unit.DimArea, unit.DimGauge}, Limit: true, Default: "0.5 mm2", Source: "common practice", Doc: "smallest conductor for mechanical reasons"},
	{Name: "size-most", Dims: []unit.Dim{unit.DimArea, unit.DimGauge}, Default: "120 mm2", Source: "largest size of the built-in families", Doc: "largest conductor that `size auto` may choose"},

	// resistances nobody measured
	{Name: "supply-inside", Dims: []unit.Dim{unit.DimResistance}, Default: "10 mohm", Source: "from memory: 5 to 15 mohm for a charged 12 V battery", Doc: "inside resistance of a supply that states none"},
	{Name: "contact-resistance", Dims: []unit.Dim{unit.DimResistance}, Default: "5 mohm", Source: "common practice", Doc: "of a mated contact, a switch contact or a relay contact whose part or line states none"},
	{Name: "lug-resistance", Dims: []unit.Dim{unit.DimResistance}, Default: "0.1 mohm", Source: "common practice: ten joints of 0.1 mohm in a short car's cranking loop", Doc: "of one lug on a stud"},
	{Name: "joint-resistance", Dims: []unit.Dim{unit.DimResistance}, Default: "0.1 mohm", Source: "common practice", Doc: "of `joins` inside a device that states none"},
	{Name: "splice-resistance", Dims: []unit.Dim{unit.DimResistance}, Default: "0.2 mohm", Source: "common practice", Doc: "of a crimped splice, per wire"},
	{Name: "fuse-resistance", Dims: []unit.Dim{unit.DimResistance}, Default: "5 mohm", Source: "common practice", Doc: "of a fuse whose part states none"},

	// places, clips, lengths
	{Name: "clip-span", Dims: []unit.Dim{unit.DimLength}, Limit: true, Above: true, Default: "300 mm", Source: "common practice; AC 43.13-1B 11-96a allows 610 mm", Doc: "most between two clips"},
	{Name: "clip-end", Dims: []unit.Dim{unit.DimLength}, Limit: true, Above: true, Default: "100 mm", Source: "common practice: 50 to 120 mm", Doc: "most between a connector or breakout and the first clip"},
	{Name: "clip-bend", Dims: []unit.Dim{unit.DimAngle}, Default: "30 deg", Source: "common practice", Doc: "a change of direction from which a bend gets a clip"},
	{Name: "clip-short", Dims: []unit.Dim{unit.DimLength}, Default: "120 mm", Source: "common practice", Doc: "a stretch up to this long needs no clip of its own; a tail longer by no more than this than clip-end, and ending in a connector, gets one clip, at the connector"},
	{Name: "clip", Kind: SetPart, Part: "clip", Default: "p-clip", Source: "common practice", Doc: "what holds a run"},
	{Name: "fastener", Kind: SetPart, Part: "fastener", Default: "rivet-nut-m5", Source: "common practice", Doc: "what holds a clip to the body"},
	{Name: "string-gap", Dims: []unit.Dim{unit.DimRatio}, Limit: true, Default: "10 %", Source: "common practice", Doc: "most by which a length measured by string may differ from the coordinates"},
	{Name: "bus-stub", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "300 mm", Source: "published figures run from 0.3 to 1.5 m", Doc: "longest stub of a data bus"},
	{Name: "take-up", Dims: []unit.Dim{unit.DimRatio}, Default: "2 %", Source: "common practice: gentle hand twist", Doc: "added to the centre line for the lay of the bundle where it is not laid in layers, whose take-up is worked out"},
	{Name: "tail", Dims: []unit.Dim{unit.DimLength}, Default: "50 mm", Source: "common practice: about 100 mm a wire", Doc: "added at each end of a wire for termination"},
	{Name: "service-loop", Dims: []unit.Dim{unit.DimLength}, Default: "25 mm", Source: "AC 43.13-1B 11-118: enough for two re-terminations", Doc: "added at each end that ends in a contact or a lug"},
	{Name: "cut-round", Dims: []unit.Dim{unit.DimLength}, Default: "5 mm", Source: "common practice", Doc: "cut lengths are rounded up to a whole multiple"},

	// cutting, crimping, marking
	{Name: "crimp-waste", Dims: []unit.Dim{unit.DimLength}, Default: "10 mm", Source: "common practice: one spoiled crimp cut off and trimmed square", Doc: "added at each end that is crimped, for what is cut off on the bench"},
	{Name: "way-spread", Dims: []unit.Dim{unit.DimRatio, unit.DimLength}, Default: "2 %", Source: "common practice: coordinates taken with a tape", Doc: "by how much a way can be longer than its coordinates say, as a share or for each stretch"},
	{Name: "string-spread", Dims: []unit.Dim{unit.DimRatio, unit.DimLength}, Default: "1 %", Source: "common practice", Doc: "by how much a way, or a loose lead, can be longer than the string that measured it, as a share or for each stretch"},
	{Name: "branch-spread", Kind: SetChoice, Choices: []string{"a-620", "none"}, Default: "a-620",
		Source: "IPC/WHMA-A-620, a draft: +25/-0 mm to 0.3 m, +50 to 1.5 m, +100 to 3 m, +150 to 7.5 m, then +5 %/-0",
		Doc:    "how much longer than planned a finished branch may come out, for which its wires are cut; the spread of the way counts where it is more"},
	{Name: "crimp-scrap", Dims: []unit.Dim{unit.DimRatio}, Default: "5 %", Source: "common practice", Doc: "share of contacts, lugs and barrels bought beyond those that stay on the wires, for crimps that are spoiled"},
	{Name: "pull-samples", Dims: []unit.Dim{unit.DimNone}, Default: "5", Source: "common practice: 5 pulls a set-up, the lowest counts", Doc: "crimps pulled off before a set-up of tool, contact and wire is used"},
	{Name: "pull-sample", Dims: []unit.Dim{unit.DimLength}, Default: "150 mm", Source: "common practice: room for the jaws of the pull tester", Doc: "wire cut for each crimp that is pulled off"},
	{Name: "pull-column", Kind: SetChoice, Choices: []string{"commercial", "military", "nasa"}, Default: "commercial",
		Source: "TE 114-2157 and 114-2161: the UL 486A column; the MIL-T-7928 column asks up to twice as much",
		Doc:    "the figures a crimp must hold when pulled: the commercial or the military column, or NASA-STD-8739.4 where it prints one"},
	{Name: "mark-along", Dims: []unit.Dim{unit.DimLength}, Default: "381 mm", Source: "AC 43.13-1B 11-208: at each end and at most 15 in apart", Doc: "most between two marks along a wire; 0 marks the ends only"},
	{Name: "mark-none", Dims: []unit.Dim{unit.DimLength}, Default: "76 mm", Source: "AC 43.13-1B 11-208: under 3 in none", Doc: "a wire shorter than this is not marked"},
	{Name: "mark-once", Dims: []unit.Dim{unit.DimLength}, Default: "178 mm", Source: "AC 43.13-1B 11-208: from 3 to 7 in once, at the centre", Doc: "a wire up to this long is marked once, at its middle"},
	{Name: "mark-end", Dims: []unit.Dim{unit.DimLength}, Default: "60 mm", Source: "common practice: clear of the seal, readable at the connector", Doc: "from the end of a cut wire to the middle of its mark"},
	{Name: "untwisted-most", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "40 mm", Source: "common practice for pairs of signals: 25 to 50 mm", Doc: "most of each end of a twisted cable that may be left untwisted"},
	{Name: "reel-length", Dims: []unit.Dim{unit.DimLength}, Limit: true, Above: true, Default: "100 m", Source: "common practice", Doc: "wire on a reel as it is bought"},
	{Name: "reel-end", Dims: []unit.Dim{unit.DimLength}, Default: "500 mm", Source: "common practice", Doc: "a rest of a reel shorter than this is thrown away; a longer one goes back to stock"},

	// how bundles are laid up
	{Name: "lay", Kind: SetChoice, Choices: []string{"auto", "layers", "hand", "flat"}, Default: "auto", Source: "common practice: long trunks in layers, the rest by hand",
		Doc: "how the wires of a run lie: in concentric layers of alternating hand, in a gentle twist by hand, or flat side by side; auto takes layers for long bundles of many, flat for short tails"},
	{Name: "lay-from", Dims: []unit.Dim{unit.DimLength}, Default: "400 mm", Source: "common practice", Doc: "how long a bundle must be for auto to lay it in layers; one turn of its outermost layer at the least"},
	{Name: "lay-pieces", Dims: []unit.Dim{unit.DimNone}, Default: "4", Source: "common practice", Doc: "how many wires, pairs and cables a bundle must have for auto to lay it in layers"},
	{Name: "lay-flat", Dims: []unit.Dim{unit.DimLength}, Default: "150 mm", Source: "common practice", Doc: "a bundle up to this long is laid flat by auto"},
	{Name: "lay-flat-width", Dims: []unit.Dim{unit.DimLength}, Above: true, Default: "20 mm", Source: "common practice: what a tie still holds flat", Doc: "most width of wires laid flat; more lie in further rows"},
	{Name: "lay-ratio", Dims: []unit.Dim{unit.DimNone}, Above: true, Default: "10", Source: "ASTM B286, second-hand: 8 to 16", Doc: "lay length of a layer as a multiple of its outside diameter"},
	{Name: "lay-ratio-least", Dims: []unit.Dim{unit.DimNone}, Limit: true, Above: true, Default: "8", Source: "ASTM B286, second-hand: 8 to 16", Doc: "least lay-ratio"},
	{Name: "lay-ratio-most", Dims: []unit.Dim{unit.DimNone}, Limit: true, Above: true, Default: "16", Source: "ASTM B286, second-hand: 8 to 16", Doc: "most lay-ratio"},
	{Name: "lay-gap", Dims: []unit.Dim{unit.DimRatio}, Default: "10 %", Source: "common practice", Doc: "share of a layer's round that may stay open; more is closed with fillers"},
	{Name: "lay-open", Dims: []unit.Dim{unit.DimRatio}, Default: "35 %", Source: "common practice: 7 and 8 wires around a core built up with tape",
		Doc: "how far a layer that is a little too full may stand off what lies within it, as a share of its thickest wire; the gap is built up with tape"},
	{Name: "lay-over", Dims: []unit.Dim{unit.DimRatio}, Limit: true, Default: "2 %", Source: "common practice: what a clip's cushion gives", Doc: "most by which a bundle in layers may be thicker than the trade's figure 1.2 sqrt(sum d2), for which its clips and sleeves are chosen; where auto finds it thicker it lays by hand"},
	{Name: "lay-heavy", Dims: []unit.Dim{unit.DimNone}, Default: "1.5", Source: "common practice", Doc: "a wire this many times as thick as the middle one of its bundle counts as heavy and goes to the core"},

	// sleeves, boots and lugs
	{Name: "marker", Kind: SetPart, Part: "sleeve", Default: "marker", Source: "common practice", Doc: "the sleeve on which a wire's mark is printed; one that is slit is put on at any time"},
	{Name: "marker-length", Dims: []unit.Dim{unit.DimLength}, Default: "20 mm", Source: "common practice: a line of print on the thinnest sleeves", Doc: "length of the sleeve on which a wire's mark is printed"},
	{Name: "end-sleeve", Dims: []unit.Dim{unit.DimLength}, Default: "30 mm", Source: "common practice: over the barrel and as much again of the wire", Doc: "length of a sleeve over the end of a wire, where its cavity line says `slid-on`"},
	{Name: "joint-past", Dims: []unit.Dim{unit.DimLength}, Default: "12 mm", Source: "common practice: half an inch to either side", Doc: "how far the sleeve of a splice reaches beyond the barrel, at either end"},
	{Name: "joint-barrel", Dims: []unit.Dim{unit.DimLength}, Default: "8 mm", Source: "from memory: barrels for 0.5 to 6 mm2 are 7 to 9 mm long", Doc: "length of a splice's barrel"},
	{Name: "stack", Kind: SetChoice, Choices: []string{"largest-lowest", "smallest-lowest"}, Default: "largest-lowest", Source: "common practice", Doc: "in which order lugs lie on a stud where no `order` is stated"},

	// bends, hazards, water
	{Name: "bend-radius", Dims: []unit.Dim{unit.DimLength}, Default: "50 mm", Source: "common practice", Doc: "radius of the centre line at a waypoint of a run that states no `bend`; less where the pieces beside it are too short"},
	{Name: "bend-wire", Dims: []unit.Dim{unit.DimNone}, Limit: true, Default: "10", Source: "AC 43.13-1B 11-96, from memory: 10 times the largest wire of a bundle",
		Doc: "least radius of a bend, at its inner side, as a multiple of the thickest wire in it"},
	{Name: "bend-bundle", Dims: []unit.Dim{unit.DimNone}, Limit: true, Default: "3", Source: "common practice; a trade text asks 10 times the bundle", Doc: "the same as a multiple of the whole bundle, by the trade's figure, sleeve and all"},
	{Name: "bend-cable", Dims: []unit.Dim{unit.DimNone}, Limit: true, Default: "6", Source: "NASA-STD-8739.4 7.3.21 (Workmanship Book 4, 4.03): 6 times, 10 times for the long term", Doc: "the same as a multiple of a bought or screened cable that states no radius of its own"},
	{Name: "bend-flexing", Dims: []unit.Dim{unit.DimNone}, Limit: true, Default: "10", Source: "NASA-STD-8739.4 7.3.21: 10 times for the long term, taken for the whole bundle", Doc: "the same as a multiple of the whole bundle where the run moves in use"},
	{Name: "clear-exhaust", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "200 mm", Source: "common practice: 200 mm or a shield", Doc: "clearance of an exhaust that states none"},
	{Name: "clear-fuel", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "51 mm", Source: "AC 43.13-1B 11-96w: 6 in; where impractical not less than 2 in, closely clamped", Doc: "clearance of a fuel line that states none"},
	{Name: "clear-brake", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "51 mm", Source: "as a fuel line: common practice", Doc: "clearance of a brake line that states none"},
	{Name: "clear-moving", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "50 mm", Source: "common practice", Doc: "clearance of what moves (a belt, a steering arm) and states none"},
	{Name: "clear-edge", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "9.5 mm", Source: "AC 43.13-1B 11-115: a grommet where the clearance is under 3/8 in", Doc: "clearance of a bundle without a sleeve from the edge of a panel, or from an edge that states none"},
	{Name: "clear-other", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "25 mm", Source: "common practice", Doc: "clearance of any other hazard that states none"},
	{Name: "sleeve-heat", Dims: []unit.Dim{unit.DimTemperature}, Default: "200 C", Source: "common practice: glass and silicone sleeves stand 200 C and more, braids 125 to 150 C", Doc: "a sleeve that stands at least this counts as a heat sleeve, for which a hazard's `sleeved` holds"},
	{Name: "moves-spare", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "10 mm", Source: "common practice", Doc: "what a moving stretch must be longer than it is pulled out at its furthest"},
	{Name: "faces-up", Dims: []unit.Dim{unit.DimAngle}, Limit: true, Default: "45 deg", Source: "common practice", Doc: "how steeply wires must come down to a connector in a wet zone for it to count as facing up"},
	{Name: "drip-loop", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "25 mm", Source: "common practice; AC 43.13-1B 11-118 asks for a drip loop without a figure", Doc: "how far a bundle that comes to a connector from above, in a wet zone, must dip below it first"},
	{Name: "level-within", Dims: []unit.Dim{unit.DimLength}, Default: "5 mm", Source: "common practice: what a tape and a clip by hand leave open", Doc: "a way that rises or falls by no more than this counts as level, where water is asked after"},

	// clips
	{Name: "clip-span-thin", Dims: []unit.Dim{unit.DimLength}, Limit: true, Above: true, Default: "200 mm", Source: "common practice", Doc: "most between two clips of a bundle thinner than clip-thin, where clip-span allows more"},
	{Name: "clip-thin", Dims: []unit.Dim{unit.DimLength}, Default: "5 mm", Source: "common practice", Doc: "a bundle thinner than this sags between clips"},
	{Name: "clip-clear", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "25 mm", Source: "common practice: room for a hand behind a connector", Doc: "least between a clip and a connector, a stud or a breakout"},
	{Name: "clip-splice", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "40 mm", Source: "common practice: a splice is never clipped", Doc: "least between a clip and a splice"},
	{Name: "clip-play", Dims: []unit.Dim{unit.DimLength}, Default: "1 mm", Source: "common practice", Doc: "by how much a clip may be wider than the least its bundle can be, before the bundle is wrapped with tape there"},
	{Name: "clip-parallel", Dims: []unit.Dim{unit.DimAngle}, Default: "10 deg", Source: "common practice", Doc: "most between the directions of two runs that count as side by side"},
	{Name: "clip-tie", Kind: SetPart, Part: "clip", Default: "tie", Source: "common practice", Doc: "what holds a run to a tube or on a glued base, where no other clip is asked for"},
	{Name: "fastener-seen", Kind: SetPart, Part: "fastener", Default: "weld-stud-m5", Source: "common practice: nothing shows on the far side", Doc: "what holds a clip on a panel whose back is seen, where no other fastener is asked for"},
	{Name: "fastener-bonded", Kind: SetPart, Part: "fastener", Default: "adhesive-base", Source: "common practice", Doc: "what holds a clip on a bonded panel, which is neither drilled nor welded, where no other fastener is asked for"},
	{Name: "fastener-tube", Kind: SetPart, Part: "fastener", Default: "tie-mount", Source: "common practice", Doc: "what holds a clip to a tube, where no other fastener is asked for; a tie goes round it and needs no hole"},
	{Name: "clip-reach", Dims: []unit.Dim{unit.DimLength}, Default: "25 mm", Source: "common practice", Doc: "how far off a run a hole may be that one of its clips uses"},
	{Name: "clip-ear", Dims: []unit.Dim{unit.DimLength}, Default: "8 mm", Source: "typical of loop clamps for M5: measure the clip in hand", Doc: "from the outside of the bundle in a P-clip to the middle of its screw"},
	{Name: "clip-side", Kind: SetChoice, Choices: []string{"above", "below"}, Default: "above", Source: "common practice: the bundle's weight closes the clip",
		Doc: "on which side of the bundle the screw of a P-clip is; where the bundle runs up or the panel is level, above means towards the larger coordinate"},
	{Name: "clip-beside", Dims: []unit.Dim{unit.DimLength}, Default: "40 mm", Source: "common practice", Doc: "how far apart two runs may lie that share a clip's hole"},
	{Name: "clip-washer", Dims: []unit.Dim{unit.DimLength}, Default: "1 mm", Source: "plain washers of M4 to M6: 0.8 to 1.6 mm, from memory", Doc: "washer under the head of a clip's screw"},
	{Name: "clip-past", Dims: []unit.Dim{unit.DimLength}, Default: "2 mm", Source: "common practice: two turns of M5 to M6", Doc: "thread that stands past the nut of a clip's screw"},

	// splices
	{Name: "splice-school", Kind: SetChoice, Choices: []string{"apart", "close"}, Default: "apart", Source: "practice disagrees: directly behind a connector, up to 305 mm off it",
		Doc: "where splices lie: apart from connectors and breakouts by splice-clear, or close behind one, where its shrink supports them, by no more than splice-close"},
	{Name: "splice-clear", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "40 mm", Source: "common practice; published figures up to 305 mm", Doc: "least between the middle of a splice and a connector, a stud or a breakout, in the school apart"},
	{Name: "splice-close", Dims: []unit.Dim{unit.DimLength}, Limit: true, Above: true, Default: "60 mm", Source: "common practice: within the boot or the tape of the breakout, from memory", Doc: "most between the middle of a splice and the next connector, stud or breakout, in the school close"},
	{Name: "splice-apart", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "25 mm", Source: "common practice: staggered so that no two sleeves lie beside one another", Doc: "least between the ends of the barrels of two splices in one bundle, along it"},
	{Name: "splice-off", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "10 mm", Source: "common practice", Doc: "least between the end of a barrel and the arc of a bend, a bush, or in the school close the back of a connector"},
	{Name: "splice-room", Dims: []unit.Dim{unit.DimLength}, Default: "25 mm", Source: "common practice: longer than most barrels", Doc: "length kept for the barrel of a splice while its place is chosen and its wires have no size yet"},
	{Name: "splice-load", Dims: []unit.Dim{unit.DimCurrent}, Above: true, Default: "6 A", Source: "common practice: what 1 mm2 carries in a bundle", Doc: "current of which 1 mm2 is guessed for a wire without a stated size, while the place of its splice is chosen"},
	{Name: "splice-detour", Dims: []unit.Dim{unit.DimLength}, Default: "300 mm", Source: "common practice", Doc: "how much further the wires of a splice may go for it to lie dry rather than wet, or in the coolest place rather than in one as hot as it stands"},
	{Name: "splice-cover", Dims: []unit.Dim{unit.DimLength}, Default: "12 mm", Source: "common practice: 6 to 15 mm", Doc: "how far the sleeve of a splice reaches over the insulation at each end of its barrel"},
	{Name: "splice-sleeve", Kind: SetPart, Part: "sleeve", Default: "shrink", Source: "common practice", Doc: "what covers a splice that names no sleeve"},
	{Name: "splice-sleeve-wet", Kind: SetPart, Part: "sleeve", Default: "shrink-glued", Source: "common practice", Doc: "what covers a splice that names no sleeve in a wet or splashed zone"},

	// the bare body
	{Name: "hole-apart", Dims: []unit.Dim{unit.DimNone}, Limit: true, Default: "3", Source: "AC 43.13-1B 4-57: rivets 3 diameters apart, from memory", Doc: "least distance of two holes, middle to middle, in diameters of the larger one"},
	{Name: "hole-edge", Dims: []unit.Dim{unit.DimNone}, Limit: true, Default: "2", Source: "AC 43.13-1B 4-57: rivets 2 diameters from an edge, from memory", Doc: "least distance of a hole's middle from the edge of its panel, in its diameters"},
	{Name: "cut-out-gap", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "6 mm", Source: "common practice", Doc: "least metal between a connector's cut-out and another hole or the edge of the panel; for cut-outs it rules instead of hole-apart and hole-edge"},
	{Name: "connector-room", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "10 mm", Source: "common practice", Doc: "free round a connector's flange or nut where its housing states no `room`: for a spanner and a hand"},
	{Name: "paint-coat", Dims: []unit.Dim{unit.DimLength}, Default: "0.2 mm", Source: "from memory: paint narrows holes by 0.1 to 0.3 mm", Doc: "added to the diameter of cut-outs, bushes and plain holes for the paint; rivet nuts are set on bare metal"},
	{Name: "earth-pad", Dims: []unit.Dim{unit.DimNone}, Default: "3", Source: "common practice: the lug and a little more", Doc: "diameter of the bare metal round an earth stud, in diameters of its thread"},
	{Name: "panel-flat", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "3 mm", Source: "common practice", Doc: "most by which a corner may stand off the plane of its panel"},
	{Name: "template-reach", Dims: []unit.Dim{unit.DimLength}, Default: "60 mm", Source: "common practice", Doc: "holes nearer than this to one another, three or more, are drilled from one template"},

	// connections
	{Name: "studs-most", Dims: []unit.Dim{unit.DimNone}, Limit: true, Default: "4", Source: "AC 43.13-1B 11-149, from memory", Doc: "most lugs on one stud"},
	{Name: "spare-share", Dims: []unit.Dim{unit.DimRatio}, Limit: true, Default: "10 %", Source: "common practice", Doc: "least share of cavities kept free in a break"},
	{Name: "cavity-beside", Dims: []unit.Dim{unit.DimNone}, Default: "1.5", Source: "common practice: across corners of a square pattern (1.41) counts as beside", Doc: "two cavities of a connector are neighbours up to so many times the least distance between any two on its face"},

	// contacts
	{Name: "contact-derating", Kind: SetChoice, Choices: []string{"loading", "none"}, Default: "loading",
		Source: "TE 108-40005 rev F, figure 4, as the pattern for any connector",
		Doc:    "how a contact's rating falls with a thinner wire and a fuller connector: by the published pattern, or (none) only with a thinner wire, where the rating holds for a full connector"},
	{Name: "contact-rise", Dims: []unit.Dim{unit.DimTempDiff}, Default: "30 K", Source: "common limit of temperature rise in connector tests, from memory",
		Doc: "how far a contact at its rating warms its housing: closer than this to the housing's own limit the rating falls with the root of what is left"},
	{Name: "contact-spread", Dims: []unit.Dim{unit.DimRatio}, Default: "50 %", Source: "from memory", Doc: "how far below its stated resistance one of several parallel contacts may lie"},

	// batteries and readings
	{Name: "battery-share", Dims: []unit.Dim{unit.DimRatio}, Limit: true, Default: "50 %", Source: "common practice for lead-acid", Doc: "share of what a battery stores that may be used"},
	{Name: "parked-most", Dims: []unit.Dim{unit.DimCurrent}, Limit: true, Default: "50 mA", Source: "common practice", Doc: "most drawn from a battery while everything is switched off"},
	{Name: "reading-error", Dims: []unit.Dim{unit.DimVoltage}, Limit: true, Default: "50 mV", Source: "common practice: 1 % of 5 V", Doc: "most by which a sensor's reference may lie off that of what reads it"},

	// protection
	{Name: "fuse-load", Dims: []unit.Dim{unit.DimNone}, Limit: true, Default: "1.25", Source: "common practice", Doc: "a fuse is rated at least so many times its steady load, at its own ambient"},
	{Name: "overload-rise", Dims: []unit.Dim{unit.DimTempDiff}, Limit: true, Default: "25 K", Source: "ISO 6722-1: 240 h at the class temperature + 25 K, from memory",
		Doc: "how far past the rating of its insulation a conductor may get in an overload that its fuse need not open"},
	{Name: "short-rise", Dims: []unit.Dim{unit.DimTempDiff}, Limit: true, Default: "50 K", Source: "ISO 6722-1: 6 h at the class temperature + 50 K, from memory; IEC 60364-5-54 allows 90 K and more",
		Doc: "how far past the rating of its insulation a conductor may get until its fuse opens"},
	{Name: "unfused-sheathed", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "1016 mm", Source: "33 CFR 183.455(b)(2): 40 in", Doc: "longest wire from a source before its protector, in a sleeve all the way"},
	{Name: "unfused-most", Dims: []unit.Dim{unit.DimLength}, Limit: true, Default: "178 mm", Source: "33 CFR 183.455(b)(1): 7 in", Doc: "longest wire from a source before its protector"},
}
