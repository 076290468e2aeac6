package margin

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

const (
	mostAnswers = 20 // limits for which changes are tried
	mostChanges = 25 // changes tried for one of them
)

// Answers tries changes for every limit on volts that is missed: of each load and limit its worst case, the steady and the starting value
// apart. Changes are made to the net as it was built: a cavity that another size would be given elsewhere is not sought.
func Answers(job *design.Job, o *fit.Outcome, _ func(*design.Job, net.Hints) *net.Net) []Answer {
	if job == nil || o == nil || o.Net == nil {
		return nil
	}
	return answers(job, o, missed(job, o), districtsOf(o))
}

func answers(job *design.Job, o *fit.Outcome, out []Answer, by districts) []Answer {
	if len(out) == 0 {
		return nil
	}
	for i := range out {
		out[i].Skipped = i >= mostAnswers
	}
	p := newParted(job, o, by)
	solve.Each(min(len(out), mostAnswers), func(i int) { out[i].fill(p) })
	return out
}

type key struct {
	device string
	coil   bool
	index  int
	limit  string
	starts bool
}

func (s *Subject) key() key { return key{s.Device, s.Coil, s.Index, s.Limit, s.Start != ""} }

// visit calls for every limit on volts of every load and case, steady and starting; of starts that leave a load as it is for the first.
func visit(job *design.Job, o *fit.Outcome, do func(s Subject, k fit.Limit, c *solve.CaseResult, steady *solve.LoadResult)) {
	judge := fit.NewJudge(job, o.Net)
	for _, c := range o.Cases {
		moves, quiet := c.StartsAt()
		for i := range c.Loads {
			l := &c.Loads[i]
			s := Subject{Case: c.Case, Device: l.Device, Index: l.Index, Coil: l.Coil, Wire: -1}
			for _, k := range judge.Limits(c, i) {
				s.Limit = k.Name
				do(s, k, c, l)
			}
			for _, n := range solve.Telling(moves[i], quiet[i]) {
				s.Start = c.Starts[n].Device
				for _, k := range judge.StartLimits(c, n, i) {
					s.Limit = k.Name
					do(s, k, c, l)
				}
			}
		}
	}
}

func missed(job *design.Job, o *fit.Outcome) []Answer {
	var out []Answer
	at := map[key]int{}
	visit(job, o, func(s Subject, k fit.Limit, _ *solve.CaseResult, _ *solve.LoadResult) {
		if k.Met() {
			return
		}
		i, ok := at[s.key()]
		switch {
		case !ok:
			at[s.key()] = len(out)
			out = append(out, Answer{Subject: s, Limit: k})
		case k.Over() > out[i].Limit.Over():
			out[i] = Answer{Subject: s, Limit: k}
		}
	})
	return out
}

func (a *Answer) fill(p *parted) {
	b := p.base(&a.Subject)
	if b == nil {
		return
	}
	l := loadOf(b.solved.Loads, &a.Subject)
	if l == nil {
		return
	}
	now := lookIn(b.trial, b.solved, &a.Subject)
	if !now.ok {
		return
	}
	all := b.changes(b.solved, l, a.Subject.Limit)
	if n := len(all) - mostChanges; n > 0 {
		all, a.Left = all[:mostChanges], n
	}
	for _, x := range all {
		if y := x.solved(&a.Subject, now); y != nil {
			a.Changes = append(a.Changes, *y)
		}
	}
	slices.SortStableFunc(a.Changes, func(x, y Change) int { return unit.Compare(y.Gain, x.Gain) })
	a.Up, a.Down = b.steps(b.solved, l, &a.Subject, now)
}

// steps puts every wire on the way of a load one size up, and one size down.
func (t trial) steps(c *solve.CaseResult, l *solve.LoadResult, s *Subject, now seen) (up, down *Change) {
	way := t.stretches(c, sides(l, s.Limit))
	if x, ok := t.sized(way, Larger); ok {
		x.what = "every wire on its way one size up"
		up = x.solved(s, now)
	}
	if x, ok := t.sized(way, Smaller); ok {
		x.what = "every wire on its way one size down"
		down = x.solved(s, now)
	}
	return up, down
}

// solved is what a change makes of a limit; nil where the load is no longer fed.
func (x *try) solved(s *Subject, now seen) *Change {
	then := x.t.look(s)
	if !then.ok {
		return nil
	}
	return &Change{Kind: x.kind, What: x.what, Note: x.note, Got: then.limit.Got, Gain: now.limit.Over() - then.limit.Over(), Meets: then.limit.Met()}
}

// Step is one limit of a load as it is, and with every wire on its way one size up and one down; nil where there is no such size.
type Step struct {
	Subject
	Limit    fit.Limit
	Up, Down *Change
}

// Steps is the next sizes up and down for every limit on the steady volts of a load in a case, by its index in the result.
func Steps(job *design.Job, o *fit.Outcome, c *solve.CaseResult, load int) []Step {
	if job == nil || o == nil || o.Net == nil || c == nil || load < 0 || load >= len(c.Loads) {
		return nil
	}
	l := &c.Loads[load]
	s := Subject{Case: c.Case, Device: l.Device, Index: l.Index, Coil: l.Coil, Wire: -1}
	b := newParted(job, o, districtsOf(o)).base(&s)
	if b == nil {
		return nil
	}
	x := loadOf(b.solved.Loads, &s)
	if x == nil {
		return nil
	}
	var out []Step
	for _, k := range fit.Limits(job, o.Net, c, l) {
		s.Limit = k.Name
		one := Step{Subject: s, Limit: k}
		if now := lookIn(b.trial, b.solved, &s); now.ok {
			one.Up, one.Down = b.steps(b.solved, x, &s, now)
		}
		out = append(out, one)
	}
	return out
}
