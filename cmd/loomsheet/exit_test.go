package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The exit status of every command: 0 what was asked is done and nothing is open, 1 findings or mistakes, 2 misuse. Of worked, unplug, netlist,
// freeze and fmt findings do not matter: they did what was asked.
func TestExitStatus(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{
		"met.loom":   lampJob,
		"open.loom":  strings.Replace(lampJob, "fuse blade-10 from cell to plus", "fuse blade-1 from cell to plus", 1),
		"wrong.loom": strings.Replace(lampJob, "section body", "sektion body", 1),
	} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir("dir.loom", 0o755); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		args string
		want int
	}{
		{"check met.loom", exitMet},
		{"check open.loom", exitOpen},
		{"check wrong.loom", exitOpen},
		{"check --format json met.loom", exitMet},
		{"check --format json open.loom", exitOpen},
		{"check --format json wrong.loom", exitOpen},
		{"check none.loom", exitMisuse},
		{"check dir.loom", exitMisuse},
		{"check", exitMisuse},
		{"check --format yaml met.loom", exitMisuse},
		{"build met.loom -o books", exitMet},
		{"build open.loom -o books", exitOpen},
		{"build wrong.loom -o books", exitOpen},
		{"build none.loom -o books", exitMisuse},
		{"build met.loom -o met.loom", exitMisuse},
		{"worked met.loom feed", exitMet},
		{"worked met.loom feed back", exitMet},
		{"worked open.loom feed", exitMet},
		{"worked wrong.loom feed", exitOpen},
		{"worked met.loom nothing", exitMisuse},
		{"worked met.loom feed nothing", exitMisuse},
		{"worked met.loom", exitMisuse},
		{"worked none.loom feed", exitMisuse},
		{"unplug met.loom battery", exitMet},
		{"unplug met.loom battery.minus", exitMet},
		{"unplug open.loom lamp --format json", exitMet},
		{"unplug wrong.loom battery", exitOpen},
		{"unplug met.loom batter", exitMisuse},
		{"unplug met.loom lamp.1", exitMisuse},
		{"unplug met.loom", exitMisuse},
		{"unplug none.loom battery", exitMisuse},
		{"netlist met.loom", exitMet},
		{"netlist open.loom --case lit", exitMet},
		{"netlist wrong.loom --case lit", exitOpen},
		{"netlist met.loom --case nothing", exitMisuse},
		{"netlist none.loom", exitMisuse},
		{"freeze wrong.loom", exitOpen},
		{"freeze none.loom", exitMisuse},
		{"freeze open.loom", exitMet},
		{"explain", exitMet},
		{"explain no-fuse", exitMet},
		{"explain nothing", exitMisuse},
		{"fmt --check none.loom", exitMisuse},
		{"completion fish", exitMet},
		{"--help", exitMet},
		{"", exitMet},
		{"nothing", exitMisuse},
		{"check met.loom --nothing", exitMisuse},
	}
	for _, tt := range tests {
		var out, errs bytes.Buffer
		if got := run(strings.Fields(tt.args), &out, &errs); got != tt.want {
			t.Errorf("loomsheet %s ends with %d, want %d\n%s%s", tt.args, got, tt.want, out.String(), errs.String())
		} else if (got == exitMisuse) != (errs.Len() > 0) && !strings.HasPrefix(tt.args, "netlist wrong") && !strings.HasPrefix(tt.args, "freeze wrong") {
			t.Errorf("loomsheet %s ends with %d and says on the error output %q", tt.args, got, errs.String())
		}
	}
}

// Every command has a help text with an example, and files and names are completed.
func TestHelpAndCompletion(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("lamp.loom", []byte(lampJob), 0o644); err != nil {
		t.Fatal(err)
	}
	answer := func(args ...string) string {
		var out, errs bytes.Buffer
		if got := run(args, &out, &errs); got != exitMet {
			t.Errorf("loomsheet %s ends with %d: %s", args, got, errs.String())
		}
		return out.String()
	}
	root := answer("--help")
	for _, name := range []string{"check", "build", "fmt", "freeze", "explain", "worked", "unplug", "netlist"} {
		if help := answer(name, "--help"); !strings.Contains(help, "Examples:\n  loomsheet "+name) {
			t.Errorf("loomsheet %s --help has no example:\n%s", name, help)
		}
		if !strings.Contains(root, "\n  loomsheet "+name+" ") {
			t.Errorf("loomsheet --help has no example of %s", name)
		}
		if name == "explain" {
			continue
		}
		if got := answer("__complete", name, ""); !strings.Contains(got, "loom\n") {
			t.Errorf("%s completes no *.loom: %s", name, got)
		}
	}
	for _, tt := range []struct {
		args []string
		want string
	}{
		{[]string{"explain", "no-f"}, "no-fuse"},
		{[]string{"worked", "lamp.loom", "feed"}, "feed battery.plus - lamp.1"},
		{[]string{"worked", "lamp.loom", ""}, "back"},
		{[]string{"unplug", "lamp.loom", "b"}, "battery.minus"},
		{[]string{"netlist", "lamp.loom", "--case", ""}, "lit"},
	} {
		if got := answer(append([]string{"__complete"}, tt.args...)...); !strings.Contains("\n"+got, "\n"+tt.want+"\n") {
			t.Errorf("%q completes to\n%s, want %s", tt.args, got, tt.want)
		}
	}
	// Text with mistakes, or no file, completes to nothing and says nothing.
	if err := os.WriteFile("wrong.loom", []byte("sektion body\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{"wrong.loom", "none.loom", filepath.Join("none", "none.loom")} {
		if got := answer("__complete", "worked", file, ""); got != ":4\n" {
			t.Errorf("%s completes to %q", file, got)
		}
	}
}
