package data

import "loomsheet/harness/unit"

// Nut is what a spanner for the hexagon nut of a thread measures.
type Nut struct {
	Thread string
	Across unit.Length // the flats
	Basis  Basis
}

// Nuts is ISO 4032, style 1, from memory. Older nuts by DIN 934 differ at M10 (17 mm) and M12 (19 mm).
var Nuts = []Nut{
	{"M3", 5.5, FromMemory},
	{"M4", 7, FromMemory},
	{"M5", 8, FromMemory},
	{"M6", 10, FromMemory},
	{"M8", 13, FromMemory},
	{"M10", 16, FromMemory},
	{"M12", 18, FromMemory},
	{"M16", 24, FromMemory},
}

// NutOf finds the nut of a thread.
func NutOf(thread string) (Nut, bool) {
	for _, n := range Nuts {
		if n.Thread == thread {
			return n, true
		}
	}
	return Nut{}, false
}
