package word

import "strings"

// Colour is a colour in plain words with its code by IEC 60757.
type Colour struct{ Name, Code string }

// Colours is the colours of IEC 60757 in the order of its table, in which codes are joined.
var Colours = []Colour{
	{"black", "BK"}, {"brown", "BN"}, {"red", "RD"}, {"orange", "OG"}, {"yellow", "YE"}, {"green", "GN"}, {"blue", "BU"}, {"violet", "VT"},
	{"grey", "GY"}, {"white", "WH"}, {"pink", "PK"}, {"gold", "GD"}, {"turquoise", "TQ"}, {"silver", "SR"},
}

// ColourNames lists the plain words, for near names.
func ColourNames() []string {
	out := make([]string, len(Colours))
	for i, c := range Colours {
		out[i] = c.Name
	}
	return out
}

// SplitColour takes a colour such as red/white apart, base first. It also returns the first part that is no colour (the whole text if
// that part is empty), or "".
func SplitColour(text string) (parts []Colour, wrong string) {
	for p := range strings.SplitSeq(text, "/") {
		found := false
		for _, c := range Colours {
			if c.Name == p {
				parts, found = append(parts, c), true
			}
		}
		if !found && p == "" {
			return parts, text
		}
		if !found {
			return parts, p
		}
	}
	return parts, ""
}
