package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loomsheet/harness/diag"
)

// asUsed holds the arguments of every command against its usage line, where NAME... may be given several times and [NAME] left out.
func asUsed(root *cobra.Command) {
	root.InitDefaultCompletionCmd("")
	root.InitDefaultHelpCmd()
	root.Args = knownCommand
	for _, c := range append(root.Commands(), completions(root)...) {
		if c.Runnable() {
			c.Args = asInUsage
		}
		if c.Name() == "help" {
			c.Args = helpOf
		}
	}
}

// helpOf refuses what there is no help about.
func helpOf(help *cobra.Command, args []string) error {
	c, rest, err := help.Root().Find(args)
	switch {
	case err != nil || len(rest) == 0:
		return err
	case c.HasSubCommands():
		return knownCommand(c, rest)
	}
	return misused(help, "%q is too much", rest[0])
}

func completions(root *cobra.Command) []*cobra.Command {
	for _, c := range root.Commands() {
		if c.Name() == "completion" {
			return c.Commands()
		}
	}
	return nil
}

func asInUsage(c *cobra.Command, args []string) error {
	wanted := strings.Fields(c.Use)[1:]
	for i, name := range wanted {
		if i >= len(args) && !strings.HasPrefix(name, "[") {
			missing := strings.ReplaceAll(strings.Join(wanted[i:], " and "), "...", "")
			is := "is"
			if len(wanted)-i > 1 {
				is = "are"
			}
			return misused(c, "%s %s missing", missing, is)
		}
	}
	if n := len(wanted); len(args) > n && (n == 0 || !strings.HasSuffix(wanted[n-1], "...")) {
		return misused(c, "%q is too much", args[n])
	}
	return nil
}

func misused(c *cobra.Command, format string, a ...any) error {
	return fmt.Errorf("%s: %s\nUsage: %s; see %s --help", c.Name(), fmt.Sprintf(format, a...), c.UseLine(), c.CommandPath())
}

// knownCommand refuses what is no command of the program.
func knownCommand(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var names []string
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	slices.Sort(names)
	said := fmt.Sprintf("there is no command %q", args[0])
	if near := diag.Nearest(args[0], names); len(near) > 0 {
		said += "; did you mean " + strings.Join(near, ", ") + "?"
	}
	return fmt.Errorf("%s\nThe commands are %s; see %s --help", said, strings.Join(names, ", "), root.CommandPath())
}
