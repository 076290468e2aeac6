package resolve

import "loomsheet/lang/syntax"

// Codes is every code of a message that this package and package sense give, in the order of the alphabet. A code is never used again
// for anything else. An example of each is the file of its name in testdata/wrong; those of the shape of a file are syntax.Codes.
var Codes = []string{
	"acceptance-blank", "arm-without-length", "below-zero", "block-misplaced", "bolted-apart", "case-twice", "cavity-hidden", "cavity-twice", "cavity-unsaid", "circuit-empty",
	"class-refused", "corners-cross", "crimp-beyond", "drill-unneeded", "duty-unclear", "ends-same", "ends-twice", "file-again", "file-unreadable", "flange-elsewhere", "flange-too-small", "halves-differ", "harness-twice", "held-twice",
	"housing-empty", "housing-twice", "include-outside", "joins-one", "label-empty", "least-above-most", "length-of-several", "like-circle",
	"lists-both-sides", "loose-length", "mirror-unneeded", "moves-off", "name-quoted", "name-too-long", "name-twice", "name-with-dot", "names-alike", "no-distance", "no-harness", "no-load", "no-place",
	"no-stud", "no-such-boot", "no-such-barrel", "no-such-break", "no-such-cable", "no-such-case", "no-such-cavity", "no-such-choice", "no-such-circuit", "no-such-clip",
	"no-such-colour", "no-such-contact", "no-such-device", "no-such-end", "no-such-fastener", "no-such-file", "no-such-finding",
	"no-such-fuse", "no-such-group", "no-such-hazard", "no-such-hole", "no-such-housing", "no-such-key", "no-such-line", "no-such-option", "no-such-panel",
	"no-such-parameter", "no-such-pin", "no-such-place", "no-such-run", "no-such-seal", "no-such-section", "no-such-setting", "no-such-size",
	"no-such-sleeve", "no-such-splice", "no-such-state", "no-such-template", "no-such-tube", "no-such-wire", "no-such-word", "no-such-zone", "no-supply",
	"not-bolted", "not-own-pin", "nothing-to-rest", "number-unclear", "option-missing", "option-twice", "out-of-step", "painted-later", "pair-of-two", "plug-with-wire",
	"pattern-used", "pin-inner", "pin-nowhere", "pin-twice", "pin-unsaid", "place-circle", "place-twice", "place-unclear",
	"post-contacts", "range-too-long", "range-unclear", "run-empty", "same-contacts", "same-section", "seen-elsewhere", "setting-clash",
	"several-values", "spare-taken", "spread-twice", "spread-unclear", "stock-of-cable", "subject-twice", "too-few-values", "too-much", "two-halves",
	"two-ranges", "undone-twice", "unit-missing", "unknown-unit", "volts-too-high", "wire-empty", "word-misplaced", "wrong-kind",
	"wrong-unit", "wrong-value", "zero",
}

// AllCodes is every code that reading a job can give, those of its shape included.
func AllCodes() []string {
	var out []string
	for _, c := range syntax.Codes {
		out = append(out, c.Code)
	}
	return append(out, Codes...)
}
