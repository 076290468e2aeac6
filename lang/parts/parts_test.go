package parts

import (
	"math"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
	"loomsheet/lang/syntax"
	"loomsheet/lang/word"
)

func TestFiles(t *testing.T) {
	a, b := Files(), Files()
	if !slices.Equal(a, b) || len(a) == 0 {
		t.Fatal("the library must be the same each time")
	}
	entries, err := library.ReadDir("library")
	if err != nil || len(entries) != len(a) {
		t.Errorf("%d files are embedded, %d are read: %v", len(entries), len(a), err)
	}
	for _, f := range a {
		if strings.Contains(f.Text, "\t") || strings.Contains(f.Text, "\r") || !strings.HasSuffix(f.Text, "\n") {
			t.Errorf("%s: blanks only, and a line end at the end", f.Name)
		}
	}
}

// Every word and option is one of the language, and every statement says where it comes from.
func TestWordsAndSources(t *testing.T) {
	seen := map[string]string{}
	for _, p := range read(t) {
		w := word.Find("", p.Word.Text)
		if w == nil || !(w.Part || p.Word.Text == "device") {
			t.Errorf("%s: %q does not belong in the library", p.file, p.Word.Text)
			continue
		}
		name := p.About[0].Text
		key := p.Word.Text + " " + name
		if seen[key] != "" {
			t.Errorf("%s is in %s and in %s", key, seen[key], p.file)
		}
		seen[key] = p.file
		if len(p.About) != 1 || text(p.Line, "source") == "" {
			t.Errorf("%s: one name, and a source", key)
		}
		checkOptions(t, key, w, p.Line)
		for _, l := range p.Block {
			b := word.Find(p.Word.Text, l.Word.Text)
			if b == nil {
				t.Errorf("%s: %q is no line of its block", key, l.Word.Text)
				continue
			}
			checkOptions(t, key, b, l)
			if needs := p.Word.Text != "housing"; needs && text(l, "source") == "" {
				t.Errorf("%s: the line %q has no source", key, l.Word.Text)
			}
		}
	}
}

func checkOptions(t *testing.T, key string, w *word.Word, l *syntax.Line) {
	t.Helper()
	for _, o := range l.Options {
		def := w.Option(o.Word.Text)
		if def == nil {
			t.Errorf("%s: %s has no option %q", key, l.Word.Text, o.Word.Text)
			continue
		}
		for _, v := range o.Values {
			if def.Arg.Kind == word.Measure {
				if q, err := unit.Parse(v.Text); err != nil || !slices.Contains(def.Arg.Dims, q.Dim) {
					t.Errorf("%s: %s cannot be %q", key, o.Word.Text, v.Text)
				}
			}
		}
		if len(o.Values) > 1 && !def.Arg.Many {
			t.Errorf("%s: %s takes one value", key, o.Word.Text)
		}
	}
}

// row is what the published table says of a size.
type row func(unit.Size) (unit.LinearResistance, data.Info, bool)

func class5(coated bool) row {
	return func(s unit.Size) (unit.LinearResistance, data.Info, bool) {
		return data.IEC60228Resistance(data.Class5, s.MM2, coated)
	}
}

func iso(s unit.Size) (unit.LinearResistance, data.Info, bool) { return data.ISO6722Resistance(s.MM2) }

// thin is IEC 60228 where it has the size, else ISO 6722-1.
func thin(s unit.Size) (unit.LinearResistance, data.Info, bool) {
	if r, info, ok := class5(false)(s); ok {
		return r, info, ok
	}
	return iso(s)
}

func metric(from, to unit.Area, also ...unit.Area) []unit.Size {
	var out []unit.Size
	for _, a := range also {
		out = append(out, unit.Metric(a))
	}
	for _, r := range data.IEC60228 {
		if r.Class == data.Class5 && r.Size >= from && r.Size <= to {
			out = append(out, unit.Metric(r.Size))
		}
	}
	return out
}

// aeroResistance is that of AC 43.13-1B, and of a maker for what is finer.
func aeroResistance(s unit.Size) (unit.LinearResistance, data.Info, bool) {
	if r, info, ok := data.FineResistance(s); ok {
		return r, info, ok
	}
	return data.AircraftResistance(s)
}

func TestWires(t *testing.T) {
	var aero, isoSizes []unit.Size
	for _, r := range data.Fine {
		aero = append(aero, r.Size)
	}
	for _, r := range data.Aircraft {
		aero = append(aero, r.Size)
	}
	for _, r := range data.ISO6722 {
		isoSizes = append(isoSizes, unit.Metric(r.Size))
	}
	families := []struct {
		name  string
		heat  float64
		table row
		sizes []unit.Size
	}{
		{"thin-wall", 125, thin, metric(0.5, 120, 0.35)},
		{"normal-wall", 105, class5(false), metric(0.5, 120)},
		{"iso-6722-thin", 125, iso, isoSizes},
		{"tinned", 105, class5(true), metric(0.5, 120)},
		{"battery-cable", 105, class5(false), metric(10, 120)},
		{"aero-150", 150, aeroResistance, aero},
		{"aero-200", 200, aeroResistance, aero},
	}
	found := 0
	for _, p := range of(t, "wire") {
		if p.Block[0].Word.Text == "size" {
			found++
		}
	}
	if found != len(families) {
		t.Errorf("the library has %d families, %d are checked", found, len(families))
	}
	for _, f := range families {
		w := named(t, "wire", f.name)
		if got := one(t, w, "heat", unit.DimTemperature); got != f.heat {
			t.Errorf("%s: heat %v, want %v", f.name, got, f.heat)
		}
		if len(w.Block) != len(f.sizes) {
			t.Fatalf("%s has %d sizes, want %d", f.name, len(w.Block), len(f.sizes))
		}
		var areas, outside []float64
		for i, l := range w.Block {
			s := size(t, l.About[0])
			if s != f.sizes[i] {
				t.Errorf("%s: size %v, want %v", f.name, s, f.sizes[i])
			}
			checkResistance(t, f.name, l, s, f.table)
			areas = append(areas, float64(s.Area()))
			outside = append(outside, one(t, l, "outside", unit.DimLength))
			// stranded copper fills at most some 0.79 of its circle, and there is insulation on it
			if d := float64(s.Diameter()); outside[i] < 1.12*d+0.3 || outside[i] > 1.3*d+4 {
				t.Errorf("%s %v: %v mm outside on a solid diameter of %.2f mm", f.name, s, outside[i], d)
			}
		}
		if !rising(areas) || !rising(outside) {
			t.Errorf("%s: sizes and outside diameters must rise: %v %v", f.name, areas, outside)
		}
	}
}

// checkResistance holds a line against its table: five digits are written, and the source must name the document and tell whether it
// was read.
func checkResistance(t *testing.T, family string, l *syntax.Line, s unit.Size, table row) {
	t.Helper()
	want, info, ok := table(s)
	got := one(t, l, "resistance", unit.DimLinearResistance)
	if !ok || math.Abs(got/float64(want)-1) > 5e-5 {
		t.Errorf("%s %v: %v ohm/m, the table has %v", family, s, got, float64(want))
	}
	source := text(l, "source")
	if data.BasisOf(source) != info.Basis || !strings.HasPrefix(source, info.Document) {
		t.Errorf("%s %v: source %q, but the table is %v", family, s, source, info)
	}
}

func TestCables(t *testing.T) {
	want := map[string]int{"screened-2": 2, "screened-3": 3, "twin-2": 2, "bus-pair": 2, "lead-5": 5, "probe-5": 5}
	for _, p := range of(t, "wire") {
		if p.Block[0].Word.Text != "core" {
			continue
		}
		name := p.About[0].Text
		cores, screens, around := 0, 0, 0.0
		for _, l := range p.Block {
			if l.Word.Text == "screen" {
				screens++
				continue
			}
			seen := map[string]bool{}
			for _, v := range l.About {
				cores++
				if _, ok := data.ColourCode(v.Text); !ok || seen[v.Text] {
					t.Errorf("%s: core %q", name, v.Text)
				}
				seen[v.Text] = true
			}
			checkResistance(t, name, l, size(t, values(l, "size")[0]), class5(false))
			around = one(t, l, "outside", unit.DimLength)
		}
		if cores != want[name] {
			t.Errorf("%s has %d cores, want %d", name, cores, want[name])
		}
		delete(want, name)
		if has := strings.HasPrefix(name, "screened"); has != (screens == 1) {
			t.Errorf("%s has %d screens", name, screens)
		}
		// a cable is at least as thick as its cores lie by the trade factors, and bends no tighter than 4 times its outside
		wires := make([]unit.Length, cores)
		for i := range wires {
			wires[i] = unit.Length(around)
		}
		outside := one(t, p.Line, "outside", unit.DimLength)
		if least, _ := data.BundleDiameter(wires); outside < float64(least) {
			t.Errorf("%s: %v mm outside, its cores need %v", name, outside, least)
		}
		if bend := one(t, p.Line, "bend", unit.DimLength); bend < 4*outside {
			t.Errorf("%s: bends to %v mm at %v mm outside", name, bend, outside)
		}
	}
	for name := range want {
		t.Errorf("%s is missing", name)
	}
}

func TestContacts(t *testing.T) {
	for _, c := range data.Contacts {
		name := "size-" + strings.TrimSuffix(c.Size, "D")
		l := named(t, "contact", name)
		if got := one(t, l, "rating", unit.DimCurrent); got != float64(c.Rating) {
			t.Errorf("%s: rating %v, AS39029 has %v", name, got, c.Rating)
		}
		least, most := pair(t, l, "takes", unit.DimArea)
		if least > float64(c.Least.Area()) || most < float64(c.Most.Area()) {
			t.Errorf("%s takes %v to %v mm2, AS39029 %v to %v", name, least, most, c.Least, c.Most)
		}
		if r, ok := c.TestResistance(); ok {
			// written to a tenth of a milliohm
			if got := one(t, l, "resistance", unit.DimResistance); math.Abs(got-float64(r)) > 0.000051 {
				t.Errorf("%s: %v ohm, its test drop makes %v", name, got, float64(r))
			}
		}
		if data.BasisOf(text(l, "source")) != data.FromMemory {
			t.Errorf("%s rests on figures from memory or typical ones and must say so", name)
		}
	}
	// larger contacts carry more, resist less and strip longer, within each kind
	for _, prefix := range []string{"size-", "tab-"} {
		var rating, conductance, strip, area []float64
		for _, p := range of(t, "contact") {
			if !strings.HasPrefix(p.About[0].Text, prefix) {
				continue
			}
			rating = append(rating, one(t, p.Line, "rating", unit.DimCurrent))
			conductance = append(conductance, 1/one(t, p.Line, "resistance", unit.DimResistance))
			strip = append(strip, one(t, p.Line, "strip", unit.DimLength))
			least, most := pair(t, p.Line, "takes", unit.DimArea)
			area = append(area, most)
			if least >= most || text(p.Line, "plating") == "" {
				t.Errorf("%s takes %v to %v mm2", p.About[0].Text, least, most)
			}
		}
		for _, x := range [][]float64{rating, conductance, strip, area} {
			if len(x) < 4 || !rising(x) {
				t.Errorf("%s: %v does not rise", prefix, x)
			}
		}
	}
}

// A wire whose copper fits a contact must fit it with its insulation too, in every family of the library; a seal must be at hand.
func TestContactsTakeTheLibrarysWires(t *testing.T) {
	contacts := of(t, "contact")
	var seals [][2]float64
	for _, s := range of(t, "seal") {
		if strings.HasPrefix(s.About[0].Text, "blank-") { // a plug takes no wire
			continue
		}
		least, most := pair(t, s.Line, "insulation", unit.DimLength)
		if n := len(seals); least >= most || n > 0 && (least >= seals[n-1][1] || most <= seals[n-1][1]) {
			t.Errorf("%s: %v to %v mm leaves a gap or adds nothing", s.About[0].Text, least, most)
		}
		seals = append(seals, [2]float64{least, most})
	}
	for _, w := range of(t, "wire") {
		for _, l := range w.Block {
			if l.Word.Text != "size" {
				continue
			}
			a, outside := float64(size(t, l.About[0]).Area()), one(t, l, "outside", unit.DimLength)
			taken := 0
			for _, c := range contacts {
				least, most := pair(t, c.Line, "takes", unit.DimArea)
				if a < least || a > most {
					continue
				}
				taken++
				thin, thick := pair(t, c.Line, "insulation", unit.DimLength)
				if outside < thin || outside > thick {
					t.Errorf("%s %s, %v mm outside, does not go into %s (%v to %v mm)", w.About[0].Text, l.About[0].Text, outside, c.About[0].Text, thin, thick)
				}
				if !slices.ContainsFunc(seals, func(s [2]float64) bool { return s[0] <= outside && outside <= s[1] }) {
					t.Errorf("no seal for %s %s, %v mm outside", w.About[0].Text, l.About[0].Text, outside)
				}
			}
			if taken == 0 && a < 10 {
				t.Errorf("no contact takes %s %s", w.About[0].Text, l.About[0].Text)
			}
		}
	}
}
