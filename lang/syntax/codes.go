package syntax

import "strings"

// CodeExample is a code of a message with a text that brings it about.
type CodeExample struct{ Code, Text string }

// Codes is every code of a mistake in the shape of a file. A code is never used again for anything else.
var Codes = []CodeExample{
	{"after-brace", "device pump { draw 4 A from 1 to 2 } section tub\n"},
	{"arrow", "circuit horn from box.f1 -> horn.1\n"},
	{"bad-dot", "circuit horn from box..f1 to horn.1\n"},
	{"bad-name", "device pump; housing sealed-2\n"},
	{"bad-range", "device inj[1..]\n"},
	{"brace-alone", "device pump\n{\n  draw 4 A from 1 to 2\n}\n"},
	{"control-character", "section tub\x07\n"},
	{"curly-quotes", "harness “Rook”\n"},
	{"decimal-comma", "circuit horn from box.f1 to horn.1 size 2,5 mm2\n"},
	{"glued-comment", "device pump#2\n"},
	{"inch-mark", "run rail from a to b length 5\"\n"},
	{"indented-line", "harness \"Rook\"\n  revision C\n"},
	{"invisible-character", "section tub\u200b\n"},
	{"line-too-long", "removal all undo " + strings.Repeat("a, ", maxTokens/2) + "b\n"},
	{"lost-comma", "set isolator kill to on\n"},
	{"no-number", "point hub at (a, 2, 3 mm)\n"},
	{"no-option-word", "zone bay 110 C\n"},
	{"no-value", "device pump housing\n"},
	{"no-word", "\"pump\" housing sealed-2\n"},
	{"not-utf8", "section tub\xff\n"},
	{"number-unclear", "run rail from a to b length 1e3 mm\n"},
	{"open-list", "removal engine-out undo A, B,\ncase night\n"},
	{"sign-as-name", "device battery { pin +, - }\n"},
	{"text-too-long", "harness \"" + strings.Repeat("Rook ", 500) + "\"\n"},
	{"too-deep", strings.Repeat("a b {\n", maxDepth+1) + strings.Repeat("}\n", maxDepth+1)},
	{"too-many-mistakes", strings.Repeat("}\n", MostTold+1)},
	{"too-much", strings.Repeat(",", 1_000_001)},
	{"unclosed-brace", "device pump {\n  draw 4 A from 1 to 2\n\ndevice horn\n"},
	{"unclosed-bracket", "device inj[1..4 housing sealed-2\n"},
	{"unclosed-paren", "point hub at (1, 2, 3 mm\n"},
	{"unclosed-text", "harness \"Rook\n"},
	{"unknown-unit", "run rail from a to b length 12 mmm\n"},
	{"unmatched-brace", "section tub\n}\n"},
	{"unmatched-paren", "point hub at 1, 2, 3 mm)\n"},
	{"unprintable-letter", "harness \"\u05e1\u05e4\u05e8\"\n"},
}
