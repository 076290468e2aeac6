package rule

import (
	"fmt"
	"math"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/reading"
	"loomsheet/harness/unit"
)

var readingOff = &Rule{
	Key: "reading-off", Title: "a sensor reads wrong because its return is shared", Severity: diag.Finding,
	Why:     "Whatever else comes back over the metal of a sensor's return lifts its reference; the reader sees that as pressure or temperature.",
	Formula: "volts between the sensor's reference pin and the pin its reader measures against, over all cases and starts in which both are fed <= reading-error; in the sensor's own unit volts / per x value",
	Source:  "the setting `reading-error`",
	Do:      "Take the sensor's return to the reader's own reference pin by a wire of its own, not to the body or a shared splice.",
	Fires: with(readingJob, "circuit ref from sensor.2 to gauge.4 class signal\n", "", "draw 0.1 A from 1 to 2\n  joins 2, 4\n", "draw 0.1 A from 1 to 2\n  unused 4\n",
		"circuit back from battery.neg to lamp.2 size 0.5 mm2 colour black", "splice s-back at lamp section body\ncircuit back size 0.5 mm2 colour black {\n  from battery.neg to s-back\n  from s-back to lamp.2, sensor.2\n}"),
	Silent: readingJob,
	Check: func(m *Model, out *diag.List) {
		for i := range m.Readings {
			e := &m.Readings[i]
			if e.Met {
				continue
			}
			in := "In case " + e.Case
			if e.Start != "" {
				in += ", while " + e.Start + " starts"
			}
			detail := fmt.Sprintf("%s, its reference %s lies %s off %s, against which %s measures (%s); the limit is %s (%s). It reads %s per %s.", in, e.To, e.Volts, e.At, e.Reader, e.Why, e.Most, e.Ruling.Source(), e.Value, e.Per)
			if len(e.Shares) > 0 {
				detail += " Other current runs in " + strings.Join(e.Shares[:min(len(e.Shares), 4)], ", ")
				if n := len(e.Shares) - 4; n > 0 {
					detail += fmt.Sprintf(" and %d more", n)
				}
				detail += "."
			} else {
				detail += " No other current shares its way: its own is too much for these wires."
			}
			d := out.Finding(own(m, e.Device, e.Span), "", fmt.Sprintf("%s reads %s wrong at %s", e.Device, offText(e), e.Reader), detail, diag.Subject{Kind: "device", Name: e.Device}).
				Measured(volts(unit.Voltage(math.Abs(float64(e.Volts)))), volts(e.Most), false)
			d.Case = e.Case
			if e.Ruling.Set {
				d.Point(e.Ruling.Span, "the limit is set here")
			}
		}
	},
}

// offText is an error with its sign, to three figures.
func offText(e *reading.Error) string {
	q := e.Off
	if q.Value != 0 && unit.Finite(q.Value) {
		scale := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(q.Value))))
		q.Value = math.Round(q.Value*scale) / scale
	}
	if q.Value > 0 {
		return "+" + q.String()
	}
	return q.String()
}

// A small job with a sensor and the gauge that reads it. Its lamp comes back by a thin wire.
var readingJob = with(smallJob, "fuse blade-10", "fuse blade-5",
	"circuit back from battery.neg to lamp.2 colour black", `device sensor at lamp {
  housing sealed-2 key B
  reads 250 kPa per 1 V from 1 to 2
}
device gauge at hub housing sealed-4 {
  draw 0.1 A from 1 to 2
  joins 2, 4
}
circuit back from battery.neg to lamp.2 size 0.5 mm2 colour black
circuit gauge-feed from battery.pos to gauge.1 colour red
circuit gauge-back from battery.neg to gauge.2 colour black
circuit signal from sensor.1 to gauge.3 class signal colour green
circuit ref from sensor.2 to gauge.4 class signal
`)
