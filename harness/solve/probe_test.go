package solve

import (
	"testing"

	"loomsheet/harness/design"
)

// TestProbeByHand: a battery of 12 V, a switch, a heater of 4 ohm and a bleed of 1 kohm on the battery. The first node is bat.plus or another terminal: every
// node is tried, so the first one counts as well.
func TestProbeByHand(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.01, 0).switched("sw", 0.02).heater("h", 4)
	r.wires("bat.plus", "sw.1", 0.1, "sw.2", "h.plus", 0.1, "h.minus", "bat.minus", 0.1, "a", "b", 0.1)
	probe := NewProbe(r.job, r.nt, r.sizes, r.c)
	const wire, joints = 0.1, 2 * lug
	for _, closed := range []bool{true, false} {
		var states []design.CaseState
		if closed {
			states = []design.CaseState{{Device: "sw", State: "on"}}
		}
		x := probe.At(states)
		at := map[string]int{}
		for n, name := range x.Net.Nodes {
			at[name] = n
		}
		plus, minus, far := at["bat.plus"], at["bat.minus"], at["h.plus"]
		// the net as seen from the battery's terminals
		load := 1e3
		if closed {
			load = 1 / (1/1e3 + 1/(4+0.02+3*(wire+joints)))
		}
		terminal := 12 * load / (load + 0.01)
		volts, back := x.Against(plus, "bat", 0)
		near(t, "battery", float64(volts), terminal, 1e-9)
		if back != minus {
			t.Errorf("minus is node %d, want %d", back, minus)
		}
		if closed {
			v, _ := x.Against(far, "bat", 0)
			near(t, "heater's plus", float64(v), terminal*(4+wire+joints)/(4+0.02+3*(wire+joints)), 1e-9)
		}
		v, _ := x.Against(minus, "bat", 0)
		near(t, "minus against itself", float64(v), 0, 1e-12)
		// a dead short at the terminals: all that flows is what the battery's inside lets through, less what goes past it
		near(t, "short", float64(x.Short(plus, minus)), 12/(0.01+1e-6), 12/0.01*1e-3)
		near(t, "short, turned", float64(x.Short(minus, plus)), 12/(0.01+1e-6), 12/0.01*1e-3)
		near(t, "bare", float64(x.Bare(plus, minus)), 12/0.01, 12/0.01*1e-3)
		for _, pair := range [][2]int{{-1, minus}, {plus, -1}, {len(x.Net.Nodes), minus}, {plus, len(x.Net.Nodes)}, {plus, plus}, {plus, at["a"]}} {
			if a := x.Short(pair[0], pair[1]); a != 0 {
				t.Errorf("%v: %v flows", pair, a)
			}
			if a := x.Bare(pair[0], pair[1]); a != 0 {
				t.Errorf("%v: %v flows bare", pair, a)
			}
		}
		for _, n := range []int{-1, len(x.Net.Nodes), at["a"]} {
			if v, back := x.Against(n, "bat", 0); v != 0 || back != -1 {
				t.Errorf("node %d: %v against %d", n, v, back)
			}
		}
		for _, c := range []struct {
			device string
			index  int
		}{{"bat", 1}, {"bat", -1}, {"h", 0}} {
			if _, back := x.Against(plus, c.device, c.index); back != -1 {
				t.Errorf("%+v is a supply", c)
			}
		}
	}
}

// TestProbeShortsEveryPair: along a row of wires from the battery a dead short between two nodes carries the open volts between them over the
// resistance between them, which the row gives by hand: nothing is lost for the first and the last node.
func TestProbeShortsEveryPair(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.5, 0)
	row := []string{"bat.plus", "s1", "s2", "s3", "bat.minus"}
	for k := 1; k < len(row); k++ {
		r.wire(row[k-1], row[k], 1)
	}
	r.set("splice-resistance", "0 ohm").set("lug-resistance", "0 ohm")
	x := NewProbe(r.job, r.nt, r.sizes, r.c).At(nil)
	f := newFaults("", x.s, Weakest)
	at := map[string]int{}
	for n, name := range x.Net.Nodes {
		at[name] = n
	}
	for i := range row {
		for j := range row {
			if i == j {
				continue
			}
			// what is left of the row of 4 ohm when the pieces between i and j are shorted, with the bleed of 1 kohm beside it
			rest := 4 - abs(float64(i-j))
			want := 12 / (0.5 + 1/(1/1e3+1/(rest+1e-9)))
			if rest > 0 {
				want *= 1e3 / (1e3 + rest)
			}
			got := float64(x.Short(at[row[i]], at[row[j]]))
			near(t, "short "+row[i]+" "+row[j], got, want, want*1e-4)
			near(t, "fault "+row[i]+" "+row[j], float64(f.Between(at[row[i]], at[row[j]], 0).Amps), got, want*1e-6)
		}
	}
}
