// Command loomsheet compiles a harness description to checks and printed build sheets.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"
)

// Exit statuses.
const (
	exitMet    = 0 // every limit that was checked is met
	exitOpen   = 1 // findings are open, or the text has mistakes
	exitMisuse = 2 // the command was not understood, or a file could not be read or written
)

// openError ends a command whose job has open findings or mistakes; they are printed already.
type openError struct{}

func (openError) Error() string { return "findings are open" }

func main() {
	saveMemory()
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

func run(args []string, stdout, stderr io.Writer) int {
	out := &printer{to: stdout}
	root := newRoot(out, stderr)
	root.SetArgs(args)
	err := root.Execute()
	switch {
	case out.err != nil: // whatever the answer was, it is not all there
		fmt.Fprintln(stderr, "loomsheet: cannot print: "+plain(out.err).Error())
		return exitMisuse
	case err == nil:
		return exitMet
	case errors.As(err, &openError{}):
		return exitOpen
	}
	fmt.Fprintln(stderr, "loomsheet: "+err.Error())
	return exitMisuse
}

// printer remembers that something could not be printed, so that a command that prints much need not look each time.
type printer struct {
	to  io.Writer
	err error
}

func (p *printer) Write(b []byte) (int, error) {
	n, err := p.to.Write(b)
	if p.err == nil {
		p.err = err
	}
	return n, err
}

func newRoot(stdout, stderr io.Writer) *cobra.Command {
	root := &cobra.Command{
		Use:   "loomsheet",
		Short: "From a plain-text harness description to checks and printed build sheets",
		Long: `loomsheet reads what was decided about a vehicle's wiring harness (*.loom), works out what follows from it, and
prints the sheets to build it from.

Exit status: 0 every limit that was checked is met, 1 findings are open or the text has mistakes, 2 misuse. worked, unplug, netlist,
freeze and explain end with 0 when they did what was asked, whatever the findings.`,
		Example: `  loomsheet check car.loom                    what is wrong, and what is met
  loomsheet build car.loom -o books           checks, and writes the books
  loomsheet explain drop-over                 why a finding exists and what to do
  loomsheet worked car.loom pump-feed         the whole calculation of each wire of a circuit
  loomsheet unplug car.loom A                 what is still live when a plug is pulled
  loomsheet netlist car.loom --case running   a second opinion by a circuit simulator
  loomsheet freeze car.loom                   cavities and labels never move again
  loomsheet fmt car.loom                      one canonical layout`,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetOut(stdout)
	root.SetErr(stderr)
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return fmt.Errorf("%w; see %s --help", err, c.CommandPath())
	})
	root.AddCommand(checkCommand(), buildCommand(), fmtCommand(), freezeCommand(), explainCommand(), workedCommand(), unplugCommand(), netlistCommand())
	asUsed(root)
	return root
}
