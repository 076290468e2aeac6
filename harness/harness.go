// Package harness compiles the declared facts of a job to wires, sizes, volts, heat, findings and the work on the bench. It is
// one direction: each stage is a pure function of what went before.
package harness

import (
	"strconv"

	"loomsheet/harness/assembly"
	"loomsheet/harness/bench"
	"loomsheet/harness/board"
	"loomsheet/harness/bundle"
	"loomsheet/harness/charge"
	"loomsheet/harness/contact"
	"loomsheet/harness/crank"
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
	"loomsheet/harness/rule"
	"loomsheet/harness/shell"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
)

// Result is everything that follows from a job.
type Result struct {
	Declared *design.Job // what the text says
	Job      *design.Job // the same with the places that were chosen for splices
	Space    *space.Geometry
	Net      *net.Net
	Sizes    size.Sizes
	Cases    []*solve.CaseResult
	Heat     *heat.Result
	Fit      *fit.Outcome // what the sizing found on the way
	Freed    *fit.Freed   // what would pass in place of stated sizes that are short; nil if none is
	Protect  *protect.Result
	Contact  *contact.Result
	Charge   *charge.Result
	Cranking []crank.Sweep
	Readings []reading.Error
	Answers  []margin.Answer
	Tightest []margin.Tight
	Places   *joint.Places // where splices were put
	Joints   *joint.Places // the same, with what each is made of
	Bundles  *bundle.Bundles
	Layup    *layup.Plan
	Fixed    *fix.Plan
	Route    *route.Result
	Shell    *shell.Shell
	Free     *free.Proof
	Live     *live.Result
	Mate     *mate.Result
	Plan     *bench.Plan
	Reels    *reel.Plan
	Boards   []board.Board
	Assembly *assembly.Plan
	Findings diag.List // of the rules, sorted, acceptances marked
}

// Stage is one named step; it reads what the stages that it needs, and those that they need, left in the result, and sets its own part.
type Stage struct {
	Name  string
	Needs []string // stages, all before it in the list
	Run   func(*Result)
}

// Stages is the pipeline in an order in which it can be run.
var Stages = []Stage{
	{"lay", nil, func(r *Result) {
		r.Job, r.Space, r.Places = joint.Lay(r.Declared)
	}},
	{"size", needs("lay"), func(r *Result) {
		l := fit.Loop(r.Job, func(h net.Hints) *net.Net { return net.Build(r.Job, r.Space, h) })
		r.Fit, r.Net, r.Sizes, r.Cases, r.Heat = l, l.Net, l.Sizes, l.Cases, l.Heat
	}},
	{"protect", needs("size"), func(r *Result) {
		if r.Protect = r.Fit.Protect; r.Protect == nil {
			r.Protect = protect.Find(r.Job, r.Net, r.Sizes, r.Cases, r.Heat, r.Fit.Duty)
		}
		r.Contact = contact.Find(r.Job, r.Net, r.Sizes, r.Cases)
	}},
	{"try", needs("protect"), func(r *Result) {
		r.Freed = fit.Free(r.Job, r.Fit, r.Protect, func(job *design.Job, h net.Hints) *net.Net { return net.Build(job, r.Space, h) })
	}},
	{"charge", needs("size"), func(r *Result) {
		r.Charge = charge.Find(r.Job, r.Net, r.Sizes, r.Cases, r.Heat.Temps)
		r.Cranking = crank.Find(r.Job, r.Net, r.Sizes, r.Cases, r.Heat.Temps)
		r.Readings = reading.Find(r.Job, r.Net, r.Cases)
	}},
	{"margin", needs("protect", "charge"), func(r *Result) {
		r.Answers = margin.Answers(r.Job, r.Fit, func(job *design.Job, h net.Hints) *net.Net { return net.Build(job, r.Space, h) })
		r.Tightest = margin.Find(r.Job, r.Fit, r.Protect, r.Contact, r.Charge, 10)
	}},
	{"bundle", needs("size"), func(r *Result) {
		b := bundle.Find(r.Job, r.Net, r.Sizes)
		r.Layup = layup.Find(r.Job, r.Net, r.Sizes, b)
		r.Bundles = r.Layup.Widen(b)
	}},
	{"fix", needs("bundle"), func(r *Result) { r.Fixed = fix.Find(r.Job, r.Net, r.Bundles) }},
	{"route", needs("fix"), func(r *Result) { r.Route = route.Find(r.Job, r.Net, r.Bundles, r.Fixed) }},
	{"shell", needs("fix"), func(r *Result) { r.Shell = shell.Find(r.Job, r.Net, r.Fixed) }},
	{"free", needs("fix"), func(r *Result) { r.Free = free.FindIn(r.Job, r.Net, r.Sizes, r.Heat.Temps, r.Fixed, r.Fit.Districts) }},
	{"live", needs("size"), func(r *Result) { r.Live = live.FindIn(r.Job, r.Net, r.Sizes, r.Fit.Districts) }},
	{"mate", needs("fix"), func(r *Result) { r.Mate = mate.Find(r.Job, r.Net, r.Fixed) }},
	{"joint", needs("size"), func(r *Result) { r.Joints = joint.Judge(r.Job, r.Net, r.Sizes, r.Heat, r.Places) }},
	{"plan", needs("shell"), func(r *Result) { r.Plan = bench.Make(r.Job, r.Net, r.Sizes, r.Bundles, r.Layup, r.Fixed, r.Shell) }},
	{"reel", needs("plan"), func(r *Result) { r.Reels = reel.Find(r.Job, r.Plan) }},
	{"board", needs("plan"), func(r *Result) { r.Boards = board.Find(r.Job, r.Net, r.Bundles, r.Plan) }},
	{"assembly", needs("plan", "joint"), func(r *Result) {
		r.Assembly = assembly.Find(r.Job, r.Net, r.Sizes, r.Bundles, r.Plan, r.Joints, r.Shell)
	}},
	{"check", needs("try", "margin", "route", "free", "live", "mate", "reel", "board", "assembly"), func(r *Result) { r.Findings = rule.Run(r.Model()) }},
}

func needs(names ...string) []string { return names }

// Compile runs every stage. The job is not changed.
func Compile(job *design.Job) *Result {
	r := &Result{Declared: job}
	beside(Stages, func(s Stage) { s.Run(r) })
	r.LetGo()
	return r
}

// LetGo lets go of what served the stages alone, once they are done. Who asks further has it worked out anew, to the same digits: nothing that is told changes.
func (r *Result) LetGo() {
	solve.Forget(r.Cases)
	r.Fit.Districts = nil
}

// Model is the result as the rules see it.
func (r *Result) Model() *rule.Model {
	return &rule.Model{Job: r.Job, Net: r.Net, Sizes: r.Sizes, Cases: r.Cases, Heat: r.Heat, Fit: r.Fit, Freed: r.Freed, Plan: r.Plan, Bundles: r.Bundles, Fixed: r.Fixed, Route: r.Route, Shell: r.Shell,
		Protect: r.Protect, Contact: r.Contact, Charge: r.Charge, Readings: r.Readings, Answers: r.Answers,
		Joints: r.Joints, Layup: r.Layup, Free: r.Free, Live: r.Live, Mate: r.Mate, Reels: r.Reels, Boards: r.Boards, Assembly: r.Assembly}
}

// NotForBuild lists why nothing may be built from the books: open findings and checks that were not run. Empty when nothing stands in the way.
func (r *Result) NotForBuild() []string {
	var why []string
	switch n := r.Findings.Open(); {
	case n == 1:
		why = append(why, "1 finding is open")
	case n > 1:
		why = append(why, strconv.Itoa(n)+" findings are open")
	}
	switch n := len(rule.Missing()); {
	case n == 1:
		why = append(why, "1 check is not run (listed in the review book)")
	case n > 1:
		why = append(why, strconv.Itoa(n)+" checks are not run (listed in the review book)")
	}
	return why
}
