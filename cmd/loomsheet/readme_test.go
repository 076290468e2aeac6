package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write what the program answers into the README and the goldens")

var fence = regexp.MustCompile("(?ms)^```(loom|console)([^\n]*)\n(.*?)^```$")

// TestReadmeGolden follows the tutorial: writes its files, runs its commands, and compares the answers that the README shows.
func TestReadmeGolden(t *testing.T) {
	path, err := filepath.Abs(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	ran := 0
	out := fence.ReplaceAllStringFunc(string(text), func(block string) string {
		m := fence.FindStringSubmatch(block)
		if m[1] == "loom" {
			writeBlock(t, m[2], m[3])
			return block
		}
		command, shown, _ := strings.Cut(m[3], "\n")
		args, ok := strings.CutPrefix(command, "$ loomsheet ")
		if !ok {
			t.Fatalf("not a command: %q", command)
		}
		var answer bytes.Buffer
		run(strings.Fields(args), &answer, &answer)
		ran++
		got := excerpt(t, m[2], answer.String())
		if got != shown && !*update {
			t.Errorf("%s answers\n%s\nthe README shows\n%s", command, got, shown)
		}
		return "```console" + m[2] + "\n" + command + "\n" + got + "```"
	})
	if ran < 5 {
		t.Fatalf("only %d commands in the README", ran)
	}
	if *update {
		if err := os.WriteFile(path, []byte(out), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// writeBlock writes a file of the tutorial: whole, added to one, or one with a piece exchanged.
func writeBlock(t *testing.T, head, text string) {
	t.Helper()
	get := func(key string) string { return said(head, key) }
	name := get("file")
	if from := get("from"); from != "" {
		old, err := os.ReadFile(from)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(old), get("replace")) {
			t.Fatalf("%s does not hold %q", from, get("replace"))
		}
		whole := strings.Replace(string(old), get("replace"), get("by"), 1)
		if shown := strings.TrimSpace(text); shown == "" || !strings.Contains(whole, shown) {
			t.Fatalf("what is shown of %s is not in it: %q", name, shown)
		}
		text = whole
	} else if strings.HasSuffix(head, " add") {
		old, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		text = string(old) + text
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// said is what the head of a block says of a key.
func said(head, key string) string {
	m := regexp.MustCompile(`(^| )` + key + `=("[^"]*"|\S+)`).FindStringSubmatch(head)
	if m == nil {
		return ""
	}
	return strings.Trim(m[2], `"`)
}

// excerpt is the piece of an answer that a block shows, "..." where lines are left out: its `first` lines, counted `from` the line that
// begins so if that is said, and its `last` ones.
func excerpt(t *testing.T, head, answer string) string {
	t.Helper()
	lines := strings.Split(strings.TrimRight(answer, "\n"), "\n")
	count := func(key string) int {
		n, err := strconv.Atoi(said(head, key))
		if said(head, key) != "" && (err != nil || n < 1 || n > len(lines)) {
			t.Fatalf("%s of %q: the answer has %d lines", key, head, len(lines))
		}
		return n
	}
	from, to := 0, len(lines)
	if start := said(head, "from"); start != "" {
		from = slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, start) })
		if from < 0 {
			t.Fatalf("no line of the answer begins with %q:\n%s", start, answer)
		}
	}
	if n := count("first"); n > 0 {
		to = min(from+n, len(lines))
	}
	last := len(lines) - count("last")
	if last < to && last < len(lines) {
		t.Fatalf("%q shows lines twice", head)
	}
	var out []string
	if from > 0 {
		out = append(out, "...")
	}
	out = append(out, lines[from:to]...)
	if to < last {
		out = append(out, "...")
	}
	out = append(out, lines[max(last, to):]...)
	return strings.Join(out, "\n") + "\n"
}
