package parts

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness/unit"
	"loomsheet/lang/syntax"
	"loomsheet/lang/token"
)

// part is one statement of the library as the tests look at it: nothing resolved, ranges counted out.
type part struct {
	*syntax.Line
	file string
}

// read gives every statement of the library; a mistake in its shape ends the test.
func read(t *testing.T) []part {
	t.Helper()
	if whole != nil {
		return whole
	}
	var out []part
	for _, f := range Files() {
		tree, mistakes := syntax.Parse(f.Name, []byte(f.Text))
		for _, m := range mistakes {
			t.Errorf("%s at %q: %s. %s", f.Name, f.Text[m.Span.Start:m.Span.End], m.Title, m.Detail)
		}
		for _, l := range tree.Lines {
			out = append(out, part{l, f.Name})
		}
	}
	if t.Failed() {
		t.FailNow()
	}
	whole = out
	return out
}

// whole is the library once read; no test changes it.
var whole []part

// of is the parts of a kind.
func of(t *testing.T, word string) []part {
	t.Helper()
	var out []part
	for _, p := range read(t) {
		if p.Word.Text == word {
			out = append(out, p)
		}
	}
	if len(out) == 0 {
		t.Fatalf("the library has no %s", word)
	}
	return out
}

// named is the part of a kind and name.
func named(t *testing.T, word, name string) *syntax.Line {
	t.Helper()
	for _, p := range of(t, word) {
		if p.About[0].Text == name {
			return p.Line
		}
	}
	t.Fatalf("the library has no %s %s", word, name)
	return nil
}

// values of an option, nil if it is not there.
func values(l *syntax.Line, option string) []syntax.Value {
	for _, o := range l.Options {
		if o.Word.Text == option {
			return o.Values
		}
	}
	return nil
}

func text(l *syntax.Line, option string) string {
	if v := values(l, option); len(v) > 0 {
		return v[0].Text
	}
	return ""
}

// measure is a quantity in the base unit of dim.
func measure(t *testing.T, v syntax.Value, dim unit.Dim) float64 {
	t.Helper()
	q, err := unit.Parse(v.Text)
	if err != nil || q.Dim != dim {
		t.Errorf("%q is not %v: %v", v.Text, dim, err)
	}
	return q.Value
}

// one is the single quantity of an option.
func one(t *testing.T, l *syntax.Line, option string, dim unit.Dim) float64 {
	t.Helper()
	v := values(l, option)
	if len(v) != 1 {
		t.Errorf("%s %s: %s has %d values, want 1", l.Word.Text, l.About[0].Text, option, len(v))
		return 0
	}
	return measure(t, v[0], dim)
}

// pair is least and most.
func pair(t *testing.T, l *syntax.Line, option string, dim unit.Dim) (least, most float64) {
	t.Helper()
	v := values(l, option)
	if len(v) != 2 {
		t.Errorf("%s %s: %s has %d values, want least and most", l.Word.Text, l.About[0].Text, option, len(v))
		return 0, 0
	}
	return measure(t, v[0], dim), measure(t, v[1], dim)
}

func lengths(t *testing.T, l *syntax.Line, option string) []float64 {
	t.Helper()
	var out []float64
	for _, v := range values(l, option) {
		out = append(out, measure(t, v, unit.DimLength))
	}
	if len(out) == 0 {
		t.Errorf("%s %s has no %s", l.Word.Text, l.About[0].Text, option)
	}
	return out
}

func rising(x []float64) bool {
	for i := 1; i < len(x); i++ {
		if !(x[i] > x[i-1]) {
			return false
		}
	}
	return true
}

// size of a wire.
func size(t *testing.T, v syntax.Value) unit.Size {
	t.Helper()
	q, err := unit.Parse(v.Text)
	s, ok := q.Size()
	if err != nil || !ok {
		t.Errorf("%q is no conductor size", v.Text)
	}
	return s
}

// members counts a list of names out: `[1..3]` is 1, 2, 3.
func members(t *testing.T, list []syntax.Value) []string {
	t.Helper()
	var out []string
	for _, v := range list {
		ref, ok := token.ParseRef(v.Text)
		if !ok {
			t.Errorf("%q is no name", v.Text)
			continue
		}
		names := []string{""}
		for _, seg := range ref {
			if seg.Parts == nil {
				for i := range names {
					names[i] += seg.Plain
				}
				continue
			}
			var more []string
			for _, p := range seg.Parts {
				for _, m := range counted(t, p) {
					for _, n := range names {
						more = append(more, n+m)
					}
				}
			}
			names = more
		}
		out = append(out, names...)
	}
	return out
}

func counted(t *testing.T, p token.Part) []string {
	t.Helper()
	if p.Last == "" {
		return []string{p.First}
	}
	a, err1 := strconv.Atoi(p.First)
	b, err2 := strconv.Atoi(p.Last)
	if err1 != nil || err2 != nil || b < a || p.By != "" {
		t.Errorf("the library counts up by one between numbers, not %v", p)
		return nil
	}
	var out []string
	for ; a <= b; a++ {
		out = append(out, strconv.Itoa(a))
	}
	return out
}

// place is across and up; the last unit counts for both.
func place(t *testing.T, v syntax.Value) (x, y float64) {
	t.Helper()
	if v.Kind != syntax.Place || len(v.Items) != 2 {
		t.Errorf("%q is no place on a face", v.Text)
		return 0, 0
	}
	return measure(t, syntax.Value{Text: v.Items[0].Text + " mm"}, unit.DimLength), measure(t, v.Items[1], unit.DimLength)
}

// reference reads a table of published values.
func reference(t *testing.T, file string) []map[string]string {
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
	var out []map[string]string
	for _, row := range rows[1:] {
		rec := map[string]string{}
		for i, name := range rows[0] {
			rec[name] = strings.TrimSpace(row[i])
		}
		out = append(out, rec)
	}
	return out
}
