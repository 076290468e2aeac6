package main

import (
	"errors"
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/lang/resolve"
	"loomsheet/lang/token"
	"loomsheet/render/font"
)

// unprintable tells of each name and text of a job, those of its parts list left out, with a letter that the typefaces of the books lack:
// otherwise only a build would find out, and not where it stands.
func unprintable(s *resolve.Sources) (out diag.List) {
	for _, f := range s.Files {
		if f.Library {
			continue
		}
		for _, t := range token.Lex(f.Name, []byte(f.Text), nil).Tokens {
			switch t.Kind {
			case token.Name, token.Ref, token.Text:
			default:
				continue
			}
			for _, face := range []font.Face{font.Sans, font.Bold, font.Narrow} {
				var fault *font.Fault
				if !errors.As(font.Check(face, t.Text), &fault) {
					continue
				}
				out.Mistake(diag.SpanOf(f.Name, t.Start, t.End), "unprintable-letter", fmt.Sprintf("the character U+%04X cannot be printed", fault.Char),
					"The typefaces of the books do not hold it: write other letters.")
				break
			}
			if len(out) > mostUnprintable {
				return out
			}
		}
	}
	return out
}

// mostUnprintable is how many of them are told.
const mostUnprintable = 1000
