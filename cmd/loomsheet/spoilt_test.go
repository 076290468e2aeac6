package main

import (
	"runtime/debug"
	"strings"
	"testing"

	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	words "loomsheet/lang/word"
)

// spoilt is what a slip leaves in the place of a word.
var spoilt = []string{"", "(0(0", "(", ")", "(0000B0000", "[", `"`, ",", "0 0", "{", "}", "1, 2, 3"}

// spoiltEach is which of the spoilt texts are read: all would take minutes.
const spoiltEach = 61

// Whatever is lost of a line, each message points at a place of the text. The examples of all words, and a job with a bit of everything, are
// one job, of which one word is spoilt at a time.
func TestSpoiltWords(t *testing.T) {
	var job strings.Builder
	job.WriteString(lampJob + everyNumber)
	for _, w := range words.Top() {
		if w.Name != "include" {
			job.WriteString(w.Example + "\n")
		}
	}
	text := job.String()
	n := 0
	for _, at := range word.FindAllStringIndex(text, -1) {
		for _, by := range spoilt {
			if n++; n%spoiltEach == 0 {
				placed(t, text[:at[0]]+by+text[at[1]:], text[max(0, at[0]-60):min(len(text), at[1]+20)]+" with "+by)
			}
		}
	}
	if n < 20000 {
		t.Errorf("only %d spoilt texts", n)
	}
	for what, loom := range map[string]string{
		"a sleeve with walls but no sizes":        lampJob + "sleeve own grows 2 heat 125 C ) 6.4 mm, 12.7 mm wall 0.6 mm, 0.65 mm\n",
		"joins that nobody can read":              lampJob + "device bus at (0, 0, 0 mm) {\n  pin left, right stud M6\n  joins (0000B0000\n}\n",
		"values of a template in another order":   lampJob + "template t takes a, b {\n  point p at [b] [a]\n}\nuse t a hub b lamp\n",
		"a place for a template beside another's": lampJob + "template t takes at1 {\n  device q at [at1], battery\n}\nuse t at1 (1, 2, 3 mm)\n",
	} {
		placed(t, loom, what)
	}
}

// placed demands a message of a text with mistakes, each at a place of its own.
func placed(t *testing.T, loom, what string) {
	t.Helper()
	defer func() {
		if r := recover(); r != nil {
			t.Errorf("%s: %v\n%s", what, r, debug.Stack())
		}
	}()
	_, sources, said := resolve.Job("job.loom", loadOne("job.loom", loom), parts.Files(), rule.Keys())
	for _, d := range said {
		if why := misplaced(sources, d); why != "" {
			t.Errorf("%s: %s %s", what, d.Code, why)
		}
	}
}
