package data

import "loomsheet/harness/unit"

// DropAdvice is a published figure for the volts that a circuit may lose.
type DropAdvice struct {
	Circuit string
	Most    unit.Voltage // 0 where it is a share
	Share   unit.Ratio   // of the supply; 0 where it is in volts
	Info
}

// VehicleDrops is what manuals print for 12 V vehicles. They contradict one another, from 0.1 to 0.8 V for a cranking circuit: a
// job states its own limit.
var VehicleDrops = []DropAdvice{
	{"starter circuit, positive side", 0.5, 0, Info{"Auto Meter SB-5 manual p. 15 (example 0.5)", "", Verified}},
	{"starter circuit, ground side", 0.3, 0, Info{"Auto Meter SB-5 manual p. 15", "", Verified}},
	{"starter circuit, both sides together", 0.8, 0, Info{"Auto Meter SB-5 manual p. 15", "", Verified}},
	{"battery positive to starter solenoid (2 connectors, 1 wire)", 0.3, 0, Info{"Urrea UD88 manual p. 72", "", Verified}},
	{"cranking: each connection", 0.1, 0, Info{"Mazda B4000 1998-2000 chapter 2", "", Verified}},
	{"cranking: cable direct to starter", 0.2, 0, Info{"Mazda B4000 1998-2000", "", Verified}},
	{"cranking: with solenoid between battery and starter", 0.4, 0, Info{"Mazda B4000 1998-2000", "", Verified}},
	{"cranking: ground side", 0.2, 0, Info{"Mazda B4000 1998-2000", "", Verified}},
	{"cranking: each of three checks (ground post to frame, frame to starter field frame, insulated post to starter)", 0.1, 0, Info{"Chevrolet 1983 manual", "", Verified}},
	{"12 V cranking circuit, example total", 0.5, 0, Info{"US Army TM 5-3805-254-14P-2, Test No. 3", "", Verified}},
	{"cranking: battery to starter, share of battery voltage", 0, 0.1, Info{"heavy-equipment course question (weak source)", "", Verified}},
	{"charging circuit, ground side at about 2000 rpm", 0.2, 0, Info{"Toyota training text, voltage-drop tests", "", Verified}},
	{"charging circuit, output to battery at 20 A", 0.5, 0, Info{"Dodge 1985 manual, charging circuit resistance test", "", Verified}},
	{"charging circuit, insulated side", 0.2, 0, Info{"common training value", "", FromMemory}},
	{"lighting circuit including return", 0.5, 0, Info{"common training value", "", FromMemory}},
}

// MarineDrops is what small craft practice allows. The rules differ by source.
var MarineDrops = []DropAdvice{
	{"navigation lights, bilge blowers, main feeders, electronics", 0, 0.03, Info{"ABYC E-11 as quoted by a marine maker", "", Verified}},
	{"other lighting and non-critical", 0, 0.1, Info{"ABYC E-11 as quoted by a marine maker", "", Verified}},
	{"navigation lights", 0, 0.05, Info{"a German chandler's page", "", Verified}},
	{"other consumers", 0, 0.07, Info{"a German chandler's page", "", Verified}},
}
