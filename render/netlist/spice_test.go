package netlist

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/design"
	"loomsheet/harness/rule"
	"loomsheet/harness/solve"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// ngspice finds the operating point of a netlist: volts by the number of a place, from 1, and what each supply gives, by its number. It is
// asked for more digits than the netlist does.
func ngspice(t *testing.T, text string, places int, supplies []int) (volts, gives map[int]float64, said string) {
	t.Helper()
	program, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("LOOMSHEET_TOOLS") == "required" {
			t.Fatal("ngspice is not installed")
		}
		t.Skip("ngspice is not installed")
	}
	var ask strings.Builder
	ask.WriteString(".control\nset numdgt=15\nop\n")
	for n := range places {
		fmt.Fprintf(&ask, "print v(%d)\n", n+1)
	}
	for _, n := range supplies {
		fmt.Fprintf(&ask, "print i(v%d)\n", n)
	}
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\n.op\n", "\n"), "\n.end\n", "\n")
	file := filepath.Join(t.TempDir(), "net.cir")
	if err := os.WriteFile(file, []byte(text+ask.String()+".endc\n.end\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(program, "-b", file).Output() // notes go to the other stream
	volts, gives = map[int]float64{}, map[int]float64{}
	for line := range strings.Lines(string(out)) {
		name, value, ok := strings.Cut(strings.TrimSpace(line), " = ")
		if !ok {
			continue
		}
		at, sign := volts, 1.0
		number, is := strings.CutPrefix(name, "v(")
		if !is {
			at, sign = gives, -1 // an element's current enters it at its plus
			number, is = strings.CutPrefix(name, "i(v")
		}
		k, err1 := strconv.Atoi(strings.TrimSuffix(number, ")"))
		v, err2 := strconv.ParseFloat(strings.TrimSpace(value), 64)
		if is && err1 == nil && err2 == nil {
			at[k] = sign * v
		}
	}
	if len(volts) != places || len(gives) != len(supplies) {
		return nil, nil, fmt.Sprintf("%d of %d places, %d of %d supplies: %v\n%s", len(volts), places, len(gives), len(supplies), err, out)
	}
	return volts, gives, ""
}

// worst is the greatest difference between the simulator's volts and ours, as a share of the highest supply, or between what supplies give,
// as a share of the most that one gives.
func worst(t *testing.T, in Input) (share float64, at string) {
	t.Helper()
	w := &writer{Input: in}
	w.parts()
	top, most := 0.0, 0.0
	var supplies []int
	for i, l := range in.Laws {
		if l.Kind == solve.Source && w.name[in.Net.Elements[i].From] >= 0 {
			top, most = max(top, float64(l.Volts)), max(most, math.Abs(float64(in.Point.Amps[i])))
			supplies = append(supplies, i+1)
		}
	}
	volts, gives, said := ngspice(t, Text(in), slices.Max(w.name), supplies)
	if volts == nil {
		t.Fatalf("%s: no answer: %s", in.Case+" "+in.Start, said)
	}
	differs := func(d float64, where string) {
		if !(d <= share) {
			share, at = d, where
		}
	}
	for i, n := range w.name {
		if n > 0 {
			differs(math.Abs(volts[n]-float64(w.found(i)))/top, in.Net.Nodes[i])
		}
	}
	for _, n := range supplies {
		if e := in.Net.Elements[n-1]; most > 1e-6 {
			// RB takes its share of what the simulator's supply gives.
			differs(max(0, math.Abs(math.Abs(gives[n])-math.Abs(float64(in.Point.Amps[n-1])))-top/1e9)/most, "current of "+e.Name)
		}
	}
	return share, at
}

func compiled(t *testing.T, file string) *harness.Result {
	t.Helper()
	dir := filepath.Dir(file)
	return sized(t, filepath.Base(file), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) })
}

// sized is a job compiled up to its sizes.
func sized(t *testing.T, file string, read func(string) ([]byte, error)) *harness.Result {
	t.Helper()
	job, _, list := resolve.Job(file, read, parts.Files(), rule.Keys())
	if list.HasMistakes() {
		t.Fatalf("%s: %v", file, list)
	}
	r := &harness.Result{Declared: job}
	for _, s := range harness.Stages {
		s.Run(r)
		if s.Name == "size" {
			break
		}
	}
	return r
}

// allPoints is the operating points of a case: steady, and each start.
func allPoints(job *design.Job, c *solve.CaseResult) []Input {
	ins := []Input{{Case: c.Case, Net: c.Net, Laws: solve.Laws(c), Point: c.Point}}
	for i := range c.Starts {
		s := &c.Starts[i]
		ins = append(ins, Input{Case: c.Case, Start: s.Device, Net: s.Net, Laws: solve.StartLaws(job, c, s.Device), Point: s.Point()})
	}
	return ins
}

// say puts a figure into the test's log, and at the end of the file that LOOMSHEET_SAYS names.
func say(t *testing.T, format string, args ...any) {
	t.Logf(format, args...)
	if name := os.Getenv("LOOMSHEET_SAYS"); name != "" {
		f, err := os.OpenFile(name, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(f, format+"\n", args...)
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// TestExamplesAgainstSpice holds every case and every start of the examples against a general circuit simulator: each place within a
// hundred-millionth of the highest supply.
func TestExamplesAgainstSpice(t *testing.T) {
	for _, file := range []string{"car/rook.loom", "boat/tern.loom", "bad/bad.loom"} {
		r := compiled(t, filepath.Join("..", "..", "examples", file))
		points, over := 0, 0.0
		var where string
		for _, c := range r.Cases {
			for _, in := range allPoints(r.Job, c) {
				points++
				d, at := worst(t, in)
				if d > over {
					over, where = d, in.Case+" "+in.Start+" at "+at
				}
				if d > 1e-8 {
					t.Errorf("%s, case %s %s: %s differs by %.3g of the supply", file, in.Case, in.Start, at, d)
				}
			}
		}
		say(t, "%s against a circuit simulator: %d operating points, worst relative difference %.2g (%s)", file, points, over, where)
	}
}
