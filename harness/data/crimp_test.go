package data

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

// Between two gauges the force is in proportion to the area, by hand: 0.5 mm2 lies between 22 AWG (0.3255 mm2, 35.6 N) and 20 AWG
// (0.5176 mm2, 57.9 N), and 35.6 + 22.3 x 0.1745 / 0.1921 = 55.86; 1.5 mm2 between 16 AWG (1.3090, 133.5) and 14 AWG (2.0814, 222.5):
// 133.5 + 89 x 0.1910 / 0.7724 = 155.5.
func TestPullOfMetricSizes(t *testing.T) {
	for _, x := range []struct {
		size   unit.Size
		column PullColumn
		want   unit.Force
		says   string
	}{
		{unit.Metric(0.5), PullCommercial, 55.9, "between 22 AWG and 20 AWG"},
		{unit.Metric(1.5), PullCommercial, 155.6, "between 16 AWG and 14 AWG"},
		{unit.Metric(0.5), PullMilitary, 82.9, "military column"},
		{unit.AWG(20), PullMilitary, 84.5, "for 20 AWG"},
		{unit.Metric(120), PullCommercial, 1235, "the largest printed"},
		{unit.Metric(16), PullMilitary, 0, ""},
		{unit.Metric(0.1), PullCommercial, 0, ""},
		{unit.AWG(22), PullNASA, 57, "for 22 AWG"},
		{unit.Metric(0.5), PullNASA, 88.8, "between"},
		{unit.Metric(1), PullNASA, 0, ""},
	} {
		f, info, ok := CrimpPull(x.size, x.column)
		if ok != (x.want > 0) || f != x.want || !strings.Contains(info.String(), x.says) {
			t.Errorf("%s, %s: %v %q, want %v %q", x.size, x.column, f, info, x.want, x.says)
		}
	}
	if _, info, _ := CrimpPull(unit.Metric(0.5), PullNASA); info.Basis != FromMemory {
		t.Error("the figure for 20 AWG is second-hand")
	}
}

// A thicker wire is never asked for less, and no size for less than the gauge below it or more than the one above.
func TestPullGrowsWithTheWire(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		col := rapid.SampledFrom(PullColumns).Draw(t, "column")
		a := unit.Metric(unit.Area(rapid.Float64Range(0.1, 130).Draw(t, "a")))
		b := unit.Metric(a.MM2 * unit.Area(rapid.Float64Range(1, 2).Draw(t, "by")))
		f, _, okA := CrimpPull(a, col)
		g, _, okB := CrimpPull(b, col)
		if okA && okB && f > g {
			t.Fatalf("%s asks %s, %s asks %s", a, f, b, g)
		}
	})
}

func TestNASARows(t *testing.T) {
	ref := reference(t, "nasa_std_8739_4.csv")
	find := func(item string) record {
		for _, r := range ref {
			if strings.Contains(r["item"], item) {
				return r
			}
		}
		t.Fatalf("no row %s", item)
		return nil
	}
	for g, size := range map[string]unit.Size{"AWG 24": unit.AWG(24), "AWG 22": unit.AWG(22)} {
		r := find("pull force (contact with grounding lead), " + g)
		f, info, ok := CrimpPull(size, PullNASA)
		if n, _, _ := strings.Cut(r["value"], " N"); !ok || unit.Number(float64(f), 0) != n || info.Basis != basis(t, r) {
			t.Errorf("%s: %v, want %s", g, f, r["value"])
		}
	}
	for item, size := range map[string]unit.Size{"maximum, AWG 20 and smaller": unit.AWG(20), "maximum, AWG 18 and larger": unit.AWG(18)} {
		r := find("insulation clearance at crimp, " + item)
		least, most, info := CrimpGap(size)
		if n, _, _ := strings.Cut(r["value"], " mm"); unit.Number(float64(most), 2) != n || least != 0.25 || info.Basis != basis(t, r) {
			t.Errorf("%s: %v to %v, want %s", size, least, most, r["value"])
		}
	}
	if n, _, _ := strings.Cut(find("insulation clearance at crimp, minimum")["value"], " mm"); n != "0.25" {
		t.Errorf("least %s", n)
	}
}
