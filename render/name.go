package render

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
)

// longestName is how much of a section's name stays in the name of its book.
const longestName = 80

// bookNames spells the names of sections so that they can stand in file names on any file system: letters and digits of ASCII, - and _
// stay, anything else becomes _, and no more than longestName letters are kept. A name that had to be changed, or differs from another only in
// capital letters, gets a - and the first digits of its SHA-256, so that no two books share a file. The order of the sections does not matter.
func bookNames(sections []string) []string {
	plain := make([]string, len(sections))
	times := map[string]int{}
	for i, s := range sections {
		plain[i] = spelt(s)
		times[strings.ToLower(plain[i])]++
	}
	// Another section could be called just like a name with its digits; more digits then part them.
	for digits := 8; ; digits += 8 {
		out := make([]string, len(sections))
		taken := map[string]bool{}
		for i, s := range sections {
			out[i] = plain[i]
			if plain[i] != s || times[strings.ToLower(plain[i])] > 1 {
				sum := sha256.Sum256([]byte(s))
				out[i] += "-" + hex.EncodeToString(sum[:])[:digits]
			}
			taken[strings.ToLower(out[i])] = true
		}
		if len(taken) == len(sections) || digits == 2*sha256.Size {
			return out
		}
	}
}

// FileNames spells other names in the same way.
func FileNames(names []string) []string { return bookNames(names) }

func spelt(name string) string {
	var b strings.Builder
	for _, r := range name {
		if b.Len() == longestName {
			break
		}
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' {
			b.WriteRune(r)
		} else {
			b.WriteByte('_')
		}
	}
	return b.String()
}
