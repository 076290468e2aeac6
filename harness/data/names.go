package data

import "strings"

// Colour is one colour of IEC 60757.
type Colour struct {
	Code  string
	Name  string
	Basis Basis
}

// Colours is IEC 60757 in its own order, which is the order of joining two codes on one item.
var Colours = []Colour{
	{"BK", "black", Verified},
	{"BN", "brown", Verified},
	{"RD", "red", Verified},
	{"OG", "orange", Verified},
	{"YE", "yellow", Verified},
	{"GN", "green", Verified},
	{"BU", "blue", Verified},
	{"VT", "violet", Verified},
	{"GY", "grey", Verified},
	{"WH", "white", Verified},
	{"PK", "pink", Verified},
	{"GD", "gold", Verified},
	{"TQ", "turquoise", Verified},
	{"SR", "silver", Verified},
	{"GNYE", "green-and-yellow", Verified},
}

// colourAlso is other names of the same colours. Shades of one colour are not among them: they would print as one code, and a builder
// could not tell two wires apart.
var colourAlso = [][2]string{{"gray", "GY"}, {"slate", "GY"}, {"purple", "VT"}}

// ColourCode is the letter code of a wire's colour as it is printed: "red" is RD, "red/white" (base/stripe) is RD/WH.
//
// IEC 60757 joins two colours of one item in the order of its table, without a mark (RDWH, never WHRD). To a builder a red wire
// with a white stripe and a white one with a red stripe are two wires, so the codes stand here in the order base, stripe with a
// slash between; the letters are the standard's. For the same reason green/yellow is GN/YE, while the standard's own GNYE is
// kept for the colour green-and-yellow. Up to three colours; ok is false if one is unknown.
func ColourCode(colour string) (code string, ok bool) {
	names := strings.Split(colour, "/")
	if len(names) > 3 {
		return "", false
	}
	for i, n := range names {
		c, ok := oneColour(n)
		if !ok {
			return "", false
		}
		if i > 0 {
			code += "/"
		}
		code += c
	}
	return code, true
}

func oneColour(name string) (string, bool) {
	for _, c := range Colours {
		if c.Name == name {
			return c.Code, true
		}
	}
	for _, a := range colourAlso {
		if a[0] == name {
			return a[1], true
		}
	}
	return "", false
}

// ColourNames lists every name that ColourCode knows, the standard's own first.
func ColourNames() []string {
	var out []string
	for _, c := range Colours {
		out = append(out, c.Name)
	}
	for _, a := range colourAlso {
		out = append(out, a[0])
	}
	return out
}

// Terminal is the meaning of a terminal number.
type Terminal struct {
	Name    string // two names of a pair stand with " / " between
	Meaning string
	Basis   Basis
}

// Terminals is DIN 72552 (1971), those most used. The standard calls 87 an input; the everyday relay has 30 as common, 87 as make
// and 87a as break. A check must not take 87 for a fixed role.
var Terminals = []Terminal{
	{"1", "ignition coil low tension", Verified},
	{"4", "ignition coil high tension", Verified},
	{"4a", "ignition coil I, terminal 4", Verified},
	{"4b", "ignition coil II, terminal 4", Verified},
	{"15", "switched battery positive (ignition on)", Verified},
	{"17", "glow system start", Verified},
	{"19", "glow system preheat", Verified},
	{"29", "battery positive, rear, with crash shutdown (later addition)", Verified},
	{"30", "battery positive, direct", Verified},
	{"30a", "battery 2 positive", Verified},
	{"31", "battery negative or body, direct", Verified},
	{"31a", "battery 2 negative", Verified},
	{"31b", "negative via switch or relay (switched ground)", Verified},
	{"32", "motor return line", Verified},
	{"33", "motor main connection", Verified},
	{"33a", "motor end stop (park)", Verified},
	{"50", "starter control", Verified},
	{"49", "flasher input", FromMemory},
	{"49a", "flasher output", FromMemory},
	{"53", "wiper motor positive input", FromMemory},
	{"53a", "wiper positive, end-position (park) feed", FromMemory},
	{"53b", "wiper shunt winding / second speed", FromMemory},
	{"53e", "wiper brake winding", FromMemory},
	{"54", "brake lamps", FromMemory},
	{"55", "fog lamps", FromMemory},
	{"56", "headlamps, feed", FromMemory},
	{"56a", "high beam", FromMemory},
	{"56b", "low beam", FromMemory},
	{"57a", "parking lamp", FromMemory},
	{"58", "side, tail, plate, instrument lamps", FromMemory},
	{"58L / 58R", "left / right side lamps", FromMemory},
	{"61", "charge indicator", FromMemory},
	{"71", "tone sequence unit input", FromMemory},
	{"75", "radio, cigarette lighter", FromMemory},
	{"85", "relay coil, output (negative)", FromMemory},
	{"86", "relay coil, input", FromMemory},
	{"87", "relay contact input (per DIN) / normally-open output in cube relays", Verified},
	{"87a", "change-over contact, break side (normally closed)", Verified},
	{"87b", "change-over contact, make side, second output per DIN", Verified},
	{"88", "relay contact input, other contact set", FromMemory},
	{"B+", "generator battery positive", FromMemory},
	{"D+", "generator/regulator plus, charge lamp", FromMemory},
	{"DF", "generator field", FromMemory},
	{"L / R", "left / right turn lamps", FromMemory},
}

// TerminalMeaning is the meaning of a terminal number by DIN 72552, upper and lower case told apart.
func TerminalMeaning(name string) (meaning string, info Info, ok bool) {
	for _, t := range Terminals {
		for _, n := range strings.Split(t.Name, " / ") {
			if n == name {
				return t.Meaning, Info{Document: "DIN 72552", Basis: t.Basis}, true
			}
		}
	}
	return "", Info{}, false
}
