package data

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness/unit"
)

// The tables are compared with the copies of the published ones, whose headers name the document.

// record is one row of a reference table by column name.
type record map[string]string

func reference(t *testing.T, file string) []record {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []record
	for _, row := range rows[1:] {
		rec := record{}
		for i, name := range rows[0] {
			rec[name] = row[i]
		}
		out = append(out, rec)
	}
	if len(out) == 0 {
		t.Fatalf("%s is empty", file)
	}
	return out
}

// num is a cell as a number, 0 if it is blank.
func num(t *testing.T, s string) float64 {
	t.Helper()
	if s == "" {
		return 0
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// gauge reads 20, 00, 2/0.
func gauge(t *testing.T, s string) unit.Size {
	t.Helper()
	if n, of, ok := strings.Cut(s, "/"); ok && of == "0" {
		return unit.AWG(1 - int(num(t, n)))
	}
	if strings.Trim(s, "0") == "" {
		return unit.AWG(1 - len(s))
	}
	return unit.AWG(int(num(t, s)))
}

func basis(t *testing.T, r record) Basis {
	t.Helper()
	switch r["basis"] {
	case "verified":
		return Verified
	case "memory":
		return FromMemory
	}
	t.Fatalf("basis %q", r["basis"])
	return 0
}

// near allows for nothing but the rounding of one division.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b)) }

// rows checks that a table has as many rows as its reference.
func rows(t *testing.T, table string, have, want int) {
	t.Helper()
	if have != want {
		t.Fatalf("%s has %d rows, its reference %d", table, have, want)
	}
}

func TestAWG(t *testing.T) {
	ref := reference(t, "awg_astm_b258.csv")
	rows(t, "AWG", len(AWG), len(ref))
	for i, r := range ref {
		row := AWG[i]
		if want := gauge(t, r["awg"]); row.Size != want || row.Size != unit.AWG(int(num(t, r["n"]))) {
			t.Errorf("row %d: gauge %v, want %v", i, row.Size, want)
		}
		if got, want := float64(row.Size.Diameter()), num(t, r["diameter_mm"]); math.Abs(got-want) > 0.00005001 {
			t.Errorf("%v: diameter %v, want %v (printed to 0.0001)", row.Size, got, want)
		}
		if got, want := float64(row.Size.Area()), num(t, r["area_mm2"]); math.Abs(got-want) > 0.00005001 {
			t.Errorf("%v: area %v, want %v (printed to 0.0001)", row.Size, got, want)
		}
		if got, want := float64(InCircularMils(row.Size.Area())), num(t, r["circ_mils"]); math.Abs(got-want) > 0.05001 {
			t.Errorf("%v: %v circular mils, want %v (printed to 0.1)", row.Size, got, want)
		}
		got, info, ok := AWGResistance(row.Size)
		if want := num(t, r["ohm_per_1000ft_20C"]) / 304.8; !ok || !near(float64(got), want) || info.Basis != basis(t, r) {
			t.Errorf("%v: resistance %v %v, want %v", row.Size, got, info, want)
		}
		// 1/58 ohm mm2/m over the gauge's own area is the same figure by another way; Handbook 100 prints 3 or 4 digits.
		if by := float64(Copper.Resistivity) / float64(row.Size.Area()); math.Abs(float64(got)/by-1) > 0.005 {
			t.Errorf("%v: %v by the table, %v by resistivity and area", row.Size, got, by)
		}
	}
}

func TestIEC60228(t *testing.T) {
	ref := reference(t, "iec60228_resistance.csv")
	rows(t, "IEC60228", len(IEC60228), len(ref))
	for i, r := range ref {
		class, size := ConductorClass(num(t, r["class"])), unit.Area(num(t, r["nominal_mm2"]))
		if IEC60228[i].Class != class || IEC60228[i].Size != size {
			t.Errorf("row %d is %v", i, IEC60228[i])
		}
		for coated, col := range map[bool]string{false: "plain_ohm_per_km_max", true: "metal_coated_ohm_per_km_max"} {
			got, info, ok := IEC60228Resistance(class, size, coated)
			if want := num(t, r[col]) / 1000; !ok || !near(float64(got), want) || info.Basis != basis(t, r) {
				t.Errorf("class %d, %v, coated %v: %v %v, want %v", class, size, coated, got, info, want)
			}
		}
	}
	for _, size := range []unit.Area{0.35, 2, 3, 0, -1, unit.Area(math.NaN())} {
		if r, _, ok := IEC60228Resistance(Class5, size, false); ok {
			t.Errorf("IEC 60228 has no %v, got %v", size, r)
		}
	}
}

func TestISO6722(t *testing.T) {
	ref := reference(t, "iso6722_resistance.csv")
	rows(t, "ISO6722", len(ISO6722), len(ref))
	for i, r := range ref {
		size := unit.Area(num(t, r["nominal_mm2"]))
		got, info, ok := ISO6722Resistance(size)
		if want := num(t, r["mohm_per_m_max"]) / 1000; !ok || !near(float64(got), want) || info.Basis != basis(t, r) || ISO6722[i].Size != size {
			t.Errorf("%v: %v %v, want %v", size, got, info, want)
		}
	}
	classes := reference(t, "iso6722_temperature_classes.csv")
	rows(t, "ISO6722Classes", len(ISO6722Classes), len(classes))
	for i, r := range classes {
		c := ISO6722Classes[i]
		if c.Class != r["class"] || float64(c.Most) != num(t, r["max_temp_c"]) || c.Basis != basis(t, r) {
			t.Errorf("class %v, want %v", c, r)
		}
	}
}

func TestAircraftTables(t *testing.T) {
	ref := reference(t, "ac4313_table_11_9_copper.csv")
	rows(t, "Aircraft", len(Aircraft), len(ref))
	for i, r := range ref {
		size := gauge(t, r["wire_size_awg"])
		if Aircraft[i].Size != size || float64(Aircraft[i].Area) != num(t, r["nominal_area_circ_mils"]) {
			t.Errorf("row %d is %v", i, Aircraft[i])
		}
		for rating, col := range map[unit.Temperature]string{105: "amps_105C", 125: "amps_105C", 150: "amps_150C", 199: "amps_150C", 200: "amps_200C", 260: "amps_200C"} {
			got, info, ok := AircraftBundle(size, rating)
			if !ok || float64(got) != num(t, r[col]) || info.Basis != basis(t, r) {
				t.Errorf("%v at %v: %v %v, want %v", size, rating, got, info, r[col])
			}
			wires := "33 or more"
			if size.Gauge <= 8 {
				wires = "9 wires"
			}
			if !strings.Contains(info.Condition, wires) {
				t.Errorf("%v: condition %q should say %q", size, info.Condition, wires)
			}
		}
		got, _, ok := AircraftResistance(size)
		if want := num(t, r["max_ohm_per_1000ft_20C"]) / 304.8; !ok || !near(float64(got), want) {
			t.Errorf("%v: resistance %v, want %v", size, got, want)
		}
	}
	if a, _, ok := AircraftBundle(unit.AWG(20), 104); ok {
		t.Errorf("the table has nothing under 105 C, got %v", a)
	}
	if a, _, ok := AircraftBundle(unit.AWG(3), 150); ok {
		t.Errorf("the table has no 3 AWG, got %v", a)
	}
	if a, _, ok := AircraftBundle(unit.Metric(0.5), 150); ok {
		t.Errorf("the table has no metric size, got %v", a)
	}

	ref = reference(t, "ac4313_table_11_3_protectors.csv")
	rows(t, "AircraftProtectors", len(AircraftProtectors), len(ref))
	for _, r := range ref {
		breaker, fuse, info, ok := AircraftProtector(gauge(t, r["wire_size_awg"]))
		if !ok || float64(breaker) != num(t, r["circuit_breaker_a"]) || float64(fuse) != num(t, r["fuse_a"]) || info.Basis != basis(t, r) {
			t.Errorf("%v: breaker %v, fuse %v", r, breaker, fuse)
		}
	}

	ref = reference(t, "ac4313_voltage_drop_limits.csv")
	rows(t, "AircraftDrops", len(AircraftDrops), len(ref))
	for _, r := range ref {
		c, i, info, ok := AircraftDrop(unit.Voltage(num(t, r["nominal_system_v"])))
		if !ok || float64(c) != num(t, r["max_drop_continuous_v"]) || float64(i) != num(t, r["max_drop_intermittent_v"]) || info.Basis != basis(t, r) {
			t.Errorf("%v: %v and %v", r, c, i)
		}
	}
}

func TestAircraftCurvePoints(t *testing.T) {
	count := map[string]int{}
	for _, r := range reference(t, "ac4313_curve_points.csv") {
		i := count[r["figure"]]
		count[r["figure"]]++
		args := map[string]string{}
		for _, p := range strings.Split(r["x"], ";") {
			k, v, _ := strings.Cut(p, "=")
			args[k] = v
		}
		y := num(t, strings.TrimSuffix(r["y"], " A"))
		switch r["figure"] {
		case "free_air_amps":
			p := AircraftFreeAir[i]
			if p.Size != gauge(t, args["awg"]) || float64(p.Rise) != num(t, args["delta_t_c"]) || float64(p.Amps) != y || p.Basis != basis(t, r) {
				t.Errorf("%v, want %v", p, r)
			}
		case "bundle_factor":
			p := AircraftBundlePoints[i]
			if float64(p.Wires) != num(t, args["wires"]) || !near(float64(p.Loaded)*100, num(t, args["loaded_percent"])) || float64(p.Factor) != y || p.Basis != basis(t, r) {
				t.Errorf("%v, want %v", p, r)
			}
		case "altitude_factor":
			p := AircraftAltitude[i]
			if !near(float64(p.Altitude), num(t, args["ft"])*304.8) || float64(p.Factor) != y || p.Basis != basis(t, r) {
				t.Errorf("%v, want %v", p, r)
			}
		default:
			t.Errorf("no table for figure %q", r["figure"])
		}
	}
	rows(t, "AircraftFreeAir", len(AircraftFreeAir), count["free_air_amps"])
	rows(t, "AircraftBundlePoints", len(AircraftBundlePoints), count["bundle_factor"])
	rows(t, "AircraftAltitude", len(AircraftAltitude), count["altitude_factor"])
}

func TestMarineTables(t *testing.T) {
	ref := reference(t, "cfr33_183_425_table5.csv")
	rows(t, "Marine", len(Marine), len(ref))
	for _, r := range ref {
		for i, rating := range MarineRatings {
			col := "a_" + strconv.Itoa(int(rating)) + "C"
			got, info, ok := MarineAmps(gauge(t, r["awg"]), rating, false, 1)
			if !ok || float64(got) != num(t, r[col]) || info.Basis != basis(t, r) {
				t.Errorf("%s at %v: %v, want %v", r["awg"], rating, got, r[col])
			}
			// a rating between two columns takes the lower one
			if i > 0 {
				between, _, _ := MarineAmps(gauge(t, r["awg"]), rating-1, false, 1)
				if lower, _, _ := MarineAmps(gauge(t, r["awg"]), MarineRatings[i-1], false, 1); between != lower {
					t.Errorf("%s at %v: %v, want the column below, %v", r["awg"], rating-1, between, lower)
				}
			}
		}
	}
	// ABYC E-11 as printed, 105 C: rounded there to 0.1, in places to 0.5 (29.75 is printed 29.8, 38.25 as 38.3).
	for _, r := range reference(t, "abyc_engine_space_and_bundles.csv") {
		for _, b := range []struct {
			col   string
			wires []int
		}{{"", []int{1, 2}}, {"bundle3_", []int{3}}, {"bundle4_6_", []int{4, 6}}, {"bundle7_24_", []int{7, 24}}} {
			for _, n := range b.wires {
				for engine, where := range map[bool]string{false: "outside_a", true: "engine_a"} {
					got, _, ok := MarineAmps(gauge(t, r["awg"]), 105, engine, n)
					if want := num(t, r[b.col+where]); !ok || math.Abs(float64(got)-want) > 0.0501 {
						t.Errorf("%s, %d wires, engine space %v: %v, printed %v", r["awg"], n, engine, got, want)
					}
				}
			}
		}
	}
	if f, _ := MarineBundleFactor(25); f != 0.40 {
		t.Errorf("25 wires: %v, ABYC has 40 %%", f)
	}
	if a, _, ok := MarineAmps(unit.AWG(16), 59, false, 1); ok {
		t.Errorf("nothing under 60 C, got %v", a)
	}
	if _, info, _ := MarineAmps(unit.AWG(16), 125, true, 1); info.Basis != FromMemory {
		t.Error("the engine-space factor at 125 C is from memory; its result must say so")
	}
	cable := reference(t, "abyc_min_area.csv")
	rows(t, "MarineCables", len(MarineCables), len(cable))
	for i, r := range cable {
		c := MarineCables[i]
		if c.Size != gauge(t, r["gauge"]) || float64(c.AWG) != num(t, r["awg_cable_cm"]) || float64(c.SAE) != num(t, r["sae_cable_cm"]) || c.Basis != basis(t, r) || MarineSizes[i] != c.Size {
			t.Errorf("%v, want %v", c, r)
		}
	}
}

func TestMarineChart(t *testing.T) {
	for _, r := range reference(t, "marine_3pct_chart_part.csv") {
		cm, _ := MarineArea(unit.Current(num(t, r["current_a"])), unit.Length(num(t, r["length_ft_round_trip"])*304.8), 0.36)
		if got, ok := MarineSize(cm); !ok || got != gauge(t, r["formula_awg"]) {
			t.Errorf("%s ft, %s A: %v, want %s", r["length_ft_round_trip"], r["current_a"], got, r["formula_awg"])
		}
	}
	// Holland Marine catalogue 2021, pages 52 and 53: bilge pump, 10 A, 11 ft and 10 ft, 12 V.
	for drop, want := range map[unit.Voltage]struct {
		mils CircularMils
		size unit.Size
	}{0.36: {6271, unit.AWG(12)}, 1.2: {1881, unit.AWG(16)}} {
		cm, info := MarineArea(10, 21*304.8, drop)
		if got, _ := MarineSize(cm); math.Round(float64(cm)) != float64(want.mils) || got != want.size || info.Basis != FromMemory {
			t.Errorf("%v: %v circular mils, %v; want %v, %v", drop, cm, got, want.mils, want.size)
		}
	}
	if cm, _ := MarineArea(10, 1000, 0); cm != 0 {
		t.Errorf("no drop allowed: %v", cm)
	}
}
