package reviewbook

import (
	"math"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/heat"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// The voices of the tables: a figure or a name, what stands under it, and what is to be found first.
var (
	plain = page.Body.Sized(9)
	bold  = page.Strong.Sized(9)
	fine  = page.Tight.Sized(8.5)
	alarm = page.Strong.Sized(8.5).Faced(font.NarrowBold)
	prose = page.Body.Sized(9.5)
)

const unknown = "not known"

func small(s string) table.Cell { return table.Cell{Text: s, Type: fine} }

// fixed prints x with so many decimals, so that a sum of printed figures can be checked to the last of them.
func fixed(x float64, decimals int) string {
	if !unit.Finite(x) {
		return unknown
	}
	return unit.Fixed(x, decimals)
}

// four prints x with four significant digits, three decimals at most.
func four(x float64) string {
	d := 3
	for lim := 9.9995; d > 0 && math.Abs(x) >= lim; lim *= 10 {
		d--
	}
	return fixed(x, d)
}

func volts(v unit.Voltage) string        { return fixed(float64(v), 3) }
func millivolts(v unit.Voltage) string   { return four(float64(v) * 1000) }
func milliohms(r unit.Resistance) string { return four(float64(r) * 1000) }
func amps(i unit.Current) string         { return four(float64(i)) }

// degrees is a temperature in C; past the bound of the heat stage no more than that is said.
func degrees(t unit.Temperature) string {
	if t >= heat.Bound {
		return "> " + fixed(float64(heat.Bound), 0)
	}
	return fixed(float64(t), 1)
}

func metres(l unit.Length) string { return fixed(float64(l)/1000, 3) }
func perMetre(r unit.LinearResistance) string {
	return fixed(float64(r)*1000, 4)
}

// percent is a share of so many volts, with them.
func percent(part, of unit.Voltage) string {
	if !(of > 0) {
		return "–"
	}
	return percentOnly(part, of) + " % of " + plainVolts(of)
}

// percentOnly is the figure alone.
func percentOnly(part, of unit.Voltage) string {
	if !(of > 0) {
		return "–"
	}
	return fixed(float64(part)/float64(of)*100, 2)
}

// plainVolts is a round figure such as 24 V, or 13.5 V.
func plainVolts(v unit.Voltage) string { return v.String() }

func verdictCell(met bool) table.Cell {
	if met {
		return small("met")
	}
	return table.Cell{Text: notMetWords, Type: alarm}
}

const notMetWords = "NOT MET"

// limitText is a limit in words: what is asked, and in volts.
func limitText(l *fit.Limit) (what, figure string) {
	what = l.Name
	if l.Name == "least" {
		what = "least of the load"
	}
	if l.Of > 0 {
		what += " " + l.Ruling.Value.String() + " of " + plainVolts(l.Of)
	}
	if l.Floor {
		return what, "at least " + volts(l.Value)
	}
	return what, "at most " + volts(l.Value)
}

// limitSource is where a limit was set.
func (b *book) limitSource(l *fit.Limit) string {
	switch {
	case !l.Ruling.Known:
		return "the load's own, " + b.at(l.Span)
	case l.Ruling.Set:
		return l.Ruling.Source() + ", " + b.at(l.Span)
	}
	return "default"
}

// at is a place in the text.
func (b *book) at(s diag.Span) string {
	if b.in.Locate == nil || s.IsZero() {
		return "no place in the text"
	}
	if at := b.in.Locate(s); at != "" {
		return at
	}
	return "no place in the text"
}

func list(words []string) string { return strings.Join(words, ", ") }
