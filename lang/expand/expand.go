// Package expand reads the ranges and template brackets inside a name: inj[1..4].1, tail-[left, right], ws-[corner]. It works on
// text alone and knows no word of the language.
package expand

import (
	"fmt"
	"strconv"
	"strings"

	"loomsheet/lang/token"
)

// longest is how many bytes may stand round a bracket.
const longest = 80

// MostMembers is the largest range that is taken apart.
const MostMembers = 10000

// Error says what is wrong with a range, in words for a person.
type Error struct {
	Code  string // range-unclear, range-too-long, two-ranges, name-too-long
	Title string
	How   string // what to do
}

func (e *Error) Error() string { return e.Title }

// fault words an error; what it quotes may be a megabyte long.
func fault(code, how, format string, args ...any) *Error {
	for i, a := range args {
		if s, ok := a.(string); ok {
			args[i] = token.Shorten(s)
		}
	}
	return &Error{Code: code, Title: fmt.Sprintf(format, args...), How: how}
}

// HasRange tells whether text holds a bracket.
func HasRange(text string) bool { return strings.ContainsAny(text, "[]") }

// Split takes text apart around its one bracket. ok is false if it has none. Several brackets, or one that does not close, are
// an error.
func Split(text string) (before, inside, after string, ok bool, err *Error) {
	i := strings.IndexAny(text, "[]")
	if i < 0 {
		return text, "", "", false, nil
	}
	j := strings.IndexByte(text, ']')
	if text[i] == ']' || j < 0 {
		return "", "", "", false, fault("range-unclear", "A range stands between [ and ]: `inj[1..4]`.", "`%s` has a bracket without its other half", text)
	}
	before, inside, after = text[:i], text[i+1:j], text[j+1:]
	if strings.Contains(inside, "[") {
		return "", "", "", false, fault("range-unclear", "A range stands between [ and ]: `inj[1..4]`.", "`%s` has a bracket inside a bracket", text)
	}
	if HasRange(after) {
		return "", "", "", false, fault("two-ranges", "Two ranges never multiply. Write a line for each member of one of them.", "`%s` has two ranges in one name", text)
	}
	return before, inside, after, true, nil
}

// Members lists the names that text stands for, in order; ranged is false if it is a plain name.
func Members(text string) (out []string, ranged bool, err *Error) {
	before, inside, after, ok, err := Split(text)
	if err != nil {
		return nil, true, err
	}
	if !ok {
		return []string{text}, false, nil
	}
	if n := len(before) + len(after); n > longest {
		return nil, true, fault("name-too-long", fmt.Sprintf("Names have at most %d: they are printed on labels.", longest), "this name has %d letters and more", n)
	}
	for part := range strings.SplitSeq(inside, ",") {
		part = strings.TrimSpace(part)
		lo, rest, isRange := strings.Cut(part, "..")
		if !isRange {
			if part == "" || strings.ContainsAny(part, " \t") {
				return nil, true, unclear(text, part)
			}
			out = append(out, part)
			continue
		}
		hi, by, hasBy := strings.Cut(rest, " by ")
		step := "1"
		if hasBy {
			step = strings.TrimSpace(by)
		}
		if out, err = count(out, text, strings.TrimSpace(lo), strings.TrimSpace(hi), step); err != nil {
			return nil, true, err
		}
	}
	if len(out) > MostMembers {
		return nil, true, tooLong(text)
	}
	for i := range out {
		out[i] = before + out[i] + after
	}
	return out, true, nil
}

func unclear(text, part string) *Error {
	how := "Between [ and ] stand names with commas between, `[left, right]`, or the first and the last number, `[1..4]` or `[1..7 by 2]`."
	if part == "" {
		return fault("range-unclear", how, "a name is missing between the brackets of `%s`", text)
	}
	return fault("range-unclear", how, "`%s` in `%s` cannot be counted through", part, text)
}

func tooLong(text string) *Error {
	return fault("range-too-long", fmt.Sprintf("A range may have at most %d members.", MostMembers), "`%s` has too many members", text)
}

// count appends the numbers, or the letters, from lo to hi. It counts down when hi is the smaller.
func count(out []string, text, lo, hi, by string) ([]string, *Error) {
	part := lo + ".." + hi
	step, err := strconv.Atoi(by)
	if err != nil || step < 1 {
		return nil, unclear(text, part+" by "+by)
	}
	step = min(step, widest) // a longer one would leave the range as well, or wrap round
	if len(lo) == 1 && len(hi) == 1 && letter(lo[0]) && letter(hi[0]) && upper(lo[0]) == upper(hi[0]) {
		for c := int(lo[0]); ; c += toward(int(lo[0]), int(hi[0]), step) {
			if past(int(lo[0]), int(hi[0]), c) {
				return out, nil
			}
			out = append(out, string(rune(c)))
		}
	}
	a, okA := digits(lo)
	b, okB := digits(hi)
	if !okA || !okB {
		if allDigits(lo) && allDigits(hi) {
			return nil, tooLong(text)
		}
		return nil, unclear(text, part)
	}
	if gap := max(a, b) - min(a, b); gap/step+1+len(out) > MostMembers {
		return nil, tooLong(text)
	}
	width := 0
	if len(lo) > 1 && lo[0] == '0' {
		width = len(lo)
	}
	for n := a; !past(a, b, n); n += toward(a, b, step) {
		out = append(out, fmt.Sprintf("%0*d", width, n))
		if n == b {
			break
		}
	}
	return out, nil
}

func toward(a, b, step int) int {
	if b < a {
		return -step
	}
	return step
}

func past(a, b, n int) bool { return a <= b && n > b || a > b && n < b }

func letter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

func upper(c byte) bool { return c <= 'Z' }

func allDigits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// widest is more than lies between two numbers of a range, which have at most nine digits.
const widest = 1_000_000_000

func digits(s string) (int, bool) {
	if !allDigits(s) || len(s) > 9 {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}

// Fill replaces each bracket that holds just the name of a parameter by its value. unknown lists the brackets that hold a single
// name which is no parameter and no number: in a template they are slips of the pen.
func Fill(text string, value func(name string) (string, bool)) (filled string, unknown []string) {
	var b strings.Builder
	for {
		i := strings.IndexByte(text, '[')
		if i < 0 {
			break
		}
		j := strings.IndexByte(text[i:], ']')
		if j < 0 {
			break
		}
		name := strings.TrimSpace(text[i+1 : i+j])
		b.WriteString(text[:i])
		if v, ok := value(name); ok {
			b.WriteString(v)
		} else {
			if name != "" && !strings.ContainsAny(name, ",. ") && !allDigits(name) {
				unknown = append(unknown, name)
			}
			b.WriteString(text[i : i+j+1])
		}
		text = text[i+j+1:]
	}
	b.WriteString(text)
	return b.String(), unknown
}
