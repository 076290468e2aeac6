package data

import (
	"math"

	"loomsheet/harness/unit"
)

// BatteryRow is the inside resistance of a charged lead-acid battery at an air temperature, as a multiple of that at 25 C.
type BatteryRow struct {
	Air    unit.Temperature
	Inside unit.Ratio
	Basis  Basis
}

// BatteryInside is the rise of a starter battery's inside resistance in the cold, from memory: it about doubles from 25 C to -18 C, the temperature
// of the cold cranking test (EN 50342-1), and hardly falls above. Coldest first.
var BatteryInside = []BatteryRow{
	{-30, 2.7, FromMemory},
	{-18, 2.0, FromMemory},
	{0, 1.4, FromMemory},
	{25, 1.0, FromMemory},
	{50, 0.85, FromMemory},
}

// BatterySweep is the air at which cranking is looked at: a mild day, frost, and the cold cranking test.
var BatterySweep = []unit.Temperature{25, 0, -18}

// BatteryAge is how much a worn battery's inside resistance has risen.
type BatteryAge struct {
	Name   string
	Inside unit.Ratio
	Basis  Basis
}

// BatteryAges, from memory: a starter battery is spent once its inside resistance has risen to 1.5 to 2 times that of a new one; the worse is taken.
var BatteryAges = []BatteryAge{{"new", 1, FromMemory}, {"worn", 2, FromMemory}}

const (
	// cellVolts is what a charged lead-acid cell has at rest, common practice. Batteries of vehicles are sold by blocks of three cells.
	cellVolts  unit.Voltage = 2.1
	blockCells              = 3
	// CellVoltsPerKelvin is the rise of a charged cell's volts at rest with its temperature, from memory: about 0.2 mV/K.
	CellVoltsPerKelvin unit.Voltage = 0.0002
)

// BatteryInsideAt is the multiple of the inside resistance at an air temperature, straight between two rows, the first or last row beyond them.
func BatteryInsideAt(air unit.Temperature) (unit.Ratio, Info) {
	info := Info{Document: "lead-acid starter battery", Condition: "inside resistance over that at 25 C", Basis: FromMemory}
	rows := BatteryInside
	if !(air > rows[0].Air) {
		return rows[0].Inside, info
	}
	for i := 1; i < len(rows); i++ {
		if a, b := rows[i-1], rows[i]; air <= b.Air {
			return a.Inside + (b.Inside-a.Inside)*unit.Ratio((air-a.Air)/(b.Air-a.Air)), info
		}
	}
	return rows[len(rows)-1].Inside, info
}

// BatteryCells is how many lead-acid cells in series have about so many volts at rest: whole blocks of three, one block at least.
func BatteryCells(volts unit.Voltage) int {
	blocks := math.Round(float64(volts / (cellVolts * blockCells)))
	return blockCells * int(min(max(blocks, 1), 1000))
}
