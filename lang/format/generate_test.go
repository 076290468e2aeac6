package format

import (
	"strings"

	"pgregory.net/rapid"

	"loomsheet/lang/word"
)

// file draws a text without mistakes: words of the language with values of any shape, laid out wildly.
func file(t *rapid.T) string {
	var b strings.Builder
	for range rapid.IntRange(0, 12).Draw(t, "statements") {
		filler(t, &b, "")
		statement(t, &b, "", rapid.SampledFrom(word.Top()).Draw(t, "word"), 0)
	}
	filler(t, &b, "")
	return b.String()
}

// filler draws blank lines and comments.
func filler(t *rapid.T, b *strings.Builder, indent string) {
	for range rapid.IntRange(0, 3).Draw(t, "filler") {
		if rapid.Bool().Draw(t, "comment") {
			b.WriteString(indent + comment(t))
		}
		b.WriteString(lineEnd(t))
	}
}

func comment(t *rapid.T) string {
	return "#" + rapid.SampledFrom([]string{"", " x", " {", " , ( \"", " 24 V, Ω", "  two  blanks  "}).Draw(t, "remark")
}

func lineEnd(t *rapid.T) string { return rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "end") }

func blanks(t *rapid.T) string { return rapid.SampledFrom([]string{" ", "  ", "\t"}).Draw(t, "blanks") }

func statement(t *rapid.T, b *strings.Builder, indent string, w word.Word, depth int) {
	b.WriteString(indent + w.Name + blanks(t))
	list(t, b, indent)
	for range rapid.IntRange(0, 8).Draw(t, "options") {
		opts := append(append([]word.Option(nil), w.Options...), word.Common...)
		b.WriteString(blanks(t) + rapid.SampledFrom(opts).Draw(t, "option").Name + blanks(t))
		list(t, b, indent)
	}
	inner := word.InBlock(w.Name)
	if depth > 1 || w.In != "" {
		inner = nil
	}
	kind := rapid.IntRange(0, 3).Draw(t, "block")
	if depth > 4 {
		kind = 3
	}
	switch kind {
	case 0:
		b.WriteString(" {" + rapid.SampledFrom([]string{"", " ", "\n", "\n\n", "# x\n\n"}).Draw(t, "empty") + "}")
	case 1:
		if len(inner) > 0 {
			b.WriteString(blanks(t) + "{ " + rapid.SampledFrom(inner).Draw(t, "inner").Name + " " + flatValue(t) + ", " + flatValue(t) + " note " + flatValue(t) + " }")
		}
	case 2:
		b.WriteString("{" + blanks(t))
		if rapid.Bool().Draw(t, "remark behind brace") {
			b.WriteString(comment(t))
		}
		b.WriteString(lineEnd(t))
		in := indent + rapid.SampledFrom([]string{"  ", "\t", "      "}).Draw(t, "indent")
		for range rapid.IntRange(0, 4).Draw(t, "lines") {
			filler(t, b, in)
			if len(inner) > 0 && rapid.IntRange(0, 2).Draw(t, "kind") > 0 {
				statement(t, b, in, rapid.SampledFrom(inner).Draw(t, "inner"), depth+1)
			} else {
				statement(t, b, in, word.Word{Name: rapid.SampledFrom(w.OptionNames()).Draw(t, "goes on"), In: w.Name}, depth+1)
			}
		}
		filler(t, b, in)
		b.WriteString(indent + "}")
	}
	if rapid.IntRange(0, 3).Draw(t, "trailing") == 0 {
		b.WriteString(blanks(t) + comment(t))
	}
	b.WriteString(lineEnd(t))
}

func list(t *rapid.T, b *strings.Builder, indent string) {
	n := rapid.SampledFrom([]int{1, 1, 1, 2, 3, 9}).Draw(t, "values")
	for i := range n {
		b.WriteString(value(t, indent))
		if i == n-1 {
			return
		}
		b.WriteString(",")
		switch rapid.IntRange(0, 5).Draw(t, "after comma") {
		case 0:
			b.WriteString(lineEnd(t) + indent + "     ")
		case 1:
			b.WriteString(blanks(t) + comment(t) + lineEnd(t) + indent + "     ")
			filler(t, b, indent)
			b.WriteString(indent + "    ")
		default:
			b.WriteString(blanks(t))
		}
	}
}

var flatValues = []string{
	"x", "87a", "red/white", "M8", "12 V", "5mm", "-5 °C", "3%", "2.5  mm2", "−4", "0.5 Ω", "ecu.a.7", "inj[1..4].1", "[left,right]", "s-[1 .. 7 by 2]",
	`"two words"`, `""`, `"# { ,"`, "(1,  2, 3.5mm)", "(1180, -440, 470 mm)", "[place]", "a-rather-long-name-of-a-device-somewhere",
	`"a rather long text that goes on for quite a while, so that the line that holds it has to be broken somewhere or other"`,
}

func flatValue(t *rapid.T) string { return rapid.SampledFrom(flatValues).Draw(t, "value") }

func value(t *rapid.T, indent string) string {
	switch rapid.IntRange(0, 12).Draw(t, "over lines") {
	case 0:
		return "sig-[tps, map,\n" + indent + " oil]"
	case 1:
		return "(1, # x\n" + indent + " 2 mm)"
	}
	return flatValue(t)
}
