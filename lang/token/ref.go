package token

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Part is one member, or one range of members, between square brackets.
type Part struct {
	First string
	Last  string // of a range; else empty
	By    string // of a range with a step; else empty
}

// Segment is a stretch of a reference: plain text with names and dots, or what stands between brackets.
type Segment struct {
	Plain string
	Parts []Part // of a bracket; nil for plain text
}

// RefText is a reference taken apart, in the order it is written.
type RefText []Segment

// ParseRef takes the text of a name or a reference apart; ok is false if it is neither.
func ParseRef(text string) (ref RefText, ok bool) {
	ref, problem := parseRef(text)
	return ref, problem == ""
}

// String writes the reference with one blank after each comma and round "by" and no other blanks.
func (r RefText) String() string {
	var b strings.Builder
	for _, s := range r {
		if s.Parts == nil {
			b.WriteString(s.Plain)
			continue
		}
		b.WriteByte('[')
		for i, p := range s.Parts {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(p.First)
			if p.Last != "" {
				b.WriteString(".." + p.Last)
			}
			if p.By != "" {
				b.WriteString(" by " + p.By)
			}
		}
		b.WriteByte(']')
	}
	return b.String()
}

// parseRef returns a sentence on what to do if the text is no reference.
func parseRef(s string) (ref RefText, problem string) {
	rest := s
	for rest != "" {
		if rest[0] == '[' {
			end := strings.IndexByte(rest, ']')
			if end < 0 {
				return nil, "Put a ] where the range ends."
			}
			parts, problem := parseParts(rest[1:end])
			if problem != "" {
				return nil, problem
			}
			ref = append(ref, Segment{Parts: parts})
			rest = rest[end+1:]
			continue
		}
		end := strings.IndexByte(rest, '[')
		if end < 0 {
			end = len(rest)
		}
		ref = append(ref, Segment{Plain: rest[:end]})
		rest = rest[end:]
	}
	return ref, dots(ref, s)
}

// dots checks that a name or a bracket stands on both sides of every dot.
func dots(ref RefText, s string) string {
	if s == "" {
		return "Write a name."
	}
	const both = "A dot stands between the name of a thing and that of its pin, cavity or state: pump.1."
	after := false // something stands before the present place, with no dot between
	for _, seg := range ref {
		if seg.Parts != nil {
			after = true
			continue
		}
		for i, r := range seg.Plain {
			switch {
			case r == '.' && !after:
				if i == 0 && number(s, 1) > 1 && len(ref) == 1 && s[0] == '.' {
					return "Write a number with a digit before the point: 0" + s + "."
				}
				if strings.Contains(seg.Plain, "..") {
					return "A range stands in square brackets: f[1..4]."
				}
				return both
			case r == '.':
				after = false
			case !after && !unicode.IsLetter(r) && (r < '0' || r > '9'):
				return "A name begins with a letter or a digit."
			case !nameRune(r):
				return "Names are made of letters, digits, - _ and /."
			default:
				after = true
			}
		}
	}
	if n := number(s, 0); !after && n > 0 && s[n:] == "." {
		return "Write a number with a digit behind its point, or without the point: " + Shorten(s[:n]) + "."
	}
	if !after {
		return both
	}
	return ""
}

func parseParts(s string) (parts []Part, problem string) {
	for p := range strings.SplitSeq(s, ",") {
		f := strings.Fields(strings.ReplaceAll(p, "..", " .. "))
		for _, w := range f {
			if w != ".." && !plainName(w) {
				return nil, "Between square brackets stand names or numbers with commas between, or a range such as 1..4; `" + Shorten(w) + "` is neither."
			}
		}
		switch {
		case len(f) == 0:
			return nil, "Something is missing between the brackets: write [1..4] or [left, right]."
		case len(f) == 1 && f[0] != "..":
			parts = append(parts, Part{First: f[0]})
		case len(f) == 3 && f[1] == ".." && f[0] != ".." && f[2] != "..":
			parts = append(parts, Part{First: f[0], Last: f[2]})
		case len(f) == 5 && f[1] == ".." && f[3] == "by" && f[0] != ".." && f[2] != ".." && f[4] != "..":
			parts = append(parts, Part{First: f[0], Last: f[2], By: f[4]})
		case !strings.Contains(p, ".."):
			return nil, "Commas are missing between the brackets: write [" + Shorten(strings.Join(f, ", ")) + "]."
		default:
			return nil, "A range has a first and a last member: 1..4, or 1..7 by 2."
		}
	}
	return parts, ""
}

func plainName(s string) bool {
	for i, r := range s {
		if !nameRune(r) || r == utf8.RuneError || i == 0 && !unicode.IsLetter(r) && (r < '0' || r > '9') {
			return false
		}
	}
	return s != ""
}
