package main

import (
	"bytes"
	"strings"
	"testing"
)

// What is missing or too much is said with the usage line, in the same manner by every command.
func TestArguments(t *testing.T) {
	for _, tt := range []struct{ args, want string }{
		{"check", "check: FILE is missing\nUsage: loomsheet check FILE [flags]; see loomsheet check --help"},
		{"check a b", "check: \"b\" is too much\nUsage: loomsheet check FILE [flags]; see loomsheet check --help"},
		{"build", "build: FILE is missing\nUsage: loomsheet build FILE [flags]; see loomsheet build --help"},
		{"fmt", "fmt: FILE is missing\nUsage: loomsheet fmt FILE... [flags]; see loomsheet fmt --help"},
		{"freeze --holes", "freeze: FILE is missing\nUsage: loomsheet freeze FILE [flags]; see loomsheet freeze --help"},
		{"explain a b", "explain: \"b\" is too much\nUsage: loomsheet explain [FINDING] [flags]; see loomsheet explain --help"},
		{"worked", "worked: FILE and WIRE are missing\nUsage: loomsheet worked FILE WIRE... [flags]; see loomsheet worked --help"},
		{"worked a", "worked: WIRE is missing\nUsage: loomsheet worked FILE WIRE... [flags]; see loomsheet worked --help"},
		{"unplug", "unplug: FILE and BREAK are missing\nUsage: loomsheet unplug FILE BREAK [flags]; see loomsheet unplug --help"},
		{"unplug a b c", "unplug: \"c\" is too much\nUsage: loomsheet unplug FILE BREAK [flags]; see loomsheet unplug --help"},
		{"netlist", "netlist: FILE is missing\nUsage: loomsheet netlist FILE [flags]; see loomsheet netlist --help"},
		{"completion fish much", "fish: \"much\" is too much\nUsage: loomsheet completion fish [flags]; see loomsheet completion fish --help"},
		{"chek a", "there is no command \"chek\"; did you mean check?\nThe commands are build, check, completion, explain, fmt, freeze, help, netlist, unplug, worked; see loomsheet --help"},
		{"help chek", "there is no command \"chek\"; did you mean check?\nThe commands are build, check, completion, explain, fmt, freeze, help, netlist, unplug, worked; see loomsheet --help"},
		{"help check a", "help: \"a\" is too much\nUsage: loomsheet help [command] [flags]; see loomsheet help --help"},
		{"help completion fosh", "there is no command \"fosh\"; did you mean fish, bash, zsh?\nThe commands are bash, fish, powershell, zsh; see loomsheet completion --help"},
		{"--all", "unknown flag: --all; see loomsheet --help"},
		{"check --nothing", "unknown flag: --nothing; see loomsheet check --help"},
	} {
		var out, errs bytes.Buffer
		if got := run(strings.Fields(tt.args), &out, &errs); got != exitMisuse || errs.String() != "loomsheet: "+tt.want+"\n" || out.Len() > 0 {
			t.Errorf("loomsheet %s ends with %d and says\n%s%s, want\n%s", tt.args, got, out.String(), errs.String(), tt.want)
		}
	}
	// No command is left to say it in words of its own.
	for _, c := range newRoot(&bytes.Buffer{}, &bytes.Buffer{}).Commands() {
		if c.Runnable() && c.Args == nil {
			t.Errorf("%s takes whatever arguments", c.Name())
		}
	}
}
