package main

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loomsheet/harness"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/rule"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/lang/format"
	"loomsheet/lang/freeze"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/syntax"
	"loomsheet/lang/trial"
	"loomsheet/render"
	"loomsheet/render/export"
)

func trialDeclared(t *testing.T, text string) (*design.Job, *resolve.Sources) {
	t.Helper()
	declared, sources, said := resolve.Job("job.loom", loadOne("job.loom", text), parts.Files(), rule.Keys())
	if said.HasMistakes() {
		t.Fatalf("%+v", said)
	}
	return declared, sources
}

func trialJob(t *testing.T, text string) *job {
	t.Helper()
	declared, sources := trialDeclared(t, text)
	return &job{Result: harness.Compile(declared), Sources: sources}
}

// What must hold of any harness, on random ones.
func TestTrialInvariants(t *testing.T) {
	for seed := range uint64(3) {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			text := trial.Text(seed, 170-40*int(seed))
			j := trialJob(t, text)
			d := export.Make(j.input())
			holds(t, d)
			stationed(t, d)
			for _, c := range j.Cases {
				conserved(t, c.Case, c.Net, solve.Laws(c), c.Point)
				for i := range c.Starts {
					s := &c.Starts[i]
					conserved(t, c.Case+" "+s.Device, s.Net, solve.StartLaws(j.Job, c, s.Device), s.Point())
				}
			}
			if seed == 0 {
				unrelated(t, text, j)
				files, err := render.Books(j.input())
				if err != nil {
					t.Fatal(err)
				}
				agree(t, &printed{j, files})
			}
			sameMeaning(t, text, j)
		})
	}
}

// conserved demands that no charge stays at a place, that each element obeys its law, and that the supplies give what the rest turns to
// heat and work.
func conserved(t *testing.T, name string, nt *solve.Network, laws []solve.Law, at solve.Point) {
	t.Helper()
	sum, most := make([]float64, len(nt.Nodes)), make([]float64, len(nt.Nodes))
	in, out := 0.0, 0.0
	for i, e := range nt.Elements {
		a, v := float64(at.Amps[i]), float64(at.Volts[e.From]-at.Volts[e.To])
		if laws[i].Kind == solve.Source { // delivered: out of From
			a = -a
		}
		sum[e.From], sum[e.To] = sum[e.From]-a, sum[e.To]+a
		most[e.From], most[e.To] = max(most[e.From], math.Abs(a)), max(most[e.To], math.Abs(a))
		switch l := laws[i]; l.Kind {
		case solve.Source:
			in += float64(l.Volts) * -a
			if a != 0 && !l.Limited {
				out += a * a * float64(l.Resistance)
			} else { // at its limit it holds no volts: what it does not give stays in it
				out += (float64(l.Volts) - v) * -a
			}
		case solve.Ohmic:
			out += a * a * float64(l.Resistance)
		default:
			out += v * a
		}
	}
	for n, a := range sum {
		if math.Abs(a) > 1e-9+1e-9*most[n] {
			t.Errorf("%s: %g A stay at %s", name, a, nt.Nodes[n])
		}
	}
	if math.Abs(in-out) > 1e-7*(1+in) {
		t.Errorf("%s: the supplies give %.9g W, %.9g W are used", name, in, out)
	}
}

// stationed demands that the stations of each run rise from its beginning to its end, so that the lengths between them make up its own.
func stationed(t *testing.T, d *export.Doc) {
	t.Helper()
	for _, r := range d.Runs {
		if r.LengthMM == 0 || len(r.Stations) < 2 {
			t.Errorf("run %s, stretch %d: %v mm, %d stations", r.Run, r.Stretch, r.LengthMM, len(r.Stations))
			continue
		}
		sum := 0.0
		for i, s := range r.Stations[1:] {
			step := float64(s.AfterMM - r.Stations[i].AfterMM)
			if step < 0 {
				t.Errorf("run %s: %s lies before %s", r.Run, s.What, r.Stations[i].What)
			}
			sum += step
		}
		if r.Stations[0].AfterMM != 0 || math.Abs(sum-float64(r.LengthMM)) > 1e-3 {
			t.Errorf("run %s, stretch %d: its stations make up %g mm from %v, it is %v mm long", r.Run, r.Stretch, sum, r.Stations[0].AfterMM, r.LengthMM)
		}
	}
}

// more is a circuit that has nothing to do with the rest, though it lies in the same runs and plugs.
const more = `device aa-one at (1350, -620, 12 mm) housing sealed-2 { state on joins 1, 2 }
device aa-two at (700, 150, 12 mm) housing sealed-2
run aa-one-r from c1-b1-k4 to aa-one section c1-b1 zone cabin panel c1-floor
run aa-two-r from c1-h0 to aa-two section c1-spine zone cabin panel c1-floor
circuit aa-new[1, 2] from aa-one.[1, 2] to aa-two.[1, 2] class signal
`

// unrelated demands that one more circuit renames no wire and that, after a freeze, it moves no cavity, splice, clip or hole.
func unrelated(t *testing.T, text string, before *job) {
	t.Helper()
	names := func(j *job) (all []string) {
		for _, w := range j.Net.Wires {
			if !strings.HasPrefix(w.Circuit, "aa-") {
				all = append(all, w.Name)
			}
		}
		slices.Sort(all)
		return all
	}
	places := func(j *job) (all []string) {
		add := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
		for _, w := range j.Net.Wires {
			if !strings.HasPrefix(w.Circuit, "aa-") {
				add("wire %s is %s in %s and %s", w.Name, w.Label, w.Ends[0].Cavity, w.Ends[1].Cavity)
			}
		}
		for _, s := range j.Job.Splices {
			add("splice %s along %s to %s after %.6f", s.Name, s.Along, s.To, float64(s.After))
		}
		for _, r := range j.Fixed.Runs {
			for _, c := range r.Clips {
				if !strings.HasPrefix(r.Run, "aa-") {
					add("clip of %s %d after %.3f at %.3f", r.Run, r.Stretch, float64(c.After), c.At)
				}
			}
		}
		for _, h := range j.Shell.Holes {
			if !strings.HasPrefix(h.Mark, "aa-") {
				add("hole %s at %.3f of %.3f", h.Mark, h.At, float64(h.Drill))
			}
		}
		slices.Sort(all)
		return all
	}
	loose := trialJob(t, text+more)
	if d := gocmp.Diff(names(before), names(loose)); d != "" {
		t.Errorf("one more circuit renames wires: %.2000s", d)
	}
	if slices.Equal(places(before), places(loose)) {
		t.Error("one more circuit moves nothing that is not frozen: nothing is tried")
	}
	wires, n := freeze.Wires(net.Freeze(before.Net, before.Job), "A")
	holes, h, _, _ := freeze.Holes(before.Shell.Decisions, "A")
	if n.Cavities < 8 || n.Splices < 3 || h.Holes < 20 {
		t.Fatalf("little was frozen: %+v, %+v", n, h)
	}
	frozen := text + string(wires) + string(holes)
	still := places(trialJob(t, frozen))
	if d := gocmp.Diff(still, places(trialJob(t, frozen+more))); d != "" {
		t.Errorf("one more circuit moves what was frozen: %.3000s", d)
	}
}

// sameMeaning demands that the text put into the canonical layout says the same.
func sameMeaning(t *testing.T, text string, want *job) {
	t.Helper()
	file, msgs := syntax.Parse("job.loom", []byte(text))
	if len(msgs) > 0 {
		t.Fatal(msgs)
	}
	tidy := format.Format(file, []byte(text))
	if string(tidy) == text {
		t.Error("the trial is in canonical layout already: nothing is tried")
	}
	got, _ := trialDeclared(t, string(tidy))
	anywhere := gocmp.Comparer(func(a, b diag.Span) bool { return true })
	whole := gocmp.Exporter(func(reflect.Type) bool { return true })
	if d := gocmp.Diff(want.Declared, got, anywhere, whole); d != "" {
		t.Errorf("fmt changes the meaning: %.2000s", d)
	}
}

// One size up never raises the drop along the wire itself, with loads of constant current at a fixed temperature. Volts may fall elsewhere.
func TestLargerWireDropsLess(t *testing.T) {
	text := trial.Text(1, 90)
	for _, kind := range []string{"resistance", "power"} {
		text = strings.ReplaceAll(text, " at 13.5 V as "+kind, "")
	}
	declared, _ := trialDeclared(t, text)
	r := &harness.Result{Declared: declared}
	for _, s := range harness.Stages[:2] {
		s.Run(r)
	}
	night := r.Job.Cases[slices.IndexFunc(r.Job.Cases, func(c *design.Case) bool { return c.Name == "night" })]
	temps := make([]unit.Temperature, len(r.Net.Wires))
	for i := range temps {
		temps[i] = 40
	}
	before := solve.Case(r.Job, r.Net, r.Sizes, temps, night)
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.IntRange(0, len(r.Net.Wires)-1).Draw(t, "wire")
		larger := slices.Clone(r.Sizes)
		larger[w].Resistance /= unit.LinearResistance(rapid.Float64Range(1.1, 4).Draw(t, "times the copper"))
		after := solve.Case(r.Job, r.Net, larger, temps, night)
		was, is := across(before, w), across(after, w)
		if is > was*(1+1e-9)+1e-12 {
			t.Fatalf("%s loses %.9g V, one size up %.9g V", r.Net.Wires[w].Name, was, is)
		}
		if is < was*0.99 {
			tried++
		}
	})
	if tried < 20 {
		t.Errorf("only %d wires carried enough to tell", tried)
	}
}

func across(c *solve.CaseResult, wire int) float64 {
	for _, e := range c.Net.Elements {
		if e.Kind == solve.Wire && e.Wire == wire {
			return math.Abs(float64(c.Point.Volts[e.From] - c.Point.Volts[e.To]))
		}
	}
	return 0
}
