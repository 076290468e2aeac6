package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
)

func loomFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"loom"}, cobra.ShellCompDirectiveFilterFileExt
}

// completed is what of a job's names begins as typed; nothing where its text cannot be read or has mistakes. Nothing is sized or solved
// for it, since a shell waits.
func completed(path, typed string, names func(*design.Job) []string) ([]string, cobra.ShellCompDirective) {
	declared, _, text, err := declare(path)
	if err != nil || text.HasMistakes() {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for _, n := range names(declared) {
		if n != "" && strings.HasPrefix(n, typed) {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return slices.Compact(out), cobra.ShellCompDirectiveNoFileComp
}

// wireNames completes the wires, labels and circuits of the job that stands first on the line.
func wireNames(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return loomFiles(c, args, typed)
	}
	return completed(args[0], typed, func(job *design.Job) []string {
		var out []string
		nt := net.Build(job, space.Lay(job), nil)
		for i := range nt.Wires {
			out = append(out, nt.Wires[i].Circuit, nt.Wires[i].Label, nt.Wires[i].Name)
		}
		return out
	})
}

// caseNames completes the cases of the job that stands first on the line.
func caseNames(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return completed(args[0], typed, func(job *design.Job) []string {
		var out []string
		for i := range job.Cases {
			out = append(out, job.Cases[i].Name)
		}
		return out
	})
}
