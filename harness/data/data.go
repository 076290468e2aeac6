// Package data holds the published tables of the trade as typed values: conductors, ampacity, contacts, fuses, colours. Each row
// names its document and tells whether it was read there or written from memory; a sheet marks a verdict that rests on the
// latter. Rows stand in the order of the printed table. Nothing here is a limit of a job: those are settings.
package data

import (
	"strings"

	"loomsheet/harness/unit"
)

// Basis tells how sure a figure is.
type Basis uint8

const (
	// Verified figures were read in a copy of the document, or in an exact transcription.
	Verified Basis = iota
	// FromMemory figures were not: show them as unverified.
	FromMemory
)

func (b Basis) String() string { return [...]string{"verified", "from memory"}[b] }

// BasisOf is the basis of a stated source: unverified if it says that it is from memory, typical or seen second-hand, or says nothing.
func BasisOf(source string) Basis {
	s := strings.ToLower(source)
	for _, mark := range []string{"typical", "memory", "second-hand"} {
		if strings.Contains(s, mark) {
			return FromMemory
		}
	}
	if s == "" {
		return FromMemory
	}
	return Verified
}

// Info tells where a figure came from and under which printed conditions it holds.
type Info struct {
	Document  string
	Condition string // empty: the document states none
	Basis     Basis
}

// String is the origin as a sheet prints it.
func (i Info) String() string {
	s := i.Document
	if i.Condition != "" {
		s += ", " + i.Condition
	}
	if i.Basis == FromMemory {
		s += " (from memory)"
	}
	return s
}

// weaker is the less sure of two.
func weaker(a, b Basis) Basis { return max(a, b) }

// perKft turns ohms per 1000 ft into ohms per metre; a foot is 0.3048 m.
func perKft(ohm float64) unit.LinearResistance { return unit.LinearResistance(ohm / 304.8) }

// perKm turns ohms per kilometre into ohms per metre.
func perKm(ohm float64) unit.LinearResistance { return unit.LinearResistance(ohm / 1000) }

// awg and mm2 keep the tables below readable.
func awg(n int) unit.Size       { return unit.AWG(n) }
func mm2(a unit.Area) unit.Size { return unit.Metric(a) }
func same(a unit.Area, b unit.Area) bool {
	d := a - b
	return d < 1e-9 && d > -1e-9
}
