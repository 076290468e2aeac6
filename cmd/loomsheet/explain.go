package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
	"loomsheet/lang/resolve"
)

func explainCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "explain [FINDING]",
		Short:   "Why a finding exists, its formula and source, and what to do",
		Long:    "explain prints why a rule exists, what it compares with what, where its limit comes from and what to do. Without a name it lists all findings.",
		Example: "  loomsheet explain\n  loomsheet explain no-way",
		RunE: func(c *cobra.Command, args []string) error {
			w := c.OutOrStdout()
			if len(args) == 0 {
				for _, r := range rule.All {
					fmt.Fprintf(w, "%-20s %s\n", r.Key, r.Title)
				}
				return nil
			}
			r := rule.Find(args[0])
			if args[0] == rule.AcceptUnused {
				fmt.Fprintln(w, "accept-unused is a note: an `accept` line matches no finding. Take it out, or see whether its subject was renamed.")
				return nil
			}
			if r == nil && slices.Contains(resolve.AllCodes(), args[0]) {
				fmt.Fprintf(w, "%s is a mistake in the text, not a finding: nothing is compiled until it is mended. The message says what is wrong and what to write;\nlang/REFERENCE.md has each word with its options and an example. A mistake cannot be accepted.\n", args[0])
				return nil
			}
			if r == nil {
				err := fmt.Errorf("there is no finding %s", args[0])
				if near := diag.Nearest(args[0], append(rule.Keys(), resolve.AllCodes()...)); len(near) > 0 {
					err = fmt.Errorf("%w; did you mean %s?", err, strings.Join(near, ", "))
				}
				return err
			}
			explain(w, r)
			return nil
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return rule.Keys(), cobra.ShellCompDirectiveNoFileComp
		},
	}
}

func explain(w io.Writer, r *rule.Rule) {
	fmt.Fprintf(w, "%s: %s\n\n", r.Key, r.Title)
	for _, p := range [][2]string{{"Why", r.Why}, {"Compared", r.Formula}, {"Source", r.Source}, {"What to do", r.Do}, {"Not run", r.NotRun}} {
		if p[1] != "" {
			fmt.Fprintf(w, "%-11s %s\n", p[0], p[1])
		}
	}
	if r.Fires != "" {
		fmt.Fprintf(w, "\nA job in which it shows:\n\n  %s\n", strings.ReplaceAll(strings.TrimSpace(r.Fires), "\n", "\n  "))
	}
}
