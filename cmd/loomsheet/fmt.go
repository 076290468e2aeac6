package main

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"loomsheet/lang/format"
	"loomsheet/lang/report"
	"loomsheet/lang/syntax"
)

func fmtCommand() *cobra.Command {
	var check bool
	c := &cobra.Command{
		Use:   "fmt FILE...",
		Short: "Put files into the one canonical layout",
		Long: `fmt rewrites each file in the one canonical layout. It keeps comments and changes no meaning. A file with a mistake in its
shape is left as it is. With - it reads standard input and writes standard output.`,
		Example: "  loomsheet fmt car.loom parts.loom\n  loomsheet fmt --check *.loom",
		RunE: func(c *cobra.Command, args []string) error {
			var open bool
			for _, path := range args {
				done, err := formatOne(c, path, check)
				if err != nil {
					return err
				}
				open = open || !done
			}
			if open {
				return openError{}
			}
			return nil
		},
		ValidArgsFunction: loomFiles,
	}
	c.Flags().BoolVar(&check, "check", false, "name the files that would change, write nothing, exit with 1 if there are any")
	return c
}

// formatOne formats one file; done is false if it has mistakes, or would change under --check.
func formatOne(c *cobra.Command, path string, check bool) (done bool, err error) {
	var text []byte
	if path == "-" {
		text, err = readAll(c.InOrStdin())
	} else {
		text, err = readFile(path)
	}
	if err != nil {
		return false, fmt.Errorf("cannot read %s: %v", path, err)
	}
	file, messages := syntax.Parse(path, text)
	if messages.HasMistakes() {
		messages.Sort()
		return false, report.Print(c.ErrOrStderr(), messages, report.Files{path: text}, report.Options{Colour: colour(c.ErrOrStderr())})
	}
	out := format.Format(file, text)
	switch {
	case check:
		if !bytes.Equal(out, text) {
			fmt.Fprintln(c.OutOrStdout(), path)
			return false, nil
		}
	case path == "-":
		_, err = c.OutOrStdout().Write(out)
	case !bytes.Equal(out, text):
		err = replace(c.ErrOrStderr(), path, text, out)
	}
	return true, err
}
