package token

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

func brief(r Result) string {
	var out []string
	for _, t := range r.Tokens {
		switch t.Kind {
		case EOL:
			out = append(out, ";")
		case Name, Ref, Quantity, Text, Illegal:
			out = append(out, t.Kind.String()[:1]+"<"+t.Text+">")
		default:
			out = append(out, t.Text)
		}
	}
	return strings.Join(out, " ")
}

func TestLex(t *testing.T) {
	top := func(s string) bool { return s == "break" || s == "device" }
	for _, c := range []struct{ text, want string }{
		// names and references
		{"pump 87a red/white M8 1.5/2 54g 0-1 s_x", "N<pump> N<87a> N<red/white> N<M8> R<1.5/2> Q<54g> N<0-1> N<s_x> ;"},
		{"inj[1..4].1 ecu.a.7 ws-[corner] [place] a.[1, 2,3]", "R<inj[1..4].1> R<ecu.a.7> R<ws-[corner]> R<[place]> R<a.[1, 2, 3]> ;"},
		{"[1 .. 7  by  2] [grey,grey/black]", "R<[1..7 by 2]> R<[grey, grey/black]> ;"},
		{"relais-für.größe Ω1 é", "R<relais-für.größe> N<Ω1> N<é> ;"},
		// quantities: number and unit fill a chunk, apart or together
		{"4 2.5 mm2 20 AWG -5 C 3% 5mm 0.4s", "Q<4> Q<2.5 mm2> Q<20 AWG> Q<-5 C> Q<3%> Q<5mm> Q<0.4s> ;"},
		{"85 °C 2.5 mm² 5 Ω 5 mΩ/m 10 µs −5 C 5\u00a0mm", "Q<85 °C> Q<2.5 mm²> Q<5 Ω> Q<5 mΩ/m> Q<10 µs> Q<−5 C> Q<5 mm> ;"},
		{"0000 AWG 12 mohm/m 12 mohm 9 Nm 0.15 W/mK", "Q<0000 AWG> Q<12 mohm/m> Q<12 mohm> Q<9 Nm> Q<0.15 W/mK> ;"},
		{"1 stud 2 mmx 3 m-x 4 A/b", "Q<1> N<stud> Q<2> N<mmx> Q<3> N<m-x> Q<4> N<A/b> ;"},
		{"(0,-640,320 mm)", "( Q<0> , I<-640,320 mm> ) ;"},
		{"(0, -640,-320 mm)", "( Q<0> , Q<-640> , Q<-320 mm> ) ;"},
		{"5\nmm", "Q<5> ; N<mm> ;"},
		{"1..4", "I<1..4> ;"},
		// line ends
		{"a b\n\n\nc\r\nd", "N<a> N<b> ; N<c> ; N<d> ;"},
		{"a,\n\n # x\n b", "N<a> , N<b> ;"},
		{"a {\n b\n}\n", "N<a> { N<b> ; } ;"},
		{"a { b }", "N<a> { N<b> ; } ;"},
		{"a { }", "N<a> { } ;"},
		{"a { b { c } }", "N<a> { N<b> { N<c> ; } ; } ;"},
		{"a,\nbreak b", "N<a> , ; N<break> N<b> ;"},
		{"a,\n break b", "N<a> , N<break> N<b> ;"},
		{"a,\nbreaker b", "N<a> , N<breaker> N<b> ;"},
		{"a,", "N<a> , ;"},
		{"(1,\n2 mm)", "( Q<1> , Q<2 mm> ) ;"},
		{"(1\n,2)", "( Q<1> ; , Q<2> ) ;"},
		{"x[1,\n  2] y", "R<x[1, 2]> N<y> ;"},
		{"\ufeffa", "N<a> ;"},
		{"", ""},
		{"# only\n", ""},
		// text
		{`"a # { b" ""`, "T<a # { b> T<> ;"},
		{"\"a\nb", "I<\"a> ; N<b> ;"},
		{"\"a {\nb", "I<\"a> { N<b> ;"},
		// what cannot be read
		{"a→b + - ; pin=2", "I<a→b> I<+> I<-> I<;> I<pin=2> ;"},
		{"pu\u200bmp x\x00 \xff", "I<pu\u200bmp> I<x\x00> I<\xff> ;"},
		{".5 5. a..b -x _x [] [1..] [a b] ]", "I<.5> I<5.> I<a..b> I<-x> I<_x> I<[]> I<[1..]> I<[a b]> I<]> ;"},
		{"x 5\" y", "N<x> I<5\"> N<y> ;"},
	} {
		got := brief(Lex("a", []byte(c.text), top))
		if got != c.want {
			t.Errorf("%q\n got %s\nwant %s", c.text, got, c.want)
		}
	}
}

func TestRangeEndsWithItsLine(t *testing.T) {
	r := Lex("a", []byte("x[1\ny z\n"), nil)
	if got := brief(r); got != "I<x[1> ; N<y> N<z> ;" || len(r.Mistakes) != 1 || r.Mistakes[0].Span.Start != 1 {
		t.Errorf("%s %v", got, r.Mistakes)
	}
}

func TestEveryIllegalTokenIsReported(t *testing.T) {
	for _, s := range []string{"a;b", "\u202e", "\"x", "2,5", "5\"", "[", "]", "x[", "+", "\xff", "\x1b[31m", "“x”", "a\u2028b", ".5", "\u00adx", "a\ufeff", "\U000e0041"} {
		r := Lex("a", []byte("w "+s), nil)
		n := 0
		for _, tok := range r.Tokens {
			if tok.Kind == Illegal {
				n++
			}
		}
		if n == 0 || len(r.Mistakes) != n {
			t.Errorf("%q: %d illegal, mistakes %v", s, n, r.Mistakes)
		}
	}
}

func TestHiddenCharactersInRemarksAndTextAreReported(t *testing.T) {
	for text, want := range map[string]string{"# a\u202eb": "invisible-character", "\"a\u200bb\"": "invisible-character", "# \xfe": "not-utf8", "\"\x07\"": "control-character", "\"a\tb\"": "control-character"} {
		r := Lex("a", []byte(text+"\n"), nil)
		if len(r.Mistakes) != 1 || r.Mistakes[0].Code != want {
			t.Errorf("%q: %v", text, r.Mistakes)
		}
	}
	if r := Lex("a", []byte("#\ta tab\n\tb\tc\n"), nil); len(r.Mistakes) != 0 {
		t.Error(r.Mistakes)
	}
}

// A file whose lines end with a carriage return alone is told of once, and read line by line all the same.
func TestBareReturns(t *testing.T) {
	for text, want := range map[string]string{"a b\rc # d\re \"f\rg": "N<a> N<b> ; N<c> ; N<e> I<\"f> ; N<g> ;", "a b\r\r\nc": "N<a> N<b> ; N<c> ;", "a,\rb": "N<a> , N<b> ;"} {
		r := Lex("a", []byte(text), nil)
		n := 0
		for _, m := range r.Mistakes {
			if m.Code == "control-character" {
				n++
			}
		}
		if got := brief(r); got != want || n != 1 {
			t.Errorf("%q: %s, %d told", text, got, n)
		}
	}
}

// What other programs take for a number is told in one message, with what to write; a pin may be called so.
func TestNumbersOfOtherPrograms(t *testing.T) {
	for text, want := range map[string]string{
		"1e3 mm": "number-unclear", "1E-3mm2 ": "", "2.5e+3 A": "number-unclear", "0x1p3 V": "number-unclear", "0x10 V": "number-unclear", "1_000 ohm": "number-unclear",
		"NaN mm": "number-unclear", "inf A": "number-unclear", "Infinity C": "number-unclear", "1e3": "", "inf": "", "nan, b": "", "1e3 stud": "",
		"1,000 mm": "decimal-comma", "1.000,5 mm": "decimal-comma", "5. mm": "bad-dot", "\uff15 mm": "bad-name", "+Inf V": "bad-name", "--5 mm": "bad-name", "\u05e0\u05d5\u05e8": "bad-name", "a-\u0627.1": "bad-name",
	} {
		r := Lex("a", []byte(text), nil)
		if got := codes(r); got != want {
			t.Errorf("%q: %s, want %q", text, got, want)
		}
	}
	for text, want := range map[string]string{
		"1,000 mm":     "For a number of thousands write 1000 mm, for one with a fraction 1.000 mm; in a list a blank follows the comma: 1, 000 mm.",
		"2,5 mm2":      "For a number write 2.5 mm2; in a list a blank follows the comma: 2, 5 mm2.",
		"0,250 A":      "For a number write 0.250 A; in a list a blank follows the comma: 0, 250 A.",
		"1.000,5 mm":   "A number has one point, before its fraction, and no mark between its thousands: 1500.5 mm. In a list a blank follows the comma: 1.000, 5 mm.",
		"0,640,320 mm": "In a list a blank follows each comma: write 0, 640, 320 mm.",
	} {
		if r := Lex("a", []byte(text), nil); len(r.Mistakes) != 1 || r.Mistakes[0].Detail != want {
			t.Errorf("%q: %v", text, r.Mistakes)
		}
	}
}

func codes(r Result) string {
	var out []string
	for _, m := range r.Mistakes {
		out = append(out, m.Code)
	}
	return strings.Join(out, " ")
}

// A text beyond any use costs a bounded number of tokens and messages, and no message is longer than a person reads.
func TestTextsBeyondAnyUse(t *testing.T) {
	const m = 1 << 17
	for name, text := range map[string]string{
		"open brackets": strings.Repeat("[", m), "commas": strings.Repeat(",", mostTokens+m), "nothing readable": strings.Repeat("\xff\n", m), "bent quotes": strings.Repeat("“", m),
		"decimal commas": strings.Repeat("9,", m) + "9", "inches": strings.Repeat("9", m) + "\"", "glued": strings.Repeat("x", m) + "#", "accents": "a" + strings.Repeat("\u0301", m),
		"one unreadable": strings.Repeat("\xff", m), "a bad name": strings.Repeat("é+", m), "dots": strings.Repeat("a.", m), "a range": "a[" + strings.Repeat("b c ", m) + "]",
		"no range": "a[" + strings.Repeat("b", m), "exponents": "1e" + strings.Repeat("1", m) + " mm", "returns": strings.Repeat("a\r", m),
	} {
		r := Lex("a", []byte(text), nil)
		if len(r.Tokens) > mostTokens+2 || len(r.Mistakes) > mostMistakes {
			t.Errorf("%s: %d tokens, %d mistakes", name, len(r.Tokens), len(r.Mistakes))
		}
		for _, d := range r.Mistakes {
			if len(d.Title)+len(d.Detail) > 1000 {
				t.Errorf("%s: %s has %d bytes", name, d.Code, len(d.Title)+len(d.Detail))
			}
		}
	}
}

func TestShorten(t *testing.T) {
	for text, want := range map[string]string{"": "", "a  b\n c": "a b c", strings.Repeat("x", 40): strings.Repeat("x", 40), strings.Repeat("é", 41): strings.Repeat("é", 39) + "…",
		strings.Repeat(" ", 1000) + "x": "…", strings.Repeat("\xff", 1000): strings.Repeat("\ufffd", 39) + "…"} {
		if got := Shorten(text); got != want {
			t.Errorf("%.50q: %q, want %q", text, got, want)
		}
	}
}

func TestComments(t *testing.T) {
	r := Lex("a", []byte("# one \r\na b # two\n  # three"), nil)
	if len(r.Comments) != 3 || !r.Comments[0].Own || r.Comments[1].Own || !r.Comments[2].Own || r.Comments[0].Text != " one" || r.Comments[1].Text != " two" {
		t.Errorf("%+v", r.Comments)
	}
}

func TestIndent(t *testing.T) {
	r := Lex("a", []byte("\ufeffa b\n\t c d\n"), nil)
	if c := r.Tokens[3]; !c.First || c.Indent != 2 || !r.Tokens[0].First || r.Tokens[0].Indent != 0 || r.Tokens[1].First {
		t.Errorf("%+v", r.Tokens)
	}
}

// Tokens and comments lie in order inside the text, and every number with a known unit that is read as one can be converted.
func TestAnyTextIsCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SliceOfN(rapid.SampledFrom([]string{"a", "1", ".", "..", "[", "]", ",", " ", "\n", "\r\n", "{", "}", "(", ")", "\"", "#", "mm", "A", "%", "°C", "-", "−", "\xff", "\u200b", "by", "→"}), 0, 40).Draw(t, "text")
		s := strings.Join(text, "")
		r := Lex("a", []byte(s), nil)
		last := 0
		for i, tok := range r.Tokens {
			if tok.Start < last && tok.Kind != EOL || tok.End < tok.Start || tok.End > len(s) {
				t.Fatalf("token %d %+v in %q", i, tok, s)
			}
			last = max(last, tok.End)
			if tok.Kind == EOL && (i == 0 || r.Tokens[i-1].Kind == EOL) {
				t.Fatalf("two line ends in %q: %v", s, r.Tokens)
			}
			switch tok.Kind {
			case Quantity:
				if q, err := unit.Parse(tok.Text); err != nil && !(q.Dim == unit.DimNone && strings.Contains(err.Error(), "gauge")) {
					t.Fatalf("%q: %v", tok.Text, err)
				}
			case Ref:
				ref, ok := ParseRef(tok.Text)
				if !ok || ref.String() != tok.Text {
					t.Fatalf("%q does not come apart: %v", tok.Text, ref)
				}
			}
			if tok.Kind != Illegal && !utf8.ValidString(tok.Text) {
				t.Fatalf("unreadable %q", tok.Text)
			}
		}
		for _, m := range r.Mistakes {
			if m.Span.Start < 0 || int(m.Span.End) > len(s) || m.Span.End < m.Span.Start || m.Detail == "" {
				t.Fatalf("%+v in %q", m, s)
			}
		}
	})
}

func TestParseRef(t *testing.T) {
	ref, ok := ParseRef("inj[1..7 by 2, x].a")
	if !ok || len(ref) != 3 || ref[0].Plain != "inj" || ref[2].Plain != ".a" || ref[1].Parts[0] != (Part{"1", "7", "2"}) || ref[1].Parts[1] != (Part{First: "x"}) {
		t.Errorf("%+v %v", ref, ok)
	}
	if ref, ok := ParseRef("plain"); !ok || len(ref) != 1 || ref[0].Parts != nil {
		t.Errorf("%+v %v", ref, ok)
	}
	for _, s := range []string{"", ".", "a.", ".a", "a..b", "a[", "a[]", "a[1..2..3]", "a[1 by 2]", "a b", "-a", "a.-b"} {
		if _, ok := ParseRef(s); ok {
			t.Errorf("%q is no reference", s)
		}
	}
}
