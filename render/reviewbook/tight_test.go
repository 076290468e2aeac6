package reviewbook

import (
	"testing"

	"loomsheet/harness/margin"
	"loomsheet/harness/unit"
)

func TestRoomText(t *testing.T) {
	q := func(x float64, d unit.Dim) unit.Quantity { return unit.Quantity{Value: x, Dim: d} }
	for _, c := range []struct {
		room         margin.Room
		figure, word string
	}{
		{margin.Room{What: margin.Load, Of: "lamp", From: q(5, unit.DimCurrent), To: q(5.5, unit.DimCurrent)}, "5.000\nto 5.500", ""},
		{margin.Room{What: margin.Load, Of: "of all in its bundle", From: q(1, unit.DimRatio), To: q(1.25, unit.DimRatio)}, "100.0 %\nto 125.0 %", "of all in its bundle"},
		{margin.Room{What: margin.Length, Of: "out and back", From: q(8000, unit.DimLength), To: q(8400.4, unit.DimLength)}, "8000\nto 8400", "out and back"},
		{margin.Room{What: margin.Ambient, From: q(0, unit.DimTempDiff), To: q(12.34, unit.DimTempDiff)}, "+12.3", ""},
		{margin.Room{What: margin.Ambient, From: q(0, unit.DimTempDiff), To: q(60, unit.DimTempDiff), Beyond: true}, "not by\n+60.0", ""},
		{margin.Room{What: margin.Supply, Of: "battery", From: q(12, unit.DimVoltage), To: q(8.4, unit.DimVoltage), Beyond: true}, "not by\n±3.60", "battery"},
		{margin.Room{What: margin.Supply, Of: "battery", From: q(12, unit.DimVoltage), To: q(11, unit.DimVoltage), Stops: true}, "12.000\nto 11.000", "battery; there it jumps"},
		{margin.Room{What: margin.Load, Of: "starter as it starts", Missed: true}, "none", "starter as it starts"},
	} {
		if f, w := roomText(&c.room); f != c.figure || w != c.word {
			t.Errorf("%+v: %q %q, want %q %q", c.room, f, w, c.figure, c.word)
		}
	}
}
