package solve

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// spiceText writes a solved net for ngspice: supplies that idle and diodes that block are left out, loads are in the part of their law that the
// point has them in, those of constant power as an expression.
func spiceText(res *CaseResult) string {
	brs := branchesOf(res)
	var s strings.Builder
	s.WriteString("net\n")
	node := func(n int) string { return strconv.Itoa(n) } // node 0 is the common one
	for i := range brs {
		b := &brs[i]
		from, to := node(int(b.from)), node(int(b.to))
		switch b.law {
		case ohmic:
			fmt.Fprintf(&s, "r%d %s %s %.17g\n", i, from, to, 1/b.g)
		case source:
			switch a := float64(res.Point.Amps[i]); {
			case a == 0:
			case a >= b.most:
				fmt.Fprintf(&s, "i%d %s %s dc %.17g\n", i, to, from, b.most)
			default:
				fmt.Fprintf(&s, "v%d %s m%d dc %.17g\nrv%d m%d %s %.17g\n", i, from, i, b.e, i, i, to, 1/b.g)
			}
		case oneWay:
			if res.Point.Amps[i] > 0 {
				fmt.Fprintf(&s, "v%d %s m%d dc %.17g\nrv%d m%d %s %.17g\n", i, from, i, b.e, i, i, to, 1/b.g)
			}
		case steadyCurrent, steadyPower:
			v := float64(res.Point.Volts[b.from] - res.Point.Volts[b.to])
			switch {
			case abs(v) < b.e && b.law == steadyCurrent:
				fmt.Fprintf(&s, "r%d %s %s %.17g\n", i, from, to, b.e/b.most)
			case abs(v) < b.e:
				fmt.Fprintf(&s, "r%d %s %s %.17g\n", i, from, to, b.e*b.e/b.most)
			case b.law == steadyCurrent:
				fmt.Fprintf(&s, "i%d %s %s dc %.17g\n", i, from, to, math.Copysign(b.most, v))
			case v > 0:
				fmt.Fprintf(&s, "b%d %s %s i=%.17g/max(v(%s,%s),%.17g)\n", i, from, to, b.most, from, to, b.e)
			default:
				fmt.Fprintf(&s, "b%d %s %s i=%.17g/max(v(%s,%s),%.17g)\n", i, to, from, b.most, to, from, b.e)
			}
		}
	}
	return s.String()
}

var analysis = regexp.MustCompile(`(?i)total analysis time \(seconds\)\s*=\s*([0-9.eE+-]+)`)

// BenchmarkAgainstSpice solves nets of about 20,000 nodes beside ngspice's operating point of the same net: the whole case from the job, ways and
// starts included, against the program from its text, and against the time it says its analysis alone took.
func BenchmarkAgainstSpice(b *testing.B) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		b.Skip("ngspice is not installed")
	}
	for _, power := range []bool{false, true} {
		r := tree(b, 20000)
		for _, d := range r.job.Devices {
			for i := range d.Draws {
				if !power && d.Draws[i].As == 1 {
					d.Draws[i].As = 2
				}
			}
		}
		name := "linear"
		if power {
			name = "power"
		}
		b.Run(name, func(b *testing.B) {
			res := Case(r.job, r.nt, r.sizes, nil, r.c)
			file := filepath.Join(b.TempDir(), "net.cir")
			last := len(res.Net.Nodes) - 1
			text := spiceText(res) + fmt.Sprintf(".options reltol=1e-6\n.control\nset numdgt=12\nop\nprint v(%d)\nrusage time\nquit 0\n.endc\n.end\n", last)
			if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
				b.Fatal(err)
			}
			begin := time.Now()
			out, err := exec.Command(program, "-b", file).CombinedOutput()
			if err != nil {
				b.Fatalf("%v: %.500s", err, out)
			}
			spice := time.Since(begin)
			said := ""
			for line := range strings.Lines(string(out)) {
				if v, ok := strings.CutPrefix(strings.TrimSpace(line), fmt.Sprintf("v(%d) = ", last)); ok {
					said = v
				}
			}
			v, err := strconv.ParseFloat(said, 64)
			if want := float64(res.Point.Volts[last] - res.Point.Volts[0]); err != nil || v < want-1e-3 || v > want+1e-3 {
				b.Errorf("ngspice says %q (%v), here %.9g V", said, err, want)
			}
			var total time.Duration
			n := 0
			for b.Loop() {
				begin := time.Now()
				orders.Lock()
				clear(orders.known)
				orders.queue, orders.size = nil, 0
				orders.Unlock()
				Case(r.job, r.nt, r.sizes, nil, r.c)
				total += time.Since(begin)
				n++
			}
			b.ReportMetric(float64(len(res.Net.Nodes)), "nodes")
			b.ReportMetric(spice.Seconds()*1e3, "spice-ms")
			b.ReportMetric(spice.Seconds()/(total.Seconds()/float64(n)), "times")
			if m := analysis.FindStringSubmatch(string(out)); m != nil {
				b.Logf("%d nodes: ngspice says its analysis took %s s", len(res.Net.Nodes), m[1])
			} else {
				b.Logf("%.300s", out)
			}
		})
	}
}
