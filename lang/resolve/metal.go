package resolve

import (
	"fmt"
	"math"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// joins reads a line of pins that are always joined.
func (b *builder) joins(d *device, l *sense.Stmt) {
	pins := b.ownPins(d, l, l.About)
	if len(pins) != len(l.About) || len(pins) == 0 || l.Lost {
		return
	}
	if len(pins) < 2 {
		b.mistake(l, sense.Spanned(l.About), "joins-one", "`joins` wants two pins or more", "Write the pins with commas between: `joins nose, cabin`.")
		return
	}
	r := fact[unit.Resistance](l, "resistance")
	if o := l.Find("resistance"); o != nil {
		if q, ok := quantity(o.Values[0]); ok && q.Dim == unit.DimLinearResistance {
			if r, ok = b.metal(d, l, pins, q); !ok {
				return
			}
		}
	}
	d.Joins = append(d.Joins, design.Joins{Pins: pins, Resistance: r, Span: l.Span})
}

// metal is the resistance between two pins of a body whose metal is stated per length: that figure times the straight distance between
// their places. It is false where no distance is known; of a pattern, and of a place that is a mistake already, nothing is told.
func (b *builder) metal(d *device, l *sense.Stmt, pins []string, per unit.Quantity) (design.Fact[unit.Resistance], bool) {
	none := design.Fact[unit.Resistance]{}
	figure := l.Find("resistance").Values[0]
	if n := len(pins); n > 2 {
		b.mistake(l, figure.Span, "arm-without-length", fmt.Sprintf("%d pins are a star, and no arm of it has a length for %s", n, figure.Text),
			fmt.Sprintf("Say each pair on a line of its own, such as `joins %s, %s resistance %s`; or write the resistance of each arm, such as `1 mohm`.", pins[0], pins[1], figure.Text))
		return none, false
	}
	var at [2]design.Point3
	for i, p := range pins {
		s := d.placing(p)
		if s.Unsure("at") {
			return none, false
		}
		spot := b.pinSpot(l, l.About[i], d.t, p)
		if !spot.Known {
			if b.alongRun(s) {
				b.mistake(l, l.About[i].Span, "no-place", fmt.Sprintf("nobody knows yet where pin %s of %s sits", p, d.Name),
					fmt.Sprintf("Its place hangs on a splice along a run. %s wants the distance between two places with coordinates; or write the resistance itself, such as `1 mohm`.", figure.Text)).
					Point(s.Find("at").Span, "its place")
			}
			return none, false
		}
		at[i] = spot.At
	}
	far := distance(at[0], at[1])
	if unit.Number(float64(far), 3) == "0" { // places are told apart by the micrometre
		m := b.mistake(l, figure.Span, "no-distance", fmt.Sprintf("%s and %s of %s sit at one place: %s has no length to count for", pins[0], pins[1], d.Name, figure.Text),
			"Say with `at` where each pin sits; or write the resistance itself, such as `1 mohm`.")
		one, two := d.placed(pins[0]), d.placed(pins[1])
		if one == two {
			m.Point(one, "where both sit")
		} else {
			m.Point(one, "where "+pins[0]+" sits").Point(two, "where "+pins[1]+" sits")
		}
		return none, false
	}
	r := unit.LinearResistance(per.Value).Over(far)
	if !unit.Finite(r) {
		b.mistake(l, figure.Span, "too-much", fmt.Sprintf("%s over %s is no number", figure.Text, far), "Look for a number that is too large.")
		return none, false
	}
	f := given(l, r, figure)
	f.Source = fmt.Sprintf("%s over %s", figure.Text, far)
	if s := l.Text("source"); s != "" {
		f.Source += ", " + s
	}
	return f, true
}

func distance(p, q design.Point3) unit.Length {
	d := add(p, q, -1)
	return unit.Length(math.Hypot(math.Hypot(float64(d.X), float64(d.Y)), float64(d.Z)))
}

// placing is the line that says where a pin sits, or may have said so: its own, that of its housing, else that of the device.
func (d *device) placing(pin string) *sense.Stmt {
	says := func(l *sense.Stmt) bool { return l != nil && (l.Find("at") != nil || l.Unsure("at")) }
	i, ok := d.find(pin)
	if !ok {
		return d.st
	}
	if l := d.pinLines[d.Pins[i].Name]; says(l) {
		return l
	}
	if h := d.Pins[i].Housing; h >= 0 {
		if l := d.housingLine(h); says(l) {
			return l
		}
	}
	return d.st
}

// placed is where the place of a pin is written.
func (d *device) placed(pin string) diag.Span {
	if o := d.placing(pin).Find("at"); o != nil {
		return o.Span
	}
	return d.t.st.NameSpan()
}

// alongRun tells whether a place hangs on a splice somewhere along a run, which has a place but no coordinates.
func (b *builder) alongRun(s *sense.Stmt) bool {
	seen := map[*sense.Stmt]bool{}
	for !seen[s] {
		seen[s] = true
		o := s.Find("at")
		if o == nil {
			return s.Word.Name == "splice" && s.Find("along") != nil
		}
		if o.Values[0].Kind == syntax.Place {
			return false
		}
		head, pin, dotted := strings.Cut(o.Values[0].Text, ".")
		t := b.names["place"][head]
		if t == nil {
			return false
		}
		if s = b.merged[t]; s == nil {
			s = t.st
		}
		if d := b.devices[head]; dotted && d != nil {
			s = d.placing(pin)
		}
	}
	return false
}
