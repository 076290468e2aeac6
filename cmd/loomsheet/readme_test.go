package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
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
		if got := strings.TrimRight(answer.String(), "\n") + "\n"; got != shown && !*update {
			t.Errorf("%s answers\n%s\nthe README shows\n%s", command, got, shown)
		}
		return "```console\n" + command + "\n" + strings.TrimRight(answer.String(), "\n") + "\n```"
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
	get := func(key string) string {
		m := regexp.MustCompile(key + `=("[^"]*"|\S+)`).FindStringSubmatch(head)
		if m == nil {
			return ""
		}
		return strings.Trim(m[1], `"`)
	}
	name := get("file")
	if from := get("from"); from != "" {
		old, err := os.ReadFile(from)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(old), get("replace")) {
			t.Fatalf("%s does not hold %q", from, get("replace"))
		}
		text = strings.Replace(string(old), get("replace"), get("by"), 1)
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
