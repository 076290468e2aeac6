package common

import (
	"strings"

	"loomsheet/harness/unit"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// inks are how the colours of IEC 60757 look on paper. The letters beside a swatch rule: red, brown and orange look alike
// under workshop light.
var inks = map[string][]page.Ink{
	"BK": {page.RGB(25, 25, 25)}, "BN": {page.RGB(115, 70, 35)}, "RD": {page.RGB(195, 35, 35)}, "OG": {page.RGB(240, 130, 30)},
	"YE": {page.RGB(245, 215, 60)}, "GN": {page.RGB(40, 140, 65)}, "BU": {page.RGB(45, 85, 180)}, "VT": {page.RGB(125, 65, 150)},
	"GY": {page.RGB(145, 145, 145)}, "WH": {page.RGB(255, 255, 255)}, "PK": {page.RGB(240, 155, 180)}, "GD": {page.RGB(200, 165, 70)},
	"TQ": {page.RGB(70, 185, 180)}, "SR": {page.RGB(200, 200, 205)}, "GNYE": {page.RGB(40, 140, 65), page.RGB(245, 215, 60)},
}

// Inks of a colour code, ground first, then its stripes; none when a part of it is not of IEC 60757.
func Inks(code string) []page.Ink {
	var out []page.Ink
	for _, c := range strings.Split(code, "/") {
		i, ok := inks[c]
		if !ok {
			return nil
		}
		out = append(out, i...)
	}
	return out
}

// ColourCell is the letters of a wire's colour with a swatch beside them; a colour without letters is written out.
func ColourCell(code, colour string) table.Cell {
	switch {
	case code != "":
		c := table.Swatch(code, Inks(code)...)
		c.Type = page.Strong
		return c
	case colour != "":
		return table.T(colour)
	}
	return table.T("not stated")
}

// SizeText is a conductor size with its unit as print has it; a braid has none.
func SizeText(s unit.Size) string {
	if s.IsZero() {
		return "no size"
	}
	return Squared(s.String())
}

// Squared writes mm2 as mm².
func Squared(s string) string { return strings.ReplaceAll(s, "mm2", "mm²") }

// Whole is a length in whole millimetres, without the unit; "not known" for a length that is not positive or not finite.
func Whole(l unit.Length) string {
	if !(l > 0) || !unit.Finite(l) {
		return "not known"
	}
	return unit.Number(float64(l), 0)
}

// Tenths is a length in millimetres to a tenth, without the unit; "not known" as by Whole.
func Tenths(l unit.Length) string {
	if !(l > 0) || !unit.Finite(l) {
		return "not known"
	}
	return unit.Number(float64(l), 1)
}

// Metres is a length in metres with its unit.
func Metres(l unit.Length) string { return unit.Fixed(float64(l)/1000, 1) + " m" }
