package resolve

import (
	"fmt"
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// quantity reads a value whose unit has been checked.
func quantity(v syntax.Value) (unit.Quantity, bool) {
	q, err := unit.Parse(v.Text)
	return q, err == nil && v.Kind != syntax.Place && v.Kind != syntax.Text
}

// amount is the value of an option in the base unit of its dimension.
func amount[T ~float64](s *sense.Stmt, option string) (T, bool) {
	o := s.Find(option)
	if o == nil {
		return 0, false
	}
	q, ok := quantity(o.Values[0])
	return T(q.Value), ok
}

func length(s *sense.Stmt, option string) unit.Length {
	l, _ := amount[unit.Length](s, option)
	return l
}

// lengths is a list of lengths.
func lengths(s *sense.Stmt, option string) []unit.Length {
	o := s.Find(option)
	if o == nil {
		return nil
	}
	var out []unit.Length
	for _, v := range o.Values {
		if q, ok := quantity(v); ok {
			out = append(out, unit.Length(q.Value))
		}
	}
	return out
}

// fact is the value of an option, without a spread.
func fact[T ~float64](s *sense.Stmt, option string) design.Fact[T] {
	x, ok := amount[T](s, option)
	if !ok {
		return design.Fact[T]{}
	}
	return given(s, x, s.Find(option).Values[0])
}

func given[T ~float64](s *sense.Stmt, x T, v syntax.Value) design.Fact[T] {
	return design.Fact[T]{Spread: unit.Exactly(x), Given: true, Source: s.Text("source"), Span: v.Span}
}

// spread widens a fact by `low` and `high`, or by `tolerance`.
func spread[T ~float64](b *builder, s *sense.Stmt, f *design.Fact[T], dim unit.Dim) {
	tol := s.Find("tolerance")
	low, high := s.Find("low"), s.Find("high")
	if tol != nil {
		if low != nil || high != nil {
			o := low
			if o == nil {
				o = high
			}
			b.mistake(s, o.Span, "spread-twice", "the spread is said twice", "Write either `tolerance` or `low` and `high`.").Point(tol.Span, "also said here")
			return
		}
		if r, ok := amount[unit.Ratio](s, "tolerance"); ok {
			if r >= 1 {
				b.mistake(s, tol.Span, "spread-unclear", "a tolerance is less than 100 %", "It is how far the value may be off to either side.")
				return
			}
			f.Spread = unit.Within(f.Nominal, r)
		}
		return
	}
	for _, o := range []*sense.Opt{low, high} {
		if o == nil {
			continue
		}
		q, ok := quantity(o.Values[0])
		switch {
		case !ok:
		case q.Dim != dim:
			b.mistake(s, o.Values[0].Span, "wrong-unit", fmt.Sprintf("`%s` is in the unit of the value itself, `%s` is %s", o.Name, q.Text, q.Dim), fmt.Sprintf("The value is %s.", dim))
		case o.Name == "low" && T(q.Value) > f.Nominal, o.Name == "high" && T(q.Value) < f.Nominal:
			b.mistake(s, o.Span, "spread-unclear", fmt.Sprintf("`%s` lies on the wrong side of the value", o.Name), "`low` is the lowest, `high` the highest that the value may be.")
		case o.Name == "low":
			f.Low = T(q.Value)
		default:
			f.High = T(q.Value)
		}
	}
}

// count is a whole number of at least 1; 0 if it was not given or is none.
func (b *builder) count(s *sense.Stmt, option string) int {
	x, ok := amount[float64](s, option)
	if !ok {
		return 0
	}
	if x < 1 || x != math.Trunc(x) || x > 1000 {
		b.mistake(s, s.Find(option).Span, "number-unclear", fmt.Sprintf("`%s` is a whole number from 1", option), fmt.Sprintf("Write `%s 1`, `%s 2` and so on.", option, option))
		return 0
	}
	return int(x)
}

// size is a conductor size; zero for auto and where none was given.
func (b *builder) size(s *sense.Stmt, v syntax.Value) unit.Size {
	if v.Text == "auto" {
		return unit.Size{}
	}
	q, ok := quantity(v)
	if !ok {
		return unit.Size{}
	}
	z, ok := q.Size()
	if !ok {
		b.zero(s, v, "a conductor size")
		return unit.Size{}
	}
	return z
}

func (b *builder) zero(s *sense.Stmt, v syntax.Value, what string) {
	b.mistake(s, v.Span, "zero", fmt.Sprintf("%s is more than nothing", what), fmt.Sprintf("`%s` cannot be.", v.Text))
}

// volts checks that a voltage is one the program may judge.
func (b *builder) volts(s *sense.Stmt, f design.Fact[unit.Voltage]) {
	if f.Given && max(f.Nominal, f.High) > design.MostVolts {
		b.mistake(s, f.Span, "volts-too-high", fmt.Sprintf("%s is more than this program judges", max(f.Nominal, f.High)),
			fmt.Sprintf("It is made for direct current up to %s. Above that a touch can kill, and insulation, contacts and fuses follow other rules.", design.MostVolts))
	}
}
