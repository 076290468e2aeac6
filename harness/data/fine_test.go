package data

import (
	"strings"
	"testing"

	"loomsheet/harness/unit"
)

// Fine gauges against the maker's table in testdata/reference (verified).
func TestFine(t *testing.T) {
	found := 0
	for _, r := range reference(t, "maker_wire_tables.csv") {
		name, isGauge := strings.CutPrefix(r["conductor"], "AWG ")
		if r["source"] != fineSource || !isGauge || !strings.HasPrefix(r["quantity"], "max ohm/km") {
			continue
		}
		n := int(num(t, name))
		got, info, ok := FineResistance(unit.AWG(n))
		if ok != (n >= 26 && n <= 28) {
			t.Errorf("AWG %d: known %v", n, ok)
		}
		if ok {
			found++
			if !near(float64(got)*1000, num(t, r["value"])) || info.Basis != basis(t, r) {
				t.Errorf("AWG %d: %v, the table has %s ohm/km", n, got, r["value"])
			}
		}
	}
	rows(t, "Fine", len(Fine), found)
}
