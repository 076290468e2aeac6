package token

import (
	"fmt"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// lookalikes are letters of other scripts that are drawn as a letter of the Latin one. Each pair stands in the table of confusable
// characters of Unicode Technical Standard 39; the choice of pairs is from memory and has but the scripts whose letters a typeface of this
// trade holds.
var lookalikes = func() map[rune]rune {
	out := map[rune]rune{}
	for _, p := range [][2]string{
		{"аеорсухіјѕһԁԛԝӏ", "aeopcyxijshdqwl"}, // Cyrillic
		{"АВЕЅІЈКМНОРСТУХԌԚԜ", "ABESIJKMHOPCTYXGQW"},
		{"οανυρι", "oavupi"}, // Greek
		{"ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ", "ABEZHIKMNOPTYX"},
		{"օոսհ", "onuh"}, // Armenian
		{"ıɑɡ", "iag"},   // Latin letters of other alphabets
	} {
		to := []rune(p[1])
		for i, r := range []rune(p[0]) {
			out[r] = to[i]
		}
	}
	for r := rune(0xff01); r <= 0xff5e; r++ { // wide forms
		out[r] = r - 0xff01 + '!'
	}
	return out
}()

// Looks is a name as it looks on paper: names that look the same have the same, so do ligatures, letters of other widths and other forms of a letter
// that Unicode decomposes (NFKC). Names in plain letters look like themselves.
func Looks(name string) string {
	if plain(name) {
		return name
	}
	latin := func(r rune) rune {
		if to, ok := lookalikes[r]; ok {
			return to
		}
		return r
	}
	// Letters first: a form that is decomposed may be of another script, and what looks Latin may take an accent only then.
	return norm.NFKC.String(strings.Map(latin, norm.NFKC.String(name)))
}

// Odd names the first letter of a text that looks like Latin ones and is none; empty if it has none.
func Odd(text string) string {
	for _, r := range text {
		if to := norm.NFKC.String(string(r)); to != norm.NFC.String(string(r)) && lookalikes[r] == 0 {
			return fmt.Sprintf("`%c` (U+%04X), which is not the `%s` it looks like", r, r, to)
		}
		if to, ok := lookalikes[r]; ok {
			return fmt.Sprintf("`%c` (U+%04X), which is not the `%c` it looks like", r, r, to)
		}
	}
	return ""
}
