// Package worked writes out the whole calculation of one wire: each line its formula, its numbers with units, where each comes from, the
// result, the limit and the room.
package worked

import (
	"loomsheet/harness/contact"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

// Model is what a sheet is written from.
type Model struct {
	Job     *design.Job
	Net     *net.Net
	Sizes   size.Sizes
	Cases   []*solve.CaseResult
	Heat    *heat.Result
	Protect *protect.Result
	Contact *contact.Result
	Fit     *fit.Outcome // with it, the next sizes up and down are tried as well

	ways   map[int]Way    // of Tightest, by wire
	scopes []design.Scope // by edge, once one is asked for
}

// Input is one number of a line.
type Input struct {
	Name   string    // as in the formula; empty when it only explains
	Value  string    // with unit
	Source string    // document or setting in words
	Span   diag.Span // where it is written, if it is
}

// Line is one step. Its formula, when it holds an equals sign, can be worked from the printed inputs alone: a name, =, then names, numbers, + - x / ^
// ( ), sqrt and ln, every name in the unit in which its input is printed.
type Line struct {
	Number     int
	What       string
	Formula    string
	Inputs     []Input
	Result     string // with unit
	Limit      string // empty: nothing is judged here
	Room       string
	Met        bool
	Note       string
	Unverified bool
}

// Part is a group of lines.
type Part struct {
	Title string
	Lines []Line
}

// Sheet is the calculation of one wire.
type Sheet struct {
	Wire    int
	Name    string
	Label   string
	Decided string // which rule decided its size
	Parts   []Part
	Span    diag.Span
}
