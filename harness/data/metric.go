package data

import "loomsheet/harness/unit"

// ConductorClass is how a conductor is stranded, by IEC 60228.
type ConductorClass uint8

const (
	// Class2 is stranded, for fixed wiring.
	Class2 ConductorClass = 2
	// Class5 is flexible, fine wires.
	Class5 ConductorClass = 5
)

// IEC60228Row is one size. Resistances are the greatest allowed, at 20 C.
type IEC60228Row struct {
	Class  ConductorClass
	Size   unit.Area
	Plain  unit.LinearResistance
	Coated unit.LinearResistance // tinned or other metal coat
	Basis  Basis
}

// IEC60228 is Tables 2 and 3 of IEC 60228:2004, in ohms per kilometre. At 50 mm2 class 5 lies below class 2: so it is printed.
var IEC60228 = []IEC60228Row{
	{Class2, 0.5, perKm(36.0), perKm(36.7), Verified},
	{Class2, 0.75, perKm(24.5), perKm(24.8), Verified},
	{Class2, 1, perKm(18.1), perKm(18.2), Verified},
	{Class2, 1.5, perKm(12.1), perKm(12.2), Verified},
	{Class2, 2.5, perKm(7.41), perKm(7.56), Verified},
	{Class2, 4, perKm(4.61), perKm(4.7), Verified},
	{Class2, 6, perKm(3.08), perKm(3.11), Verified},
	{Class2, 10, perKm(1.83), perKm(1.84), Verified},
	{Class2, 16, perKm(1.15), perKm(1.16), Verified},
	{Class2, 25, perKm(0.727), perKm(0.734), Verified},
	{Class2, 35, perKm(0.524), perKm(0.529), Verified},
	{Class2, 50, perKm(0.387), perKm(0.391), Verified},
	{Class2, 70, perKm(0.268), perKm(0.27), Verified},
	{Class2, 95, perKm(0.193), perKm(0.195), Verified},
	{Class2, 120, perKm(0.153), perKm(0.154), Verified},
	{Class2, 150, perKm(0.124), perKm(0.126), Verified},
	{Class2, 185, perKm(0.0991), perKm(0.1), Verified},
	{Class2, 240, perKm(0.0754), perKm(0.0762), Verified},
	{Class5, 0.5, perKm(39.0), perKm(40.1), Verified},
	{Class5, 0.75, perKm(26.0), perKm(26.7), Verified},
	{Class5, 1, perKm(19.5), perKm(20.0), Verified},
	{Class5, 1.5, perKm(13.3), perKm(13.7), Verified},
	{Class5, 2.5, perKm(7.98), perKm(8.21), Verified},
	{Class5, 4, perKm(4.95), perKm(5.09), Verified},
	{Class5, 6, perKm(3.3), perKm(3.39), Verified},
	{Class5, 10, perKm(1.91), perKm(1.95), Verified},
	{Class5, 16, perKm(1.21), perKm(1.24), Verified},
	{Class5, 25, perKm(0.78), perKm(0.795), Verified},
	{Class5, 35, perKm(0.554), perKm(0.565), Verified},
	{Class5, 50, perKm(0.386), perKm(0.393), Verified},
	{Class5, 70, perKm(0.272), perKm(0.277), Verified},
	{Class5, 95, perKm(0.206), perKm(0.21), Verified},
	{Class5, 120, perKm(0.161), perKm(0.164), Verified},
	{Class5, 150, perKm(0.129), perKm(0.132), Verified},
	{Class5, 185, perKm(0.106), perKm(0.108), Verified},
	{Class5, 240, perKm(0.0801), perKm(0.0817), Verified},
}

// IEC60228Resistance is the greatest resistance of a conductor at 20 C. ok is false for a size that the standard lacks; it has
// neither 0.35, 2 nor 3 mm2.
func IEC60228Resistance(class ConductorClass, size unit.Area, coated bool) (r unit.LinearResistance, info Info, ok bool) {
	for _, row := range IEC60228 {
		if row.Class != class || !same(row.Size, size) {
			continue
		}
		info = Info{"IEC 60228:2004", "class " + string('0'+rune(class)) + ", greatest at 20 C, plain copper", row.Basis}
		if !coated {
			return row.Plain, info, true
		}
		info.Condition = "class " + string('0'+rune(class)) + ", greatest at 20 C, metal-coated copper"
		return row.Coated, info, true
	}
	return 0, Info{}, false
}

// ISO6722Row is one size of automotive cable. The resistance is the greatest allowed, at 20 C.
type ISO6722Row struct {
	Size       unit.Area
	Resistance unit.LinearResistance
	Basis      Basis
}

// ISO6722 is ISO 6722-1:2011 (ISO 19642 has the same figures), in milliohms per metre. It differs from IEC 60228 class 5 at the
// same nominal size (1.5 mm2: 12.7 against 13.3).
var ISO6722 = []ISO6722Row{
	{0.13, perKm(136.0), FromMemory},
	{0.22, perKm(84.8), FromMemory},
	{0.35, perKm(54.4), FromMemory},
	{0.5, perKm(37.1), FromMemory},
	{0.75, perKm(24.7), FromMemory},
	{1, perKm(18.5), FromMemory},
	{1.25, perKm(14.9), FromMemory},
	{1.5, perKm(12.7), FromMemory},
	{2, perKm(9.42), FromMemory},
	{2.5, perKm(7.6), FromMemory},
	{3, perKm(6.15), FromMemory},
	{4, perKm(4.71), FromMemory},
	{5, perKm(3.94), FromMemory},
	{6, perKm(3.14), FromMemory},
	{8, perKm(2.38), FromMemory},
	{10, perKm(1.82), FromMemory},
	{12, perKm(1.52), FromMemory},
	{16, perKm(1.16), FromMemory},
	{20, perKm(0.955), FromMemory},
	{25, perKm(0.743), FromMemory},
	{30, perKm(0.647), FromMemory},
	{35, perKm(0.527), FromMemory},
	{40, perKm(0.473), FromMemory},
	{50, perKm(0.368), FromMemory},
	{60, perKm(0.315), FromMemory},
	{70, perKm(0.259), FromMemory},
	{95, perKm(0.196), FromMemory},
	{120, perKm(0.153), FromMemory},
}

// ISO6722Resistance is the greatest resistance of an automotive cable at 20 C. ok is false for a size that the standard lacks.
func ISO6722Resistance(size unit.Area) (r unit.LinearResistance, info Info, ok bool) {
	for _, row := range ISO6722 {
		if same(row.Size, size) {
			return row.Resistance, Info{"ISO 6722-1:2011", "greatest at 20 C", row.Basis}, true
		}
	}
	return 0, Info{}, false
}

// ISO6722Class is a temperature class of automotive cable; all reach down to -40 C.
type ISO6722Class struct {
	Class string
	Most  unit.Temperature
	Basis Basis
}

// ISO6722Classes is the list of classes in ISO 6722-1:2011.
var ISO6722Classes = []ISO6722Class{
	{"A", 85, FromMemory},
	{"B", 100, FromMemory},
	{"C", 125, FromMemory},
	{"D", 150, FromMemory},
	{"E", 175, FromMemory},
	{"F", 200, FromMemory},
	{"G", 225, FromMemory},
	{"H", 250, FromMemory},
}
