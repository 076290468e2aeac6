package main

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"loomsheet/harness/net"
	"loomsheet/lang/freeze"
)

func freezeCommand() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "freeze FILE",
		Short: "Write the cavities and wire labels decided so far into a file of the job",
		Long: `freeze writes every cavity and label that the program chose as statements of the language, marked with the job's revision.
From then on they never move. Lines that the file holds already stay as they are; new ones are added at its end.
The job must include the file.`,
		Example: "  loomsheet freeze car.loom                 writes car-frozen.loom beside it\n  loomsheet freeze car.loom -o copper.loom",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			j, err := open(args[0], c.ErrOrStderr())
			if err != nil {
				return err
			}
			if j.Result == nil {
				if err := j.tell(c.ErrOrStderr(), "text", false); err != nil {
					return err
				}
				return openError{}
			}
			if j.Job.Revision == "" {
				return fmt.Errorf("the job has no revision; write it after its title: harness \"%s\" revision A", j.Job.Title)
			}
			if out == "" {
				out = strings.TrimSuffix(filepath.Base(args[0]), ".loom") + "-frozen.loom"
			}
			if filepath.Base(out) != out {
				return fmt.Errorf("%s: give a name only, the file lies beside the job", out)
			}
			path := filepath.Join(filepath.Dir(args[0]), out)
			if filepath.Base(args[0]) == out {
				return fmt.Errorf("%s is the job itself", out)
			}
			old, err := readFile(path)
			if err != nil && !errors.Is(err, errNotThere) {
				return fmt.Errorf("cannot read %s: %v", path, err)
			}
			_, included := j.Sources.Text(out)
			if len(old) > 0 && !included {
				return fmt.Errorf("%s is there already and the job does not include it", path)
			}
			added, n := freeze.Text(net.Freeze(j.Net, j.Job), j.Job.Revision)
			if n > 0 {
				text := bytes.TrimRight(old, "\n")
				if len(text) > 0 {
					text = append(text, '\n')
				}
				if err := writeFile(path, append(text, added...)); err != nil {
					return err
				}
			}
			fmt.Fprintf(c.OutOrStdout(), "%s frozen at revision %s in %s.\n", count(n, "decision"), j.Job.Revision, path)
			fmt.Fprintln(c.OutOrStdout(), "Sizes are not frozen: one that is left to the program may still change. State `size` for wires that are made.")
			if !included && n > 0 {
				fmt.Fprintf(c.OutOrStdout(), "Add this line to %s: include \"%s\"\n", args[0], out)
			}
			return nil
		},
		ValidArgsFunction: loomFiles,
	}
	c.Flags().StringVarP(&out, "output", "o", "", "name of the file, beside the job (FILE-frozen.loom)")
	return c
}
