package worked

import (
	"math"
	"regexp"
	"strings"
	"testing"
)

var figure = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?(e-?[0-9]+)? ?(mV|V|A2s|A|mm|K|C)\b`)

// TestRoomIsWhatIsLeft: the room of a line is what lies between its result and its limit, to the digits printed, and the line is met where it is no less than nothing.
// A limit that is a temperature reached holds it against the one that may be reached.
func TestRoomIsWhatIsLeft(t *testing.T) {
	seen := map[string]int{}
	for _, file := range []string{"../../examples/bad/bad.loom", "../../examples/bad/mended.loom"} {
		m := compiled(t, file)
		for i := range m.Net.Wires {
			s := Of(m, i)
			for _, p := range s.Parts {
				for _, l := range p.Lines {
					if l.Room == "" {
						continue
					}
					room := number(l.Room)
					if math.IsNaN(room) {
						t.Errorf("%s line %d: room %q", s.Name, l.Number, l.Room)
						continue
					}
					seen[p.Title]++
					if room != 0 && l.Met != (room > 0) {
						t.Errorf("%s line %d, %s: room %s, met %v", s.Name, l.Number, l.What, l.Room, l.Met)
					}
					figures := figure.FindAllString(l.Limit, -1)
					if len(figures) == 0 {
						t.Errorf("%s line %d: limit %q says no figure", s.Name, l.Number, l.Limit)
						continue
					}
					a, b := number(l.Result), number(strings.TrimSpace(figures[0]))
					if strings.HasPrefix(l.Formula, "room =") { // its result is the room itself
						for _, in := range l.Inputs {
							if in.Name == "D" {
								a = number(in.Value)
							}
						}
						if number(l.Result) != room {
							t.Errorf("%s line %d: %s, room %s", s.Name, l.Number, l.Result, l.Room)
						}
					}
					if strings.Contains(l.Limit, "reaches") {
						a, b = b, number(figures[1])
					}
					// rounded each by itself
					slack := 2e-3*math.Max(math.Abs(a), math.Abs(b)) + 1e-9
					if math.Abs(math.Abs(a-b)-math.Abs(room)) > slack {
						t.Errorf("%s line %d, %s: %s, %s, room %s", s.Name, l.Number, l.What, l.Result, l.Limit, l.Room)
					}
				}
			}
		}
	}
	for _, part := range []string{"Volts", "Heat", "Contacts", "Protection"} {
		if seen[part] < 20 {
			t.Errorf("%s: %d lines with room", part, seen[part])
		}
	}
}
