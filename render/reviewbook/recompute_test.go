package reviewbook

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loomsheet/render/page"
)

// figure is a printed number: its value and half of its last digit.
type figure struct{ value, half float64 }

// reads takes a figure off the paper.
func reads(t *testing.T, s string) figure {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("%q is no figure", s)
	}
	d := 0
	if _, frac, ok := strings.Cut(s, "."); ok {
		d = len(frac)
	}
	return figure{v, 0.5 * math.Pow(10, -float64(d))}
}

func (a figure) low() float64  { return a.value - a.half }
func (a figure) high() float64 { return a.value + a.half }

func span(xs ...float64) figure {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range xs {
		lo, hi = math.Min(lo, x), math.Max(hi, x)
	}
	return figure{(lo + hi) / 2, (hi - lo) / 2}
}

func (a figure) plus(b figure) figure  { return figure{a.value + b.value, a.half + b.half} }
func (a figure) minus(b figure) figure { return figure{a.value - b.value, a.half + b.half} }
func (a figure) times(b figure) figure {
	return span(a.low()*b.low(), a.low()*b.high(), a.high()*b.low(), a.high()*b.high())
}
func (a figure) over(b figure) figure {
	return span(a.low()/b.low(), a.low()/b.high(), a.high()/b.low(), a.high()/b.high())
}
func exact(x float64) figure { return figure{x, 0} }

// meets tells whether one true value can stand behind both.
func (a figure) meets(b figure) bool {
	return math.Abs(a.value-b.value) <= a.half+b.half+1e-9
}

const num = `(-?\d+(?:\.\d+)?)`

// chapter is the lines of the pages from the bookmark of one chapter to the next of level 1.
func chapter(t *testing.T, d *page.Doc, title string) []string {
	t.Helper()
	from, to := -1, len(d.Pages)
	for _, m := range d.Bookmarks {
		if m.Level != 1 {
			continue
		}
		if from >= 0 && m.Page > from {
			to = m.Page
			break
		}
		if m.Title == title {
			from = m.Page
		}
	}
	if from < 0 {
		t.Fatalf("no chapter %s", title)
	}
	var out []string
	for _, p := range d.Pages[from:to] {
		out = append(out, p.Lines()...)
	}
	return out
}

var (
	rungLine  = regexp.MustCompile(`^(\d+)  ((?:wire|contact|lug|splice|stud post|switch|joint|fuse|diode|supply) .*?)  (` + num + `|–)  ` + num + `  ` + num + `  (?:` + num + `|–)  ` + num + `$`)
	referLine = regexp.MustCompile(`^(\d+) to (\d+)  lines (\d+) to (\d+) of ladder (\d+)  ` + num + `  (?:` + num + `|–)  ` + num + `$`)
	wireLine  = regexp.MustCompile(num + ` m x ` + num + ` mohm/m\*? at ` + num + ` C$`)
	fromLine  = regexp.MustCompile(`^(Out|Back): .*from ` + num + ` V$`)
	sumLine   = regexp.MustCompile(`Lost out ` + num + ` V, back ` + num + ` V, out and back ` + num + ` V, ` + num + ` % of ` + num + ` V`)
	atLine    = regexp.MustCompile(`give ` + num + ` V; the load draws ` + num + ` A at ` + num + ` V`)
)

// Each line of each ladder can be worked again from what is printed: milliohms x amps = millivolts, the volts go down by them, a
// wire's milliohms follow from length, resistance per metre and temperature, and the sums are those of the lines.
func TestLaddersCanBeWorkedAgain(t *testing.T) {
	text := strings.Join(slices.DeleteFunc(chapter(t, make1(t), "Drop ladders"), func(l string) bool { return strings.HasSuffix(l, ", continued") }), "\n")
	parts := strings.Split(text, "\nLadder ")[1:]
	if len(parts) < 5 {
		t.Fatalf("%d ladders", len(parts))
	}
	rungs, wires, referred := 0, 0, 0
	taken := map[int][]figure{} // millivolts of each line of each ladder
	for n, p := range parts {
		lines := strings.Split(p, "\n")
		head := strings.ReplaceAll(p, "\n", " ")
		sum, at := sumLine.FindStringSubmatch(head), atLine.FindStringSubmatch(head)
		if sum == nil || at == nil {
			t.Fatalf("no sums in ladder %s", lines[0])
		}
		var lost [2]figure
		var volts, ohm figure
		side := -1
		for _, l := range lines {
			if m := fromLine.FindStringSubmatch(l); m != nil {
				side++
				volts = reads(t, m[2])
				continue
			}
			if m := wireLine.FindStringSubmatch(l); m != nil {
				factor := exact(234.5).plus(reads(t, m[3])).over(exact(254.5))
				if got := reads(t, m[1]).times(reads(t, m[2])).times(factor); !got.meets(ohm) {
					t.Errorf("%s gives %v mohm, printed %v", l, got, ohm)
				}
				wires++
				continue
			}
			if m := referLine.FindStringSubmatch(l); m != nil {
				from, _ := strconv.Atoi(m[3])
				to, _ := strconv.Atoi(m[4])
				other, _ := strconv.Atoi(m[5])
				mv, after := reads(t, m[6]), reads(t, m[8])
				if to > len(taken[other]) {
					t.Fatalf("ladder %d: %s: it has %d lines", n+1, l, len(taken[other]))
				}
				var there figure
				for _, x := range taken[other][from-1 : to] {
					there = there.plus(x)
				}
				if !there.meets(mv) {
					t.Errorf("ladder %d: %s: they take %v mV there", n+1, l, there)
				}
				if got := volts.minus(mv.times(exact(0.001))); !got.meets(after) {
					t.Errorf("ladder %d: %s: %v V by hand", n+1, l, got)
				}
				taken[n+1] = append(taken[n+1], taken[other][from-1:to]...)
				volts = after
				lost[side] = lost[side].plus(mv.times(exact(0.001)))
				referred++
				continue
			}
			m := rungLine.FindStringSubmatch(l)
			if m == nil {
				continue
			}
			rungs++
			taken[n+1] = append(taken[n+1], reads(t, m[6]))
			amps, mv, after := reads(t, m[5]), reads(t, m[6]), reads(t, m[8])
			share := m[7]
			if m[3] != "–" {
				ohm = reads(t, m[3])
				if got := ohm.times(amps); !got.meets(mv) {
					t.Errorf("%s: %v mV by hand", l, got)
				}
			}
			if got := volts.minus(mv.times(exact(0.001))); !got.meets(after) {
				t.Errorf("%s: %v V by hand", l, got)
			}
			if all := reads(t, sum[3]); share != "" && math.Abs(all.value) > 0.05 {
				if got := mv.times(exact(0.1)).over(all); !got.meets(reads(t, share)) {
					t.Errorf("%s: %v %% by hand", l, got)
				}
			}
			volts = after
			lost[side] = lost[side].plus(mv.times(exact(0.001)))
		}
		out, back, both := reads(t, sum[1]), reads(t, sum[2]), reads(t, sum[3])
		if !lost[0].meets(out) || !lost[1].meets(back) || !out.plus(back).meets(both) {
			t.Errorf("ladder %s: lines give %v and %v, printed %v, %v, %v", lines[0], lost[0], lost[1], out, back, both)
		}
		if got := reads(t, at[1]).minus(both); !got.meets(reads(t, at[3])) {
			t.Errorf("ladder %s: %v V at the load by hand, printed %s", lines[0], got, at[3])
		}
		if got := both.over(exact(reads(t, sum[5]).value)).times(exact(100)); !got.meets(reads(t, sum[4])) {
			t.Errorf("ladder %s: %v %% by hand, printed %s", lines[0], got, sum[4])
		}
	}
	if rungs < 60 || wires < 15 || referred == 0 {
		t.Errorf("only %d lines, %d wires and %d references were worked", rungs, wires, referred)
	}
}

var (
	worstLine = regexp.MustCompile(`^(\S.*?)  ` + num + `  ` + num + `  ` + num + `  ` + num + `  ` + num + `  (.*)  ` + num + `$`)
	underLine = regexp.MustCompile(num + ` % of ` + num + ` V  at (most|least) ` + num + `;`)
	caseLine  = regexp.MustCompile(`^(\S.*?)  ` + num + `  ` + num + `  ` + num + `  ` + num + `  ` + num + `  ` + num + `  ` + num + `  ` + num + `  ` + num + `, ([a-z-]+)  (met|NOT MET)$`)
)

var startLine = regexp.MustCompile(`^(\S.*?)  (?:` + num + `|–)  ` + num + `  ` + num + `  ` + num + `  ` + num + `  ` + num + `  (?:none set|at least ` + num + `: (met|NOT MET)  ` + num + `)$`)

func TestDropsCanBeWorkedAgain(t *testing.T) {
	worst, all, starts := 0, 0, 0
	var both, room, load figure
	for _, l := range chapter(t, make1(t), "Volts at the loads") {
		if m := caseLine.FindStringSubmatch(l); m != nil {
			all++
			supply, load, out, back, both := reads(t, m[3]), reads(t, m[4]), reads(t, m[5]), reads(t, m[6]), reads(t, m[7])
			if !supply.minus(out).minus(back).meets(load) || !out.plus(back).meets(both) {
				t.Errorf("%s does not add up", l)
			}
			if got := both.over(exact(reads(t, m[9]).value)).times(exact(100)); !got.meets(reads(t, m[8])) {
				t.Errorf("%s: %v %% by hand", l, got)
			}
			if (reads(t, m[10]).value < 0) != (m[12] == "NOT MET") {
				t.Errorf("%s: room and verdict disagree", l)
			}
			continue
		}
		if m := underLine.FindStringSubmatch(l); m != nil {
			if got := both.over(exact(reads(t, m[2]).value)).times(exact(100)); !got.meets(reads(t, m[1])) {
				t.Errorf("%s: %v %% by hand", l, got)
			}
			got := reads(t, m[4]).minus(both)
			if m[3] == "least" {
				got = load.minus(reads(t, m[4]))
			}
			if !got.meets(room) {
				t.Errorf("%s: room %v by hand, printed %v", l, got, room)
			}
			continue
		}
		if m := startLine.FindStringSubmatch(l); m != nil {
			starts++
			load := reads(t, m[3])
			if !reads(t, m[5]).minus(reads(t, m[6])).minus(reads(t, m[7])).meets(load) {
				t.Errorf("%s does not add up", l)
			}
			if m[8] != "" && !load.minus(exact(reads(t, m[8]).value)).meets(reads(t, m[10])) {
				t.Errorf("%s: room %v by hand", l, load.minus(reads(t, m[8])))
			}
			continue
		}
		if m := worstLine.FindStringSubmatch(l); m != nil {
			worst++
			supply, out, back := reads(t, m[2]), reads(t, m[4]), reads(t, m[5])
			load, both, room = reads(t, m[3]), reads(t, m[6]), reads(t, m[8])
			if !supply.minus(out).minus(back).meets(load) || !out.plus(back).meets(both) {
				t.Errorf("%s does not add up", l)
			}
		}
	}
	if worst < 6 || all < 9 || starts < 4 {
		t.Errorf("only %d worst lines, %d of all cases and %d of starts were worked", worst, all, starts)
	}
}

var (
	heatLine  = regexp.MustCompile(`^(\S.*?)  (\S+)  ` + num + `  ` + num + `  ` + num + `  ` + num + `\*?  .*amps (\d+)$`)
	limitLine = regexp.MustCompile(`(\d+) wires?  (?:as ` + num + `  )?of ` + num + `  .*rise (\d+)$`)
)

// The shares in the ampacity table follow from its own columns.
func TestAmpacityCanBeWorkedAgain(t *testing.T) {
	n := 0
	var row []string
	for _, l := range chapter(t, make1(t), "Ampacity and heat") {
		if m := heatLine.FindStringSubmatch(l); m != nil {
			row = m
			continue
		}
		m := limitLine.FindStringSubmatch(l)
		if m == nil || row == nil {
			continue
		}
		n++
		air, amps, hot, may := reads(t, row[3]), reads(t, row[4]), reads(t, row[5]), reads(t, row[6])
		if m[2] != "" {
			amps = reads(t, m[2])
		}
		limit := reads(t, m[3])
		if got := amps.over(may).times(exact(100)); !got.meets(reads(t, row[7])) {
			t.Errorf("%v: %v %% of the amps by hand", row[0], got)
		}
		if got := hot.minus(air).over(limit.minus(air)).times(exact(100)); !got.meets(reads(t, m[4])) {
			t.Errorf("%v: %v %% of the rise by hand", row[0], got)
		}
		row = nil
	}
	if n < 12 {
		t.Errorf("only %d rows were worked", n)
	}
}

// The worked examples say what their own arithmetic gives.
func TestWorkedExamples(t *testing.T) {
	text := strings.Join(chapter(t, make1(t), "How to check a line by hand"), "\n")
	one := func(expr string) []string {
		m := regexp.MustCompile(expr).FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("nothing like %s", expr)
		}
		return m
	}
	check := func(what string, by figure, printed string) {
		if !by.meets(reads(t, printed)) {
			t.Errorf("%s: %v by hand, printed %s", what, by, printed)
		}
	}
	m := one(`\(234\.5 \+ ` + num + `\) / 254\.5  ` + num + `\n`)
	check("factor", exact(234.5).plus(reads(t, m[1])).over(exact(254.5)), m[2])
	m = one(`Resistance  ` + num + ` x ` + num + ` x ` + num + `  ` + num + ` mohm`)
	check("resistance", reads(t, m[1]).times(reads(t, m[2])).times(reads(t, m[3])), m[4])
	m = one(`Drop  ` + num + ` x ` + num + `  ` + num + ` mV`)
	check("drop", reads(t, m[1]).times(reads(t, m[2])), m[3])
	m = one(`At the load  ` + num + ` - ` + num + ` - ` + num + `  ` + num + ` V`)
	check("volts", reads(t, m[1]).minus(reads(t, m[2])).minus(reads(t, m[3])), m[4])
	m = one(`Heat of this wire  ` + num + `² x ` + num + ` / 1000 x \(234\.5 \+ ` + num + `\) / 254\.5  ` + num + ` W/m`)
	i := reads(t, m[1])
	watts := i.times(i).times(reads(t, m[2])).times(exact(0.001)).times(exact(234.5).plus(reads(t, m[3]))).over(exact(254.5))
	check("heat", watts, m[4])
	m = one(`Radiation  pi x ` + num + ` / 1000 x ` + num + ` x 5\.670374e-8 x \(` + num + `\^4 - ` + num + `\^4\)  ` + num + ` W/m`)
	fourth := func(f figure) figure { return f.times(f).times(f.times(f)) }
	rad := reads(t, m[1]).times(exact(math.Pi * 5.670374e-11)).times(exact(reads(t, m[2]).value)).times(fourth(reads(t, m[3])).minus(fourth(reads(t, m[4]))))
	check("radiation", rad, m[5])
	all := one(`added up  ` + num + ` W/m`)
	left := one(`Convection  .*?` + num + ` W/m`)
	check("convection", reads(t, all[1]).minus(reads(t, m[5])), left[1])
}
