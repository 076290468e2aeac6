package sense

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/expand"
	"loomsheet/lang/syntax"
	"loomsheet/lang/token"
	"loomsheet/lang/word"
)

// values checks a list as it is written; it hands on the values that could be made out. Names with a range in them are checked
// once they are taken apart.
func (r *Reader) values(vs []syntax.Value, arg *word.Arg, name string, about bool) []syntax.Value {
	out := make([]syntax.Value, 0, len(vs))
	for _, v := range vs {
		if isBad(v) {
			continue
		}
		if r.holdsParam(v) || v.Kind != syntax.Text && v.Kind != syntax.Place && expand.HasRange(v.Text) || r.value(v, arg, name) {
			out = append(out, v)
		}
	}
	if len(vs) > 1 && !arg.Many {
		r.several(vs, name, about)
		if len(out) > 1 {
			out = out[:1]
		}
	}
	return out
}

// isBad tells whether a value has been reported already when its shape was read.
func isBad(v syntax.Value) bool { return v.Kind == syntax.Bad || hasBad(v.Items) }

func hasBad(vs []syntax.Value) bool { return slices.ContainsFunc(vs, isBad) }

func (r *Reader) several(vs []syntax.Value, name string, about bool) {
	texts := make([]string, 0, 4)
	for _, v := range vs[:min(len(vs), 4)] {
		texts = append(texts, short(v.Text))
	}
	d := r.Msgs.Mistake(Spanned(vs), "several-values", fmt.Sprintf("`%s` takes one value, here are %d", name, len(vs)),
		fmt.Sprintf("For one each write `[%s]` beside a range in what the line is about, or a line for each.", strings.Join(texts, ", ")))
	if about {
		d.Title = fmt.Sprintf("`%s` is about one thing, here are %d", name, len(vs))
		d.Detail = "Write a line for each."
	}
	if slices.ContainsFunc(vs, func(v syntax.Value) bool { return v.Kind == syntax.Place || v.Kind == syntax.Text }) {
		d.Detail = "Write a line for each."
	}
}

// holdsParam tells whether a value waits for a parameter of the template being looked through.
func (r *Reader) holdsParam(v syntax.Value) bool {
	for _, p := range r.open {
		if v.Kind == syntax.Place {
			if slices.ContainsFunc(v.Items, r.holdsParam) {
				return true
			}
		} else if v.Kind != syntax.Text && strings.Contains(v.Text, "["+p+"]") {
			return true
		}
	}
	return false
}

// Value checks one value of a setting against what is wanted; name is the word it belongs to. A mistake is told. A limit may be as large as it
// likes, so that it never rules.
func (r *Reader) Value(v syntax.Value, arg *word.Arg, name string) bool {
	r.wide = true
	defer func() { r.wide = false }()
	return r.value(v, arg, name)
}

func (r *Reader) value(v syntax.Value, arg *word.Arg, name string) bool {
	switch arg.Kind {
	case word.NewName, word.FreeName, word.Refer, word.End:
		return r.name(v, arg, name)
	case word.FreeText:
		if v.Kind == syntax.Place {
			return r.wrongKind(v, arg, name)
		}
		return true
	case word.Measure:
		return r.measure(v, arg, name)
	case word.Spot:
		if v.Kind == syntax.Place {
			return r.coords(v, name, 3)
		}
		if v.Kind == syntax.Text || v.Kind == syntax.Quantity && strings.Contains(v.Text, " ") {
			return r.wrongKind(v, arg, name)
		}
		return true
	case word.Coords:
		if v.Kind != syntax.Place {
			return r.wrongKind(v, arg, name)
		}
		return r.coords(v, name, 0)
	case word.Choice:
		return r.choice(v, arg, name)
	}
	return true
}

func (r *Reader) choice(v syntax.Value, arg *word.Arg, name string) bool {
	if v.Kind != syntax.Place && v.Kind != syntax.Text && slices.Contains(arg.Choices, v.Text) {
		return true
	}
	r.Msgs.Mistake(v.Span, "no-such-choice", fmt.Sprintf("`%s` cannot be `%s`", name, short(v.Text)),
		fmt.Sprintf("`%s` is %s.", name, arg.Wants())).Near(diag.Nearest(v.Text, arg.Choices))
	return false
}

// longest is how many bytes a name may have.
const longest = 80

func (r *Reader) name(v syntax.Value, arg *word.Arg, name string) bool {
	switch {
	case v.Kind == syntax.Place:
		return r.wrongKind(v, arg, name)
	case v.Kind == syntax.Text:
		r.Msgs.Mistake(v.Span, "name-quoted", fmt.Sprintf("`%s` wants a name, this is text in quotes", name),
			fmt.Sprintf("Write it without quotes and without blanks: `%s`.", unquoted(v.Text)))
		return false
	case strings.Contains(v.Text, " ") && !expand.HasRange(v.Text):
		return r.wrongKind(v, arg, name)
	case len(v.Text) > longest && !expand.HasRange(v.Text):
		r.Msgs.Mistake(v.Span, "name-too-long", tooLong(v.Text), fmt.Sprintf("Names have at most %d: they are printed on labels.", longest))
		return false
	case arg.Kind == word.NewName && name != "state" && strings.Contains(v.Text, "."):
		r.Msgs.Mistake(v.Span, "name-with-dot", fmt.Sprintf("the name `%s` has a dot in it", short(v.Text)),
			"A dot parts a thing from what is in it, as in pump.1. Write a - instead.")
		return false
	}
	return true
}

// tooLong says how long a name is; a letter that is none of a to z counts as the bytes that it takes.
func tooLong(name string) string {
	if utf8.RuneCountInString(name) < len(name) {
		return fmt.Sprintf("this name takes as much room as %d plain letters", len(name))
	}
	return fmt.Sprintf("this name has %d letters", len(name))
}

func unquoted(t string) string {
	t = strings.Join(strings.Fields(t), "-")
	if t == "" {
		return "fuel-pump"
	}
	return short(t)
}

func (r *Reader) wrongKind(v syntax.Value, arg *word.Arg, name string) bool {
	r.Msgs.Mistake(v.Span, "wrong-value", fmt.Sprintf("`%s` wants %s, %s", name, brief(arg), says(v)), "`"+name+"` is "+arg.Wants()+".")
	return false
}

// brief is what is wanted in a word or two.
func brief(arg *word.Arg) string {
	switch arg.Kind {
	case word.FreeText:
		return "text"
	case word.Spot:
		return "a place"
	case word.Coords:
		return "coordinates"
	case word.Measure:
		return dims(arg)
	case word.End:
		return "an end of a wire"
	case word.Choice:
		return "one of its words"
	}
	return "a name"
}

func dims(arg *word.Arg) string {
	if len(arg.Dims) == 0 {
		return "a quantity"
	}
	names := make([]string, len(arg.Dims))
	for i, d := range arg.Dims {
		names[i] = d.String()
	}
	return join(names, "or")
}

// says tells what a value is: "`25 mm` is a length".
func says(v syntax.Value) string {
	switch v.Kind {
	case syntax.Place:
		return "this is a place"
	case syntax.Text:
		return "this is text in quotes"
	case syntax.Quantity:
		if q, err := unit.Parse(v.Text); err == nil && q.Dim != unit.DimNone {
			return fmt.Sprintf("`%s` is %s", short(v.Text), q.Dim)
		}
		return fmt.Sprintf("`%s` is a number", short(v.Text))
	}
	return fmt.Sprintf("`%s` is a name", short(v.Text))
}

// measure checks a quantity: that its unit is known, of the right kind, and that the value can be.
func (r *Reader) measure(v syntax.Value, arg *word.Arg, name string) bool {
	if v.Kind == syntax.Name && slices.Contains(arg.Choices, v.Text) {
		return true
	}
	if v.Kind == syntax.Place || v.Kind == syntax.Text {
		return r.wrongKind(v, arg, name)
	}
	if len(v.Text) > longestMeasure || digits(v.Text) > mostDigits {
		return r.unclear(v, arg, name, "it has too many digits")
	}
	q, err := unit.Parse(v.Text)
	if err != nil {
		return r.unreadable(v, arg, name, err)
	}
	if len(arg.Dims) > 0 && !slices.Contains(arg.Dims, q.Dim) {
		return r.wrongDim(v, q, arg, name)
	}
	if q.Value < 0 && q.Dim != unit.DimTemperature && q.Dim != unit.DimGauge && len(arg.Dims) > 0 {
		r.Msgs.Mistake(v.Span, "below-zero", fmt.Sprintf("`%s` cannot be below zero", name), "Leave out the minus sign.")
		return false
	}
	if math.Abs(q.Value) > greatest {
		r.Msgs.Mistake(v.Span, "too-much", fmt.Sprintf("`%s` is more than any number of a harness can be", short(v.Text)),
			"Look for a digit or a unit that is too large. A limit that is never to rule may be as large as 1000000.")
		return false
	}
	if q.Dim == unit.DimLength && q.Value > farthest && !r.wide {
		r.tooFar(v.Span, fmt.Sprintf("`%s` is more than a kilometre", short(v.Text)))
		return false
	}
	if q.Dim == unit.DimTemperature && q.Value < absoluteZero {
		r.Msgs.Mistake(v.Span, "below-zero", fmt.Sprintf("nothing is as cold as %s", short(v.Text)), "The coldest there is lies at -273.15 C.")
		return false
	}
	return true
}

// greatest is the largest number of any kind, in its base unit: all digits before its point hold in a sum, and are few enough to be printed.
const greatest = 1e15

// farthest is the longest that anything of a job may be, and how far from the datum it may lie, in millimetres.
const farthest = 1e6

func (r *Reader) tooFar(span diag.Span, title string) {
	r.Msgs.Mistake(span, "too-much", title, "No harness is that large: look for a number or a unit that is too large.")
}

// absoluteZero is the least temperature in degrees Celsius.
const absoluteZero = -273.15

func (r *Reader) wrongDim(v syntax.Value, q unit.Quantity, arg *word.Arg, name string) bool {
	if q.Dim == unit.DimNone {
		r.Msgs.Mistake(v.Span, "unit-missing", fmt.Sprintf("`%s` wants %s, `%s` has no unit", name, dims(arg), short(v.Text)),
			"Write the unit after the number: "+examples(arg.Dims, short(v.Text))+".")
		return false
	}
	d := r.Msgs.Mistake(v.Span, "wrong-unit", fmt.Sprintf("`%s` wants %s, `%s` is %s", name, dims(arg), short(v.Text), q.Dim), "`"+name+"` is "+arg.Wants()+".")
	switch {
	case len(arg.Dims) == 1 && arg.Dims[0] == unit.DimNone:
		d.Detail = "Write the number alone."
	case q.Dim == unit.DimLength && slices.Contains(arg.Dims, unit.DimArea) && strings.HasSuffix(v.Text, "mm"):
		d.Detail = fmt.Sprintf("Did you mean `%s2`? ", short(v.Text)) + d.Detail
	case q.Dim == unit.DimResistance && slices.Contains(arg.Dims, unit.DimLinearResistance):
		d.Detail = fmt.Sprintf("Did you mean `%s/m`? ", short(v.Text)) + d.Detail
	}
	return false
}

// examples writes the number with each unit that would do.
func examples(ds []unit.Dim, num string) string {
	var out []string
	for _, d := range ds {
		if us := d.Units(); len(us) > 0 {
			out = append(out, "`"+strings.TrimSpace(num+" "+us[0])+"`")
		}
	}
	return join(out, "or")
}

func (r *Reader) unreadable(v syntax.Value, arg *word.Arg, name string, err error) bool {
	if how := token.Unnumbered(v.Text); how != "" {
		r.Msgs.Mistake(v.Span, "number-unclear", fmt.Sprintf("`%s` cannot be read as a number", short(v.Text)), how)
		return false
	}
	num := strings.TrimLeft(v.Text, "-.0123456789")
	if num == v.Text || v.Kind == syntax.Ref && !strings.ContainsAny(v.Text[:1], "0123456789") {
		return r.wrongKind(v, arg, name)
	}
	if u := strings.TrimSpace(num); u != "" {
		if _, known := unit.LookUp(u); !known {
			r.noUnit(v.Span, u, arg)
			return false
		}
	}
	return r.unclear(v, arg, name, err.Error())
}

const (
	mostDigits     = 40  // of a number; nobody measures that many
	longestMeasure = 320 // a number with its unit, in bytes
)

// digits is how long the number is that a text begins with.
func digits(t string) int { return len(t) - len(strings.TrimLeft(t, "-−.0123456789")) }

func (r *Reader) unclear(v syntax.Value, arg *word.Arg, name, why string) bool {
	r.Msgs.Mistake(v.Span, "number-unclear", fmt.Sprintf("`%s` cannot be read: %s", short(v.Text), why), "`"+name+"` is "+arg.Wants()+".")
	return false
}

func (r *Reader) noUnit(span diag.Span, u string, arg *word.Arg) {
	var names []string
	for _, d := range arg.Dims {
		names = append(names, d.Units()...)
	}
	near := diag.Nearest(u, names)
	d := r.Msgs.Mistake(span, "unknown-unit", fmt.Sprintf("`%s` is no unit", short(u)), "").Near(near)
	if len(names) > 0 {
		d.Detail = "Wanted is " + dims(arg) + ", in " + join(names, "or") + "."
	}
}

// coords checks a place: 3 numbers (or 2 on the face of a housing), lengths, of which the last has a unit.
func (r *Reader) coords(v syntax.Value, name string, count int) bool {
	if n := len(v.Items); n != 3 && (count == 3 || n != 2) {
		r.Msgs.Mistake(v.Span, "place-unclear", fmt.Sprintf("a place has three numbers, this one has %d", n), "Write it as (1180, -440, 470 mm): x, y and z from the datum.")
		return false
	}
	factor := 1.0
	if q, err := unit.Parse(v.Items[len(v.Items)-1].Text); err == nil && q.Dim == unit.DimLength {
		factor = Scale(q)
	}
	for i, it := range v.Items {
		q, err := unit.Parse(it.Text)
		switch {
		case it.Kind == syntax.Place || it.Kind == syntax.Text || err != nil:
			if expand.HasRange(it.Text) {
				continue
			}
			r.Msgs.Mistake(it.Span, "place-unclear", fmt.Sprintf("`%s` is no length", short(it.Text)), "Write the place as (1180, -440, 470 mm): x, y and z from the datum.")
			return false
		case q.Dim != unit.DimLength && q.Dim != unit.DimNone:
			r.Msgs.Mistake(it.Span, "wrong-unit", fmt.Sprintf("a place wants lengths, `%s` is %s", short(it.Text), q.Dim), "Write it as (1180, -440, 470 mm).")
			return false
		case q.Dim == unit.DimNone && i == len(v.Items)-1 && v.Items[i].Text != "0":
			r.Msgs.Mistake(v.Span, "unit-missing", "this place has no unit", fmt.Sprintf("Write the unit after the last number: `%s mm)`.", strings.TrimSuffix(short(v.Text), ")")))
			return false
		case q.Dim == unit.DimLength && math.Abs(q.Value) > farthest, q.Dim == unit.DimNone && math.Abs(q.Value)*factor > farthest:
			r.tooFar(it.Span, fmt.Sprintf("`%s` is more than a kilometre off", short(it.Text)))
			return false
		}
	}
	return true
}

// Scale is how many millimetres the unit of a length has.
func Scale(q unit.Quantity) float64 {
	name := strings.TrimLeft(strings.ReplaceAll(q.Text, "−", "-"), "-.0123456789 ")
	if u, ok := unit.LookUp(name); ok {
		return u.Factor
	}
	return 1
}
