package syntax

import (
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/token"
	"loomsheet/lang/word"
)

// spokenUnits are what people write for units, in small letters.
var spokenUnits = map[string]string{
	"volt": "V", "volts": "V", "amp": "A", "amps": "A", "ampere": "A", "amperes": "A", "watt": "W", "watts": "W", "ohms": "ohm",
	"milliohm": "mohm", "milliohms": "mohm", "sec": "s", "secs": "s", "second": "s", "seconds": "s", "msec": "ms", "minute": "min",
	"minutes": "min", "mins": "min", "hour": "h", "hours": "h", "hr": "h", "hrs": "h", "metre": "m", "metres": "m", "meter": "m",
	"meters": "m", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "inches": "inch", "in": "inch", "foot": "ft",
	"feet": "ft", "degc": "C", "celsius": "C", "degrees": "C", "kelvin": "K", "percent": "%", "sqmm": "mm2", "sq": "mm2", "mm3": "mm2",
	"newton": "N", "newtons": "N", "kilogram": "kg", "gram": "g", "grams": "g", "gauge": "AWG", "ga": "AWG", "f": "C", "hp": "kW",
}

func init() {
	for _, u := range unit.Units {
		if l := strings.ToLower(u.Name); l != u.Name {
			if _, taken := unit.LookUp(l); !taken {
				spokenUnits[l] = u.Name
			}
		}
	}
}

// unknownUnits turns a bare number and a word that was surely meant as its unit into one illegal token with a mistake: `12 Volts`,
// `5 mm3`. A word may well follow a bare number (`cavity 1 stud M10`), so no word of the language is taken for a unit, nor one that has a
// value of its own behind it.
func (r *reader) unknownUnits(tokens []token.Token) []token.Token {
	out := tokens[:0] // never ahead of what is still to be read
	for i := 0; i < len(tokens); i++ {
		t := tokens[i]
		if t.Kind != token.Quantity || !bare(t.Text) || i+1 >= len(tokens) || tokens[i+1].Kind != token.Name || !r.meantAsUnit(tokens, i+1) {
			out = append(out, t)
			continue
		}
		u := tokens[i+1]
		end := i + 1
		if n := tokens[end+1:]; u.Text == "sq" && len(n) > 0 && n[0].Kind == token.Name && n[0].Text == "mm" {
			end++
		}
		near := diag.Nearest(u.Text, unit.Names())
		detail := "Write one of the known units behind the number, or leave it a bare number."
		if s, ok := spokenUnits[strings.ToLower(u.Text)]; ok {
			near, detail = []string{s}, "Write "+short(t)+" "+s+"."
			if strings.EqualFold(u.Text, "f") || strings.EqualFold(u.Text, "hp") {
				detail = "Write the value in " + s + "."
			}
		}
		written := r.text[u.Start:tokens[end].End]
		r.mistake(u.Start, tokens[end].End, "unknown-unit", "`"+token.Shorten(written)+"` is no unit", detail).Near(near)
		out = append(out, token.Token{Kind: token.Illegal, Start: t.Start, End: tokens[end].End, Text: t.Text + " " + written, First: t.First, Indent: t.Indent})
		i = end
	}
	return out
}

// bare tells whether a quantity is a number without a unit.
func bare(s string) bool { return strings.Trim(s, "-−.0123456789") == "" }

// meantAsUnit judges the name at i, which stands behind a bare number.
func (r *reader) meantAsUnit(tokens []token.Token, i int) bool {
	name := tokens[i].Text
	if word.Known(name) {
		return false
	}
	_, spoken := spokenUnits[strings.ToLower(name)]
	next := token.EOL
	if i+1 < len(tokens) {
		next = tokens[i+1].Kind
	}
	switch next {
	case token.Quantity, token.Ref, token.Text, token.LeftParen, token.Illegal:
		return false
	case token.Name:
		if spoken {
			return word.Known(tokens[i+1].Text) || strings.EqualFold(name, "sq")
		}
		return word.Known(tokens[i+1].Text) && len(diag.Nearest(name, unit.Names())) > 0
	}
	return spoken || len(diag.Nearest(name, unit.Names())) > 0
}
