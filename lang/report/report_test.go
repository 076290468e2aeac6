package report

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/rivo/uniseg"
	"pgregory.net/rapid"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var update = flag.Bool("update", false, "rewrite the expected output")

func span(text, of string) diag.Span {
	i := strings.Index(text, of)
	if i < 0 {
		panic(of)
	}
	return diag.SpanOf("roof.loom", i, i+len(of))
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	name = "testdata/" + name
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s: got\n%s", name, got)
	}
}

func printed(t testing.TB, l diag.List, files Files, o Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := Print(&b, l, files, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

const roof = "harness \"Roof\"\nsection tub\n\ndevice wiper at (1, 2, 3 mm)\n\tclass größe housing sealed-2 {\n  draw 4 A from 1 to 2\n}\ncircuit wiper from box.f2 to wiper.3 colour red\n" +
	"label \"日本語\" circuit wpier\ndevice a {\n  draw 1 A\n  pin x\n  pin y\n}\n"

func sample() (diag.List, Files) {
	var l diag.List
	l.Mistake(span(roof, "3 colour"), "no-such-cavity", "wiper has no cavity 3", "Its housing, sealed-2, has cavities 1 and 2.").
		Point(span(roof, "sealed-2"), "housing chosen here")
	l[0].Span.End = l[0].Span.Start + 1
	l.Mistake(span(roof, "wpier"), "no-such-circuit", "there is no circuit wpier", "").Near([]string{"wiper"})
	l.Mistake(span(roof, "größe"), "unused-class", "no set and no break names the class größe", "Names of classes are free,\nbut one that nothing uses is a slip of the pen.").Near([]string{"a", "b", "c"})
	l.Mistake(span(roof, roof[strings.Index(roof, "device a"):len(roof)-1]), "no-place", "device a has no place", "Write where it sits.")
	l.Mistake(diag.Span{}, "no-sections", "the job has no section", "Write at least one.")
	l.Mistake(diag.SpanOf("library/wires.loom", 3, 5), "odd", "a file that is not at hand", "")
	l.Mistake(span(roof, "\"Roof\"\nsection"), "two-lines", "a stretch over two lines", "").Span.End++
	l.Mistake(diag.SpanOf("roof.loom", len(roof), len(roof)), "at-the-end", "something is missing at the end", "")
	q := func(s string) unit.Quantity {
		x, err := unit.Parse(s)
		if err != nil {
			panic(err)
		}
		return x
	}
	f := l.Finding(span(roof, "circuit wiper"), "drop-too-large", "too many volts are lost on the way to wiper", "The smallest size that passes is 2.5 mm2.", diag.Subject{Kind: "device", Name: "wiper"}).
		Measured(q("4.1 %"), q("3 %"), false)
	f.Case = "night"
	a := l.Finding(span(roof, "label"), "bend-too-tight", "the bend is tight", "", diag.Subject{Kind: "circuit", Name: "wiper", From: "box.f2", To: "wiper.3"}).Measured(q("38 mm"), q("40 mm"), true)
	a.Accepted = &diag.Acceptance{By: "checker 2", Reason: "moulded boot fitted", Until: "D", Span: span(roof, "label")}
	l.Add(diag.Diagnostic{Code: "from-memory", Severity: diag.Note, Title: "a value is from memory", Span: span(roof, "4 A")})
	return l, Files{"roof.loom": []byte(roof)}
}

func TestPrint(t *testing.T) {
	l, files := sample()
	golden(t, "plain.txt", printed(t, l, files, Options{}))
	golden(t, "narrow.txt", printed(t, l, files, Options{Width: 44}))
	colour := printed(t, l, files, Options{Colour: true})
	golden(t, "colour.txt", colour)
	plain := colour
	for _, s := range []string{bold, red, yellow, cyan, faint, "0"} {
		plain = strings.ReplaceAll(plain, "\x1b["+s+"m", "")
	}
	if plain != printed(t, l, files, Options{}) {
		t.Error("colour changes the words")
	}
}

func TestJSON(t *testing.T) {
	l, files := sample()
	var b bytes.Buffer
	if err := JSON(&b, l, files); err != nil {
		t.Fatal(err)
	}
	golden(t, "messages.json", b.String())
}

func TestTheListIsNotChanged(t *testing.T) {
	l, files := sample()
	before := fmt.Sprintf("%+v", l)
	printed(t, l, files, Options{})
	var b bytes.Buffer
	if err := JSON(&b, l, files); err != nil {
		t.Fatal(err)
	}
	if after := fmt.Sprintf("%+v", l); after != before {
		t.Error("the list was put into another order")
	}
}

func TestManyAlikeAreCounted(t *testing.T) {
	text := strings.Repeat("section a\n", 30)
	files := Files{"a": []byte(text), "b": []byte(text)}
	var l diag.List
	for i := range 17 {
		l.Mistake(diag.SpanOf("a", i*10, i*10+7), "twice", "section a is declared twice", "")
	}
	for i := range 5 {
		l.Mistake(diag.SpanOf("b", i*10, i*10+7), "twice", "section a is declared twice", "")
	}
	out := printed(t, l, files, Options{})
	if n := strings.Count(out, "twice:"); n != 10 {
		t.Errorf("%d printed", n)
	}
	if strings.Count(out, "and 12 more like it") != 1 || strings.Count(out, "more like it") != 1 {
		t.Error(out)
	}
	var b bytes.Buffer
	if err := JSON(&b, l, files); err != nil {
		t.Fatal(err)
	}
	var doc Document
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil || len(doc.Messages) != 22 {
		t.Errorf("%d messages, %v", len(doc.Messages), err)
	}
}

func TestPosition(t *testing.T) {
	files := Files{"a": []byte("\ufeffab\r\ncäd\n\nx")}
	for _, c := range []struct{ offset, line, col int }{
		{0, 1, 1}, {3, 1, 1}, {5, 1, 3}, {7, 2, 1}, {8, 2, 2}, {10, 2, 3}, {11, 2, 4}, {12, 3, 1}, {13, 4, 1}, {14, 4, 2}, {99, 4, 2}, {-5, 1, 1},
	} {
		if p, ok := files.Position("a", c.offset); !ok || p != (Position{c.line, c.col}) {
			t.Errorf("%d: %v %v, want %d:%d", c.offset, p, ok, c.line, c.col)
		}
	}
	if _, ok := files.Position("b", 0); ok {
		t.Error("b is not there")
	}
}

func TestNoNumberIsLeftOutOfJSON(t *testing.T) {
	var l diag.List
	l.Finding(diag.Span{}, "a", "b", "c", diag.Subject{}).Measured(unit.Quantity{Value: math.NaN(), Dim: unit.DimVoltage}, unit.Quantity{Value: math.Inf(1)}, false)
	var b bytes.Buffer
	if err := JSON(&b, l, nil); err != nil || !json.Valid(b.Bytes()) || strings.Contains(b.String(), "number") {
		t.Errorf("%v %s", err, b.String())
	}
}

// Whatever stands in a text or a message, nothing that steers a terminal is printed, and no source line is wider than asked for.
func TestAnyMessageIsPrintedCleanly(t *testing.T) {
	pieces := []string{"a", "device ", "\t", "é", "日", "\x1b[2J", "\x07", "\u202e", "\u200b", "\xff", "\r\n", "\n", "👩‍🔧", "e\u0301", strings.Repeat("x", 70), "\r", "\u0085", "\u2028"}
	str := func(t *rapid.T, name string) string {
		return strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 30).Draw(t, name), "")
	}
	rapid.Check(t, func(t *rapid.T) {
		text := str(t, "text")
		start := rapid.IntRange(-1, len(text)+2).Draw(t, "start")
		d := diag.Diagnostic{Code: "code", Severity: diag.Mistake, Title: str(t, "title"), Detail: str(t, "detail"), Suggest: []string{str(t, "near")},
			Span: diag.SpanOf("a"+str(t, "file"), start, rapid.IntRange(-1, len(text)+2).Draw(t, "end")), Case: str(t, "case")}
		files := Files{d.Span.File.String(): []byte(text)}
		w := rapid.SampledFrom([]int{0, 1, 30, 80}).Draw(t, "width")
		var b bytes.Buffer
		if err := Print(&b, diag.List{d}, files, Options{Width: w}); err != nil {
			t.Fatal(err)
		}
		out := b.String()
		if !utf8.ValidString(out) {
			t.Fatalf("unreadable: %q", out)
		}
		for _, r := range out {
			if r != '\n' && (unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp)) {
				t.Fatalf("%U in %q", r, out)
			}
		}
		lines := strings.Split(out, "\n")
		for i, l := range lines {
			if !strings.Contains(l, "~") || strings.Trim(l, " ~") != "" {
				continue
			}
			above := lines[i-1]
			if w >= 30 && uniseg.StringWidth(above) > w+8 {
				t.Fatalf("%d wide: %q", uniseg.StringWidth(above), above)
			}
		}
		var j bytes.Buffer
		if err := JSON(&j, diag.List{d}, files); err != nil || !json.Valid(j.Bytes()) {
			t.Fatalf("%v %s", err, j.String())
		}
	})
}

// The mark under a piece of a line begins where the piece does, whatever stands before it.
func TestMarkStandsUnderItsPiece(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		before := strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"a", " ", "\t", "日", "é", "e\u0301", "Ω"}), 0, 20).Draw(t, "before"), "")
		text := before + "HERE after"
		r := newSource([]byte(text)).rows(len(before), len(before)+4, 0)
		if len(r) != 1 {
			t.Fatal(r)
		}
		shown := r[0].text
		at := uniseg.StringWidth(shown[:strings.Index(shown, "HERE")])
		if r[0].mark != strings.Repeat(" ", at)+"~~~~" {
			t.Fatalf("%q\n%q", shown, r[0].mark)
		}
	})
}

func TestALongLineIsCutRoundItsMark(t *testing.T) {
	text := "section " + strings.Repeat("a ", 500000) + "here " + strings.Repeat("b ", 500000)
	out := printed(t, diag.List{{Code: "c", Title: "t", Span: span(text, "here")}}, Files{"roof.loom": []byte(text)}, Options{})
	if len(out) > 1000 || !strings.Contains(out, "a here b") {
		t.Errorf("%d bytes: %.400s", len(out), out)
	}
	out = printed(t, diag.List{{Code: "c", Title: "t", Span: diag.SpanOf("roof.loom", 0, len(text))}}, Files{"roof.loom": []byte(text)}, Options{})
	if len(out) > 1500 || !strings.Contains(out, "…") {
		t.Errorf("%d bytes: %.400s", len(out), out)
	}
}
