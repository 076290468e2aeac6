// Package rule holds the checks. One rule is one small file: its key, why it exists, its formula and source, what to do, an
// example that fires and one that stays silent. A rule words facts that earlier stages found; it computes nothing they rely on.
package rule

import (
	"slices"

	"loomsheet/harness/assembly"
	"loomsheet/harness/bench"
	"loomsheet/harness/board"
	"loomsheet/harness/bundle"
	"loomsheet/harness/charge"
	"loomsheet/harness/contact"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
	"loomsheet/harness/free"
	"loomsheet/harness/heat"
	"loomsheet/harness/joint"
	"loomsheet/harness/layup"
	"loomsheet/harness/live"
	"loomsheet/harness/margin"
	"loomsheet/harness/mate"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/reading"
	"loomsheet/harness/reel"
	"loomsheet/harness/route"
	"loomsheet/harness/shell"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

// Model is everything a rule may ask.
type Model struct {
	Job   *design.Job
	Net   *net.Net
	Sizes size.Sizes
	Cases []*solve.CaseResult // by case, in the job's order
	Heat  *heat.Result
	Fit   *fit.Outcome // of the loop that found the sizes
	Freed *fit.Freed   // what would pass in place of stated sizes that are short
	Plan  *bench.Plan
	// The harness in space.
	Bundles *bundle.Bundles
	Fixed   *fix.Plan
	Route   *route.Result
	Shell   *shell.Shell
	// What follows from the operating points.
	Protect  *protect.Result
	Contact  *contact.Result
	Charge   *charge.Result
	Readings []reading.Error
	Answers  []margin.Answer // what would mend each limit on volts that is missed
	// The work on the bench, and taking it out again.
	Joints   *joint.Places
	Layup    *layup.Plan
	Free     *free.Proof
	Live     *live.Result
	Mate     *mate.Result
	Reels    *reel.Plan
	Boards   []board.Board
	Assembly *assembly.Plan

	index *index // nil while not asked
}

// Rule is one check.
type Rule struct {
	Key      string // stable word, the code of its findings
	Title    string
	Severity diag.Severity
	Why      string // why the rule exists
	Formula  string // what is compared with what
	Source   string // of the limit or the practice
	Do       string // what to do when it fires
	Fires    string // a job in which it fires
	Silent   string // the same job mended
	// NotRun says why a check that a reviewer would expect is not run; such a rule has no Check and no examples, and the books carry "not for build".
	NotRun string
	Check  func(m *Model, out *diag.List)
}

// Find returns the rule of a key, nil if there is none.
func Find(key string) *Rule {
	for _, r := range All {
		if r.Key == key {
			return r
		}
	}
	return nil
}

// Keys lists all keys in the catalogue's order.
func Keys() []string {
	var out []string
	for _, r := range All {
		out = append(out, r.Key)
	}
	return out
}

// Missing lists the checks that were not run.
func Missing() []*Rule {
	var out []*Rule
	for _, r := range All {
		if r.NotRun != "" {
			out = append(out, r)
		}
	}
	return out
}

// Run asks every rule, some at once, and marks what the job accepts. The list comes back sorted.
func Run(m *Model) diag.List {
	m.indexed() // before several ask
	found := make([]diag.List, len(All))
	solve.Each(len(All), func(i int) {
		r, out := All[i], &found[i]
		if r.Check == nil {
			return
		}
		r.Check(m, out)
		for k := range *out {
			(*out)[k].Code, (*out)[k].Severity = r.Key, r.Severity
		}
	})
	out := slices.Concat(found...)
	accept(m.Job, &out)
	out.Sort()
	return out
}
