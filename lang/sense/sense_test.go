package sense

import (
	"fmt"
	"strings"
	"testing"

	"loomsheet/harness/diag"
	"loomsheet/lang/syntax"
)

// read checks a text and takes its short forms apart.
func read(t *testing.T, text string) (*Reader, []*Stmt, []string) {
	t.Helper()
	file, _ := syntax.Parse("a", []byte(text))
	r := NewReader()
	lines, ghosts := r.Lines(file.Lines)
	var out []*Stmt
	for _, s := range lines {
		out = append(out, r.Repeat(s)...)
	}
	return r, out, ghosts
}

// shape writes statements in short: device[a] at[(1, 2, 3 mm)]{pin[x]}.
func shape(ss []*Stmt) string {
	values := func(vs []syntax.Value) string {
		var out []string
		for _, v := range vs {
			out = append(out, v.Text)
		}
		return "[" + strings.Join(out, "|") + "]"
	}
	var out []string
	for _, s := range ss {
		b := s.Word.Name + values(s.About)
		for _, o := range s.Opts {
			b += " " + o.Name + values(o.Values)
		}
		if len(s.Block) > 0 {
			b += "{" + shape(s.Block) + "}"
		}
		out = append(out, b)
	}
	return strings.Join(out, "; ")
}

func told(t *testing.T, text string, ds diag.List) string {
	t.Helper()
	var out []string
	for _, d := range ds {
		if d.Title == "" || d.Detail == "" && len(d.Suggest) == 0 || d.Severity != diag.Mistake {
			t.Errorf("%+v", d)
		}
		out = append(out, d.Code+" at "+text[d.Span.Start:d.Span.End])
	}
	return strings.Join(out, ", ")
}

func TestShortForms(t *testing.T) {
	for _, c := range []struct{ name, text, want, mistakes string }{
		{"plain", "section tub", "section[tub]", ""},
		{"a range", "section s[1..3]", "section[s1]; section[s2]; section[s3]", ""},
		{"a list", "section a, b", "section[a]; section[b]", ""},
		{"backwards", "section s[3..1]", "section[s3]; section[s2]; section[s1]", ""},
		{"with a step", "section s[1..7 by 3]", "section[s1]; section[s4]; section[s7]", ""},
		{"zeros in front", "section s[08..10]", "section[s08]; section[s09]; section[s10]", ""},
		{"letters", "section s-[a..c]", "section[s-a]; section[s-b]; section[s-c]", ""},
		{"mixed", "section s[1..2, x]", "section[s1]; section[s2]; section[sx]", ""},
		{"in step", "device d[1..2] at (0, 0, 0 mm) housing h[3..4]", "device[d1] at[(0, 0, 0 mm)] housing[h3]; device[d2] at[(0, 0, 0 mm)] housing[h4]", ""},
		{"in step with a list", "device a, b at (0, 0, 0 mm) housing h[3..4]", "device[a] at[(0, 0, 0 mm)] housing[h3]; device[b] at[(0, 0, 0 mm)] housing[h4]", ""},
		{"a list elsewhere", "set drop to 3 % class c[1..3]", "set[drop] to[3 %] class[c1|c2|c3]", ""},
		{"in a block", "device d[1..2] at (0, 0, 0 mm) {\n  pin p, q\n}", "device[d1] at[(0, 0, 0 mm)]{pin[p]; pin[q]}; device[d2] at[(0, 0, 0 mm)]{pin[p]; pin[q]}", ""},
		{"cavities", "device d at (0, 0, 0 mm) {\n  pin a, b cavity [1..2]\n}", "device[d] at[(0, 0, 0 mm)]{pin[a] cavity[1]; pin[b] cavity[2]}", ""},
		{"options in the block", "device d {\n  at (0, 0, 0 mm)\n}", "device[d] at[(0, 0, 0 mm)]", ""},
		{"out of step", "device d[1..2] at (0, 0, 0 mm) housing h[1..3]", "device[d1] at[(0, 0, 0 mm)]; device[d2] at[(0, 0, 0 mm)]", "out-of-step at h[1..3], out-of-step at h[1..3]"},
		{"cavities out of step", "device d at (0, 0, 0 mm) {\n  pin a, b cavity [1..3]\n}", "device[d] at[(0, 0, 0 mm)]{pin[a]; pin[b]}", "out-of-step at cavity [1..3]"},
		{"two ranges", "section s[1..2]-[1..2]", "", "two-ranges at s[1..2]-[1..2]"},
		{"too long", "section s[1..1000000000]", "", "range-too-long at s[1..1000000000]"},
		{"past all numbers", "section s[1..99999999999999999999]", "", "range-too-long at s[1..99999999999999999999]"},
		{"no step", "section s[1..5 by 0]", "", "range-unclear at s[1..5 by 0]"},
		{"a step past the end", "section s[1..5 by 9223372036854775807]", "section[s1]", ""},
		{"not countable", "section s[a..Z]", "", "range-unclear at s[a..Z]"},
		{"exponent", "section s[1..1e9]", "", "range-unclear at s[1..1e9]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, ss, _ := read(t, c.text)
			if got := shape(ss); got != c.want {
				t.Errorf("%s\nwant %s", got, c.want)
			}
			if got := told(t, c.text, r.Msgs); got != c.mistakes {
				t.Errorf("says %s\nwant %s", got, c.mistakes)
			}
		})
	}
}

func TestChecks(t *testing.T) {
	long, other := strings.Repeat("x", 1<<16), strings.Repeat("é", 100)
	for _, c := range []struct{ text, want string }{
		{"sektion tub", "no-such-word at sektion"},
		{"earth tub", "no-such-word at earth"},
		{"draw 4 A from 1 to 2", "word-misplaced at draw"},
		{"section tub kolour red", "no-such-option at kolour"},
		{"section tub { coil 1 A from a to b }", "word-misplaced at coil"},
		{"device d at (0, 0, 0 mm) { drow 4 A from 1 to 2 }", "no-such-line at drow"},
		{"point p", "option-missing at point p"},
		{"point p at (0, 0, 0 mm) at (1, 0, 0 mm)", "option-twice at at (1, 0, 0 mm)"},
		{"zone z air 30 mm", "wrong-unit at 30 mm"},
		{"zone z air 30", "unit-missing at 30"},
		{"zone z air hot", "wrong-value at hot"},
		{"zone z air \"30 C\"", "wrong-value at \"30 C\""},
		{"zone z air (0, 0, 0 mm)", "wrong-value at (0, 0, 0 mm)"},
		{"zone z air -274 C", "below-zero at -274 C"},
		{"zone z air -273 C", ""},
		{"zone z air 30 C, 40 C", "several-values at 30 C, 40 C"},
		{"section \"tub\"", "name-quoted at \"tub\""},
		{"section a.b", "name-with-dot at a.b"},
		{"section " + strings.Repeat("x", 80), ""},
		{"section " + strings.Repeat("x", 81), "name-too-long at " + strings.Repeat("x", 81)},
		{"section " + other, "name-too-long at " + other},
		{"zone z air " + other, "wrong-value at " + other},
		{"section " + long, "name-too-long at " + long},
		{long + " a", "no-such-word at " + long},
		{"section a " + long + " b", "no-such-option at " + long},
		{other + " a", "no-such-word at " + other},
		{"section a " + other + " b", "no-such-option at " + other},
		{"cable c holds a, b as " + other, "no-such-choice at " + other},
		{"run r from a to b length 1e3", "number-unclear at 1e3"},
		{"run r from a to b length NaN", "number-unclear at NaN"},
		{"run r from a to b length -1 mm", "below-zero at -1 mm"},
		{"run r from a to b length 0 mm", ""}, // it is zero, which the resolver tells
		{"run r from a to b length 1000001 mm", "too-much at 1000001 mm"},
		{"run r from a to b length " + strings.Repeat("9", 400) + " mm", "number-unclear at " + strings.Repeat("9", 400) + " mm"},
		{"run r from a to b length 0." + strings.Repeat("0", 400) + "1 mm", "number-unclear at 0." + strings.Repeat("0", 400) + "1 mm"},
		{"point p at (0, 0)", "place-unclear at (0, 0)"},
		{"point p at (0, 0, 5)", "unit-missing at (0, 0, 5)"},
		{"point p at (0, 0, 5 A)", "wrong-unit at 5 A"},
		{"point p at (0, 1000001, 5 mm)", "too-much at 1000001"},
		{"point p at (0, 1001, 5 m)", "too-much at 1001"},
		{"point p at (0, " + strings.Repeat("9", 500) + ", 5 mm)", "place-unclear at " + strings.Repeat("9", 500)},
	} {
		r, _, _ := read(t, c.text)
		if got := told(t, c.text, r.Msgs); got != c.want {
			t.Errorf("%.60s: says %.200s, want %.200s", c.text, got, c.want)
		}
		for _, d := range r.Msgs {
			if len(d.Title)+len(d.Detail) > 1000 {
				t.Errorf("%.60s: %s has %d bytes", c.text, d.Code, len(d.Title)+len(d.Detail))
			}
		}
	}
}

// What cannot be made out declares its names as ghosts, and nothing is said twice.
func TestLostLines(t *testing.T) {
	for _, c := range []struct{ text, ghosts, mistakes string }{
		{"sektion a, b", "a|b", "no-such-word at sektion"},
		{"point p at (1, 2", "", "place-unclear at (1, 2"}, // the resolver drops it: the line is torn
		{"zone z air 3 Volts", "", ""},
		{"section tub }", "", ""},
	} {
		r, _, ghosts := read(t, c.text)
		if got := strings.Join(ghosts, "|"); got != c.ghosts {
			t.Errorf("%s: ghosts %s, want %s", c.text, got, c.ghosts)
		}
		if got := told(t, c.text, r.Msgs); got != c.mistakes {
			t.Errorf("%s: says %s, want %s", c.text, got, c.mistakes)
		}
	}
}

// use fills in a template; what it gives is taken apart.
func use(t *testing.T, text string) (r *Reader, out []*Stmt) {
	t.Helper()
	file, msgs := syntax.Parse("a", []byte(text))
	if len(msgs) > 0 {
		t.Fatal(msgs)
	}
	r = NewReader()
	tm := r.Template(file.Lines[0])
	lines, _ := r.Lines(file.Lines[1:])
	for _, u := range lines {
		made, _ := r.Use(u, tm)
		for _, m := range made {
			out = append(out, r.Repeat(m)...)
		}
	}
	return r, out
}

func TestTemplates(t *testing.T) {
	for _, c := range []struct{ name, text, want, mistakes string }{
		{"two uses", "template t takes n { section s-[n] }\nuse t n a\nuse t n 2", "section[s-a]; section[s-2]", ""},
		{"a place", "template t takes p { point x at [p] }\nuse t p (1, 2, 3 mm)", "point[x] at[(1, 2, 3 mm)]", ""},
		{"a quantity", "template t takes h { zone z air [h] }\nuse t h 40 C", "zone[z] air[40 C]", ""},
		{"a range inside", "template t takes n { section s-[n]-[1..2] }\nuse t n a", "section[s-a-1]; section[s-a-2]", ""},
		{"a wrong value", "template t takes h { zone z air [h] }\nuse t h 40 V", "zone[z]", "wrong-unit at 40 V"},
		{"a text in a name", "template t takes n { section s-[n] }\nuse t n \"a b\"", "section[]", "wrong-value at \"a b\""},
		{"one missing", "template t takes n, m { section s-[n]-[m] }\nuse t n a", "", "option-missing at use t n a"},
		{"one too many", "template t takes n { section s-[n] }\nuse t n a m b", "", "no-such-parameter at m"},
		{"a slip", "template t takes n { section s-[m] }\nuse t n a", "section[]", "no-such-parameter at s-[m]"},
		{"in itself", "template t takes n { use t n [n] }\nuse t n 1", "", "word-misplaced at use"},
		{"a template in it", "template t takes n { template u takes m { section [m] } }\nuse t n 1", "", "word-misplaced at template"},
		{"an include in it", "template t takes n { include \"x.loom\" }\nuse t n 1", "", "word-misplaced at include"},
		{"far too long", "template t takes n { section " + strings.Repeat("[n]", 400) + " }\nuse t n abcdefgh", "section[]", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, ss := use(t, c.text)
			if got := shape(ss); got != c.want {
				t.Errorf("%s\nwant %s", got, c.want)
			}
			if got := told(t, c.text, r.Msgs); got != c.mistakes {
				t.Errorf("says %s\nwant %s", got, c.mistakes)
			}
		})
	}
}

// Short forms stand for so many lines and no more, which is told once.
func TestBudget(t *testing.T) {
	text := "device d[1..9999] at (0, 0, 0 mm) {\n" + strings.Repeat("  pin p stud M5\n", 100) + "}\n"
	r, ss, _ := read(t, text+"section s\n"+text)
	lines := 0
	for _, s := range ss {
		lines += 1 + len(s.Block)
	}
	if got := told(t, text+"section s\n"+text, r.Msgs); !strings.HasPrefix(got, "too-much at ") || strings.Count(got, "too-much") != 1 || lines > Budget {
		t.Errorf("%d lines, says %.300s", lines, got)
	}
	if !strings.Contains(r.Msgs[0].Title, fmt.Sprint(Budget)) {
		t.Error(r.Msgs[0].Title)
	}
}

// No two members of a range share a list: what is changed in one is not changed in another.
func TestMembersAreTheirOwn(t *testing.T) {
	_, ss, _ := read(t, "device d[1..2] at (0, 0, 0 mm) class a { pin p }")
	ss[0].Opts[1].Values[0].Text, ss[0].Block[0].About[0].Text = "changed", "changed"
	if got := shape(ss[1:]); got != "device[d2] at[(0, 0, 0 mm)] class[a]{pin[p]}" {
		t.Error(got)
	}
}

func TestShort(t *testing.T) {
	for _, s := range []string{strings.Repeat("é", 40), strings.Repeat("\u0301", 40), "a" + strings.Repeat("\U0001f600", 40), strings.Repeat("x", 1<<20), strings.Repeat("\xff", 99)} {
		if got := short(s); len(got) > 40 || !strings.HasSuffix(got, "..") {
			t.Errorf("%.20q: %q", s, got)
		}
	}
}
