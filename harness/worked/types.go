// Package worked writes out the whole calculation of one wire: each line its formula, its numbers with units, where each comes from, the
// result, the limit and the room.
package worked

import "loomsheet/harness/diag"

// Input is one number of a line.
type Input struct {
	Name   string // as in the formula
	Value  string // with unit
	Source string // document or setting in words; empty when Span or Line says
	Span   diag.Span
	Line   int // of this sheet it was worked out on; 0 elsewhere
}

// Line is one step.
type Line struct {
	Number     int
	What       string
	Formula    string
	Inputs     []Input
	Result     string
	Limit      string // empty: nothing is judged here
	Room       string
	Met        bool
	Note       string
	Unverified bool
}

// Sheet is the calculation of one wire.
type Sheet struct {
	Wire    int
	Name    string
	Decided string // which rule decided its size
	Parts   []Part
}

// Part is a group of lines: length, resistance, volts, heat, contacts, protection.
type Part struct {
	Title string
	Lines []Line
}
