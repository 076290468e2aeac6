package worked

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// compiled reads and compiles an example.
func compiled(t *testing.T, file string) *Model {
	t.Helper()
	dir := filepath.Dir(file)
	job, _, text := resolve.Job(filepath.Base(file), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) }, parts.Files(), rule.Keys())
	if text.HasMistakes() {
		t.Fatal(text)
	}
	r := harness.Compile(job)
	return &Model{Job: r.Job, Net: r.Net, Sizes: r.Sizes, Cases: r.Cases, Heat: r.Heat, Protect: r.Protect, Contact: r.Contact}
}

// TestEveryLineCanBeWorkedAgain evaluates each printed formula with the printed inputs and holds it against the printed result, as a
// reviewer does with a pocket calculator.
func TestEveryLineCanBeWorkedAgain(t *testing.T) {
	for _, file := range []string{"../../examples/car/rook.loom", "../../examples/boat/tern.loom"} {
		m := compiled(t, file)
		lines := 0
		for i := range m.Net.Wires {
			s := Of(m, i)
			results := map[int]string{}
			for _, p := range s.Parts {
				for _, l := range p.Lines {
					results[l.Number] = l.Result
					for _, in := range l.Inputs {
						if n, ok := strings.CutPrefix(in.Source, "line "); ok && in.Name != "" {
							k, _ := strconv.Atoi(n)
							if a, b := number(in.Value), number(results[k]); in.Name != "I" && in.Name != "N" && math.Abs(a-b) > 2e-4*math.Abs(b) {
								t.Errorf("%s line %d: %s = %s is said to be from line %d, which gives %s", s.Name, l.Number, in.Name, in.Value, k, results[k])
							}
						}
					}
					_, formula, ok := strings.Cut(l.Formula, " = ")
					if !ok {
						continue
					}
					names := map[string]float64{}
					for _, in := range l.Inputs {
						if in.Name != "" {
							names[in.Name] = number(in.Value)
						}
					}
					got, err := evaluate(formula, names)
					if err != nil {
						t.Fatalf("%s line %d: %s: %v", s.Name, l.Number, l.Formula, err)
					}
					want := number(l.Result)
					slack := 2e-4 * math.Abs(want)
					if strings.Contains(l.Formula, "-") { // a difference of printed numbers
						for _, x := range names {
							slack = max(slack, 2e-5*math.Abs(x))
						}
					}
					if !(math.Abs(got-want) <= slack) {
						t.Errorf("%s line %d: %s gives %v, printed is %s (%+v)", s.Name, l.Number, l.Formula, got, l.Result, l.Inputs)
					}
					lines++
				}
			}
		}
		t.Logf("%s: %d lines worked again", file, lines)
		if lines < 10*len(m.Net.Wires) {
			t.Errorf("%s: only %d lines can be worked", file, lines)
		}
	}
}

func number(s string) float64 {
	f, _, _ := strings.Cut(s, " ")
	x, err := strconv.ParseFloat(f, 64)
	if err != nil {
		return math.NaN()
	}
	return x
}

// evaluate works a formula: + - x / ^ ( ) sqrt ln, names and numbers, blanks between.
func evaluate(formula string, names map[string]float64) (float64, error) {
	e := &reader{words: strings.Fields(strings.NewReplacer("(", " ( ", ")", " ) ").Replace(formula)), names: names}
	x := e.sum()
	if e.err == nil && len(e.words) > 0 {
		e.err = fmt.Errorf("%q is left over", e.words)
	}
	return x, e.err
}

type reader struct {
	words []string
	names map[string]float64
	err   error
}

func (e *reader) take(words ...string) string {
	for _, w := range words {
		if len(e.words) > 0 && e.words[0] == w {
			e.words = e.words[1:]
			return w
		}
	}
	return ""
}

func (e *reader) sum() float64 {
	x := e.product()
	for {
		switch e.take("+", "-") {
		case "+":
			x += e.product()
		case "-":
			x -= e.product()
		default:
			return x
		}
	}
}

func (e *reader) product() float64 {
	x := e.power()
	for {
		switch e.take("x", "/") {
		case "x":
			x *= e.power()
		case "/":
			x /= e.power()
		default:
			return x
		}
	}
}

func (e *reader) power() float64 {
	x := e.atom()
	if e.take("^") != "" {
		return math.Pow(x, e.atom())
	}
	return x
}

func (e *reader) atom() float64 {
	if f := e.take("sqrt", "ln", "("); f != "" {
		if f != "(" {
			e.take("(")
		}
		x := e.sum()
		if e.take(")") == "" && e.err == nil {
			e.err = fmt.Errorf("a bracket is open")
		}
		switch f {
		case "sqrt":
			return math.Sqrt(x)
		case "ln":
			return math.Log(x)
		}
		return x
	}
	if len(e.words) == 0 {
		e.err = fmt.Errorf("it ends too soon")
		return 0
	}
	w := e.words[0]
	e.words = e.words[1:]
	if x, ok := e.names[w]; ok {
		return x
	}
	x, err := strconv.ParseFloat(w, 64)
	if err != nil && e.err == nil {
		e.err = fmt.Errorf("%s is no number and has no value", w)
	}
	return x
}
