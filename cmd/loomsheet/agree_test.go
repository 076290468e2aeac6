package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loomsheet/render/benchbook"
	"loomsheet/render/export"
	"loomsheet/render/reviewbook"
	"loomsheet/render/shellbook"
)

// parsed is the files of a build read back: harness.json, and the rows of each table by the names of its columns.
func parsed(t *testing.T, p *printed) (d export.Doc, tables map[string][]map[string]string) {
	t.Helper()
	tables = map[string][]map[string]string{}
	for _, f := range p.files {
		switch name, table := strings.CutPrefix(f.Name, "tables/"); {
		case f.Name == "harness.json":
			if err := json.Unmarshal(f.Data, &d); err != nil {
				t.Fatal(err)
			}
		case table:
			rows, err := csv.NewReader(bytes.NewReader(f.Data)).ReadAll()
			if err != nil || len(rows) == 0 {
				t.Fatal(f.Name, err)
			}
			for _, r := range rows[1:] {
				row := map[string]string{}
				for i, head := range rows[0] {
					row[head] = r[i]
				}
				tables[strings.TrimSuffix(name, ".csv")] = append(tables[strings.TrimSuffix(name, ".csv")], row)
			}
		}
	}
	return d, tables
}

// sheet is the text of a book, taken from its drawing before it is a PDF, with the lines that were asked for already.
type sheet struct {
	t     *testing.T
	name  string
	lines []string
	used  []bool
}

func newSheet(t *testing.T, name, text string) *sheet {
	s := &sheet{t: t, name: name, lines: strings.Split(text, "\n")}
	s.used = make([]bool, len(s.lines))
	return s
}

// row demands a line, not yet asked for, that begins with a word and holds numbers side by side, each as near as its decimals tell.
func (s *sheet) row(begin string, decimals int, numbers ...float64) {
	s.t.Helper()
	half := 0.5*math.Pow10(-decimals) + 1e-6
	for i, l := range s.lines {
		if s.used[i] || !begins(l, begin) {
			continue
		}
		cells := strings.FieldsFunc(strings.ReplaceAll(l, ", ", "  "), func(r rune) bool { return r == ' ' })
		for k := 0; k+len(numbers) <= len(cells); k++ {
			met := true
			for n, want := range numbers {
				got, err := strconv.ParseFloat(cells[k+n], 64)
				met = met && (math.IsNaN(want) || err == nil && math.Abs(got-want) <= half)
			}
			if met {
				s.used[i] = true
				return
			}
		}
	}
	s.t.Errorf("%s: no line of %q holds %v", s.name, begin, numbers)
}

// begins tells whether a line begins with a word, or with so much of it as a narrow column holds.
func begins(line, word string) bool {
	first, _, _ := strings.Cut(line, " ")
	return first == word || len(first) >= 12 && strings.HasPrefix(word, first)
}

// What is printed, what the tables say and what harness.json says are the same numbers.
func TestNumbersAgree(t *testing.T) {
	for _, name := range []string{"mended", "tern", "rook"} {
		t.Run(name, func(t *testing.T) { agree(t, example(t, name)) })
	}
}

func agree(t *testing.T, p *printed) {
	d, tables := parsed(t, p)
	in := p.input()
	review, err := reviewbook.Make(in)
	if err != nil {
		t.Fatal(err)
	}
	shell, err := shellbook.Make(in)
	if err != nil {
		t.Fatal(err)
	}
	sameCuts(t, p, &d, tables["cut-list"])
	sameClips(t, &d, tables["clips"], newSheet(t, "shell", shell.Text()))
	paper := newSheet(t, "review", review.Text())
	sameHeat(t, &d, tables["wires"], paper)
	sameDrops(t, &d, tables["drops"], paper)
}

func same(t *testing.T, row map[string]string, want ...string) {
	t.Helper()
	for i := 0; i+1 < len(want); i += 2 {
		if got, ok := row[want[i]]; !ok || got != want[i+1] {
			t.Errorf("table: %s is %q, harness.json says %q: %v", want[i], got, want[i+1], row)
		}
	}
}

func sameCuts(t *testing.T, p *printed, d *export.Doc, rows []map[string]string) {
	n := 0
	for _, s := range d.Sections {
		book, err := benchbook.Make(p.input(), s.Name)
		if err != nil {
			t.Fatal(err)
		}
		paper := newSheet(t, "bench book of "+s.Name, book.Text())
		for _, c := range s.Cuts {
			if n >= len(rows) {
				t.Fatal("the table has too few cuts")
			}
			same(t, rows[n], "section", s.Name, "wire", c.Wire, "label", c.Label, "length_mm", c.LengthMM.String(), "size", c.Size, "code", c.Code)
			n++
			if c.Label != "" && c.LengthMM > 0 {
				start := fmt.Sprintf("%.0f  %s", float64(c.LengthMM), c.Label)
				i := slices.IndexFunc(paper.lines, func(l string) bool {
					return l == start || strings.HasPrefix(l, start+" ")
				})
				if i < 0 || paper.used[i] {
					t.Errorf("%s: no line begins with %q", paper.name, start)
				} else {
					paper.used[i] = true
				}
			}
		}
	}
	if n != len(rows) || n < 15 {
		t.Errorf("%d cuts, the table has %d", n, len(rows))
	}
}

func sameClips(t *testing.T, d *export.Doc, rows []map[string]string, paper *sheet) {
	n := 0
	for _, r := range d.Runs {
		for _, c := range r.Clips {
			if n >= len(rows) {
				t.Fatal("the table has too few clips")
			}
			same(t, rows[n], "run", r.Run, "mark", c.Mark, "after_mm", c.AfterMM.String(), "x_mm", c.At[0].String(), "y_mm", c.At[1].String(), "z_mm", c.At[2].String(), "bundle_mm", c.BundleMM.String(),
				"size_mm", c.SizeMM.String(), "drill_mm", c.DrillMM.String())
			n++
			if c.Known {
				paper.row(c.Mark, 0, float64(c.AfterMM), float64(c.At[0]), float64(c.At[1]), float64(c.At[2]))
			} else {
				paper.row(c.Mark, 0, float64(c.AfterMM))
			}
		}
	}
	if n != len(rows) || n < 5 {
		t.Errorf("%d clips, the table has %d", n, len(rows))
	}
}

func sameHeat(t *testing.T, d *export.Doc, rows []map[string]string, paper *sheet) {
	if len(rows) != len(d.Wires) || len(rows) < 15 {
		t.Fatalf("%d wires, the table has %d", len(d.Wires), len(rows))
	}
	for i, w := range d.Wires {
		same(t, rows[i], "wire", w.Name, "hottest_c", w.HottestC.String(), "heat_limit_c", w.HeatLimitC.String(), "ambient_c", w.AmbientC.String(), "amps_most_a", w.AmpsMost.String(),
			"ampacity_a", w.Ampacity.String(), "ohm_20c", w.Ohm20.String(), "length_mm", w.LengthMM.String(), "size", w.Size)
		if w.HeatCase == "" {
			continue
		}
		first, _, _ := strings.Cut(w.Name, " ")
		paper.row(first, 1, float64(w.AmbientC), math.NaN(), float64(w.HottestC)) // the amps between may be those that give a peak
	}
}

func sameDrops(t *testing.T, d *export.Doc, rows []map[string]string, paper *sheet) {
	n, fed := 0, 0
	check := func(c *export.Case, starting string, loads []export.Load) {
		for _, l := range loads {
			if n >= len(rows) {
				t.Fatal("the table has too few loads")
			}
			same(t, rows[n], "case", c.Name, "starting", starting, "device", l.Device, "from", l.From, "to", l.To, "volts_v", l.Volts.String(), "amps_a", l.Amps.String(),
				"supply_volts_v", l.SupplyVolts.String(), "feed_drop_v", l.FeedDrop.String(), "return_drop_v", l.ReturnDrop.String())
			n++
			if !l.Fed || starting != "" {
				continue
			}
			fed++
			paper.row(l.Device, 3, float64(l.SupplyVolts), float64(l.Volts), float64(l.FeedDrop), float64(l.ReturnDrop))
		}
	}
	for i := range d.Cases {
		c := &d.Cases[i]
		check(c, "", c.Loads)
		for _, s := range c.Starts {
			check(c, s.Device, s.Loads)
		}
	}
	if n != len(rows) || fed < 2 {
		t.Errorf("%d loads, %d of them fed, the table has %d", n, fed, len(rows))
	}
}
