package data

import (
	"strings"

	"loomsheet/harness/unit"
)

// LugRow is what a ring lug for a conductor measures: across its barrel, and across its palm where the hole does not ask for more.
type LugRow struct {
	Most   unit.Area // the largest conductor
	Barrel unit.Length
	Palm   unit.Length
	Basis  Basis
}

// Lugs is tube lugs for copper by conductor. Widths differ by a millimetre or two from maker to maker.
var Lugs = []LugRow{
	{1, 2.8, 5.5, FromMemory}, {1.5, 3.3, 6, FromMemory}, {2.5, 4.1, 7.5, FromMemory}, {4, 4.8, 8.5, FromMemory}, {6, 5.5, 9.5, FromMemory}, {10, 7, 11, FromMemory},
	{16, 8.5, 13, FromMemory}, {25, 10, 15, FromMemory}, {35, 12, 17.5, FromMemory}, {50, 14, 20.5, FromMemory}, {70, 16.5, 24, FromMemory}, {95, 19, 27, FromMemory},
	{120, 21, 30, FromMemory}, {150, 23.5, 33, FromMemory}, {185, 26, 36, FromMemory}, {240, 29, 41, FromMemory},
}

// ThreadRow is what a thread asks of a lug and of a nut.
type ThreadRow struct {
	Thread string
	Hole   unit.Length // of the lug
	Palm   unit.Length // least width of metal about that hole
	Torque unit.Torque
	Basis  Basis
}

// Threads is the clearance hole and least palm of lugs, as makers sell them, and the torque of IEC 60947-1 Table 4, column III (nuts and screws
// turned by a spanner), all from memory. What the maker of the stud says goes before it.
var Threads = []ThreadRow{
	{"M3", 3.2, 5.5, 0.5, FromMemory}, {"M4", 4.3, 8, 1.2, FromMemory}, {"M5", 5.3, 10, 2, FromMemory}, {"M6", 6.4, 12, 3, FromMemory}, {"M8", 8.4, 15, 6, FromMemory},
	{"M10", 10.5, 18, 10, FromMemory}, {"M12", 13, 22, 14, FromMemory}, {"M14", 15, 25, 19, FromMemory}, {"M16", 17, 28, 25, FromMemory},
}

// TorqueDocument names where the torques of Threads are from.
const TorqueDocument = "IEC 60947-1 Table 4, column III, from memory"

// ThreadOf finds a metric thread, with or without its pitch.
func ThreadOf(thread string) (ThreadRow, bool) {
	t, _, _ := strings.Cut(strings.ToUpper(strings.TrimSpace(thread)), "X")
	for _, r := range Threads {
		if r.Thread == t {
			return r, true
		}
	}
	return ThreadRow{}, false
}

// LugSize is how wide a lug for a conductor is at its barrel and at its palm on a thread; false where the conductor is beyond the table. A
// thread that is not in it asks for nothing.
func LugSize(area unit.Area, thread string) (barrel, palm unit.Length, ok bool) {
	for _, r := range Lugs {
		if area > 0 && area <= r.Most*(1+1e-3) {
			t, _ := ThreadOf(thread)
			return r.Barrel, max(r.Palm, t.Palm), true
		}
	}
	return 0, 0, false
}
