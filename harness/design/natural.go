package design

import (
	"cmp"
	"strings"
)

// Natural compares names as a person would sort them: runs of digits by their number, all else by character; inj2 comes before
// inj10. Names that differ only in leading zeros are ordered by their text, so that no two different names are equal.
func Natural(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		if digit(x[0]) && digit(y[0]) {
			var p, q string
			p, x = number(x)
			q, y = number(y)
			if c := cmp.Or(cmp.Compare(len(p), len(q)), cmp.Compare(p, q)); c != 0 {
				return c
			}
			continue
		}
		if x[0] != y[0] {
			return cmp.Compare(x[0], y[0])
		}
		x, y = x[1:], y[1:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(a, b))
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// number takes the digits at the front of s, without leading zeros.
func number(s string) (digits, rest string) {
	i := 0
	for i < len(s) && digit(s[i]) {
		i++
	}
	return strings.TrimLeft(s[:i], "0"), s[i:]
}
