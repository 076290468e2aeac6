package data

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness/unit"
)

func TestCopper(t *testing.T) {
	want := map[string]float64{
		"copper resistivity at 20 C": float64(Copper.Resistivity), "copper temperature coefficient at 20 C": float64(Copper.Alpha),
		"copper inferred zero-resistance temperature": -float64(Copper.ZeroAt), "copper volumetric heat capacity at 20 C": float64(Copper.HeatCapacity),
	}
	seen := 0
	for _, r := range reference(t, "copper_constants.csv") {
		if have, ok := want[r["quantity"]]; ok {
			seen++
			// the resistivity is printed to six decimals
			if got := num(t, strings.Fields(r["value"])[0]); math.Abs(have-got) > 5e-7 || basis(t, r) != Copper.Basis {
				t.Errorf("%s: %v, want %v", r["quantity"], have, got)
			}
		}
	}
	if seen != len(want) {
		t.Errorf("%d constants compared, want %d", seen, len(want))
	}
	for _, r := range reference(t, "iec60228_temperature_factors.csv") {
		at := unit.Temperature(num(t, r["t_c"]))
		f := 1 / float64(Copper.Factor(at))
		if math.Abs(f-num(t, r["alternative_254.5_over_234.5_plus_t"])) > 0.0000501 {
			t.Errorf("at %v: %v, want %v", at, f, r["alternative_254.5_over_234.5_plus_t"])
		}
		// The printed factors follow 250/(230+t): 0.4 % apart at 100 C, and rounded to 0.001.
		if p := num(t, r["printed_factor"]); math.Abs(f/p-1) > 0.0045 {
			t.Errorf("at %v: %v, printed %v", at, f, p)
		}
	}
	if r := Copper.ResistanceAt(0.0133, 20); r != 0.0133 {
		t.Errorf("at 20 C nothing changes, got %v", r)
	}
	if f := Copper.Factor(-1000); !(f > 0) {
		t.Errorf("resistance must stay above 0, factor %v", f)
	}
}

// AC 43.13-1B Tables 11-7 and 11-8: V = R per ft x run x I with the resistances of Table 11-9. Table 11-8 prints 0.366 V in its
// second row where its own factors give 0.4914, and Table 11-7 3.60 for 3.5552, so the arithmetic is what is compared.
func TestAircraftWorkedExamples(t *testing.T) {
	checked := 0
	for _, r := range reference(t, "ac4313_worked_examples.csv") {
		in := map[string]float64{}
		for _, p := range strings.Split(r["inputs"], ";") {
			if k, v, ok := strings.Cut(p, "="); ok {
				if x, err := strconv.ParseFloat(v, 64); err == nil {
					in[k] = x
				}
			}
		}
		if in["ohm_per_ft"] == 0 {
			continue
		}
		checked++
		size := unit.AWG(int(in["wire_awg"]))
		perM, _, ok := AircraftResistance(size)
		if !ok || math.Abs(float64(perM)*0.3048-in["ohm_per_ft"]) > 1e-9 {
			t.Errorf("%s: %v per metre is not %v ohm per ft", r["id"], perM, in["ohm_per_ft"])
		}
		drop := perM.Over(unit.Length(in["run_ft"] * 304.8)).Drop(unit.Current(in["current_a"]))
		if want := num(t, r["recomputed"]); math.Abs(float64(drop)-want) > 0.00005 {
			t.Errorf("%s: %v V, want %v", r["id"], float64(drop), want)
		}
		// Each example keeps within the limit of Table 11-6 that it names.
		if float64(drop) > in["limit_v"] {
			t.Errorf("%s: %v above its limit %v", r["id"], drop, in["limit_v"])
		}
	}
	if checked < 5 {
		t.Errorf("only %d examples checked", checked)
	}
	// Para 11-68c Example 1: 28 V, 50 ft with the return, 20 A: No. 10 loses 1.26 V, No. 8 0.70 V, the limit is 1 V.
	for n, want := range map[int]float64{10: 1.26, 8: 0.70} {
		perM, _, _ := AircraftResistance(unit.AWG(n))
		if got := float64(perM.Over(50 * 304.8).Drop(20)); math.Abs(got-want) > 0.00005 {
			t.Errorf("No. %d: %v V, want %v", n, got, want)
		}
	}
	// Para 11-66d(4): L2 = 254.5 L1 / (234.5 + T2) is the same law as the factor on the resistance.
	if got, want := 1/float64(Copper.Factor(150)), 254.5/(234.5+150); !near(got, want) {
		t.Errorf("length factor at 150 C: %v, want %v", got, want)
	}
}

func TestContactsAndCrimps(t *testing.T) {
	ref := reference(t, "contacts.csv")
	for _, c := range Contacts {
		found := 0
		for _, r := range ref {
			switch r["contact"] {
			case "AS39029 size " + c.Size:
				found++
				thick, thin, _ := strings.Cut(strings.TrimSuffix(r["wire_range_or_condition"], " AWG"), "-")
				if float64(c.Rating) != num(t, r["current_a"]) || c.Most != gauge(t, thick) || c.Least != gauge(t, thin) || c.Basis != basis(t, r) {
					t.Errorf("size %s: %v, want %v", c.Size, c, r)
				}
			case "AS39029 size " + c.Size + " test drop":
				found++
				if got, want := float64(c.TestDrop)*1000, num(t, strings.TrimSuffix(r["other"], " mV max")); !near(got, want) || c.TestBasis != basis(t, r) {
					t.Errorf("size %s: %v mV, want %v", c.Size, got, want)
				}
				if !strings.HasSuffix(r["wire_range_or_condition"], "at "+unit.Number(float64(c.Rating), 1)+" A") {
					t.Errorf("size %s: test drop is not at its rating: %v", c.Size, r)
				}
			}
		}
		want := 1
		if _, ok := c.TestResistance(); ok {
			want = 2
		}
		if found != want {
			t.Errorf("size %s: %d rows of the reference, want %d", c.Size, found, want)
		}
	}
	for _, r := range ref {
		if name, ok := strings.CutPrefix(r["contact"], "AS39029 size "); ok && !strings.Contains(name, " ") {
			n := 0
			for _, c := range Contacts {
				if c.Size == name {
					n++
				}
			}
			if n != 1 {
				t.Errorf("size %s stands %d times in Contacts", name, n)
			}
		}
	}

	ref = reference(t, "crimp_pull_forces.csv")
	rows(t, "Crimps", len(Crimps), len(ref))
	for _, r := range ref {
		size := gauge(t, r["wire_awg"])
		c, info, ok := CrimpPull(size, PullCommercial)
		if !ok || float64(c) != num(t, r["commercial_min_n"]) || info.Basis != basis(t, r) {
			t.Errorf("%v: %v, want %v", size, c, r["commercial_min_n"])
		}
		m, _, ok := CrimpPull(size, PullMilitary)
		if ok != (r["military_min_n"] != "") || float64(m) != num(t, r["military_min_n"]) {
			t.Errorf("%v: military %v, want %v", size, m, r["military_min_n"])
		}
		// 1 lbf is printed as 4.45 N; at 2/0 newtons and pounds of the print disagree.
		if lbf := num(t, r["commercial_min_lbf"]); r["wire_awg"] != "2/0" && math.Abs(float64(c)-lbf*4.45) > 0.51 {
			t.Errorf("%v: %v is not %v lbf", size, c, lbf)
		}
	}
	if _, _, ok := CrimpPull(unit.AWG(28), PullCommercial); ok {
		t.Error("nothing is printed for 28 AWG")
	}

	ref = reference(t, "contact_loading_wire_factors.csv")
	rows(t, "ContactLoads", len(ContactLoads), len(ref))
	for _, r := range ref {
		loaded := 0.0
		if p, ok := strings.CutSuffix(r["loading"], " percent loaded"); ok {
			loaded = num(t, p) / 100
		}
		f, info, ok := ContactLoad(unit.Ratio(loaded), gauge(t, r["wire_awg"]))
		if !ok || float64(f) != num(t, r["factor_printed"]) || info.Basis != basis(t, r) {
			t.Errorf("%v loaded, %s AWG: %v, want %v", loaded, r["wire_awg"], f, r["factor_printed"])
		}
	}
	// By hand: 22 AWG 1/0.4^2 = 6.25 and 1/0.277^2 = 13.03, a sixth of the way 7.380, so 0.3681; 20 AWG likewise 0.4520; 0.5 mm2 lies 0.9062 of
	// the way from 0.3255 to 0.5176 mm2.
	if f, _, _ := ContactLoad(0.3, unit.Metric(0.5)); math.Abs(float64(f)-0.4441) > 5e-4 {
		t.Errorf("30 %% loaded with 0.5 mm2: %v", f)
	}
	if f, _, _ := ContactLoad(0.1, unit.AWG(18)); f != 0.618 {
		t.Errorf("under the first printed loading that one holds: %v", f)
	}
	// The print follows the law of the root from its first loading on: what counts is the heat of all contacts.
	for _, row := range ContactLoads {
		full, _, _ := ContactLoad(1, row.Size)
		misprint := row.Loaded == 0.26 && row.Size == unit.AWG(24)
		if row.Loaded > 0 && !misprint && math.Abs(float64(full)/math.Sqrt(float64(row.Loaded))/float64(row.Factor)-1) > 0.07 {
			t.Errorf("%v, %v: %v is not as the root of the loading", row.Loaded, row.Size, row.Factor)
		}
	}
	if f, _, ok := ContactLoad(unit.Ratio(math.NaN()), unit.AWG(20)); ok {
		t.Errorf("no share, no factor: %v", f)
	}
}

func TestFuses(t *testing.T) {
	kind := func(family string) string {
		for _, p := range [][2]string{{"MINI", BladeF}, {"ATOF", BladeC}, {"MAXI", BladeE}, {"AMI", BoltIn}, {"MEGA", Link}} {
			if strings.HasPrefix(family, p[0]) {
				return p[1]
			}
		}
		t.Fatalf("unknown family %q", family)
		return ""
	}
	ref := reference(t, "fuse_time_current_gates.csv")
	rows(t, "FuseGates", len(FuseGates), len(ref))
	for i, r := range ref {
		g := FuseGates[i]
		from, to, ok := strings.Cut(strings.TrimSuffix(r["rating_range"], " A"), "-")
		if !ok {
			to = from
		}
		if g.Kind != kind(r["family"]) || float64(g.From) != num(t, from) || float64(g.To) != num(t, to) || !near(float64(g.Times)*100, num(t, r["percent_of_rating"])) ||
			float64(g.Least) != num(t, r["min_s"]) || float64(g.Most) != num(t, r["max_s"]) || g.Basis != basis(t, r) {
			t.Errorf("%v, want %v", g, r)
		}
	}
	for _, k := range FuseKinds {
		for rating := unit.Current(1); rating <= 500; rating++ {
			gates := FuseGateOf(k, rating)
			for i := 1; i < len(gates); i++ {
				a, b := gates[i-1], gates[i]
				if b.Times <= a.Times || b.Most > 0 && a.Most > 0 && b.Most > a.Most || b.Least > a.Least {
					t.Errorf("%s %v: the gates do not fall: %v, %v", k, rating, a, b)
				}
			}
		}
	}
	if len(FuseGateOf(BladeC, 40)) != 5 || len(FuseGateOf(BladeC, 10)) != 6 || len(FuseGateOf("glass", 10)) != 0 {
		t.Error("gates are found by kind and rating")
	}

	ref = reference(t, "fuse_element_data.csv")
	rows(t, "FuseElements", len(FuseElements), len(ref))
	for i, r := range ref {
		e := FuseElements[i]
		if e.Kind != kind(r["family"]) || float64(e.Rating) != num(t, r["rating_a"]) || !near(float64(e.Cold)*1000, num(t, r["cold_resistance_mohm"])) ||
			float64(e.Melt) != num(t, r["i2t_a2s"]) || e.Basis != basis(t, r) {
			t.Errorf("%v, want %v", e, r)
		}
	}

	ref = reference(t, "fuse_ambient_derating.csv")
	rows(t, "FuseAmbient", len(FuseAmbient), len(ref))
	for _, r := range ref {
		f, info, ok := FuseAmbientFactor(unit.Temperature(num(t, r["ambient_c"])))
		if !ok || !near(float64(f)*num(t, r["rating_a"]), num(t, r["allowed_load_a"])) || info.Basis != basis(t, r) {
			t.Errorf("%s C: %v", r["ambient_c"], f)
		}
	}
	if f, _, _ := FuseAmbientFactor(75); !near(float64(f), 0.8) {
		t.Errorf("half way from 34 to 30 A is 32 of 40: %v", f)
	}
	for _, at := range []unit.Temperature{126, unit.Temperature(math.NaN())} {
		if f, _, ok := FuseAmbientFactor(at); ok {
			t.Errorf("nothing known at %v, got %v", at, f)
		}
	}

	ref = reference(t, "fuse_colours.csv")
	rows(t, "FuseColours", len(FuseColours), len(ref))
	for _, r := range ref {
		kinds := []string{BladeC, BladeF}
		if r["family"] == "MAXI E" {
			kinds = []string{BladeE}
		}
		want, _, _ := strings.Cut(r["colour"], " (")
		for _, k := range kinds {
			if got, info, ok := FuseColour(k, unit.Current(num(t, r["rating_a"]))); !ok || got != want || info.Basis != basis(t, r) {
				t.Errorf("%s %s A: %q, want %q", k, r["rating_a"], got, want)
			}
		}
	}
	if c, _, ok := FuseColour("", 20); ok {
		t.Errorf("no kind has no colour, got %q", c)
	}
}

func TestNames(t *testing.T) {
	ref := reference(t, "iec60757_colours.csv")
	rows(t, "Colours", len(Colours), len(ref))
	for i, r := range ref {
		c := Colours[i]
		name, _, _ := strings.Cut(r["colour"], " (")
		if c.Code != r["code"] || c.Name != name || c.Basis != basis(t, r) || i+1 != int(num(t, r["order"])) {
			t.Errorf("%v, want %v", c, r)
		}
	}
	for colour, want := range map[string]string{
		"red": "RD", "red/white": "RD/WH", "white/red": "WH/RD", "purple": "VT", "gray/slate": "GY/GY", "green/yellow": "GN/YE",
		"green-and-yellow": "GNYE", "black/red/blue": "BK/RD/BU", "": "", "rde": "", "red/": "", "red//blue": "", "Red": "", "a/b/c/d": "",
	} {
		if got, ok := ColourCode(colour); got != want || ok != (want != "") {
			t.Errorf("%q: %q %v, want %q", colour, got, ok, want)
		}
	}
	for _, n := range ColourNames() {
		if _, ok := ColourCode(n); !ok {
			t.Errorf("%q is listed but has no code", n)
		}
	}

	ref = reference(t, "din72552_terminals.csv")
	rows(t, "Terminals", len(Terminals), len(ref))
	for _, r := range ref {
		for _, n := range strings.Split(r["terminal"], " / ") {
			if m, info, ok := TerminalMeaning(n); !ok || m != r["meaning"] || info.Basis != basis(t, r) {
				t.Errorf("%s: %q, want %q", n, m, r["meaning"])
			}
		}
	}
	if m, _, ok := TerminalMeaning("/"); ok {
		t.Errorf("no terminal, got %q", m)
	}
}

func TestDropsAndBundles(t *testing.T) {
	i := 0
	for _, r := range reference(t, "automotive_drop_limits.csv") {
		v := strings.Fields(r["value"])
		isDrop := len(v) <= 2 || v[2] == "max"
		for _, p := range []string{"typical", "cranking current", "minimum", "open-circuit"} {
			isDrop = isDrop && !strings.HasPrefix(r["item"], p)
		}
		if !isDrop {
			continue
		}
		if i >= len(VehicleDrops) {
			t.Fatalf("%q is missing", r["item"])
		}
		d := VehicleDrops[i]
		i++
		value, in := num(t, v[0]), v[1]
		ok := in == "V" && float64(d.Most) == value || in == "mV" && near(float64(d.Most)*1000, value) || in == "%" && near(float64(d.Share)*100, value)
		if !ok || d.Circuit != r["item"] || d.Document != r["source"] || d.Basis != basis(t, r) {
			t.Errorf("%v, want %v", d, r)
		}
	}
	rows(t, "VehicleDrops", len(VehicleDrops), i)
	shares := map[unit.Ratio]bool{}
	for _, r := range reference(t, "marine_rules.csv") {
		if strings.HasPrefix(r["rule"], "voltage drop limit") {
			for _, p := range strings.Split(r["value"], "/") {
				shares[unit.Ratio(num(t, strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(p), "%")))/100)] = true
			}
		}
	}
	rows(t, "MarineDrops", len(MarineDrops), len(shares))
	for _, d := range MarineDrops {
		if !shares[d.Share] {
			t.Errorf("%v is in no rule", d)
		}
	}

	ref := reference(t, "bundle_diameter_trade_factors.csv")
	rows(t, "BundleFactors", len(BundleFactors), len(ref))
	next := 1
	for _, r := range ref {
		from, to, ok := strings.Cut(r["wires"], "-")
		if !ok {
			to = from
		}
		if int(num(t, from)) != next {
			t.Errorf("%s does not follow on", r["wires"])
		}
		for ; next <= int(num(t, to)); next++ {
			wires := make([]unit.Length, next)
			for i := range wires {
				wires[i] = 2
			}
			if d, info := BundleDiameter(wires); !near(float64(d), 2*num(t, r["factor"])) || info.Basis != basis(t, r) {
				t.Errorf("%d wires of 2 mm: %v, want factor %s", next, d, r["factor"])
			}
		}
	}
	if d, _ := BundleDiameter([]unit.Length{3, 4}); !near(float64(d), 6) {
		t.Errorf("1.2 sqrt(9 + 16) is 6, got %v", d)
	}
	if d, _ := BundleDiameter(nil); d != 0 {
		t.Errorf("no wire, no bundle: %v", d)
	}
}
